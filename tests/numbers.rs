//! `numbers`: an item's numbers listed with where each comes from, said and cleared; what verdicts and masses make of them.

use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn run(args: &[&str]) -> Output {
    let mut c = Command::new(env!("CARGO_BIN_EXE_panelwright"));
    c.args(args).current_dir(env!("CARGO_MANIFEST_DIR")).output().unwrap()
}

fn out(args: &[&str]) -> String {
    let o = run(args);
    assert!(o.status.code() == Some(0), "{args:?}: {}", String::from_utf8_lossy(&o.stderr));
    String::from_utf8(o.stdout).unwrap()
}

fn json(args: &[&str]) -> Value {
    serde_json::from_slice(&run(&[args, &["--format", "json"]].concat()).stdout).unwrap()
}

/// A refusal's words, without the marks and ends of lines of the page that they are printed on.
fn refused(args: &[&str]) -> String {
    let o = run(args);
    assert_eq!(o.status.code(), Some(2), "{args:?}");
    let words = String::from_utf8(o.stderr).unwrap();
    words.split_whitespace().filter(|w| *w != "│").collect::<Vec<_>>().join(" ")
}

const FILE: &str = r#"{
  "format": 1, "panel": "Two dials", "unit": "mm",
  "note": "spaces   stay",
  "sheet": { "material": "6061-T6", "thickness": 2, "outline": "M 0 0 H 400 V 200 H 0 Z" },
  "depth": { "default": 300 },
  "place": [
    { "id": "a", "instrument": "round/2-1-4in-front", "at": [100,  100] },
    { "id": "b", "instrument": "round/2-1-4in-front", "right-of": "a", "pitch": 64 }
  ]
}
"#;

fn written(name: &str) -> (PathBuf, String) {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join("p.json");
    std::fs::write(&file, FILE).unwrap();
    (folder, file.to_str().unwrap().to_string())
}

/// What is measured of a finding.
fn measured(file: &str, id: &str) -> f64 {
    let all = json(&["check", file, "--all-pairs"]);
    let f = all["findings"].as_array().unwrap().iter().find(|f| f["id"] == id);
    f.unwrap_or_else(|| panic!("no {id} in {all:#}"))["measured"]["lower"].as_f64().unwrap()
}

#[test]
fn a_cutout_that_was_measured_changes_the_web_and_clearing_it_brings_the_file_back() {
    let (_, file) = written("numbers-web");
    let listed = json(&["numbers", &file, "a"]);
    let all = listed["numbers"].as_array().unwrap();
    let shown = out(&["instruments", "show", "round/2-1-4in-front"]);
    let said: Vec<&Value> = all.iter().filter(|n| !n["holds"].is_null()).collect();
    for n in &said {
        assert!(shown.contains(n["path"].as_str().unwrap()), "{n} is printed by `instruments show` too");
    }
    let cutout = said.iter().find(|n| n["path"].as_str().unwrap().starts_with("openings.")).unwrap();
    let path = cutout["path"].as_str().unwrap();
    let web = measured(&file, "web/a.cutout/b.cutout");
    let set = format!("{path}=2 5/16 in +0.1 mm");
    let by = ["--source", "calliper", "--who", "A. Builder", "--when", "2 April", "--write", &file];
    out(&[&["numbers", &file, "a", "--set", &set], &by[..]].concat());
    let text = std::fs::read_to_string(&file).unwrap();
    let entry = format!(
        r#"[100,  100], "numbers": {{ "{path}": {{ "of": "2 5/16 in", "plus": "0.1 mm", "source": "calliper" }} }} }}"#
    );
    assert!(text.contains(&entry), "{text}");
    assert!(text.contains(
        r#""sources": { "calliper": { "basis": "measured", "who": "A. Builder", "when": "2 April" } }"#
    ));
    assert!(
        text.contains("\"note\": \"spaces   stay\"") && text.contains(r#""right-of": "a", "pitch": 64 }"#)
    );
    // the web gives what the cutout took: half the difference of the diameters, 1/16 in, an inch being 25.4 mm
    assert_eq!(cutout["holds"], "2.25 in");
    let now = measured(&file, "web/a.cutout/b.cutout");
    assert!((web - now - 25.4 / 32.0).abs() < 1e-6, "{web} {now}");
    let again = json(&["numbers", &file, "a"]);
    let own = again["numbers"].as_array().unwrap().iter().find(|n| n["path"] == path).unwrap();
    assert_eq!(own["own"]["line"], 7, "{own}");
    assert_eq!(
        (&own["source"], &own["stated"]["written"]),
        (&"measured: A. Builder, 2 April".into(), &cutout["holds"])
    );
    let lines = out(&["numbers", &file, "a"]);
    assert!(lines.contains("(this panel, ") && lines.contains("the definition says"), "{lines}");
    let cleared = out(&["numbers", &file, "a", "--clear", path]);
    let sources = cleared.find(",\n  \"sources\"").unwrap();
    assert_eq!(format!("{}\n}}\n", &cleared[..sources]), FILE, "all but the source is as it was");
}

#[test]
fn a_mass_that_was_weighed_counts_in_what_goes_and_comes() {
    let (folder, file) = written("numbers-mass");
    let weighed = folder.join("weighed.json");
    let set = [
        "--set",
        "mass=1 lb",
        "--source",
        "scale",
        "--basis",
        "measured",
        "--write",
        weighed.to_str().unwrap(),
    ];
    out(&[&["numbers", &file, "b"], &set[..]].concat());
    let bare = folder.join("bare.json");
    std::fs::write(
        &bare,
        r#"{ "format": 1, "panel": "Bare", "builds-on": "weighed.json", "remove": ["b"] }"#,
    )
    .unwrap();
    let told = json(&["compare", weighed.to_str().unwrap(), bare.to_str().unwrap()]);
    // the pound is 0.45359237 kg by definition (NIST SP 811, appendix B)
    assert!((told["mass"]["removed"].as_f64().unwrap() - 0.453_592_37).abs() < 1e-9, "{:#}", told["mass"]);
    let told = json(&["compare", &file, weighed.to_str().unwrap()]);
    assert_eq!(told["changed"][0]["numbers"], serde_json::json!(["mass"]), "{told:#}");
}

#[test]
fn what_cannot_be_said_is_told_and_nothing_is_written() {
    let (folder, file) = written("numbers-refused");
    let n = |more: &[&str]| refused(&[&["numbers", &file, "a"], more].concat());
    for (args, told) in [
        (&["--set", "mass=1 kg"][..], "--source"),
        (&["--set", "mass=1 kg", "--source", "nobody"], "there is no source \"nobody\""),
        (&["--set", "mass", "--source", "x", "--who", "me"], "PATH=NUMBER"),
        (&["--set", "mass=1", "--source", "x", "--who", "me"], "unit"),
        (
            &["--set", "bodies.nothing.to=3", "--source", "x", "--who", "me"],
            "there is no `nothing` in `bodies`",
        ),
        (&["--set", "mass=1 kg", "--source", "x", "--basis", "guess"], "one of maker"),
        (&["--clear", "mass"], "not said by the item itself"),
    ] {
        let why = n(args);
        assert!(why.contains(told), "{args:?}: {why}");
    }
    let other = folder.join("other.json");
    std::fs::write(&other, "mine").unwrap();
    let why = n(&["--set", "mass=1 kg", "--source", "x", "--who", "me", "--write", other.to_str().unwrap()]);
    assert!(why.contains("another file"), "{why}");
    assert_eq!(std::fs::read_to_string(&other).unwrap(), "mine");
    assert_eq!(std::fs::read_to_string(&file).unwrap(), FILE);
    let why = refused(&["numbers", &file, "c"]);
    assert!(why.contains("there is no instrument `c`"), "{why}");
}
