//! Distance of two convex sets, certified.
//!
//! The kept library (parry) searches the nearest points of two support functions; whatever it answers, the numbers
//! told here are proven by it alone: the distance of the two points it found is an upper bound, and the gap between
//! the two planes across their connection that carry the sets is a lower one. Both are exact to rounding; how far they
//! lie apart is the error bound.

use super::travel::nearest::{Vertex, nearest};
use super::{Piece, Vec3};
use parry3d_f64::math::{Pose as At, Vector};
use parry3d_f64::query::contact::contact_support_map_support_map;
use parry3d_f64::query::gjk::{CsoPoint, GJKResult, VoronoiSimplex, closest_points};
use parry3d_f64::shape::SupportMap;

/// Width at which a bound is narrow enough, mm.
const NARROW: f64 = 1e-7;

/// A convex piece, swept along straights: the sum of the piece and of the straights from the origin to each vector.
#[derive(Clone, Copy, Debug)]
pub struct Swept<'a> {
    /// The piece in its place.
    pub piece: &'a Piece,
    /// Moved on by this.
    pub shift: Vec3,
    /// Swept along these.
    pub along: &'a [Vec3],
}

impl<'a> Swept<'a> {
    /// A piece that stands still.
    pub fn still(piece: &'a Piece) -> Swept<'a> {
        Swept { piece, shift: Vec3::ZERO, along: &[] }
    }

    /// A point of the core, swept, that reaches farthest along a direction.
    pub fn support(&self, direction: Vec3) -> Vec3 {
        let mut p = self.piece.core.support(direction) + self.shift;
        for v in self.along {
            if v.dot(direction) > 0.0 {
                p += *v;
            }
        }
        p
    }
}

impl SupportMap for Swept<'_> {
    fn local_support_point(&self, direction: Vector) -> Vector {
        let p = self.support(Vec3::new(direction.x, direction.y, direction.z));
        Vector::new(p.x, p.y, p.d)
    }
}

/// How two convex sets lie to each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    /// Not less than this, mm; below zero by as much as one has to move to come free at the least (overlap), where
    /// that is known, else negative infinity.
    pub lower: f64,
    /// Not more than this.
    pub upper: f64,
    /// Nearest points, on the first and on the second.
    pub points: [Vec3; 2],
}

impl Gap {
    /// The same answer with the two swapped.
    pub(super) fn flipped(self) -> Gap {
        Gap { points: [self.points[1], self.points[0]], ..self }
    }
}

/// Gap of two swept pieces, rounding taken off. `far`: from this distance on only "at least so far" matters: then
/// `lower` alone need be good.
pub fn gap(a: &Swept<'_>, b: &Swept<'_>, far: f64) -> Gap {
    searched(a, b, far).unwrap_or_else(|| overlap(a, b, a.piece.radius + b.piece.radius))
}

/// Whether two swept pieces are farther apart than `far`, which is not negative, rounding taken off: proven as [`gap`]
/// proves it, but of an overlap nothing is asked beyond that it is one.
pub(super) fn apart(a: &Swept<'_>, b: &Swept<'_>, far: f64) -> bool {
    searched(a, b, far).is_some_and(|g| g.lower > far)
}

/// The gap of two swept pieces; `None` where their cores overlap.
fn searched(a: &Swept<'_>, b: &Swept<'_>, far: f64) -> Option<Gap> {
    let round = a.piece.radius + b.piece.radius;
    let start = (b.piece.ball.0 + b.shift) - (a.piece.ball.0 + a.shift);
    let start = if start.length() > 1e-9 { start } else { Vec3::new(1.0, 0.0, 0.0) };
    let mut simplex = VoronoiSimplex::new();
    simplex.reset(CsoPoint::from_shapes(&At::IDENTITY, a, b, vector(start)));
    match closest_points(&At::IDENTITY, a, b, far + round, true, &mut simplex) {
        GJKResult::ClosestPoints(p, q, _) => Some(proven(a, b, back(p), back(q), round)),
        GJKResult::NoIntersection(direction) => {
            let n = back(direction).unit();
            let n = n.map_or(start * (1.0 / start.length()), |n| if n.dot(start) < 0.0 { -n } else { n });
            let (p, q) = (a.support(n), b.support(-n));
            let lower = (q - p).dot(n) - round;
            if lower < far && far.is_finite() {
                // its direction does not prove what it says: ask without an end
                return searched(a, b, f64::INFINITY);
            }
            let (p, q) = (p + n * a.piece.radius, q - n * b.piece.radius);
            Some(Gap { lower, upper: (q - p).length(), points: [p, q] })
        }
        GJKResult::Intersection | GJKResult::Proximity(_) => None,
    }
}

/// The numbers that two points of the cores prove.
fn proven(a: &Swept<'_>, b: &Swept<'_>, p: Vec3, q: Vec3, round: f64) -> Gap {
    let Some(n) = (q - p).unit() else { return overlap(a, b, round) };
    let upper = (q - p).length();
    let lower = (b.support(-n).dot(n) - a.support(n).dot(n)).min(upper);
    let (lower, [p, q]) =
        if upper - lower > NARROW { narrowed(a, b, (lower, [p, q])) } else { (lower, [p, q]) };
    let Some(n) = (q - p).unit() else { return overlap(a, b, round) };
    let upper = (q - p).length();
    let points = [p + n * a.piece.radius, q - n * b.piece.radius];
    Gap { lower: lower - round, upper: upper - round, points }
}

/// The library settles for a few parts in 1e8 of the distance; from there a few more steps of the same search close the
/// bound to [`NARROW`], or as far as rounding lets them.
fn narrowed(a: &Swept<'_>, b: &Swept<'_>, found: (f64, [Vec3; 2])) -> (f64, [Vec3; 2]) {
    let (lower, [p, q]) = found;
    // which two points a point of the difference is of
    let mut seen: Vec<(Vec3, [Vec3; 2])> = vec![(q - p, [p, q])];
    let support = |v: Vec3| {
        let (from, to) = (a.support(v), b.support(-v));
        seen.push((to - from, [from, to]));
        Vertex { w: to - from, corner: 0 }
    };
    let near = nearest(support, |_| 0.0, q - p, f64::INFINITY, NARROW);
    let lower = lower.max(near.lower);
    if near.upper >= (q - p).length() || near.upper <= 0.0 {
        return (lower, [p, q]);
    }
    let mut points = [Vec3::ZERO; 2];
    for (vertex, weight) in near.made_of() {
        let Some((_, of)) = seen.iter().find(|(w, _)| *w == vertex.w) else { return (lower, [p, q]) };
        points = [points[0] + of[0] * weight, points[1] + of[1] * weight];
    }
    (lower.min((points[1] - points[0]).length()), points)
}

/// Cores that overlap. How far one has to move along any direction to come free is at least the depth, so the best
/// direction found bounds the (negative) gap from below; from above it is proven only that rounding overlaps too.
fn overlap(a: &Swept<'_>, b: &Swept<'_>, round: f64) -> Gap {
    let mut best = (f64::NEG_INFINITY, Vec3::FORWARD);
    let mut at = a.piece.ball.0 + a.shift;
    let mut probe = |n: Vec3| {
        let free = b.support(-n).dot(n) - a.support(n).dot(n);
        if free > best.0 {
            best = (free, n);
        }
    };
    for n in [Vec3::new(1.0, 0.0, 0.0), Vec3::new(0.0, 1.0, 0.0), Vec3::FORWARD] {
        probe(n);
        probe(-n);
    }
    if let Some(n) = ((b.piece.ball.0 + b.shift) - at).unit() {
        probe(n);
    }
    if let Some(c) = contact_support_map_support_map(&At::IDENTITY, a, b, 0.0) {
        at = back(c.point1);
        back(c.normal1).unit().into_iter().for_each(probe);
    }
    let (free, n) = best;
    Gap { lower: free.min(0.0) - round, upper: -round, points: [at, at + n * (free.min(0.0) - round)] }
}

fn vector(v: Vec3) -> Vector {
    Vector::new(v.x, v.y, v.d)
}

fn back(v: Vector) -> Vec3 {
    Vec3::new(v.x, v.y, v.z)
}
