//! One run of the rules over a panel made ready: what is said of a subject alone, of what is around it,
//! and of a pair of subjects.

use super::judge::Case;
use super::plan::{REACH, Rows, bits};
use super::ready::{Ready, Scene, depth_in};
use super::said::Said;
use super::space;
use super::{absent, pair};
use crate::geom::{SLACK, distance};
use crate::panel::{Panel, PartRef, SubjectKind};

/// Whether two parts are holes of one nutplate.
fn one_nutplate(panel: &Panel, p: PartRef, q: PartRef) -> bool {
    let plate = |r: PartRef| panel.part(r).fastening().and_then(|f| f.nutplate);
    plate(p).zip(plate(q)).is_some_and(|(p, q)| p == q)
}

/// A plain pass that may be the one to list of two subjects.
struct Best {
    margin: f64,
    row: usize,
    a: PartRef,
    b: PartRef,
    case: Case,
}

/// One run over a scene: its findings, and what it keeps from pair to pair.
pub(super) struct Run<'a, 's> {
    scene: &'s Scene<'a>,
    /// What it wrote.
    pub said: Said,
    /// By rule: the plain pass with the least margin, and whether one has been listed already.
    best: Vec<Option<Best>>,
    listed: Vec<bool>,
    used: Vec<usize>,
    /// Parts of the second of two subjects that are near the first.
    close: Vec<usize>,
}

impl<'a, 's> Run<'a, 's> {
    /// Starts.
    pub fn new(scene: &'s Scene<'a>) -> Run<'a, 's> {
        let slots = super::RULES.len();
        Run {
            scene,
            said: Said::default(),
            best: (0..slots).map(|_| None).collect(),
            listed: vec![false; slots],
            used: Vec::new(),
            close: Vec::new(),
        }
    }

    /// What can be said of one subject.
    pub fn alone(&mut self, s: usize) {
        let panel = self.scene.panel;
        for (rule, order, own) in &self.scene.plan.own {
            self.said.by(*order, |out| own(panel, s, rule, out));
        }
        if !self.scene.plan.room.is_empty() && space::known(panel) {
            let space = self.scene.space();
            for (rule, order, room) in &self.scene.plan.room {
                self.said.by(*order, |out| room(space, s, rule, out));
            }
        }
        self.near(s, u8::MAX);
        let ready = self.scene.ready(s);
        self.inside(ready);
        let stays_alone = matches!(panel.subjects[s].kind, SubjectKind::Placement | SubjectKind::Unit);
        let plan = &self.scene.plan;
        let rows = if stays_alone { plan.within & !plan.not_makers } else { plan.within };
        for (k, p) in ready.iter().enumerate() {
            for q in &ready[k + 1..] {
                // a nutplate's screw and rivets are its maker's pattern wherever it stands
                let makers = !stays_alone && one_nutplate(panel, p.r, q.r);
                self.parts(p, q, if makers { rows & !plan.not_makers } else { rows });
            }
        }
        self.flush();
        self.hides_own(ready);
    }

    /// What can be said of a subject among those that stand near it, by the rules (bits of their places in the plan).
    pub fn near(&mut self, s: usize, rules: u8) {
        let scene = self.scene;
        for (k, (rule, order, near)) in scene.plan.near.iter().enumerate() {
            if rules & (1 << k) == 0 {
                continue;
            }
            let space = scene.space();
            self.said.by(*order, |out| (near.measure)(space, s, rule, out));
        }
    }

    /// What depends on the other subjects wherever they are.
    pub fn around(&mut self, s: usize) {
        let scene = self.scene;
        for (rule, order, own) in &scene.plan.around {
            self.said.by(*order, |out| own(scene.panel, s, rule, out));
        }
        for (rule, order, measure) in &scene.plan.metal {
            self.said.by(*order, |out| measure(&scene.metal(), s, rule, out));
        }
        if absent::unknown(&scene.panel.subjects[s]).next().is_some() {
            let cast = scene.cast.get_or_init(|| {
                absent::Cast::new(scene.plan.rows.len(), (0..scene.ready.len()).map(|o| scene.roles(o)))
            });
            absent::findings(scene.panel, &scene.plan, cast, s, scene.roles(s), &mut self.said);
        }
    }

    /// The parts of a subject against the outlines of their sheets.
    fn inside(&mut self, ready: &[Ready]) {
        let scene = self.scene;
        for p in ready.iter().filter(|p| p.roles.inside != 0) {
            let part = scene.panel.part(p.r);
            // most parts lie well within
            let core = scene.cores.get(part.sheet as usize).copied().flatten();
            let depth = core.map_or(0.0, |core| depth_in(&core, &p.bounds.union_pt(part.centre)));
            for k in bits(p.roles.inside) {
                let row = &scene.plan.rows[k];
                if depth > row.most + REACH.max(p.loss + scene.most_loss) {
                    continue;
                }
                if let Some((b, case)) = pair::ask_in_sheet(scene.panel, row, p.r, REACH, p.loss) {
                    self.take(k, p.r, b, case);
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
                let hidden = covers.filter_map(|c| {
                    let loss = c.loss + what.loss;
                    Some((c.r, pair::ask(self.scene.panel, row, c.r, what.r, f64::INFINITY, loss)?))
                });
                let best =
                    hidden.reduce(|best, other| if other.1.worth() > best.1.worth() { other } else { best });
                if let Some((cover, case)) = best.filter(|(_, c)| !c.passes() || c.margin() <= REACH) {
                    self.take(k, cover, what.r, case);
                }
            }
        }
        self.flush();
    }

    /// Two subjects, the lower number first.
    pub fn two(&mut self, a: usize, b: usize) {
        let scene = self.scene;
        let rows = if kin(scene.panel, a, b) { scene.plan.in_stack } else { scene.plan.between };
        let (Some(box_a), Some(box_b)) = (scene.boxes[a], scene.boxes[b]) else { return };
        let (first, second) = (scene.ready(a), scene.ready(b));
        let far2 = scene.reach * scene.reach;
        let mut close = std::mem::take(&mut self.close);
        close.clear();
        let (mut b_of, mut b_from) = (0, 0);
        for (k, q) in second.iter().enumerate() {
            if distance::box_distance2(&q.bounds, &box_a) <= far2 {
                close.push(k);
                b_of |= q.roles.of;
                b_from |= q.roles.from;
            }
        }
        for p in first {
            let speaks = ((p.roles.of & b_from) | (p.roles.from & b_of)) & rows != 0;
            if speaks && distance::box_distance2(&p.bounds, &box_b) <= far2 {
                for k in &close {
                    self.parts(p, &second[*k], rows);
                }
            }
        }
        self.close = close;
        self.flush();
        for (rule, order, two) in &scene.plan.two {
            self.said.by(*order, |out| two(&scene.pairs(), [a, b], rule, out));
        }
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
        let apart2 = distance::box_distance2(&p.bounds, &q.bounds);
        if apart2 > scene.reach * scene.reach {
            return;
        }
        // where both can play both roles, a symmetric question is asked once
        for k in bits(forth) {
            self.ask(k, p, q, apart2);
        }
        for k in bits(back & (!forth | scene.plan.directed)) {
            self.ask(k, q, p, apart2);
        }
    }

    /// One row about two parts, the boxes of which are so far apart, squared.
    fn ask(&mut self, k: usize, a: &Ready, b: &Ready, apart2: f64) {
        let scene = self.scene;
        let row = &scene.plan.rows[k];
        let slot = row.order as usize;
        // how much margin a plain pass may have and still be of interest
        let reach = match &self.best[slot] {
            _ if scene.options.all_pairs => REACH,
            _ if self.listed[slot] => 0.0,
            Some(best) => best.margin,
            None => REACH,
        };
        let loss = a.loss + b.loss;
        // outlines are no nearer than their boxes, whatever the depth
        let far = row.most + reach.max(loss) + scene.most_play + SLACK;
        if apart2 > far * far && row.is_of_outlines() {
            return;
        }
        if let Some(case) = pair::ask(scene.panel, row, a.r, b.r, reach, loss) {
            self.take(k, a.r, b.r, case);
        }
    }

    /// Takes an answer about the running pair of subjects.
    fn take(&mut self, row: usize, a: PartRef, b: PartRef, case: Case) {
        let scene = self.scene;
        let slot = scene.plan.rows[row].order as usize;
        self.used.push(slot);
        if scene.options.all_pairs || !case.passes() {
            self.listed[slot] = true;
            let row = &scene.plan.rows[row];
            self.said.push(row.order, pair::finding(scene.panel, row, a, b, &case));
            return;
        }
        let margin = case.margin();
        if !self.listed[slot] && self.best[slot].as_ref().is_none_or(|best| margin < best.margin) {
            self.best[slot] = Some(Best { margin, row, a, b, case });
        }
    }

    /// Ends a pair of subjects.
    fn flush(&mut self) {
        let scene = self.scene;
        for slot in &self.used {
            if let Some(Best { row, a, b, case, .. }) = self.best[*slot].take()
                && !self.listed[*slot]
            {
                let row = &scene.plan.rows[row];
                self.said.push(row.order, pair::finding(scene.panel, row, a, b, &case));
            }
        }
        for slot in self.used.drain(..) {
            self.listed[slot] = false;
        }
    }
}

/// Whether two subjects count as one: a stack and its units.
pub(super) fn kin(panel: &Panel, a: usize, b: usize) -> bool {
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
