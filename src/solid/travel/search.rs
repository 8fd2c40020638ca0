//! Branch and bound over pairs of pieces and boxes of the drivers' domain.
//!
//! Each node is a pair of convex sets (pieces, or boxes around several) and a box of the domain, with the proven
//! lower bound of `corners.rs`; the upper bound is the clearance at poses that were looked at. The node with the least
//! bound is cut first, where it costs most: a driver whose paths bend, or a set that is not yet one piece. A node goes
//! when its bound is at least what was asked plus `BEYOND` (25 mm), or no more than [`WIDTH`] under the best pose.

use super::chain::{Chain, Motion};
use super::clearance::{MOST, WIDTH};
use super::corners::{Corners, Frame, Range, SPREAD};
use super::reach::{Reach, carrying, chain, domain, middles, moving};
use super::tree::Node;
use super::{LinkRef, Mechanism, Moved};
use crate::geom::SLACK;
use crate::solid::{Swept, Vec3, gap};
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// To how much the gap at a pose is worked out, mm.
const POSE: f64 = 1e-6;

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
    /// The hull holds the origin: drivers that only slide are to be cut too.
    inside: bool,
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

/// What is asked, and what is known of it so far.
pub(super) struct Search<'s> {
    /// The first solid.
    pub a: &'s Reach<'s>,
    /// The second.
    pub b: &'s Reach<'s>,
    /// Farther than this only "over" is told.
    pub reach: f64,
    answer: Answer,
    grow: f64,
    /// Drivers that move the two against each other.
    pub drivers: Vec<usize>,
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
    /// Best pose so far.
    pub best: Option<Best>,
    corners: Corners,
    /// Nodes looked at.
    pub boxes: usize,
    /// Distances asked for.
    pub calls: usize,
    /// Whether the count of nodes ran out.
    pub wide: bool,
}

/// What is wanted of a search.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Answer {
    /// The least clearance.
    Least,
    /// Only whether they come within reach, which is not below zero: the first pose at which they do ends it, and how
    /// deep they lie in each other does not matter.
    Meets,
}

/// The best pose so far.
#[derive(Clone, Debug)]
pub(super) struct Best {
    /// Gap of the pieces there, growth taken off.
    pub gap: f64,
    /// By how much the pieces may be larger than the solids.
    pub excess: f64,
    /// Where the drivers of the search stand.
    pub at: Vec<f64>,
}

impl<'s> Search<'s> {
    /// Of two solids of one mechanism, the whole domain looked at once.
    pub fn new(a: &'s Reach<'s>, b: &'s Reach<'s>, reach: f64, answer: Answer) -> Option<Search<'s>> {
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
            answer,
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
            inside: false,
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

    /// Cuts until the bound decides.
    pub fn run(&mut self) {
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

    /// Whether an overlap was found, or what ends the search if only that is asked.
    fn met(&self) -> bool {
        self.best.as_ref().is_some_and(|b| match self.answer {
            Answer::Least => b.gap < -SLACK,
            Answer::Meets => b.gap <= self.reach,
        })
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
            let counts = open.inside || of(&motion.bend) > 0.0 || moving > SPREAD;
            if counts && cost > 1e-7 && driver.is_none_or(|(_, most)| cost > most) {
                driver = Some((d, cost));
            }
        }
        let size = |n: &Node<'_>| if n.below.is_some() { n.size / 4.0 } else { 0.0 };
        let (sa, sb) = (size(na), size(nb));
        let turn = driver.map_or(0.0, |(_, cost)| cost);
        let first = sa >= sb;
        let below = if first { na.below } else { nb.below };
        if let Some(below) = below.filter(|_| sa.max(sb) > turn) {
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
            (self.wide, self.floor) = (true, self.floor.min(open.lower));
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
        let tries = if from.level.is_multiple_of(3) { count } else { 1 };
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
            let found = self.corners.nearest(na, nb, start, enough + round, tolerance);
            let inside = found.upper <= 0.0;
            let apart = match (inside, self.answer) {
                (false, _) => found.lower,
                (true, Answer::Least) => self.corners.deepest(na, nb, found.to),
                (true, Answer::Meets) => f64::NEG_INFINITY,
            };
            let lower = apart - round;
            if n == 0 || lower > open.lower {
                (open.lower, open.frame, open.to) = (lower.max(from.lower), f, found.to);
                open.inside = inside;
                pose = Some((self.corners.at(&found), found.upper - round));
            }
            if open.lower >= enough {
                self.floor = self.floor.min(open.lower);
                return;
            }
        }
        // a pose can only be better than the best if the hull is
        if let (Some((at, hull)), Some(pa), Some(pb)) = (pose, na.piece, nb.piece)
            && (open.inside || self.best.as_ref().is_none_or(|b| hull < b.gap))
        {
            let gap = self.gap_at(from.a, from.b, &at, round);
            if open.inside {
                open.lower = open.lower.max(gap - POSE - self.farthest(open, range, &at));
            }
            if self.best.as_ref().is_none_or(|b| gap < b.gap) {
                self.best = Some(Best { gap, excess: pa.excess + pb.excess, at });
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

    /// How far anything can move from a pose within a box.
    fn farthest(&self, open: Open, range: &[Range], at: &[f64]) -> f64 {
        let Some(motion) = self.motions.get(open.motion).and_then(|m| m.get(open.frame)) else {
            return f64::INFINITY;
        };
        let all = range.iter().zip(at).zip(&motion.rate);
        all.map(|((r, t), rate)| (t - r[0]).max(r[1] - t) * rate).sum()
    }

    /// Nowhere are they nearer than this.
    pub fn lower(&self) -> f64 {
        self.heap.peek().map_or(self.floor, |open| self.floor.min(open.lower))
    }

    /// Gap of two pieces at a pose, growth and rounding taken off.
    fn gap_at(&mut self, a: usize, b: usize, at: &[f64], round: f64) -> f64 {
        let (Some(na), Some(nb), Some(frame)) = (self.a.tree.get(a), self.b.tree.get(b), self.frames.first())
        else {
            return f64::INFINITY;
        };
        self.corners.point(frame, at);
        self.calls += 1;
        let found = self.corners.nearest(na, nb, Vec3::ZERO, f64::INFINITY, POSE);
        if found.upper > 0.0 {
            return found.upper - round;
        }
        if self.answer == Answer::Meets {
            return -round;
        }
        // one core in the other: how deep tells a touch from an overlap
        let (Some(p), Some(q)) = (na.piece, nb.piece) else { return f64::INFINITY };
        let (p, q) = (p.moved(&frame.a.pose(at)), q.moved(&frame.b.pose(at)));
        gap(&Swept::still(&p), &Swept::still(&q), 0.0).lower - self.grow
    }
}

/// The link that both hang on, nearest to them; `None`: only the airframe.
fn common(mechanism: &Mechanism, a: Option<LinkRef>, b: Option<LinkRef>) -> Option<LinkRef> {
    let (a, b) = (a?, b?);
    mechanism.down(a).find(|&l| mechanism.down(b).any(|m| m == l))
}
