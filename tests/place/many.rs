//! One instrument on many panels: the table, its order, what is said of files that are no panels, and that the answer of
//! each panel is the one that `fits` gives of that panel alone.

use super::command::{out, run};
use crate::panel_files;
use panelwright::check::Verdict;
use panelwright::files::Memory;
use panelwright::many::{Asked, Outcome, ask};
use panelwright::place::{Answer, Asks, Brief};
use panelwright::resolve::{Catalogue, laid_in};
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};

/// A bare sheet of this size, with its depth or without.
fn sheet(wide: u32, high: u32, depth: &str) -> String {
    format!(
        r#"{{ "format": 1, "panel": "Sheet {wide}", "unit": "mm",
          "sheet": {{ "material": "6061-T6", "thickness": 2, "coat": 0.08, "outline": "M 0 0 H {wide} V {high} H 0 Z" }},
          {depth} "place": [] }}"#
    )
}

const DEEP: &str = r#""depth": { "default": 300 },"#;

/// A gauge with a body and every size measured.
const GAUGE: &str = r#"{ "format": 1, "instrument": "Gauge of mine", "kind": "gauge", "unit": "mm", "mounting": "front",
  "service": "front", "sources": { "own": { "basis": "measured", "who": "A. Builder", "when": "2 April" } }, "source": "own",
  "case": { "circle": 56.2 }, "openings": [{ "id": "main", "shape": { "circle": 58.6 } }],
  "holes": [{ "square": 47.6, "diameter": 4.5, "fastener": "M4", "head": { "kind": "raised" }, "nut": {} }],
  "bezel": { "shape": { "rectangle": [60, 60], "corner": 5 }, "thickness": 4 },
  "bodies": [{ "id": "can", "shape": { "circle": 56.2 }, "from": 0, "to": 48 }], "ports": [],
  "sheet": { "least": 1, "most": 3 } }"#;

fn folder(name: &str, files: &[(&str, &str)]) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("many-{name}"));
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    for (name, text) in files {
        let file = folder.join(name);
        fs::create_dir_all(file.parent().unwrap()).unwrap();
        fs::write(file, text).unwrap();
    }
    folder
}

fn asked(args: &[&str]) -> (i32, Value) {
    let (code, o) = run(&[args, &["--format", "json"]].concat());
    (code, serde_json::from_slice(&o.stdout).unwrap_or_else(|e| panic!("{e}: {}", out(&o))))
}

fn names(v: &Value) -> Vec<String> {
    let last = |v: &Value| v["file"].as_str().unwrap_or("?").rsplit('/').next().unwrap().to_string();
    v.as_array().unwrap().iter().map(last).collect()
}

/// One in which it fits with much room, one with little, one without depth, one too small, one that is no JSON, one with
/// a wrong key; and files that are no panels.
fn mixed(name: &str) -> PathBuf {
    let wrong = sheet(300, 150, DEEP).replace("\"unit\"", "\"units\"");
    folder(
        name,
        &[
            ("a-small.json", &sheet(70, 68, DEEP)),
            ("b-close.json", &sheet(120, 100, DEEP)),
            ("c-wide.json", &sheet(300, 150, DEEP)),
            ("d-no-depth.json", &sheet(320, 160, "")),
            ("e-broken.json", "{ \"format\": 1, "),
            ("f-wrong.json", &wrong),
            ("g-smaller.json", &sheet(68, 64, DEEP)),
            ("own/gauge.json", GAUGE),
            ("h-gauge.json", GAUGE),
            ("i-list.json", "[1, 2]"),
            ("j-notes.txt", "notes"),
            (".hidden.json", "{"),
        ],
    )
}

#[test]
fn the_best_comes_first_and_no_mistake_stops_the_others() {
    let folder = mixed("order");
    let (path, own) = (folder.to_str().unwrap(), folder.join("own"));
    let args = ["fits", "gauge", path, "--instruments", own.to_str().unwrap()];
    let (code, v) = asked(&args);
    // a file that could not be read: could not run, whatever the others say
    assert_eq!(code, 2, "{v:#}");
    let panels = &v["panels"];
    let want = ["c-wide.json", "b-close.json", "d-no-depth.json", "a-small.json", "g-smaller.json"];
    assert_eq!(names(panels), want, "{v:#}");
    let verdicts: Vec<&str> =
        panels.as_array().unwrap().iter().map(|p| p["verdict"].as_str().unwrap()).collect();
    assert_eq!(verdicts, ["pass", "pass", "withheld", "fail", "fail"]);
    let number = |k: usize, key: &str| panels[k][key].as_f64();
    assert!(number(0, "room") > number(1, "room") && number(1, "room") > Some(0.0), "{v:#}");
    assert!(number(3, "short") < number(4, "short") && number(3, "short") > Some(0.0), "{v:#}");
    assert_eq!((number(3, "room"), number(0, "short")), (None, None));
    assert!(panels[2]["withheld"][0].as_str().unwrap().contains("depth"), "{v:#}");
    assert_eq!(names(&v["unread"]), ["e-broken.json", "f-wrong.json"]);
    assert_eq!(v["unread"][1]["problems"][0]["code"], "unknown-key", "{v:#}");
    assert_eq!(names(&v["left-out"]), ["h-gauge.json", "i-list.json"], "{v:#}");
    assert_eq!(
        (&v["other-files"], v["folders-not-entered"].as_array().map(Vec::len)),
        (&Value::from(1), Some(1))
    );
    // people are told the same
    let (code, o) = run(&args);
    let told = out(&o).replace("\n    ", " ");
    let at = |words: &str| told.find(words).unwrap_or_else(|| panic!("no {words}:\n{told}"));
    let order = [
        at("c-wide.json"),
        at("b-close.json"),
        at("d-no-depth.json"),
        at("a-small.json"),
        at("e-broken.json"),
    ];
    assert!(code == 2 && order.is_sorted(), "{told}");
    for words in [
        "short by",
        "not read",
        "did you mean",
        "an instrument file",
        "1 file whose names",
        "It fits on 2 of 5 panels",
    ] {
        at(words);
    }
    assert!(!told.contains("hidden"), "{told}");
}

#[test]
fn exit_codes_are_those_of_one_panel() {
    let folder = mixed("codes");
    let own = folder.join("own");
    let path = |name: &str| folder.join(name).to_str().unwrap().to_string();
    let code = |files: &[&str]| {
        let files: Vec<String> = files.iter().map(|f| path(f)).collect();
        let files: Vec<&str> = files.iter().map(String::as_str).collect();
        asked(&[&["fits", "gauge", "--instruments", own.to_str().unwrap()], files.as_slice()].concat()).0
    };
    assert_eq!(code(&["c-wide.json", "b-close.json"]), 0);
    assert_eq!(code(&["c-wide.json", "d-no-depth.json"]), 1);
    assert_eq!(code(&["c-wide.json", "a-small.json"]), 1);
    assert_eq!(code(&["c-wide.json", "e-broken.json"]), 2);
    // named by the user it is asked as a panel, and told what is wrong with it
    assert_eq!(code(&["c-wide.json", "h-gauge.json"]), 2);
    assert_eq!(code(&["c-wide.json", "no-such.json"]), 2);
}

#[test]
fn a_file_that_is_named_twice_is_asked_once() {
    let folder = mixed("twice");
    let path = folder.join("c-wide.json");
    let detour = folder.join("own/../c-wide.json");
    let (path, detour) = (path.to_str().unwrap(), detour.to_str().unwrap());
    let (code, v) = asked(&["fits", "blank/2-1-4in", path, path, detour]);
    assert_eq!((code, v["panels"].as_array().map(Vec::len)), (0, Some(1)), "{v:#}");
    let because = v["left-out"].as_array().unwrap();
    assert_eq!(because.len(), 2);
    assert!(because.iter().all(|l| l["because"].as_str().unwrap().contains("asked once")), "{v:#}");
}

#[test]
fn folders_without_a_panel_are_told() {
    let empty = folder("empty", &[]);
    let (code, o) = run(&["fits", "blank/2-1-4in", empty.to_str().unwrap()]);
    assert!(code == 2 && out(&o).contains("no panel file in"), "{}", out(&o));
    let gauges = folder("gauges", &[("one.json", GAUGE)]);
    let (code, o) = run(&["fits", "blank/2-1-4in", gauges.to_str().unwrap()]);
    assert!(code == 2 && out(&o).contains("an instrument file"), "{}", out(&o));
    let nowhere = empty.join("nowhere");
    let (code, o) = run(&["fits", "blank/2-1-4in", nowhere.to_str().unwrap()]);
    assert!(code == 2 && out(&o).contains("no such file"), "{}", out(&o));
    let (code, v) = asked(&["fits", "blank/2-1-4in", empty.to_str().unwrap(), nowhere.to_str().unwrap()]);
    assert_eq!((code, names(&v["unread"])), (2, vec!["nowhere".to_string()]));
}

#[test]
fn what_asks_one_panel_is_refused_for_many() {
    let folder = mixed("refused");
    let path = folder.to_str().unwrap();
    for more in [["--near", "1,2"], ["--out", "x"], ["--into", "asi"]] {
        let (code, o) = run(&[&["fits", "blank/2-1-4in", path][..], &more].concat());
        assert!(code == 2 && out(&o).contains("asks one panel"), "{}", out(&o));
    }
    let (code, o) = run(&["fits", "blank/2-1-4i", path]);
    assert!(code == 2 && out(&o).contains("did you mean"), "{}", out(&o));
}

/// A file of an instrument is given from where the user is, whatever the folder of the panel.
#[test]
fn an_instrument_of_a_file_is_found_from_where_the_user_is() {
    let folder = mixed("file");
    let gauge = folder.join("own/gauge.json");
    let panel = folder.join("c-wide.json");
    let (gauge, panel) = (gauge.to_str().unwrap(), panel.to_str().unwrap());
    let (code, o) = run(&["fits", gauge, panel]);
    assert_eq!(code, 0, "{}", out(&o));
    let (code, v) = asked(&["fits", gauge, panel, folder.join("b-close.json").to_str().unwrap()]);
    assert_eq!((code, v["panels"].as_array().map(Vec::len)), (0, Some(2)), "{v:#}");
}

/// With several angles the best one is told, as `fits` tells it of each.
#[test]
fn the_best_of_several_angles_is_told() {
    let folder =
        folder("turned", &[("upright.json", &sheet(70, 320, DEEP)), ("level.json", &sheet(320, 70, DEEP))]);
    let path = folder.to_str().unwrap();
    let (_, v) = asked(&["fits", "blank/radio-slot", path, "--turn", "0", "--turn", "90"]);
    let turns: Vec<(String, f64)> = names(&v["panels"])
        .into_iter()
        .zip(v["panels"].as_array().unwrap().iter().map(|p| p["turn"].as_f64().unwrap()))
        .collect();
    assert!(
        turns.contains(&("upright.json".into(), 90.0)) && turns.contains(&("level.json".into(), 0.0)),
        "{v:#}"
    );
}

/// The same bytes on one core and on all.
#[test]
#[cfg(target_os = "linux")]
fn the_same_on_any_number_of_cores() {
    let texts: Vec<(String, String)> = (0..6).map(|k| (format!("{k}.json"), panel_files::text(k))).collect();
    let files: Vec<(&str, &str)> = texts.iter().map(|(n, t)| (n.as_str(), t.as_str())).collect();
    let folder = folder("cores", &files);
    let args = ["fits", "round/57mm-front", folder.to_str().unwrap(), "--format", "json"];
    let (_, all) = run(&args);
    let program = env!("CARGO_BIN_EXE_panelwright");
    let one = std::process::Command::new("taskset").args(["-c", "0", program]).args(args).output().unwrap();
    assert!(!one.stdout.is_empty() && one.stdout == all.stdout, "{}", out(&one));
}

/// What is told of each panel is what the whole answer says of that panel alone, to the last bit.
#[test]
fn each_is_told_what_it_is_told_alone() {
    let count = if std::env::var_os("PANELWRIGHT_LONG").is_some() { 200 } else { 12 };
    let names: Vec<String> = (0..count).map(|k| format!("{k}.json")).collect();
    let files =
        names.iter().enumerate().fold(Memory::new(), |f, (k, n)| f.with(n, panel_files::text(k as u64)));
    let catalogue = Catalogue::builtin();
    let mut seen = Vec::new();
    for name in ["blank/2-1-4in", "round/57mm-front", "display/5in-landscape"] {
        let asked = Asked { instrument: &|_| name.to_string(), turns: &[0.0], tight: false };
        let all = ask(&names, &files, &catalogue, &asked, |_| (), &|| false);
        for (path, outcome) in names.iter().zip(all) {
            let Outcome::Told(told) = outcome else { panic!("{path}: {outcome:?}") };
            let (panel, subject) = laid_in(path, &files, &catalogue, name, 0.0).unwrap();
            let asks = Asks { instrument: name.into(), turn: 0.0, near: None, tight: false };
            let alone = Brief::told(&Answer::of(panel, subject, asks));
            assert_eq!(*told, alone, "{path} {name}");
            seen.push((told.verdict, told.short.is_some()));
        }
    }
    // it must have been asked of all kinds
    for want in [(Verdict::Pass, false), (Verdict::Withheld, false), (Verdict::Fail, true)] {
        assert!(seen.contains(&want), "{want:?}");
    }
}

/// Once stopped nothing more is begun, and what was not asked is told.
#[test]
fn a_stopped_search_tells_what_was_not_asked() {
    let names: Vec<String> = (0..20).map(|k| format!("{k}.json")).collect();
    let files = names.iter().fold(Memory::new(), |f, n| f.with(n, sheet(300, 150, DEEP)));
    let asked = Asked { instrument: &|_| "blank/2-1-4in".to_string(), turns: &[0.0], tight: false };
    let before = std::sync::atomic::AtomicUsize::new(0);
    let stop = || before.fetch_add(1, std::sync::atomic::Ordering::Relaxed) >= 5;
    let all = ask(&names, &files, &Catalogue::builtin(), &asked, |_| (), &stop);
    assert_eq!(all.iter().filter(|o| matches!(o, Outcome::Told(_))).count(), 5);
    assert_eq!(all.iter().filter(|o| matches!(o, Outcome::NotAsked)).count(), 15);
}

/// The same gauge passes; called a standby it is withheld while the file does not tell what is seen of it.
#[test]
fn a_standby_without_an_eye_point_is_withheld() {
    let folder = mixed("standby");
    let standby = GAUGE.replace("Gauge of mine", "Standby gauge of mine");
    fs::write(folder.join("own/spare.json"), standby).unwrap();
    let [gauge, standby, panel] = ["own/gauge.json", "own/spare.json", "c-wide.json"]
        .map(|f| folder.join(f).to_str().unwrap().to_string());
    let (code, v) = asked(&["fits", &gauge, &panel]);
    assert_eq!((code, &v["answers"][0]["verdict"]), (0, &Value::from("pass")), "{v:#}");
    let (code, v) = asked(&["fits", &standby, &panel]);
    assert_eq!((code, &v["answers"][0]["verdict"]), (1, &Value::from("withheld")), "{v:#}");
    let (code, v) = asked(&["fits", &standby, &panel, folder.join("b-close.json").to_str().unwrap()]);
    assert_eq!((code, &v["panels"][0]["verdict"]), (1, &Value::from("withheld")), "{v:#}");
    assert!(v["panels"][0]["withheld"][0].as_str().unwrap().contains("standby"), "{v:#}");
}
