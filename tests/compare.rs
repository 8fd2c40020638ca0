//! Two panels compared: by hand on small ones, and the demo pairs against the check of both.

#[path = "support/panels.rs"]
mod panels;

use panels::{bare, part, subject};
use panelwright::check::{Options, check};
use panelwright::compare::{Difference, Fate};
use panelwright::geom::{Contour, Point};
use panelwright::panel::{Class, Detail, Panel, SubjectKind};
use std::process::{Command, Output};

fn with(items: &[(&str, Class, Contour)]) -> Panel {
    let mut panel = bare(400.0, 200.0);
    panel.sheets[0].new = false;
    for (id, class, contour) in items {
        let kind = if *class == Class::OldOpening { SubjectKind::OldOpening } else { SubjectKind::Placement };
        let mut s = subject(id, kind, contour.bounds().center());
        s.parts.push(part("cutout", *class, contour.clone(), Detail::Plain));
        panel.subjects.push(s);
    }
    panel
}

fn difference(old: &Panel, new: &Panel) -> Difference {
    let [a, b] = [old, new].map(|p| check(p, &Options { all_pairs: false }));
    Difference::of((old, &a), (new, &b), 0.1)
}

fn round(x: f64, diameter: f64) -> Contour {
    Contour::circle(Point::new(x, 100.0), diameter / 2.0)
}

#[test]
fn openings_are_used_swallowed_cut_into_or_left_open() {
    let old = with(&[
        ("same", Class::OldOpening, round(50.0, 79.375)),
        ("within", Class::OldOpening, round(150.0, 40.0)),
        ("beside", Class::OldOpening, round(250.0, 40.0)),
        ("left", Class::OldOpening, round(350.0, 40.0)),
    ]);
    // 3 1/8 in as a millimetre file rounds it
    let new = with(&[
        ("a", Class::Cutout, round(50.0, 79.4)),
        ("b", Class::Cutout, round(150.0, 60.0)),
        ("c", Class::Cutout, round(270.0, 40.0)),
    ]);
    let d = difference(&old, &new);
    let fates: Vec<&Fate> = d.openings.old.iter().map(|w| &w.fate).collect();
    assert_eq!(*fates[0], Fate::Used("a.cutout".into()));
    assert_eq!(*fates[1], Fate::Swallowed("b.cutout".into()));
    // two circles of radius 20 whose centres are 20 apart share r2 (2 pi / 3 - sqrt 3 / 2)
    let shared = 400.0 * (2.0 * std::f64::consts::PI / 3.0 - 3f64.sqrt() / 2.0);
    let disc = 400.0 * std::f64::consts::PI;
    let Fate::Part(by, left) = fates[2] else { panic!("{:?}", fates[2]) };
    assert!(by == "c.cutout" && (left - (disc - shared)).abs() < 0.2, "{left}");
    let Fate::Open(area) = fates[3] else { panic!("{:?}", fates[3]) };
    assert!((area - disc).abs() < 1e-6, "{area}");
    let cut: Vec<&str> = d.openings.cut.iter().map(|c| c.0.as_str()).collect();
    assert_eq!(cut, ["b.cutout", "c.cutout"]);
    let ring = 500.0 * std::f64::consts::PI;
    assert!((d.openings.cut[0].1 - ring).abs() < 0.2, "{:?}", d.openings.cut);
    assert!((d.openings.cut[1].1 - (disc - shared)).abs() < 0.2, "{:?}", d.openings.cut);
}

#[test]
fn items_moved_turned_and_gone_are_told_and_both_ways_mirror() {
    let old = with(&[("a", Class::Cutout, round(50.0, 40.0)), ("b", Class::Cutout, round(150.0, 40.0))]);
    let mut new = with(&[("a", Class::Cutout, round(53.0, 40.0)), ("c", Class::Cutout, round(250.0, 40.0))]);
    let turned = new.find("a").unwrap();
    new.subjects[turned].turn = 270.0;
    let (d, back) = (difference(&old, &new), difference(&new, &old));
    assert_eq!((&d.added, &d.removed), (&vec!["c".to_string()], &vec!["b".to_string()]));
    assert_eq!((&d.added, &d.removed), (&back.removed, &back.added));
    assert_eq!((d.changed.len(), d.changed[0].moved.x, d.changed[0].turned), (1, 3.0, -90.0));
    assert_eq!((back.changed[0].moved.x, back.changed[0].turned), (-3.0, 90.0));
    assert_eq!(d.verdicts.len(), back.verdicts.len());
    for v in &d.verdicts {
        let other = back.verdicts.iter().find(|o| o.id == v.id).unwrap();
        assert_eq!([v.verdict[1], v.verdict[0]], other.verdict);
    }
    for p in [&old, &new] {
        assert!(difference(p, p).is_empty(), "{:?}", difference(p, p));
    }
}

fn run(args: &[&str]) -> Output {
    let mut c = Command::new(env!("CARGO_BIN_EXE_panelwright"));
    c.args(args).current_dir(env!("CARGO_MANIFEST_DIR")).output().unwrap()
}

fn json(args: &[&str]) -> serde_json::Value {
    serde_json::from_slice(&run(&[args, &["--format", "json"]].concat()).stdout).unwrap()
}

#[test]
fn the_demo_pairs_tell_what_the_check_of_both_says() {
    let mut told = 0;
    for (old, new) in [
        ("panels/wheatear/as-found.json", "panels/wheatear/proposed.json"),
        ("panels/dunlin/as-found.json", "panels/dunlin/proposed.json"),
    ] {
        let of = |file: &str, id: &str| -> Vec<String> {
            let list = json(&["check", file]);
            let all = list["findings"].as_array().unwrap().iter().filter(|f| f["id"] == id);
            all.map(|f| f["verdict"].as_str().unwrap().to_string()).collect()
        };
        let d = json(&["compare", old, new]);
        for v in d["verdicts"].as_array().unwrap().iter().take(3) {
            for (k, file) in [old, new].into_iter().enumerate() {
                let said: Vec<&str> = v["verdict"][k].as_str().into_iter().collect();
                let found = of(file, v["id"].as_str().unwrap());
                assert!(found.is_empty() == said.is_empty(), "{v}");
                assert!(said.iter().all(|s| found.iter().any(|f| f == s)), "{v} {found:?}");
                told += 1;
            }
        }
    }
    assert!(told >= 8, "{told}");
}

#[test]
fn one_file_twice_differs_in_nothing_and_bad_input_is_told() {
    let panel = "panels/wheatear/proposed.json";
    let same = run(&["compare", panel, panel]);
    assert_eq!(same.status.code(), Some(0));
    assert!(String::from_utf8_lossy(&same.stdout).contains("Nothing differs."));
    for args in [
        ["compare", panel, "panels/none.json"],
        ["compare", "-", "-"],
        ["compare", panel, "instruments/README.md"],
    ] {
        let o = run(&args);
        assert_eq!(o.status.code(), Some(2), "{args:?}");
        assert!(!o.stderr.is_empty() && o.stdout.is_empty(), "{args:?}");
    }
    assert_eq!(run(&["compare", panel, panel, "--margin=-1"]).status.code(), Some(2));
}
