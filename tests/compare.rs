//! Two panels compared: by hand on small ones, and the demo pairs against the check of both.

#[path = "compare/drawn.rs"]
mod drawn;
#[path = "support/panels.rs"]
mod panels;
#[path = "compare/settings.rs"]
mod settings;

use panels::{bare, part, subject};
use panelwright::check::{Options, check};
use panelwright::compare::{Difference, Fate, VerdictChange};
use panelwright::files::{Beside, Disk};
use panelwright::geom::{Contour, Point};
use panelwright::panel::{Class, Detail, Panel, Part, SubjectKind};
use panelwright::resolve::{Catalogue, resolve};
use std::collections::BTreeMap;
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
    let fates: Vec<(Fate, &[String])> = d.openings.old.iter().map(|w| (w.fate, w.by.as_slice())).collect();
    assert_eq!(fates[0], (Fate::Used, &["a.cutout".to_string()][..]));
    assert_eq!(fates[1], (Fate::Swallowed, &["b.cutout".to_string()][..]));
    assert_eq!(fates[2], (Fate::CutInto, &["c.cutout".to_string()][..]));
    assert_eq!(fates[3], (Fate::Open, &[][..]));
    // two circles of radius 20 whose centres are 20 apart share r2 (2 pi / 3 - sqrt 3 / 2)
    let shared = 400.0 * (2.0 * std::f64::consts::PI / 3.0 - 3f64.sqrt() / 2.0);
    let disc = 400.0 * std::f64::consts::PI;
    let left = [&d.openings.old[2], &d.openings.old[3]];
    assert!((left[0].left - (disc - shared)).abs() < 0.2 && left[0].left == left[0].open, "{left:?}");
    assert!((left[1].open - disc).abs() < 1e-6, "{left:?}");
    let cut = &d.openings.cut;
    assert_eq!(cut.iter().map(|c| c.name.as_str()).collect::<Vec<_>>(), ["b.cutout", "c.cutout"]);
    let ring = 500.0 * std::f64::consts::PI;
    assert!((cut[0].area - ring).abs() < 0.2, "{cut:?}");
    assert!((cut[1].area - (disc - shared)).abs() < 0.2, "{cut:?}");
    // the first runs through metal all round, of the second a third of the circle runs through the old opening
    let round = 40.0 * std::f64::consts::PI;
    assert!((cut[0].length - 1.5 * round).abs() < 0.01, "{cut:?}");
    assert!((cut[1].length - 2.0 / 3.0 * round).abs() < 0.01, "{cut:?}");
}

fn square(x: f64, y: f64, width: f64, height: f64) -> Contour {
    Contour::rect(Point::new(x, y), width, height, 0.0)
}

#[test]
fn an_opening_cut_into_twice_and_partly_covered() {
    let old = with(&[("bay", Class::OldOpening, square(100.0, 100.0, 40.0, 40.0))]);
    let new = with(&[
        // 5 of 40 on the left, 10 on the right: a strip of 25 is left, from 85 to 110
        ("left", Class::Cutout, square(75.0, 100.0, 20.0, 60.0)),
        ("right", Class::Cutout, square(120.0, 100.0, 20.0, 40.0)),
        // hides it up to 100
        ("rim", Class::Bezel, square(90.0, 100.0, 20.0, 90.0)),
    ]);
    let told = |new: &Panel| difference(&old, new).openings.old[0].clone();
    let was = told(&new);
    assert_eq!((was.fate, was.by.join(" ")), (Fate::CutInto, "left.cutout right.cutout".to_string()));
    assert!((was.left - 25.0 * 40.0).abs() < 0.1 && (was.open - 10.0 * 40.0).abs() < 0.1, "{was:?}");
    assert_eq!(was.under, ["rim.cutout"]);
    let d = difference(&old, &new);
    // of 160 the right edge runs through the bay for 40
    let lengths: Vec<f64> = d.openings.cut.iter().map(|c| c.length).collect();
    assert!((lengths[0] - 120.0).abs() < 0.01, "{lengths:?}");
    // of 120 the left edge, 40, runs through the bay, and the others along its border for 10 each, where no metal is left
    assert!((lengths[1] - 60.0).abs() < 0.01, "{lengths:?}");
    // two bezels side by side hide it together
    let two = with(&[
        ("a", Class::Bezel, square(90.0, 100.0, 22.0, 50.0)),
        ("b", Class::Bezel, square(111.0, 100.0, 22.0, 50.0)),
    ]);
    let was = told(&two);
    assert_eq!((was.fate, was.open, was.under.len()), (Fate::Covered, 0.0, 2));
}

#[test]
fn only_what_lies_on_or_before_a_sheet_covers_its_openings() {
    let old = with(&[("bay", Class::OldOpening, square(100.0, 100.0, 40.0, 40.0))]);
    let before = |front: f64, layer_of: Option<usize>| {
        let mut new = with(&[("dial", Class::Bezel, square(100.0, 100.0, 60.0, 60.0))]);
        let mut other = new.sheets[0].clone();
        (other.id, other.front, other.layer_of) = ("other".into(), front, layer_of);
        other.outline = square(300.0, 100.0, 50.0, 50.0);
        new.sheets.push(other);
        new.subjects.last_mut().unwrap().parts[0].sheet = 1;
        difference(&old, &new).openings.old[0].fate
    };
    assert_eq!(before(-12.0, None), Fate::Covered);
    assert_eq!(before(-1.0, Some(0)), Fate::Covered);
    assert_eq!(before(12.0, None), Fate::Open);
    // a sheet in front hides what is behind it
    let mut new = with(&[]);
    let mut insert = new.sheets[0].clone();
    (insert.id, insert.front, insert.outline) = ("insert".into(), -2.0, square(100.0, 100.0, 60.0, 60.0));
    new.sheets.push(insert);
    let was = &difference(&old, &new).openings.old[0];
    assert_eq!((was.fate, &was.under), (Fate::Covered, &vec!["insert".to_string()]));
}

#[test]
fn a_new_sheet_has_no_opening_and_provisions_are_not_cut() {
    let old = with(&[("a", Class::Cutout, round(50.0, 40.0))]);
    let mut new = with(&[("a", Class::Cutout, round(50.0, 40.0)), ("b", Class::Cutout, round(150.0, 40.0))]);
    let cuts = |old: &Panel, new: &Panel| -> Vec<String> {
        difference(old, new).openings.cut.into_iter().map(|c| c.name).collect()
    };
    assert_eq!(cuts(&old, &new), ["b.cutout"]);
    new.subjects.last_mut().unwrap().provision = true;
    assert!(cuts(&old, &new).is_empty());
    new.subjects.last_mut().unwrap().provision = false;
    // into a new blank all is cut
    new.sheets[0].new = true;
    assert_eq!(cuts(&old, &new), ["a.cutout", "b.cutout"]);
    // two drawings of one blank
    let mut drawn = old.clone();
    drawn.sheets[0].new = true;
    assert_eq!(cuts(&drawn, &new), ["b.cutout"]);
    assert!(difference(&new, &new).is_empty());
}

/// What verdicts say the other way round.
fn mirrors(d: &Difference, back: &Difference) {
    assert_eq!((&d.added, &d.removed), (&back.removed, &back.added));
    assert_eq!(d.verdicts.len(), back.verdicts.len());
    let mut turned: Vec<_> = back.verdicts.clone();
    for v in &mut turned {
        assert!(!v.worse() || v.verdict[1] < v.verdict[0] || v.verdict[0].is_none(), "{v:?}");
        v.verdict.reverse();
        v.margin.reverse();
        // what was worse is better or gone this way round
        assert!(v.verdict[1] != v.verdict[0] || !v.worse(), "{v:?}");
    }
    for v in &d.verdicts {
        let at = turned.iter().position(|o| o == v).unwrap_or_else(|| panic!("{v:?} is not told both ways"));
        turned.swap_remove(at);
        let both = [v.clone(), VerdictChange { verdict: [v.verdict[1], v.verdict[0]], ..v.clone() }];
        assert!(both.iter().filter(|v| v.worse()).count() <= 1, "{v:?}");
    }
    assert_eq!(d.changed.len(), back.changed.len());
    for (c, o) in d.changed.iter().zip(&back.changed) {
        assert_eq!((&c.id, c.moved, c.mirrored, c.resized), (&o.id, -o.moved, o.mirrored, o.resized));
        assert!(c.turned == -o.turned || c.turned == 180.0 && o.turned == 180.0, "{c:?}");
    }
}

#[test]
fn items_moved_turned_and_gone_are_told_and_both_ways_mirror() {
    let old = with(&[("a", Class::Cutout, round(50.0, 40.0)), ("b", Class::Cutout, round(150.0, 40.0))]);
    let mut new = with(&[("a", Class::Cutout, round(53.0, 40.0)), ("c", Class::Cutout, round(250.0, 40.0))]);
    let turned = new.find("a").unwrap();
    new.subjects[turned].turn = 270.0;
    let (d, back) = (difference(&old, &new), difference(&new, &old));
    assert_eq!((&d.added, &d.removed), (&vec!["c".to_string()], &vec!["b".to_string()]));
    assert_eq!((d.changed.len(), d.changed[0].moved.x, d.changed[0].turned), (1, 3.0, -90.0));
    assert_eq!((back.changed[0].moved.x, back.changed[0].turned), (-3.0, 90.0));
    mirrors(&d, &back);
    for p in [&old, &new] {
        assert!(difference(p, p).is_empty(), "{:?}", difference(p, p));
    }
}

#[test]
fn one_instrument_with_another_hole_or_depth_has_other_sizes() {
    let old = with(&[("a", Class::Cutout, round(50.0, 40.0))]);
    let sizes = |change: &dyn Fn(&mut Part)| {
        let mut new = old.clone();
        change(&mut new.subjects.last_mut().unwrap().parts[0]);
        difference(&old, &new).changed.first().is_some_and(|c| c.resized)
    };
    assert!(!sizes(&|_| {}));
    assert!(sizes(&|p| p.centre.x += 3.0));
    assert!(sizes(&|p| p.contour = round(50.0, 41.0)));
    assert!(sizes(&|p| p.depth = Some((0.0, 2.0))));
}

fn run(args: &[&str]) -> Output {
    let mut c = Command::new(env!("CARGO_BIN_EXE_panelwright"));
    c.args(args).current_dir(env!("CARGO_MANIFEST_DIR")).output().unwrap()
}

fn json(args: &[&str]) -> serde_json::Value {
    serde_json::from_slice(&run(&[args, &["--format", "json"]].concat()).stdout).unwrap()
}

/// As found and as proposed.
const PAIRS: [[&str; 2]; 4] = [
    ["panels/wheatear/as-found.json", "panels/wheatear/proposed.json"],
    ["panels/dunlin/as-found.json", "panels/dunlin/proposed.json"],
    ["panels/corncrake/fixed-as-found.json", "panels/corncrake/fixed-proposed.json"],
    ["panels/corncrake/floating-as-found.json", "panels/corncrake/floating-proposed.json"],
];

/// What `check` says of a file: how often each id has each verdict.
fn checked(file: &str) -> BTreeMap<(String, String), usize> {
    let mut all = BTreeMap::new();
    for f in json(&["check", file])["findings"].as_array().unwrap() {
        let word = |key: &str| f[key].as_str().unwrap().to_string();
        *all.entry((word("id"), word("verdict"))).or_insert(0) += 1;
    }
    all
}

#[test]
fn the_demo_pairs_tell_all_that_the_checks_of_both_say() {
    for [old, new] in PAIRS {
        let [mut was, now] = [old, new].map(checked);
        let told = json(&["compare", old, new, "--margin", "1e9"]);
        let told = told["verdicts"].as_array().unwrap();
        assert!(told.len() > 3, "{old}");
        // what is told takes the one check to the other, finding by finding
        for v in told {
            let id = v["id"].as_str().unwrap();
            assert_ne!(v["verdict"][0], v["verdict"][1], "{v}");
            if let Some(word) = v["verdict"][0].as_str() {
                let n = was.get_mut(&(id.into(), word.into())).filter(|n| **n > 0);
                *n.unwrap_or_else(|| panic!("{old} does not say {v}")) -= 1;
            }
            if let Some(word) = v["verdict"][1].as_str() {
                *was.entry((id.into(), word.into())).or_insert(0) += 1;
            }
        }
        was.retain(|_, n| *n > 0);
        assert_eq!(was, now, "{old}");
    }
}

fn read(file: &str) -> Panel {
    resolve(file, &Disk::new(env!("CARGO_MANIFEST_DIR")), &Catalogue::builtin())
        .unwrap_or_else(|e| panic!("{e}"))
}

#[test]
fn a_demo_differs_from_itself_in_nothing_and_pairs_mirror() {
    for [old, new] in PAIRS {
        let [a, b] = [old, new].map(read);
        mirrors(&difference(&a, &b), &difference(&b, &a));
        for p in [&a, &b] {
            assert!(difference(p, p).is_empty(), "{old}: {:?}", difference(p, p));
        }
    }
    for file in ["corncrake/whole-proposed", "whinchat/sketched", "whinchat/arranged"] {
        let p = read(&format!("panels/{file}.json"));
        assert!(difference(&p, &p).is_empty(), "{file}");
    }
}

/// One sheet told in inches and in millimetres.
#[test]
fn inches_and_millimetres_differ_in_nothing() {
    let text = |unit: &str, by: f64| {
        let v = |n: f64| n * by;
        format!(
            r#"{{ "format": 1, "panel": "Units", "unit": "{unit}",
              "sheet": {{ "material": "6061-T6", "thickness": {}, "outline": "M 0 0 H {} V {} H 0 Z" }},
              "depth": {{ "default": {} }},
              "place": [{{ "id": "a", "instrument": "standby/3-1-8in", "at": [{}, {}] }},
                        {{ "id": "b", "instrument": "blank/2-1-4in", "at": [{}, {}], "turn": 90 }}],
              "old-openings": [{{ "id": "old", "shape": {{ "circle": {} }}, "at": [{}, {}] }}] }}"#,
            v(0.08),
            v(12.0),
            v(6.5),
            v(9.0),
            v(3.0),
            v(3.25),
            v(8.0),
            v(3.25),
            v(1.125),
            v(10.5),
            v(3.25)
        )
    };
    let read = |name: &str, text: String| {
        let files = Beside { others: &Disk::new(""), name: name.into(), text };
        resolve(name, &files, &Catalogue::builtin()).unwrap_or_else(|e| panic!("{e}"))
    };
    let inch = read("inch.json", text("in", 1.0));
    let mm = read("mm.json", text("mm", 25.4));
    for (a, b) in [(&inch, &mm), (&mm, &inch)] {
        let [x, y] = [a, b].map(|p| check(p, &Options { all_pairs: false }));
        let d = Difference::of((a, &x), (b, &y), 1e-6);
        assert!(d.is_empty() && !x.list.is_empty(), "{d:?}");
        assert!(
            d.openings
                .old
                .iter()
                .filter(|w| w.name.starts_with("a.") || w.name.starts_with("b."))
                .all(|w| w.fate == Fate::Used)
        );
    }
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
