//! `survey` of a drawing as a program: what it writes, what it refuses, and that nothing is half-written.

use super::make::{circle, line, mm, rect};
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn folder(name: &str) -> PathBuf {
    let at = Path::new(env!("CARGO_TARGET_TMPDIR")).join("import-commands").join(name);
    let _ = std::fs::remove_dir_all(&at);
    std::fs::create_dir_all(&at).unwrap();
    at
}

fn survey(at: &Path, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_panelwright")).arg("survey").args(args).current_dir(at).output().unwrap()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

#[test]
fn a_drawing_becomes_a_panel_that_can_be_checked() {
    let at = folder("whole");
    let body = rect(0.0, 0.0, 400.0, 150.0) + &circle(80.0, 75.0, 39.7);
    std::fs::write(at.join("theirs.dxf"), mm(&body)).unwrap();
    let o = survey(&at, &["theirs.dxf", "--panel", "found.json", "--drawing", "found.svg", "--accept", "p1"]);
    assert_eq!(o.status.code(), Some(0), "{}", text(&o.stderr));
    let says = text(&o.stdout);
    assert!(
        says.contains("outline       400 x 150 mm = 15.75 x 5.91 in") && says.contains("p1 (accepted)"),
        "{says}"
    );
    assert!(text(&o.stderr).contains("wrote found.json: complete it, then panelwright check found.json"));
    let json: serde_json::Value =
        serde_json::from_slice(&std::fs::read(at.join("found.json")).unwrap()).unwrap();
    assert_eq!(json["old-openings"][0]["shape"]["circle"], 79.375);
    assert_eq!(json["as-found"], true);
    let drawn = std::fs::read_to_string(at.join("found.svg")).unwrap();
    assert!(drawn.contains("panel as found in a drawing, not to cut from"));
    let checked = Command::new(env!("CARGO_BIN_EXE_panelwright"))
        .args(["check", "found.json"])
        .current_dir(&at)
        .output()
        .unwrap();
    assert!(checked.status.code().is_some_and(|c| c < 2), "{}", text(&checked.stderr));
    // once more: nothing is overwritten
    let before = std::fs::read(at.join("found.json")).unwrap();
    let o = survey(&at, &["theirs.dxf", "--panel", "found.json"]);
    assert_eq!(o.status.code(), Some(2));
    assert!(text(&o.stderr).contains("found.json exists"), "{}", text(&o.stderr));
    assert_eq!(std::fs::read(at.join("found.json")).unwrap(), before);
}

#[test]
fn while_a_question_is_open_nothing_is_written() {
    let at = folder("asks");
    let body = rect(0.0, 0.0, 400.0, 150.0) + &circle(80.0, 75.0, 39.6875) + &line(200.0, 20.0, 240.0, 20.0);
    std::fs::write(at.join("theirs.dxf"), mm(&body).replace("9\n$INSUNITS\n70\n4\n", "")).unwrap();
    let o = survey(&at, &["theirs.dxf", "--panel", "found.json"]);
    assert_eq!(o.status.code(), Some(2));
    let says = text(&o.stdout);
    assert!(says.contains("what is the unit?") && says.contains("only mm gives a panel's size"), "{says}");
    assert!(
        text(&o.stderr).contains("found.json was not written: a question is open"),
        "{}",
        text(&o.stderr)
    );
    assert!(!at.join("found.json").exists());
    // with the answer there is one; the straight that is open is told and makes the exit 1
    let o = survey(&at, &["theirs.dxf", "--panel", "found.json", "--unit", "mm", "--format", "json"]);
    assert_eq!(o.status.code(), Some(1), "{}", text(&o.stderr));
    let json: serde_json::Value = serde_json::from_slice(&o.stdout).unwrap();
    assert_eq!((&json["panel"], &json["clean"]), (&true.into(), &false.into()));
    let open = json["told"].as_array().unwrap().iter().find(|t| t["code"] == "open").unwrap();
    assert_eq!((&open["about"], &open["at"][0]), (&"left out".into(), &serde_json::json!([200.0, 20.0])));
    assert!(at.join("found.json").exists());
}

#[test]
fn the_ending_decides_what_a_file_is() {
    let at = folder("endings");
    std::fs::write(at.join("panel.dwg"), b"AC1027").unwrap();
    std::fs::write(at.join("readings.json"), "{}").unwrap();
    std::fs::write(at.join("cut.dxf"), "0\nSECTION\n2\nENTITIES\n0\nLINE\n").unwrap();
    for (args, says) in [
        (vec!["panel.dwg"], "panel.dwg is not read: save it as DXF in ASCII"),
        (
            vec!["readings.json", "--join", "0.1"],
            "--join is for a drawing, and readings.json does not end in .dxf, .svg or .csv",
        ),
        (vec!["cut.dxf", "--panel", "p.json"], "the section ENTITIES starts here and does not end"),
        (vec!["none.svg"], "none.svg"),
        (vec!["cut.dxf", "--origin", "5"], "two numbers with a comma between are expected"),
        (vec!["cut.dxf", "--join", "0"], "a length from 0.00001 to 10000 mm is expected"),
    ] {
        let o = survey(&at, &args);
        assert_eq!(o.status.code(), Some(2), "{args:?}");
        assert!(text(&o.stderr).contains(says), "{args:?}: {}", text(&o.stderr));
    }
    assert!(!at.join("p.json").exists());
}

#[test]
fn the_origin_goes_where_it_is_said() {
    let at = folder("origin");
    let body = rect(-100.0, 20.0, 400.0, 150.0) + &circle(80.0, 75.0, 39.6875);
    std::fs::write(at.join("theirs.dxf"), mm(&body)).unwrap();
    for (args, want) in [
        (vec![], [180.0, 55.0]),
        (vec!["--origin", "0,0"], [80.0, 75.0]),
        (vec!["--origin", "-20.5,5"], [100.5, 70.0]),
    ] {
        let _ = std::fs::remove_file(at.join("p.json"));
        let o = survey(&at, &[vec!["theirs.dxf", "--panel", "p.json"], args].concat());
        assert_eq!(o.status.code(), Some(0), "{}", text(&o.stderr));
        let json: serde_json::Value =
            serde_json::from_slice(&std::fs::read(at.join("p.json")).unwrap()).unwrap();
        let at = &json["old-openings"][0]["at"];
        assert_eq!([at[0].as_f64().unwrap(), at[1].as_f64().unwrap()], want);
    }
}

#[test]
fn the_users_own_instruments_are_looked_for_too() {
    let at = folder("own");
    std::fs::create_dir_all(at.join("mine/radio")).unwrap();
    // a hole that no trade has
    let own = include_str!("../../instruments/round/3-1-8in-clamp.json");
    let own = own.replace("\"circle\": 3.125", "\"circle\": \"71.3 mm\"");
    std::fs::write(at.join("mine/radio/odd.json"), own).unwrap();
    std::fs::write(at.join("mine/radio/broken.json"), "{ \"format\": 1 }").unwrap();
    let slot = "0\nLWPOLYLINE\n8\n0\n90\n4\n70\n1\n10\n200\n20\n50\n10\n230\n20\n50\n42\n1\n10\n230\n20\n60\n10\n200\n20\n60\n42\n1\n";
    let body = rect(0.0, 0.0, 400.0, 150.0)
        + &circle(80.0, 75.0, 71.3 / 2.0)
        + &rect(300.0, 40.0, 60.0, 30.0)
        + slot;
    std::fs::write(at.join("theirs.dxf"), mm(&body)).unwrap();
    let says = text(&survey(&at, &["theirs.dxf"]).stdout);
    assert!(!says.contains("Patterns of the catalogue") && !says.contains("was not looked for"), "{says}");
    assert!(says.contains("rectangle-1  rectangle 60 mm x 30 mm at (330, 55)"), "{says}");
    assert!(says.contains("slot-1       slot 40 mm x 10 mm at (215, 55)"), "{says}");
    let says = text(&survey(&at, &["theirs.dxf", "--instruments", "mine"]).stdout);
    assert!(says.contains("one 71.3 mm pattern found") && says.contains("radio/odd"), "{says}");
    assert!(!says.contains("has no `kind`"), "the first fault is enough: {says}");
    let flat = says.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        flat.contains("The pattern of radio/broken was not looked for: mine/radio/broken.json"),
        "{says}"
    );
}
