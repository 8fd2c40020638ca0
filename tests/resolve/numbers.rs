//! An item's own numbers in place of its definition's: what becomes of them, where they come from, what is refused.

use crate::kit::*;
use panelwright::panel::{Basis, OwnNumber, Panel};

const SOURCES: &str =
    r#""sources": { "mine": { "basis": "measured", "who": "A. Builder", "when": "2 April" } }"#;

/// A dial with these numbers.
fn dial(numbers: &str) -> String {
    format!(
        "{SOURCES},\n\"place\": [ {{ \"id\": \"a\", \"instrument\": \"dial.json\", \"at\": [60, 100],\n\"numbers\": {{ {numbers} }} }} ]"
    )
}

fn numbers<'a>(p: &'a Panel, id: &str) -> &'a [OwnNumber] {
    &subject(p, id).facts.as_ref().unwrap().numbers
}

fn wrong(numbers: &str) -> (String, u32, String) {
    let all = refused(&dial(numbers));
    assert_eq!(all.len(), 1, "{all:?}");
    all.into_iter().next().unwrap()
}

#[test]
fn a_number_takes_the_place_of_the_definitions_with_its_source() {
    let p = panel(&dial(
        r#""openings.main.shape.circle": { "of": "60.4 mm", "plus": 0.1, "source": "mine" },
"bodies.can.to": { "of": 92, "source": "mine" }, "ports.plug.depth": { "of": 92, "source": "mine" }, "ports.plug.needs.1.length": { "of": "1 in", "source": "mine" }"#,
    ));
    boxed(&p, "a", "cutout", [29.8, 69.8, 90.2, 130.2]);
    let body = part(&p, "a", "body");
    near(body.depth.unwrap().1, 92.0);
    // its plug is an inch long now
    near(part(&p, "a", "port-plug").depth.unwrap().1, 92.0 + 25.4 + 20.0);
    let source = &part(&p, "a", "cutout").source;
    assert_eq!((source.basis, &*source.words), (Basis::Measured, "measured: A. Builder, 2 April"));
    let place = source.place.as_ref().unwrap();
    assert_eq!((&*place.file, place.line), ("p.json", 5), "where it is written");
    assert_eq!(part(&p, "a", "bezel").source.basis, Basis::Maker, "what is not said keeps its source");
    let own: Vec<_> =
        numbers(&p, "a").iter().map(|n| (n.path.as_str(), n.written.as_str(), n.was.as_deref())).collect();
    assert_eq!(
        own,
        [
            ("openings.main.shape.circle", "60.4 mm +0.1 mm", Some("60 mm")),
            ("bodies.can.to", "92 mm", Some("80 mm")),
            ("ports.plug.depth", "92 mm", Some("80 mm")),
            ("ports.plug.needs.1.length", "1 in", Some("30 mm"))
        ]
    );
}

#[test]
fn what_the_definition_leaves_open_can_be_said() {
    let p = panel(&dial(
        r#""mass": { "of": "1 lb", "source": "mine" }, "current.continuous": { "of": "0.4 A", "source": "mine" },
"centre": { "of": [0, 0, "1 in"], "source": "mine" }, "ports.plug.bend-radius": { "of": 15, "source": "mine" }"#,
    ));
    let facts = subject(&p, "a").facts.clone().unwrap();
    // the pound is 0.45359237 kg by definition (NIST SP 811, appendix B)
    near(facts.mass.unwrap(), 0.453_592_37);
    let from = facts.numbers[0].source.clone();
    assert_eq!((from.basis, from.place.unwrap().line), (Basis::Measured, 5));
    assert_eq!(facts.numbers.iter().filter(|n| n.was.is_none()).count(), 4);
    // what a bend takes: its radius to the inside and the plug's diameter, where that is more than is stated
    near(part(&p, "a", "port-plug").depth.unwrap().1, 80.0 + 30.0 + 27.0);
    // without numbers it has none
    let bare = panel(r#""place": [ { "id": "a", "instrument": "dial.json", "at": [60, 100] } ]"#);
    assert!(numbers(&bare, "a").is_empty() && subject(&bare, "a").facts.as_ref().unwrap().mass.is_none());
}

#[test]
fn numbers_are_of_one_item_alone() {
    let rows = format!(
        r#"{SOURCES},
"rows": [ {{ "ids": ["a", {{ "id": "b", "numbers": {{ "bezel.shape.circle": {{ "of": 70, "source": "mine" }} }} }}, "c"],
  "instrument": "dial.json", "at": [50, 100], "gap": 2, "along": "right",
  "numbers": {{ "bodies.can.to": {{ "of": 70, "source": "mine" }} }} }} ]"#
    );
    let p = panel(&rows);
    for (id, wide) in [("a", 66.0), ("b", 70.0), ("c", 66.0)] {
        near(part(&p, id, "bezel").contour.bounds().width(), wide);
        near(part(&p, id, "body").depth.unwrap().1, 70.0);
    }
    // gaps are between bezels as they are: 33 + 2 + 35, then 35 + 2 + 33
    at(&p, "b", 120.0, 100.0);
    at(&p, "c", 190.0, 100.0);
}

#[test]
fn a_file_that_builds_on_another_says_them_by_its_own_sources() {
    let below = text(&dial(
        r#""mass": { "of": "500 g", "source": "mine" }, "bodies.can.to": { "of": 75, "source": "mine" }"#,
    ));
    let above = r#"{ "format": 1, "panel": "New", "unit": "in", "builds-on": "p.json",
"sources": { "scale": { "basis": "measured", "who": "B. Builder" } },
"change": { "a": { "numbers": { "mass": { "of": "480 g", "source": "scale" } } } } }"#;
    let p = chain("n.json", &[("p.json", &below), ("n.json", above)]);
    let facts = subject(&p, "a").facts.clone().unwrap();
    near(facts.mass.unwrap(), 0.48);
    assert_eq!(&*facts.numbers[1].source.words, "measured: B. Builder");
    near(part(&p, "a", "body").depth.unwrap().1, 75.0);
    // another instrument in its place is another part
    let other = r#"{ "format": 1, "panel": "New", "builds-on": "p.json", "change": { "a": { "instrument": "odd.json" } } }"#;
    let p = chain("n.json", &[("p.json", &below), ("n.json", other)]);
    assert!(numbers(&p, "a").is_empty());
}

#[test]
fn what_cannot_be_said_is_refused_where_it_stands() {
    let source = r#""source": "mine""#;
    for (numbers, code, words) in [
        (r#""mass": "0.5 kg""#.to_string(), "no-source", "does not say where"),
        (r#""mass": { "of": "0.5 kg" }"#.into(), "missing-key", "no `source`"),
        (r#""mass": { "of": "0.5 kg", "source": "yours" }"#.into(), "unknown-source", "yours"),
        (format!(r#""mass": {{ "of": "0.5", {source} }}"#), "no-unit", "0.5"),
        (format!(r#""mass": {{ "of": "0.5 kg", "plus": 1, {source} }}"#), "unknown-key", "plus"),
        (format!(r#""bodies.can.to": {{ "of": "0.5 kg", {source} }}"#), "unknown-unit", "kg"),
        (
            format!(r#""bodies.can.too": {{ "of": 90, {source} }}"#),
            "no-number",
            "`too` is no part of `bodies.can`",
        ),
        (format!(r#""bodies.can": {{ "of": 90, {source} }}"#), "no-number", "no single number"),
        (
            format!(r#""bodies.box.to": {{ "of": 90, {source} }}"#),
            "no-number",
            "there is no `box` in `bodies`",
        ),
        (format!(r#""bodies.1.to": {{ "of": 90, {source} }}"#), "no-number", "there is no `1` in `bodies`"),
        (format!(r#""flange.thickness": {{ "of": 2, {source} }}"#), "no-number", "no `flange`"),
        (format!(r#""case.rectangle.1": {{ "of": 9, {source} }}"#), "no-number", "rectangle"),
        (format!(r#""bezel.shape.corner": {{ "of": 9, {source} }}"#), "no-number", "`rectangle` beside it"),
        (
            format!(r#""bodies.can.to": {{ "of": -5, {source} }}"#),
            "no-depth",
            "body `can` runs from 0 mm to -5 mm",
        ),
        // the number that it makes wrong stands in the definition, the one to change in this file
        (format!(r#""bodies.can.from": {{ "of": 90, {source} }}"#), "no-depth", "with the numbers said here"),
        (
            format!(r#""bodies.can.to": {{ "of": 90, {source} }}"#),
            "port-inside",
            "with the numbers said here",
        ),
        (r#""mass": null"#.into(), "wrong-type", "null"),
    ] {
        let (found, line, message) = wrong(&numbers);
        assert_eq!((found.as_str(), line), (code, 5), "{numbers}: {message}");
        assert!(message.contains(words), "{numbers}: {message}");
    }
}

#[test]
fn a_label_has_none() {
    let below = text(r#""labels": [ { "id": "l", "text": "PITOT", "at": [60, 20] } ]"#);
    let above = r#"{ "format": 1, "panel": "New", "builds-on": "p.json", "sources": { "mine": { "basis": "measured" } },
"change": { "l": { "numbers": { "mass": { "of": "1 g", "source": "mine" } } } } }"#;
    let all = refused_files("n.json", &[("p.json", &below), ("n.json", above)]);
    assert_eq!((all[0].0.as_str(), all[0].1), ("bad-change", 2), "{all:?}");
}
