//! Room for tools on fasteners, and behind screws: tool-reach and screw-behind in another form.

use super::super::joined::joined;
use super::super::judge::{Stack, loss};
use super::super::removal::fixed;
use super::super::{Rule, screw_behind, tool_reach};
use super::{Asker, Ban, Bans, Body, Broken, STILL, Shape};
use crate::geom::{Contour, Point, SLACK};
use crate::panel::{Part, PartRef};
use std::borrow::Cow;

/// A round stretch along the depth about a fastener.
pub(in crate::check) struct Pin {
    /// The fastener's part.
    pub part: usize,
    /// Its axis.
    pub at: Point,
    /// Radius, mm.
    pub radius: f64,
    /// Depths between which it lies.
    pub depth: (f64, f64),
}

impl<'a> Asker<'a> {
    /// Tools and screws of the subject and of the others.
    pub(super) fn tools(&self, all: &mut Bans<'a>) {
        let panel = self.panel;
        for rule in [&tool_reach::RULE, &screw_behind::RULE] {
            let pins = |s: usize| {
                if std::ptr::eq(rule, &tool_reach::RULE) {
                    tool_reach::pins(panel, s)
                } else {
                    screw_behind::pins(panel, s)
                }
            };
            let own = pins(self.subject);
            for pin in &own {
                for (other, solid) in fixed(panel) {
                    self.fixed(rule, pin, other, Body::Still(solid), all);
                }
            }
            for other in (0..panel.subjects.len()).filter(|o| *o != self.subject) {
                for pin in &own {
                    self.beside(rule, [self.subject, other], pin, all);
                }
                for pin in pins(other) {
                    self.beside(rule, [other, self.subject], &pin, all);
                }
            }
        }
    }

    /// What a rule asks of a pin and of what is fixed.
    fn fixed(&self, rule: &'static Rule, pin: &Pin, other: PartRef, body: Body<'a>, all: &mut Bans<'a>) {
        let terms: f64 = self.panel.part(other).terms.iter().map(|t| t.grow + t.shift).sum();
        let by = self.asked(rule, self.subject) + self.takes(terms);
        let own = Cow::Owned(Contour::circle(pin.at, pin.radius));
        let broken = Broken::Meets { own, depth: pin.depth, sweep: STILL, other: body, by };
        all.list.push(Ban { rule, own: self.own(pin.part), other, broken });
    }

    fn asked(&self, rule: &'static Rule, subject: usize) -> f64 {
        let own = if std::ptr::eq(rule, &tool_reach::RULE) { 0.0 } else { 3.0 };
        self.limit(rule, subject, own)
    }

    /// A pin of the first subject and the parts of the second.
    fn beside(&self, rule: &'static Rule, [s, o]: [usize; 2], pin: &Pin, all: &mut Bans<'a>) {
        let panel = self.panel;
        let screw = std::ptr::eq(rule, &screw_behind::RULE);
        let matters = |k: usize| {
            if screw {
                screw_behind::matters_to(panel, s, o, k)
            } else {
                tool_reach::matters_to(panel, s, o, k)
            }
        };
        let Some(other) = panel.subjects.get(o) else { return };
        let of = PartRef { subject: s as u32, part: pin.part as u32 };
        let asked = self.asked(rule, s);
        for (k, part) in other.parts.iter().enumerate().filter(|(k, _)| matters(*k)) {
            let to = PartRef { subject: o as u32, part: k as u32 };
            if joined(panel, of, to) {
                continue;
            }
            let takes = self.takes(loss(panel.part(of), part, Stack::PointBoundary));
            let Some(by) = room(pin, part, asked + takes, screw) else { continue };
            let (pin_at, outline) = (Shape::Centre(pin.at), Shape::Outline(&part.contour));
            let own_first = s == self.subject;
            let (own, other) = if own_first { (of, to) } else { (to, of) };
            let (a, b) = if own_first { (pin_at, outline) } else { (outline, pin_at) };
            let broken = Broken::Nearer { own: a, other: b, sweep: STILL, by: pin.radius + by };
            all.list.push(Ban { rule, own, other, broken });
        }
    }
}

/// How far beside a pin a part has to stay; `None` where their depths settle it.
fn room(pin: &Pin, part: &Part, asked: f64, deeper_counts: bool) -> Option<f64> {
    let (from, to) = part.depth?;
    let deep = (from - pin.depth.1).max(pin.depth.0 - to);
    if !deeper_counts {
        return (deep < -SLACK).then_some(asked);
    }
    if deep >= asked {
        return None;
    }
    Some(if deep > 0.0 { (asked * asked - deep * deep).max(0.0).sqrt() } else { asked })
}
