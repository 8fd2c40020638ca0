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

/// Entries that are no JSON at all: what a person types who does not know it.
#[test]
fn what_is_typed_without_quotes_is_refused_by_name() {
    for (entry, part, code, words, help) in [
        (
            "79,4",
            3,
            "comma-decimal",
            "`79,4` has a comma: 79,4 could mean 79.4 or 794",
            "use a point for decimals: 79.4",
        ),
        (
            "3 1/8",
            1,
            "bad-json",
            "a fraction stands here without quotes",
            "write it as a text with its unit: \"3 1/8 in\"",
        ),
        (
            "3/8",
            1,
            "bad-json",
            "a fraction stands here without quotes",
            "write it as a text with its unit: \"3 1/8 in\"",
        ),
        (
            "79.4mm",
            4,
            "bad-json",
            "a unit stands behind this number without quotes",
            "write the whole as a text: \"79.4 mm\"",
        ),
        (
            "\"3 1/8\"\"",
            7,
            "bad-json",
            "this text ends at an inch mark and is closed once more",
            "write \"3 1/8 in\"",
        ),
        ("NaN", 0, "bad-json", "a word stands here without quotes", "put it in double quotes"),
        ("round", 0, "bad-json", "a word stands here without quotes", "put it in double quotes"),
        (".5", 0, "bad-json", "a number needs digits on both sides of its point", "write 0.5"),
        ("1e999", 0, "bad-number", "`1e999` cannot be read: it is too large", "write it as 79.4"),
    ] {
        let at = |line: &str, before: &str| line.find(before).unwrap() + before.len() + part + 1;
        let text = dial("mm", entry, SCREWS, "82.6");
        let Err(said) = read(&panel(ONE), &text) else { panic!("{entry} is taken") };
        let column = at(text.lines().nth(1).unwrap(), "{ \"circle\": ");
        assert_eq!(said, [format!("{code} dial.json:2:{column} {words}")], "{entry}");
        let text = panel(&format!("\"eye\": {entry},\n{ONE}"));
        let Err(said) = read(&text, &dial("mm", "79.4", SCREWS, "82.6")) else { panic!("{entry} is taken") };
        assert_eq!(said, [format!("{code} panel.json:4:{} {words}", 8 + part)], "{entry}");
        let files = Memory::new().with("panel.json", &text);
        let problems = resolve("panel.json", &files as &dyn Files, &Catalogue::builtin()).err().unwrap();
        let told = problems.sorted()[0].help.clone().unwrap();
        assert!(told.starts_with(help), "{entry}: {told}");
    }
    // in a list the comma makes two numbers of one
    let text =
        panel("\"place\": [\n{ \"id\": \"asi\", \"instrument\": \"dial.json\", \"at\": [150,5, 120] } ]");
    let files = Memory::new().with("panel.json", &text).with("dial.json", dial("mm", "79.4", SCREWS, "82.6"));
    let problems = resolve("panel.json", &files as &dyn Files, &Catalogue::builtin()).err().unwrap();
    let first = problems.sorted()[0].clone();
    assert_eq!((first.code, first.message.as_str()), ("wrong-count", "the list has 3 elements"));
    assert_eq!(first.help.as_deref(), Some("exactly 2 are asked; a decimal comma makes two of one number"));
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
