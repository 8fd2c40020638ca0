//! Every relation against numbers worked out by hand. The dial's bezel is 66 wide about its centre; the odd
//! box's bezel reaches from (-10, -5) to (30, 15) about its origin.

use crate::kit::*;

const TWO: &str = r#""place": [
  { "id": "a", "instrument": "dial.json", "at": [100, 120] },
  { "id": "b", "instrument": "odd.json", RELATION },
  { "id": "c", "instrument": "dial.json", "at": [300, 60] } ]"#;

fn two(relation: &str) -> panelwright::panel::Panel {
    panel(&TWO.replace("RELATION", relation))
}

#[test]
fn beside_at_a_pitch() {
    for (relation, x, y) in [
        (r#""right-of": "a", "pitch": 80"#, 180.0, 120.0),
        (r#""left-of": "a", "pitch": "3 in""#, 100.0 - 76.2, 120.0),
        (r#""above": "a", "pitch": 50"#, 100.0, 170.0),
        (r#""below": "a", "pitch": 70.5"#, 100.0, 49.5),
        (r#""right-of": "a", "pitch": 80, "level": "c""#, 180.0, 60.0),
        (r#""below": "a", "pitch": 50, "in-line-with": "c""#, 300.0, 70.0),
        (r#""right-of": "a", "pitch": 80, "offset": [1, -2]"#, 181.0, 118.0),
        (r#""above": "a", "pitch": 50, "offset": [1, -2]"#, 101.0, 168.0),
    ] {
        at(&two(relation), "b", x, y);
    }
}

#[test]
fn beside_from_edge_to_edge() {
    for (relation, x, y) in [
        // right edge of a: 133; the odd box's left edge lies 10 left of its origin
        (r#""right-of": "a", "gap": 9"#, 133.0 + 9.0 + 10.0, 120.0),
        // left edge of a: 67; the odd box's right edge lies 30 right of its origin
        (r#""left-of": "a", "gap": 9"#, 67.0 - 9.0 - 30.0, 120.0),
        // upper edge of a: 153; the odd box's lower edge lies 5 below its origin
        (r#""above": "a", "gap": 2"#, 100.0, 153.0 + 2.0 + 5.0),
        // lower edge of a: 87; the odd box's upper edge lies 15 above its origin
        (r#""below": "a", "gap": 2"#, 100.0, 87.0 - 2.0 - 15.0),
        // turned by 90 degrees its box is (-15, -10) to (5, 30)
        (r#""right-of": "a", "gap": 9, "turn": 90"#, 133.0 + 9.0 + 15.0, 120.0),
        // mirrored: (-30, -5) to (10, 15)
        (r#""right-of": "a", "gap": 9, "mirrored": true"#, 133.0 + 9.0 + 30.0, 120.0),
        // edges may overlap on purpose
        (r#""right-of": "a", "gap": -1"#, 133.0 - 1.0 + 10.0, 120.0),
    ] {
        at(&two(relation), "b", x, y);
    }
}

#[test]
fn without_a_bezel_the_edge_is_that_of_what_shows() {
    // the switch's nut in front is 16 wide
    let p = panel(
        r#""place": [ { "id": "s", "instrument": "switch.json", "at": [50, 50] },
        { "id": "t", "instrument": "switch.json", "right-of": "s", "gap": 4 } ]"#,
    );
    at(&p, "t", 50.0 + 8.0 + 4.0 + 8.0, 50.0);
}

#[test]
fn centred_and_mirrored() {
    at(&two(r#""centred-on": "c""#), "b", 300.0, 60.0);
    at(&two(r#""centred-on": "c", "offset": [-4, 2.5]"#), "b", 296.0, 62.5);
    at(&two(r#""mirror-of": "a", "about": 200"#), "b", 300.0, 120.0);
    at(&two(r#""mirror-of": "a", "about": "2 in""#), "b", 101.6 - 100.0, 120.0);
    at(&two(r#""centred-on": "sheet""#), "b", 200.0, 100.0);
}

#[test]
fn chains_work_in_any_order() {
    let p = panel(
        r#""place": [
        { "id": "d", "instrument": "dial.json", "right-of": "c", "gap": 10 },
        { "id": "c", "instrument": "dial.json", "below": "b", "pitch": 70 },
        { "id": "b", "instrument": "dial.json", "mirror-of": "a", "about": 150 },
        { "id": "a", "instrument": "dial.json", "at": [60, 140] } ]"#,
    );
    at(&p, "b", 240.0, 140.0);
    at(&p, "c", 240.0, 70.0);
    at(&p, "d", 240.0 + 66.0 + 10.0, 70.0);
}

#[test]
fn rows_at_a_pitch_and_at_a_gap() {
    for (row, last) in [
        (r#""at": [40, 50], "along": "right", "pitch": 70"#, (180.0, 50.0)),
        (r#""at": [340, 50], "along": "left", "pitch": 70"#, (200.0, 50.0)),
        (r#""at": [40, 40], "along": "up", "pitch": 70"#, (40.0, 180.0)),
        (r#""at": [40, 180], "along": "down", "gap": 4"#, (40.0, 40.0)),
        (r#""at": [40, 50], "along": "right", "gap": 4"#, (180.0, 50.0)),
    ] {
        let p =
            panel(&format!(r#""rows": [ {{ "instrument": "dial.json", "ids": ["x", "y", "z"], {row} }} ]"#));
        at(&p, "z", last.0, last.1);
    }
    // beside an item: the first one's own distance, then the row's; items of different width
    let p = panel(
        r#""place": [ { "id": "a", "instrument": "dial.json", "at": [60, 140] } ],
        "rows": [ { "instrument": "switch.json", "ids": ["s", { "id": "o", "instrument": "odd.json" }, "t"],
          "right-of": "a", "first-gap": 20, "gap": 5, "along": "right" } ]"#,
    );
    at(&p, "s", 93.0 + 20.0 + 8.0, 140.0);
    at(&p, "o", 121.0 + 8.0 + 5.0 + 10.0, 140.0);
    at(&p, "t", 144.0 + 30.0 + 5.0 + 8.0, 140.0);
}

#[test]
fn labels_stand_beside_their_item() {
    let p = panel(
        r#""place": [ { "id": "a", "instrument": "dial.json", "at": [100, 120] } ],
        "labels": [ { "id": "l", "text": "ABC", "of": "a", "height": 4, "below": "a", "gap": 3 } ]"#,
    );
    let label = part(&p, "l", "").contour.bounds();
    near(label.y1, 120.0 - 33.0 - 3.0);
    near(label.height(), 4.0);
    near(label.center().x, 100.0);
}

#[test]
fn a_lettering_given_as_a_text_stands_below_its_item() {
    let p = panel(
        r#""place": [ { "id": "a", "instrument": "switch.json", "at": [100, 120], "label": "PUMP" } ]"#,
    );
    let label = subject(&p, "a-label");
    // nut in front 16 wide, 2 mm away, 3.5 mm high
    near(label.parts[0].contour.bounds().y1, 120.0 - 8.0 - 2.0);
    let panelwright::panel::Detail::Label { text, of, height, .. } = &label.parts[0].detail else { panic!() };
    assert_eq!((text.as_str(), of.as_deref(), *height), ("PUMP", Some("a"), 3.5));
    assert!(p.remarks.iter().any(|r| r.contains("without a height")), "{:?}", p.remarks);
}

#[test]
fn the_same_panel_in_millimetres_and_inches_is_the_same() {
    let mm = r#"{ "format": 1, "panel": "P", "unit": "mm", "sheet": { "thickness": 1.6, "outline": "M 0 0 H 304.8 V 127 A 25.4 25.4 0 0 1 279.4 152.4 H 0 Z" },
      "place": [ { "id": "a", "instrument": "dial.json", "at": [76.2, 88.9] }, { "id": "b", "instrument": "odd.json", "right-of": "a", "gap": 12.7 } ],
      "zones": [ { "id": "z", "shape": { "rectangle": [50.8, 6.35] }, "at": [254, 25.4], "forbids": ["cut"] } ] }"#;
    let inch = r#"{ "format": 1, "panel": "P", "unit": "in", "sheet": { "thickness": "1.6 mm", "outline": "M 0 0 H 12 V 5 A 1 1 0 0 1 11 6 H 0 Z" },
      "place": [ { "id": "a", "instrument": "dial.json", "at": [3, 3.5] }, { "id": "b", "instrument": "odd.json", "right-of": "a", "gap": "1/2 in" } ],
      "zones": [ { "id": "z", "shape": { "rectangle": [2, 0.25] }, "at": [10, 1], "forbids": ["cut"] } ] }"#;
    let (a, b) = (whole(mm), whole(inch));
    assert_eq!(a.subjects.len(), b.subjects.len());
    for (x, y) in a.subjects.iter().zip(&b.subjects) {
        assert_eq!(x.id, y.id);
        assert_eq!(x.parts.len(), y.parts.len());
        for (p, q) in x.parts.iter().zip(&y.parts) {
            assert_eq!((&p.name, p.depth), (&q.name, q.depth));
            assert!((p.centre - q.centre).hypot2() < 1e-18);
            assert!((p.contour.area() - q.contour.area()).abs() < 1e-9);
            for (s, t) in p.contour.segments().iter().zip(q.contour.segments()) {
                assert!((s.start() - t.start()).hypot2() < 1e-18 && (s.len() - t.len()).abs() < 1e-9);
            }
        }
    }
    assert_eq!(format!("{:?} {:?}", a.unit, b.unit), "Millimetre Inch");
    assert_ne!(a.hash, b.hash);
}
