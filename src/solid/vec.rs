//! Points and directions of space: x right, y up, d forward, millimetres. Exact to rounding.

use std::ops::{Add, AddAssign, Mul, Neg, Sub};

/// A point or a direction.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Vec3 {
    /// To the right, seen from the seat.
    pub x: f64,
    /// Up.
    pub y: f64,
    /// Forward, into the aeroplane.
    pub d: f64,
}

impl Vec3 {
    /// The origin.
    pub const ZERO: Vec3 = Vec3::new(0.0, 0.0, 0.0);
    /// Forward, along the depth.
    pub const FORWARD: Vec3 = Vec3::new(0.0, 0.0, 1.0);

    /// From its three numbers.
    pub const fn new(x: f64, y: f64, d: f64) -> Vec3 {
        Vec3 { x, y, d }
    }

    /// Dot product.
    #[inline]
    pub fn dot(self, o: Vec3) -> f64 {
        self.x * o.x + self.y * o.y + self.d * o.d
    }

    /// Cross product of the three numbers, in their order: x cross y is d.
    #[inline]
    pub fn cross(self, o: Vec3) -> Vec3 {
        Vec3::new(self.y * o.d - self.d * o.y, self.d * o.x - self.x * o.d, self.x * o.y - self.y * o.x)
    }

    /// Length.
    #[inline]
    pub fn length(self) -> f64 {
        self.dot(self).sqrt()
    }

    /// The direction, of length 1; `None` of a vector too short to have one.
    pub fn unit(self) -> Option<Vec3> {
        let l = self.length();
        (l > 1e-12).then(|| self * (1.0 / l))
    }

    /// Whether all three numbers are finite.
    pub fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite() && self.d.is_finite()
    }
}

impl Add for Vec3 {
    type Output = Vec3;
    #[inline]
    fn add(self, o: Vec3) -> Vec3 {
        Vec3::new(self.x + o.x, self.y + o.y, self.d + o.d)
    }
}

impl AddAssign for Vec3 {
    #[inline]
    fn add_assign(&mut self, o: Vec3) {
        *self = *self + o;
    }
}

impl Sub for Vec3 {
    type Output = Vec3;
    #[inline]
    fn sub(self, o: Vec3) -> Vec3 {
        Vec3::new(self.x - o.x, self.y - o.y, self.d - o.d)
    }
}

impl Neg for Vec3 {
    type Output = Vec3;
    #[inline]
    fn neg(self) -> Vec3 {
        Vec3::new(-self.x, -self.y, -self.d)
    }
}

impl Mul<f64> for Vec3 {
    type Output = Vec3;
    #[inline]
    fn mul(self, k: f64) -> Vec3 {
        Vec3::new(self.x * k, self.y * k, self.d * k)
    }
}

/// An upright box in space.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Least of each number.
    pub low: Vec3,
    /// Greatest of each number.
    pub high: Vec3,
}

impl Bounds {
    /// Around two boxes.
    pub fn union(&self, o: &Bounds) -> Bounds {
        let (a, b) = (self, o);
        Bounds {
            low: Vec3::new(a.low.x.min(b.low.x), a.low.y.min(b.low.y), a.low.d.min(b.low.d)),
            high: Vec3::new(a.high.x.max(b.high.x), a.high.y.max(b.high.y), a.high.d.max(b.high.d)),
        }
    }

    /// Distance between two boxes; 0 when they meet.
    pub fn distance(&self, o: &Bounds) -> f64 {
        let gap = |al: f64, ah: f64, bl: f64, bh: f64| (bl - ah).max(al - bh).max(0.0);
        Vec3::new(
            gap(self.low.x, self.high.x, o.low.x, o.high.x),
            gap(self.low.y, self.high.y, o.low.y, o.high.y),
            gap(self.low.d, self.high.d, o.low.d, o.high.d),
        )
        .length()
    }

    /// The box grown by `by` on all sides.
    pub fn grown(&self, by: f64) -> Bounds {
        let v = Vec3::new(by, by, by);
        Bounds { low: self.low - v, high: self.high + v }
    }
}
