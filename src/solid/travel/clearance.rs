//! The least clearance of two solids over the whole domain of all drivers of both, by branch and bound.
//!
//! Each node is a pair of convex sets (pieces, or boxes around several) and a box of the domain, with the proven
//! lower bound of `corners.rs`; the upper bound is the clearance at poses that were looked at. The node with the least
//! bound is cut first, where it costs most: a driver whose paths bend, or a set that is not yet one piece. A node goes
//! when its bound is at least what was asked plus [`BEYOND`], or no more than [`WIDTH`] under the best pose.

use super::chain::Motion;
use super::corners::{Corners, Frame, Range};
use super::reach::{Reach, carrying, chain, domain, middles, moving};
use super::{Chain, LinkRef, Mechanism, Moved};
use crate::geom::SLACK;
use crate::solid::{Clearance, Lie, Solid, Swept, Vec3, distance, gap};
use std::cmp::Ordering;
use std::collections::BinaryHeap;

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
        let Some(mut search) = Search::new(self, o, reach) else {
            return beyond(self.mechanism, f64::INFINITY);
        };
        search.run();
        search.told()
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

/// A pair of sets and a box of the domain.
#[derive(Clone, Copy, Debug)]
struct Open {
    lower: f64,
    /// Counts up: of equal bounds the first made goes first.
    number: usize,
    a: usize,
    b: usize,
    motion: usize,
    frame: usize,
    /// From the origin to the nearest point in that frame.
    to: Vec3,
    level: usize,
}

impl PartialEq for Open {
    fn eq(&self, o: &Open) -> bool {
        self.cmp(o) == Ordering::Equal
    }
}

impl Eq for Open {}

impl PartialOrd for Open {
    fn partial_cmp(&self, o: &Open) -> Option<Ordering> {
        Some(self.cmp(o))
    }
}

impl Ord for Open {
    fn cmp(&self, o: &Open) -> Ordering {
        o.lower.total_cmp(&self.lower).then(o.number.cmp(&self.number))
    }
}

struct Search<'s> {
    a: &'s Reach<'s>,
    b: &'s Reach<'s>,
    reach: f64,
    grow: f64,
    drivers: Vec<usize>,
    middles: Vec<f64>,
    halves: Vec<f64>,
    frames: Vec<Frame>,
    /// Motions of pairs of sets, one a frame.
    motions: Vec<Vec<Motion>>,
    /// Ranges of all nodes, one after the other.
    ranges: Vec<Range>,
    heap: BinaryHeap<Open>,
    /// Least bound of what is settled.
    floor: f64,
    best: Option<Best>,
    corners: Corners,
    boxes: usize,
    calls: usize,
    wide: bool,
}

/// The best pose so far.
#[derive(Clone, Debug)]
struct Best {
    /// Gap of the pieces there, growth taken off.
    gap: f64,
    /// By how much the pieces may be larger than the solids.
    excess: f64,
    at: Vec<f64>,
}

impl<'s> Search<'s> {
    fn new(a: &'s Reach<'s>, b: &'s Reach<'s>, reach: f64) -> Option<Search<'s>> {
        let mechanism = a.mechanism;
        let above = common(mechanism, a.moved.link, b.moved.link);
        let links = |m: &Moved<'_>| {
            let apart = m.link.filter(|&l| Some(l) != above);
            apart.map_or_else(Vec::new, |l| carrying(mechanism, l, m.solid, above))
        };
        let (la, lb) = (links(&a.moved), links(&b.moved));
        let drivers = moving(mechanism, &[la.as_slice(), lb.as_slice()].concat());
        let (ca, cb) = (chain(mechanism, &la, &drivers), chain(mechanism, &lb, &drivers));
        let mut frames = vec![Frame { a: ca.clone(), b: cb.clone() }];
        if !ca.is_empty() {
            frames.push(Frame { a: Chain::default(), b: Chain::across(&ca, &cb) });
        }
        if !cb.is_empty() {
            frames.push(Frame { a: Chain::across(&cb, &ca), b: Chain::default() });
        }
        let ranges = domain(mechanism, &drivers);
        let (middles, halves) = middles(&ranges);
        let mut search = Search {
            a,
            b,
            reach,
            grow: a.moved.grow + b.moved.grow,
            drivers,
            middles,
            halves,
            frames,
            motions: Vec::new(),
            ranges: Vec::new(),
            heap: BinaryHeap::new(),
            floor: f64::INFINITY,
            best: None,
            corners: Corners::default(),
            boxes: 0,
            calls: 0,
            wide: false,
        };
        let (top, other) = (a.tree.top()?, b.tree.top()?);
        let motion = search.motion(top, other)?;
        let root = Open {
            lower: f64::NEG_INFINITY,
            number: 0,
            a: top,
            b: other,
            motion,
            frame: 0,
            to: Vec3::ZERO,
            level: 0,
        };
        search.look(root, &ranges);
        Some(search)
    }

    /// Works out how a pair of sets moves.
    fn motion(&mut self, a: usize, b: usize) -> Option<usize> {
        let (na, nb) = (self.a.tree.get(a)?, self.b.tree.get(b)?);
        let of = |f: &Frame| f.motion(na, nb, &self.middles, &self.halves);
        let all = self.frames.iter().map(of).collect();
        self.motions.push(all);
        Some(self.motions.len() - 1)
    }

    /// A node is settled once its bound is at least this.
    fn enough(&self) -> f64 {
        self.best
            .as_ref()
            .map_or(self.reach, |b| (b.gap - (WIDTH - b.excess).max(WIDTH / 5.0)).min(self.reach))
    }

    fn run(&mut self) {
        while let Some(open) = self.heap.pop() {
            if open.lower >= self.enough() || self.met() {
                self.floor = self.floor.min(open.lower);
                break;
            }
            if self.boxes >= MOST {
                (self.wide, self.floor) = (true, self.floor.min(open.lower));
                break;
            }
            self.cut(open);
        }
    }

    /// Whether an overlap was found.
    fn met(&self) -> bool {
        self.best.as_ref().is_some_and(|b| b.gap < -SLACK)
    }

    /// Cuts a node where it costs most and looks at both halves.
    fn cut(&mut self, open: Open) {
        let width = self.drivers.len();
        let start = open.number * width;
        let mut range: Vec<Range> = self.ranges.get(start..start + width).unwrap_or_default().to_vec();
        let (Some(na), Some(nb)) = (self.a.tree.get(open.a), self.b.tree.get(open.b)) else { return };
        let Some(motion) = self.motions.get(open.motion).and_then(|m| m.get(open.frame)) else { return };
        let moving = range.iter().filter(|r| r[0] < r[1]).count();
        let mut driver: Option<(usize, f64)> = None;
        for (d, r) in range.iter().enumerate() {
            let of = |list: &[f64]| list.get(d).copied().unwrap_or_default();
            let cost = (r[1] - r[0]) / 2.0 * of(&motion.rate);
            let counts = of(&motion.bend) > 0.0 || moving > super::corners::SPREAD;
            if counts && cost > 1e-7 && driver.is_none_or(|(_, most)| cost > most) {
                driver = Some((d, cost));
            }
        }
        let size = |n: &super::tree::Node<'_>| if n.below.is_some() { n.size / 4.0 } else { 0.0 };
        let (sa, sb) = (size(na), size(nb));
        let turn = driver.map_or(0.0, |(_, cost)| cost);
        if let Some(below) = na.below.or(nb.below).filter(|_| sa.max(sb) > turn) {
            let (first, below) =
                (sa >= sb, if sa >= sb { na.below.unwrap_or(below) } else { nb.below.unwrap_or(below) });
            for n in below {
                let (a, b) = if first { (n, open.b) } else { (open.a, n) };
                if let Some(motion) = self.motion(a, b) {
                    self.look(Open { a, b, motion, level: open.level + 1, ..open }, &range);
                }
            }
            return;
        }
        let Some((d, _)) = driver else {
            // nothing left to cut: as good as it gets
            self.floor = self.floor.min(open.lower);
            return;
        };
        let [low, high] = range.get(d).copied().unwrap_or_default();
        let middle = (low + high) / 2.0;
        for half in [[low, middle], [middle, high]] {
            if let Some(slot) = range.get_mut(d) {
                *slot = half;
            }
            self.look(Open { level: open.level + 1, ..open }, &range);
        }
    }

    /// Bounds a node, looks at a pose of it, and keeps it open if it is not settled.
    fn look(&mut self, from: Open, range: &[Range]) {
        let (Some(na), Some(nb)) = (self.a.tree.get(from.a), self.b.tree.get(from.b)) else { return };
        self.boxes += 1;
        let round = na.radius + nb.radius + self.grow;
        let enough = self.enough();
        let mut open = from;
        // the parent's best frame first; the others now and then
        let count = self.frames.len();
        let tries = if from.level % 3 == 0 { count } else { 1 };
        let mut pose = None;
        for n in 0..tries {
            let f = (from.frame + n) % count;
            let (Some(frame), Some(motion)) =
                (self.frames.get(f), self.motions.get(from.motion).and_then(|m| m.get(f)))
            else {
                continue;
            };
            self.corners.set(frame, motion, range);
            let stray = self.corners.stray();
            let start = if n == 0 { from.to } else { Vec3::ZERO };
            let tolerance = 1e-3 + stray / 8.0;
            self.calls += 1;
            let found = self.corners.nearest(na, nb, start, enough + round + stray, tolerance);
            let lower = found.lower - round - stray;
            if n == 0 || lower > open.lower {
                (open.lower, open.frame, open.to) = (lower.max(from.lower), f, found.to);
                pose = Some((self.corners.at(&found), found.upper - round));
            }
            if open.lower >= enough {
                self.floor = self.floor.min(open.lower);
                return;
            }
        }
        // a pose can only be better than the best if the hull is
        if let (Some((at, hull)), Some(pa), Some(pb)) = (pose, na.piece, nb.piece) {
            if self.best.as_ref().is_none_or(|b| hull < b.gap) {
                let gap = self.gap_at(from.a, from.b, &at, round);
                if self.best.as_ref().is_none_or(|b| gap < b.gap) {
                    self.best = Some(Best { gap, excess: pa.excess + pb.excess, at });
                }
            }
        }
        if open.lower >= self.enough() {
            self.floor = self.floor.min(open.lower);
            return;
        }
        // its number is its place among the ranges
        open.number = self.ranges.len() / range.len().max(1);
        if range.is_empty() {
            open.number = self.boxes;
        }
        self.ranges.extend_from_slice(range);
        self.heap.push(open);
    }

    /// Gap of two pieces at a pose, growth and rounding taken off.
    fn gap_at(&mut self, a: usize, b: usize, at: &[f64], round: f64) -> f64 {
        let (Some(na), Some(nb), Some(frame)) = (self.a.tree.get(a), self.b.tree.get(b), self.frames.first())
        else {
            return f64::INFINITY;
        };
        self.corners.point(frame, at);
        self.calls += 1;
        let found = self.corners.nearest(na, nb, Vec3::ZERO, f64::INFINITY, 1e-6);
        if found.upper > 0.0 {
            return found.upper - round;
        }
        // one core in the other: how deep tells a touch from an overlap
        let (Some(p), Some(q)) = (na.piece, nb.piece) else { return f64::INFINITY };
        let (p, q) = (p.moved(&frame.a.pose(at)), q.moved(&frame.b.pose(at)));
        gap(&Swept::still(&p), &Swept::still(&q), 0.0).lower - self.grow
    }

    /// The answer.
    fn told(self) -> Travelled {
        let mechanism = self.a.mechanism;
        let lower = self.heap.peek().map_or(self.floor, |open| self.floor.min(open.lower));
        let Some(best) = self.best else {
            return Travelled {
                over: !self.wide,
                wide: self.wide,
                boxes: self.boxes,
                calls: self.calls,
                ..beyond(mechanism, lower)
            };
        };
        let mut pose = mechanism.neutral();
        for (&d, &t) in self.drivers.iter().zip(&best.at) {
            if let Some(slot) = pose.get_mut(d) {
                *slot = t;
            }
        }
        let there = at_pose(mechanism, &self.a.moved, &self.b.moved, &pose);
        let Clearance { relation, depth, points, .. } = there;
        let upper = (best.gap + best.excess).min(there.upper);
        // of an overlap that pose is told, not how deep they come elsewhere
        let lower = if relation == Lie::Overlap { there.lower.min(upper) } else { lower.min(upper) };
        let over = lower >= self.reach && !self.wide;
        Travelled {
            lower,
            upper,
            over,
            wide: self.wide,
            relation,
            depth,
            pose,
            points,
            boxes: self.boxes,
            calls: self.calls,
        }
    }
}

/// How two solids, grown, lie at one pose of all drivers.
fn at_pose(mechanism: &Mechanism, a: &Moved<'_>, b: &Moved<'_>, pose: &[f64]) -> Clearance {
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

/// The link that both hang on, nearest to them; `None`: only the airframe.
fn common(mechanism: &Mechanism, a: Option<LinkRef>, b: Option<LinkRef>) -> Option<LinkRef> {
    let (a, b) = (a?, b?);
    mechanism.down(a).find(|&l| mechanism.down(b).any(|m| m == l))
}
