//! What was written in inches is printed in inches, letter for letter, from the file to the sheet.

use super::notice::words;
use panelwright::check::{Options, check};
use panelwright::draw::template::{TemplateOptions, shop, template};
use panelwright::files::Memory;
use panelwright::resolve::{Catalogue, resolve};

const GAUGE: &str = r#"{ "format": 1, "instrument": "Test gauge", "kind": "gauge", "unit": "in", "mounting": "front",
  "openings": [ { "id": "main", "shape": { "circle": "3-1/8\"" } } ],
  "holes": [ { "square": 2.475, "diameter": "0.1440 in", "fastener": "none" } ] }"#;

const DISPLAY: &str = r#"{ "format": 1, "instrument": "Test display", "kind": "display", "unit": "mm", "mounting": "front",
  "openings": [ { "id": "main", "shape": { "rectangle": ["4 in", "2 1/2 in"], "corner": 4 } } ],
  "holes": [ { "rectangle": [110, 50], "diameter": 4.5, "fastener": "none" } ] }"#;

/// A D-hole, a path, and a round path with a relief: one to an instrument.
const ODD: [(&str, &str); 3] = [
    ("flat.json", r#""d-hole": "1/2 in", "flat": "15/64 in""#),
    ("bay.json", r#""path": "M 0 0 H 1.8125 V 0.34 H 0 Z""#),
    ("relief.json", r#""path": "M 1 0 A 1 1 0 1 1 0 -1 L 1.0625 -1 V 0 Z""#),
];

const PANEL: &str = r#"{ "format": 1, "panel": "Both units", "unit": "mm",
  "sheet": { "outline": "M 0 0 H 400 V 200 H 0 Z", "material": "6061-T6", "thickness": "0.080 in", "new": true },
  "place": [ { "id": "dial", "instrument": "dial.json", "at": [80, 100] }, { "id": "map", "instrument": "map.json", "at": [260, 100] },
    { "id": "flat", "instrument": "flat.json", "at": [350, 170] }, { "id": "bay", "instrument": "bay.json", "at": [30, 180] },
    { "id": "relief", "instrument": "relief.json", "at": [350, 60] } ],
  "old-openings": [ { "id": "gone", "shape": { "circle": "1 3/8 in" }, "at": [170, 40] } ] }"#;

#[test]
fn inches_stand_on_the_sheet_as_they_stand_in_the_file() {
    let files = Memory::new().with("p.json", PANEL).with("dial.json", GAUGE).with("map.json", DISPLAY);
    let files = ODD.iter().fold(files, |files, (name, shape)| {
        let text = format!(
            r#"{{ "format": 1, "instrument": "Test box", "kind": "box", "unit": "in", "mounting": "front",
              "openings": [ {{ "id": "main", "shape": {{ {shape} }} }} ] }}"#
        );
        files.with(*name, text)
    });
    let panel = resolve("p.json", &files, &Catalogue::builtin()).unwrap_or_else(|e| panic!("{e}"));
    let findings = check(&panel, &Options::default()).list;
    let opts = TemplateOptions::default();
    let drawing = template(&panel, 0, &findings, &opts).expect("template");
    let all = drawing.pages.iter().flat_map(words).collect::<Vec<_>>().join(" | ");
    for written in [
        "\u{2300}3-1/8\"",
        "4.5 (0.177)",
        "79.38 (3-1/8\")",
        "3.66 (0.1440 in)",
        "4 in \u{d7} 2 1/2 in",
        "\u{2300}1 3/8 in",
        "0.080 in (2.03 mm)",
        "\u{2300}1/2 in, flat at 15/64 in",
        "1 13/16 in \u{d7} 0.34 in",
        "\u{2300}2 in with relief",
    ] {
        assert!(all.contains(written), "{written:?} is not in {all}");
    }
    let file = shop(&panel, 0, &findings, &opts).expect("shop file");
    assert!(words(&file.pages[0]).concat().contains("0.080 in (2.03 mm)"));
}
