//! Runs the rules over a panel: every near pair once, or again what a change touches.
//!
//! Listed are: every part pair that is not a plain pass; of a pair of subjects whose parts all pass a
//! rule, the part pair with the least margin, if that is at most [`REACH`]; with `all_pairs`, every
//! part pair up to that margin.

use super::near::{Near, meets};
use super::plan::{Plan, REACH, Roles, Rows, bits};
use super::{Finding, Findings, absent, gone, judge, pair};
use crate::geom::{Rect, distance};
use crate::panel::{Class, Panel, PartRef, Subject, SubjectKind};
use std::cell::OnceCell;
use std::cmp::Ordering;

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
    let mut list = run.out;
    sort(&mut list);
    Findings { list, gone: scene.gone, options: *options }
}

/// Brings findings up to date after the subjects `changed` (by index) were moved or altered; equals
/// [`check`]. The list of subjects and what the panel says as a whole (sheets, limits, process,
/// depth) must be as they were, else call [`check`].
pub fn recheck(panel: &Panel, before: Findings, changed: &[usize]) -> Findings {
    let options = before.options;
    let n = panel.subjects.len();
    let whole = changed.iter().any(|c| panel.subjects.get(*c).is_none_or(|s| s.kind == SubjectKind::Sheet));
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
    let is_around = |f: &Finding| {
        let whole = scene.plan.around.iter().any(|(r, _)| std::ptr::eq(*r, f.rule));
        // said of a part that is not there: depends on who else has one
        let absent = f.b.is_none() && scene.plan.rows.iter().any(|r| std::ptr::eq(r.rule, f.rule));
        whole || absent
    };
    let touches = |r: PartRef| touched.get(r.subject as usize).copied().unwrap_or(true);
    let mut kept = before.list;
    kept.retain(|f| !touches(f.a) && !f.b.is_some_and(touches) && !is_around(f));

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
    let mut fresh = run.out;
    sort(&mut fresh);
    Findings { list: merge(kept, fresh), gone: scene.gone, options }
}

/// By key; findings of one key keep the order in which their rule wrote them.
fn sort(list: &mut [Finding]) {
    list.sort_by(|a, b| a.key().cmp(&b.key()));
}

/// Two sorted lists into one.
fn merge(kept: Vec<Finding>, fresh: Vec<Finding>) -> Vec<Finding> {
    if fresh.is_empty() {
        return kept;
    }
    let mut out = Vec::with_capacity(kept.len() + fresh.len());
    let mut fresh = fresh.into_iter().peekable();
    for f in kept {
        while let Some(g) = fresh.next_if(|g| g.key().cmp(&f.key()) == Ordering::Less) {
            out.push(g);
        }
        out.push(f);
    }
    out.extend(fresh);
    out
}

/// What is in one of two ascending lists only.
fn differing<'a>(a: &'a [PartRef], b: &'a [PartRef]) -> impl Iterator<Item = PartRef> + 'a {
    let only = |x: &'a [PartRef], y: &'a [PartRef]| x.iter().filter(|r| y.binary_search(r).is_err()).copied();
    only(a, b).chain(only(b, a))
}

/// A part made ready for pairing.
pub(super) struct Ready {
    pub r: PartRef,
    pub bounds: Rect,
    pub roles: Roles,
}

/// A panel made ready.
struct Scene<'a> {
    panel: &'a Panel,
    options: Options,
    plan: Plan,
    /// Box of a subject's parts, sheets left out.
    boxes: Vec<Option<Rect>>,
    gone: Vec<PartRef>,
    /// How far beyond its box a subject can matter.
    reach: f64,
    ready: Vec<OnceCell<Vec<Ready>>>,
    /// Who plays which part; asked for only where a part is missing.
    cast: OnceCell<absent::Cast>,
}

impl<'a> Scene<'a> {
    fn new(panel: &'a Panel, options: Options) -> Scene<'a> {
        let plan = Plan::new(panel);
        let boxes: Vec<Option<Rect>> = panel.subjects.iter().map(around).collect();
        let gone = gone::gone(panel, &boxes);
        let parts = panel.subjects.iter().flat_map(|s| &s.parts);
        let loss = parts.map(judge::most_loss).fold(0.0, f64::max);
        let most = plan.rows.iter().map(|r| r.most).fold(0.0, f64::max);
        let reach = most + REACH.max(2.0 * loss);
        let ready = panel.subjects.iter().map(|_| OnceCell::new()).collect();
        Scene { panel, options, plan, boxes, gone, reach, ready, cast: OnceCell::new() }
    }

    fn ready(&self, s: usize) -> &[Ready] {
        self.ready[s].get_or_init(|| {
            let parts = self.panel.subjects[s].parts.iter().enumerate();
            let ready = parts.filter_map(|(p, part)| {
                let r = PartRef { subject: s as u32, part: p as u32 };
                let roles = self.plan.roles(self.panel, r, part.class);
                let exists = !roles.none() && (self.gone.is_empty() || self.gone.binary_search(&r).is_err());
                exists.then(|| Ready { r, bounds: part.contour.bounds(), roles })
            });
            ready.collect()
        })
    }
}

impl Scene<'_> {
    /// Roles that a subject's parts play, first and second; with `absent`, those too that the parts
    /// which it lacks may play.
    fn roles(&self, s: usize, absent: bool) -> (Rows, Rows) {
        let there = self.ready(s).iter().fold((0, 0), |(o, f), p| (o | p.roles.of, f | p.roles.from));
        let lacks = absent::unknown(&self.panel.subjects[s]).filter(|_| absent);
        lacks.fold(there, |(o, f), (_, _, class)| {
            let (of, from, _) = self.plan.rows_of(class);
            (o | of, f | from)
        })
    }
}

/// Box around a subject's parts; none for a sheet, which is no neighbour to anything.
fn around(s: &Subject) -> Option<Rect> {
    let mut parts = s.parts.iter().filter(|p| p.class != Class::Edge).map(|p| p.contour.bounds());
    let first = parts.next()?;
    Some(parts.fold(first, |all, b| all.union(b)))
}

/// One run over a scene: its findings, and what it keeps from pair to pair.
struct Run<'a, 's> {
    scene: &'s Scene<'a>,
    out: Vec<Finding>,
    /// By row of the plan: the pass finding with the least margin, and whether the rule has already
    /// listed one that is no plain pass.
    best: Vec<Option<(f64, Finding)>>,
    listed: Vec<bool>,
    used: Vec<usize>,
}

impl<'a, 's> Run<'a, 's> {
    fn new(scene: &'s Scene<'a>) -> Run<'a, 's> {
        let slots = super::RULES.len();
        Run { scene, out: Vec::new(), best: vec![None; slots], listed: vec![false; slots], used: Vec::new() }
    }

    /// What can be said of one subject.
    fn alone(&mut self, s: usize) {
        let panel = self.scene.panel;
        for (rule, own) in &self.scene.plan.own {
            own(panel, s, rule, &mut self.out);
        }
        let ready = self.scene.ready(s);
        self.inside(ready);
        let stays_alone = matches!(panel.subjects[s].kind, SubjectKind::Placement | SubjectKind::Unit);
        let plan = &self.scene.plan;
        let rows = if stays_alone { plan.within & !plan.not_makers } else { plan.within };
        for (k, p) in ready.iter().enumerate() {
            for q in &ready[k + 1..] {
                self.parts(p, q, rows);
            }
        }
        self.flush();
        self.hides_own(ready);
    }

    /// What depends on the other subjects wherever they are.
    fn around(&mut self, s: usize) {
        let scene = self.scene;
        for (rule, own) in &scene.plan.around {
            own(scene.panel, s, rule, &mut self.out);
        }
        if absent::unknown(&scene.panel.subjects[s]).next().is_some() {
            let cast = scene.cast.get_or_init(|| {
                absent::Cast::new(scene.plan.rows.len(), (0..scene.ready.len()).map(|o| scene.roles(o, true)))
            });
            absent::findings(scene.panel, &scene.plan, cast, s, scene.roles(s, true), &mut self.out);
        }
    }

    /// The parts of a subject against the outlines of their sheets.
    fn inside(&mut self, ready: &[Ready]) {
        for p in ready {
            for k in bits(p.roles.inside) {
                let row = &self.scene.plan.rows[k];
                if let Some(f) = pair::within_sheet(self.scene.panel, row, p.r, REACH) {
                    self.take(row.order as usize, f);
                }
            }
        }
        self.flush();
    }

    /// What a subject's own covers must hide: by the one that hides it best.
    fn hides_own(&mut self, ready: &[Ready]) {
        let plan = &self.scene.plan;
        for k in bits(plan.hides_own) {
            let row = &plan.rows[k];
            for what in ready.iter().filter(|p| p.roles.from & (1 << k) != 0) {
                let covers = ready.iter().filter(|p| p.roles.of & (1 << k) != 0);
                let hidden =
                    covers.filter_map(|c| pair::between(self.scene.panel, row, c.r, what.r, f64::INFINITY));
                let best = hidden.reduce(|best, f| if rank(&f) > rank(&best) { f } else { best });
                if let Some(f) = best.filter(|f| !f.plain_pass() || f.margin().is_none_or(|m| m <= REACH)) {
                    self.take(row.order as usize, f);
                }
            }
        }
        self.flush();
    }

    /// Two subjects, the lower number first.
    fn two(&mut self, a: usize, b: usize) {
        let scene = self.scene;
        let rows = if kin(scene.panel, a, b) { scene.plan.in_stack } else { scene.plan.between };
        let (first, second) = (scene.ready(a), scene.ready(b));
        let (b_of, b_from) = second.iter().fold((0, 0), |(o, f), q| (o | q.roles.of, f | q.roles.from));
        for p in first {
            if ((p.roles.of & b_from) | (p.roles.from & b_of)) & rows != 0 {
                for q in second {
                    self.parts(p, q, rows);
                }
            }
        }
        self.flush();
    }

    /// Two parts.
    #[inline]
    fn parts(&mut self, p: &Ready, q: &Ready, rows: Rows) {
        let forth = p.roles.of & q.roles.from & rows;
        let back = p.roles.from & q.roles.of & rows;
        if forth | back == 0 {
            return;
        }
        let scene = self.scene;
        if distance::box_distance2(&p.bounds, &q.bounds) > scene.reach * scene.reach {
            return;
        }
        // where both can play both roles, a symmetric question is asked once
        for k in bits(forth) {
            self.ask(k, p.r, q.r);
        }
        for k in bits(back & (!forth | scene.plan.directed)) {
            self.ask(k, q.r, p.r);
        }
    }

    /// One row about two parts.
    fn ask(&mut self, k: usize, a: PartRef, b: PartRef) {
        let scene = self.scene;
        let row = &scene.plan.rows[k];
        let slot = row.order as usize;
        // how much margin a plain pass may have and still be of interest
        let reach = match &self.best[slot] {
            _ if scene.options.all_pairs => REACH,
            _ if self.listed[slot] => 0.0,
            Some((margin, _)) => *margin,
            None => REACH,
        };
        if let Some(f) = pair::between(scene.panel, row, a, b, reach) {
            self.take(slot, f);
        }
    }

    /// Takes a finding of the running pair of subjects.
    fn take(&mut self, slot: usize, f: Finding) {
        self.used.push(slot);
        if self.scene.options.all_pairs || !f.plain_pass() {
            self.listed[slot] = true;
            self.out.push(f);
            return;
        }
        let margin = f.margin().unwrap_or(0.0);
        if !self.listed[slot] && self.best[slot].as_ref().is_none_or(|(m, _)| margin < *m) {
            self.best[slot] = Some((margin, f));
        }
    }

    /// Ends a pair of subjects.
    fn flush(&mut self) {
        for slot in &self.used {
            if let Some((_, f)) = self.best[*slot].take()
                && !self.listed[*slot]
            {
                self.out.push(f);
            }
        }
        for slot in self.used.drain(..) {
            self.listed[slot] = false;
        }
    }
}

/// Order of covers: the better verdict, then the larger margin.
fn rank(f: &Finding) -> (super::Verdict, f64) {
    (f.verdict, f.margin().unwrap_or(f64::NEG_INFINITY))
}

/// Whether two subjects count as one: a stack and its units.
fn kin(panel: &Panel, a: usize, b: usize) -> bool {
    let unit = |s: usize| {
        let s = &panel.subjects[s];
        if s.kind == SubjectKind::Unit { s.carrier } else { None }
    };
    match (unit(a), unit(b)) {
        (None, None) => false,
        (Some(c), None) => c as usize == b,
        (None, Some(c)) => c as usize == a,
        (Some(c), Some(d)) => c == d,
    }
}
