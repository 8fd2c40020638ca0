//! Problems: all of them at once, each with its code, line and advice.

use crate::kit::*;

#[test]
fn all_problems_come_together() {
    let all = refused(
        r#""place": [
  { "id": "a", "instrument": "nothing.json", "at": [60, 120] },
  { "id": "b", "instrument": "dail.json", "right-of": "a", "pitch": 80 },
  { "id": "c", "instrument": "round/3-1-8in-frnt", "right-of": "nobody", "pitch": 80, "level": "noone" },
  { "id": "d", "instrument": "dial.json", "right-of": "e", "pitch": 80 },
  { "id": "e", "instrument": "dial.json", "right-of": "d", "pitch": 80 },
  { "id": "f", "instrument": "dial.json", "at": [60, 120], "on": "shet" } ],
"labels": [ { "id": "l", "text": "X", "of": "g", "at": [10, 10] } ],
"zones": [ { "id": "z", "shape": { "rectangle": [10, 4], "corner": 3 }, "forbids": ["cut"] },
  { "id": "y", "shape": { "path": "M 0 0 H 10 V 10 H 0.08 V 0.08" }, "forbids": ["cut"] },
  { "id": "x", "shape": { "d-hole": 10, "flat": 6 }, "forbids": ["cut"] },
  { "id": "w", "shape": { "slot": [5, 10] }, "forbids": ["cut"] } ]"#,
    );
    let want = [
        ("no-file", 4),
        ("no-file", 5),
        ("unknown-instrument", 6),
        ("unknown-id", 6),
        ("unknown-id", 6),
        ("ring", 7),
        ("unknown-sheet", 9),
        ("unknown-id", 10),
        ("bad-shape", 11),
        ("open-outline", 12),
        ("bad-shape", 13),
        ("bad-shape", 14),
    ];
    let got: Vec<(&str, u32)> = all.iter().map(|(c, l, _)| (c.as_str(), *l)).collect();
    assert_eq!(got, want, "{all:#?}");
    assert!(all[5].2.contains("d, e, d") || all[5].2.contains("e, d, e"), "{}", all[5].2);
}

#[test]
fn the_caret_stands_under_the_very_piece_of_a_path() {
    let outline = "M 0 0 H 400 V 200 A 5 5 0 0 1 300 100 Z";
    let text = text("").replace("M 0 0 H 400 V 200 H 0 Z", outline);
    let problems = try_files("p.json", &[("p.json", &text)]).err().unwrap();
    let place = problems.sorted()[0].place.clone().unwrap();
    assert_eq!(&text[place.start..place.end], " 5 5 0 0 1 300 100");
    let line = text.lines().nth(place.line as usize - 1).unwrap();
    assert_eq!(
        line.chars().skip(place.column as usize - 1).take(18).collect::<String>(),
        " 5 5 0 0 1 300 100"
    );
}

#[test]
fn an_empty_panel_and_one_without_a_sheet_are_refused() {
    assert_eq!(refused("")[0].0, "empty-panel");
    let all = refused_files(
        "p.json",
        &[("p.json", r#"{ "format": 1, "panel": "T", "unit": "mm", "sheet": { "thickness": 2 } }"#)],
    );
    assert_eq!(all[0].0, "missing-outline");
    let all = refused_files(
        "p.json",
        &[(
            "p.json",
            r#"{ "format": 1, "panel": "T", "unit": "mm", "sheet": { "outline": "M 0 0 H 10 H 0 Z" } }"#,
        )],
    );
    assert_eq!(all[0].0, "no-area");
    assert_eq!(refused_files("gone.json", &[]).len(), 1);
}

#[test]
fn an_instrument_without_an_opening_cannot_be_placed() {
    let solid = r#"{ "format": 1, "instrument": "Solid", "kind": "box", "unit": "mm", "bodies": [{ "id": "b", "shape": { "circle": 9 } }] }"#;
    let text = text(r#""place": [ { "id": "a", "instrument": "solid.json", "at": [60, 120] } ]"#);
    let all = refused_files("p.json", &[("p.json", &text), ("solid.json", solid)]);
    assert_eq!(all[0].0, "no-opening");
    assert!(all[0].2.contains("nothing to cut for a"));
}

#[test]
fn contradictions_and_half_places() {
    // what is kept cannot be in a new blank
    let kept =
        text(r#""place": [ { "id": "a", "instrument": "dial.json", "at": [60, 120], "kept": true } ]"#);
    let all = refused_files("p.json", &[("p.json", &kept.replace("\"thickness\": 2", "\"new\": true"))]);
    assert_eq!(all[0].0, "kept-on-new");
    let all =
        refused(r#""place": [ { "id": "a", "instrument": "dial.json", "mirror-of": "a", "about": 3 } ]"#);
    assert_eq!((all[0].0.as_str(), all[0].2.as_str()), ("ring", "a is placed by itself"));
}

#[test]
fn problems_of_an_instruments_file_stand_in_that_file() {
    let bad = r#"{ "format": 1, "instrument": "Bad", "kind": "gauge", "unit": "mm",
"openings": [{ "id": "main", "shape": { "rectangle": [10, 8], "corner": 5 } }] }"#;
    let text = text(
        r#""place": [ { "id": "a", "instrument": "bad.json", "at": [60, 120] }, { "id": "b", "instrument": "bad.json", "at": [160, 120] } ]"#,
    );
    let problems = try_files("p.json", &[("p.json", &text), ("bad.json", bad)]).err().unwrap();
    let all = problems.sorted();
    let shape: Vec<_> = all.iter().filter(|p| p.code == "bad-shape").collect();
    assert_eq!(shape.len(), 1, "told once");
    let place = shape[0].place.clone().unwrap();
    assert_eq!((place.file.as_ref(), place.line), ("bad.json", 2));
}

#[test]
fn a_file_with_a_drawing_is_told_what_to_give_instead() {
    let text = r#"{ "format": 1, "panel": "T", "unit": "mm", "sheet": { "outline": { "file": "o.svg" } } }"#;
    let all = refused_files("p.json", &[("p.json", text), ("o.svg", "<svg/>")]);
    assert_eq!(all[0].0, "no-path-data");
    let all = refused_files("p.json", &[("p.json", text), ("o.svg", "M 0 0 H 10 V 10 H 0.5 V 0.5")]);
    assert_eq!((all[0].0.as_str(), all[0].1), ("open-outline", 1));
    assert_eq!(refused_files("p.json", &[("p.json", text)])[0].0, "no-file");
}

#[test]
fn a_broken_outline_hides_no_other_problem() {
    let text = r#"{ "format": 1, "panel": "x", "unit": "mm",
  "sheet": { "thicknes": 2, "outline": "M 0 0 H 10" },
  "place": [ { "id": "a", "instrument": "round/3-1-8in-frnt", "at": [1, 2] },
             { "id": "a", "instrument": "round/80mm-front", "right-of": "bb", "pitch": 80 } ],
  "limits": { "wbe": { "at-least": 3, "because": "x" } } }"#;
    let codes: Vec<(String, u32)> = refused_files("p.json", &[("p.json", text)])
        .into_iter()
        .map(|(code, line, _)| (code, line))
        .collect();
    let all = [
        ("unknown-key", 2),
        ("open-outline", 2),
        ("unknown-instrument", 3),
        ("twice-id", 4),
        ("unknown-id", 4),
        ("unknown-rule", 5),
    ];
    for (code, line) in all {
        assert!(codes.contains(&(code.to_string(), line)), "{code} at line {line} is not in {codes:?}");
    }
    assert_eq!(codes.len(), all.len(), "{codes:?}");
}

#[test]
fn an_item_that_cannot_be_read_leaves_no_empty_panel() {
    let text = r#"{ "format": 1, "panel": "x", "unit": "mm", "sheet": { "outline": "M 0 0 H 400 V 200 H 0 Z" },
  "place": [ { "id": "a", "instrument": "round/80mm-front", "at": [1, "79,4"] } ] }"#;
    let found = refused_files("p.json", &[("p.json", text)]);
    assert_eq!(found.len(), 1, "{found:?}");
}

#[test]
fn a_label_does_not_name_itself() {
    let all = refused(
        r#""place": [ { "id": "a", "instrument": "dial.json", "at": [60, 120] } ],
"labels": [ { "id": "l", "text": "X", "of": "l", "at": [10, 10] } ]"#,
    );
    assert_eq!((all[0].0.as_str(), all.len()), ("names-itself", 1));
}

/// One fault, one message: who stands beside what could not be read is not told that it is not there.
#[test]
fn neighbours_of_what_could_not_be_read_tell_nothing_false() {
    let refused = refused(
        r#""place": [
        { "id": "a", "instrument": "dial.json", "at": [100, "79,4"] },
        { "id": "b", "instrument": "dial.json", "right-of": "a", "gap": 9 },
        { "id": "c", "instrument": "dial.json", "mirror-of": "b", "about": 200 } ],
        "rows": [ { "id": "r", "ids": ["r1", "r2"], "instrument": "switch.json", "at": [20, 20], "pitch": "30,5", "along": "right" } ],
        "labels": [ { "id": "l", "text": "A", "of": "a", "at": [100, 150] }, { "id": "m", "text": "R", "of": "r1", "below": "r2", "gap": 3 } ]"#,
    );
    let codes: Vec<&str> = refused.iter().map(|(code, ..)| code.as_str()).collect();
    assert_eq!(codes, ["comma-decimal", "comma-decimal"], "{refused:#?}");
    // in a file above, too
    let base = text(r#""place": [ { "id": "a", "instrument": "dial.json", "at": [100, "79,4"] } ]"#);
    let above = r#"{ "format": 1, "panel": "N", "unit": "mm", "builds-on": "p.json", "change": { "a": { "at": [1, 2] } },
        "place": [ { "id": "b", "instrument": "dial.json", "right-of": "a", "gap": 9 } ] }"#;
    let refused = refused_files("n.json", &[("p.json", &base), ("n.json", above)]);
    assert_eq!(refused.len(), 1, "{refused:#?}");
    // a name that is in no file is still told
    let refused = refused_files(
        "p.json",
        &[("p.json", &base.replace("\"at\"", "\"right-of\": \"zz\", \"gap\": 3, \"at\""))],
    );
    assert!(!refused.is_empty());
}

#[test]
fn no_panel_leans_by_ninety_degrees() {
    for (tilt, help) in [
        ("90", ": 0 if 90 was measured"),
        ("82", ": 8 if 82 was"),
        ("-85", ": -5 if -85 was"),
        ("46", "at most 45 either way"),
    ] {
        let text = text("").replace("\"unit\"", &format!("\"tilt\": {tilt}, \"unit\""));
        let Err(problems) = try_files("p.json", &[("p.json", &text)]) else { panic!("{tilt} is taken") };
        let first = problems.sorted()[0].clone();
        assert_eq!(
            (first.code, first.place.as_ref().map(|w| w.line)),
            ("out-of-range", Some(1)),
            "{problems}"
        );
        assert!(first.help.as_ref().is_some_and(|h| h.contains(help)), "{first:?}");
    }
    let gyro = DIAL.replacen("\"kind\"", "\"tilt\": { \"matters\": true, \"calibrated\": 82 }, \"kind\"", 1);
    let one = text(r#""place": [ { "id": "g", "instrument": "gyro.json", "at": [100, 100] } ]"#);
    let refused = refused_files("p.json", &[("p.json", &one), ("gyro.json", &gyro)]);
    assert_eq!(refused.len(), 1);
    assert_eq!(refused[0].2, "a panel does not lean by 82 degrees");
}

/// A confirmation names who and when; a mere no is none.
#[test]
fn checked_says_who_and_when() {
    let with = |checked: &str| {
        format!(
            r#""place": [ {{ "id": "a", "instrument": "dial.json", "at": [100, 120], "checked": "{checked}" }} ]"#
        )
    };
    for bad in ["no", "yes", "the builder", "2024", "x 2024", "?!"] {
        let refused = refused(&with(bad));
        assert_eq!(refused.len(), 1, "{bad}: {refused:#?}");
        assert_eq!(refused[0].0, "unsigned-check", "{bad}");
    }
    assert_eq!(refused(&with(" "))[0].0, "empty-value");
    for good in ["A. Builder, 2 April", "the owners' group, 2023", "Jörg, 3.5.24"] {
        assert!(try_files("p.json", &[("p.json", &text(&with(good)))]).is_ok(), "{good}");
    }
}
