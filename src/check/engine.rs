//! Runs the rules over a panel: every near pair once, or again what a change touches.
//!
//! Listed are: every part pair that is not a plain pass; of a pair of subjects whose parts all pass a
//! rule, the part pair with the least margin, if that is at most [`REACH`]; with `all_pairs`, every
//! part pair up to that margin.

use super::merge::merge;
use super::near::{Near, meets};
use super::plan::Plan;
use super::ready::Scene;
use super::run::Run;
use super::said::{self, Ordered};
use super::{Finding, Findings, Heed, Rule};
use crate::geom::Rect;
use crate::jobs;
use crate::panel::{Panel, PartRef, Subject, SubjectKind};
use std::ops::Range;

/// What to list.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Options {
    /// Every part pair within reach, not the nearest of two subjects only.
    pub all_pairs: bool,
}

/// Checks a panel against all rules. Pure; the same findings on every machine, on one core and on many.
pub fn check(panel: &Panel, options: &Options) -> Findings {
    let scene = Scene::new(panel, *options);
    let near = Near::new(&scene.boxes, panel.subjects.len());
    let shares = shares(panel.subjects.len());
    let done = jobs::each(shares.len(), |_| (), |k| shares.get(k).map(|s| share(&scene, &near, s.clone())));
    // as if one had done it all: first what was said of subjects, then of pairs
    let (alone, pairs): (Vec<_>, Vec<_>) = done.into_iter().flatten().unzip();
    scene.told(said::all(alone.into_iter().chain(pairs).collect()))
}

/// Subjects to a share, at least: fewer are not worth a core.
const SHARE: usize = 4;

/// Subjects in shares for the cores to take one after the other.
fn shares(subjects: usize) -> Vec<Range<usize>> {
    let each = subjects.div_ceil(MOST_SHARES).max(SHARE);
    (0..subjects).step_by(each).map(|from| from..(from + each).min(subjects)).collect()
}

/// Shares, at most.
const MOST_SHARES: usize = 64;

/// What is said of some subjects, and of their pairs with subjects of higher number.
fn share(scene: &Scene<'_>, near: &Near<'_>, subjects: Range<usize>) -> (Ordered, Ordered) {
    let mut run = Run::new(scene);
    for s in subjects.clone() {
        run.alone(s);
        run.around(s);
    }
    let alone = std::mem::take(&mut run.said);
    let mut others = Vec::new();
    for s in subjects {
        let Some(b) = scene.boxes.get(s).copied().flatten() else { continue };
        near.meet(&b.inflate(scene.reach, scene.reach), &mut others);
        for &o in others.iter().filter(|o| **o > s) {
            run.two(s, o);
        }
    }
    (alone.ordered(), run.said.ordered())
}

/// Brings findings up to date after the subjects `changed` (by index) were moved or altered; equals
/// [`check`]. The list of subjects and what the panel says as a whole (sheets, limits, process,
/// depth) must be as they were, else call [`check`].
pub fn recheck(panel: &Panel, before: Findings, changed: &[usize]) -> Findings {
    recheck_but(panel, before, changed, &[])
}

/// The same without the measurers of some rules, for a hand that cannot wait for them: what those said of the subjects
/// that were touched is gone, and what they said of others may no longer be so. All other rules are answered as by
/// [`recheck`], and may be asked again from these findings; for the rules left out ask [`recheck`] from findings that
/// hold them.
pub fn recheck_but(
    panel: &Panel,
    mut before: Findings,
    changed: &[usize],
    but: &[&'static Rule],
) -> Findings {
    let options = before.options;
    let n = panel.subjects.len();
    let whole = changed.iter().any(|c| panel.subjects.get(*c).is_none_or(|s| is_for_all(s.kind)));
    if whole {
        return check(panel, &options);
    }
    let mut scene = Scene::again(panel, options, &before.kept, changed);
    scene.plan.leave(but);
    let mut touched = vec![false; n];
    for &c in changed {
        touched[c] = true;
        // a stack and its units are judged together
        let stack = |s: &Subject| s.carrier.filter(|_| s.kind == SubjectKind::Unit);
        let carrier = stack(&panel.subjects[c]).map_or(c, |c| c as usize);
        for (k, s) in panel.subjects.iter().enumerate() {
            if k == carrier || stack(s) == Some(carrier as u32) {
                touched[k] = true;
            }
        }
    }
    // an opening swallowed or set free changes all pairs that it stands in
    for r in differing(&before.gone, &scene.gone) {
        if let Some(t) = touched.get_mut(r.subject as usize) {
            *t = true;
        }
    }
    scene.keep(&mut before.kept, &touched);
    let mut run = Run::new(&scene);
    for s in 0..n {
        run.around(s);
    }
    // what stood or stands near a subject that was touched is asked again
    let stood = |s: usize| before.kept.boxes.get(s).copied().flatten();
    let moved: Vec<(usize, [Option<Rect>; 2])> =
        (0..n).filter(|s| touched[*s]).map(|s| (s, [stood(s), scene.boxes[s]])).collect();
    let mut again = vec![0; n];
    for s in (0..n).filter(|s| !touched[*s]) {
        for (k, (rule, _, near)) in scene.plan.near.iter().enumerate() {
            let Some(around) = (near.reach)(scene.space(), s, rule) else { continue };
            let meets_it = |b: &[Option<Rect>; 2]| b.iter().flatten().any(|b| meets(b, &around));
            let matters = moved.iter().any(|(m, boxes)| match (near.heeds)(panel, s, *m) {
                Heed::Never => false,
                Heed::Near => meets_it(boxes),
                Heed::Always => true,
            });
            if matters {
                again[s] |= 1u8 << k;
            }
        }
        run.near(s, again[s]);
    }
    for s in (0..n).filter(|s| touched[*s]) {
        run.alone(s);
        let Some(b) = scene.boxes[s] else { continue };
        let around = b.inflate(scene.reach, scene.reach);
        for (o, other) in scene.boxes.iter().enumerate() {
            // a pair of two touched subjects comes up twice: the lower number takes it
            let mine = o != s && (!touched[o] || o > s);
            if mine && other.is_some_and(|other| meets(&other, &around)) {
                run.two(s.min(o), s.max(o));
            }
        }
    }
    let marks: Vec<u8> = touched.iter().zip(&again).map(|(t, a)| u8::from(*t) | a << 1).collect();
    let mark = |r: PartRef| marks.get(r.subject as usize).copied().unwrap_or(u8::MAX);
    let of_rule = |rule: &'static Rule| Spoken::by(rule, &scene.plan);
    let outdated = |rule: &Spoken, f: &Finding| {
        let own = mark(f.a) & rule.marks != 0 || rule.around;
        // said of a part that is not there: depends on who else has one
        own || f.b.map_or(rule.pairs, |b| mark(b) & TOUCHED != 0)
    };
    let list = merge(before.list, of_rule, outdated, said::all(vec![run.said.ordered()]));
    scene.told(list)
}

/// Mark of a subject that was touched.
const TOUCHED: u8 = 1;
/// Mark of one that stood or stands near such a subject, to the first of the rules that ask about that; the marks of
/// the others follow.
const NEAR: u8 = 2;

/// Whether all that is said may rest on a subject of this kind.
fn is_for_all(kind: SubjectKind) -> bool {
    use SubjectKind::*;
    match kind {
        Sheet | Obstacle | Control | Line => true,
        Placement | Unit | OldOpening | Insert | Zone | Label => false,
    }
}

/// What makes a rule's findings outdated.
struct Spoken {
    /// It looks at other subjects by its own measurer.
    around: bool,
    /// Marks of a subject that make what the rule says of it outdated.
    marks: u8,
    /// It pairs parts.
    pairs: bool,
}

impl Spoken {
    fn by(rule: &'static Rule, plan: &Plan) -> Spoken {
        let near = plan.near.iter().position(|(r, ..)| std::ptr::eq(*r, rule));
        Spoken {
            around: plan.around.iter().any(|(r, ..)| std::ptr::eq(*r, rule))
                || plan.metal.iter().any(|(r, ..)| std::ptr::eq(*r, rule)),
            marks: near.map_or(TOUCHED, |k| TOUCHED | NEAR << k),
            pairs: plan.rows.iter().any(|r| std::ptr::eq(r.rule, rule)),
        }
    }
}

/// What is in one of two ascending lists only.
fn differing<'a>(a: &'a [PartRef], b: &'a [PartRef]) -> impl Iterator<Item = PartRef> + 'a {
    let only = |x: &'a [PartRef], y: &'a [PartRef]| x.iter().filter(|r| y.binary_search(r).is_err()).copied();
    only(a, b).chain(only(b, a))
}
