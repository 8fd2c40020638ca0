//! Plane geometry of lines and circular arcs, in millimetres.
//!
//! Axes: x to the right, y up, as seen from the seat. Angles are counter-clockwise; inside the
//! crate they are radians unless a name says degrees. A closed contour may run either way round;
//! every question that depends on the way says so. Each file answers one question and states
//! whether its answer is exact (to rounding) or what its error bound is.

pub mod ahead;
pub mod angle;
mod bulge;
mod check;
mod contacts;
pub mod contains;
pub mod contour;
mod convex;
pub mod distance;
mod join;
pub mod margin;
pub mod moments;
pub mod offset;
pub mod overlay;
pub mod penetration;
pub mod rational;
pub mod region;
pub mod segment;
mod shapes;
mod support;
pub mod sweep;
pub mod transform;

pub use check::ContourError;
pub use contains::{Side, contains};
pub use contour::Contour;
pub use distance::{Gap, Relation};
pub use kurbo::{Point, Rect, Vec2};
pub use moments::Moments;
pub use rational::Rational;
pub use segment::{Arc, Line, Segment};
pub use shapes::Corner;
pub use transform::Transform;

/// Arithmetic slack in millimetres: rounding of f64 chains at panel size (a few metres) stays far
/// below it. It is *not* a workmanship tolerance; those are named terms of a part.
pub const SLACK: f64 = 1e-6;

/// Length of a vector. `sqrt` is correctly rounded everywhere, `hypot` is not.
#[inline]
pub fn length(v: Vec2) -> f64 {
    (v.x * v.x + v.y * v.y).sqrt()
}

/// Distance of two points.
#[inline]
pub fn span(a: Point, b: Point) -> f64 {
    length(b - a)
}
