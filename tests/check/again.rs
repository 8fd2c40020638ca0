//! `recheck` equals `check` after any moves and edits of random panels.

use crate::messy::messy;
use crate::panels::*;
use panelwright::check::{Findings, Options, check, recheck};
use panelwright::geom::Vec2;
use panelwright::panel::*;

pub fn same(a: &Findings, b: &Findings, panel: &Panel, what: &str) {
    let lines = |f: &Findings| f.list.iter().map(|f| format!("{} {f:?}", f.id(panel))).collect::<Vec<_>>();
    let (a, b) = (lines(a), lines(b));
    for line in a.iter().filter(|l| !b.contains(l)) {
        println!("recheck only: {line}");
    }
    for line in b.iter().filter(|l| !a.contains(l)) {
        println!("check only:   {line}");
    }
    assert!(a == b, "{what}");
}

/// One random change of one subject.
pub fn change(d: &mut Dice, panel: &mut Panel) -> usize {
    let n = 1 + d.below(panel.subjects.len() as u64 - 1);
    match d.below(4) {
        0 => {
            let s = &mut panel.subjects[n];
            s.state = if s.state == State::New { State::Existing } else { State::New };
        }
        1 => {
            let s = &mut panel.subjects[n];
            if s.parts.len() > 1 {
                s.parts.pop();
            }
        }
        // to somewhere else, often right onto another subject
        2 => {
            let to = panel.subjects[d.below(panel.subjects.len() as u64)].at;
            panel.shift(n, to - panel.subjects[n].at);
        }
        _ => panel.shift(n, Vec2::new(d.real(-30.0, 30.0), d.real(-30.0, 30.0))),
    }
    n
}

#[test]
fn recheck_equals_check_on_random_edits() {
    for seed in 0..150 {
        let mut d = Dice::new(1000 + seed);
        let mut panel = messy(seed);
        let options = Options { all_pairs: seed % 4 == 0 };
        let mut findings = check(&panel, &options);
        for step in 0..8 {
            let changed: Vec<usize> = (0..1 + d.below(2)).map(|_| change(&mut d, &mut panel)).collect();
            findings = recheck(&panel, findings, &changed);
            let whole = check(&panel, &options);
            same(&findings, &whole, &panel, &format!("seed {seed}, step {step}"));
        }
    }
}

#[test]
fn a_move_there_and_back_changes_nothing() {
    let mut panel = crowded(1);
    let before = check(&panel, &Options::default());
    panel.shift(30, Vec2::new(8.0, 4.0));
    let there = recheck(&panel, before.clone(), &[30]);
    assert!(there.counts().fail > before.counts().fail);
    panel.shift(30, Vec2::new(-8.0, -4.0));
    let back = recheck(&panel, there, &[30]);
    let verdicts = |f: &Findings| f.list.iter().map(|f| (f.key(), f.verdict)).collect::<Vec<_>>();
    assert_eq!(verdicts(&back), verdicts(&before));
}

#[test]
fn the_tree_of_a_large_sheet_finds_what_the_scan_finds() {
    // 400 subjects go through the tree; recheck of all but a few goes through plain scans
    let panel = large(400);
    let whole = check(&panel, &Options::default());
    let mut empty = whole.clone();
    empty.list.clear();
    let all: Vec<usize> = (1..panel.subjects.len()).collect();
    let by_scan = recheck(&panel, empty, &all);
    let pairs = |f: &Findings| f.list.iter().filter(|f| f.b.is_some()).cloned().collect::<Vec<_>>();
    assert_eq!(pairs(&whole), pairs(&by_scan));
}
