//! Rigid moves of space: a turn and a shift. Exact to rounding.

use super::Vec3;
use crate::geom::angle;

/// `p -> turn * p + shift`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// Rows of the turn's matrix.
    turn: [Vec3; 3],
    /// Added last.
    shift: Vec3,
}

impl Pose {
    /// Nothing moves.
    pub const IDENTITY: Pose = Pose {
        turn: [Vec3::new(1.0, 0.0, 0.0), Vec3::new(0.0, 1.0, 0.0), Vec3::new(0.0, 0.0, 1.0)],
        shift: Vec3::ZERO,
    };

    /// A shift alone.
    pub const fn shift(by: Vec3) -> Pose {
        Pose { shift: by, ..Pose::IDENTITY }
    }

    /// A turn about the line through `point` along the unit vector `axis`, in radians. About the depth axis it is
    /// counter-clockwise as seen from the seat (x goes to y); about x, y goes to d; about y, d goes to x.
    pub fn about(point: Vec3, axis: Vec3, radians: f64) -> Pose {
        let (s, c) = angle::sin_cos(radians);
        let along = |e: Vec3| e * c + axis.cross(e) * s + axis * (axis.dot(e) * (1.0 - c));
        // columns of the matrix are the images of the axes
        let (i, j, k) = (
            along(Vec3::new(1.0, 0.0, 0.0)),
            along(Vec3::new(0.0, 1.0, 0.0)),
            along(Vec3::new(0.0, 0.0, 1.0)),
        );
        let turn = [Vec3::new(i.x, j.x, k.x), Vec3::new(i.y, j.y, k.y), Vec3::new(i.d, j.d, k.d)];
        let turned = Pose { turn, shift: Vec3::ZERO };
        Pose { turn, shift: point - turned.vector(point) }
    }

    /// The turn that takes the depth axis to the unit vector `to` by the shortest way, about the origin.
    pub fn from_forward_to(to: Vec3) -> Pose {
        let cross = Vec3::FORWARD.cross(to);
        let angle = libm::atan2(cross.length(), to.d);
        Pose::about(Vec3::ZERO, cross.unit().unwrap_or(Vec3::new(1.0, 0.0, 0.0)), angle)
    }

    /// Moves a direction (no shift).
    #[inline]
    pub fn vector(&self, v: Vec3) -> Vec3 {
        Vec3::new(self.turn[0].dot(v), self.turn[1].dot(v), self.turn[2].dot(v))
    }

    /// Moves a point.
    #[inline]
    pub fn point(&self, p: Vec3) -> Vec3 {
        self.vector(p) + self.shift
    }

    /// First this move, then `next`.
    pub fn then(&self, next: &Pose) -> Pose {
        let [a, b, c] = self.columns().map(|v| next.vector(v));
        let turn = [Vec3::new(a.x, b.x, c.x), Vec3::new(a.y, b.y, c.y), Vec3::new(a.d, b.d, c.d)];
        Pose { turn, shift: next.point(self.shift) }
    }

    /// The move back.
    pub fn inverse(&self) -> Pose {
        let turn = self.columns();
        let back = Pose { turn, shift: Vec3::ZERO };
        Pose { turn, shift: -back.vector(self.shift) }
    }

    /// The direction whose image is `v`.
    #[inline]
    pub fn back(&self, v: Vec3) -> Vec3 {
        self.turn[0] * v.x + self.turn[1] * v.y + self.turn[2] * v.d
    }

    /// Images of the three axes.
    pub fn columns(&self) -> [Vec3; 3] {
        let [r, s, t] = self.turn;
        [Vec3::new(r.x, s.x, t.x), Vec3::new(r.y, s.y, t.y), Vec3::new(r.d, s.d, t.d)]
    }

    /// Image of the origin.
    pub fn origin(&self) -> Vec3 {
        self.shift
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: Vec3, b: Vec3) -> bool {
        (a - b).length() < 1e-12
    }

    #[test]
    fn turns_go_the_way_they_say() {
        let (x, y, d) = (Vec3::new(1.0, 0.0, 0.0), Vec3::new(0.0, 1.0, 0.0), Vec3::FORWARD);
        let quarter = std::f64::consts::FRAC_PI_2;
        assert!(near(Pose::about(Vec3::ZERO, d, quarter).point(x), y));
        assert!(near(Pose::about(Vec3::ZERO, x, quarter).point(y), d));
        assert!(near(Pose::about(Vec3::ZERO, y, quarter).point(d), x));
        // about a line that does not pass the origin: a point on it stays
        let at = Vec3::new(3.0, -2.0, 7.0);
        assert!(near(Pose::about(at, d, 1.1).point(at + d * 9.0), at + d * 9.0));
        assert!(near(Pose::from_forward_to(y).vector(d), y) && near(Pose::from_forward_to(-d).vector(d), -d));
    }

    #[test]
    fn chains_and_back() {
        let a = Pose::about(Vec3::new(1.0, 2.0, 3.0), Vec3::new(0.6, 0.0, 0.8), 0.7);
        let b = Pose::shift(Vec3::new(-4.0, 5.0, 6.0));
        let p = Vec3::new(9.0, -8.0, 2.5);
        assert!(near(a.then(&b).point(p), b.point(a.point(p))));
        assert!(near(a.then(&b).inverse().point(a.then(&b).point(p)), p));
        assert!(near(a.back(a.vector(p)), p));
    }
}
