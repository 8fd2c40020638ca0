//! Relations between parts of different items, and of a part in its sheet.

use super::super::apart::depth_gap;
use super::super::critical_apart;
use super::super::engine::Options;
use super::super::gone;
use super::super::judge::{Stack, loss};
use super::super::pair;
use super::super::plan::{REACH, Row, bits};
use super::super::ready::{Ready, Scene};
use super::super::run::kin;
use super::super::sway;
use super::super::{From, Relation};
use super::{Asker, Ban, Bans, Broken, STILL, Shape};
use crate::geom::{Rect, SLACK};
use crate::panel::{Part, PartRef, Play};

impl<'a> Asker<'a> {
    /// What the relations ask.
    pub(super) fn pairs(&self, moving: &[usize], all: &mut Bans<'a>) {
        let panel = self.panel;
        let mut scene = Scene::new(panel, Options::default());
        // what the subject swallows where it stands now is there again when it goes
        let mut boxes = scene.boxes.clone();
        for m in moving {
            if let Some(slot) = boxes.get_mut(*m) {
                *slot = None;
            }
        }
        scene.gone = gone::gone(panel, &boxes);
        for p in scene.ready(self.subject) {
            self.inside(&scene, p, &mut all.list);
            for o in (0..panel.subjects.len()).filter(|o| *o != self.subject) {
                let rows = if kin(panel, self.subject, o) { scene.plan.in_stack } else { scene.plan.between };
                for q in scene.ready(o) {
                    let forth = p.roles.of & q.roles.from & rows;
                    let back = p.roles.from & q.roles.of & rows;
                    for k in bits(forth) {
                        all.take(self.one(&scene.plan.rows[k], [p.r, q.r], true));
                    }
                    for k in bits(back & (!forth | scene.plan.directed)) {
                        all.take(self.one(&scene.plan.rows[k], [q.r, p.r], false));
                    }
                }
            }
        }
        for (own, other, by) in critical_apart::asks(panel, self.subject) {
            let (a, b) = (panel.part(own), panel.part(other));
            let by = by + self.takes(loss(a, b, Stack::Boundaries));
            let (a, b) = (Shape::Outline(&a.contour), Shape::Outline(&b.contour));
            let broken = Broken::Nearer { own: a, other: b, sweep: STILL, by };
            all.list.push(Ban { rule: &critical_apart::RULE, own, other, broken });
        }
        self.sways(all);
    }

    fn inside(&self, scene: &Scene<'a>, p: &Ready, out: &mut Vec<Ban<'a>>) {
        let panel = self.panel;
        let part = panel.part(p.r);
        for k in bits(p.roles.inside) {
            let row = &scene.plan.rows[k];
            let Relation::Inside { measure, .. } = *row.relation else { continue };
            let Some(sheet) = panel.sheets.get(part.sheet as usize) else { continue };
            let other = PartRef { subject: sheet.subject, part: 0 };
            let Some(edge) = panel.subjects.get(sheet.subject as usize).and_then(|s| s.parts.first()) else {
                continue;
            };
            let Some((asked, _)) = row.asked(panel, p.r, None) else { continue };
            let (own, stack) = match measure {
                From::Boundary | From::Outlines => (Shape::Outline(&part.contour), Stack::Within),
                From::Centre | From::Centres => (Shape::Centre(part.centre), Stack::PointWithin),
            };
            let by = asked + self.takes(loss(part, edge, stack));
            let broken = Broken::NotWithin { own, outline: &edge.contour, sweep: STILL, by };
            out.push(Ban { rule: row.rule, own: p.r, other, broken });
        }
    }

    /// A row of the plan about two parts, in their roles; `first`: the subject's own part is the first.
    fn one(&self, row: &Row, [a, b]: [PartRef; 2], first: bool) -> Option<Found<'a>> {
        let panel = self.panel;
        if !pair::speaks(panel, row, a, b) {
            return None;
        }
        let (pa, pb) = (panel.part(a), panel.part(b));
        let (asked, _) = row.asked(panel, a, Some(b))?;
        let (own, other) = if first { (a, b) } else { (b, a) };
        let mut waits = Vec::new();
        let broken = match *row.relation {
            Relation::Covers { .. } => Broken::Uncovered {
                cover: &pa.contour,
                what: &pb.contour,
                by: asked + self.takes(loss(pb, pa, Stack::Within)),
                own_covers: first,
            },
            Relation::Apart { measure: From::Outlines, .. } => {
                let (own, other) = (panel.part(own).contour.bounds(), panel.part(other).contour.bounds());
                Broken::Alike { own, other, by: asked }
            }
            Relation::Apart { measure, depth, .. } => {
                let (of, from, stack) = match measure {
                    From::Centre => {
                        (Shape::Centre(pa.centre), Shape::Outline(&pb.contour), Stack::PointBoundary)
                    }
                    From::Centres => (Shape::Centre(pa.centre), Shape::Centre(pb.centre), Stack::Points),
                    _ => (Shape::Outline(&pa.contour), Shape::Outline(&pb.contour), Stack::Boundaries),
                };
                let play = panel.play(a, b);
                waits.clone_from(&play.waits);
                let takes = self.takes(loss(pa, pb, stack));
                // what may sway nobody knows how far is withheld as far as it is looked at
                let asked = if play.waits.is_empty() { asked } else { asked + REACH };
                if depth {
                    waits.extend(unknown_depth(panel.part(own), &panel.part_name(own)));
                }
                let moves = measure == From::Boundary;
                let deep = if depth { gap_of(pa, pb, &play, moves) } else { 0.0 };
                // beside and deeper are the sides of a right angle
                let flat = if deep <= SLACK { asked } else { (asked * asked - deep * deep).max(0.0).sqrt() };
                if deep > SLACK && deep >= asked {
                    return None;
                }
                let by = flat + takes;
                let sweep = if moves { turned(play.flat(), first) } else { STILL };
                let (own, other) = if first { (of, from) } else { (from, of) };
                Broken::Nearer { own, other, sweep, by }
            }
            _ => return None,
        };
        Some(Found { ban: Ban { rule: row.rule, own, other, broken }, waits })
    }

    /// What the sway of a floating panel asks of the parts on it and of those beside it.
    fn sways(&self, all: &mut Bans<'a>) {
        let panel = self.panel;
        for (a, b, within) in sway::pairs(panel, self.subject) {
            let (pa, pb) = (panel.part(a), panel.part(b));
            let first = a.subject as usize == self.subject;
            let asked = self.limit(&sway::RULE, a.subject as usize, 0.0);
            let play = panel.play(a, b);
            all.withheld.extend(play.waits.iter().cloned());
            let (own, other) = if first { (a, b) } else { (b, a) };
            let shape = |r: PartRef| Shape::Outline(&panel.part(r).contour);
            let sweep = turned(play.flat(), first);
            let broken = if within {
                let by = asked + self.takes(loss(pa, pb, Stack::Within));
                Broken::NotWithin { own: shape(a), outline: &pb.contour, sweep, by }
            } else {
                let by = asked + self.takes(loss(pa, pb, Stack::Boundaries));
                Broken::Nearer { own: shape(own), other: shape(other), sweep, by }
            };
            all.list.push(Ban { rule: &sway::RULE, own, other, broken });
        }
    }
}

/// A ban, and the numbers that are missing for it.
struct Found<'a> {
    ban: Ban<'a>,
    waits: Vec<String>,
}

impl<'a> Bans<'a> {
    fn take(&mut self, found: Option<Found<'a>>) {
        let Some(Found { ban, waits }) = found else { return };
        self.withheld.extend(waits);
        self.list.push(ban);
    }
}

/// The gap along the depth of two parts of which the first may move.
fn gap_of(a: &Part, b: &Part, play: &Play, moves: bool) -> f64 {
    if !moves || a.depth.is_none() {
        return depth_gap(a, b);
    }
    let ((a0, a1), Some((b0, b1))) = (play.deep(a.depth.unwrap_or_default()), b.depth) else { return 0.0 };
    (a0 - b1).max(b0 - a1).max(0.0)
}

/// What the subject's own part sweeps, where the first of a pair sweeps this: the second moves the other way.
fn turned(r: Rect, first: bool) -> Rect {
    if first { r } else { Rect::new(-r.x1, -r.y1, -r.x0, -r.y0) }
}

/// The words for a depth that is missing.
pub(super) fn unknown_depth(part: &Part, name: &str) -> Option<String> {
    part.depth.is_none().then(|| format!("the depth of {name}"))
}
