//! What is asked of bodies, plugs and what stands in front against the airframe: obstacle-clear, control-clear, and of
//! comes-out what is fixed.

use super::super::control_clear;
use super::super::judge::{Stack, loss};
use super::super::obstacle_clear::{self, STANDS, is_item};
use super::super::removal::{self, MOVES_OUT};
use super::super::space::{Known, Space, range_of};
use super::super::{REACH, Rule, comes_out};
use super::pairs::unknown_depth;
use super::{Asker, Ban, Bans, Body, Broken, Travel};
use crate::panel::PartRef;
use crate::solid::travel::{Moved, Reach, WIDTH};
use std::borrow::Cow;
use std::rc::Rc;

impl<'a> Asker<'a> {
    /// Against what is fixed, and against what moves over its travel.
    pub(super) fn airframe(&self, all: &mut Bans<'a>) {
        let panel = self.panel;
        let Some(s) = panel.subjects.get(self.subject).filter(|s| is_item(s.kind)) else { return };
        let space = Space::of(panel);
        let travels: Vec<Rc<Travel<'a>>> = space
            .moving
            .iter()
            .map(|m| {
                let Moved { solid, link, grow } = *m.reach.moved();
                Rc::new(Travel::new(Reach::new(&panel.space.mechanism, Moved { solid, link, grow })))
            })
            .collect();
        let [still, moving]: [&'static Rule; 2] = [&obstacle_clear::RULE, &control_clear::RULE];
        for (k, part) in s.parts.iter().enumerate().filter(|(_, p)| STANDS.has(p.class)) {
            let own = self.own(k);
            let mut meets = |rule: &'static Rule, other: PartRef, body: Body<'a>, by: f64| {
                let play = panel.play(own, other);
                all.withheld.extend(play.waits.iter().cloned());
                let (depth, known) = range_of(part, &play);
                if known == Known::Side {
                    all.withheld.extend(unknown_depth(part, &panel.part_name(own)));
                }
                let open = if play.waits.is_empty() { 0.0 } else { REACH };
                let by = by + open + self.takes(loss(part, panel.part(other), Stack::Boundaries));
                let own_shape = Cow::Borrowed(&part.contour);
                let broken = Broken::Meets { own: own_shape, depth, sweep: play.flat(), other: body, by };
                all.list.push(Ban { rule, own, other, broken });
            };
            let asked = self.limit(still, self.subject, 6.0);
            for fixed in &space.fixed {
                meets(still, fixed.part, Body::Still(fixed.solid), asked);
            }
            let asked = self.limit(moving, self.subject, control_clear::CLEAR);
            for (m, travel) in space.moving.iter().zip(&travels) {
                if panel.space.exempt(m.link, own, None) {
                    continue;
                }
                // a travel that is not known whole is withheld as far as it is looked at
                let open = if m.waits.is_some() { REACH } else { 0.0 };
                // the measure is certain to its width
                let by = asked.max(m.hand.unwrap_or(0.0)) + open + WIDTH;
                meets(moving, m.part, Body::Moves(travel.clone()), by);
            }
        }
        for m in &space.moving {
            all.withheld.extend(m.waits.iter().cloned());
        }
        self.way_out(all);
    }

    /// The way out on the only side from which the item is served.
    fn way_out(&self, all: &mut Bans<'a>) {
        let asked = self.limit(&comes_out::RULE, 0, 1.0);
        let Some(swept) = removal::only_way(self.panel, self.subject) else { return };
        for (k, from, to) in swept {
            let Some(part) = self.panel.subjects.get(self.subject).and_then(|s| s.parts.get(k)) else {
                continue;
            };
            if !MOVES_OUT.has(part.class) {
                continue;
            }
            for (other, solid) in removal::fixed(self.panel) {
                let own = Cow::Borrowed(&part.contour);
                let other_body = Body::Still(solid);
                let sweep = removal::below(self.panel.drop(self.own(k)));
                let broken = Broken::Meets { own, depth: (from, to), sweep, other: other_body, by: asked };
                all.list.push(Ban { rule: &comes_out::RULE, own: self.own(k), other, broken });
            }
        }
    }
}
