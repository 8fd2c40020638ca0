//! Runs the rules over a panel: every near pair once, or again what a change touches.
//!
//! Listed are: every part pair that is not a plain pass; of a pair of subjects whose parts all pass a
//! rule, the part pair with the least margin, if that is at most [`REACH`]; with `all_pairs`, every
//! part pair up to that margin.

use super::merge::merge;
use super::near::{Near, meets};
use super::plan::Plan;
use super::run::{Run, Scene};
use super::{Finding, Findings, Rule};
use crate::panel::{Panel, PartRef, SubjectKind};

/// What to list.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Options {
    /// Every part pair within reach, not the nearest of two subjects only.
    pub all_pairs: bool,
}

/// Checks a panel against all rules. Pure; the same findings on every machine.
pub fn check(panel: &Panel, options: &Options) -> Findings {
    let scene = Scene::new(panel, *options);
    let mut run = Run::new(&scene);
    for s in 0..panel.subjects.len() {
        run.alone(s);
        run.around(s);
    }
    let near = Near::new(&scene.boxes, panel.subjects.len());
    let mut others = Vec::new();
    for (s, b) in scene.boxes.iter().enumerate() {
        let Some(b) = b else { continue };
        near.meet(&b.inflate(scene.reach, scene.reach), &mut others);
        for &o in others.iter().filter(|o| **o > s) {
            run.two(s, o);
        }
    }
    let list = sorted(run.out);
    Findings { list, gone: scene.gone, options: *options }
}

/// Brings findings up to date after the subjects `changed` (by index) were moved or altered; equals
/// [`check`]. The list of subjects and what the panel says as a whole (sheets, limits, process,
/// depth) must be as they were, else call [`check`].
pub fn recheck(panel: &Panel, before: Findings, changed: &[usize]) -> Findings {
    let options = before.options;
    let n = panel.subjects.len();
    let whole = changed.iter().any(|c| panel.subjects.get(*c).is_none_or(|s| is_for_all(s.kind)));
    if whole {
        return check(panel, &options);
    }
    let scene = Scene::new(panel, options);
    let mut touched = vec![false; n];
    for &c in changed {
        touched[c] = true;
        // a stack and its units are judged together
        let carrier = panel.subjects[c].carrier.map_or(c, |c| c as usize);
        for (k, s) in panel.subjects.iter().enumerate() {
            if k == carrier || s.carrier == Some(carrier as u32) {
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
    let touches = |r: PartRef| touched.get(r.subject as usize).copied().unwrap_or(true);
    let mut run = Run::new(&scene);
    for s in 0..n {
        run.around(s);
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
    // the list runs rule by rule: what a rule is needs to be looked up at its first finding only
    let mut rule = Running { rule: std::ptr::null(), around: false, pairs: false };
    let outdated = |f: &Finding| {
        rule.follow(f, &scene.plan);
        // said of a part that is not there: depends on who else has one
        let absent = rule.pairs && f.b.is_none();
        touches(f.a) || f.b.is_some_and(touches) || rule.around || absent
    };
    let list = merge(before.list, outdated, sorted(run.out));
    Findings { list, gone: scene.gone, options }
}

/// Whether all that is said may rest on a subject of this kind.
fn is_for_all(kind: SubjectKind) -> bool {
    use SubjectKind::*;
    match kind {
        Sheet | Obstacle | Control | Line => true,
        Placement | Unit | OldOpening | Insert | Zone | Label => false,
    }
}

/// What is known of the rule whose findings pass by.
struct Running {
    rule: *const Rule,
    /// It looks at other subjects by its own measurer.
    around: bool,
    /// It pairs parts.
    pairs: bool,
}

impl Running {
    fn follow(&mut self, f: &Finding, plan: &Plan) {
        if !std::ptr::eq(self.rule, f.rule) {
            self.rule = f.rule;
            self.around = plan.around.iter().any(|(r, ..)| std::ptr::eq(*r, f.rule));
            self.pairs = plan.rows.iter().any(|r| std::ptr::eq(r.rule, f.rule));
        }
    }
}

/// All findings of a run in the order of their keys; findings of one key keep the order in which their
/// rule wrote them.
fn sorted(by_rule: Vec<Vec<Finding>>) -> Vec<Finding> {
    let mut list = Vec::with_capacity(by_rule.iter().map(Vec::len).sum());
    for mut of_rule in by_rule {
        of_rule.sort_by_cached_key(|f| (f.a, f.b));
        list.append(&mut of_rule);
    }
    list
}

/// What is in one of two ascending lists only.
fn differing<'a>(a: &'a [PartRef], b: &'a [PartRef]) -> impl Iterator<Item = PartRef> + 'a {
    let only = |x: &'a [PartRef], y: &'a [PartRef]| x.iter().filter(|r| y.binary_search(r).is_err()).copied();
    only(a, b).chain(only(b, a))
}
