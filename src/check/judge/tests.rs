//! The judge against the plain meaning of its words, and the stack of tolerances against every corner
//! of what the terms allow.

use super::*;
use crate::check::scene::{place, source};
use crate::geom::{Contour, Point};
use crate::panel::{Class, Detail, Term, TermKind};

fn disc(radius: f64, terms: Vec<Term>) -> Part {
    Part {
        name: String::new(),
        class: Class::Cutout,
        sheet: 0,
        contour: Contour::circle(Point::ORIGIN, radius),
        centre: Point::ORIGIN,
        depth: None,
        there: false,
        terms,
        written: None,
        source: source(),
        detail: Detail::Plain,
        place: place(),
    }
}

fn term(key: u32, grow: f64, shrink: f64, shift: f64) -> Term {
    Term { kind: TermKind::Size, key, grow, shrink, shift }
}

fn case(value: f64, worst: f64, asked: f64) -> Case {
    let measure = Measure { value, upper: value, worst, contact: false, at: [Point::ORIGIN; 2] };
    Case { measure, asked, open: Open::Nothing, stays: false }
}

#[test]
fn equal_is_pass_and_slack_is_no_workmanship() {
    assert_eq!(judge(&case(2.0, 2.0, 2.0)), (Verdict::Pass, Note::None));
    assert_eq!(judge(&case(2.0 - 5e-7, 2.0 - 5e-7, 2.0)).0, Verdict::Pass);
    assert_eq!(judge(&case(2.0 - 2e-6, 2.0 - 2e-6, 2.0)).0, Verdict::Fail);
    assert_eq!(judge(&case(2.0, 2.0 - 2e-6, 2.0)).0, Verdict::Tight);
}

#[test]
fn contact_fails_whatever_is_asked() {
    let touch = |asked: f64, stays: bool, open: Open| {
        let mut c = case(0.0, 0.0, asked);
        c.measure.contact = true;
        judge(&Case { stays, open, ..c })
    };
    assert_eq!(touch(0.0, false, Open::Nothing), (Verdict::Fail, Note::Contact));
    assert_eq!(touch(-9.0, false, Open::Asked("a size")), (Verdict::Fail, Note::Contact));
    assert_eq!(touch(0.0, false, Open::Data).0, Verdict::Withheld);
    assert_eq!(touch(0.0, true, Open::Nothing), (Verdict::Pass, Note::BothStay));
}

#[test]
fn what_is_open_withholds_all_but_a_pass() {
    let asked = |value: f64| judge(&Case { open: Open::Asked("a size"), ..case(value, value, 2.0) });
    assert_eq!(asked(2.0), (Verdict::Pass, Note::None));
    assert_eq!(asked(1.0), (Verdict::Withheld, Note::Waits("a size".into())));
}

#[test]
fn a_number_that_is_none_never_passes() {
    for c in [case(f64::NAN, 1.0, 0.0), case(1.0, f64::NAN, 0.0), case(1.0, 1.0, f64::NAN)] {
        assert_eq!(judge(&c).0, Verdict::Withheld);
        assert!(!c.passes());
        assert_eq!(judge(&Case { stays: true, ..c }).0, Verdict::Withheld);
    }
}

#[test]
fn passes_agrees_with_the_verdict() {
    for value in [0.0, 1.0, 1.5, 2.0, 2.5] {
        for worst in [0.0, 1.0, 1.5, 2.0, 2.5] {
            let c = case(value, worst, 2.0);
            assert_eq!(c.passes(), judge(&c) == (Verdict::Pass, Note::None), "{value} {worst}");
        }
    }
}

#[test]
fn terms_add_by_absolute_value() {
    let a = disc(10.0, vec![term(0, 0.3, 0.1, 0.0), term(1, 0.0, 0.0, 0.2)]);
    let b = disc(5.0, vec![term(0, 0.4, 0.05, 0.0), term(2, 0.0, 0.0, 0.5)]);
    let near = |stack: Stack, sum: f64| {
        let l = loss(&a, &b, stack);
        assert!((l - sum).abs() < 1e-12, "{stack:?}: {l} for {sum}");
    };
    near(Stack::Boundaries, 0.3 + 0.4 + 0.2 + 0.5);
    near(Stack::PointBoundary, 0.4 + 0.2 + 0.5);
    near(Stack::Points, 0.2 + 0.5);
    near(Stack::Within, 0.3 + 0.05 + 0.2 + 0.5);
    near(Stack::PointWithin, 0.05 + 0.2 + 0.5);
    assert!(most_loss(&a) + most_loss(&b) >= loss(&a, &b, Stack::Boundaries));
}

#[test]
fn a_shared_shift_cancels_and_a_shared_cut_does_not() {
    let a = disc(10.0, vec![term(7, 0.0, 0.0, 0.4), term(8, 0.1, 0.1, 0.0)]);
    let b = disc(5.0, vec![term(7, 0.0, 0.0, 0.4), term(8, 0.1, 0.1, 0.0)]);
    // both outlines grow towards each other, by one and the same deviation
    assert!((loss(&a, &b, Stack::Boundaries) - 0.2).abs() < 1e-12);
    // one around the other: they grow together
    assert_eq!(loss(&a, &b, Stack::Within), 0.0);
    // a key of zero is nobody's
    let c = disc(5.0, vec![term(0, 0.0, 0.0, 0.4)]);
    assert!((loss(&c, &c, Stack::Points) - 0.8).abs() < 1e-12);
}

/// Least of a measure over the corners of what the terms allow: each deviation fully in or out, each
/// shift fully towards the other or away.
fn corners(a: &Part, b: &Part, measure: impl Fn(f64, f64, f64) -> f64) -> f64 {
    let mut keys: Vec<(u32, usize)> = Vec::new();
    for (side, part) in [a, b].into_iter().enumerate() {
        for (k, t) in part.terms.iter().enumerate() {
            // a term of its own is known by its place
            let own = (0, 2 * k + side + 1);
            let key = if t.key == 0 { own } else { (t.key, 0) };
            if !keys.contains(&key) {
                keys.push(key);
            }
        }
    }
    let mut least = f64::INFINITY;
    for bits in 0..1u32 << (2 * keys.len()) {
        let mut of = [(0.0, 0.0), (0.0, 0.0)];
        for (side, part) in [a, b].into_iter().enumerate() {
            for (k, t) in part.terms.iter().enumerate() {
                let key = if t.key == 0 { (0, 2 * k + side + 1) } else { (t.key, 0) };
                let Some(n) = keys.iter().position(|x| *x == key) else { continue };
                let (out, right) = (bits >> (2 * n) & 1 == 1, bits >> (2 * n + 1) & 1 == 1);
                of[side].0 += if out { t.grow } else { -t.shrink };
                of[side].1 += if right { t.shift } else { -t.shift };
            }
        }
        least = least.min(measure(of[0].0, of[1].0, of[0].1 - of[1].1));
    }
    least
}

#[test]
fn no_corner_of_the_terms_is_worse_than_the_stack_and_one_is_as_bad() {
    let sets = [
        (vec![term(0, 0.3, 0.1, 0.2)], vec![term(0, 0.2, 0.4, 0.1)]),
        (vec![term(5, 0.3, 0.1, 0.2)], vec![term(5, 0.2, 0.4, 0.1)]),
        (vec![term(5, 0.1, 0.1, 0.0), term(0, 0.0, 0.0, 0.3)], vec![term(5, 0.1, 0.1, 0.0)]),
        (vec![term(5, 0.0, 0.0, 0.4)], vec![term(5, 0.0, 0.0, 0.4), term(0, 0.2, 0.1, 0.0)]),
    ];
    for (ta, tb) in sets {
        // beside each other, 40 mm between centres
        let (a, b) = (disc(10.0, ta.clone()), disc(8.0, tb.clone()));
        let apart = 40.0 - 10.0 - 8.0;
        let worst = corners(&a, &b, |ga, gb, off| apart - ga - gb - off);
        assert!((apart - loss(&a, &b, Stack::Boundaries) - worst).abs() < 1e-12, "{ta:?} {tb:?}");
        // the first within the second, about one centre
        let (a, b) = (disc(8.0, ta.clone()), disc(12.0, tb.clone()));
        let worst = corners(&a, &b, |ga, gb, off| 4.0 + gb - ga - off.abs());
        assert!((4.0 - loss(&a, &b, Stack::Within) - worst).abs() < 1e-12, "{ta:?} {tb:?}");
    }
}
