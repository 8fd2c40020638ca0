//! Stacks: units fill their frame from the top, with a gap at each joint.

use crate::kit::*;
use panelwright::panel::{Class, SubjectKind};

const FRAME: &str = r#"{ "format": 1, "instrument": "Frame", "kind": "stack", "unit": "mm", "mounting": "rear",
  "openings": [{ "id": "main", "shape": { "rectangle": [160, 150], "corner": 4 } }],
  "bodies": [{ "id": "rail", "shape": { "rectangle": [180, 150] }, "from": 0, "to": 280 }],
  "stack": { "frame": { "opening-width": 160, "opening-height": 150, "rail-spacing": 159, "joint": 1, "top": 2, "bottom": 3, "shim": 1, "set-back": 0 } } }"#;

fn unit(height: f64) -> String {
    format!(
        r#"{{ "format": 1, "instrument": "Unit", "kind": "radio", "unit": "mm", "mounting": "front",
        "bodies": [{{ "id": "tray", "shape": {{ "rectangle": [158, {}] }}, "from": 0, "to": 270 }}],
        "front": [{{ "id": "knob", "kind": "knob", "shape": {{ "circle": 10 }}, "at": [60, 2], "out": 15 }}],
        "stack": {{ "unit": {{ "height": {height}, "width": 158, "set-back": 0, "lock-room": 5 }} }} }}"#,
        height - 1.0
    )
}

fn stacked(stack: &str) -> panelwright::panel::Panel {
    let text = text(&format!(r#""stacks": [ {stack} ]"#));
    chain(
        "p.json",
        &[("p.json", &text), ("frame.json", FRAME), ("tall.json", &unit(60.0)), ("low.json", &unit(33.0))],
    )
}

#[test]
fn units_fill_the_frame_from_the_top() {
    let p = stacked(
        r#"{ "id": "rack", "instrument": "frame.json", "at": [200, 100], "units": [
          { "id": "com", "instrument": "tall.json" }, { "provision": 20 }, { "id": "xpdr", "instrument": "low.json", "title": "transponder" } ] }"#,
    );
    // the opening's upper edge is at 175; 2 above the first unit, 1 at each joint
    at(&p, "com", 200.0, 175.0 - 2.0 - 30.0);
    at(&p, "rack-2", 200.0, 113.0 - 1.0 - 10.0);
    at(&p, "xpdr", 200.0, 92.0 - 1.0 - 16.5);
    boxed(&p, "com", "front-knob", [255.0, 140.0, 265.0, 150.0]);
    let rack = p.find("rack").unwrap();
    let s = &p.subjects[rack];
    assert_eq!((s.units.start as usize, s.units.end as usize), (rack + 1, rack + 4));
    for k in rack + 1..rack + 4 {
        assert_eq!(p.subjects[k].kind, SubjectKind::Unit);
        assert_eq!(p.subjects[k].carrier, Some(rack as u32));
    }
    let free = subject(&p, "rack-2");
    assert!(free.provision && free.parts[0].class == Class::Provision);
    boxed(&p, "rack-2", "", [120.5, 92.0, 279.5, 112.0]);
    assert_eq!(free.facts.as_ref().unwrap().unit.as_ref().unwrap().height, Some(20.0));
    assert_eq!(s.facts.as_ref().unwrap().frame.as_ref().unwrap().ends, Some(2.5));
    assert_eq!(subject(&p, "xpdr").title, "transponder");
}

#[test]
fn a_turned_stack_turns_its_units() {
    let p = stacked(
        r#"{ "id": "rack", "instrument": "frame.json", "at": [200, 100], "turn": 90, "units": [ { "id": "com", "instrument": "tall.json" } ] }"#,
    );
    // up becomes left
    at(&p, "com", 200.0 - (75.0 - 2.0 - 30.0), 100.0);
    boxed(&p, "com", "front-knob", [157.0 - 2.0 - 5.0, 155.0, 157.0 - 2.0 + 5.0, 165.0]);
}

#[test]
fn a_thing_may_stand_beside_a_unit() {
    let text = text(
        r#""stacks": [ { "id": "rack", "instrument": "frame.json", "at": [200, 100], "units": [ { "id": "com", "instrument": "tall.json" } ] } ],
        "place": [ { "id": "s", "instrument": "switch.json", "right-of": "com", "pitch": 120 } ]"#,
    );
    let p = chain("p.json", &[("p.json", &text), ("frame.json", FRAME), ("tall.json", &unit(60.0))]);
    at(&p, "s", 320.0, 143.0);
}

#[test]
fn what_is_no_frame_and_what_is_no_unit_are_named() {
    let text = text(
        r#""stacks": [ { "id": "rack", "instrument": "dial.json", "at": [200, 100], "units": [] },
          { "id": "two", "instrument": "frame.json", "at": [200, 100], "units": [ { "id": "x", "instrument": "dial.json" } ] } ],
        "place": [ { "id": "u", "instrument": "tall.json", "at": [50, 50] } ]"#,
    );
    let all =
        refused_files("p.json", &[("p.json", &text), ("frame.json", FRAME), ("tall.json", &unit(60.0))]);
    let codes: Vec<&str> = all.iter().map(|(c, ..)| c.as_str()).collect();
    assert_eq!(codes, ["no-frame", "no-unit", "no-opening"]);
    assert!(all[2].2.contains("is a unit of a stack"));
}
