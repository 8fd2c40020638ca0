//! A panel made ready for a run of the rules: the plan, boxes of subjects, what each part is to the rows.

use super::engine::Options;
use super::fastened::{Fastened, Pairs};
use super::finding::Kept;
use super::judge::most_loss;
use super::openings::{Metal, Own};
use super::plan::{Plan, REACH, Roles, Rows};
use super::space::{Space, Swept};
use super::{Finding, Findings, absent, gone, insert};
use crate::geom::{Contour, Rect};
use crate::panel::{Class, Panel, Part, PartRef, Subject};
use std::sync::{Arc, OnceLock};

/// A part made ready for pairing.
#[derive(Clone, Debug)]
pub(super) struct Ready {
    pub r: PartRef,
    pub bounds: Rect,
    pub roles: Roles,
    /// The most that its tolerances can take away.
    pub loss: f64,
}

/// A panel made ready.
pub(super) struct Scene<'a> {
    pub panel: &'a Panel,
    pub options: Options,
    pub plan: Plan,
    /// Box of a subject's parts, sheets left out.
    pub boxes: Vec<Option<Rect>>,
    pub gone: Vec<PartRef>,
    /// A rectangle of each sheet that its outline does not enter.
    pub cores: Vec<Option<Rect>>,
    /// The most that the tolerances of any part can take away.
    pub most_loss: f64,
    /// No part moves farther than this against another, mm.
    pub most_play: f64,
    /// How far beyond its box a subject can matter.
    pub reach: f64,
    pub ready: Vec<OnceLock<Arc<[Ready]>>>,
    /// What is cut, by subject.
    pub cuts: Vec<OnceLock<Arc<Own>>>,
    /// Tools, screws and what they may meet, by subject.
    pub fastened: Vec<OnceLock<Arc<Fastened>>>,
    /// The airframe made ready; asked for only where there is one.
    pub space: OnceLock<Space<'a>>,
    /// What its moving solids sweep, as far as it is known already.
    swept: Swept,
    /// Who plays which part; asked for only where a part is missing.
    pub cast: OnceLock<absent::Cast>,
}

impl<'a> Scene<'a> {
    pub fn new(panel: &'a Panel, options: Options) -> Scene<'a> {
        let boxes = panel.subjects.iter().map(|s| around(panel, s)).collect();
        let parts = panel.subjects.iter().flat_map(|s| &s.parts);
        Scene::of(panel, options, Plan::new(panel), boxes, parts.map(most_loss).fold(0.0, f64::max))
    }

    /// The same where only some subjects differ from what was checked before; what those ask, or can lose, counts
    /// even where it is less by now.
    pub fn again(panel: &'a Panel, options: Options, kept: &Kept, changed: &[usize]) -> Scene<'a> {
        if kept.boxes.len() != panel.subjects.len() {
            return Scene::new(panel, options);
        }
        let (mut boxes, mut most) = (kept.boxes.clone(), kept.most_loss);
        for &c in changed {
            if let (Some(slot), Some(s)) = (boxes.get_mut(c), panel.subjects.get(c)) {
                *slot = around(panel, s);
                most = s.parts.iter().map(most_loss).fold(most, f64::max);
            }
        }
        let plan = Plan::again(panel, &kept.most, changed.iter().copied());
        Scene::of(panel, options, plan, boxes, most)
    }

    fn of(
        panel: &'a Panel,
        options: Options,
        plan: Plan,
        boxes: Vec<Option<Rect>>,
        most_loss: f64,
    ) -> Scene<'a> {
        let gone = gone::gone(panel, &boxes);
        let most = plan.rows.iter().map(|r| r.most).fold(0.0, f64::max);
        let most_play = panel.most_play();
        let reach = most + REACH.max(2.0 * most_loss) + most_play;
        let cores = panel.sheets.iter().map(|s| core(&s.outline)).collect();
        let ready = none_ready(panel);
        Scene {
            panel,
            options,
            plan,
            boxes,
            gone,
            cores,
            most_loss,
            most_play,
            reach,
            ready,
            cuts: none_ready(panel),
            fastened: none_ready(panel),
            space: OnceLock::new(),
            swept: Swept::default(),
            cast: OnceLock::new(),
        }
    }

    /// Takes over what was made ready for the check before, but that of subjects that were touched.
    pub fn keep(&mut self, kept: &mut Kept, touched: &[bool]) {
        take_over(&mut self.cuts, &mut kept.cuts, touched);
        take_over(&mut self.fastened, &mut kept.fastened, touched);
        self.swept = std::mem::take(&mut kept.swept);
        // whether a hole stands behind one of an insert's own holes is a question about that one too
        let seat = |s: &Subject| s.facts.is_none() && s.carrier.is_some();
        let seats = self.panel.subjects.iter().zip(touched).any(|(s, t)| *t && seat(s));
        if !seats {
            take_over(&mut self.ready, &mut kept.ready, touched);
        }
    }

    /// Pairs of subjects, for what is asked of two.
    pub fn pairs(&self) -> Pairs<'_> {
        Pairs { panel: self.panel, slots: &self.fastened }
    }

    /// What is cut.
    pub fn metal(&self) -> Metal<'_> {
        Metal { panel: self.panel, slots: &self.cuts }
    }

    /// The airframe made ready.
    pub fn space(&self) -> &Space<'a> {
        self.space.get_or_init(|| Space::again(self.panel, self.swept.clone()))
    }

    /// The findings, with what the next recheck need not work out again.
    pub fn told(self, list: Vec<Finding>) -> Findings {
        let most = self.plan.rows.iter().map(|r| r.most).collect();
        let kept = Kept {
            boxes: self.boxes,
            most,
            most_loss: self.most_loss,
            ready: self.ready,
            cuts: self.cuts,
            fastened: self.fastened,
            swept: self.space.get().map(Space::swept).unwrap_or(self.swept),
        };
        Findings { list, gone: self.gone, kept, options: self.options }
    }

    pub fn ready(&self, s: usize) -> &[Ready] {
        self.ready[s].get_or_init(|| {
            let parts = self.panel.subjects[s].parts.iter().enumerate();
            let ready = parts.filter_map(|(p, part)| {
                let r = PartRef { subject: s as u32, part: p as u32 };
                let roles = self.plan.roles(self.panel, r, part.class);
                let exists = !roles.none() && (self.gone.is_empty() || self.gone.binary_search(&r).is_err());
                exists.then(|| Ready { r, bounds: part.contour.bounds(), roles, loss: most_loss(part) })
            });
            ready.collect()
        })
    }
}

impl Scene<'_> {
    /// Roles, first and second, that a subject's parts play, and those that it lacks may play.
    pub fn roles(&self, s: usize) -> (Rows, Rows) {
        let there = self.ready(s).iter().fold((0, 0), |(o, f), p| (o | p.roles.of, f | p.roles.from));
        let lacks = absent::unknown(&self.panel.subjects[s]);
        lacks.fold(there, |(o, f), (_, _, class)| {
            let (of, from, _) = self.plan.rows_of(class);
            (o | of, f | from)
        })
    }
}

/// A rectangle inside an outline which the outline does not enter; a good one for a plate with cut
/// corners, perhaps none for a ring.
pub(super) fn core(outline: &Contour) -> Option<Rect> {
    let mut core = outline.bounds();
    for (_, b) in outline.boxed() {
        if b.x0 >= core.x1 || b.x1 <= core.x0 || b.y0 >= core.y1 || b.y1 <= core.y0 {
            continue;
        }
        // leave the piece out on the side that costs the least
        let sides = [
            Rect { x0: b.x1, ..core },
            Rect { x1: b.x0, ..core },
            Rect { y0: b.y1, ..core },
            Rect { y1: b.y0, ..core },
        ];
        let area = |r: &Rect| (r.x1 - r.x0).max(0.0) * (r.y1 - r.y0).max(0.0);
        core = sides.into_iter().fold(None, |best: Option<Rect>, r| match best {
            Some(best) if area(&best) >= area(&r) => Some(best),
            _ => Some(r),
        })?;
    }
    (core.x0 < core.x1 && core.y0 < core.y1 && outline.holds(core.center())).then_some(core)
}

/// How deep a box lies in another; negative where it does not.
pub(super) fn depth_in(core: &Rect, b: &Rect) -> f64 {
    (b.x0 - core.x0).min(core.x1 - b.x1).min(b.y0 - core.y0).min(core.y1 - b.y1)
}

/// Whether a box lies in another and farther than so much from all of its sides.
pub(super) fn lies_deep(core: &Rect, b: &Rect, depth: f64) -> bool {
    b.x0 - core.x0 > depth && core.x1 - b.x1 > depth && b.y0 - core.y0 > depth && core.y1 - b.y1 > depth
}

/// Box around a subject's parts; none for a sheet, which is no neighbour to anything unless it is an insert or floats.
fn around(panel: &Panel, s: &Subject) -> Option<Rect> {
    let counts = |p: &&Part| p.class != Class::Edge || insert::lies_over(panel, p);
    let mut parts = s.parts.iter().filter(counts).map(|p| p.contour.bounds());
    let first = parts.next()?;
    Some(parts.fold(first, |all, b| all.union(b)))
}

/// Of every subject that nothing is made ready yet.
pub(super) fn none_ready<T>(panel: &Panel) -> Vec<OnceLock<T>> {
    panel.subjects.iter().map(|_| OnceLock::new()).collect()
}

/// Takes over what was made ready before, but that of subjects that were touched.
fn take_over<T>(now: &mut Vec<OnceLock<T>>, kept: &mut Vec<OnceLock<T>>, touched: &[bool]) {
    if kept.len() != now.len() {
        return;
    }
    std::mem::swap(now, kept);
    for (slot, _) in now.iter_mut().zip(touched).filter(|(_, t)| **t) {
        *slot = OnceLock::new();
    }
}
