//! What is cut out of a sheet, made ready for asking whether the rest hangs together: what an item's own openings are
//! to each other does not change while others move, and is worked out once.

use super::judge::{self, Stack};
use super::near::meets;
use super::necks::pinches;
use crate::geom::{Gap, Rect, SLACK, distance};
use crate::panel::{Classes, Panel, Part, PartRef, Subject};
use std::ops::Range;
use std::sync::{Arc, OnceLock};

/// An opening that is cut.
pub(super) type Opening<'a> = (PartRef, &'a Part);

/// Openings of one subject that are taken together, at most.
const TOGETHER: usize = 32;

/// An opening by itself.
#[derive(Clone, Copy, Debug)]
pub(super) struct Alone {
    /// Its place among the subject's parts.
    part: u32,
    /// Its box, wider by half of what is asked and all that its tolerances can take: where two of these do not meet,
    /// two openings are not near each other.
    wide: Rect,
    /// The most that its tolerances can take away.
    pub most: f64,
    /// Not convex.
    pub hollow: bool,
    /// Whether it comes near itself.
    pub pinched: bool,
}

/// Two openings near each other, by their places in a list.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pair {
    pub a: usize,
    pub b: usize,
    pub gap: Gap,
    pub loss: f64,
}

/// Openings that lie together.
#[derive(Clone, Debug)]
pub(super) struct Group {
    /// Around their wide boxes.
    pub around: Rect,
    /// The most that the tolerances of any can take away.
    pub most: f64,
    /// Their places in a list.
    pub range: Range<usize>,
}

/// One subject's openings in one sheet.
#[derive(Clone, Debug)]
pub(super) struct Own {
    sheet: u32,
    asked: f64,
    all: Vec<Alone>,
    groups: Vec<Group>,
    near: Vec<Pair>,
}

impl Own {
    fn of(panel: &Panel, s: &Subject, sheet: u32, asked: f64) -> Own {
        let cut = |p: &Part| Classes::OPENINGS.has(p.class) && cuts(panel, p.sheet, sheet);
        let cut = s.parts.iter().enumerate().filter(|(_, p)| !s.provision && cut(p));
        let all: Vec<Alone> = cut.map(|(k, p)| alone(k as u32, p, asked)).collect();
        let mut groups = Vec::new();
        for start in (0..all.len()).step_by(TOGETHER) {
            let range = start..all.len().min(start + TOGETHER);
            let own = &all[range.clone()];
            let most = own.iter().map(|o| o.most).fold(0.0, f64::max);
            let around = own.iter().map(|o| o.wide).reduce(|a, b| a.union(b));
            groups.extend(around.map(|around| Group { around, most, range }));
        }
        let mut near = Vec::new();
        let mut pair = |i: usize, j: usize| {
            let part = |k: usize| &s.parts[all[k].part as usize];
            near.extend(pair(asked, (i, &all[i], part(i)), (j, &all[j], part(j))));
        };
        for group in &groups {
            for i in group.range.clone() {
                (group.range.start..i).for_each(|j| pair(i, j));
            }
        }
        across(&groups, |i, j| {
            for i in i.range.clone() {
                j.range.clone().for_each(|j| pair(i, j));
            }
        });
        Own { sheet, asked, all, groups, near }
    }
}

fn alone(part: u32, p: &Part, asked: f64) -> Alone {
    let most = judge::most_loss(p);
    let wide = asked / 2.0 + most;
    Alone {
        part,
        wide: p.contour.bounds().inflate(wide, wide),
        most,
        hollow: !p.contour.is_convex(),
        pinched: p.contour.as_circle().is_none() && pinches(&p.contour, asked + 2.0 * most),
    }
}

/// Two openings, if they come nearer than what is asked, tolerances included.
fn pair(asked: f64, (a, i, p): (usize, &Alone, &Part), (b, j, q): (usize, &Alone, &Part)) -> Option<Pair> {
    if !meets(&i.wide, &j.wide) {
        return None;
    }
    let gap = distance::outlines_within(&p.contour, &q.contour, asked + i.most + j.most)?;
    let loss = judge::loss(p, q, Stack::Boundaries);
    (gap.distance <= asked + loss + SLACK).then_some(Pair { a, b, gap, loss })
}

/// Two by two the groups that meet: from left to right, so that far ones are never compared.
fn across(groups: &[Group], mut two: impl FnMut(&Group, &Group)) {
    let mut order: Vec<&Group> = groups.iter().collect();
    order
        .sort_unstable_by(|a, b| a.around.x0.total_cmp(&b.around.x0).then(a.range.start.cmp(&b.range.start)));
    let mut open: Vec<&Group> = Vec::new();
    for here in order {
        open.retain(|there| there.around.x1 >= here.around.x0);
        for there in open.iter().filter(|there| meets(&there.around, &here.around)) {
            two(here, there);
        }
        open.push(here);
    }
}

/// Whether what is cut into the first sheet is cut into the second: the same one, or a layer on it.
pub(super) fn cuts(panel: &Panel, of: u32, sheet: u32) -> bool {
    of == sheet || panel.sheets.get(sheet as usize).is_some_and(|s| s.layer_of == Some(of as usize))
}

/// Openings made ready by subject, for the sheet and the limit that were asked for first.
pub(super) type Slots = [OnceLock<Arc<Own>>];

/// A panel with its openings, made ready as they are asked for.
#[derive(Clone, Copy)]
pub struct Metal<'a> {
    pub(super) panel: &'a Panel,
    pub(super) slots: &'a Slots,
}

/// Everything that is cut out of a sheet: what goes through its carrier goes through a layer too.
pub(super) struct Openings<'a> {
    pub list: Vec<Opening<'a>>,
    pub alone: Vec<Alone>,
    pub groups: Vec<Group>,
    /// Pairs of one subject each.
    pub own: Vec<Pair>,
}

impl<'a> Metal<'a> {
    /// Collects what is cut.
    pub(super) fn openings(&self, sheet: u32, asked: f64) -> Openings<'a> {
        let count = self.panel.subjects.iter().map(|s| s.parts.len()).sum::<usize>() / 2;
        let mut out = Openings {
            list: Vec::with_capacity(count),
            alone: Vec::with_capacity(count),
            groups: Vec::with_capacity(self.panel.subjects.len()),
            own: Vec::new(),
        };
        for (k, s) in self.panel.subjects.iter().enumerate().filter(|(_, s)| !s.provision) {
            let fresh = || Arc::new(Own::of(self.panel, s, sheet, asked));
            let Some(slot) = self.slots.get(k) else { continue };
            let kept = slot.get_or_init(fresh);
            let (own, base) = (&**kept, out.list.len());
            if (own.sheet, own.asked) == (sheet, asked) {
                out.take(k, s, own, base);
            } else {
                out.take(k, s, &fresh(), base);
            }
        }
        out
    }
}

impl<'a> Openings<'a> {
    fn take(&mut self, subject: usize, s: &'a Subject, own: &Own, base: usize) {
        let named =
            |o: &Alone| (PartRef { subject: subject as u32, part: o.part }, &s.parts[o.part as usize]);
        self.list.extend(own.all.iter().map(named));
        self.alone.extend_from_slice(&own.all);
        let moved = |g: &Group| Group { range: g.range.start + base..g.range.end + base, ..g.clone() };
        self.groups.extend(own.groups.iter().map(moved));
        self.own.extend(own.near.iter().map(|p| Pair { a: p.a + base, b: p.b + base, ..*p }));
    }

    /// The pairs that come nearer than what is asked, tolerances included.
    pub fn pairs(&self, asked: f64) -> Vec<Pair> {
        let mut pairs = self.own.clone();
        let subject = |g: &Group| self.list[g.range.start].0.subject;
        across(&self.groups, |here, there| {
            if subject(here) == subject(there) {
                return;
            }
            for i in here.range.clone() {
                let (first, p) = (&self.alone[i], self.list[i].1);
                if !meets(&first.wide, &there.around) {
                    continue;
                }
                let second = |j: usize| (j, &self.alone[j], self.list[j].1);
                pairs.extend(there.range.clone().filter_map(|j| pair(asked, (i, first, p), second(j))));
            }
        });
        pairs
    }
}
