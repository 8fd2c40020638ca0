//! The shadow of a convex solid on the sheet: what of it, grown all round, lies between two depths, seen from the seat.
//!
//! Where a prism from one depth to another comes nearer to a convex solid than is asked are exactly those shifts at which
//! its section meets that shadow: prisms turn a question of space into one of the plane.
//!
//! How far the shadow reaches along a direction of the plane is the least, over all slopes, of how far the solid reaches
//! along the direction tilted by the slope, less what the slab between the depths gives back (the dual of a plane cut): any
//! slope gives a number that is not too small, the best one is found to [`NEAR`]. The polygon of tangents around the
//! shadow is refined until no corner can lie farther off than is asked.

use super::convex::{Convex, hull};
use crate::geom::{Point, Rect, Vec2, angle};
use crate::solid::Vec3;
use std::f64::consts::TAU;

/// How near the reach along a direction is found, mm.
const NEAR: f64 = 1e-5;

/// Slopes tried at the most.
const SLOPES: usize = 60;

/// Directions at the start.
const FIRST: usize = 8;

/// So often a step between two directions is halved.
const HALVED: usize = 9;

/// A convex solid: the point of its core that reaches farthest along a direction, and by how much it is rounded.
pub(super) struct Rounded<F: Fn(Vec3) -> Vec3> {
    /// The point of its core.
    pub support: F,
    /// Rounding, mm, not below zero.
    pub radius: f64,
}

impl<F: Fn(Vec3) -> Vec3> Rounded<F> {
    /// A point of it farthest along a direction of any length but none.
    fn point(&self, direction: Vec3) -> Vec3 {
        let p = (self.support)(direction);
        if self.radius > 0.0 { p + direction * (self.radius / direction.length()) } else { p }
    }

    /// How far the slab between two depths of it reaches along a unit vector of the plane: not less than the truth, and
    /// no more than [`NEAR`] above it.
    pub fn reach(&self, u: Vec2, (from, to): (f64, f64)) -> f64 {
        let at = |slope: f64| {
            let p = self.point(Vec3::new(u.x, u.y, slope));
            // what the slab gives back, and which way the number changes with the slope
            let end = if slope >= 0.0 { from } else { to };
            (p.x * u.x + p.y * u.y + slope * (p.d - end), p.d)
        };
        let (flat, deep) = at(0.0);
        if (from..=to).contains(&deep) {
            return flat;
        }
        // before the slab the slope turns forward, behind it back
        let (sign, end) = if deep < from { (1.0, from) } else { (-1.0, to) };
        let falls = |deep: f64| (deep - end) * sign;
        let (mut low, mut low_at) = ((flat, falls(deep)), 0.0);
        let mut best = flat;
        let mut high: Option<((f64, f64), f64)> = None;
        let mut slope = 1.0;
        for k in 0..SLOPES {
            let (value, deep) = at(sign * slope);
            let falls = falls(deep);
            best = best.min(value);
            if falls < 0.0 {
                (low, low_at) = ((value, falls), slope);
            } else {
                high = Some(((value, falls), slope));
            }
            let Some(((top, rises), top_at)) = high else {
                slope *= 4.0;
                continue;
            };
            // the tangents at both sides meet below the least
            let (fall, rise) = (low.1, rises);
            let across = top_at - low_at;
            if rise - fall <= 0.0 || across <= 0.0 {
                break;
            }
            let meet = (low.0 - top + rise * across) / (rise - fall);
            let bottom = low.0 + fall * meet;
            if best - bottom <= NEAR {
                break;
            }
            let middle = low_at + if k % 3 == 2 { across / 2.0 } else { meet };
            slope = if middle > low_at && middle < top_at { middle } else { low_at + across / 2.0 };
        }
        best
    }

    /// Whether any of it lies between two depths.
    pub fn meets(&self, depths: (f64, f64)) -> bool {
        self.point(Vec3::FORWARD).d > depths.0 && self.point(-Vec3::FORWARD).d < depths.1
    }

    /// A box around the shadow of what [`meets`](Rounded::meets) the depths.
    pub fn around(&self, depths: (f64, f64)) -> Rect {
        let reach = |x: f64, y: f64| self.reach(Vec2::new(x, y), depths);
        Rect::new(-reach(-1.0, 0.0), -reach(0.0, -1.0), reach(1.0, 0.0), reach(0.0, 1.0))
    }

    /// A polygon around the shadow, no corner of it farther off than `fine`; `None` where nothing lies between the depths.
    pub fn shadow(&self, depths: (f64, f64), fine: f64) -> Option<Convex> {
        if !self.meets(depths) {
            return None;
        }
        let tangent = |turn: f64| {
            let u = angle::unit(turn);
            Tangent { turn, u, far: self.reach(u, depths) }
        };
        let first: Vec<Tangent> = (0..FIRST).map(|k| tangent(TAU * k as f64 / FIRST as f64)).collect();
        let mut corners = Vec::with_capacity(64);
        for (k, a) in first.iter().enumerate() {
            let b = match first.get(k + 1) {
                Some(next) => *next,
                None => Tangent { turn: TAU, ..first[0] },
            };
            between(*a, b, (fine, HALVED), &tangent, &mut corners);
        }
        // a tangent that is a hair too far puts its corners out of order
        Some(hull(corners))
    }
}

/// A straight that a shape lies behind.
#[derive(Clone, Copy, Debug)]
struct Tangent {
    /// Its direction outwards, radians.
    turn: f64,
    u: Vec2,
    far: f64,
}

/// Corners of the polygon of tangents between two of them, the second less far round than half a turn.
fn between(
    a: Tangent,
    b: Tangent,
    (fine, left): (f64, usize),
    tangent: &impl Fn(f64) -> Tangent,
    out: &mut Vec<Point>,
) {
    let across = a.u.cross(b.u);
    let corner =
        Point::new((a.far * b.u.y - b.far * a.u.y) / across, (b.far * a.u.x - a.far * b.u.x) / across);
    let middle = tangent((a.turn + b.turn) / 2.0);
    // what the corner has too much along a direction between is concave and nil at both tangents: never more than
    // twice what it is at the middle
    let over = 2.0 * (corner.to_vec2().dot(middle.u) - middle.far) / a.u.dot(middle.u);
    if over <= fine || left == 0 {
        out.push(corner);
        return;
    }
    between(a, middle, (fine, left - 1), tangent, out);
    between(middle, b, (fine, left - 1), tangent, out);
}

#[cfg(test)]
mod tests {
    use super::super::convex::{CHORD, support};
    use super::*;
    use crate::solid::{Pose, Shape, Solid};

    fn rounded(s: &Solid, radius: f64) -> Rounded<impl Fn(Vec3) -> Vec3 + '_> {
        let piece = &s.pieces()[0];
        Rounded { support: |v| piece.core.support(v), radius: piece.radius + radius }
    }

    #[test]
    fn shadows_by_hand() {
        // a ball of 30 about (0, 0, 100): between 76 and 200 all of it; between 118 and 130 the cap from 18 on, whose
        // circle is sqrt(30^2 - 18^2) = 24
        let ball = Solid::new(Shape::Sphere(30.0), Pose::shift(Vec3::new(0.0, 0.0, 100.0))).unwrap();
        for (depths, radius) in [((76.0, 200.0), 30.0), ((118.0, 130.0), 24.0), ((60.0, 82.0), 24.0)] {
            let s = rounded(&ball, 0.0).shadow(depths, CHORD).unwrap();
            for k in 0..100 {
                let u = angle::unit(f64::from(k) * 0.07);
                let off = support(&s, u) - radius;
                assert!((-1e-9..=CHORD + NEAR).contains(&off), "{depths:?}: {off}");
            }
        }
        assert!(rounded(&ball, 0.0).shadow((130.5, 140.0), CHORD).is_none());
        assert!(rounded(&ball, 1.0).shadow((130.5, 140.0), CHORD).is_some());
    }

    #[test]
    fn a_slanted_bar_between_two_depths() {
        // a straight from (0, 0, 0) to (100, 0, 100) as a thin box: between 20 and 50 it reaches from x 20 to 50
        let core = |v: Vec3| if v.x + v.d > 0.0 { Vec3::new(100.0, 0.0, 100.0) } else { Vec3::ZERO };
        let s = Rounded { support: core, radius: 0.0 }.shadow((20.0, 50.0), CHORD).unwrap();
        let reach = |x: f64, y: f64| support(&s, Vec2::new(x, y));
        assert!((reach(1.0, 0.0) - 50.0).abs() < 2.0 * NEAR && (reach(-1.0, 0.0) + 20.0).abs() < 2.0 * NEAR);
        assert!(reach(0.0, 1.0).abs() < 1e-6, "{s:?}");
        // grown by 5: the ball at the end of the straight that lies in the slab's plane is cut by it; along x the
        // farthest point is 5 sqrt 2 beyond the straight's point where the tangent is square to it
        let s = Rounded { support: core, radius: 5.0 }.shadow((20.0, 50.0), CHORD).unwrap();
        let far = support(&s, Vec2::new(1.0, 0.0));
        assert!((far - (50.0 + 5.0 * 2f64.sqrt())).abs() < CHORD, "{far}");
    }

    #[test]
    fn a_shadow_holds_every_point_that_lies_between_the_depths() {
        let half = Vec3::new(40.0, 12.0, 25.0);
        let pose = Pose::about(Vec3::ZERO, Vec3::new(0.6, 0.0, 0.8), 0.7);
        let pose = pose.then(&Pose::shift(Vec3::new(10.0, 5.0, 60.0)));
        let solid = Solid::new(Shape::Box(half), pose).unwrap();
        let depths = (52.0, 71.0);
        let s = rounded(&solid, 0.0).shadow(depths, CHORD).unwrap();
        let mut most = f64::NEG_INFINITY;
        let n = 40;
        for (i, j, k) in (0..n * n * n).map(|m| (m % n, m / n % n, m / n / n)) {
            let at = |i: i32, half: f64| half * (f64::from(2 * i) / f64::from(n - 1) - 1.0);
            let p = solid.pose().point(Vec3::new(at(i, half.x), at(j, half.y), at(k, half.d)));
            if (depths.0..=depths.1).contains(&p.d) {
                assert!(super::super::convex::holds(&s, Point::new(p.x, p.y)), "{p:?}");
                most = most.max(p.x);
            }
        }
        // and is no larger than what lies there, to the grid of the points
        assert!(support(&s, Vec2::new(1.0, 0.0)) - most < 2.5, "{most}");
    }
}
