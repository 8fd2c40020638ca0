//! Moves, turns, mirrors and scales of what was read. Arcs stay arcs under a similarity, exactly to rounding;
//! under any other map they are ellipses, kept as curves.

use super::{Curve, Shape};
use crate::geom::{Arc, Line, Point, Rational, Rect, Segment, Vec2, angle, length};
use kurbo::Affine;

/// Scale factor of a map that keeps circles; None for one that does not.
pub(super) fn similar(m: &Affine) -> Option<f64> {
    let [a, b, c, d, _, _] = m.as_coeffs();
    let (p, q) = (a * a + b * b, c * c + d * d);
    let even = (p - q).abs() <= 1e-9 * (p + q) && (a * c + b * d).abs() <= 1e-9 * (p + q);
    (even && p > 0.0).then(|| p.sqrt())
}

/// Whether a map turns the plane over.
pub(super) fn mirrors(m: &Affine) -> bool {
    m.determinant() < 0.0
}

/// A piece moved; None for an arc that would become an ellipse.
fn segment(m: &Affine, s: &Segment) -> Option<Segment> {
    Some(match s {
        Segment::Line(l) => Segment::Line(Line { a: *m * l.a, b: *m * l.b }),
        Segment::Arc(a) => {
            let scale = similar(m)?;
            let centre = *m * a.centre;
            let (start, end) = (*m * a.a, *m * a.b);
            let sweep = if mirrors(m) { -a.sweep } else { a.sweep };
            let first = angle::normalise(angle::direction(start - centre));
            Segment::Arc(Arc { centre, radius: a.radius * scale, start: first, sweep, a: start, b: end })
        }
    })
}

/// A box that holds the moved box.
fn bounds(m: &Affine, r: &Rect) -> Rect {
    m.transform_rect_bbox(*r)
}

/// A curve moved.
fn moved(m: &Affine, c: Curve) -> Curve {
    let exact = c.exact.map(|parts| parts.iter().map(|r| r.mapped(m)).collect());
    Curve { piece: c.piece, bounds: bounds(m, &c.bounds), exact }
}

/// An arc as a curve, before the map that makes an ellipse of it.
fn flattened(piece: usize, s: &Segment) -> Curve {
    let exact = match s {
        Segment::Line(_) => Err("a straight"),
        Segment::Arc(a) => {
            let (u, v) = (Vec2::new(a.radius, 0.0), Vec2::new(0.0, a.radius));
            Ok(Rational::ellipse(a.centre, u, v, a.start, a.sweep).into())
        }
    };
    Curve { piece, bounds: s.bounds(), exact }
}

/// A shape moved. Arcs under an uneven scale become curves.
pub(super) fn shape(m: &Affine, s: Shape) -> Shape {
    match s {
        Shape::Chain { pieces, closed, curves } => {
            let mut kept: Vec<Curve> = curves.into_iter().map(|c| moved(m, c)).collect();
            let mut out = Vec::with_capacity(pieces.len());
            for (piece, s) in pieces.iter().enumerate() {
                match segment(m, s) {
                    Some(s) => out.push(s),
                    None => {
                        out.push(Segment::line(*m * s.start(), *m * s.end()));
                        kept.push(moved(m, flattened(piece, s)));
                    }
                }
            }
            kept.sort_by_key(|c| c.piece);
            Shape::Chain { pieces: out, closed, curves: kept }
        }
        Shape::Mark { what, at, words } => Shape::Mark { what, at: at.map(|p| *m * p), words },
        Shape::NotRead(why) => Shape::NotRead(why),
    }
}

/// The straight or arc of a bulge, the tangent of a quarter of the sweep.
pub(super) fn bulge(a: Point, b: Point, bulge: f64) -> Segment {
    let chord = b - a;
    let long = length(chord);
    // height of the arc over its chord, beside the chord: below rounding it is a straight
    if bulge.abs() < 1e-12 || long == 0.0 {
        return Segment::line(a, b);
    }
    let across = Vec2::new(-chord.y, chord.x);
    let centre = a.midpoint(b) + across * ((1.0 - bulge * bulge) / (4.0 * bulge));
    let radius = long * (1.0 + bulge * bulge) / (4.0 * bulge.abs());
    if !centre.is_finite() || !radius.is_finite() || radius > 1e9 {
        return Segment::line(a, b);
    }
    let start = angle::normalise(angle::direction(a - centre));
    Segment::Arc(Arc { centre, radius, start, sweep: 4.0 * libm::atan(bulge), a, b })
}
