//! Bad files: each error by its code, line and column, and all errors of a file at once.

use crate::{instrument, panel};
use panelwright::diag::Problems;

fn codes(problems: &Problems) -> Vec<(&'static str, u32, u32)> {
    let place = |p: &panelwright::diag::Problem| p.place.as_ref().map_or((0, 0), |w| (w.line, w.column));
    problems.sorted().into_iter().map(|p| (p.code, place(p).0, place(p).1)).collect()
}

#[test]
fn all_errors_of_a_file_come_at_once() {
    let text = r#"{
  "format": 1,
  "instrument": "Planted",
  "kind": "guage",
  "unit": "mm",
  "words": "round",
  "case": { "circle": "79,4" },
  "openings": [
    { "id": "main", "shape": { "circle": "3 1/8 inn" }, "mak": "drawing" },
    { "shape": { "rectangle": [10, -5], "corner": 1, "clip": 1 } }
  ],
  "holes": [{ "square": 50, "circle": 60, "diameter": null }],
  "bodies": [{ "id": "b 1", "shape": { "path": "" }, "from": 10, "to": 1e999 }],
  "mass": "1 stone",
  "mass": "1 kg",
  "centre": [0, 0]
}"#;
    let (_, problems) = instrument(text);
    let expected = [
        ("unknown-word", 4, 11),
        ("wrong-type", 6, 12),
        ("comma-decimal", 7, 26),
        ("unknown-unit", 9, 49),
        ("unknown-key", 9, 57),
        ("missing-key", 10, 5),
        ("one-of", 10, 16),
        ("negative-size", 10, 36),
        ("missing-beside", 12, 13),
        ("one-of", 12, 13),
        ("wrong-type", 12, 55),
        ("bad-id", 13, 22),
        ("empty-value", 13, 48),
        ("bad-number", 13, 72),
        ("unknown-unit", 14, 14),
        ("twice-key", 15, 3),
        ("wrong-count", 16, 13),
    ];
    assert_eq!(codes(&problems), expected, "{}", problems.render(false));
    for problem in problems.sorted() {
        assert!(problem.help.is_some(), "{problem}");
        let place = problem.place.as_ref().expect("a place");
        assert_eq!(place.file.as_ref(), "file.json");
    }
    let page = problems.render(false);
    assert!(page.contains("did you mean \"gauge\""), "{page}");
    assert!(page.contains("did you mean `make`"), "{page}");
    assert!(page.contains("did you mean `in`"), "{page}");
}

#[test]
fn the_caret_finds_its_characters_behind_escapes() {
    for (written, column) in [
        (r#""3-1/8\" xx""#, 10),
        (r#""3 \u00e9""#, 4),
        (r#""\u0033 \ud83d\udee9""#, 9),
        (r#""\t3 parsec""#, 6),
    ] {
        let text = format!(
            "{{ \"format\": 1, \"instrument\": \"X\", \"kind\": \"vent\",\n\"case\": {{ \"circle\":\n{written} }} }}"
        );
        let (_, problems) = instrument(&text);
        let all = problems.sorted();
        let [problem] = all.as_slice() else { panic!("{}", problems.render(false)) };
        let place = problem.place.as_ref().unwrap();
        assert_eq!((place.line, place.column), (3, column), "{}", problems.render(false));
    }
}

#[test]
fn what_is_no_such_file_is_refused_by_name_and_alone() {
    for (text, code) in [
        ("", "empty-file"),
        ("  \n", "empty-file"),
        ("[]", "wrong-type"),
        ("3", "wrong-type"),
        ("{", "bad-json"),
        ("{ \"a\": 1 } x", "bad-json"),
        ("{ \"format\": 1, }", "bad-json"),
        ("{ // c\n }", "bad-json"),
        ("{ 'format': 1 }", "bad-json"),
        ("{ format: 1 }", "bad-json"),
        ("{ \"format\": 0x1 }", "bad-json"),
        ("{ \"format\": .5 }", "bad-json"),
        ("{ \"format\": +1 }", "bad-json"),
        ("{ \"format\": NaN }", "bad-json"),
        ("{ \"format\": 1 \"panel\": \"x\" }", "bad-json"),
        ("{ \"format\": 2, \"instrument\": \"x\" }", "newer-format"),
        ("{ \"format\": 0, \"instrument\": \"x\" }", "unknown-format"),
        ("{ \"format\": 1.5, \"instrument\": \"x\" }", "newer-format"),
        ("{ \"format\": -1, \"instrument\": \"x\" }", "unknown-format"),
        ("{ \"format\": 1, \"panel\": \"x\" }", "wrong-kind"),
    ] {
        let (read, problems) = instrument(text);
        assert!(read.is_none(), "{text}");
        let found: Vec<&str> = problems.sorted().iter().map(|p| p.code).collect();
        assert_eq!(found, [code], "{text}: {problems}");
        assert!(problems.sorted().iter().all(|p| p.place.is_some() && p.help.is_some()), "{problems}");
    }
    let deep = format!("{}{}", "[".repeat(100_000), "]".repeat(100_000));
    assert_eq!(codes(&instrument(&deep).1).first().map(|c| c.0), Some("bad-json"));
}

#[test]
fn a_panel_says_what_it_lacks() {
    let one = |text: &str, code: &str| {
        let (_, problems) = panel(text);
        let found: Vec<&str> = problems.sorted().iter().map(|p| p.code).collect();
        assert_eq!(found, [code], "{text}: {}", problems.render(false));
    };
    let with = |more: &str| {
        format!(
            "{{ \"format\": 1, \"panel\": \"P\", \"unit\": \"mm\", \"sheet\": {{ \"outline\": \"M 0 0 H 1 V 1 Z\" }}, {more} }}"
        )
    };
    one(r#"{ "format": 1, "panel": "P" }"#, "missing-key");
    one(r#"{ "format": 1, "panel": "P", "sheet": {} }"#, "missing-outline");
    one(r#"{ "format": 1, "panel": "P", "sheet": { "outline": "M 0 0 H 1 V 1 Z" } }"#, "no-unit");
    one(
        r#"{ "format": 1, "panel": "P", "unit": "mm", "sheet": { "outline": "M 0 0 H 1 V 1 Z", "thickness": 0 } }"#,
        "zero-size",
    );
    one(&with(r#""place": [{ "id": "a", "instrument": "x" }]"#), "missing-key");
    one(&with(r#""place": [{ "id": "a", "instrument": "x", "right-of": "b" }]"#), "missing-beside");
    one(&with(r#""place": [{ "id": "a", "instrument": "x", "at": [0, 0], "gap": 3 }]"#), "missing-beside");
    one(
        &with(r#""place": [{ "id": "a", "instrument": "x", "at": [0, 0], "above": "b", "gap": 3 }]"#),
        "one-of",
    );
    one(
        &with(
            r#""place": [{ "id": "a", "instrument": "x", "at": [0, 0] }, { "id": "a", "instrument": "x", "at": [9, 0] }]"#,
        ),
        "twice-id",
    );
    one(
        &with(
            r#""zones": [{ "id": "a", "shape": { "circle": 3 }, "forbids": ["cut"] }], "labels": [{ "id": "a", "text": "A", "at": [0, 0] }]"#,
        ),
        "twice-id",
    );
    one(
        &with(r#""rows": [{ "ids": ["a"], "at": [0, 0], "pitch": 3, "along": "up" }]"#),
        "missing-instrument",
    );
    one(&with(r#""remove": ["a"]"#), "missing-beside");
    one(&with(r#""limits": { "web": { "at-least": 6 } }"#), "missing-key");
    one(&with(r#""limits": { "web": { "at-least": "6 furlongs", "because": "x" } }"#), "unknown-unit");
    one(&with(r#""tilt": "8 deg forward""#), "bad-number");
    one(&with(r#""source": "nowhere""#), "unknown-source");
    one(&with(r#""depth": { "default": { "of": 3, "source": "nowhere" } }"#), "unknown-source");
    one(&with(r#""process": { "kind": "router", "tool-radius": { "of": -1 } }"#), "negative-size");
    one(&with(r#""depth": { "areas": [{ "shape": { "circle": 3, "path": "M 0 0" } }] }"#), "one-of");
    one(&with(r#""eye": 1e400"#), "bad-number");
    one(&with(r#""eye": 1e6"#), "absurd-value");
}

#[test]
fn an_instrument_says_what_does_not_fit_together() {
    let one = |more: &str, code: &str| {
        let text = format!(
            "{{ \"format\": 1, \"instrument\": \"I\", \"kind\": \"box\", \"unit\": \"mm\", {more} }}"
        );
        let (read, problems) = instrument(&text);
        assert!(read.is_some(), "what could be read comes back");
        let found: Vec<&str> = problems.sorted().iter().map(|p| p.code).collect();
        assert_eq!(found, [code], "{text}: {}", problems.render(false));
    };
    one(r#""bodies": [{ "id": "a", "shape": { "circle": 3 }, "from": 5, "to": 5 }]"#, "no-depth");
    one(r#""sheet": { "least": 3, "most": 2 }"#, "empty-range");
    one(r#""ports": [{ "id": "a" }, { "id": "a" }]"#, "twice-id");
    one(r#""mass": { "of": "1 kg", "source": "x" }"#, "unknown-source");
    one(r#""case": { "circle": 3, "corner": 1 }"#, "missing-beside");
    one(r#""case": { "d-hole": 3 }"#, "missing-beside");
    one(r#""case": { "rectangle": [3, 4], "corners": [1, 1, 1] }"#, "wrong-count");
    one(r#""holes": [{ "circle": 3, "diameter": 1 }]"#, "missing-beside");
    one(r#""holes": [{ "circle": 3, "count": 2.5 }]"#, "wrong-type");
    one(r#""holes": [{ "circle": 3, "count": 0 }]"#, "out-of-range");
    one(r#""current": { "volts": 1e9 }"#, "out-of-range");
    one(r#""label": "yes""#, "wrong-type");
    one(r#""nominal": " ""#, "empty-value");
    one(r#""mass": 0.4"#, "wrong-type");
    one(r#""mass": "0.4""#, "no-unit");
    one(r#""unit": "mm""#, "twice-key");
}

#[test]
fn a_flood_of_errors_ends_with_a_word_about_the_rest() {
    let words = vec!["3"; 100_000].join(",");
    let text = format!("{{ \"format\": 1, \"instrument\": \"I\", \"kind\": \"box\", \"words\": [{words}] }}");
    let (_, problems) = instrument(&text);
    assert_eq!(problems.len(), 501);
    assert!(problems.sorted().iter().any(|p| p.code == "too-many-problems"));
    assert!(problems.render(false).len() < 1_000_000);
}

#[test]
fn a_unit_that_is_none_is_told_once() {
    for (unit, near) in [("MM", "mm"), ("inches", "in"), ("ft", "known words")] {
        let text = format!(
            r#"{{ "format": 1, "panel": "P", "unit": "{unit}", "eye": 700, "tilt": 2,
  "sheet": {{ "thickness": 2, "outline": "M 0 0 H 40 V 20 H 0 Z" }} }}"#
        );
        let (_, problems) = panel(&text);
        assert_eq!(codes(&problems), [("unknown-word", 1, 38)], "{}", problems.render(false));
        let help = problems.sorted()[0].help.clone().unwrap();
        assert!(help.contains(near), "{help}");
    }
}

/// RFC 8259, section 7: control characters are escaped within a text.
#[test]
fn texts_are_closed_on_their_line_and_hold_no_control_character() {
    for (text, place, words) in [
        ("{ \"format\": 1,\n  \"panel\": \"P,\n  \"unit\": \"mm\" }", (2, 12), "not closed"),
        ("{ \"format\": 1, \"panel\": \"P\u{0}\" }", (1, 27), "code 0"),
        ("{ \"format\": 1, \"panel\": \"a\tb\" }", (1, 27), "code 9"),
        ("{ \"format\": 1\u{65e5}, \"panel\": \"P\" }", (1, 14), "not JSON"),
        ("{ \"panel\": \"P\"\u{a0}\"format\": 1 }", (1, 15), "comma"),
        ("{ \"format\": 1, \u{201c}panel\u{201d}: \"P\" }", (1, 16), "curly"),
    ] {
        let (_, problems) = panel(text);
        assert_eq!(codes(&problems), [("bad-json", place.0, place.1)], "{}", problems.render(false));
        assert!(problems.sorted()[0].message.contains(words), "{}", problems.render(false));
        let place = problems.sorted()[0].place.clone().unwrap();
        assert!(text.get(place.start..place.end).is_some_and(|t| !t.is_empty()), "whole characters");
    }
    // an escaped one, and a quote behind a stroke, are fine
    let (_, problems) = panel(r#"{ "format": 1, "panel": "a\tb \" c \\", "builds-on": "x.json" }"#);
    assert!(problems.is_empty(), "{}", problems.render(false));
}
