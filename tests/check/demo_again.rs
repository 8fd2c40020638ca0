//! `recheck` equals `check` on the demo panels, whose airframe, controls and lines the rules look at too: random moves and
//! edits, several in a row, every finding compared.
//!
//! `EDITS=200 cargo test --test check` runs longer.

use crate::again::{change, same};
use crate::panels::Dice;
use panelwright::check::{Finding, Findings, Options, SLOW, check, recheck, recheck_but};
use panelwright::files::Disk;
use panelwright::geom::Vec2;
use panelwright::panel::{Class, Panel, State, Subject, SubjectKind};
use panelwright::resolve::{Catalogue, resolve};

const FILES: [&str; 7] = [
    "panels/wheatear/as-found.json",
    "panels/wheatear/proposed.json",
    "panels/dunlin/as-found.json",
    "panels/dunlin/proposed.json",
    "panels/corncrake/floating-proposed.json",
    "panels/corncrake/fixed-proposed.json",
    "panels/corncrake/whole-proposed.json",
];

fn panel(path: &str) -> Panel {
    resolve(path, &Disk::new(env!("CARGO_MANIFEST_DIR")), &Catalogue::builtin())
        .unwrap_or_else(|e| panic!("{e}"))
}

/// One step: what a hand does with a mouse, mostly; now and then any edit of any subject.
fn step(d: &mut Dice, panel: &mut Panel) -> Vec<usize> {
    let held: Vec<usize> = (0..panel.subjects.len())
        .filter(|k| matches!(panel.subjects[*k].kind, SubjectKind::Placement | SubjectKind::Label))
        .collect();
    if held.is_empty() || d.one_in(5) {
        return vec![change(d, panel)];
    }
    let n = held[d.below(held.len() as u64)];
    if d.one_in(6) {
        let s = &mut panel.subjects[n];
        s.state = if s.state == State::New { State::Existing } else { State::New };
        return vec![n];
    }
    // by a little, or across the panel; units of a stack with it
    let far = if d.one_in(3) { 200.0 } else { 12.0 };
    let by = Vec2::new(d.real(-far, far), d.real(-far, far));
    let along = |k: &usize| {
        *k == n
            || panel.subjects[*k].kind == SubjectKind::Unit && panel.subjects[*k].carrier == Some(n as u32)
    };
    let moved: Vec<usize> = (0..panel.subjects.len()).filter(along).collect();
    moved.iter().for_each(|k| panel.shift(*k, by));
    moved
}

#[test]
fn recheck_equals_check_on_the_demo_panels() {
    let steps = std::env::var("EDITS").ok().and_then(|n| n.parse().ok()).unwrap_or(8);
    for (seed, path) in FILES.iter().enumerate() {
        let mut d = Dice::new(500 + seed as u64);
        let mut panel = panel(path);
        let mut findings = check(&panel, &Options { all_pairs: seed % 2 == 1 });
        for n in 0..steps {
            let mut changed = step(&mut d, &mut panel);
            if d.one_in(3) {
                changed.extend(step(&mut d, &mut panel));
            }
            findings = recheck(&panel, findings, &changed);
            let whole = check(&panel, &findings.options);
            same(&findings, &whole, &panel, &format!("{path}, step {n}, changed {changed:?}"));
        }
    }
}

/// A hand's steps: all but the slow rules at each, those when it rests, from what they said when it rested last.
#[test]
fn what_a_step_leaves_out_is_made_up_when_the_hand_rests() {
    let slow = |f: &Finding| SLOW.contains(&f.rule);
    for (seed, path) in
        ["panels/dunlin/proposed.json", "panels/corncrake/whole-proposed.json"].iter().enumerate()
    {
        let mut d = Dice::new(900 + seed as u64);
        let mut panel = panel(path);
        let held: Vec<usize> = (0..panel.subjects.len())
            .filter(|k| matches!(panel.subjects[*k].kind, SubjectKind::Placement | SubjectKind::Label))
            .collect();
        let mut rested = check(&panel, &Options::default());
        let mut left_out = 0;
        for grabbed in 0..3 {
            let k = held[d.below(held.len() as u64)];
            let mut step = rested.clone();
            for n in 0..3 {
                panel.shift(k, Vec2::new(d.real(-40.0, 40.0), d.real(-40.0, 40.0)));
                step = recheck_but(&panel, step, &[k], SLOW);
                let whole = check(&panel, &Options::default());
                let quick = |f: &Findings| f.list.iter().filter(|f| !slow(f)).cloned().collect::<Vec<_>>();
                assert_eq!(quick(&step), quick(&whole), "{path}, {grabbed}, step {n}");
                // nothing is said of what was moved by a rule that was not asked
                let own = |f: &&Finding| slow(f) && f.a.subject as usize == k;
                assert_eq!(step.list.iter().filter(own).count(), 0, "{path}, {grabbed}, step {n}");
                left_out += whole.list.iter().filter(own).count();
            }
            rested = recheck(&panel, rested, &[k]);
            same(&rested, &check(&panel, &Options::default()), &panel, &format!("{path}, {grabbed}"));
        }
        assert!(left_out > 0, "{path}: the slow rules say nothing of what was moved");
    }
}

#[test]
fn a_hole_put_beside_a_control_and_the_screws_of_an_insert_are_followed() {
    let mut panel = panel("panels/dunlin/proposed.json");
    let mut findings = check(&panel, &Options::default());
    let beside = |f: &Findings, panel: &Panel| {
        let of =
            f.list.iter().find(|f| f.id(panel) == "control-clear/engine-insert/right-wheel.turning-shaft");
        of.and_then(|f| f.measured).map(|m| m.lower)
    };
    let first = beside(&findings, &panel).unwrap();
    // a gauge of the insert over the shaft: where its hole is, no metal stands beside the shaft any more
    let shaft = Vec2::new(10.7 * 25.4, 3.0 * 25.4);
    let insert = panel.sheets.iter().position(|s| s.id == "engine-insert").unwrap() as u32;
    let holed = |s: &Subject| s.sheet == insert && s.parts.iter().any(|p| p.class == Class::Cutout);
    let gauge = panel.subjects.iter().position(|s| s.kind == SubjectKind::Placement && holed(s)).unwrap();
    let screws = panel.subjects.iter().position(|s| s.kind == SubjectKind::Insert).unwrap();
    let over = shaft - panel.subjects[gauge].at.to_vec2();
    let askew = Vec2::new(3.0, 1.0);
    let mut met = Vec::new();
    for (k, by) in [(gauge, over), (screws, askew), (gauge, -over), (screws, -askew)] {
        panel.shift(k, by);
        findings = recheck(&panel, findings, &[k]);
        same(&findings, &check(&panel, &Options::default()), &panel, &panel.subjects[k].id.clone());
        met.push(beside(&findings, &panel));
    }
    assert!(met[0] != Some(first) && met[2].is_some_and(|m| (m - first).abs() < 0.01), "{first} {met:?}");
}

/// What sways in an opening is asked again when that goes, wherever it goes, and not when what rides along does.
#[test]
fn the_opening_of_a_floating_panel_is_followed() {
    let path = "panels/corncrake/whole-proposed.json";
    let mut panel = panel(path);
    let openings: Vec<usize> =
        panel.space.groups.iter().filter_map(|g| Some(g.opening?.subject as usize)).collect();
    assert!(!openings.is_empty(), "{path}");
    let mut findings = check(&panel, &Options::default());
    for k in openings {
        let mut said = Vec::new();
        for by in [Vec2::new(3.0, 2.0), Vec2::new(2000.0, 0.0), Vec2::new(2000.0, 0.0)] {
            panel.shift(k, by);
            findings = recheck(&panel, findings, &[k]);
            same(&findings, &check(&panel, &Options::default()), &panel, &format!("{path}, {by:?}"));
            let sways = findings
                .list
                .iter()
                .filter(|f| f.rule.id == "sway" && f.b.is_some_and(|b| b.subject as usize == k));
            said.push(sways.map(|f| (f.a, f.measured)).collect::<Vec<_>>());
        }
        assert!(!said[0].is_empty() && said[0] != said[1], "{path}: {said:?}");
    }
}
