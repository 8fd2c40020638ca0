//! Tools and screws of a subject, and its parts that those of another may run into, made ready for asking pairs: they do
//! not change while others move, and are worked out once.

use super::judge::most_loss;
use super::removal::in_reach;
use super::screw_behind::{self, Shank};
use super::tool_reach::{self, Tool};
use crate::geom::{Point, Rect};
use crate::panel::{Class, Panel, Part};
use std::sync::{Arc, OnceLock};

/// A part that a tool or a screw of another subject may run into.
#[derive(Clone, Copy, Debug)]
pub(super) struct Met {
    /// Its place among the subject's parts.
    pub part: usize,
    pub class: Class,
    pub bounds: Rect,
    pub depth: (f64, f64),
    /// The most that its tolerances can take away, mm.
    pub loss: f64,
}

impl Met {
    fn of((part, p): (usize, &Part)) -> Option<Met> {
        let depth = p.depth?;
        Some(Met { part, class: p.class, bounds: p.contour.bounds(), depth, loss: most_loss(p) })
    }

    /// Whether its box comes as near to a point as `reach` and all that its tolerances can take, mm.
    pub fn within(&self, at: Point, reach: f64) -> bool {
        in_reach(self.bounds, at, reach + self.loss)
    }
}

/// What one subject brings into a pair.
#[derive(Clone, Debug)]
pub(super) struct Fastened {
    /// Tools that its fasteners ask for, and how near their axes something matters: size and all that tolerances can
    /// take, mm.
    pub tools: Vec<(Tool, f64)>,
    /// Stretches of its screws behind the sheet, likewise.
    pub shanks: Vec<(Shank, f64)>,
    /// What may be met.
    pub met: Vec<Met>,
    /// A box of all that may be met, with what tolerances can take.
    whole: Option<Rect>,
}

impl Fastened {
    fn of(panel: &Panel, subject: usize) -> Fastened {
        let Some(s) = panel.subjects.get(subject) else {
            return Fastened { tools: Vec::new(), shanks: Vec::new(), met: Vec::new(), whole: None };
        };
        let tools = tool_reach::tools(s).map(|t| {
            let reach = t.widest() + most_loss(&s.parts[t.part]);
            (t, reach)
        });
        let shanks = screw_behind::shanks(panel, s).map(|k| {
            let reach = k.radius + most_loss(&s.parts[k.part]);
            (k, reach)
        });
        let may = |p: &Part| tool_reach::IN_THE_WAY.has(p.class) || screw_behind::BEHIND.has(p.class);
        let met = s.parts.iter().enumerate().filter(|(_, p)| may(p)).filter_map(Met::of);
        let met: Vec<Met> = met.collect();
        let boxes = met.iter().map(|m| m.bounds.inflate(m.loss, m.loss));
        let whole = boxes.reduce(|all, b| all.union(b));
        Fastened { tools: tools.collect(), shanks: shanks.collect(), met, whole }
    }

    /// What may be met as near to a point as `reach` and all that tolerances can take, mm: nothing where the box of all
    /// is farther.
    pub fn around(&self, at: Point, reach: f64) -> &[Met] {
        if self.whole.is_some_and(|b| in_reach(b, at, reach)) { &self.met } else { &[] }
    }
}

/// Subjects made ready; nothing yet where a slot is empty.
pub(super) type Slots = [OnceLock<Arc<Fastened>>];

/// A panel whose pairs of subjects are asked.
#[derive(Clone, Copy)]
pub struct Pairs<'a> {
    pub(super) panel: &'a Panel,
    pub(super) slots: &'a Slots,
}

impl<'a> Pairs<'a> {
    /// What a subject brings; `None` if there is no such subject.
    pub(super) fn of(&self, subject: usize) -> Option<&'a Fastened> {
        let fresh = || Arc::new(Fastened::of(self.panel, subject));
        Some(self.slots.get(subject)?.get_or_init(fresh))
    }
}
