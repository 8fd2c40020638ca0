//! What is said of a panel besides items and metal, and panels that differ by their datum.

use crate::{difference, round, with};
use panelwright::compare::{Difference, Fate};
use panelwright::draw::compared::compared;
use panelwright::files::Memory;
use panelwright::geom::{Transform, Vec2};
use panelwright::panel::{Class, Panel};
use panelwright::report::{compare_json, compare_text};
use panelwright::resolve::{Catalogue, resolve};

fn read(more: &str, there: bool) -> Panel {
    let text = format!(
        r#"{{ "format": 1, "panel": "Said", "unit": "mm", {more}
          "sheet": {{ "material": "6061-T6", "thickness": 2, "outline": "M 0 0 H 300 V 200 H 0 Z" }},
          "place": [{{ "id": "a", "instrument": "blank/2-1-4in", "at": [80, 80], "kept": {there} }}] }}"#
    );
    let files = Memory::new().with("said.json", text);
    resolve("said.json", &files, &Catalogue::builtin()).unwrap_or_else(|e| panic!("{e}"))
}

fn said(d: &Difference, what: &str) -> [Option<String>; 2] {
    let found: Vec<_> = d.settings.iter().filter(|s| s.what == what).collect();
    assert_eq!(found.len(), 1, "{what}: {:?}", d.settings);
    found[0].said.clone()
}

#[test]
fn tilt_process_limits_and_states_are_told() {
    let process = |kind: &str| format!(r#""process": {{ "kind": "{kind}", "tolerance": 0.1 }},"#);
    let limits = r#""limits": { "web": { "at-least": 6, "because": "our router's cutter" } },"#;
    let old = read(&format!(r#""tilt": 8, {}"#, process("punch")), true);
    let new = read(&format!(r#""tilt": 5.5, {} {limits}"#, process("waterjet")), false);
    let d = difference(&old, &new);
    let words = |a: Option<&str>, b: Option<&str>| [a, b].map(|v| v.map(String::from));
    assert_eq!(said(&d, "tilt"), words(Some("8 degrees"), Some("5.5 degrees")));
    assert_eq!(said(&d, "process"), words(Some("punch"), Some("waterjet")));
    assert_eq!(said(&d, "limit of web"), words(None, Some("6")));
    assert_eq!(said(&d, "state of a"), words(Some("there already"), Some("new")));
    assert!(!d.is_empty() && d.datum.is_none());
    let text = compare_text(["old", "new"], &d);
    assert!(text.contains("  tilt: 8 degrees to 5.5 degrees\n"), "{text}");
    assert!(text.contains("  limit of web: not said to 6\n"), "{text}");
    let json = compare_json(["old", "new"], &d);
    assert_eq!(json["settings"].as_array().map(Vec::len), Some(d.settings.len()));
    assert!(difference(&old, &old).settings.is_empty());
    // the other way round each is told the other way round
    let back = difference(&new, &old);
    assert_eq!(back.settings.len(), d.settings.len());
    for (a, b) in d.settings.iter().zip(&back.settings) {
        assert_eq!((&a.what, &a.said[0], &a.said[1]), (&b.what, &b.said[1], &b.said[0]));
    }
}

/// All of a panel somewhere else, as written from another datum.
fn elsewhere(panel: &Panel, by: Vec2) -> Panel {
    let mut moved = panel.clone();
    for k in 0..moved.subjects.len() {
        moved.shift(k, by);
    }
    for s in &mut moved.sheets {
        s.outline = Transform::shift(by).contour(&s.outline);
    }
    moved
}

#[test]
fn another_datum_is_told_as_one_and_the_rest_from_the_old_one() {
    let old = with(&[
        ("a", Class::Cutout, round(60.0, 40.0)),
        ("b", Class::Cutout, round(160.0, 50.0)),
        ("c", Class::Cutout, round(260.0, 30.0)),
    ]);
    let by = Vec2::new(-203.2, 17.5);
    let same = difference(&old, &elsewhere(&old, by));
    assert!((same.datum.expect("another datum") - by).hypot() < 1e-9, "{:?}", same.datum);
    assert!(same.changed.is_empty() && same.sheets.is_empty() && same.openings.cut.is_empty(), "{same:?}");
    assert!(same.openings.old.iter().all(|w| w.fate == Fate::Used));
    // one of them moves besides: its own move alone is told
    let mut new = old.clone();
    let k = new.find("b").expect("an item");
    new.shift(k, Vec2::new(4.0, -3.0));
    let (plain, far) = (difference(&old, &new), difference(&old, &elsewhere(&new, by)));
    assert_eq!(far.changed.len(), 1);
    assert!((far.changed[0].moved - Vec2::new(4.0, -3.0)).hypot() < 1e-9, "{:?}", far.changed);
    assert!((far.openings.cut[0].area - plain.openings.cut[0].area).abs() < 1e-3);
    let text = compare_text(["old", "new"], &far);
    assert!(
        text.contains("-203.2 mm, 17.5 mm from where it was") && !text.contains("one and the same datum")
    );
    // the drawing is told from the old datum too
    let pages = |new: &Panel, d: &Difference| compared(&old, new, &[], d).pages[0].items.len();
    assert_eq!(pages(&elsewhere(&new, by), &far), pages(&new, &plain) + 1);
    // the sheet moved under its items, or a part of them moved with another sheet: that is no datum
    let mut slid = old.clone();
    slid.sheets[0].outline = Transform::shift(by).contour(&slid.sheets[0].outline);
    let d = difference(&old, &slid);
    assert!(d.datum.is_none() && d.sheets.len() == 1);
}
