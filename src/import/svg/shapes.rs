//! The basic shapes of SVG as chains, in the element's own coordinates.

use super::path::{Fault, Scan};
use crate::geom::{Arc, Point, Rational, Rect, Segment, Vec2};
use crate::import::{Curve, Shape};
use std::f64::consts::{FRAC_PI_2, TAU};
use std::sync::Arc as Rc;

/// A chain of pieces that were all read.
fn read(pieces: Vec<Segment>, closed: bool) -> Shape {
    Shape::Chain { pieces, closed, curves: vec![] }
}

/// A point without extent.
fn nothing(at: Point) -> Shape {
    read(vec![Segment::line(at, at)], false)
}

/// `line`.
pub fn line(a: Point, b: Point) -> Shape {
    read(vec![Segment::line(a, b)], false)
}

/// `circle` and `ellipse`.
pub fn ellipse(centre: Point, rx: f64, ry: f64) -> Shape {
    if rx == 0.0 || ry == 0.0 {
        return nothing(centre);
    }
    if (rx - ry).abs() <= 1e-9 * rx.max(ry) {
        return read(vec![Segment::Arc(Arc::new(centre, rx, 0.0, TAU))], true);
    }
    let at = centre + Vec2::new(rx, 0.0);
    let bounds = Rect::from_center_size(centre, (2.0 * rx, 2.0 * ry));
    Shape::Chain {
        pieces: vec![Segment::line(at, at)],
        closed: true,
        curves: vec![Curve { piece: 0, bounds, exact: Ok(corner(centre, rx, ry, 0.0, TAU)) }],
    }
}

/// An arc of an upright ellipse.
fn corner(centre: Point, rx: f64, ry: f64, start: f64, sweep: f64) -> Rc<[Rational]> {
    Rational::ellipse(centre, Vec2::new(rx, 0.0), Vec2::new(0.0, ry), start, sweep).into()
}

/// `rect`, its corners rounded by `rx` and `ry`.
pub fn rect(at: Point, w: f64, h: f64, rx: Option<f64>, ry: Option<f64>) -> Shape {
    if w == 0.0 || h == 0.0 {
        return nothing(at);
    }
    let rx = rx.or(ry).unwrap_or(0.0).min(w / 2.0);
    let ry = ry.or(Some(rx)).unwrap_or(0.0).min(h / 2.0);
    let (x1, y1) = (at.x + w, at.y + h);
    if rx <= 0.0 || ry <= 0.0 {
        let c = [at, Point::new(x1, at.y), Point::new(x1, y1), Point::new(at.x, y1)];
        return polygon(&c, true);
    }
    let mut pieces = Vec::new();
    let mut curves = Vec::new();
    let straight = |a: Point, b: Point, pieces: &mut Vec<Segment>| {
        if a != b {
            pieces.push(Segment::line(a, b));
        }
    };
    // from the top left, along each side and round the corner at its end
    let corners = [
        (
            Point::new(at.x + rx, at.y),
            Point::new(x1 - rx, at.y),
            Point::new(x1, at.y + ry),
            Vec2::new(0.0, ry),
        ),
        (Point::new(x1, at.y + ry), Point::new(x1, y1 - ry), Point::new(x1 - rx, y1), Vec2::new(-rx, 0.0)),
        (Point::new(x1 - rx, y1), Point::new(at.x + rx, y1), Point::new(at.x, y1 - ry), Vec2::new(0.0, -ry)),
        (
            Point::new(at.x, y1 - ry),
            Point::new(at.x, at.y + ry),
            Point::new(at.x + rx, at.y),
            Vec2::new(rx, 0.0),
        ),
    ];
    for (k, (from, to, end, inward)) in corners.into_iter().enumerate() {
        straight(from, to, &mut pieces);
        if (rx - ry).abs() <= 1e-9 * rx.max(ry) {
            let start = if k == 0 { 3.0 * FRAC_PI_2 } else { FRAC_PI_2 * (k as f64 - 1.0) };
            let arc = Arc { centre: to + inward, radius: rx, start, sweep: FRAC_PI_2, a: to, b: end };
            pieces.push(Segment::Arc(arc));
        } else {
            let start = FRAC_PI_2 * (k as f64 - 1.0);
            // each corner's centre lies `inward` from where a circle of ry would have it
            let centre = if k % 2 == 0 {
                to + Vec2::new(0.0, if k == 0 { ry } else { -ry })
            } else {
                to + Vec2::new(if k == 1 { -rx } else { rx }, 0.0)
            };
            let exact = Ok(corner(centre, rx, ry, start, FRAC_PI_2));
            curves.push(Curve { piece: pieces.len(), bounds: Rect::from_points(to, end), exact });
            pieces.push(Segment::line(to, end));
        }
    }
    Shape::Chain { pieces, closed: true, curves }
}

/// `polygon` and `polyline`.
pub fn polygon(points: &[Point], closed: bool) -> Shape {
    let mut pieces = Vec::with_capacity(points.len());
    for (a, b) in points
        .iter()
        .zip(points.iter().skip(1))
        .chain(closed.then(|| points.last().zip(points.first())).flatten())
    {
        if a != b {
            pieces.push(Segment::line(*a, *b));
        }
    }
    match (pieces.is_empty(), points.first()) {
        (true, Some(p)) => nothing(*p),
        (true, None) => Shape::NotRead("without points"),
        _ => read(pieces, closed),
    }
}

/// The points of a `points` attribute.
///
/// # Errors
/// The first fault.
pub fn points(text: &str) -> Result<Vec<Point>, Fault> {
    let mut scan = Scan::new(text);
    let mut out = Vec::new();
    while !scan.done() {
        out.push(Point::new(scan.number()?, scan.number()?));
    }
    Ok(out)
}
