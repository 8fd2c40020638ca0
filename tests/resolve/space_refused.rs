//! Bad input of space: each with its code, line and words, all at once.

use crate::kit::*;

const PLACE: &str = r#""place": [ { "id": "a", "instrument": "dial.json", "at": [60, 120] } ]"#;

/// Problems of a panel whose sections of space begin at line 4.
fn bad(rest: &str) -> Vec<(String, u32, String)> {
    refused(&format!("{PLACE},\n{rest}"))
}

#[track_caller]
fn one(rest: &str, code: &str, line: u32, words: &str) {
    let all = bad(rest);
    assert_eq!(all.len(), 1, "{all:#?}");
    assert_eq!((all[0].0.as_str(), all[0].1), (code, line), "{all:#?}");
    assert!(all[0].2.contains(words), "{}", all[0].2);
}

fn obstacle(solid: &str) -> String {
    format!("\"obstacles\": [ {{ \"id\": \"rib\", \"kind\": \"rib\", \"solids\": [\n{solid} ] }} ]")
}

#[test]
fn solids_that_are_none() {
    for (solid, code, words) in [
        (r#"{ "box": [0, 5, 5], "centre": [0, 0, 50] }"#, "zero-size", "0"),
        (r#"{ "prism": { "circle": 9 }, "from": 30, "to": 30 }"#, "no-solid", "prism has no size"),
        (
            r#"{ "prism": { "circle": 9 }, "from": 30, "to": 20 }"#,
            "wrong-order",
            "begins at 30 mm and ends at 20 mm",
        ),
        (r#"{ "bar": 9, "from": [0, 0, 50], "to": [0, 0, 50] }"#, "no-solid", "bar has no size"),
        (r#"{ "hull": [[0, 0, 50], [9, 0, 50], [0, 9, 50], [9, 9, 50]] }"#, "no-solid", "lie in one plane"),
        (r#"{ "tube": 9, "path": [[0, 0, 50], [0, 0, 50]] }"#, "twice-point", "points 1 and 2"),
        (
            r#"{ "tube": 9, "bend-radius": 20, "path": [[0, 0, 50], [90, 0, 50], [90, 0, 50], [90, 90, 50]] }"#,
            "twice-point",
            "points 2 and 3",
        ),
        (
            r#"{ "tube": 20, "bend-radius": 9, "path": [[0, 0, 50], [90, 0, 50], [90, 90, 50]] }"#,
            "too-tight",
            "tighter than its own radius",
        ),
        (
            r#"{ "tube": 9, "bend-radius": 20, "path": [[0, 0, 50], [20, 0, 50], [20, 90, 50]] }"#,
            "too-tight",
            "from point 1 to point 2 is 20 mm long; the bends at its ends ask for 24.5 mm",
        ),
        (
            r#"{ "tube": 9, "path": [[0, 0, 50], [20, 0, 50], [20, 90, 50]] }"#,
            "missing-beside",
            "has corners",
        ),
        (
            r#"{ "tube": 9, "bend-radius": 5, "path": [[0, 0, 50], [20, 0, 50], [9, 0, 50]] }"#,
            "bad-path",
            "point 2",
        ),
        (r#"{ "bar": 9, "from": 3, "to": [0, 0, 50] }"#, "wrong-end", "`from` of a bar is the point"),
        (
            r#"{ "prism": { "circle": 9 }, "from": 30, "to": [0, 0, 50] }"#,
            "wrong-end",
            "`to` of a prism is the depth",
        ),
        (
            r#"{ "box": [5, 5, 5], "centre": [0, 0, 50], "turns": [ { "about": "station", "by": 9 } ] }"#,
            "wrong-axes",
            "`station` is no axis",
        ),
    ] {
        one(&obstacle(solid), code, 5, words);
    }
}

#[test]
fn the_aeroplane_s_axes_need_the_panel_s_place_and_tilt() {
    let rib = r#""obstacles": [ { "id": "rib", "kind": "rib", "in": "aeroplane", "solids": [ { "ball": 9, "centre": [0, 0, 50] } ] } ]"#;
    let help = |rest: &str| {
        let text = text(&format!("{PLACE},\n{rest}"));
        let problems = try_files("p.json", &[("p.json", &text)]).err().unwrap();
        assert_eq!(problems.len(), 1, "{}", problems.render(false));
        let p = problems.sorted()[0].clone();
        assert_eq!(p.code, "no-airframe");
        p.help.clone().unwrap()
    };
    let both = help(rib);
    assert!(both.contains("\"airframe\"") && both.contains("\"tilt\""), "{both}");
    let tilt = help(&format!(r#""airframe": {{ "station": 0, "butt-line": 0, "water-line": 0 }}, {rib}"#));
    assert!(tilt.contains("\"tilt\"") && !tilt.contains("\"airframe\""), "{tilt}");
    let place = help(&format!(r#""tilt": 5, {rib}"#));
    assert!(!place.contains("\"tilt\"") && place.contains("\"airframe\""), "{place}");
    // a prism stands along the panel's depth
    one(
        r#""tilt": 0, "airframe": { "station": 0, "butt-line": 0, "water-line": 0 }, "obstacles": [ { "id": "rib",
"kind": "rib", "in": "aeroplane", "solids": [ { "prism": { "circle": 9 }, "from": 5, "to": 9 } ] } ]"#,
        "wrong-axes",
        5,
        "prism",
    );
}

#[test]
fn a_rib_does_not_pierce_the_sheet() {
    let rib = |kind: &str, at: &str| {
        format!(
            r#""obstacles": [ {{ "id": "rib", "kind": "{kind}", "solids": [ {{ "prism": {{ "circle": 20 }}, "at": {at}, "from": -5, "to": 80 }} ] }} ]"#
        )
    };
    // the sheet is 2 mm thick
    one(
        &rib("rib", "[300, 50]"),
        "pierces",
        4,
        "reaches from -5 mm to 80 mm deep, the metal from 0 mm to 2 mm",
    );
    one(&rib("duct", "[400, 50]"), "pierces", 4, "goes through the metal of sheet");
    // within the dial's opening of 60, beside the sheet, or of a kind that stands round it
    for (kind, at) in
        [("rib", "[60, 120]"), ("rib", "[420, 50]"), ("tube", "[300, 50]"), ("knees", "[300, 50]")]
    {
        panel(&format!("{PLACE},\n{}", rib(kind, at)));
    }
    // what ends at the back face touches it
    panel(&format!("{PLACE},\n{}", rib("rib", "[300, 50]").replace("-5", "2")));
}

const DRIVERS: &str = r#""drivers": [ { "id": "t", "kind": "turn", "from": 0, "to": 90 } ]"#;

fn control(links: &str) -> String {
    format!("{DRIVERS},\n\"controls\": [ {{ \"id\": \"c\", \"kind\": \"lever\", \"links\": [\n{links} ] }} ]")
}

#[test]
fn mechanisms_that_cannot_be() {
    let ring = r#"{ "id": "x", "on": "y" }, { "id": "y", "on": "z" }, { "id": "z", "on": "c.x" }"#;
    let all = bad(&control(ring));
    assert_eq!(all.len(), 3, "{all:#?}");
    assert!(all.iter().all(|(code, line, _)| code == "ring" && *line == 6), "{all:#?}");
    assert!(all[0].2.contains("x, y, z, x"), "{}", all[0].2);
    let pivot = r#""pivot": { "at": [0, 0, 0], "axis": [0, 0, 1] }"#;
    one(&control(&format!(r#"{{ "id": "x", {pivot} }}"#)), "missing-beside", 6, "`pivot` asks for `follows`");
    one(
        &control(&format!(r#"{{ "id": "x", {pivot}, "follows": {{ "tt": 1 }} }}"#)),
        "unknown-id",
        6,
        "there is no driver `tt`",
    );
    one(
        &control(&format!(
            r#"{{ "id": "x", {}, "follows": {{ "t": 1 }} }}"#,
            pivot.replace("[0, 0, 1]", "[0, 0, 0]")
        )),
        "no-direction",
        6,
        "has no length",
    );
    one(&control(r#"{ "id": "x", "on": "why" }"#), "unknown-id", 6, "there is no link `why`");
    one(&control(r#"{ "id": "x" }, { "id": "x" }"#), "twice-id", 6, "x");
    one(&control(r#"{ "id": "x", "runs-in": ["b"] }"#), "unknown-id", 6, "there is no item `b`");
    one(&control(r#"{ "id": "x", "runs-in": ["a.cam"] }"#), "unknown-id", 6, "`a` has no part `cam`");
}

#[test]
fn drivers_that_cannot_be() {
    let driver = |rest: &str| format!("\"drivers\": [ {{ \"id\": \"t\", {rest} }} ]");
    for (rest, code, words) in [
        (r#""kind": "slide", "from": 90, "to": -80"#, "wrong-order", "the wrong way round: from 90 to -80"),
        (
            r#""kind": "turn", "from": 10, "to": 80"#,
            "beyond-stops",
            "rests at 0, beyond its stops from 10 to 80",
        ),
        (r#""kind": "turn", "from": 0, "to": 80, "neutral": 81"#, "beyond-stops", "rests at 81"),
        (r#""kind": "turn", "from": 0, "to": 80, "over": [0, -1]"#, "negative-size", "forced past its stop"),
        (r#""kind": "turn", "from": 0, "to": "80 mm""#, "wrong-measure", "in degrees, not as 80 mm"),
        (r#""kind": "slide", "from": 0, "to": "80 deg""#, "wrong-measure", "in lengths, not as 80 deg"),
    ] {
        one(&driver(rest), code, 4, words);
    }
}

#[test]
fn a_canopy_has_a_pose_shut_and_poses_keep_within_the_stops() {
    let canopy = |poses: &str| {
        format!(
            r#"{DRIVERS}, "controls": [ {{ "id": "canopy-frame", "kind": "canopy",{poses} "links": [ {{ "id": "x" }} ] }} ]"#
        )
    };
    one(&canopy(""), "no-shut-pose", 4, "No 'shut' pose for moving part 'canopy-frame'");
    one(
        &canopy(r#" "poses": { "shut": { "t": 95 } },"#),
        "beyond-stops",
        4,
        "the pose `shut` puts `t` at 95, beyond its stops from 0 degrees to 90 degrees",
    );
    one(&canopy(r#" "poses": { "shut": { "tt": 5 } },"#), "unknown-id", 4, "there is no driver `tt`");
    panel(&format!("{PLACE},\n{}", canopy(r#" "poses": { "shut": { "t": 0 } },"#)));
}

#[test]
fn lines_name_ports_that_are_there() {
    let line = |rest: &str| format!("\"lines\": [ {{ \"id\": \"l\", \"kind\": \"hose\", {rest} }} ]");
    one(&line(r#""from": "a.plag""#), "unknown-id", 4, "`a` has no port `plag`");
    one(&line(r#""from": "aa.plug""#), "unknown-id", 4, "there is no item `aa`");
    one(&line(r#""from": "a""#), "unknown-id", 4, "`a` names no port");
    one(&line(r#""diameter": 8, "path": [[0, 0, 50], [0, 0, 50]]"#), "twice-point", 4, "points 1 and 2");
}

#[test]
fn ids_are_unique_over_everything_and_all_problems_come_at_once() {
    let all = bad(
        r#""obstacles": [ { "id": "a", "kind": "rib", "solids": [ { "ball": 9, "centre": [0, 0, 50] } ] },
  { "id": "r", "kind": "rib", "solids": [ { "bar": 9, "from": [0, 0, 5], "to": [0, 0, 5] },
    { "id": "s", "ball": 9, "centre": [0, 0, 50] }, { "id": "s", "ball": 9, "centre": [0, 0, 90] } ] } ],
"drivers": [ { "id": "t", "kind": "turn", "from": 5, "to": 0 } ],
"lines": [ { "id": "l", "kind": "hose", "from": "a.plog" } ],
"controls": [ { "id": "t", "kind": "lever", "links": [ { "id": "x", "on": "y" } ] } ]"#,
    );
    let got: Vec<(&str, u32)> = all.iter().map(|(c, l, _)| (c.as_str(), *l)).collect();
    let want = [
        ("twice-id", 4),
        ("no-solid", 5),
        ("twice-id", 6),
        ("wrong-order", 7),
        ("unknown-id", 8),
        ("unknown-id", 9),
        ("twice-id", 9),
    ];
    let mut sorted = got.clone();
    sorted.sort_by_key(|(c, l)| (*l, c.to_string()));
    let mut wanted = want.to_vec();
    wanted.sort_by_key(|(c, l)| (*l, c.to_string()));
    assert_eq!(sorted, wanted, "{all:#?}");
}

#[test]
fn what_hangs_droops_by_a_little() {
    let place = |droop: &str| {
        format!(r#""place": [ {{ "id": "a", "instrument": "dial.json", "at": [60, 120], {droop} }} ]"#)
    };
    for (droop, code) in [
        (r#""droop": -1"#, "out-of-range"),
        (r#""droop": 31"#, "out-of-range"),
        (r#""droop": "-2 mm""#, "out-of-range"),
        (r#""droop": 1, "rear-support": "bracket""#, "one-of"),
    ] {
        let all = refused(&place(droop));
        assert_eq!((all.len(), all[0].0.as_str(), all[0].1), (1, code, 3), "{all:#?}");
    }
}

#[test]
fn a_port_s_mouth_does_not_lie_within_its_own_body() {
    let place = text(r#""place": [ { "id": "a", "instrument": "my.json", "at": [60, 120] } ]"#);
    let try_dial = |from: &str, to: &str| {
        let dial = DIAL.replace(from, to);
        assert_ne!(dial, DIAL);
        try_files("p.json", &[("p.json", &place), ("my.json", &dial)])
    };
    // the can reaches from 0 to 80
    let problems = try_dial(r#""at": [10, 5], "depth": 80"#, r#""at": [10, 5], "depth": 60"#).err().unwrap();
    assert_eq!(problems.len(), 1, "{}", problems.render(false));
    let p = problems.sorted()[0].clone();
    assert_eq!((p.code, p.place.as_ref().unwrap().line), ("port-inside", 8));
    assert!(
        p.message.contains("`plug` leaves 60 mm deep, within the body, which reaches from 0 mm to 80 mm"),
        "{}",
        p.message
    );
    // on the side of the can, and beside it
    for at in ["[29.5, 0]", "[40, 0]"] {
        let side = format!(r#""at": {at}, "depth": 60, "towards": "right""#);
        assert!(try_dial(r#""at": [10, 5], "depth": 80, "towards": "back""#, &side).is_ok(), "{at}");
    }
}
