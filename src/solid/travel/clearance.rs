//! The least clearance of two solids over the whole domain of all drivers of both, by branch and bound.
//!
//! The search is in `search.rs`; this file says what is asked and what is answered.

use super::search::{Answer, Best, Search};
use super::{Mechanism, Moved, Reach};
use crate::geom::SLACK;
use crate::solid::{Clearance, Lie, Solid, Vec3, distance};

/// Farther than asked by so much, mm, only "over" is told.
pub const BEYOND: f64 = 25.0;

/// Greatest width of the answer where it is nearer than that, mm.
pub const WIDTH: f64 = 0.05;

/// Nodes after which it stops with what it has, and says so.
pub const MOST: usize = 20_000;

/// How near two things come over the whole travel.
#[derive(Clone, Debug, PartialEq)]
pub struct Travelled {
    /// Nowhere nearer than this, mm, growth taken off; certified. Not above zero where they may meet; of an overlap
    /// it is that of the pose told.
    pub lower: f64,
    /// At the pose told they are no farther than this; infinite where no pose needed to be looked at.
    pub upper: f64,
    /// They stay farther apart than asked plus 25 mm; how much farther was not looked into.
    pub over: bool,
    /// The count of nodes ran out before the answer was narrow enough.
    pub wide: bool,
    /// How they lie at the pose told.
    pub relation: Lie,
    /// Of an overlap at the pose told, where both are convex: how far one has to move to come free.
    pub depth: Option<f64>,
    /// All drivers, where the clearance is least of what was looked at; those that do not matter are at rest.
    pub pose: Vec<f64>,
    /// Nearest points there, on the first and on the second (grown), panel's frame.
    pub points: [Vec3; 2],
    /// Nodes looked at.
    pub boxes: usize,
    /// Distances asked for.
    pub calls: usize,
}

/// The least clearance of two solids over the whole travel; see [`Reach::clearance`].
pub fn clearance(mechanism: &Mechanism, a: Moved<'_>, b: Moved<'_>, asked: f64) -> Travelled {
    Reach::new(mechanism, a).clearance(&Reach::new(mechanism, b), asked)
}

impl Reach<'_> {
    /// The least clearance over the whole domain (stops widened by overtravel) of all drivers that move the two
    /// against each other: at most [`WIDTH`] wide (or what the pieces of bent tubes have too much, if more) where it
    /// is under `asked` plus [`BEYOND`], else "over". An overlap ends the search at the pose where it was found.
    /// Both must be of one mechanism.
    pub fn clearance(&self, o: &Reach<'_>, asked: f64) -> Travelled {
        let reach = asked + BEYOND;
        let boxes = self.bounds().distance(&o.bounds());
        if boxes >= reach {
            return beyond(self.mechanism, boxes);
        }
        let Some(mut search) = Search::new(self, o, reach, Answer::Least) else {
            return beyond(self.mechanism, f64::INFINITY);
        };
        search.run();
        told(&search)
    }
}

impl Reach<'_> {
    /// Whether the two may come within `reach`, not negative, of each other anywhere in their travel: what [`Reach::clearance`] knows,
    /// without the pose and how they lie there. Both must be of one mechanism.
    pub fn meets(&self, o: &Reach<'_>, reach: f64) -> bool {
        if self.bounds().distance(&o.bounds()) > reach {
            return false;
        }
        let Some(mut search) = Search::new(self, o, reach, Answer::Meets) else { return false };
        search.run();
        search.wide || search.best.as_ref().is_some_and(|b| b.gap <= reach) || search.lower() <= reach
    }
}

/// Far apart, without a look at any pose.
fn beyond(mechanism: &Mechanism, lower: f64) -> Travelled {
    Travelled {
        lower,
        upper: f64::INFINITY,
        over: true,
        wide: false,
        relation: Lie::Apart,
        depth: None,
        pose: mechanism.neutral(),
        points: [Vec3::ZERO; 2],
        boxes: 0,
        calls: 0,
    }
}

/// The answer of a search that has ended.
fn told(search: &Search<'_>) -> Travelled {
    let mechanism = search.a.mechanism;
    let (lower, wide) = (search.lower(), search.wide);
    let looked = Travelled { boxes: search.boxes, calls: search.calls, wide, ..beyond(mechanism, lower) };
    let Some(Best { gap, excess, at }) = &search.best else { return Travelled { over: !wide, ..looked } };
    let mut pose = mechanism.neutral();
    for (&d, &t) in search.drivers.iter().zip(at) {
        if let Some(slot) = pose.get_mut(d) {
            *slot = t;
        }
    }
    let there = at_pose(mechanism, &search.a.moved, &search.b.moved, &pose);
    let Clearance { relation, depth, points, .. } = there;
    let upper = (gap + excess).min(there.upper);
    // of an overlap that pose is told, not how deep they come elsewhere
    let lower = if relation == Lie::Overlap { there.lower.min(upper) } else { lower.min(upper) };
    let over = lower >= search.reach && !wide;
    Travelled { lower, upper, over, relation, depth, pose, points, ..looked }
}

/// How two solids, grown, lie at one pose of all drivers.
pub fn at_pose(mechanism: &Mechanism, a: &Moved<'_>, b: &Moved<'_>, pose: &[f64]) -> Clearance {
    let stand = |m: &Moved<'_>| -> Solid {
        m.link.map_or_else(|| m.solid.clone(), |l| m.solid.moved(&mechanism.pose(l, pose)))
    };
    let c = distance(&stand(a), &stand(b));
    let grow = a.grow + b.grow;
    let [p, q] = c.points;
    let away = (q - p).unit().filter(|_| c.lower > 0.0);
    let points = away.map_or(c.points, |n| [p + n * a.grow, q - n * b.grow]);
    let gap = c.lower - grow;
    let relation = if gap > SLACK {
        Lie::Apart
    } else if gap >= -SLACK {
        Lie::Touching
    } else {
        Lie::Overlap
    };
    let convex = a.solid.is_convex() && b.solid.is_convex() && relation == Lie::Overlap;
    let apart = c.relation != Lie::Overlap;
    let depth = convex.then_some(if apart { -gap } else { c.depth.unwrap_or(0.0) + grow });
    Clearance { lower: gap, upper: c.upper - grow, relation, depth, points }
}
