//! The panel file of an adapter plate: a small panel of its own, to check, to draw and to cut like any other.

use crate::geom::Vec2;
use crate::place::{Into, Plate};
use serde_json::{Value, json};
use std::fmt::Write;

/// Id of the instrument on the plate.
const CARRIED: &str = "carried";

/// The text of the plate's file, in millimetres; `instrument` is what that file calls the instrument. What is not known of the panel is not said of the plate.
pub fn adapter(into: &Into, plate: &Plate, instrument: &str) -> String {
    let panel = &into.panel;
    let old = panel.subjects.get(into.old).map_or("", |s| s.id.as_str());
    let turn = panel.subjects.get(into.subject).map_or(0.0, |s| s.turn);
    let mut out = String::from("{\n");
    let mut field = |key: &str, v: Value| {
        let _ = writeln!(out, "  {}: {v},", Value::from(key));
    };
    field("format", json!(1));
    field(
        "panel",
        json!(format!("Adapter plate, {} in the opening {old} of {}", into.instrument, panel.name)),
    );
    field("unit", json!("mm"));
    let note = "Lies in front of the sheet, held by the old screws; its origin is the middle of the old opening. Where it is \
                fixed to structure, and where a doubler is wanted, is for approved data to say.";
    field("note", json!(note));
    let mut sheet = serde_json::Map::new();
    let mut said = |key: &str, v: Option<Value>| {
        if let Some(v) = v {
            sheet.insert(key.into(), v);
        }
    };
    said("material", plate.material.as_ref().map(|m| json!(m)));
    said("thickness", plate.thickness.map(number));
    said("coat", plate.coat.map(number));
    said("new", Some(json!(true)));
    said("outline", Some(json!(outline(plate))));
    said("structure", Some(json!({ "is": "unknown" })));
    field("sheet", Value::Object(sheet));
    if let Some(t) = plate.tilt {
        field("tilt", number(t));
    }
    if let Some(eye) = panel.eye_distance {
        field("eye", number(eye));
    }
    if let Some(d) = plate.depth {
        field("depth", json!({ "default": number(d) }));
    }
    let hole = |(k, h): (usize, &crate::place::PlateHole)| {
        let mut v = json!({
            "id": format!("old-screw-{}", k + 1), "at": [at(h.at)], "diameter": number(h.diameter),
            "head": { "kind": "raised" },
        });
        if let (Some(name), Some(map)) = (&h.fastener, v.as_object_mut()) {
            map.insert("fastener".into(), json!(name));
        }
        v
    };
    field("holes", plate.holes.iter().enumerate().map(hole).collect());
    let carried = json!([{ "id": CARRIED, "instrument": instrument, "at": [0, 0], "turn": number(turn) }]);
    let _ = writeln!(out, "  \"place\": {carried}\n}}");
    out
}

/// A number as short as it is true: whole nanometres, as a file holds them.
fn number(v: f64) -> Value {
    let v = (v * 1e6).round() / 1e6;
    if v.fract() == 0.0 && v.abs() < 1e9 { json!(v as i64) } else { json!(v) }
}

fn at(v: Vec2) -> [Value; 2] {
    [number(v.x), number(v.y)]
}

/// SVG path data of a rectangle with round corners about the origin, y up, counter-clockwise.
fn outline(p: &Plate) -> String {
    let (x, y, r) = (p.size.0 / 2.0, p.size.1 / 2.0, p.corner);
    let (a, b) = (x - r, y - r);
    format!(
        "M {ma} {my} H {a} A {r} {r} 0 0 1 {x} {mb} V {b} A {r} {r} 0 0 1 {a} {y} H {ma} A {r} {r} 0 0 1 {mx} {b} V {mb} A {r} \
         {r} 0 0 1 {ma} {my} Z",
        ma = -a,
        mb = -b,
        mx = -x,
        my = -y
    )
}
