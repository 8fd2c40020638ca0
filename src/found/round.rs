//! Which contours are circles, and how far they leave them: the circle of least squares through points spread along
//! the contour, then the exact distances of every piece.

use crate::geom::{Contour, Point, Segment, Vec2, length, span};

/// A circle and how far a shape leaves it at most, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// Centre.
    pub centre: Point,
    /// Radius.
    pub radius: f64,
    /// Largest distance from it, over every point of the pieces.
    pub off: f64,
}

/// The circle of a closed contour that goes round it once.
pub fn circle(c: &Contour) -> Option<Fit> {
    let pieces = c.segments();
    if pieces.len() < 3 && !pieces.iter().all(|s| matches!(s, Segment::Arc(_))) {
        return None;
    }
    let b = c.bounds();
    // a circle is as wide as it is high; this spares the fit for nearly everything else
    if (b.width() - b.height()).abs() > 0.05 * b.width().max(b.height()) {
        return None;
    }
    let f = fit(pieces)?;
    let area = std::f64::consts::PI * f.radius * f.radius;
    ((c.area() - area).abs() < 0.05 * area && c.holds(f.centre)).then_some(f)
}

/// The circle of least squares of pieces, and their exact distance from it.
pub fn fit(pieces: &[Segment]) -> Option<Fit> {
    let points: Vec<Point> =
        pieces.iter().flat_map(|s| [0.0, 0.25, 0.5, 0.75, 1.0].map(|t| s.at(t))).collect();
    let all = fit_points(&points).map(|(c, r)| best(pieces, c, r))?;
    // chords are drawn from corner to corner of the curve that they stand for
    if pieces.iter().all(|s| matches!(s, Segment::Line(_))) {
        let corners: Vec<Point> =
            pieces.iter().map(Segment::start).chain(pieces.last().map(Segment::end)).collect();
        if let Some((c, r)) = fit_points(&corners) {
            let apart = corners.iter().map(|p| (span(*p, c) - r).abs()).fold(0.0, f64::max);
            let (least, most) = reach(pieces, c);
            let off = (r - least).max(most - r);
            if apart <= all.off / 4.0 && off <= 2.2 * all.off {
                return Some(Fit { centre: c, radius: r, off });
            }
        }
    }
    Some(all)
}

/// Of all radii about a centre the one in the middle of what the pieces reach is off least.
fn best(pieces: &[Segment], centre: Point, radius: f64) -> Fit {
    let (least, most) = reach(pieces, centre);
    let half = (most - least) / 2.0;
    let plain = (most - radius).abs().max((radius - least).abs());
    let (radius, off) = if half < plain { ((most + least) / 2.0, half) } else { (radius, plain) };
    Fit { centre, radius, off }
}

/// The circle of least squares through points.
pub(super) fn fit_points(points: &[Point]) -> Option<(Point, f64)> {
    let n = points.len() as f64;
    let mean = (points.iter().fold(Vec2::ZERO, |s, p| s + p.to_vec2()) / n).to_point();
    // algebraic: x^2 + y^2 = 2 a x + 2 b y + c about the mean, in units of the spread
    let size = points.iter().map(|p| span(*p, mean)).fold(0.0, f64::max);
    if size <= 0.0 || !size.is_finite() {
        return None;
    }
    let (mut xx, mut xy, mut yy, mut xz, mut yz, mut zz) = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
    for p in points {
        let v = (*p - mean) / size;
        let z = v.hypot2();
        xx += v.x * v.x;
        xy += v.x * v.y;
        yy += v.y * v.y;
        xz += v.x * z;
        yz += v.y * z;
        zz += z;
    }
    let det = xx * yy - xy * xy;
    if det.abs() <= 1e-14 * (xx + yy) * (xx + yy) {
        return None;
    }
    let shift = Vec2::new(xz * yy - yz * xy, yz * xx - xz * xy) / (2.0 * det);
    let mut centre = mean + shift * size;
    let mut radius = (zz / n + shift.hypot2()).sqrt() * size;
    for _ in 0..4 {
        (centre, radius) = step(points, centre, radius)?;
    }
    // scattered points, or a short arc of them, take longer
    for _ in 0..100 {
        let before = (centre, radius);
        (centre, radius) = step(points, centre, radius)?;
        if span(centre, before.0) + (radius - before.1).abs() <= 1e-9 * radius {
            break;
        }
    }
    (centre.is_finite() && radius.is_finite()).then_some((centre, radius))
}

/// One step of Gauss and Newton on the distances.
fn step(points: &[Point], centre: Point, radius: f64) -> Option<(Point, f64)> {
    let n = points.len() as f64;
    let mut sum = [0.0f64; 7];
    for p in points {
        let v = *p - centre;
        let d = length(v);
        if d <= 0.0 {
            return None;
        }
        let (u, e) = (v / d, d - radius);
        for (s, x) in sum.iter_mut().zip([u.x, u.y, u.x * u.x, u.x * u.y, u.y * u.y, u.x * e, u.y * e]) {
            *s += x;
        }
    }
    let [x, y, xx, xy, yy, xe, ye] = sum;
    let e: f64 = points.iter().map(|p| span(*p, centre) - radius).sum();
    // the normal equations with the radius taken out
    let (axx, axy, ayy) = (xx - x * x / n, xy - x * y / n, yy - y * y / n);
    let (bx, by) = (xe - x * e / n, ye - y * e / n);
    let det = axx * ayy - axy * axy;
    if det.abs() <= 1e-14 * n * n {
        return Some((centre, radius));
    }
    let move_by = Vec2::new(bx * ayy - by * axy, by * axx - bx * axy) / det;
    let grow = (e - x * move_by.x - y * move_by.y) / n;
    Some((centre + move_by, radius + grow))
}

/// Least and greatest distance of pieces from a point, exact.
pub fn reach(pieces: &[Segment], from: Point) -> (f64, f64) {
    let (mut least, mut most) = (f64::INFINITY, 0.0f64);
    for s in pieces {
        let ends = [span(s.start(), from), span(s.end(), from)];
        most = most.max(ends[0]).max(ends[1]);
        least = least.min(crate::geom::distance::point_segment(from, s).distance());
        if let Segment::Arc(a) = s {
            let away = a.centre - from;
            let long = length(away);
            if long > 0.0 && a.faces(away) {
                most = most.max(long + a.radius);
            }
            if long <= 0.0 {
                most = most.max(a.radius);
            }
        }
    }
    (least, most)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::angle;
    use std::f64::consts::{PI, TAU};

    #[test]
    fn chords_and_arcs_of_a_circle() {
        let c = Point::new(12_345.6, -789.0);
        let corner = |k: u32| c + angle::unit(f64::from(k) * TAU / 90.0) * 40.0;
        let chords = Contour::polygon(&(0..90).map(corner).collect::<Vec<_>>());
        let f = circle(&chords).unwrap();
        // the corners lie on the circle, the chords leave it by the sagitta
        let sagitta = 40.0 * (1.0 - libm::cos(PI / 90.0));
        assert!((f.off - sagitta).abs() < 1e-9 && span(f.centre, c) < 1e-9, "{f:?}");
        assert!((f.radius - 40.0).abs() < 1e-9);
        assert!(circle(&Contour::rect(c, 30.0, 30.0, 3.0)).is_none_or(|f| f.off > 1.0));
        assert!(circle(&Contour::rect(c, 80.0, 30.0, 3.0)).is_none());
        let exact = circle(&Contour::circle(c, 7.0)).unwrap();
        assert!(exact.off < 1e-9 && (exact.radius - 7.0).abs() < 1e-9, "{exact:?}");
    }
}
