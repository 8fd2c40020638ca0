//! One box of the drivers' domain: a certified lower bound of the clearance over all of it.
//!
//! `w(t) = a(t) - b(t)` is the difference of two material points, one of each solid, with the drivers at t. Within a
//! box of half widths h its path is interpolated between the corners of the box, one driver after the other:
//!
//! - for one driver, linear interpolation between the ends is off by at most h^2 / 2 times the bound on the second
//!   derivative (Taylor), the driver's *bend*;
//! - interpolating along a further driver averages what was there, so errors only add up.
//!
//! So `w(t)` is within `sum h^2 / 2 * bend` of a weighted mean of its values at the corners, and hence within that of
//! the convex hull of all differences of points at all corners; where nothing bends along an axis, it strays from the
//! hull across that axis alone, and a plane across the axis loses nothing by it. The distance of the origin from that hull, less that
//! sum and what both are rounded and grown by, is the lower bound. A driver that only slides has no bend: the hull of
//! its two ends is the exact sweep, never to be cut (several such slides: their zonotope). Drivers beyond the first
//! [`SPREAD`], by how far they move things, are held at their middle and cost half width times rate instead.
//!
//! Where the hull holds the origin nothing is known but how deep the cores can be in each other: a direction along which
//! the whole hull comes free bounds the depth at every pose of the box; and so does the depth at one pose, less how far
//! anything can move from there (half widths times rates): a depth, like a distance, changes by no more than that.
//!
//! The hull depends on the frame in which it is taken: any frame on the way from one solid to the other gives a valid
//! bound, and where a face turns past a corner the frame of the face is far better. The best of them is taken.

use super::chain::{Chain, Motion};
use super::nearest::{Nearest, Vertex, nearest};
use super::tree::Node;
use crate::solid::{Pose, Vec3};

/// Drivers whose ends are all looked at.
pub(super) const SPREAD: usize = 4;

/// What stands for one driver range in a box: low and high.
pub(super) type Range = [f64; 2];

/// A frame on the way from one solid to the other, and how both stand in it.
#[derive(Clone, Debug)]
pub(super) struct Frame {
    /// From the frame to the first solid.
    pub a: Chain,
    /// To the second.
    pub b: Chain,
}

impl Frame {
    /// Bounds on how the difference of two points moves.
    pub fn motion(&self, a: &Node<'_>, b: &Node<'_>, middles: &[f64], halves: &[f64]) -> Motion {
        let (a, b) = (self.a.motion(&a.corners, middles, halves), self.b.motion(&b.corners, middles, halves));
        a.plus(&b)
    }
}

/// Poses of both solids at the corners of a box, and where the drivers stand there.
#[derive(Clone, Debug, Default)]
pub(super) struct Corners {
    poses: Vec<(Pose, Pose)>,
    /// Which of the two stand still in the frame.
    stills: [bool; 2],
    drivers: Vec<f64>,
    width: usize,
    /// How far points stray from the hull in any direction, mm.
    stray: f64,
    /// And across an axis, but not along it.
    across: Vec<(Vec3, f64)>,
    order: Vec<usize>,
}

impl Corners {
    /// Of a box.
    pub fn set(&mut self, frame: &Frame, motion: &Motion, range: &[Range]) {
        self.order.clear();
        self.order.extend((0..range.len()).filter(|&d| range.get(d).is_some_and(|r| r[0] < r[1])));
        let half = |d: usize| range.get(d).map_or(0.0, |r| (r[1] - r[0]) / 2.0);
        let of = |list: &[f64], d: usize| list.get(d).copied().unwrap_or_default();
        if self.order.len() > SPREAD {
            let cost = |d: usize| half(d) * of(&motion.rate, d);
            self.order.sort_by(|&c, &d| cost(d).total_cmp(&cost(c)));
        }
        self.stray = 0.0;
        self.across.clear();
        for (n, &d) in self.order.iter().enumerate() {
            let h = half(d);
            let bent = h * h / 2.0 * of(&motion.bend, d);
            match motion.flat.get(d).copied().flatten() {
                _ if n >= SPREAD => self.stray += h * of(&motion.rate, d),
                Some(axis) if bent > 0.0 => self.across.push((axis, bent)),
                _ => self.stray += bent,
            }
        }
        self.order.truncate(SPREAD);
        self.width = range.len();
        self.drivers.clear();
        self.poses.clear();
        self.stills = [frame.a.is_empty(), frame.b.is_empty()];
        for corner in 0..1usize << self.order.len() {
            let start = self.drivers.len();
            self.drivers.extend(range.iter().map(|r| (r[0] + r[1]) / 2.0));
            for (bit, &d) in self.order.iter().enumerate() {
                if let (Some(slot), Some(r)) = (self.drivers.get_mut(start + d), range.get(d)) {
                    *slot = r[corner >> bit & 1];
                }
            }
            let at = self.drivers.get(start..).unwrap_or_default();
            self.poses.push((frame.a.pose(at), frame.b.pose(at)));
        }
    }

    /// A single pose.
    pub fn point(&mut self, frame: &Frame, at: &[f64]) {
        self.stray = 0.0;
        self.across.clear();
        self.width = at.len();
        self.drivers.clear();
        self.drivers.extend_from_slice(at);
        self.poses.clear();
        self.stills = [frame.a.is_empty(), frame.b.is_empty()];
        self.poses.push((frame.a.pose(at), frame.b.pose(at)));
    }

    /// How far points stray from the hull in the worst direction, mm.
    pub fn stray(&self) -> f64 {
        self.across.iter().fold(self.stray, |sum, (_, bent)| sum + bent)
    }

    /// How far points stray from the hull along a unit vector, mm.
    fn stray_along(&self, n: Vec3) -> f64 {
        self.across.iter().fold(self.stray, |sum, (axis, bent)| sum + bent * axis.cross(n).length())
    }

    /// The nearest points of the two cores over all corners, as [`nearest`] finds them.
    pub fn nearest(&self, a: &Node<'_>, b: &Node<'_>, start: Vec3, enough: f64, tolerance: f64) -> Nearest {
        let start = if start == Vec3::ZERO { self.guess(a, b) } else { start };
        nearest(self.support(a, b), |n| self.stray_along(n), start, enough, tolerance)
    }

    /// How deep in each other the cores can be at any pose of the box, stray included: no deeper than this number is
    /// below zero.
    /// Moving along any direction until the hull is free frees them at every pose; the best of some directions.
    pub fn deepest(&self, a: &Node<'_>, b: &Node<'_>, to: Vec3) -> f64 {
        let support = self.support(a, b);
        let axes = [Vec3::new(1.0, 0.0, 0.0), Vec3::new(0.0, 1.0, 0.0), Vec3::FORWARD];
        let tries = axes.into_iter().flat_map(|n| [n, -n]).chain(to.unit()).chain(self.guess(a, b).unit());
        tries.map(|n| support(n).w.dot(n) - self.stray_along(n)).fold(f64::NEG_INFINITY, f64::max).min(0.0)
    }

    /// The difference of points of the two cores, over all corners, that reaches farthest against a direction.
    fn support(&self, a: &Node<'_>, b: &Node<'_>) -> impl Fn(Vec3) -> Vertex {
        let (ca, cb) = (a.core(), b.core());
        let [first, second] = self.stills;
        move |v: Vec3| {
            let (fixed_a, fixed_b) = (first.then(|| ca.support(-v)), second.then(|| cb.support(v)));
            let mut best = Vertex::default();
            let mut least = f64::INFINITY;
            for (corner, (pa, pb)) in self.poses.iter().enumerate() {
                let p = fixed_a.unwrap_or_else(|| pa.point(ca.support(-pa.back(v))));
                let q = fixed_b.unwrap_or_else(|| pb.point(cb.support(pb.back(v))));
                let w = p - q;
                let reach = w.dot(v);
                if reach < least {
                    least = reach;
                    best = Vertex { w, corner };
                }
            }
            best
        }
    }

    /// From one middle to the other at the first corner.
    fn guess(&self, a: &Node<'_>, b: &Node<'_>) -> Vec3 {
        let middle = |n: &Node<'_>| {
            let sum = n.corners.iter().fold(Vec3::ZERO, |s, &p| s + p);
            sum * (1.0 / n.corners.len().max(1) as f64)
        };
        self.poses.first().map_or(Vec3::FORWARD, |(pa, pb)| pa.point(middle(a)) - pb.point(middle(b)))
    }

    /// Where the drivers stand at the nearest point: exact for what only slides, a good guess for what turns.
    pub fn at(&self, found: &Nearest) -> Vec<f64> {
        let mut at = vec![0.0; self.width];
        for (vertex, weight) in found.made_of() {
            let start = vertex.corner * self.width;
            let drivers = self.drivers.get(start..start + self.width).unwrap_or_default();
            for (sum, t) in at.iter_mut().zip(drivers) {
                *sum += weight * t;
            }
        }
        at
    }
}
