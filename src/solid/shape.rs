//! What a solid is: a shape about its own origin and the pose that puts it in its place.

use super::{Bounds, Piece, Pose, Vec3, build, silhouette};
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

/// A solid in its place: the union of its convex pieces.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    shape: Shape,
    pose: Pose,
    pieces: Vec<Piece>,
    boxed: Bounds,
    ball: (Vec3, f64),
}

impl Solid {
    /// A shape put in its place; a fault where the numbers make no solid.
    pub fn new(shape: Shape, pose: Pose) -> Result<Solid, Fault> {
        let finite = pose.columns().iter().all(|c| c.is_finite()) && pose.origin().is_finite();
        if !finite {
            return Err(Fault::NotFinite);
        }
        let pieces = build::pieces(&shape, &pose)?;
        Ok(Solid::of(shape, pose, pieces))
    }

    /// Prisms of one depth range as one solid; as its shape it tells the first.
    pub fn prisms(sections: &[Contour], from: f64, to: f64) -> Result<Solid, Fault> {
        let mut pieces = Vec::new();
        for section in sections {
            let shape = Shape::Prism { section: section.clone(), from, to };
            pieces.extend(build::pieces(&shape, &Pose::IDENTITY)?);
        }
        let Some(section) = sections.first().cloned() else { return Err(Fault::ZeroSize) };
        Ok(Solid::of(Shape::Prism { section, from, to }, Pose::IDENTITY, pieces))
    }

    fn of(shape: Shape, pose: Pose, pieces: Vec<Piece>) -> Solid {
        let mut boxes = pieces.iter().map(Piece::bounds);
        let first = boxes.next().unwrap_or(Bounds { low: Vec3::ZERO, high: Vec3::ZERO });
        let boxed = boxes.fold(first, |all, b| all.union(&b));
        let ball = match pieces.as_slice() {
            [one] => one.ball,
            all => {
                let middle = (boxed.low + boxed.high) * 0.5;
                let far = |p: &Piece| (p.ball.0 - middle).length() + p.ball.1;
                (middle, all.iter().map(far).fold(0.0, f64::max).min((boxed.high - middle).length()))
            }
        };
        Solid { shape, pose, pieces, boxed, ball }
    }

    /// The solid moved on.
    pub fn moved(&self, by: &Pose) -> Solid {
        let pieces = self.pieces.iter().map(|p| p.moved(by)).collect();
        Solid::of(self.shape.clone(), self.pose.then(by), pieces)
    }

    /// Its shape, about its own origin.
    pub fn shape(&self) -> &Shape {
        &self.shape
    }

    /// Where its shape stands.
    pub fn pose(&self) -> &Pose {
        &self.pose
    }

    /// Its convex pieces, at least one.
    pub fn pieces(&self) -> &[Piece] {
        &self.pieces
    }

    /// Smallest upright box of its pieces.
    pub fn bounds(&self) -> Bounds {
        self.boxed
    }

    /// A ball around it: middle and radius.
    pub fn ball(&self) -> (Vec3, f64) {
        self.ball
    }

    /// Whether it is one convex piece.
    pub fn is_convex(&self) -> bool {
        self.pieces.len() == 1
    }

    /// Outline seen from the seat. Exact for what stands along the depth, for balls and for boxes and hulls; else the
    /// convex hull or a polygon of tangents around it, on the safe side: larger by at most 0.06 % of its size.
    pub fn silhouette(&self) -> Contour {
        silhouette::of(self)
    }
}
