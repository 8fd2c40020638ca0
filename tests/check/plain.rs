//! The engine against the plainest possible search: every pair of parts, no boxes, no tables.

use crate::messy::messy;
use crate::panels::*;
use panelwright::check::{Options, REACH, Verdict, check};
use panelwright::geom::distance;
use panelwright::panel::*;
use std::collections::BTreeSet;

/// Every part of the panel that is still there once the new openings are cut.
fn parts(panel: &Panel, gone: &[PartRef]) -> Vec<PartRef> {
    let all = panel.subjects.iter().enumerate().flat_map(|(s, subject)| {
        (0..subject.parts.len()).map(move |p| PartRef { subject: s as u32, part: p as u32 })
    });
    all.filter(|r| !gone.contains(r)).collect()
}

/// One item, or a stack and its units; the openings of an insert are the builder's own pattern.
fn kin(panel: &Panel, a: PartRef, b: PartRef) -> bool {
    if a.subject == b.subject && panel.subject(a).kind == SubjectKind::Insert {
        return false;
    }
    let root = |r: PartRef| match panel.subject(r) {
        s if s.kind == SubjectKind::Unit => s.carrier.unwrap_or(r.subject),
        _ => r.subject,
    };
    root(a) == root(b)
}

/// Ids of pairs of one choice of classes that are not both existing and lie nearer than the limit.
fn short(
    panel: &Panel,
    gone: &[PartRef],
    rule: &str,
    limit: f64,
    of: Classes,
    sheet: bool,
) -> BTreeSet<String> {
    let limit = panel.limits.get(rule).map_or(limit, |l| l.value);
    let parts = parts(panel, gone);
    let mut out = BTreeSet::new();
    for (k, &a) in parts.iter().enumerate() {
        for &b in &parts[k + 1..] {
            let (pa, pb) = (panel.part(a), panel.part(b));
            if !of.has(pa.class) || !of.has(pb.class) || kin(panel, a, b) || (sheet && pa.sheet != pb.sheet) {
                continue;
            }
            let gap = distance::contours(&pa.contour, &pb.contour);
            let contact = gap.relation != distance::Relation::Apart;
            let stay = [a, b].iter().all(|r| panel.subject(*r).state == State::Existing);
            if !stay && (contact || limit - gap.distance > panelwright::geom::SLACK) {
                out.insert(format!("{rule}/{}/{}", panel.part_name(a), panel.part_name(b)));
            }
        }
    }
    out
}

#[test]
fn finds_every_violated_web_and_bezel_gap() {
    let mut total = 0;
    for seed in 0..300 {
        let panel = messy(seed);
        let findings = check(&panel, &Options::default());
        let bezels = Classes::of(&[Class::Bezel, Class::Provision]);
        for (rule, limit, of, sheet) in
            [("web", 6.35, Classes::OPENINGS, true), ("bezel-gap", 1.5, bezels, false)]
        {
            let want = short(&panel, &findings.gone, rule, limit, of, sheet);
            let fails = findings.list.iter().filter(|f| f.rule.id == rule && f.verdict == Verdict::Fail);
            let got: BTreeSet<String> = fails.map(|f| f.id(&panel)).collect();
            assert_eq!(got, want, "seed {seed}");
            total += want.len();
        }
    }
    assert!(total > 500, "only {total}: the scenes are too tame");
}

#[test]
fn lists_the_nearest_pass_of_two_subjects_and_all_on_demand() {
    for seed in 0..200 {
        let panel = messy(seed);
        let (some, all) = (check(&panel, &Options::default()), check(&panel, &Options { all_pairs: true }));
        // what is listed by default is listed on demand
        for f in &some.list {
            assert!(all.list.contains(f), "seed {seed}: {}", f.id(&panel));
        }
        for f in all.list.iter().filter(|f| f.b.is_some() && f.measured.is_some()) {
            let (Some(b), Some(margin)) = (f.b, f.margin()) else { continue };
            if !f.plain_pass() {
                assert!(some.list.contains(f), "seed {seed}: {}", f.id(&panel));
                continue;
            }
            assert!(margin <= REACH + 1e-9);
            // a pass that is left out has a nearer one, or a worse verdict, of the same two subjects
            let twin = some.list.iter().any(|g| {
                let pair = |f: &panelwright::check::Finding| {
                    let (a, b) = (f.a.subject, f.b.map_or(f.a.subject, |b| b.subject));
                    (a.min(b), a.max(b))
                };
                g.rule == f.rule
                    && pair(g) == pair(f)
                    && (!g.plain_pass() || g.margin().is_some_and(|m| m <= margin))
            });
            assert!(twin, "seed {seed}: {} with {b:?}", f.id(&panel));
        }
    }
}

#[test]
fn findings_are_sorted_and_their_ids_are_unique() {
    for seed in 0..200 {
        let panel = messy(seed);
        let findings = check(&panel, &Options { all_pairs: true });
        for w in findings.list.windows(2) {
            assert!(w[0].key() <= w[1].key(), "seed {seed}");
        }
        let mut ids = BTreeSet::new();
        for f in &findings.list {
            assert!(ids.insert(f.id(&panel)), "seed {seed}: {} twice", f.id(&panel));
        }
    }
}

#[test]
fn a_number_that_is_none_is_withheld() {
    let mut panel = crowded(1);
    panel.subjects[1].parts[0].terms.push(Term { grow: f64::NAN, ..term(TermKind::Size, 0, 0.0) });
    let findings = check(&panel, &Options::default());
    let about = findings.list.iter().filter(|f| f.rule.id == "web" && f.a.subject == 1 && f.a.part == 0);
    assert!(about.clone().count() > 0);
    assert!(about.into_iter().all(|f| f.verdict == Verdict::Withheld));
}
