//! Seeded panel files: rows of dials, gauges, switches and breakers of the built-in list on sheets with more or less room.

use crate::panels::Dice;
use serde_json::{Value, json};

/// What stands in a row: instruments of one size, and about how far they are apart, mm.
const ROWS: [(&[&str], f64); 4] = [
    (
        &[
            "flight/airspeed-3-1-8in",
            "flight/altimeter-3-1-8in",
            "round/3-1-8in-front",
            "flight/turn-3-1-8in",
        ],
        94.0,
    ),
    (&["gauge/oil-pressure", "gauge/voltmeter", "round/57mm-front", "gauge/suction"], 68.0),
    (&["switch/toggle", "switch/push", "lamp/warning"], 32.0),
    (&["breaker/pullable", "breaker/fuse-holder"], 30.0),
];

/// The text of a panel file with 20 to 60 items; no two seeds give the same.
pub fn text(seed: u64) -> String {
    let mut d = Dice::new(seed);
    let count = 20 + d.below(41);
    let wide = 480.0 + 20.0 * d.below(20) as f64;
    let spare = d.real(0.0, 80.0);
    let mut place: Vec<Value> = Vec::new();
    let mut y = 20.0;
    while place.len() < count {
        // many small things beside a few large ones
        let (names, pitch) = ROWS[[0, 1, 2, 2, 2, 3, 3][d.pick(7)]];
        let mut x = 12.0 + pitch / 2.0;
        while x + pitch / 2.0 < wide - 12.0 - spare && place.len() < count {
            let at = [x + d.real(-1.0, 1.0), y + pitch / 2.0 + d.real(-1.0, 1.0)];
            let id = format!("item-{}", place.len() + 1);
            place.push(json!({ "id": id, "instrument": names[d.pick(names.len())], "at": at }));
            x += pitch + if d.one_in(9) { d.real(0.0, 60.0) } else { 0.0 };
        }
        y += pitch + if d.one_in(4) { d.real(0.0, 30.0) } else { 2.0 };
    }
    let (high, corner) = (y + 18.0, 4.0 + d.below(20) as f64);
    let (a, b) = (wide - corner, high - corner);
    let outline = format!("M 0 0 H {wide} V {b} A {corner} {corner} 0 0 1 {a} {high} H 0 Z");
    let mut all = json!({
        "format": 1, "panel": format!("Panel {seed}"), "unit": "mm",
        "sheet": { "material": "6061-T6", "thickness": 2, "coat": 0.08, "new": true,
                   "structure": { "is": "no", "by": "the inspector" }, "outline": outline },
        "place": place,
    });
    if !d.one_in(10) {
        all["depth"] = json!({ "default": d.real(80.0, 260.0) });
    }
    all.to_string()
}
