//! Parts of instruments in place: every one where the drawing says, mirrored and turned alike; depths,
//! heads, nuts, ports; what is missing is recorded.

use crate::kit::*;
use panelwright::geom::Segment;
use panelwright::panel::{Basis, Class, Control, Detail, State, TermKind};

#[test]
fn a_dial_upright() {
    let p = panel(r#""place": [ { "id": "a", "instrument": "dial.json", "at": [100, 120] } ]"#);
    boxed(&p, "a", "cutout", [70.0, 90.0, 130.0, 150.0]);
    boxed(&p, "a", "bezel", [67.0, 87.0, 133.0, 153.0]);
    assert_eq!(part(&p, "a", "bezel").depth, Some((-4.0, 0.0)));
    boxed(&p, "a", "body", [70.5, 90.5, 129.5, 149.5]);
    assert_eq!(part(&p, "a", "body").depth, Some((0.0, 80.0)));
    for (k, (x, y)) in [(75.0, 95.0), (125.0, 95.0), (125.0, 145.0), (75.0, 145.0)].into_iter().enumerate() {
        let name = format!("screw-{}", k + 1);
        boxed(&p, "a", &name, [x - 2.25, y - 2.25, x + 2.25, y + 2.25]);
        // pan head M4, ISO 14583 / ISO 7045: 8 mm wide, 3.1 mm high; it stands on a bezel of 4 mm
        boxed(&p, "a", &format!("head-{name}"), [x - 4.0, y - 4.0, x + 4.0, y + 4.0]);
        assert_eq!(part(&p, "a", &format!("head-{name}")).depth, Some((-7.1, 0.0)));
        // the nut stands behind the 2 mm sheet
        assert_eq!(part(&p, "a", &format!("nut-{name}")).depth, Some((2.0, 5.0)));
    }
    let port = part(&p, "a", "port-plug");
    assert_eq!(port.depth, Some((80.0, 130.0)));
    boxed(&p, "a", "port-plug", [104.0, 119.0, 116.0, 131.0]);
    let s = subject(&p, "a");
    assert!(s.missing.is_empty(), "{:?}", s.missing);
    assert_eq!(s.state, State::New);
    assert_eq!(s.parts[0].source.basis, Basis::Maker);
    assert_eq!(s.parts[0].source.words.as_ref(), "maker's drawing: D-1, B");
    let facts = s.facts.as_ref().unwrap();
    assert!(facts.unconfirmed.is_empty() && facts.open_terms.is_empty() && facts.has_case);
}

/// The odd box at (100, 50), placed in a way; a point of its own drawing goes to `to`.
fn odd(way: &str, to: impl Fn(f64, f64) -> (f64, f64)) {
    let p =
        panel(&format!(r#""place": [ {{ "id": "o", "instrument": "odd.json", "at": [100, 50]{way} }} ]"#));
    let check = |name: &str, x0: f64, y0: f64, x1: f64, y1: f64| {
        let (a, b) = (to(x0, y0), to(x1, y1));
        boxed(&p, "o", name, [a.0.min(b.0), a.1.min(b.1), a.0.max(b.0), a.1.max(b.1)]);
    };
    check("cutout", -7.0, -1.0, 23.0, 11.0);
    check("bezel", -10.0, -5.0, 30.0, 15.0);
    check("pin", -9.5, -1.5, -6.5, 1.5);
    check("front-knob", 20.0, 5.0, 28.0, 13.0);
    check("hand-knob", 15.0, 0.0, 33.0, 18.0);
    // a circle of 20 with one flat, 6 from its centre, turned so that the flat looks to the left
    check("body", 24.0, -6.0, 40.0, 14.0);
    let body = &part(&p, "o", "body").contour;
    let flat =
        body.segments().iter().find_map(|s| if let Segment::Line(l) = s { Some(*l) } else { None }).unwrap();
    let want = [to(24.0, -4.0), to(24.0, 12.0)];
    for (x, y) in want {
        assert!(
            [flat.a, flat.b].iter().any(|p| (p.x - x).abs() < 1e-9 && (p.y - y).abs() < 1e-9),
            "{flat:?} lacks ({x}, {y})"
        );
    }
    // the corner of radius 3 is the upper right one of the drawing: its centre lies at (20, 8)
    let cutout = &part(&p, "o", "cutout").contour;
    let corner = |r: f64| {
        let arcs =
            cutout.segments().iter().filter_map(|s| if let Segment::Arc(a) = s { Some(*a) } else { None });
        arcs.into_iter().find(|a| (a.radius - r).abs() < 1e-9).unwrap().centre
    };
    for (r, x, y) in [(1.0, -6.0, 0.0), (2.0, 21.0, 1.0), (3.0, 20.0, 8.0)] {
        let (x, y) = to(x, y);
        assert!((corner(r).x - x).abs() < 1e-9 && (corner(r).y - y).abs() < 1e-9, "corner of radius {r}");
    }
    for s in &p.subjects {
        for q in &s.parts {
            assert!(q.contour.is_ccw(), "{}.{} runs clockwise", s.id, q.name);
        }
    }
    // put in from behind: counted from the back of the sheet, 2 mm
    assert_eq!(part(&p, "o", "body").depth, Some((2.0, 27.0)));
    assert_eq!(part(&p, "o", "flange").depth, Some((2.0, 4.0)));
    assert_eq!(part(&p, "o", "front-knob").depth, Some((-12.0, 0.0)));
}

#[test]
fn an_asymmetric_box_reads_back_mirrored_and_turned() {
    odd("", |x, y| (100.0 + x, 50.0 + y));
    odd(r#", "mirrored": true"#, |x, y| (100.0 - x, 50.0 + y));
    odd(r#", "turn": 90"#, |x, y| (100.0 - y, 50.0 + x));
    odd(r#", "turn": 180"#, |x, y| (100.0 - x, 50.0 - y));
    odd(r#", "turn": -90"#, |x, y| (100.0 + y, 50.0 - x));
    // first mirrored, then turned
    odd(r#", "turn": 90, "mirrored": true"#, |x, y| (100.0 - y, 50.0 - x));
}

#[test]
fn any_angle_keeps_sizes() {
    let p = panel(r#""place": [ { "id": "o", "instrument": "odd.json", "at": [100, 50], "turn": 33.3 } ]"#);
    let c = &part(&p, "o", "cutout").contour;
    // 30 x 12 less the corners of radius 1, 2, 3: (1 - pi / 4) (1 + 4 + 9)
    near(c.area(), 360.0 - 14.0 * (1.0 - std::f64::consts::FRAC_PI_4));
    near((part(&p, "o", "pin").centre - subject(&p, "o").at).hypot(), 8.0);
}

#[test]
fn a_switch_seats_behind_and_its_nut_stands_in_front() {
    let p = panel(r#""place": [ { "id": "s", "instrument": "switch.json", "at": [100, 120] } ]"#);
    assert_eq!(part(&p, "s", "body-case").depth, Some((2.0, 27.0)));
    assert_eq!(part(&p, "s", "body-nut").depth, Some((-3.0, 0.0)));
    let facts = subject(&p, "s").facts.clone().unwrap();
    assert_eq!(facts.control, Some(Control::Toggle));
    assert!(facts.needs_label);
    // no port is described: what leaves it behind is open
    assert_eq!(facts.open_terms.len(), 1);
    // no source is named: nothing is confirmed
    assert_eq!(facts.unconfirmed, ["body-case", "body-nut", "case", "cutout"]);
}

#[test]
fn without_a_thickness_what_seats_behind_has_no_depth() {
    let text = text(r#""place": [ { "id": "s", "instrument": "switch.json", "at": [100, 120] } ]"#);
    let p = whole(&text.replace("\"thickness\": 2,", ""));
    assert_eq!(part(&p, "s", "body-case").depth, None);
    assert_eq!(part(&p, "s", "body-nut").depth, Some((-3.0, 0.0)));
    assert!(subject(&p, "s").missing.iter().any(|(n, w)| n == "body-case" && w.contains("thickness")));
}

#[test]
fn what_a_definition_leaves_open_is_recorded() {
    let bare = r#"{ "format": 1, "instrument": "Bare", "kind": "display", "unit": "mm",
      "openings": [{ "id": "main", "shape": { "circle": 57 } }],
      "holes": [{ "id": "screw", "circle": 70, "count": 3, "diameter": 4.5, "fastener": "M4" }, { "at": [[0, 40]] }],
      "bodies": [{ "id": "box", "shape": { "circle": 56 } }],
      "ports": [{ "id": "plug", "at": [0, 0], "towards": "back", "needs": [{ "term": "plug", "length": 30 }, { "term": "bend" }] },
        { "id": "hose", "at": [9, 0], "depth": 50, "towards": "back", "diameter": 8 },
        { "id": "side", "at": [9, 0], "depth": 50, "towards": "left", "needs": [{ "term": "plug", "length": 30 }] },
        { "id": "lost", "at": [9, 0], "depth": 50, "needs": [{ "term": "plug", "length": 30 }] } ],
      "front": [{ "id": "knob", "kind": "knob", "shape": { "circle": 8 } }] }"#;
    let p = chain(
        "p.json",
        &[
            ("p.json", &text(r#""place": [ { "id": "b", "instrument": "bare.json", "at": [100, 120] } ]"#)),
            ("bare.json", bare),
        ],
    );
    let s = subject(&p, "b");
    let said: Vec<String> = s.missing.iter().map(|(n, w)| format!("{n}: {w}")).collect();
    for want in [
        "head screw: the head of the M4",
        "nut screw: what holds the M4 behind",
        "hole hole-2: its diameter",
        "body: the depth at which it ends",
        "port-plug: bend",
        "port-plug: the depth at which it leaves",
        "port-hose: what it needs behind: plug or fitting, and bend",
        "port-side: its diameter",
        "port-lost: the direction in which it leaves",
        "front-knob: how far it stands out",
        "bezel: its shape",
    ] {
        assert!(said.iter().any(|s| s == want), "{want} is not among {said:?}");
    }
    for name in ["body", "port-plug", "port-hose", "port-side", "port-lost"] {
        assert_eq!(part(&p, "b", name).depth, None, "{name}");
    }
    assert!(!s.facts.as_ref().unwrap().has_case);
    // the first of three holes on a circle stands up
    let c = part(&p, "b", "screw-1").centre;
    near(c.x, 100.0);
    near(c.y, 155.0);
}

#[test]
fn a_bend_takes_its_radius_and_what_bends() {
    let hose = r#"{ "format": 1, "instrument": "Hose", "kind": "gauge", "unit": "mm", "mounting": "front",
      "openings": [{ "id": "main", "shape": { "circle": 57 } }], "case": { "circle": 56 }, "bezel": { "shape": { "circle": 62 }, "thickness": 2 },
      "bodies": [{ "id": "can", "shape": { "circle": 56 }, "from": 0, "to": 40 }],
      "ports": [{ "id": "back", "at": [0, 0], "towards": "back", "diameter": 8, "bend-radius": 25, "needs": [{ "term": "barb", "length": 12 }] },
        { "id": "left", "at": [-28, 4], "depth": 30, "towards": "left", "diameter": 10, "needs": [{ "term": "elbow", "length": 20 }] }] }"#;
    let p = chain(
        "p.json",
        &[
            ("p.json", &text(r#""place": [ { "id": "h", "instrument": "hose.json", "at": [100, 120] } ]"#)),
            ("hose.json", hose),
        ],
    );
    // from the back of the can: 12 of barb, then 25 + 8 of bend
    assert_eq!(part(&p, "h", "port-back").depth, Some((40.0, 40.0 + 12.0 + 25.0 + 8.0)));
    let Detail::Port { terms, .. } = &part(&p, "h", "port-back").detail else { panic!() };
    assert_eq!(terms[1], ("bend".to_string(), Some(33.0)));
    boxed(&p, "h", "port-left", [52.0, 119.0, 72.0, 129.0]);
    assert_eq!(part(&p, "h", "port-left").depth, Some((25.0, 35.0)));
}

/// What is only called after a bend does not stand for it, and a bend tighter than its own radius is none.
#[test]
fn a_bend_is_not_hidden_by_the_name_of_another_term() {
    for (needs, deep) in [
        (r#"{ "term": "straight run before the bend", "length": 12 }"#, 12.0 + 25.0 + 8.0),
        (r#"{ "term": "bend of the hose", "length": 12 }"#, 25.0 + 8.0),
        (r#"{ "term": "Bend", "length": 50 }"#, 50.0),
    ] {
        let hose = format!(
            r#"{{ "format": 1, "instrument": "Hose", "kind": "gauge", "unit": "mm", "mounting": "front",
              "openings": [{{ "id": "main", "shape": {{ "circle": 57 }} }}],
              "bodies": [{{ "id": "can", "shape": {{ "circle": 56 }}, "from": 0, "to": 40 }}],
              "ports": [{{ "id": "back", "at": [0, 0], "towards": "back", "diameter": 8, "bend-radius": 25, "needs": [{needs}] }}] }}"#
        );
        let place = text(r#""place": [ { "id": "h", "instrument": "hose.json", "at": [100, 120] } ]"#);
        let p = chain("p.json", &[("p.json", &place), ("hose.json", &hose)]);
        assert_eq!(part(&p, "h", "port-back").depth, Some((40.0, 40.0 + deep)), "{needs}");
    }
}

#[test]
fn every_part_has_its_tolerances() {
    let text = text(
        r#""process": { "kind": "laser" }, "tolerances": { "size": 0.3 },
        "place": [ { "id": "a", "instrument": "dial.json", "at": [100, 120] } ]"#,
    );
    let p = whole(&text);
    let term =
        |name: &str, kind: TermKind| part(&p, "a", name).terms.iter().find(|t| t.kind == kind).copied();
    let cut = term("cutout", TermKind::Cut).unwrap();
    assert_eq!((cut.grow, cut.shrink, cut.shift), (0.1, 0.1, 0.0));
    let size = term("case", TermKind::Size).unwrap();
    assert_eq!((size.grow, size.shrink), (0.15, 0.15));
    let (a, b) = (term("case", TermKind::Position).unwrap(), term("screw-1", TermKind::Position).unwrap());
    assert_eq!((a.key, a.shift), (b.key, 0.1));
    assert_ne!(a.key, 0);
    assert!(p.remarks.iter().any(|r| r.contains("laser")), "{:?}", p.remarks);
    let by_default = panel(r#""place": [ { "id": "a", "instrument": "dial.json", "at": [100, 120] } ]"#);
    assert!(by_default.remarks.iter().any(|r| r.contains("ISO 2768-1 m, by default")));
    assert!(by_default.remarks.iter().any(|r| r.contains("as by hand")));
    assert!(subject(&p, "a").parts.iter().all(|q| q.class != Class::Cutout || !q.terms.is_empty()));
}
