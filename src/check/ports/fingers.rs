//! Room for fingers round what they hold: how wide an unbroken three quarters of the round about its axis is free.
//!
//! Looked at in the plane across the axis: what shares any of its length is laid flat there. Of prisms along the depth that
//! is exact, and the sweep is told between whole degrees: not less than the lower end, not more than the upper. Of another
//! solid the silhouette is taken first; where that is not free enough, of each degree the certified distance from the
//! wedge in question decides.

use super::super::Interval;
use super::around::{Around, Block, Movers};
use super::grip::Grip;
use crate::geom::ahead::Ahead;
use crate::geom::{Contour, Point, Rect, SLACK, Segment, Vec2, angle};
use crate::panel::{Panel, PartRef};
use crate::solid::{self, Pose, Shape, Solid};
use std::borrow::Cow;
use std::f64::consts::PI;

/// Degrees that are to be free in one sweep.
const SWEEP: usize = 270;

/// A solid that comes so much nearer than is asked, mm, surely does.
const SURELY: f64 = 0.01;

/// Half of what something without end takes, mm.
const FAR: f64 = 1e5;

/// What round a grip is in the way.
#[derive(Clone, Debug)]
pub struct Round<'a> {
    grip: &'a Grip,
    asked: f64,
    /// Nearest by direction, as drawn and at the worst tolerances.
    drawn: Ahead,
    worst: Ahead,
    /// What is surely no farther: bounds the room from above.
    surely: Ahead,
    /// Names of what stands within what is asked, nearest first, and their parts.
    by: Vec<(f64, String, Option<PartRef>)>,
    /// Numbers of the sway that are missing.
    pub waits: Vec<String>,
}

/// The room found.
#[derive(Clone, Debug, PartialEq)]
pub struct Fingers {
    /// As drawn, mm beyond the grip's surface; infinite: nothing is near.
    pub room: Interval,
    /// What the worst tolerances take off it, mm.
    pub loss: f64,
    /// Whether the lower end is what is there, not only what is known.
    pub sure: bool,
    /// What is in the way, nearest first.
    pub by: Vec<(String, Option<PartRef>)>,
}

impl<'a> Round<'a> {
    /// Gathers what stands within `reach` of a grip's surface but the item's own plugs.
    pub fn of(panel: &'a Panel, beyond: f64, grip: &'a Grip, asked: f64, reach: f64) -> Round<'a> {
        let exit = grip.as_exit();
        let middle = Point::new(grip.at.x, grip.at.y);
        let out = grip.outline().farthest(middle) + reach + beyond;
        let none = Movers::default();
        let around = Around::of(panel, &none, &exit, out, 0.0);
        let at = if grip.straight_behind() { middle } else { Point::ORIGIN };
        let clear = Ahead::of(at);
        let mut round = Round {
            grip,
            asked,
            drawn: clear.clone(),
            worst: clear.clone(),
            surely: clear,
            by: Vec::new(),
            waits: around.waits.clone(),
        };
        // its own bodies are its maker's
        let others = || around.blocks.iter().filter(|b| !b.own);
        for b in others() {
            round.block(panel, b, reach);
        }
        if let Some(floor) = around.floor.filter(|_| !grip.straight_behind()) {
            let floor = Rect::new(-FAR, floor - grip.at.d, FAR, FAR);
            round.wall(&flat(floor), around.off, reach, true, || {
                ("the room that is left behind the sheet".into(), None)
            });
        }
        round
    }

    /// Takes in a plug of the same item.
    pub fn beside(&mut self, panel: &Panel, other: &Grip, reach: f64) {
        let (low, high) = other.depth();
        let outline = other.outline();
        if let Some(section) = self.section(&outline, low, high) {
            self.wall(&section, 0.0, reach, true, || (panel.part_name(other.part), Some(other.part)));
        }
    }

    fn block(&mut self, panel: &Panel, b: &Block<'_>, reach: f64) {
        let Some(section) = self.section(&b.contour, b.low, b.high) else { return };
        let name = || match (b.name, b.part) {
            (Some(name), _) => (name.to_string(), b.part),
            (None, Some(part)) => (panel.part_name(part), b.part),
            (None, None) => (String::new(), None),
        };
        let Some(solid) = b.solid.filter(|s| !upright(s)) else {
            self.wall(&section, b.loss, reach, b.sure, name);
            return;
        };
        let mut flat = [Ahead::of(self.drawn.at()), Ahead::of(self.drawn.at())];
        for (ahead, grow) in flat.iter_mut().zip([b.sway, b.sway + b.loss]) {
            ahead.meet(&section, grow);
        }
        let within = self.grip.radius + self.asked;
        if flat[1].sweep(SWEEP) < within && self.grip.straight_behind() {
            self.wedges(&mut flat, solid, b, within);
        }
        self.seen(&flat, reach, name);
    }

    /// Asks of each degree whether the solid itself comes into it within what is asked.
    fn wedges(&mut self, flat: &mut [Ahead; 2], solid: &Solid, b: &Block<'_>, within: f64) {
        let (from, to) = self.grip.depth();
        let wedge = |k: usize, long: f64| {
            let end = |k: usize| {
                let (s, c) = angle::sin_cos_deg(k as f64);
                self.drawn.at() + Vec2::new(c, s) * long
            };
            let section = Contour::polygon(&[self.drawn.at(), end(k), end(k + 1)]);
            Solid::new(Shape::Prism { section, from, to }, Pose::IDENTITY).ok()
        };
        let mut met = Vec::new();
        for k in 0..360 {
            if flat[1].within(k) >= within {
                continue;
            }
            // the chord lies beyond the arc
            let Some(outer) = wedge(k, within / libm::cos(PI / 360.0)) else { continue };
            for (ahead, grow) in flat.iter_mut().zip([b.sway, b.sway + b.loss]) {
                if !solid::nearer(&outer, solid, grow) {
                    ahead.set(k, within.max(ahead.within(k)));
                }
            }
            let surely = within - SURELY;
            let inner = wedge(k, surely).filter(|_| b.sway == 0.0 && b.sure);
            if inner.is_some_and(|w| solid::distance(&w, solid).relation == solid::Lie::Overlap) {
                met.push((k, surely));
            }
        }
        for (k, surely) in met {
            self.surely.set(k, self.surely.within(k).min(surely));
        }
    }

    fn wall(
        &mut self,
        section: &Contour,
        loss: f64,
        reach: f64,
        sure: bool,
        name: impl Fn() -> (String, Option<PartRef>),
    ) {
        let mut flat = [Ahead::of(self.drawn.at()), Ahead::of(self.drawn.at())];
        flat[0].meet(section, 0.0);
        flat[1].meet(section, loss);
        if sure {
            self.surely.take(&flat[0]);
        }
        self.seen(&flat, reach, name);
    }

    fn seen(&mut self, flat: &[Ahead; 2], reach: f64, name: impl Fn() -> (String, Option<PartRef>)) {
        let nearest = flat[1].nearest();
        if nearest >= self.grip.radius + reach {
            return;
        }
        self.drawn.take(&flat[0]);
        self.worst.take(&flat[1]);
        if nearest < self.grip.radius + self.asked - SLACK {
            let (name, part) = name();
            if !self.by.iter().any(|(_, n, _)| *n == name) {
                self.by.push((nearest, name, part));
            }
        }
    }

    /// What a prism along the depth shows across the grip's axis; `None` where it shares none of its length.
    fn section<'c>(&self, outline: &'c Contour, low: f64, high: f64) -> Option<Cow<'c, Contour>> {
        let g = self.grip;
        if g.straight_behind() {
            let (from, to) = g.depth();
            return (low < to - SLACK && high > from + SLACK).then_some(Cow::Borrowed(outline));
        }
        let (a, b) = across(outline, g)?;
        (high > low).then(|| Cow::Owned(flat(Rect::new(a, low - g.at.d, b, high - g.at.d))))
    }

    /// The room.
    pub fn fingers(&self) -> Fingers {
        let r = self.grip.radius;
        let lower = self.drawn.sweep(SWEEP) - r;
        let upper = (self.surely.sweep(SWEEP - 1) - r).max(lower);
        let worst = self.worst.sweep(SWEEP) - r;
        let loss = if lower.is_finite() { (lower - worst).max(0.0) } else { 0.0 };
        let mut by = self.by.clone();
        by.sort_by(|a, b| a.0.total_cmp(&b.0));
        let by = by.into_iter().map(|(_, name, part)| (name, part)).collect();
        let sure = (self.surely.sweep(SWEEP) - r - lower).abs() <= SLACK || lower.is_infinite();
        Fingers { room: Interval { lower, upper }, loss, sure, by }
    }
}

/// A rectangle in the plane across a grip.
fn flat(r: Rect) -> Contour {
    Contour::rect(r.center(), r.width(), r.height(), 0.0)
}

/// Whether a solid is as its silhouette drawn out over its depth: a prism or box that stands along it.
fn upright(s: &Solid) -> bool {
    let [_, _, d] = s.pose().columns();
    let along = (d.d.abs() - 1.0).abs() < 1e-12;
    along && matches!(s.shape(), Shape::Prism { .. } | Shape::Box(_) | Shape::Cylinder { .. })
}

/// Between which distances to the left of a sideways grip's axis an outline lies along its length.
fn across(outline: &Contour, g: &Grip) -> Option<(f64, f64)> {
    let u = Vec2::new(g.axis.x, g.axis.y);
    let n = Vec2::new(-u.y, u.x);
    let at = Point::new(g.at.x, g.at.y);
    let strip = [SLACK, g.long - SLACK];
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    let mut take = |p: Point| {
        let off = (p - at).dot(n);
        (low, high) = (low.min(off), high.max(off));
    };
    let inside = |p: Point| (strip[0]..=strip[1]).contains(&(p - at).dot(u));
    for s in outline.segments() {
        [s.start(), s.end()].into_iter().filter(|p| inside(*p)).for_each(&mut take);
        for edge in strip {
            match s {
                Segment::Line(l) => {
                    let (a, b) = ((l.a - at).dot(u) - edge, (l.b - at).dot(u) - edge);
                    if a * b <= 0.0 && a != b {
                        take(l.a.lerp(l.b, a / (a - b)));
                    }
                }
                Segment::Arc(a) => {
                    let c = (a.centre - at).dot(u) - edge;
                    let square = a.radius * a.radius - c * c;
                    if square < 0.0 {
                        continue;
                    }
                    for side in [-square.sqrt(), square.sqrt()] {
                        let v = u * -c + n * side;
                        if a.faces(v) {
                            take(a.centre + v);
                        }
                    }
                }
            }
        }
        if let Segment::Arc(a) = s {
            for v in [n, -n] {
                let p = a.centre + v * a.radius;
                if a.faces(v) && inside(p) {
                    take(p);
                }
            }
        }
    }
    (high > low + SLACK).then_some((low, high))
}
