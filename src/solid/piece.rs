//! Convex pieces: a core with an exact support function, rounded by a radius. Exact to rounding.
//!
//! A solid is the union of its pieces; each may be larger than the truth by at most its `excess`.

use super::{Bounds, Pose, Vec3};
use crate::geom::{Contour, Point, Segment, Vec2, length};

/// Sine of the angle within which a direction counts as along a bar: the point told reaches short by less than rounding.
const ALONG: f64 = 1e-13;

/// The convex set that a piece is, before rounding. Its numbers are those of the panel's frame, but for the poses.
#[derive(Clone, Debug, PartialEq)]
pub enum Core {
    /// The convex hull of points: a point, a straight, a box, a plate.
    Points(Vec<Vec3>),
    /// A convex contour drawn out along the depth axis of its pose.
    Prism {
        /// The contour.
        section: Contour,
        /// Where it begins along the depth.
        from: f64,
        /// Where it ends.
        to: f64,
        /// Where it stands.
        pose: Pose,
    },
    /// A round bar.
    Bar {
        /// The middles of its two ends.
        ends: [Vec3; 2],
        /// Its axis, of length 1.
        axis: Vec3,
        /// Radius.
        radius: f64,
    },
}

/// A convex piece of a solid.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// What it is before rounding.
    pub core: Core,
    /// By how much it is rounded, mm.
    pub radius: f64,
    /// By how much it may be larger than the solid there, mm.
    pub excess: f64,
    /// A ball around it, rounding included.
    pub ball: (Vec3, f64),
}

impl Core {
    /// A point of the core that reaches farthest along `direction`, which may be of any length.
    pub fn support(&self, direction: Vec3) -> Vec3 {
        match self {
            Core::Points(points) => {
                let mut best = (f64::NEG_INFINITY, Vec3::ZERO);
                for p in points {
                    let reach = p.dot(direction);
                    if reach > best.0 {
                        best = (reach, *p);
                    }
                }
                best.1
            }
            Core::Prism { section, from, to, pose } => {
                let v = pose.back(direction);
                let p = farthest(section, Vec2::new(v.x, v.y));
                pose.point(Vec3::new(p.x, p.y, if v.d > 0.0 { *to } else { *from }))
            }
            Core::Bar { ends: [a, b], axis, radius } => {
                let along = axis.dot(direction);
                let end = if along > 0.0 { *b } else { *a };
                let across = direction - *axis * along;
                // nearly along the axis, what is left is rounding and may point anywhere: the middle is as far
                if across.dot(across) <= ALONG * ALONG * direction.dot(direction) {
                    return end;
                }
                // taken off twice, else the point lies off the end by as much as rounding tilts a short remainder
                let across = across - *axis * axis.dot(across);
                let long = across.length();
                if long > 0.0 { end + across * (*radius / long) } else { end }
            }
        }
    }
}

/// A point of a shape that reaches farthest along a direction.
fn farthest(section: &Contour, v: Vec2) -> Point {
    let long = length(v);
    if let Some((centre, radius)) = section.as_circle() {
        return if long > 1e-300 { centre + v * (radius / long) } else { centre };
    }
    let mut best = (f64::NEG_INFINITY, Point::ORIGIN);
    for s in section.segments() {
        let p = match s {
            Segment::Arc(a) if long > 1e-300 && a.faces(v) => a.centre + v * (a.radius / long),
            _ => s.start(),
        };
        let reach = p.to_vec2().dot(v);
        if reach > best.0 {
            best = (reach, p);
        }
    }
    best.1
}

impl Piece {
    /// A piece of its own size.
    pub fn new(core: Core, radius: f64, excess: f64) -> Piece {
        let mut piece = Piece { core, radius, excess, ball: (Vec3::ZERO, 0.0) };
        piece.ball = piece.around();
        piece
    }

    /// The piece moved.
    pub fn moved(&self, by: &Pose) -> Piece {
        let core = match &self.core {
            Core::Points(points) => Core::Points(points.iter().map(|p| by.point(*p)).collect()),
            Core::Prism { section, from, to, pose } => {
                Core::Prism { section: section.clone(), from: *from, to: *to, pose: pose.then(by) }
            }
            Core::Bar { ends, axis, radius } => {
                Core::Bar { ends: ends.map(|e| by.point(e)), axis: by.vector(*axis), radius: *radius }
            }
        };
        Piece { core, radius: self.radius, excess: self.excess, ball: (by.point(self.ball.0), self.ball.1) }
    }

    /// How far it reaches along a unit vector.
    pub fn reach(&self, direction: Vec3) -> f64 {
        self.core.support(direction).dot(direction) + self.radius
    }

    /// Smallest upright box.
    pub fn bounds(&self) -> Bounds {
        let reach = |x, y, d| self.reach(Vec3::new(x, y, d));
        Bounds {
            low: Vec3::new(-reach(-1.0, 0.0, 0.0), -reach(0.0, -1.0, 0.0), -reach(0.0, 0.0, -1.0)),
            high: Vec3::new(reach(1.0, 0.0, 0.0), reach(0.0, 1.0, 0.0), reach(0.0, 0.0, 1.0)),
        }
    }

    fn around(&self) -> (Vec3, f64) {
        match &self.core {
            Core::Bar { ends: [a, b], radius, .. } => {
                let half = (*b - *a).length() / 2.0;
                ((*a + *b) * 0.5, (half * half + radius * radius).sqrt() + self.radius)
            }
            Core::Points(points) => {
                let b = self.bounds();
                let middle = (b.low + b.high) * 0.5;
                let far = points.iter().map(|p| (*p - middle).length()).fold(0.0, f64::max);
                (middle, far + self.radius)
            }
            Core::Prism { section, from, to, pose } => {
                let flat = section.bounds().center();
                let (r, half) = (section.farthest(flat), (to - from) / 2.0);
                let middle = pose.point(Vec3::new(flat.x, flat.y, (from + to) / 2.0));
                (middle, (r * r + half * half).sqrt() + self.radius)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// However nearly a direction runs along a bar, the point told is one of the bar, and none reaches farther.
    #[test]
    fn a_bar_reaches_no_farther_than_its_end() {
        let axis = Vec3::new(2.0, -3.0, 6.0) * (1.0 / 7.0);
        let beside = Vec3::new(3.0, 2.0, 0.0) * (1.0 / 13.0f64.sqrt());
        let a = Vec3::new(100.3, -70.1, 55.7);
        let bar = Core::Bar { ends: [a, a + axis * 40.0], axis, radius: 20.0 };
        for n in 0..20 {
            let off = if n == 0 { 0.0 } else { 10.0f64.powi(-n) };
            for long in [1e-6, 1.0, 317.3] {
                let v = (axis + beside * off) * long;
                let p = bar.support(v) - a;
                let (height, wide) = (p.dot(axis), (p - axis * p.dot(axis)).length());
                assert!((height - 40.0).abs() < 1e-12 && wide < 20.0 + 1e-12, "{off}: {height} {wide}");
                let most = (40.0 + 20.0 * off) * long;
                assert!((p.dot(v) - most).abs() < 1e-11 * long, "{off}: {} {most}", p.dot(v));
            }
        }
    }
}
