//! The tug's fixed panel as tape, calipers, a photograph with a scale square, rods and sticks find it: made here, so that the
//! truth is known. Its outer ends are bent 12 mm towards the seat. `UPDATE=1` writes the file again.

use crate::make::{Dice, network};
use crate::photograph::Pinhole;
use panelwright::define;
use panelwright::diag::Problems;
use panelwright::files::{Disk, Files, Memory};
use panelwright::panel::Class;
use panelwright::resolve::{self, Catalogue};
use panelwright::survey::observation::Origin;
use panelwright::survey::{behind, found, solve};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::sync::Arc;

const FILE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/surveys/corncrake.json");
/// Radius of the upper edge, as the panel file of the tug has it.
const BOW: f64 = 933.0;
/// How far the corners are bent towards the seat.
const BENT: f64 = -12.0;
/// The reading that is off by a centimetre.
const WRONG: [&str; 2] = ["B", "Q3"];

/// Places as they are: right, up, ahead.
fn truth() -> BTreeMap<&'static str, [f64; 3]> {
    let top = 205.0 + BOW - (BOW * BOW - 430.0 * 430.0).sqrt();
    BTreeMap::from([
        ("A", [-430.0, 0.0, BENT]),
        ("B", [430.0, 0.0, BENT]),
        ("C", [430.0, 205.0, BENT]),
        ("D", [-430.0, 205.0, BENT]),
        ("T", [0.0, top, 0.0]),
        ("E1", [-330.0, 0.0, 0.0]),
        ("P1", [-312.0, 6.0, 0.0]),
        ("M1", [-246.0, 28.0, 0.0]),
        ("P2", [-180.0, 6.0, 0.0]),
        ("E2", [-162.0, 0.0, 0.0]),
        ("E3", [162.0, 0.0, 0.0]),
        ("P3", [180.0, 6.0, 0.0]),
        ("M2", [246.0, 28.0, 0.0]),
        ("P4", [312.0, 6.0, 0.0]),
        ("E4", [330.0, 0.0, 0.0]),
        ("Q1", [-254.0, 62.0, 0.0]),
        ("Q2", [134.0, 62.0, 0.0]),
        ("Q3", [134.0, 248.0, 0.0]),
        ("Q4", [-254.0, 248.0, 0.0]),
        ("S1", [-404.0, 66.0, 0.0]),
        ("S2", [-304.0, 68.0, 0.0]),
        ("S3", [-306.0, 168.0, 0.0]),
        ("S4", [-406.0, 166.0, 0.0]),
        ("receiver", [-324.0, 122.0, 0.0]),
        ("vent-left", [-388.0, 180.0, 0.0]),
        ("vent-right", [388.0, 180.0, 0.0]),
    ])
}

const CIRCLES: [(&str, f64); 3] = [("receiver", 28.5), ("vent-left", 30.3), ("vent-right", 30.3)];

fn radius(id: &str) -> f64 {
    CIRCLES.iter().find(|c| c.0 == id).map_or(0.0, |c| c.1)
}

fn camera() -> Pinhole {
    Pinhole {
        eye: [-250.0, 330.0, 520.0],
        to: [-330.0, 110.0],
        roll: -0.03,
        focal: 1500.0,
        lens: -15.0,
        size: [1600.0, 1200.0],
    }
}

struct Maker {
    at: BTreeMap<&'static str, [f64; 3]>,
    dice: Dice,
    readings: Vec<Value>,
}

impl Maker {
    fn round(&mut self, truth: f64, sigma: f64, step: f64) -> f64 {
        ((truth + sigma * self.dice.normal()) / step).round() * step
    }

    /// A tape from near edge to near edge.
    fn tape(&mut self, a: &'static str, b: &'static str) {
        let (p, q) = (self.at[a], self.at[b]);
        let long = (0..3).map(|k| (p[k] - q[k]).powi(2)).sum::<f64>().sqrt() - radius(a) - radius(b);
        let mut reads = self.round(long, 0.4, 0.5);
        if [a, b] == WRONG {
            reads += 10.0;
        }
        let key = if radius(a) + radius(b) > 0.0 { "inside" } else { "distance" };
        self.readings.push(json!({ key: [a, b], "reads": reads, "tool": "tape" }));
    }

    fn rule(&mut self, key: &str, of: [&'static str; 3], truth: f64) {
        let reads = self.round(truth, 0.2, 0.5);
        self.readings.push(json!({ key: of, "reads": reads, "tool": "rule" }));
    }
}

fn file() -> String {
    let mut m = Maker { at: truth(), dice: Dice(9), readings: Vec::new() };
    let corners = ["A", "B", "C", "D", "T"];
    let bay = ["Q1", "Q2", "Q3", "Q4"];
    for set in [&corners[..], &bay[..]] {
        for (k, a) in set.iter().enumerate() {
            set[k + 1..].iter().for_each(|b| m.tape(a, b));
        }
    }
    corners.iter().for_each(|c| bay.iter().for_each(|q| m.tape(c, q)));
    let edge = ["E1", "P1", "M1", "P2", "E2", "E3", "P3", "M2", "P4", "E4"];
    for id in edge {
        let [x, y, _] = m.at[id];
        let (from, to, along) = if x < 0.0 { ("A", "B", x + 430.0) } else { ("B", "A", 430.0 - x) };
        m.rule("along", [id, from, to], along);
        if !id.starts_with('E') {
            m.rule("offset", [id, "A", "B"], y);
        }
        m.tape(id, "T");
        m.tape(id, if x < 0.0 { "D" } else { "C" });
    }
    for (id, r) in CIRCLES {
        for _ in 0..2 {
            let reads = (m.round(2.0 * r, 0.05, 0.01) * 100.0).round() / 100.0;
            m.readings.push(json!({ "diameter": id, "reads": reads, "tool": "calipers" }));
        }
        let near = if m.at[id][0] < 0.0 { ["A", "D", "T", "Q1", "Q4"] } else { ["B", "C", "T", "Q2", "Q3"] };
        near.iter().for_each(|p| m.tape(id, p));
    }
    // the scale square: a sheet of card, cut to 100 mm and taped on
    let square = ["S1", "S2", "S3", "S4"];
    for (k, a) in square.iter().enumerate() {
        m.readings.push(json!({ "distance": [a, square[(k + 1) % 4]], "reads": 100, "tool": "card" }));
    }
    for two in [["S1", "S3"], ["S2", "S4"]] {
        m.readings.push(json!({ "distance": two, "reads": 141.42, "tool": "card" }));
    }
    square.iter().for_each(|s| ["A", "D", "T"].iter().for_each(|c| m.tape(s, c)));
    let c = camera();
    let mut spot = |x: f64, y: f64, d: f64| {
        let p = c.sees(x, y, d);
        json!(p.map(|v| ((v + 0.6 * m.dice.normal()) * 10.0).round() / 10.0))
    };
    let mut picks = Vec::new();
    for id in ["S1", "S2", "S3", "S4", "Q1", "Q4", "M1", "P1"] {
        let [x, y, d] = m.at[id];
        picks.push(json!({ "point": id, "at": spot(x, y, d) }));
    }
    for id in ["receiver", "vent-left"] {
        let ([x, y, d], r) = (m.at[id], radius(id));
        let edge: Vec<Value> = (0..8)
            .map(|k| {
                let (s, c) = libm::sincos(0.3 + f64::from(k) * 0.785);
                spot(x + r * c, y + r * s, d)
            })
            .collect();
        picks.push(json!({ "circle": id, "edge": edge }));
    }
    let points: Vec<Value> =
        m.at.iter()
            .filter(|(id, _)| radius(id) == 0.0)
            .map(|(id, p)| match (*id, p[2]) {
                ("C", _) => json!({ "id": id, "depth": BENT, "above": "B" }),
                (_, 0.0) => json!(id),
                _ => json!({ "id": id, "depth": BENT }),
            })
            .collect();
    let behind = behind_it(&mut m);
    let lines = |of: &[Value]| of.iter().map(Value::to_string).collect::<Vec<_>>().join(",\n    ");
    let list = |key: &str| lines(behind[key].as_array().unwrap());
    format!(
        "{{\n  \"format\": 1,\n  \"survey\": \"Corncrake fixed panel, measured\",\n  \"unit\": \"mm\",\n  \"note\": \"The Corncrake is an invented gliding-club tug; the readings are computed. Its outer ends, with the corners A to D, are bent 12 mm towards the seat. S1 to S4 is a square of card, 100 mm, taped on for the photograph. The reading from B to Q3 was written down wrongly.\",\n  \"datum\": {{ \"origin\": \"A\", \"along\": \"B\", \"at\": [-430, 0] }},\n  \"points\": {},\n  \"circles\": {},\n  \"tools\": {{ \"tape\": {{ \"kind\": \"tape\", \"deviation\": 0.5 }}, \"rule\": {{ \"kind\": \"rule\", \"deviation\": 0.25 }},\n    \"calipers\": {{ \"kind\": \"calipers\", \"deviation\": 0.06 }}, \"card\": {{ \"kind\": \"gauge\", \"deviation\": 0.1 }}, \"rod\": {{ \"kind\": \"rod\", \"deviation\": 1 }} }},\n  \"readings\": [\n    {}\n  ],\n  \"conditions\": [ {{ \"line\": [\"A\", \"E1\", \"E2\", \"E3\", \"E4\", \"B\"], \"deviation\": 0.2 }} ],\n  \"photographs\": [ {{ \"id\": \"left-side\", \"kind\": \"photograph\", \"size\": [1600, 1200], \"deviation\": 0.6, \"picks\": [\n    {}\n  ] }} ],\n  \"pairs\": [ [\"A\", \"B\"], [\"D\", \"C\"], [\"M1\", \"M2\"], [\"vent-left\", \"vent-right\"] ],\n  \"behind\": {{\n    \"probes\": [\n    {}\n    ],\n    \"areas\": [\n    {}\n    ],\n    \"obstacles\": [\n    {}\n    ],\n    \"controls\": [\n    {}\n    ] }},\n  \"as-found\": {{\n    \"material\": \"2024-T3\", \"thickness\": 1.6,\n    \"outline\": [ {{ \"to\": \"A\", \"radius\": 18 }}, \"E1\", \"P1\", {{ \"to\": \"P2\", \"through\": \"M1\" }}, \"E2\", \"E3\", \"P3\", {{ \"to\": \"P4\", \"through\": \"M2\" }}, \"E4\",\n      {{ \"to\": \"B\", \"radius\": 18 }}, \"C\", {{ \"to\": \"D\", \"through\": \"T\" }} ],\n    \"openings\": [ {{ \"id\": \"floating-bay\", \"points\": [ {{ \"to\": \"Q1\", \"radius\": 12 }}, {{ \"to\": \"Q2\", \"radius\": 12 }}, {{ \"to\": \"Q3\", \"radius\": 12 }}, {{ \"to\": \"Q4\", \"radius\": 12 }} ] }},\n      {{ \"id\": \"old-receiver\", \"circle\": \"receiver\" }} ]\n  }}\n}}\n",
        json!(points),
        json!(CIRCLES.map(|c| c.0)),
        lines(&m.readings),
        lines(&picks),
        list("probes"),
        list("areas"),
        list("obstacles"),
        list("controls")
    )
}

/// What is behind, as the panel file of the tug has it: the firewall behind the receiver's hole, the rudder bar's cross tube,
/// the edge of the right rib, the left stick.
fn behind_it(m: &mut Maker) -> Value {
    let mut probes = Vec::new();
    for (id, off) in [("r0", [0, 0]), ("r1", [18, 0]), ("r2", [-18, 0]), ("r3", [0, 18]), ("r4", [0, -18])] {
        probes.push(json!({ "id": id, "through": "receiver", "off": off, "reads": m.round(299.5, 0.8, 1.0), "tool": "rod" }));
    }
    for (id, x) in [("bar-left", -140.0), ("bar-right", 140.0)] {
        probes.push(json!({ "id": id, "at": [x, 22], "reads": [m.round(155.0, 0.8, 1.0), m.round(155.0, 0.8, 1.0)], "tool": "rod" }));
    }
    for (id, y) in [("rib-low", 62.0), ("rib-high", 240.0)] {
        probes.push(json!({ "id": id, "at": [170, y], "reads": m.round(7.5, 0.4, 0.5), "tool": "rule" }));
    }
    let pivot = [-420.0, -240.0];
    let mut place = |x: f64, y: f64, d: f64, degrees: f64| {
        let (s, c) = libm::sincos(degrees.to_radians());
        let (v, w) = (y - pivot[0], d - pivot[1]);
        json!([
            m.round(x, 1.5, 1.0),
            m.round(pivot[0] + v * c - w * s, 1.5, 1.0),
            m.round(pivot[1] + v * s + w * c, 1.5, 1.0)
        ])
    };
    let mut mark = |id: &str, y: f64, d: f64| {
        let mut at = |degrees: f64| place(-246.0, y, d, degrees);
        json!({ "id": id, "low": at(-16.0), "neutral": at(0.0), "high": at(10.0) })
    };
    let marks = [mark("top", 40.0, -318.0), mark("neck", -60.0, -325.0), mark("knee", -190.0, -345.0)];
    json!({
        "probes": probes,
        "areas": [{ "id": "behind-receiver", "circle": "receiver", "probes": ["r0", "r1", "r2", "r3", "r4"], "reach": 22 }],
        "obstacles": [
            { "id": "rudder-bar", "kind": "tube", "solids": [{ "id": "cross-tube", "tube": 30, "path": ["bar-left", "bar-right"] }] },
            { "id": "rib-right", "kind": "rib", "solids": [{ "id": "web", "plate": 2, "edge": ["rib-low", "rib-high"], "thick": 235 }] },
        ],
        "controls": [{ "id": "stick-left", "kind": "stick", "moves": "turn", "driver": "stick-pull", "deviation": 2,
            "marks": marks, "solids": [{ "id": "tube", "tube": 25, "path": ["knee", "neck"] },
                { "id": "grip", "tube": 36, "path": ["neck", "top"], "hand": true }] }],
    })
}

#[test]
fn the_tug_is_found_and_its_wrong_reading_too() {
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(FILE, file()).unwrap();
    }
    let text = std::fs::read_to_string(FILE).unwrap();
    assert_eq!(text, file(), "UPDATE=1 writes it again");
    let mut problems = Problems::new();
    let shared: Arc<str> = text.as_str().into();
    let survey =
        define::read_survey("corncrake.json", &shared, &mut problems).unwrap_or_else(|| panic!("{problems}"));
    let s = solve(network(&text).unwrap_or_else(|p| panic!("{p}"))).unwrap_or_else(|p| panic!("{p}"));
    assert_eq!(s.suspects.len(), 1, "{:?}", s.suspects);
    let x = &s.suspects[0];
    let o = &s.network.observations[x.observation];
    let ids: Vec<&str> = o.points().iter().map(|p| s.network.points[*p].id.as_ref()).collect();
    assert_eq!(ids, WRONG);
    assert!(matches!(o.origin, Origin::Reading(_)) && x.rivals.is_empty() && (x.off - 10.0).abs() < 1.5);
    assert_eq!(x.slip.as_ref().unwrap().why, Some("one centimetre misread"));
    assert!(s.scale == 1.0 && s.undetermined.is_empty() && s.ambiguous.is_empty());
    for (id, at) in truth() {
        let p = s.network.find(id).unwrap();
        let (found, (dx, dy)) = (s.adjusted.state.at[p], s.deviations(p));
        let off = [(found.x - at[0]).abs(), (found.y - at[1]).abs()];
        assert!(off[0] <= 4.0 * dx + 1e-9 && off[1] <= 4.0 * dy + 1e-9, "{id}: {off:?} {dx} {dy}");
    }
    let b = behind::behind(&survey, &s).unwrap_or_else(|p| panic!("{p}"));
    assert!(b.clean(), "{:?}", b.told);
    let depth = b.areas[0].available.unwrap();
    assert!((294.0..299.5).contains(&depth), "{depth}");
    let stick = &b.controls[0];
    let (stops, beyond) = (stick.stops(), stick.beyond());
    assert!(
        (stops[0] + 16.0).abs() < 2.0 * beyond[0] && (stops[1] - 10.0).abs() < 2.0 * beyond[1],
        "{stops:?} {beyond:?}"
    );
    // the panel that is written against the tug's own panel file
    let written = found::panel_file(&survey, &s, &b, "corncrake.json").unwrap_or_else(|p| panic!("{p}"));
    let files = Memory::new().with("found.json", &*written);
    let panel = resolve::resolve("found.json", &files, &Catalogue::builtin())
        .unwrap_or_else(|p| panic!("{p}\n{written}"));
    let disk = Disk::new(env!("CARGO_MANIFEST_DIR"));
    assert!(disk.read("panels/corncrake/fixed-as-found.json").is_ok());
    let known =
        resolve::resolve("panels/corncrake/fixed-as-found.json", &disk, &Catalogue::builtin()).unwrap();
    let edge = |p: &panelwright::panel::Panel| {
        let parts = p.subjects.iter().flat_map(|s| &s.parts);
        parts.filter(|q| q.class == Class::Edge).map(|q| q.contour.clone()).next().unwrap()
    };
    let (own, theirs) = (edge(&panel), edge(&known));
    let (a, c) = (own.bounds(), theirs.bounds());
    for (x, y) in [(a.x0, c.x0), (a.x1, c.x1), (a.y0, c.y0), (a.y1, c.y1)] {
        assert!((x - y).abs() < 1.5, "{a:?} {c:?}");
    }
    assert!((own.area() / theirs.area() - 1.0).abs() < 5e-3, "{} {}", own.area(), theirs.area());
}
