//! Shapes moved on the paper, or drawn smaller: a drawing to look at has a scale, a contour has none.

use crate::draw::{Shape, Text};
use crate::geom::{Arc, Contour, Line, Point, Segment, Transform, Vec2};

/// The same shape, shifted. Exact to rounding.
pub(in crate::draw) fn shifted(shape: &Shape, by: Vec2) -> Shape {
    let t = Transform::shift(by);
    let contours = |list: &[Contour]| list.iter().map(|c| t.contour(c)).collect();
    match shape {
        Shape::Line(l) => Shape::Line(Line { a: l.a + by, b: l.b + by }),
        Shape::Arc(a) => Shape::Arc(Arc { centre: a.centre + by, a: a.a + by, b: a.b + by, ..*a }),
        Shape::Circle { centre, radius } => Shape::Circle { centre: *centre + by, radius: *radius },
        Shape::Path(c) => Shape::Path(t.contour(c)),
        Shape::Chain(list) => Shape::Chain(list.iter().map(|s| t.segment(s)).collect()),
        Shape::Text(x) => Shape::Text(Text { at: x.at + by, ..x.clone() }),
        Shape::Hatch { contours: list, spacing, angle } => {
            Shape::Hatch { contours: contours(list), spacing: *spacing, angle: *angle }
        }
        Shape::Picture { at, picture } => Shape::Picture { at: *at + by, picture: picture.clone() },
    }
}

/// A contour at a scale above zero: `p` lands at `p * scale + shift`. Exact to rounding.
pub(in crate::draw) fn scaled(contour: &Contour, scale: f64, shift: Vec2) -> Contour {
    let at = |p: Point| (p.to_vec2() * scale + shift).to_point();
    let pieces = contour.segments().iter().map(|s| match s {
        Segment::Line(l) => Segment::line(at(l.a), at(l.b)),
        Segment::Arc(a) => {
            Segment::Arc(Arc { centre: at(a.centre), radius: a.radius * scale, a: at(a.a), b: at(a.b), ..*a })
        }
    });
    Contour::from_checked(pieces.collect())
}
