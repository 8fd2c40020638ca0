//! What a solid is: a shape about its own origin and the pose that puts it in its place.

use super::{Pose, Vec3};
use crate::geom::Contour;

/// One piece of a tube's centre line, in the shape's own axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Leg {
    /// A straight from a point to another.
    Line(Vec3, Vec3),
    /// An arc: it starts at `from` and turns about the line through `centre` along the unit vector `axis` by
    /// `angle` radians (as [`Pose::about`] does).
    Arc {
        /// Start.
        from: Vec3,
        /// Centre.
        centre: Vec3,
        /// Unit vector across the arc's plane.
        axis: Vec3,
        /// Turn, radians.
        angle: f64,
    },
}

/// A shape about its own origin. Millimetres.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A contour drawn out along the depth from `from` to `to`.
    Prism {
        /// The contour, counter-clockwise.
        section: Contour,
        /// Where it begins along the depth.
        from: f64,
        /// Where it ends.
        to: f64,
    },
    /// A box about its middle; half its size along each axis.
    Box(Vec3),
    /// A round bar about its middle, along the depth axis.
    Cylinder {
        /// Radius.
        radius: f64,
        /// Half its length.
        half: f64,
    },
    /// A ball about its middle.
    Sphere(f64),
    /// A round tube along a path whose legs join; its ends are round.
    Tube {
        /// Centre line.
        path: Vec<Leg>,
        /// Half its outside diameter.
        radius: f64,
    },
    /// The convex hull of points.
    Hull(Vec<Vec3>),
}

/// Why numbers make no solid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// A number is not finite.
    NotFinite,
    /// It has no extent in some direction.
    ZeroSize,
    /// The legs of a tube do not join.
    Broken,
    /// A tube is bent tighter than its own radius.
    TooTight,
    /// The points of a hull lie in one plane.
    Flat,
}

/// A solid in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    shape: Shape,
    pose: Pose,
}

impl Solid {
    /// A shape put in its place.
    pub fn new(shape: Shape, pose: Pose) -> Result<Solid, Fault> {
        Ok(Solid { shape, pose })
    }

    /// Its shape, about its own origin.
    pub fn shape(&self) -> &Shape {
        &self.shape
    }

    /// Where its shape stands.
    pub fn pose(&self) -> &Pose {
        &self.pose
    }
}
