//! Empty, NaN, negative, comma-decimal and fraction entries: read or refused by name, in every kind of file.

use super::kit::{dial, panel};
use panelwright::files::{Files, Memory};
use panelwright::panel::{Class, Panel};
use panelwright::resolve::{Catalogue, resolve};

const ONE: &str = "\"place\": [\n{ \"id\": \"asi\", \"instrument\": \"dial.json\", \"at\": [150, 120] } ]";
const SCREWS: &str = "\"square\": 62.9, \"diameter\": 4.3";

/// Resolves; or every problem as `code line:column message`.
fn read(panel: &str, dial: &str) -> Result<Panel, Vec<String>> {
    let files = Memory::new().with("panel.json", panel).with("dial.json", dial);
    resolve("panel.json", &files as &dyn Files, &Catalogue::builtin()).map_err(|problems| {
        let line = |p: &panelwright::diag::Problem| {
            let at = p.place.as_ref().map_or("nowhere".into(), ToString::to_string);
            format!("{} {at} {}", p.code, p.message)
        };
        problems.sorted().into_iter().map(line).collect()
    })
}

/// Entry, where in it the refused part starts, and what is said of it.
const REFUSED: [(&str, usize, &str, &str); 13] = [
    ("\"\"", 0, "empty-value", "the value is empty"),
    ("\"  \"", 1, "empty-value", "the value is empty"),
    ("null", 0, "wrong-type", "null says nothing"),
    ("\"NaN\"", 1, "not-finite", "`NaN` is not a finite number"),
    ("\"inf mm\"", 1, "not-finite", "`inf mm` is not a finite number"),
    ("-79.4", 0, "negative-size", "`-79.4 mm` is negative, and a size is asked"),
    ("\"-79.4 mm\"", 1, "negative-size", "`-79.4 mm` is negative, and a size is asked"),
    ("0", 0, "zero-size", "`0 mm` is zero, and a size is asked"),
    ("\"79,4\"", 3, "comma-decimal", "`79,4` has a comma: 79,4 could mean 79.4 or 794"),
    ("\"79,4 mm\"", 3, "comma-decimal", "`79,4 mm` has a comma: 79,4 could mean 79.4 or 794"),
    ("\"3-1/8\"", 1, "bare-fraction", "`3-1/8` is a fraction without a unit, and the file speaks mm"),
    ("\"3 1/8\"", 1, "bare-fraction", "`3 1/8` is a fraction without a unit, and the file speaks mm"),
    ("\"3 1/0 in\"", 3, "zero-division", "`1/0` divides by zero"),
];

#[test]
fn refused_by_name_in_an_instrument() {
    for (entry, part, code, words) in REFUSED {
        let text = dial("mm", entry, SCREWS, "82.6");
        let Err(said) = read(&panel(ONE), &text) else { panic!("{entry} is taken") };
        let column = column_of(text.lines().nth(1).unwrap(), part);
        assert_eq!(said, [format!("{code} dial.json:2:{column} {words}")], "{entry}");
    }
}

#[test]
fn refused_by_name_in_a_panel() {
    for (entry, part, code, words) in REFUSED {
        let text = panel(&format!(
            "\"old-openings\": [\n{{ \"id\": \"old\", \"shape\": {{ \"circle\": {entry} }}, \"at\": [100, 100] }} ]"
        ));
        let Err(said) = read(&text, "") else { panic!("{entry} is taken") };
        let column = column_of(text.lines().nth(4).unwrap(), part);
        assert_eq!(said, [format!("{code} panel.json:5:{column} {words}")], "{entry}");
    }
}

/// The column of the refused part of the value behind `"circle": `.
fn column_of(line: &str, part: usize) -> usize {
    let before = "{ \"circle\": ";
    line.find(before).unwrap() + before.len() + part + 1
}

#[test]
fn what_is_no_json_number_is_refused_at_its_place() {
    for entry in ["NaN", "79,4", "3 1/8", ".5", "+3", "1e999"] {
        let text = dial("mm", entry, SCREWS, "82.6");
        let Err(said) = read(&panel(ONE), &text) else { panic!("{entry} is taken") };
        assert!(said[0].contains(" dial.json:2:"), "{entry}: {said:?}");
        let text = panel(&format!("\"eye\": {entry},\n{ONE}"));
        let Err(said) = read(&text, &dial("mm", "79.4", SCREWS, "82.6")) else { panic!("{entry} is taken") };
        assert!(said[0].contains(" panel.json:4:"), "{entry}: {said:?}");
    }
}

#[test]
fn fractions_and_marks_are_read_as_what_they_say() {
    for entry in [
        "\"3-1/8 in\"",
        "\"3 1/8 in\"",
        "\"3 1/8\\\"\"",
        "\"3-1/8\\\"\"",
        "\"3.125 in\"",
        "\"79.375 mm\"",
        "79.375",
    ] {
        let p = read(&panel(ONE), &dial("mm", entry, SCREWS, "82.6"))
            .unwrap_or_else(|e| panic!("{entry}: {e:?}"));
        let width = |p: &Panel, class: Class| {
            let parts = p.subjects.iter().flat_map(|s| &s.parts).filter(|p| p.class == class);
            parts.map(|p| p.contour.bounds().width()).fold(0.0, f64::max)
        };
        assert!((width(&p, Class::Cutout) - 79.375).abs() < 1e-9, "{entry}");
        let old = format!(
            "\"old-openings\": [ {{ \"id\": \"old\", \"shape\": {{ \"circle\": {entry} }}, \"at\": [100, 100] }} ]"
        );
        let p = read(&panel(&old), "").unwrap_or_else(|e| panic!("{entry}: {e:?}"));
        assert!((width(&p, Class::OldOpening) - 79.375).abs() < 1e-9, "{entry}");
    }
    // in a file of inches a bare fraction is inches
    let p =
        read(&panel(ONE), &dial("in", "\"3-1/8\"", "\"square\": 2.475, \"diameter\": 0.17", "3.25")).unwrap();
    let cutout = p.subjects.iter().flat_map(|s| &s.parts).find(|p| p.class == Class::Cutout).unwrap();
    assert!((cutout.contour.bounds().width() - 79.375).abs() < 1e-9);
}
