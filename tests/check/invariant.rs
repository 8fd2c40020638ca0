//! The verdicts belong to the panel and not to how it is put: mirrored, turned by a quarter, listed in another
//! order or spoken of in inches, random panels are judged alike.

use crate::messy::messy;
use panelwright::check::{Finding, Options, check};
use panelwright::geom::{Point, SLACK, Transform};
use panelwright::panel::*;
use panelwright::units::Unit;

/// What was found, without regard to order: rule, parts and verdict, and the numbers.
type Said = Vec<(String, Vec<f64>)>;

fn judged(panel: &Panel) -> Said {
    let line = |f: &Finding| {
        let mut parts: Vec<String> =
            [Some(f.a), f.b].into_iter().flatten().map(|r| panel.part_name(r)).collect();
        parts.sort();
        let mut numbers: Vec<f64> =
            f.measured.iter().flat_map(|m| [m.lower, m.upper]).chain(f.asked).collect();
        if f.rule.id == "one-piece" {
            // which opening on the rim of a loose piece is named depends on their order, and a width that no
            // single gap tells on where the chords begin
            parts = vec![panel.part_name(f.a)];
            numbers.clear();
        }
        (format!("{} {parts:?} {}", f.rule.id, f.verdict.word()), numbers)
    };
    let mut all: Said = check(panel, &Options { all_pairs: true }).list.iter().map(line).collect();
    all.sort_by(|a, b| a.0.cmp(&b.0));
    all
}

fn same(a: &Said, b: &Said, what: &str) {
    let words = |x: &Said| x.iter().map(|l| l.0.clone()).collect::<Vec<_>>();
    let only =
        |x: &Said, y: &Said| words(x).into_iter().filter(|l| !words(y).contains(l)).collect::<Vec<_>>();
    assert!(words(a) == words(b), "{what}: first only {:#?}, second only {:#?}", only(a, b), only(b, a));
    for ((id, x), (_, y)) in a.iter().zip(b) {
        let near = x.len() == y.len() && x.iter().zip(y).all(|(x, y)| (x - y).abs() <= 2.0 * SLACK);
        assert!(near, "{what}: {id}: {x:?} {y:?}");
    }
}

fn moved(panel: &Panel, t: &Transform) -> Panel {
    let mut panel = panel.clone();
    for s in &mut panel.subjects {
        s.at = t.point(s.at);
        s.parts.iter_mut().for_each(|p| p.shift(t));
    }
    panel.sheets.iter_mut().for_each(|s| s.outline = t.contour(&s.outline));
    panel.depth.areas.iter_mut().for_each(|a| a.contour = t.contour(&a.contour));
    panel
}

#[test]
fn mirrored_and_turned_panels_are_judged_alike() {
    for seed in 0..60 {
        let panel = messy(7000 + seed);
        let here = judged(&panel);
        for (turn, mirror) in [(0.0, true), (90.0, false), (180.0, true), (270.0, false)] {
            let t = Transform::place(Point::ORIGIN, turn, mirror);
            same(
                &here,
                &judged(&moved(&panel, &t)),
                &format!("seed {seed}, turned {turn}, mirrored {mirror}"),
            );
        }
    }
}

#[test]
fn the_order_of_the_items_changes_nothing() {
    let mut tried = 0;
    for seed in 0..90 {
        let panel = messy(8000 + seed);
        // units follow their stack by index
        if panel.subjects.iter().any(|s| s.carrier.is_some()) {
            continue;
        }
        tried += 1;
        let mut other = panel.clone();
        other.subjects[1..].reverse();
        same(&judged(&panel), &judged(&other), &format!("seed {seed}"));
        let half = other.subjects.len() / 2;
        other.subjects[1..].rotate_left(half.saturating_sub(1));
        same(&judged(&panel), &judged(&other), &format!("seed {seed}, rotated"));
    }
    assert!(tried > 40, "{tried}");
}

#[test]
fn the_unit_of_the_file_changes_words_and_no_number() {
    for seed in 0..20 {
        let mut panel = messy(9000 + seed);
        let here = judged(&panel);
        panel.unit = Unit::Inch;
        same(&here, &judged(&panel), &format!("seed {seed}"));
    }
}
