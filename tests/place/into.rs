//! An instrument into an old opening: numbers by hand, plates that are checked and cut like any panel.
//!
//! The 3 1/8 in pattern: a cutout of 3.125 in, screws on a square of 2.475 in, holes of 0.170 in; the 2 1/4 in one 1.856 in.
//! A #6 screw is 0.138 in.

use super::command::{out, run, scratch};
use serde_json::Value;
use std::fs;

const FOUND: &str = "panels/wheatear/as-found.json";

fn asked(args: &[&str]) -> (i32, Value) {
    let root = env!("CARGO_MANIFEST_DIR");
    let panel = format!("{root}/{}", args[1]);
    let mut all = vec!["fits", args[0], &panel, "--format", "json"];
    all.extend(&args[2..]);
    let (code, o) = run(&all);
    (code, serde_json::from_slice(&o.stdout).unwrap_or_else(|e| panic!("{e}: {}", out(&o))))
}

fn near(v: &Value, want: f64) {
    let got = v.as_f64().unwrap_or(f64::NAN);
    assert!((got - want).abs() < 1e-6, "{got}, not {want}");
}

#[test]
fn a_standby_display_takes_the_hole_and_the_screws_of_the_dial_that_goes() {
    let (code, v) = asked(&["standby/3-1-8in", FOUND, "--into", "vario"]);
    // it goes in; that it is seen there nobody can say of a panel whose file does not tell where the eye is
    assert_eq!((code, &v["as-it-is"], &v["plate"]), (1, &Value::from("pass"), &Value::Null));
    assert_eq!(
        (&v["verdict"], &v["standby-seen"]["verdict"]),
        (&"withheld".into(), &"withheld".into()),
        "{v:#}"
    );
    // (3.125 - 3.08) / 2 in
    near(&v["passes"]["parts"][0]["room"], 0.5715);
    let screws = v["screws"].as_array().unwrap();
    assert_eq!(screws.len(), 4);
    for s in screws {
        near(&s["off"], 0.0);
        // (0.170 - 0.138) / 2 in
        near(&s["play"], 0.4064);
    }
    assert_eq!(v["uncovered"].as_array().map(Vec::len), Some(0));
}

#[test]
fn a_small_one_takes_a_plate_that_is_a_panel_of_its_own() {
    let file = scratch("plate", "{}").with_file_name("plate.json");
    let path = file.to_str().unwrap();
    let (code, v) = asked(&["standby/2-1-4in", FOUND, "--into", "vario", "--adapter", path]);
    assert_eq!((code, &v["as-it-is"]), (1, &Value::from("fail")));
    // (3.125 - 2.21) / 2 in; screws off by the diagonal of (2.475 - 1.856) / 2 in
    near(&v["passes"]["parts"][0]["room"], 11.6205);
    near(&v["screws"][0]["off"], 0.3095 * 25.4 * std::f64::consts::SQRT_2);
    let plate = &v["plate"];
    // the opening's half, 39.6875 mm, and 3 mm beyond it, in whole millimetres for both halves
    assert_eq!((plate["size"][0].as_f64(), plate["size"][1].as_f64()), (Some(86.0), Some(86.0)));
    assert_eq!(plate["holes"].as_array().map(Vec::len), Some(4));
    near(&plate["holes"][2]["at"][0], 2.475 / 2.0 * 25.4);
    assert_eq!(plate["meets"].as_array().map(Vec::len), Some(0));
    // its own check: what fails is the screwdriver on the plate's screws with the instrument on, and nothing else
    for f in plate["findings"].as_array().unwrap() {
        let id = f["id"].as_str().unwrap();
        assert!(f["verdict"] != "fail" || id.starts_with("tool-reach/old-screw"), "{f}");
    }
    let (code, o) = run(&["check", path, "--format", "json"]);
    assert!(code < 2, "{}", out(&o));
    let folder = file.with_file_name("cut");
    let (code, o) = run(&["template", path, "--out", folder.to_str().unwrap(), "--formats", "svg"]);
    assert!(code < 2 && fs::read_dir(&folder).unwrap().count() > 0, "{}", out(&o));
    // nothing that is there is overwritten
    let root = env!("CARGO_MANIFEST_DIR");
    let panel = format!("{root}/{FOUND}");
    let (code, o) = run(&["fits", "standby/2-1-4in", &panel, "--into", "vario", "--adapter", path]);
    assert!(code == 2 && out(&o).contains("exists"), "{}", out(&o));
}

#[test]
fn what_is_larger_than_the_old_opening_goes_in_by_no_plate() {
    let (code, v) = asked(&["standby/3-1-8in", FOUND, "--into", "cht"]);
    assert_eq!((code, &v["as-it-is"], &v["plate"]), (1, &Value::from("fail"), &Value::Null));
    assert!(v["no-plate-because"][0].as_str().unwrap().contains("too small"), "{v:#}");
    // no screw hole: nothing holds a plate
    let (_, v) = asked(&["standby/2-1-4in", FOUND, "--into", "old-voltmeter"]);
    assert!(v["no-plate-because"][1].as_str().unwrap().contains("0 screw holes"), "{v:#}");
    let root = env!("CARGO_MANIFEST_DIR");
    let (code, o) = run(&["fits", "standby/2-1-4in", &format!("{root}/{FOUND}"), "--into", "nobody"]);
    assert!(code == 2 && out(&o).contains("no such item"), "{}", out(&o));
    let args = [
        "fits",
        "standby/2-1-4in",
        &format!("{root}/{FOUND}"),
        "--into",
        "vario",
        "--turn",
        "0",
        "--turn",
        "90",
    ];
    let (code, o) = run(&args);
    assert!(code == 2 && out(&o).contains("one angle"), "{}", out(&o));
}

/// The lower screws lie 28.8 - 47.6 / 2 = 5 mm from the sheet's edge: 1.25 diameters of M4, two are asked.
#[test]
fn a_doubler_is_wanted_where_old_screws_stand_too_near_the_edge() {
    let text = r##"{ "format": 1, "panel": "Edge", "unit": "mm",
      "sheet": { "material": "6061-T6", "thickness": 2, "outline": "M 0 0 H 300 V 150 H 0 Z" },
      "place": [{ "id": "dial", "instrument": "own", "at": [40, 28.8] }] }"##;
    let own = r##"{ "format": 1, "instrument": "Dial of mine", "kind": "gauge", "unit": "mm", "mounting": "front",
      "service": "front", "sources": { "own": { "basis": "measured", "who": "A. Builder", "when": "2 April" } }, "source": "own",
      "case": { "circle": 56.2 }, "openings": [{ "id": "main", "shape": { "circle": 57.4 } }],
      "holes": [{ "square": 47.6, "diameter": 4.5, "fastener": "M4", "head": { "kind": "raised" }, "nut": {} }],
      "bezel": { "shape": { "rectangle": [60, 60], "corner": 5 }, "thickness": 4 },
      "bodies": [{ "id": "can", "shape": { "circle": 56.2 }, "from": 0, "to": 48 }], "ports": [] }"##;
    let file = scratch("edge", text);
    fs::write(file.with_file_name("own.json"), own).unwrap();
    let folder = file.parent().unwrap().to_str().unwrap();
    let args = ["fits", "own", file.to_str().unwrap(), "--into", "dial", "--instruments", folder];
    let (_, o) = run(&args);
    let told = out(&o);
    assert!(told.contains("4 of 4 screws meet an old hole"), "{told}");
    assert!(
        told.contains("dial.screw-1 lies 1.3 diameters") || told.contains("lies 1.2 diameters"),
        "{told}"
    );
    assert!(told.contains("left to approved data"), "{told}");
}

/// An old bay for the 2 1/4 in pattern and four old holes that were measured one by one, and what stands beside.
fn bay(name: &str, survey: f64, beside: f64) -> (String, Value) {
    let text = format!(
        r#"{{ "format": 1, "panel": "Bay", "unit": "mm", "tolerances": {{ "survey": {survey}, "size": 0 }},
      "sheet": {{ "material": "6061-T6", "thickness": 2, "outline": "M 0 0 H 400 V 200 H 0 Z" }},
      "place": [{{ "id": "dial", "instrument": "blank/2-1-4in", "at": [{beside}, 100] }}],
      "old-openings": [{{ "id": "bay", "shape": {{ "circle": 57.15 }}, "at": [100, 100] }},
        {{ "id": "a", "shape": {{ "circle": 4.318 }}, "at": [76.4288, 76.4288] }},
        {{ "id": "b", "shape": {{ "circle": 4.318 }}, "at": [123.5712, 76.4288] }},
        {{ "id": "c", "shape": {{ "circle": 4.318 }}, "at": [123.5712, 123.5712] }},
        {{ "id": "d", "shape": {{ "circle": 4.318 }}, "at": [76.4288, 123.5712] }}] }}"#
    );
    let file = scratch(name, &text);
    let all = ["fits", "standby/2-1-4in", file.to_str().unwrap(), "--into", "bay"];
    let told = out(&run(&all).1).split_whitespace().collect::<Vec<_>>().join(" ");
    let (_, o) = run(&[&all[..], &["--format", "json"]].concat());
    (told, serde_json::from_slice(&o.stdout).unwrap())
}

#[test]
fn old_holes_that_were_measured_one_by_one_may_be_off_their_pattern() {
    // 0.170 in less 0.138 in is 0.406 mm a side; both the hole and the bay may be off by 0.1, then by 0.3
    let (_, v) = bay("bay-exact", 0.1, 300.0);
    assert!(v["screws"].as_array().unwrap().iter().all(|s| s["verdict"] == "pass"), "{v:#}");
    let (told, v) = bay("bay-rough", 0.3, 300.0);
    assert!(v["screws"].as_array().unwrap().iter().all(|s| s["verdict"] == "tight"), "{v:#}");
    assert!(told.contains("0.41 mm of play are left and the tolerances may take 0.60 mm"), "{told}");
    assert!(told.contains("at the worst tolerances it may not"), "{told}");
}

#[test]
fn a_plate_keeps_off_the_bezels_beside_it() {
    // the plate for the 3 1/8 in opening is 86 wide; a dial's bezel beside it may come no nearer than 1.5 mm
    let plate = |x: f64| {
        let text = format!(
            r#"{{ "format": 1, "panel": "Beside", "unit": "mm",
          "sheet": {{ "material": "6061-T6", "thickness": 2, "outline": "M 0 0 H 400 V 200 H 0 Z" }},
          "place": [{{ "id": "vario", "instrument": "round/3-1-8in-rear", "at": [100, 100] }},
            {{ "id": "dial", "instrument": "blank/2-1-4in", "at": [{x}, 100] }}] }}"#
        );
        let file = scratch(&format!("beside-{x}"), &text);
        let all = ["fits", "standby/2-1-4in", file.to_str().unwrap(), "--into", "vario", "--format", "json"];
        let v: Value = serde_json::from_slice(&run(&all).1.stdout).unwrap();
        let half = v["plate"]["size"][0].as_f64().unwrap() / 2.0;
        (half, v["plate"]["meets"].as_array().unwrap().len())
    };
    let (half, _) = plate(250.0);
    // the blank's bezel, read from its definition
    let blank =
        fs::read_to_string(format!("{}/instruments/blank/2-1-4in.json", env!("CARGO_MANIFEST_DIR"))).unwrap();
    let blank: Value = serde_json::from_str(&blank).unwrap();
    let wide = blank["bezel"]["shape"]["rectangle"][0].as_f64().unwrap() / 2.0 * 25.4;
    assert_eq!(plate(100.0 + half + wide + 1.6), (half, 0));
    assert_eq!(plate(100.0 + half + wide + 1.4), (half, 1));
}

/// Two screws 0.6 mm apart before one old hole that has room for either: it takes one, the other has none.
#[test]
fn each_old_hole_takes_one_screw() {
    let own = r##"{ "format": 1, "instrument": "Dial of mine", "kind": "gauge", "unit": "mm", "mounting": "front",
      "service": "front", "sources": { "own": { "basis": "measured", "who": "A. Builder", "when": "2 April" } }, "source": "own",
      "case": { "circle": 56.2 }, "openings": [{ "id": "main", "shape": { "circle": 57.4 } }],
      "holes": [{ "id": "one", "at": [[33.3, 0]], "diameter": 4.5, "fastener": "M4" },
                { "id": "two", "at": [[33.9, 0]], "diameter": 4.5, "fastener": "M4" }],
      "bezel": { "shape": { "rectangle": [80, 60], "corner": 5 }, "thickness": 4 },
      "bodies": [{ "id": "can", "shape": { "circle": 56.2 }, "from": 0, "to": 48 }], "ports": [] }"##;
    let text = r##"{ "format": 1, "panel": "Two", "unit": "mm",
      "sheet": { "material": "6061-T6", "thickness": 2, "outline": "M 0 0 H 300 V 150 H 0 Z" },
      "place": [{ "id": "b", "instrument": "blank/2-1-4in", "at": [230, 70] }],
      "old-openings": [{ "id": "bay", "shape": { "circle": 57.4 }, "at": [100, 70] },
        { "id": "hole", "shape": { "circle": 4.8 }, "at": [133.5, 70] }] }"##;
    let file = scratch("one-hole", text);
    fs::write(file.with_file_name("own.json"), own).unwrap();
    let folder = file.parent().unwrap().to_str().unwrap();
    let args =
        ["fits", "own", file.to_str().unwrap(), "--into", "bay", "--instruments", folder, "--format", "json"];
    let (code, o) = run(&args);
    let v: Value = serde_json::from_slice(&o.stdout).unwrap_or_else(|_| panic!("{}", out(&o)));
    let screws = v["screws"].as_array().unwrap();
    let to: Vec<&str> = screws.iter().filter_map(|s| s["old"].as_str()).collect();
    assert_eq!((code, screws.len(), to.len()), (1, 2, 1), "{v:#}");
    // 0.2 mm off is nearer than 0.4
    assert_eq!(
        (&screws[0]["old"], &screws[1]["verdict"]),
        (&Value::from(to[0]), &Value::from("fail")),
        "{v:#}"
    );
    assert!(screws[1]["because"].as_str().unwrap().contains("no old screw hole is left"), "{v:#}");
}

/// The plate's file names a file of an instrument from its own folder, and reads it there.
#[test]
fn a_plate_in_another_folder_still_finds_the_instrument() {
    let text = r##"{ "format": 1, "panel": "Edge", "unit": "mm",
      "sheet": { "material": "6061-T6", "thickness": 2, "outline": "M 0 0 H 300 V 150 H 0 Z" },
      "place": [{ "id": "dial", "instrument": "round/3-1-8in-rear", "at": [100, 70] }] }"##;
    let file = scratch("plate-elsewhere", text);
    let folder = file.parent().unwrap();
    fs::create_dir_all(folder.join("own")).unwrap();
    fs::create_dir_all(folder.join("plates/new")).unwrap();
    let small = include_str!("../../instruments/round/2-1-4in-front.json");
    fs::write(folder.join("own/small.json"), small).unwrap();
    let program = env!("CARGO_BIN_EXE_panelwright");
    let run =
        |args: &[&str]| std::process::Command::new(program).args(args).current_dir(folder).output().unwrap();
    let plate = "plates/new/plate.json";
    let o = run(&["fits", "own/small.json", "bare.json", "--into", "dial", "--adapter", plate]);
    assert!(folder.join(plate).is_file(), "{}", out(&o));
    let text = fs::read_to_string(folder.join(plate)).unwrap();
    assert!(text.contains(r#""instrument":"../../own/small.json""#), "{text}");
    let o = run(&["check", plate, "--format", "json"]);
    assert!(o.status.code().is_some_and(|c| c < 2), "{}", out(&o));
}
