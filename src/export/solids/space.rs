//! The right-handed space of other programs: x to the pilot's right, y up, z towards the pilot, millimetres.
//!
//! The panel's own frame is left-handed (d runs forward). Here, and nowhere else, z = -d changes the hand: points are
//! mirrored, and turns with them, so that a body's own shape and its place agree.

use crate::geom::Point;
use crate::solid::{Pose, Vec3};
use std::ops::{Add, Mul, Neg, Sub};

/// A point or a direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct V3 {
    pub x: f64,
    pub y: f64,
    pub z: f64,
}

impl V3 {
    pub const fn new(x: f64, y: f64, z: f64) -> V3 {
        V3 { x, y, z }
    }

    /// A point of the panel's frame.
    pub fn mirrored(v: Vec3) -> V3 {
        V3::new(v.x, v.y, -v.d)
    }

    pub fn dot(self, o: V3) -> f64 {
        self.x * o.x + self.y * o.y + self.z * o.z
    }

    pub fn cross(self, o: V3) -> V3 {
        V3::new(self.y * o.z - self.z * o.y, self.z * o.x - self.x * o.z, self.x * o.y - self.y * o.x)
    }

    pub fn length(self) -> f64 {
        self.dot(self).sqrt()
    }

    /// The direction; that of x where there is none.
    pub fn unit(self) -> V3 {
        let l = self.length();
        if l > 0.0 { self * (1.0 / l) } else { V3::new(1.0, 0.0, 0.0) }
    }

    /// A unit vector across this unit vector: the axis that it leans on least, made square to it.
    pub fn across(self) -> V3 {
        let (x, y, z) = (self.x.abs(), self.y.abs(), self.z.abs());
        let axis = if x <= y && x <= z {
            V3::new(1.0, 0.0, 0.0)
        } else if y <= z {
            V3::new(0.0, 1.0, 0.0)
        } else {
            V3::new(0.0, 0.0, 1.0)
        };
        (axis - self * axis.dot(self)).unit()
    }

    /// Turned about the unit vector `axis` by radians whose sine and cosine are given, right-handed.
    pub fn turned(self, axis: V3, (s, c): (f64, f64)) -> V3 {
        self * c + axis.cross(self) * s + axis * (axis.dot(self) * (1.0 - c))
    }

    pub fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite() && self.z.is_finite()
    }

    pub fn list(self) -> [f64; 3] {
        [self.x, self.y, self.z]
    }
}

impl Add for V3 {
    type Output = V3;
    fn add(self, o: V3) -> V3 {
        V3::new(self.x + o.x, self.y + o.y, self.z + o.z)
    }
}

impl Sub for V3 {
    type Output = V3;
    fn sub(self, o: V3) -> V3 {
        V3::new(self.x - o.x, self.y - o.y, self.z - o.z)
    }
}

impl Neg for V3 {
    type Output = V3;
    fn neg(self) -> V3 {
        V3::new(-self.x, -self.y, -self.z)
    }
}

impl Mul<f64> for V3 {
    type Output = V3;
    fn mul(self, k: f64) -> V3 {
        V3::new(self.x * k, self.y * k, self.z * k)
    }
}

/// Where a body stands: its own axes and origin. Right-handed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Frame {
    pub x: V3,
    pub y: V3,
    pub z: V3,
    pub at: V3,
}

impl Frame {
    /// The frame itself.
    pub const WORLD: Frame = Frame {
        x: V3::new(1.0, 0.0, 0.0),
        y: V3::new(0.0, 1.0, 0.0),
        z: V3::new(0.0, 0.0, 1.0),
        at: V3::new(0.0, 0.0, 0.0),
    };

    /// A pose of the panel's frame for a body whose own shape is mirrored too: the turn between two mirrors is a
    /// turn again.
    pub fn of(pose: &Pose) -> Frame {
        let [x, y, d] = pose.columns();
        Frame { x: V3::mirrored(x), y: V3::mirrored(y), z: -V3::mirrored(d), at: V3::mirrored(pose.origin()) }
    }

    /// A point given in the body's own axes.
    pub fn point(&self, p: V3) -> V3 {
        self.at + self.x * p.x + self.y * p.y + self.z * p.z
    }

    /// A point of its x-y plane, raised.
    pub fn lifted(&self, p: Point, z: f64) -> V3 {
        self.point(V3::new(p.x, p.y, z))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mirrored_shape_in_a_mirrored_place_is_the_mirrored_body() {
        let axis = Vec3::new(0.48, -0.6, 0.64);
        let pose = Pose::about(Vec3::new(3.0, -2.0, 5.0), axis, 1.1);
        let frame = Frame::of(&pose);
        for p in [Vec3::new(1.0, 2.0, 3.0), Vec3::new(-40.0, 0.5, 12.0)] {
            let there = V3::mirrored(pose.point(p));
            assert!((frame.point(V3::mirrored(p)) - there).length() < 1e-12);
        }
        // right-handed
        assert!((frame.x.cross(frame.y) - frame.z).length() < 1e-12);
        // a direction turned before the mirror is turned the other way about the mirrored axis after it
        let v = Vec3::new(0.3, 0.9, -0.2);
        let turned = V3::mirrored(Pose::about(Vec3::ZERO, axis, 0.7).vector(v));
        let same = V3::mirrored(v).turned(-V3::mirrored(axis), crate::geom::angle::sin_cos(0.7));
        assert!((turned - same).length() < 1e-12);
    }
}
