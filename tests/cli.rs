//! The program from outside: commands, exit codes, messages, whole files.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const ROOT: &str = env!("CARGO_MANIFEST_DIR");

/// A folder of its own for one test, gone when dropped.
struct Scratch(PathBuf);

impl Scratch {
    fn new(name: &str) -> Scratch {
        let p = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("cli-{name}"));
        let _ = fs::remove_dir_all(&p);
        fs::create_dir_all(&p).unwrap();
        Scratch(p)
    }

    fn file(&self, name: &str) -> String {
        self.0.join(name).to_string_lossy().into_owned()
    }
}

impl Drop for Scratch {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn run(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_panelwright"))
        .args(args)
        .current_dir(ROOT)
        .env_remove("RUST_BACKTRACE")
        .output()
        .unwrap()
}

fn code(o: &Output) -> i32 {
    o.status.code().unwrap_or(-1)
}

fn out(o: &Output) -> String {
    String::from_utf8_lossy(&o.stdout).into_owned()
}

fn err(o: &Output) -> String {
    String::from_utf8_lossy(&o.stderr).into_owned()
}

const PROPOSED: &str = "panels/wheatear/proposed.json";
const AS_FOUND: &str = "panels/wheatear/as-found.json";

#[test]
fn the_proposed_demo_passes_and_the_report_asks_first_about_structure() {
    let o = run(&["check", PROPOSED]);
    assert_eq!(code(&o), 0, "{}\n{}", out(&o), err(&o));
    let text = out(&o);
    let lines: Vec<&str> = text.lines().collect();
    assert!(lines[1].starts_with("First: is this panel structure?"), "{text}");
    assert!(text.contains("Not checked by this version"));
    assert!(text.contains("approves nothing"));
    assert!(!text.contains('\u{1b}'), "no colour into a pipe");
}

#[test]
fn json_lists_every_finding_with_numbers_witnesses_and_places() {
    let o = run(&["check", PROPOSED, "--format", "json"]);
    assert_eq!(code(&o), 0);
    let v: serde_json::Value = serde_json::from_slice(&o.stdout).unwrap();
    let list = v["findings"].as_array().unwrap();
    assert!(list.len() > 100, "{} findings", list.len());
    let c = &v["counts"];
    let sum: u64 = ["fail", "tight", "withheld", "pass"].iter().map(|k| c[k].as_u64().unwrap()).sum();
    assert_eq!(sum as usize, list.len());
    for f in list {
        assert!(f["id"].as_str().unwrap().starts_with(f["rule"].as_str().unwrap()));
        assert_eq!(f["witness"].as_array().unwrap().len(), 2);
        assert!(f["places"][0]["line"].as_u64().unwrap() >= 1);
        if f["verdict"] == "pass" && !f["measured"].is_null() {
            assert!(f["measured"]["lower"].as_f64().unwrap() <= f["measured"]["upper"].as_f64().unwrap());
        }
    }
}

#[test]
fn json_tells_where_in_space_and_at_which_pose() {
    let o = run(&["check", "panels/dunlin/as-found.json", "--format", "json"]);
    let v: serde_json::Value = serde_json::from_slice(&o.stdout).unwrap();
    let (mut fixed, mut moving) = (0, 0);
    for f in v["findings"].as_array().unwrap() {
        let (rule, space) = (f["rule"].as_str().unwrap(), &f["in-space"]);
        let moves = ["control-clear", "control-run", "line-control"].contains(&rule);
        assert!(moves || rule == "obstacle-clear" || space.is_null(), "{rule}: {space}");
        if space.is_null() {
            continue;
        }
        let at = |k: usize, i: usize| space["witness"][k][i].as_f64().unwrap();
        assert_eq!([at(0, 0), at(0, 1)], [0, 1].map(|i| f["witness"][0][i].as_f64().unwrap()));
        let apart = (0..3).map(|i| (at(0, i) - at(1, i)).powi(2)).sum::<f64>().sqrt();
        if let (Some(lower), Some(upper)) = (f["measured"]["lower"].as_f64(), f["measured"]["upper"].as_f64())
            && lower > 0.0
        {
            assert!(
                lower - 1e-6 <= apart && apart <= upper + 1e-6,
                "{}: {apart} in {lower} to {upper}",
                f["id"]
            );
        }
        if !moves {
            assert!(space["pose"].is_null());
            fixed += 1;
            continue;
        }
        for d in space["pose"].as_array().unwrap() {
            // the stops and overtravel of the file
            let (most, unit) = match d["driver"].as_str().unwrap() {
                "fore-aft" => (4.5 * 25.4, "mm"),
                "roll" => (79.0, "deg"),
                other => panic!("{other}"),
            };
            assert!(d["value"].as_f64().unwrap().abs() <= most + 1e-9 && d["unit"] == unit, "{d}");
        }
        moving += 1;
    }
    assert!(fixed >= 5 && moving >= 10, "{fixed} {moving}");
}

#[test]
fn all_pairs_lists_more_than_the_nearest() {
    let count = |args: &[&str]| -> usize {
        let v: serde_json::Value = serde_json::from_slice(&run(args).stdout).unwrap();
        v["findings"].as_array().unwrap().len()
    };
    let few = count(&["check", PROPOSED, "--format", "json"]);
    let all = count(&["check", PROPOSED, "--format", "json", "--all-pairs"]);
    assert!(all > few, "{all} against {few}");
}

#[test]
fn the_as_found_demo_has_findings_and_exit_code_one() {
    let o = run(&["check", AS_FOUND]);
    assert_eq!(code(&o), 1, "{}\n{}", out(&o), err(&o));
}

#[test]
fn a_missing_file_is_named_and_exits_two() {
    let o = run(&["check", "panels/no-such.json"]);
    assert_eq!(code(&o), 2);
    assert!(err(&o).contains("panels/no-such.json"), "{}", err(&o));
    assert!(out(&o).is_empty());
}

#[test]
fn a_wrong_option_exits_two_and_says_what_was_meant() {
    let o = run(&["check", PROPOSED, "--all-pair"]);
    assert_eq!(code(&o), 2);
    assert!(err(&o).contains("--all-pairs"), "{}", err(&o));
}

#[test]
fn new_edit_check_template_by_the_readme_alone() {
    let s = Scratch::new("new");
    for unit in ["mm", "in"] {
        let file = s.file(&format!("mine-{unit}.json"));
        let o = run(&["new", &file, "--unit", unit]);
        assert_eq!(code(&o), 0, "{}", err(&o));
        let again = run(&["new", &file]);
        assert_eq!(code(&again), 2, "an existing file is not overwritten");
        assert!(err(&again).contains("exists"));
        let o = run(&["check", &file]);
        assert!(code(&o) <= 1, "{}", err(&o));
        let folder = s.file(&format!("out-{unit}"));
        let o = run(&["template", &file, "--out", &folder, "--formats", "svg,dxf"]);
        assert!(code(&o) <= 1, "{}", err(&o));
        assert!(fs::read_dir(&folder).unwrap().count() >= 2);
    }
}

#[test]
fn a_typing_error_shows_the_line_with_a_caret_and_the_word_meant() {
    let s = Scratch::new("typo");
    let file = s.file("p.json");
    assert_eq!(code(&run(&["new", &file])), 0);
    let text = fs::read_to_string(&file).unwrap();
    let broken = text.replacen("\"thickness\"", "\"thicknes\"", 1);
    assert_ne!(text, broken);
    fs::write(&file, broken).unwrap();
    let o = run(&["check", &file]);
    assert_eq!(code(&o), 2);
    let e = err(&o);
    assert!(e.contains("thicknes") && e.contains("thickness"), "{e}");
    assert!(e.contains("p.json:"), "{e}");
    let o = run(&["check", &file, "--format", "json"]);
    assert_eq!(code(&o), 2);
    let v: serde_json::Value = serde_json::from_slice(&o.stdout).unwrap();
    assert!(!v["problems"].as_array().unwrap().is_empty());
}

#[test]
fn explain_lists_and_explains_every_rule() {
    let list = out(&run(&["explain"]));
    assert!(list.lines().count() >= 30, "{list}");
    for line in list.lines() {
        let id = line.split_whitespace().next().unwrap();
        let o = run(&["explain", id]);
        assert_eq!(code(&o), 0);
        assert!(out(&o).contains("Source:"), "{id}");
    }
    let o = run(&["explain", "wed"]);
    assert_eq!(code(&o), 2);
    assert!(err(&o).contains("Did you mean web?"), "{}", err(&o));
}

#[test]
fn instruments_list_search_show_with_a_picture() {
    let o = run(&["instruments", "list"]);
    assert_eq!(code(&o), 0);
    assert!(out(&o).lines().count() >= 15);
    let o = run(&["instruments", "search", "standby"]);
    assert!(out(&o).contains("standby/"), "{}", out(&o));
    let s = Scratch::new("picture");
    for ending in ["svg", "png", "pdf"] {
        let file = s.file(&format!("p.{ending}"));
        let o = run(&["instruments", "show", "round/3-1-8in-front", "--picture", &file]);
        assert_eq!(code(&o), 0, "{}", err(&o));
        assert!(fs::metadata(&file).unwrap().len() > 500);
    }
    let o = run(&["instruments", "show", "round/3-1-8in-front", "--picture", &s.file("p.bmp")]);
    assert!(err(&o).contains("one of svg, pdf, dxf, png"), "{}", err(&o));
    let o = run(&["instruments", "show", "round/3-1-8in-frnt"]);
    assert_eq!(code(&o), 2);
    assert!(err(&o).contains("round/3-1-8in-front"), "{}", err(&o));
}

#[test]
fn a_survey_is_told_drawn_and_made_a_panel() {
    let s = Scratch::new("survey");
    let (panel, picture) = (s.file("found.json"), s.file("survey.svg"));
    let o = run(&["survey", "surveys/wheatear.json", "--panel", &panel, "--drawing", &picture]);
    assert_eq!(code(&o), 1, "{}", err(&o));
    let words = "142.5 mm, disagrees by 9.6 mm: 132.5 mm?";
    assert!(out(&o).split_whitespace().collect::<Vec<_>>().join(" ").contains(words), "{}", out(&o));
    assert!(fs::read_to_string(&picture).unwrap().contains("89: +9.6"));
    let o = run(&["check", &panel, "--only-fail"]);
    assert_eq!(code(&o), 0, "{}{}", out(&o), err(&o));
    let o = run(&["survey", "surveys/wheatear.json", "--panel", &panel]);
    assert_eq!(code(&o), 2);
    assert!(err(&o).contains("it is not overwritten"), "{}", err(&o));
    let o = run(&["survey", "surveys/wheatear.json", "--format", "json"]);
    let v: serde_json::Value = serde_json::from_slice(&o.stdout).unwrap();
    assert_eq!(v["set-aside"][0]["reading"]["number"], 89);
    assert_eq!(v["set-aside"][0]["perhaps"]["reads"], "132.5 mm");
    let o = run(&["survey", AS_FOUND]);
    assert_eq!(code(&o), 2);
    assert!(err(&o).contains("one of kind `survey` is asked"), "{}", err(&o));
}

#[test]
fn schema_completions_and_man_page_are_made() {
    for kind in ["panel", "instrument", "survey"] {
        let v: serde_json::Value = serde_json::from_slice(&run(&["schema", kind]).stdout).unwrap();
        assert!(v["properties"].as_object().unwrap().len() > 5);
    }
    for shell in ["bash", "zsh", "fish"] {
        assert!(out(&run(&["completions", shell])).contains("template"));
    }
    assert!(out(&run(&["man"])).contains("panelwright"));
}

#[test]
fn a_template_that_cannot_be_written_leaves_nothing_half_done() {
    let s = Scratch::new("blocked");
    let blocked = s.file("blocked");
    fs::write(&blocked, "a file where the folder should be").unwrap();
    let o = run(&["template", PROPOSED, "--out", &blocked]);
    assert_eq!(code(&o), 2);
    assert!(err(&o).contains("blocked"), "{}", err(&o));
    assert_eq!(fs::read_to_string(&blocked).unwrap(), "a file where the folder should be");
}

#[test]
fn a_report_ends_as_the_check_does_and_is_the_same_twice() {
    let s = Scratch::new("report");
    let (a, b) = (s.file("a"), s.file("b"));
    for (panel, slug, ends) in [(PROPOSED, "wheatear-proposed", 0), (AS_FOUND, "wheatear-as-found", 1)] {
        for folder in [&a, &b] {
            let o = run(&["report", panel, "--out", folder]);
            assert_eq!(code(&o), ends, "{}", err(&o));
            assert!(out(&o).contains(&format!("{slug}-report.html")), "{}", out(&o));
        }
    }
    for e in fs::read_dir(&a).unwrap() {
        let name = e.unwrap().file_name();
        assert!(
            fs::read(Path::new(&a).join(&name)).unwrap() == fs::read(Path::new(&b).join(&name)).unwrap(),
            "{name:?}"
        );
    }
    let o = run(&["report", "panels/no-such.json", "--out", &s.file("c")]);
    assert_eq!(code(&o), 2);
    assert!(!Path::new(&s.file("c")).exists(), "nothing is made for a panel that cannot be read");
}

#[test]
fn the_same_bytes_come_out_twice() {
    let s = Scratch::new("twice");
    let (a, b) = (s.file("a"), s.file("b"));
    for folder in [&a, &b] {
        let o = run(&["template", PROPOSED, "--out", folder]);
        assert_eq!(code(&o), 0, "{}", err(&o));
    }
    let mut names: Vec<_> = fs::read_dir(&a).unwrap().map(|e| e.unwrap().file_name()).collect();
    names.sort();
    assert!(names.len() >= 4);
    for n in names {
        let (x, y) = (fs::read(Path::new(&a).join(&n)).unwrap(), fs::read(Path::new(&b).join(&n)).unwrap());
        assert!(x == y, "{n:?} differs between two runs");
        let kept = Path::new(ROOT).join("out").join(&n);
        assert!(fs::read(&kept).unwrap() == x, "out/{n:?} is stale: run the README's first command");
    }
}

#[test]
fn a_sheet_of_an_earlier_run_with_another_standing_does_not_stay() {
    let s = Scratch::new("standing");
    let file = s.file("p.json");
    assert_eq!(code(&run(&["new", &file])), 0);
    let out_folder = s.file("out");
    // the starter rests on typical sizes: its sheets are barred
    let o = run(&["template", &file, "--out", &out_folder, "--formats", "dxf"]);
    assert_eq!(code(&o), 1, "{}", err(&o));
    let names = || -> Vec<String> {
        let mut v: Vec<String> = fs::read_dir(&out_folder)
            .unwrap()
            .map(|e| e.unwrap().file_name().to_string_lossy().into_owned())
            .filter(|n| n.ends_with(".dxf"))
            .collect();
        v.sort();
        v
    };
    let barred = names();
    assert!(barred.len() == 1 && barred[0].starts_with("NOT-FOR-CUTTING-"), "{barred:?}");
    let text = fs::read_to_string(&file).unwrap();
    let reason = "\"reasons\": { \"cut-anyway\": { \"because\": \"a trial in scrap metal\", \"by\": \"the builder\" } },\n  \"process\"";
    fs::write(&file, text.replacen("\"process\"", reason, 1)).unwrap();
    let o = run(&["template", &file, "--out", &out_folder, "--formats", "dxf"]);
    assert_eq!(code(&o), 0, "{}", err(&o));
    assert!(out(&o).contains("a trial in scrap metal"), "{}", out(&o));
    let lifted = names();
    assert!(lifted.len() == 1 && !lifted[0].starts_with("NOT-FOR-CUTTING-"), "{lifted:?}");
    assert!(err(&o).contains("removed"), "{}", err(&o));
}

#[test]
fn what_somebody_else_made_is_neither_replaced_nor_removed() {
    let dir = Scratch::new("foreign");
    fs::write(dir.file("wheatear-proposed.svg"), "<svg>the outline of my own</svg>").unwrap();
    let o = run(&["template", PROPOSED, "--formats", "svg", "--out", &dir.file("")]);
    assert_eq!(code(&o), 2);
    let said = err(&o);
    assert!(
        said.contains("wheatear-proposed.svg would be replaced, and this program did not make it"),
        "{said}"
    );
    assert!(said.contains("Nothing was written"), "{said}");
    assert_eq!(fs::read_dir(&dir.0).unwrap().count(), 1);
    // beside sheets that may be cut, a file that only has the name of one that may not
    let lies = dir.file("NOT-FOR-CUTTING-wheatear-proposed.svg");
    fs::rename(dir.file("wheatear-proposed.svg"), &lies).unwrap();
    let o = run(&["template", PROPOSED, "--formats", "svg", "--out", &dir.file("")]);
    assert_eq!(code(&o), 0);
    assert!(err(&o).contains("was not made by this program: it is left as it is"), "{}", err(&o));
    assert_eq!(fs::read_to_string(&lies).unwrap(), "<svg>the outline of my own</svg>");
    // its own files are replaced without a word
    let o = run(&["template", PROPOSED, "--formats", "svg", "--out", &dir.file("")]);
    assert_eq!(code(&o), 0, "{}", err(&o));
}
