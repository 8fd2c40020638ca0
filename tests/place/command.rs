//! The command `fits` from outside.

use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const SHEET: &str = r#"{ "format": 1, "panel": "Bare", "unit": "mm",
  "sheet": { "material": "6061-T6", "thickness": 2, "coat": 0.08, "outline": "M 0 0 H 300 V 150 H 0 Z" },
  "depth": { "default": 300 }, "place": [{ "id": "loom", "instrument": "mount/grommet", "at": [30, 20] }] }"#;

pub fn scratch(name: &str, text: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("fits-{name}"));
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    let file = folder.join("bare.json");
    fs::write(&file, text).unwrap();
    file
}

pub fn run(args: &[&str]) -> (i32, Output) {
    let o = Command::new(env!("CARGO_BIN_EXE_panelwright")).args(args).output().unwrap();
    (o.status.code().unwrap_or(-1), o)
}

pub fn out(o: &Output) -> String {
    String::from_utf8_lossy(&o.stdout).into_owned() + &String::from_utf8_lossy(&o.stderr)
}

#[test]
fn a_cover_plate_passes_on_a_bare_sheet_where_it_says() {
    let file = scratch("bare", SHEET);
    let path = file.to_str().unwrap();
    let (code, o) = run(&["fits", "blank/2-1-4in", path, "--near", "100,60", "--format", "json"]);
    assert_eq!(code, 0, "{}", out(&o));
    let v: Value = serde_json::from_slice(&o.stdout).unwrap();
    let answer = &v["answers"][0];
    assert_eq!((&answer["verdict"], &answer["region"]["pieces"]), (&Value::from("pass"), &Value::from(1)));
    // the wished-for place lies in the region and is answered as it was asked
    let near = &answer["nearest"]["at"];
    assert!(
        (near[0].as_f64().unwrap() - 100.0).abs() < 1e-9 && (near[1].as_f64().unwrap() - 60.0).abs() < 1e-9
    );
    // put there by hand, check finds nothing that fails about it
    let text = format!(
        r#"{{ "format": 1, "panel": "Covered", "unit": "mm", "builds-on": "bare.json",
             "place": [{{ "id": "cover", "instrument": "blank/2-1-4in", "at": [{}, {}] }}] }}"#,
        answer["most-room"]["at"][0], answer["most-room"]["at"][1]
    );
    let with = file.with_file_name("with.json");
    fs::write(&with, text).unwrap();
    let (_, o) = run(&["check", with.to_str().unwrap(), "--format", "json"]);
    let v: Value = serde_json::from_slice(&o.stdout).unwrap();
    assert_eq!(v["counts"]["fail"], 0, "{}", out(&o));
    let (code, o) = run(&["fits", "blank/2-1-4in", path]);
    assert!(code == 0 && out(&o).contains("No rule about its place is broken there"), "{}", out(&o));
    // nothing is left beside the panel
    assert_eq!(fs::read_dir(file.parent().unwrap()).unwrap().count(), 2);
}

/// A place is free for the vent, but its opening is a typical one that nobody measured yet: no place settles that.
#[test]
fn what_no_place_settles_is_withheld_and_told() {
    let file = scratch("typical", SHEET);
    let path = file.to_str().unwrap();
    let (code, o) = run(&["fits", "vent/44mm", path, "--near", "100,60", "--format", "json"]);
    assert_eq!(code, 1, "{}", out(&o));
    let v: Value = serde_json::from_slice(&o.stdout).unwrap();
    let answer = &v["answers"][0];
    assert_eq!(answer["verdict"], "withheld");
    assert!(answer["region"]["area"].as_f64().unwrap() > 1e4, "{answer:#}");
    let (code, o) = run(&["fits", "vent/44mm", path]);
    let told = out(&o);
    assert!(code == 1 && told.contains("Not settled by its place"), "{told}");
    assert!(told.contains("withheld typical/instrument-tried.cutout"), "{told}");
}

#[test]
fn what_is_larger_than_the_sheet_fits_nowhere() {
    let file = scratch("small", &SHEET.replace("H 300 V 150", "H 60 V 40"));
    let (code, o) = run(&["fits", "display/7in-landscape", file.to_str().unwrap()]);
    assert!(code == 1 && out(&o).contains("It fits nowhere"), "{}", out(&o));
}

#[test]
fn a_layer_without_numbers_is_withheld_by_name() {
    let file = scratch("no-depth", &SHEET.replace(r#""depth": { "default": 300 },"#, ""));
    let path = file.to_str().unwrap();
    let (code, o) = run(&["fits", "vent/44mm", path, "--nominal", "--format", "json"]);
    let v: Value = serde_json::from_slice(&o.stdout).unwrap();
    let answer = &v["answers"][0];
    assert!(code == 1 && answer["nominal"] == true && answer["verdict"] == "withheld", "{answer:#}");
    assert_eq!(answer["region"]["withheld"][0], "the depth available behind the sheet (depth)");
    assert!(answer["region"]["area"].as_f64().unwrap() > 1e4);
    let (_, o) = run(&["fits", "vent/44mm", path]);
    assert!(out(&o).contains("for want of: the depth available behind the sheet"), "{}", out(&o));
}

/// A zone over the whole sheet forbids every cutout: it fits nowhere, and the zone is named.
#[test]
fn zones_that_leave_nothing_are_named() {
    let zone = r#""zones": [{ "id": "spar", "shape": { "rectangle": [300, 150] }, "at": [150, 75], "forbids": ["cut"], "because": "the spar" }], "place""#;
    let file = scratch("zone", &SHEET.replace(r#""place""#, zone));
    let (code, o) = run(&["fits", "vent/44mm", file.to_str().unwrap()]);
    let told = out(&o);
    assert!(code == 1 && told.contains("It fits nowhere: short by") && told.contains("keep-out: "), "{told}");
    assert!(told.contains("and spar") && told.contains("No single item"), "{told}");
}

#[test]
fn bad_questions_are_named() {
    let file = scratch("bad", SHEET);
    let path = file.to_str().unwrap();
    for (args, words) in [
        (vec!["fits", "vent/44m", path], "vent/44mm"),
        (vec!["fits", "vent/44mm", "no-such.json"], "no-such.json"),
        (vec!["fits", "radio/com-1-3in", path], "radio/com-1-3in is a unit of a stack"),
        (vec!["fits", "vent/44mm", "-"], "name the file"),
        (vec!["fits", "vent/44mm", path, "--near", "12"], "two numbers"),
        (vec!["fits", "vent/44mm", path, "--near", "NaN,1"], "two numbers"),
        (vec!["fits", "vent/44mm", path, "--turn", "inf"], "--turn"),
        (vec!["fits", "vent/44mm", path, "--turn", "1e308"], "--turn"),
        (vec!["fits", "vent/44mm", path, "--turn", "400"], "--turn"),
    ] {
        let (code, o) = run(&args);
        assert!(code == 2 && out(&o).contains(words), "{args:?}: {}", out(&o));
    }
}

/// The drawing tells what the text tells: the region's figures, the spots and what they are; and nowhere, by how much.
#[test]
fn the_answer_is_drawn_where_it_is_asked_for() {
    let file = scratch("drawn", SHEET);
    let folder = file.with_file_name("drawn");
    let (path, folder) = (file.to_str().unwrap(), folder.to_str().unwrap());
    let (_, o) =
        run(&["fits", "blank/2-1-4in", path, "--near", "100,60", "--out", folder, "--formats", "svg"]);
    let svg =
        fs::read_to_string(format!("{folder}/fits-drawn-bare-fits-blank-2-1-4in.svg")).unwrap_or_default();
    for words in [
        "where blank/2-1-4in fits",
        "not to cut from",
        "[100, 60]",
        "nearest to the place wished for",
        ">10<",
    ] {
        assert!(svg.contains(words), "{words} is not in the drawing\n{}", out(&o));
    }
    let larger = scratch("drawn-small", &SHEET.replace("H 300 V 150", "H 60 V 40"));
    let (_, o) =
        run(&["fits", "blank/2-1-4in", larger.to_str().unwrap(), "--out", folder, "--formats", "svg"]);
    let svg = fs::read_to_string(format!("{folder}/fits-drawn-small-bare-fits-blank-2-1-4in.svg"))
        .unwrap_or_default();
    assert!(svg.contains("FITS NOWHERE") && svg.contains("short by"), "{}", out(&o));
}

/// Problems of the files come as JSON where that was asked for, as from every command.
#[test]
fn a_file_that_cannot_be_read_is_told_as_json() {
    let file = scratch("unread", &SHEET.replace("\"at\"", "\"att\""));
    let path = file.to_str().unwrap();
    for args in [
        vec!["fits", "vent/44mm", path],
        vec!["arrange", path],
        vec!["check", path],
        vec!["compare", path, path],
    ] {
        let (code, o) = run(&[&args[..], &["--format", "json"]].concat());
        let v: Value = serde_json::from_slice(&o.stdout).unwrap_or_else(|_| panic!("{args:?}: {}", out(&o)));
        assert!(
            code == 2 && v.to_string().contains("bare.json") && v.to_string().contains("att"),
            "{args:?}: {v}"
        );
        assert!(o.stderr.is_empty(), "{}", out(&o));
    }
}

/// On a sheet with nothing on it: the region is that of the sheet, and what is wrong with the file is told all the same.
#[test]
fn a_bare_sheet_is_enough() {
    let bare = r#"{ "format": 1, "panel": "Bare", "unit": "mm",
      "sheet": { "material": "6061-T6", "thickness": 2, "coat": 0.08, "outline": "M 0 0 H 300 V 150 H 0 Z" },
      "depth": { "default": 300 }, "place": [] }"#;
    let file = scratch("empty", bare);
    let folder = file.with_file_name("drawn");
    let path = file.to_str().unwrap();
    let args = [
        "fits",
        "blank/2-1-4in",
        path,
        "--format",
        "json",
        "--formats",
        "svg",
        "--out",
        folder.to_str().unwrap(),
    ];
    let (code, o) = run(&args);
    let v: Value = serde_json::from_slice(&o.stdout).unwrap_or_else(|_| panic!("{}", out(&o)));
    let area = v["answers"][0]["region"]["area"].as_f64().unwrap();
    // no less than what a plate of 80 leaves, no more than the sheet
    assert!(code == 0 && area > 220.0 * 70.0 && area < 300.0 * 150.0, "{v:#}");
    assert_eq!(fs::read_dir(&folder).unwrap().count(), 1);
    // a panel may build on it, and by itself it is still no panel to check
    let with = file.with_file_name("with.json");
    let text = r#"{ "format": 1, "panel": "With", "unit": "mm", "builds-on": "bare.json",
        "place": [{ "id": "cover", "instrument": "blank/2-1-4in", "at": [100, 70] }] }"#;
    fs::write(&with, text).unwrap();
    let (_, o) = run(&["check", with.to_str().unwrap(), "--format", "json"]);
    let v: Value = serde_json::from_slice(&o.stdout).unwrap();
    assert_eq!(
        (&v["counts"]["fail"], &v["counts"]["tight"]),
        (&Value::from(0), &Value::from(0)),
        "{}",
        out(&o)
    );
    let (code, o) = run(&["check", path]);
    assert!(code == 2 && out(&o).contains("nothing stands on this panel"), "{}", out(&o));
    let wrong = scratch("empty-wrong", &bare.replace("\"thickness\": 2", "\"thickness\": -2"));
    let (code, o) = run(&["fits", "blank/2-1-4in", wrong.to_str().unwrap()]);
    assert!(code == 2 && out(&o).contains("thickness") && !out(&o).contains("empty-panel"), "{}", out(&o));
}

/// What is screwed on from the front without a cutout has a region too, and check passes it there.
#[test]
fn an_instrument_without_a_cutout() {
    let file = scratch("no-cutout", SHEET);
    let path = file.to_str().unwrap();
    let (_, o) = run(&["fits", "holder/deviation-card", path, "--format", "json"]);
    let v: Value = serde_json::from_slice(&o.stdout).unwrap_or_else(|_| panic!("{}", out(&o)));
    let answer = &v["answers"][0];
    assert!(answer["region"]["area"].as_f64().unwrap() > 1e4, "{answer:#}");
    let at = &answer["most-room"]["at"];
    let text = format!(
        r#"{{ "format": 1, "panel": "Card", "unit": "mm", "builds-on": "bare.json",
             "place": [{{ "id": "card", "instrument": "holder/deviation-card", "at": [{}, {}] }}] }}"#,
        at[0], at[1]
    );
    let with = file.with_file_name("with.json");
    fs::write(&with, text).unwrap();
    let (_, o) = run(&["check", with.to_str().unwrap(), "--format", "json"]);
    let v: Value = serde_json::from_slice(&o.stdout).unwrap();
    let cards: Vec<&Value> =
        v["findings"].as_array().unwrap().iter().filter(|f| f["id"].to_string().contains("card")).collect();
    assert!(cards.len() > 1, "{cards:#?}");
    for f in cards {
        // that it was never measured no place settles
        let well = f["verdict"] == "pass" || f["rule"] == "typical" && f["verdict"] == "withheld";
        assert!(well, "{f:#}");
    }
}

/// A body whose depth its file does not say is withheld by name, never passed: here and in check.
#[test]
fn a_body_without_a_depth_is_withheld_by_name() {
    let file = scratch("no-body-depth", SHEET);
    let own = file.with_file_name("own");
    fs::create_dir_all(&own).unwrap();
    let vent = include_str!("../../instruments/vent/44mm.json");
    let text = vent.replace(r#""from": 0, "to": 30 }"#, r#""from": 0 }"#);
    assert_ne!(text, vent);
    fs::write(own.join("deep.json"), text).unwrap();
    let (path, own) = (file.to_str().unwrap(), own.to_str().unwrap());
    let (code, o) = run(&["fits", "deep", path, "--instruments", own, "--format", "json"]);
    let v: Value = serde_json::from_slice(&o.stdout).unwrap_or_else(|_| panic!("{}", out(&o)));
    let answer = &v["answers"][0];
    assert_eq!((code, &answer["verdict"]), (1, &Value::from("withheld")), "{answer:#}");
    let named = answer["region"]["withheld"].as_array().unwrap();
    assert!(named.iter().any(|w| w.as_str().unwrap().contains("body")), "{named:?}");
}
