//! The airframe made ready for the rules that ask about it: solids of obstacles, and what moves with its reach.

mod at;
mod least;
mod part;
mod plate;
mod pose;

use super::judge::most_loss;
use super::own::{Teller, length};
use super::ports::Movers;
use crate::geom::Point;
use crate::panel::{Detail, Panel, PartRef, SubjectKind};
use crate::solid::travel::{Moved, Reach};
use crate::solid::{Bounds, Solid, Vec3};
pub use at::nearest_at;
pub use least::{LOOKED, Least, Nearest, least_clearances};
pub(super) use part::{Known, around_moving, moving, range_of};
pub(super) use plate::{looked_at, plates};
pub(super) use pose::{in_words, of_links};
pub use pose::{unit, words};
use std::sync::{Arc, OnceLock};

/// The airframe of one panel.
pub struct Space<'a> {
    /// The panel.
    pub(super) panel: &'a Panel,
    /// Fixed solids.
    pub(super) fixed: Vec<Fixed<'a>>,
    /// What moves.
    pub(super) moving: Vec<Moving<'a>>,
    movers: OnceLock<Movers<'a>>,
    most_loss: OnceLock<f64>,
    /// Where what moves sweeps, from an earlier check of the same airframe.
    swept: Swept,
}

/// Boxes that hold what moves over its whole travel: of the airframe alone, so that they stay while items are moved.
#[derive(Clone, Debug, Default)]
pub(super) struct Swept {
    moving: Vec<Arc<[Bounds]>>,
    movers: Option<Vec<Arc<[Bounds]>>>,
}

/// A fixed solid.
pub(super) struct Fixed<'a> {
    pub part: PartRef,
    pub solid: &'a Solid,
}

/// A solid that moves, over its whole travel.
pub(super) struct Moving<'a> {
    pub part: PartRef,
    pub link: usize,
    pub reach: Reach<'a>,
    pub bounds: Bounds,
    /// Room for the hand that holds it, mm.
    pub hand: Option<f64>,
    /// The numbers without which its travel is not known, in words.
    pub waits: Option<String>,
}

impl Moving<'_> {
    /// What is asked of something beside it, mm: the limit, and no less than the room for the hand that holds it.
    pub fn asked(&self, t: &Teller<'_>, limit: f64) -> f64 {
        t.asked(limit).max(self.hand.unwrap_or(0.0))
    }
}

/// Whether anything of the airframe is known.
pub(super) fn known(panel: &Panel) -> bool {
    // they stand behind all that was placed
    panel.subjects.iter().rev().any(|s| matches!(s.kind, SubjectKind::Obstacle | SubjectKind::Control))
}

impl<'a> Space<'a> {
    /// The airframe of a panel.
    pub(super) fn of(panel: &'a Panel) -> Space<'a> {
        Space::again(panel, Swept::default())
    }

    /// The same where it is known already what its moving solids sweep.
    pub(super) fn again(panel: &'a Panel, swept: Swept) -> Space<'a> {
        let mut known = swept.moving.iter();
        let (mut fixed, mut moving) = (Vec::new(), Vec::new());
        let mechanism = &panel.space.mechanism;
        for (n, s) in panel.subjects.iter().enumerate() {
            for (k, p) in s.parts.iter().enumerate() {
                let part = PartRef { subject: n as u32, part: k as u32 };
                match &p.detail {
                    Detail::Obstacle { solid, .. } => fixed.push(Fixed { part, solid }),
                    Detail::Moving { solid, link, hand, .. } if *link < mechanism.links.len() => {
                        let grow = mechanism.allowance(*link).unwrap_or(0.0);
                        let moved = Moved { solid, link: Some(*link), grow };
                        let reach = Reach::knowing(mechanism, moved, known.next());
                        let bounds = reach.bounds();
                        let waits = unsaid(panel, *link);
                        moving.push(Moving { part, link: *link, reach, bounds, hand: *hand, waits });
                    }
                    _ => {}
                }
            }
        }
        Space { panel, fixed, moving, movers: OnceLock::new(), most_loss: OnceLock::new(), swept }
    }

    /// What the moving solids sweep, for the next check.
    pub(super) fn swept(&self) -> Swept {
        let moving = self.moving.iter().map(|m| m.reach.swept().clone()).collect();
        let movers = self.movers.get().map(Movers::swept);
        Swept { moving, movers: movers.or_else(|| self.swept.movers.clone()) }
    }

    /// The most that the tolerances of any part can take away, mm.
    pub(super) fn most_loss(&self) -> f64 {
        let all = || self.panel.subjects.iter().flat_map(|s| &s.parts);
        *self.most_loss.get_or_init(|| all().map(most_loss).fold(0.0, f64::max))
    }

    /// What moves, hands on it, for the ports.
    pub(super) fn movers(&self) -> &Movers<'a> {
        let known = self.swept.movers.as_deref().unwrap_or_default();
        self.movers.get_or_init(|| Movers::knowing(self.panel, known))
    }
}

/// The numbers that a link's travel waits for.
fn unsaid(panel: &Panel, link: usize) -> Option<String> {
    let mechanism = &panel.space.mechanism;
    let mut words: Vec<String> = Vec::new();
    let mut at = Some(link);
    while let Some(l) = at {
        let Some(link) = mechanism.links.get(l) else { break };
        if link.allowance.is_none() {
            words.push(format!("the play and flexing of {} under the pilot's effort (allowance)", link.id));
        }
        at = link.on;
    }
    for d in mechanism.movers(link) {
        if let Some(d) = mechanism.drivers.get(d).filter(|d| d.over.is_none()) {
            words.push(format!("how far {} can be forced past its stops (over)", d.id));
        }
    }
    if words.is_empty() { None } else { Some(words.join("; ")) }
}

/// A place on the panel seen from the seat.
pub(super) fn flat(p: Vec3) -> Point {
    Point::new(p.x, p.y)
}

/// Which way a vector points, in words.
pub(super) fn towards(v: Vec3) -> &'static str {
    let (x, y, d) = (v.x.abs(), v.y.abs(), v.d.abs());
    match (x >= y && x >= d, y >= d) {
        (true, _) if v.x >= 0.0 => "to the right",
        (true, _) => "to the left",
        (false, true) if v.y >= 0.0 => "above",
        (false, true) => "below",
        _ if v.d >= 0.0 => "behind",
        _ => "in front",
    }
}

/// The smallest move on the panel that brings `short` more room away from what lies in the direction `v`, in words;
/// none where it lies before or behind rather than beside.
pub(super) fn cure(panel: &Panel, v: Vec3, short: f64) -> Option<String> {
    let (flat, whole) = ((v.x * v.x + v.y * v.y).sqrt(), v.length());
    if whole <= 0.0 || flat < 0.5 * whole {
        return None;
    }
    // along one axis only, and a tenth of a millimetre up, so that the move told is enough
    let share = v.x.abs().max(v.y.abs()) / whole;
    let by = (short / share * 10.0 - 1e-6).ceil() / 10.0;
    let way = match (v.x.abs() >= v.y.abs(), v.x > 0.0, v.y > 0.0) {
        (true, true, _) => "left",
        (true, false, _) => "right",
        (false, _, true) => "down",
        (false, _, false) => "up",
    };
    Some(format!("move it {} {way}", length(panel, by)))
}
