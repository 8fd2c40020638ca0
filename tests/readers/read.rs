//! What is read comes out as it was written: values, units, defaults, sources, places.

use crate::{instrument, panel};
use panelwright::define::instrument::{Basis, HeadKind, Pattern};
use panelwright::define::panel::{Position, Room, Side, Structure, UnitOrRoom};
use panelwright::define::shape::{ArcBy, Form, Step, Way};
use panelwright::define::{Corners, Instrument, Outline, Panel};
use panelwright::units::Unit;

fn good_instrument(text: &str) -> Instrument {
    let (read, problems) = instrument(text);
    assert!(problems.is_empty(), "{}", problems.render(false));
    read.expect("an instrument")
}

fn good_panel(text: &str) -> Panel {
    let (read, problems) = panel(text);
    assert!(problems.is_empty(), "{}", problems.render(false));
    read.expect("a panel")
}

#[test]
fn sizes_keep_spelling_tolerance_source_and_place() {
    let text = r##"{ "format": 1, "instrument": "Round", "kind": "gauge", "unit": "in",
  "sources": { "card": { "basis": "measured", "who": "me", "when": "in May" }, "typ": { "basis": "typical" } },
  "source": "typ",
  "case": { "circle": { "of": "3-1/8\"", "plus": 0.01, "minus": "0 mm", "source": "card" } },
  "bezel": { "shape": { "rectangle": ["82.6 mm", 3.25], "clip": 0.5, "source": "card" } },
  "holes": [ { "circle": 3.5, "count": 4, "start": 45, "diameter": "0.170 in", "fastener": "#6-32",
    "head": { "kind": "countersunk", "angle": 100 } }, { "at": [[0, -1]], "diameter": 0.2 },
    { "row": ["1/2 in", 0], "centre": [0, 0], "count": 3, "diameter": 0.1 } ] }"##;
    let read = good_instrument(text);
    assert_eq!(read.unit, Some(Unit::Inch));
    let Some(Form::Circle(case)) = read.case.as_ref().map(|c| &c.form) else { panic!("no circle") };
    assert_eq!((case.mm(), case.of.to_string().as_str()), (79.375, "3-1/8\""));
    assert_eq!(case.plus.as_ref().map(|l| l.mm()), Some(0.254));
    assert_eq!(case.minus.as_ref().map(|l| l.to_string()), Some("0 mm".into()));
    assert_eq!(case.source.as_deref(), Some("card"));
    assert_eq!((case.place.line, case.place.column), (4, 23));
    assert_eq!(text.get(case.place.start..case.place.end).unwrap().chars().next(), Some('{'));
    let Form::Rectangle { width, height, corners } = &read.bezel.as_ref().unwrap().shape.form else {
        panic!("no rectangle")
    };
    assert_eq!((width.mm(), height.mm(), height.of.to_string().as_str()), (82.6, 82.55, "3.25 in"));
    assert_eq!(width.source.as_deref(), Some("card"), "a shape's source holds for its sizes");
    assert!(matches!(corners, Corners::Clipped(clip) if clip.mm() == 12.7));
    let [circle, point, row] = read.holes.as_slice() else { panic!("three patterns") };
    assert!(
        matches!(&circle.pattern, Pattern::Circle { count: 4, start: Some(a), .. } if a.degrees() == 45.0)
    );
    assert_eq!(circle.diameter.as_ref().unwrap().source.as_deref(), Some("typ"), "the file's source");
    assert_eq!(circle.head.as_ref().unwrap().kind.value, HeadKind::Countersunk);
    assert!(matches!(&point.pattern, Pattern::At(points) if points.len() == 1));
    assert!(matches!(&row.pattern, Pattern::Row { count: 3, step, .. } if step.x.mm() == 12.7));
    assert_eq!(read.source_named("card").unwrap().basis.value, Basis::Measured);
    assert_eq!(read.mass, None);
    assert!(read.mounting.is_none() && read.service.is_none() && read.sheet.is_none());
}

#[test]
fn a_file_without_a_unit_takes_lengths_that_carry_their_own() {
    let read = good_instrument(
        r#"{ "format": 1, "instrument": "Vent", "kind": "vent", "case": { "circle": "60 mm" }, "centre": ["0 mm", "0 in", "1 cm"],
             "mass": { "of": "2 oz" }, "current": { "continuous": "250 mA", "peak": 2 } }"#,
    );
    assert_eq!(read.centre.unwrap().d.mm(), 10.0);
    assert_eq!(read.mass.unwrap().of.kg(), 0.056_699_046_25);
    let current = read.current.unwrap();
    assert_eq!((current.continuous.unwrap().amperes(), current.peak.unwrap().amperes()), (0.25, 2.0));
}

#[test]
fn a_panel_is_read_with_every_way_to_place_an_item() {
    let read = good_panel(
        r#"{ "format": 1, "panel": "P", "unit": "mm", "note": "any object may carry one",
  "sheet": { "outline": { "lines-and-arcs": [[0, 0], [100, 0], { "to": [100, 50], "centre": [100, 25], "turn": "counter-clockwise" },
      { "to": [0, 50], "through": [50, 60] }, { "to": [0, 20], "radius": 15, "turn": "clockwise", "long": true }] },
    "thickness": { "of": 2, "plus": 0.1, "minus": 0.1, "note": "measured" }, "structure": "no" },
  "place": [
    { "id": "a", "instrument": "x/y", "at": [1, "1 in"], "turn": -90, "label": "A" },
    { "id": "b", "instrument": "x/y", "right-of": "a", "pitch": "3 1/2 in", "level": "c", "offset": [0, 2] },
    { "id": "c", "instrument": "x/y", "below": "a", "gap": -1, "in-line-with": "b", "label": ["l1", "l2"] },
    { "id": "d", "instrument": "x/y", "centred-on": "a", "provision": true, "locked": true },
    { "id": "e", "instrument": "x/y", "mirror-of": "a", "about": 50, "mirrored": true, "on": "ins" } ],
  "rows": [ { "instrument": "s/t", "ids": ["r1", { "id": "r2", "instrument": "s/u", "title": "pump" }], "at": [5, 5], "pitch": 25, "along": "right" },
    { "instrument": "s/t", "ids": ["r3"], "right-of": "a", "first-gap": 3, "pitch": 25, "along": "down" } ],
  "stacks": [ { "id": "st", "instrument": "stack/f", "at": [0, 0], "units": [{ "id": "u", "instrument": "radio/r" }, { "provision": "1.3 in" }] } ],
  "zones": [ { "id": "z", "shape": { "slot": [20, 5] }, "at": [1, 1], "forbids": ["cut", "behind"] } ],
  "flanges": [ { "id": "fl", "shape": { "d-hole": 12, "flat": 5 } } ],
  "limits": { "web": { "at-least": "6 mm", "because": "cutter" }, "edge-distance": { "at-least": "2.5 D", "because": "old metal" }, "tilt": { "at-most": 3, "because": "x" } },
  "depth": { "default": 100, "areas": [{ "shape": { "circle": 5 } }] },
  "title": { "revision": "B", "owner": "me", "approved-by": "" } }"#,
    );
    let sheet = read.sheet.as_ref().unwrap();
    assert_eq!(sheet.structure.as_ref().unwrap().value, Structure::No);
    let Some(Outline::LinesAndArcs { steps, .. }) = &sheet.outline else { panic!("no outline") };
    assert!(
        matches!(&steps[2], Step::Arc { by: ArcBy::Centre(c, Way::CounterClockwise), .. } if c.y.mm() == 25.0)
    );
    assert!(
        matches!(&steps[4], Step::Arc { by: ArcBy::Radius(r, Way::Clockwise, true), .. } if r.mm() == 15.0)
    );
    let [a, b, c, d, e] = read.place.as_slice() else { panic!("five placements") };
    assert!(matches!(&a.position, Position::At(at) if at.y.mm() == 25.4));
    assert_eq!(a.placed.label.as_ref().unwrap().value.as_ref(), "A");
    let Position::Beside { side: Side::Right, of, room: Room::Pitch(pitch), level, offset } = &b.position
    else {
        panic!("{:?}", b.position)
    };
    assert_eq!((of.as_ref(), pitch.mm(), pitch.to_string().as_str()), ("a", 88.9, "3 1/2 in"));
    assert_eq!(level.as_ref().unwrap().as_ref(), "c");
    assert_eq!(offset.as_ref().unwrap().y.mm(), 2.0);
    assert_eq!(b.position.refers_to().len(), 2);
    assert!(
        matches!(&c.position, Position::Beside { side: Side::Down, room: Room::Gap(g), .. } if g.mm() == -1.0)
    );
    assert_eq!(c.placed.labels.len(), 2);
    assert!(matches!(&d.position, Position::CentredOn { .. }) && d.placed.provision.is_some());
    assert!(matches!(&e.position, Position::MirrorOf { about, .. } if about.mm() == 50.0));
    let [first, second] = read.rows.as_slice() else { panic!("two rows") };
    assert_eq!(first.items[0].instrument.as_ref().unwrap().as_ref(), "s/t");
    assert_eq!(first.items[1].instrument.as_ref().unwrap().as_ref(), "s/u");
    assert!(matches!(&second.position, Position::Beside { room: Room::Gap(gap), .. } if gap.mm() == 3.0));
    assert!(matches!(&second.room, Room::Pitch(pitch) if pitch.mm() == 25.0));
    assert!(matches!(&read.stacks[0].units[1].what, UnitOrRoom::Room(height) if height.mm() == 33.02));
    assert!(read.zones[1].flange && !read.zones[0].flange);
    let limit = |i: usize| &read.limits[i];
    assert_eq!(limit(0).at_least.as_ref().unwrap().length.as_ref().unwrap().mm(), 6.0);
    let diameters = limit(1).at_least.as_ref().unwrap();
    assert_eq!((diameters.number, &diameters.length), (Some(2.5), &None));
    let bare = limit(2).at_most.as_ref().unwrap();
    assert_eq!((bare.number, bare.length.as_ref().map(|l| l.mm())), (Some(3.0), Some(3.0)));
    assert_eq!(read.depth.as_ref().unwrap().areas[0].available, None);
    let keys: Vec<&str> = read.title_block.iter().map(|(key, _)| *key).collect();
    assert_eq!(keys, ["owner", "revision", "approved-by"]);
}

#[test]
fn a_file_that_builds_on_another_says_only_what_differs() {
    let read = good_panel(
        r#"{ "format": 1, "panel": "Q", "unit": "mm", "builds-on": "p.json", "remove": ["a"],
  "change": { "b": { "pitch": 90, "note": "wider" }, "c": { "at": [1, 2], "turn": 5 }, "l": { "text": "NEW" } } }"#,
    );
    let [b, c, l] = read.change.as_slice() else { panic!("three changes") };
    assert!(b.position.is_none() && matches!(&b.room, Some(Room::Pitch(pitch)) if pitch.mm() == 90.0));
    assert!(matches!(&c.position, Some(Position::At(_))) && c.room.is_none());
    assert_eq!(l.text.as_ref().unwrap().as_ref(), "NEW");
    assert!(read.sheet.is_none());
}

#[test]
fn a_byte_order_mark_is_passed_over_and_counted() {
    let text = "\u{feff}{ \"format\": 1, \"instrument\": \"X\", \"kind\": \"blank\" }";
    let read = good_instrument(text);
    assert_eq!(text.get(read.title.place.start..read.title.place.end), Some("\"X\""));
}
