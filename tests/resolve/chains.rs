//! Files that build on one another: what exists, what is new, what stays behind.

use crate::kit::*;
use panelwright::panel::{Class, Panel, State, SubjectKind};

const FOUND: &str = r#"{ "format": 1, "panel": "Found", "unit": "mm", "as-found": true,
"sheet": { "thickness": 2, "material": "6061-T6", "outline": "M 0 0 H 400 V 200 H 0 Z" }, "tilt": 5,
"old-openings": [ { "id": "spare", "shape": { "circle": 30 }, "at": [370, 30] }, { "id": "worn", "shape": { "circle": 12 }, "at": [370, 90], "stays": false } ],
"depth": { "default": 100, "areas": [ { "id": "tank", "shape": { "circle": 50 }, "at": [60, 60], "available": 80 } ] },
"place": [ { "id": "a", "instrument": "dial.json", "at": [60, 120] },
  { "id": "b", "instrument": "dial.json", "right-of": "a", "pitch": 80 },
  { "id": "c", "instrument": "odd.json", "right-of": "b", "pitch": 80 } ],
"rows": [ { "id": "sw", "instrument": "switch.json", "ids": ["s1", "s2", "s3"], "at": [60, 30], "pitch": 25, "along": "right" } ],
"limits": { "web": { "at-least": 5, "because": "as it was" } } }"#;

fn over(rest: &str) -> Panel {
    chain("new.json", &[("found.json", FOUND), ("new.json", &derived(rest))])
}

fn derived(rest: &str) -> String {
    format!(
        r#"{{ "format": 1, "panel": "New", "unit": "mm", "builds-on": "found.json"{}{rest} }}"#,
        if rest.is_empty() { "" } else { ",\n" }
    )
}

fn state(p: &Panel, id: &str) -> State {
    subject(p, id).state
}

#[test]
fn what_is_inherited_unchanged_exists() {
    let p = over("");
    assert_eq!(
        (p.name.as_str(), p.tilt, p.sheets[0].material.as_deref()),
        ("New", Some(5.0), Some("6061-T6"))
    );
    for id in ["sheet", "a", "b", "c", "s1", "s2", "s3", "spare", "worn"] {
        assert_eq!(state(&p, id), State::Existing, "{id}");
    }
    assert_eq!(p.limits["web"].value, 5.0);
    assert!(!p.subjects.iter().any(|s| s.id.starts_with("old-")));
}

#[test]
fn what_is_removed_leaves_its_openings() {
    let p = over(
        r#""remove": ["b", "s2"], "place": [ { "id": "n", "instrument": "switch.json", "centred-on": "b" } ]"#,
    );
    let old = subject(&p, "old-b");
    assert_eq!((old.kind, old.state), (SubjectKind::OldOpening, State::Existing));
    assert_eq!(
        old.parts.iter().map(|q| q.name.as_str()).collect::<Vec<_>>(),
        ["cutout", "screw-1", "screw-2", "screw-3", "screw-4"]
    );
    assert!(old.parts.iter().all(|q| q.class == Class::OldOpening));
    boxed(&p, "old-b", "cutout", [110.0, 90.0, 170.0, 150.0]);
    assert_eq!(subject(&p, "old-s2").parts[0].name, "");
    // relations may still speak of where it stood
    at(&p, "n", 140.0, 120.0);
    // the row does not close up
    at(&p, "s3", 110.0, 30.0);
    assert_eq!(state(&p, "s3"), State::Existing);
    // what stood beside it has lost its neighbour's place but not its own
    at(&p, "c", 220.0, 120.0);
    assert_eq!(state(&p, "c"), State::Existing);
}

#[test]
fn an_old_opening_that_is_used_again_is_not_cut_again() {
    let p = over(
        r#""remove": ["b"], "place": [ { "id": "n", "instrument": "dial.json", "centred-on": "b" },
  { "id": "m", "instrument": "dial.json", "at": [300, 120] } ]"#,
    );
    for name in ["cutout", "screw-1", "screw-4"] {
        assert!(part(&p, "n", name).there, "{name}");
        assert!(!part(&p, "m", name).there, "{name}");
    }
    assert!(!part(&p, "n", "bezel").there);
    // a thousandth of a millimetre aside is another hole
    let p = over(
        r#""remove": ["b"], "place": [ { "id": "n", "instrument": "dial.json", "centred-on": "a", "offset": [80.001, 0] } ]"#,
    );
    assert!(!part(&p, "n", "cutout").there);
    // and what is moved has left its hole
    let mut p =
        over(r#""remove": ["b"], "place": [ { "id": "n", "instrument": "dial.json", "centred-on": "b" } ]"#);
    let k = p.find("n").unwrap();
    p.shift(k, panelwright::geom::Vec2::new(1.0, 0.0));
    assert!(!part(&p, "n", "cutout").there);
}

#[test]
fn what_is_moved_is_new_and_leaves_its_openings() {
    let p = over(r#""change": { "b": { "pitch": 85 } }"#);
    at(&p, "b", 145.0, 120.0);
    assert_eq!(state(&p, "b"), State::New);
    boxed(&p, "old-b", "cutout", [110.0, 90.0, 170.0, 150.0]);
    // c hangs on b: it moves with it, and is told from what was there
    at(&p, "c", 225.0, 120.0);
    assert_eq!(state(&p, "c"), State::New);
    assert_eq!(subject(&p, "old-c").parts.len(), 2);
}

#[test]
fn words_may_change_without_making_it_new() {
    let p = over(
        r#""change": { "b": { "title": "oil", "locked": true, "checked": "measured by me, 2024" }, "sw": { "locked": true } }"#,
    );
    let b = subject(&p, "b");
    assert_eq!((b.state, b.title.as_str(), b.locked), (State::Existing, "oil", true));
    assert_eq!(b.checked.as_deref(), Some("measured by me, 2024"));
    assert!(subject(&p, "s2").locked && state(&p, "s2") == State::Existing);
}

#[test]
fn another_instrument_in_the_same_place_is_new() {
    let p = over(r#""change": { "a": { "instrument": "odd.json" } }"#);
    assert_eq!(state(&p, "a"), State::New);
    assert_eq!(subject(&p, "old-a").parts.len(), 5);
}

#[test]
fn on_a_new_blank_everything_is_new_and_nothing_is_left() {
    let p = over(
        r#""sheet": { "new": true, "thickness": 2.5 }, "remove": ["b"], "change": { "c": { "at": [220, 120] } }"#,
    );
    assert!(p.sheets[0].new && p.sheets[0].thickness == Some(2.5));
    for id in ["sheet", "a", "c", "s1", "spare"] {
        assert_eq!(state(&p, id), State::New, "{id}");
    }
    assert!(p.find("old-b").is_none());
    // the new sheet does not have what does not stay
    assert!(p.find("worn").is_none());
}

#[test]
fn rows_are_changed_as_a_whole_and_item_by_item() {
    let p = over(r#""change": { "sw": { "pitch": 30 }, "s2": { "at": [300, 30] } }"#);
    at(&p, "s1", 60.0, 30.0);
    at(&p, "s2", 300.0, 30.0);
    at(&p, "s3", 120.0, 30.0);
    assert_eq!(state(&p, "s1"), State::Existing);
    assert_eq!(state(&p, "s3"), State::New);
}

#[test]
fn three_files_deep_and_kept_things() {
    let mid = derived(
        r#""remove": ["a"], "change": { "b": { "at": [140, 120] } }, "place": [ { "id": "n", "instrument": "switch.json", "at": [300, 60] } ]"#,
    );
    let top = r#"{ "format": 1, "panel": "Top", "unit": "in", "builds-on": "mid.json",
      "change": { "n": { "kept": true } }, "place": [ { "id": "m", "instrument": "switch.json", "at": [13, 5], "kept": true } ] }"#;
    let p = chain("top.json", &[("found.json", FOUND), ("mid.json", &mid), ("top.json", top)]);
    assert_eq!(state(&p, "b"), State::Existing);
    assert_eq!(state(&p, "n"), State::Existing);
    assert_eq!(state(&p, "m"), State::Existing);
    // what the file in the middle left stays left
    assert_eq!(subject(&p, "old-a").parts.len(), 5);
    assert_eq!(format!("{:?}", p.unit), "Inch");
}

#[test]
fn a_depth_measured_again_replaces_the_older_one() {
    let p = over(
        r#""depth": { "areas": [ { "id": "tank", "shape": { "circle": 50 }, "at": [60, 60], "available": 70 } ] }"#,
    );
    assert_eq!(p.depth.areas.len(), 1);
    assert_eq!((p.depth.areas[0].available, p.depth.elsewhere), (Some(70.0), Some(100.0)));
}

#[test]
fn the_hash_is_of_the_contents_alone() {
    let a = chain(
        "x/new.json",
        &[
            ("x/found.json", FOUND),
            ("x/new.json", &derived("")),
            ("x/dial.json", DIAL),
            ("x/odd.json", ODD),
            ("x/switch.json", SWITCH),
        ],
    );
    let b = over("");
    assert_eq!(a.hash, b.hash);
    assert_ne!(b.hash, over(r#""note": "x""#).hash);
    let other = DIAL.replace("\"to\": 80", "\"to\": 79");
    let c = chain("new.json", &[("found.json", FOUND), ("new.json", &derived("")), ("dial.json", &other)]);
    assert_ne!(b.hash, c.hash);
}

#[test]
fn rings_and_missing_files_are_named() {
    let a = r#"{ "format": 1, "panel": "A", "unit": "mm", "builds-on": "b.json" }"#;
    let b = r#"{ "format": 1, "panel": "B", "unit": "mm", "builds-on": "./x/../a.json" }"#;
    let all = refused_files("a.json", &[("a.json", a), ("b.json", b)]);
    assert_eq!(all[0].0, "ring-of-files");
    assert_eq!(all[0].2, "these files build on each other in a ring: a.json, b.json, a.json");
    let all = refused_files("a.json", &[("a.json", a)]);
    assert_eq!((all[0].0.as_str(), all[0].1), ("no-file", 1));
    let nameless = a.replace("b.json", ".");
    let all = refused_files("a.json", &[("a.json", &nameless)]);
    assert_eq!((all[0].0.as_str(), all[0].1), ("no-file", 1));
    assert_eq!(all[0].2, "\"builds-on\" names a folder, no file: \".\"");
}

#[test]
fn mistakes_against_the_file_below_are_named() {
    let all = refused_files(
        "new.json",
        &[
            ("found.json", FOUND),
            (
                "new.json",
                &derived(
                    r#""remove": ["bb", "spare"],
"change": { "aa": { "at": [1, 2] }, "a": { "gap": 4, "text": "x" }, "s1": { "pitch": 3 }, "tank": { "at": [1, 2] } },
"place": [ { "id": "c", "instrument": "dial.json", "at": [300, 60] } ]"#,
                ),
            ),
        ],
    );
    let said: Vec<&str> = all.iter().map(|(_, _, m)| m.as_str()).collect();
    for want in [
        "there is no `bb` to remove in what this file builds on",
        "spare is an opening: it stays as long as its sheet does",
        "there is no `aa` to change in what this file builds on",
        "a does not stand beside another item",
        "`text` changes a label, a is none",
        "s1 stands in a row: change the row's pitch or gap, or give it its own place",
        "tank cannot be changed: placements, rows, stacks, their units and labels can",
        "the id `c` is taken by an item of found.json",
    ] {
        assert!(said.contains(&want), "{want} is not among {said:#?}");
    }
    assert_eq!(said.len(), 8, "{said:#?}");
}

#[test]
fn a_new_blank_stays_new_until_a_file_says_that_all_is_there() {
    let mid = derived(r#""sheet": { "new": true }, "remove": ["b", "worn"]"#);
    let over = |rest: &str| {
        format!(r#"{{ "format": 1, "panel": "Top", "unit": "mm", "builds-on": "mid.json"{rest} }}"#)
    };
    let files =
        |top: &str| chain("top.json", &[("found.json", FOUND), ("mid.json", &mid), ("top.json", top)]);
    let variant = files(&over(r#", "change": { "a": { "title": "x" } }"#));
    assert!(variant.sheets[0].new && state(&variant, "a") == State::New);
    assert!(variant.find("old-b").is_none());
    let built = files(&over(r#", "as-found": true"#));
    assert!(!built.sheets[0].new);
    assert!(built.subjects.iter().all(|s| s.state == State::Existing));
}

#[test]
fn another_text_makes_a_label_new() {
    let found = FOUND.replace(
        "\"limits\"",
        r#""labels": [ { "id": "l", "text": "ON", "height": 4, "at": [200, 20] } ], "limits""#,
    );
    let over = |change: &str| chain("new.json", &[("found.json", &found), ("new.json", &derived(change))]);
    assert_eq!(state(&over(""), "l"), State::Existing);
    assert_eq!(state(&over(r#""change": { "l": { "text": "OFF" } }"#), "l"), State::New);
}

/// What stays in its place because something else was taken out is named.
#[test]
fn who_keeps_to_the_place_of_what_was_taken_out_is_told() {
    let base = text(
        r#""place": [ { "id": "a", "instrument": "dial.json", "at": [100, 100] },
        { "id": "b", "instrument": "dial.json", "right-of": "a", "pitch": 90 } ]"#,
    );
    let above = r#"{ "format": 1, "panel": "N", "unit": "mm", "builds-on": "p.json", "remove": ["a"],
        "place": [ { "id": "c", "instrument": "dial.json", "right-of": "b", "pitch": 90 },
        { "id": "d", "instrument": "switch.json", "centred-on": "old-a" } ] }"#;
    let p = chain("n.json", &[("p.json", &base), ("n.json", above)]);
    at(&p, "b", 190.0, 100.0);
    let told: Vec<&String> = p.remarks.iter().filter(|r| r.contains("taken out")).collect();
    assert_eq!(
        told,
        [
            "b is placed by a, which was taken out: it keeps to where that stood. To move it, change its place (p.json:4)."
        ]
    );
    let p = chain("p.json", &[("p.json", &base)]);
    assert!(p.remarks.iter().all(|r| !r.contains("taken out")));
}
