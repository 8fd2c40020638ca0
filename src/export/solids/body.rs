//! The few kinds of body that a file holds, in right-handed space: every shape of a model becomes one of them, exactly.

use super::hull::{self, Hull};
use super::space::{Frame, V3};
use super::tube::{self, Run};
use crate::draw::solids::{Form, Plate};
use crate::geom::{Contour, Point};
use crate::solid::{Shape, Solid};

/// A body.
#[derive(Clone, Debug)]
pub(super) enum Body {
    /// Rings drawn out along the frame's z.
    Drawn(Drawn),
    /// Round bars with round ends along smooth paths; they may reach into each other. A ball is one without length.
    Runs(Vec<Run>),
    /// Flat faces.
    Hull(Hull),
}

/// Rings drawn out.
#[derive(Clone, Debug)]
pub(super) struct Drawn {
    /// Where it stands.
    pub frame: Frame,
    /// The outline, counter-clockwise, then the openings, clockwise: metal is to the left.
    pub rings: Vec<Contour>,
    /// Lower and upper end along z.
    pub ends: (f64, f64),
}

/// The body of a form.
///
/// # Errors
/// Why it is none, in words.
pub(super) fn body(form: &Form) -> Result<Body, &'static str> {
    match form {
        Form::Plate(plate) => Ok(Body::Drawn(drawn_plate(plate))),
        Form::Solid(solid) => of_solid(solid),
    }
}

fn drawn_plate(plate: &Plate) -> Drawn {
    let openings = plate.openings.iter().map(|c| c.ccw().reversed());
    let rings = std::iter::once(plate.outline.ccw()).chain(openings).collect();
    Drawn { frame: Frame::WORLD, rings, ends: (-plate.to, -plate.from) }
}

fn of_solid(solid: &Solid) -> Result<Body, &'static str> {
    let frame = Frame::of(solid.pose());
    let drawn = |ring: Contour, low: f64, high: f64| {
        Ok(Body::Drawn(Drawn { frame, rings: vec![ring.ccw()], ends: (low, high) }))
    };
    match solid.shape() {
        Shape::Prism { section, from, to } => drawn(section.clone(), -to, -from),
        Shape::Box(half) => {
            drawn(Contour::rect(Point::ORIGIN, 2.0 * half.x, 2.0 * half.y, 0.0), -half.d, half.d)
        }
        Shape::Cylinder { radius, half } => drawn(Contour::circle(Point::ORIGIN, *radius), -half, *half),
        Shape::Sphere(radius) => Ok(Body::Runs(vec![Run::ball(frame.at, *radius)])),
        Shape::Tube { path, radius } => Ok(Body::Runs(tube::runs(path, *radius, solid.pose())?)),
        Shape::Hull(points) => {
            let points: Vec<V3> = points.iter().map(|p| V3::mirrored(solid.pose().point(*p))).collect();
            Ok(Body::Hull(hull::hull(&points)?))
        }
    }
}
