//! To the library that offsets and joins outlines (`cavalier_contours`), and back: it keeps arcs as bulges,
//! the tangent of a quarter of the sweep, and no arc over half a circle.

use super::{Arc, Contour, Point, Segment, angle, length, span};
use cavalier_contours::polyline::{PlineSource, PlineSourceMut, Polyline};
use std::f64::consts::PI;

/// Joints nearer than this are one: what the library calls equal places is coarser (mm).
const SAME: f64 = 1e-7;

/// A contour, counter-clockwise, as the library holds it.
pub(super) fn to(c: &Contour) -> Polyline<f64> {
    let mut out = Polyline::new_closed();
    for s in c.ccw().segments() {
        match s {
            Segment::Line(l) => out.add(l.a.x, l.a.y, 0.0),
            Segment::Arc(a) => {
                // a little under half a circle, so that rounding cannot make a bulge above 1
                let parts = (a.sweep.abs() / (0.9 * PI)).ceil().max(1.0);
                let (sin, cos) = angle::sin_cos(a.sweep / parts / 4.0);
                for k in 0..parts as u32 {
                    let p = if k == 0 { a.a } else { a.at(f64::from(k) / parts) };
                    out.add(p.x, p.y, sin / cos);
                }
            }
        }
    }
    out
}

/// An outline from the library; none where it encloses nothing or is no lawful contour. Arcs of one circle
/// that follow each other become one.
pub(super) fn from(p: &Polyline<f64>) -> Option<Contour> {
    let mut corners: Vec<(Point, f64)> = Vec::new();
    for v in p.iter_vertexes() {
        let at = Point::new(v.x, v.y);
        match corners.last_mut() {
            Some(last) if span(last.0, at) <= SAME => last.1 = v.bulge,
            _ => corners.push((at, v.bulge)),
        }
    }
    while corners.len() > 1
        && corners.first().zip(corners.last()).is_some_and(|(a, b)| span(a.0, b.0) <= SAME)
    {
        corners.pop();
    }
    let next = corners.iter().cycle().skip(1);
    let mut pieces: Vec<Segment> = Vec::new();
    for ((a, bulge), (b, _)) in corners.iter().zip(next) {
        let piece = piece(*a, *b, *bulge);
        match (pieces.last_mut(), piece) {
            (Some(Segment::Arc(last)), Segment::Arc(more)) if joins(last, &more) => {
                *last = Arc { sweep: last.sweep + more.sweep, b: more.b, ..*last };
            }
            _ => pieces.push(piece),
        }
    }
    if let [Segment::Arc(first), .., Segment::Arc(last)] = pieces.as_mut_slice()
        && joins(last, first)
    {
        *first = Arc { start: last.start, sweep: last.sweep + first.sweep, a: last.a, ..*first };
        pieces.pop();
    }
    Contour::new(pieces).ok()
}

/// Whether two arcs are one: same circle to a nanometre, same way, not more than once round.
fn joins(a: &Arc, b: &Arc) -> bool {
    span(a.centre, b.centre) < 1e-6
        && (a.radius - b.radius).abs() < 1e-6
        && a.sweep * b.sweep > 0.0
        && (a.sweep + b.sweep).abs() < 2.0 * PI - 1e-6
}

/// The line or arc of a bulge.
fn piece(a: Point, b: Point, bulge: f64) -> Segment {
    let chord = b - a;
    // height of the arc over its chord: below rounding it is a line
    if (bulge * length(chord) / 2.0).abs() < 1e-9 {
        return Segment::line(a, b);
    }
    let across = super::Vec2::new(-chord.y, chord.x);
    let centre = a.midpoint(b) + across * ((1.0 - bulge * bulge) / (4.0 * bulge));
    Segment::Arc(Arc::between(a, b, centre, bulge > 0.0))
}
