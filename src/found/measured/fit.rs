//! Straights, circles and fillets of least squares: the sum of the squared distances from the piece is least.

use super::On;
use crate::found::round;
use crate::geom::{Point, Vec2, length, span};

/// Radii from which a fillet's is sought, each three quarters of the one before.
const STARTS: i32 = 16;

/// A straight that runs as its points do, or a circle.
#[derive(Clone, Copy, Debug)]
pub enum Shape {
    /// A point of it and its unit direction.
    Line(Point, Vec2),
    /// Centre and radius.
    Circle(Point, f64),
}

/// A shape with the residuals of its points.
#[derive(Clone, Debug)]
pub struct Fit {
    /// The shape.
    pub shape: Shape,
    /// Residuals, mm.
    pub residuals: Vec<f64>,
    /// Of one point; None without points to spare.
    pub deviation: Option<f64>,
    /// Of the radius.
    pub radius_deviation: Option<f64>,
    /// Of a fillet: by how much its middle moves off the corner, for points of deviation 1.
    pub bulge: f64,
}

fn fit(on: On, shape: Shape, residuals: Vec<f64>, cofactor: Option<f64>) -> Fit {
    let spare = residuals.len().checked_sub(on.unknowns()).filter(|n| *n > 0);
    let deviation = spare.map(|n| (residuals.iter().map(|r| r * r).sum::<f64>() / n as f64).sqrt());
    let radius_deviation = deviation.zip(cofactor).map(|(s, q)| s * q.sqrt());
    Fit { shape, residuals, deviation, radius_deviation, bulge: 0.0 }
}

/// The straight through points; None where they fall together.
pub fn line(points: &[Point]) -> Option<Fit> {
    let mean = mean(points)?;
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for p in points {
        let v = *p - mean;
        xx += v.x * v.x;
        xy += v.x * v.y;
        yy += v.y * v.y;
    }
    // the direction of the larger eigenvalue: half the angle of (xx - yy, 2 xy)
    let d = Vec2::new(xx - yy, 2.0 * xy);
    let long = length(d);
    if long <= 1e-12 {
        return None;
    }
    let mut e = Vec2::new(long + d.x, d.y);
    if length(e) <= 1e-12 * long {
        e = Vec2::new(0.0, 1.0);
    }
    e = e / length(e);
    if (*points.last()? - *points.first()?).dot(e) < 0.0 {
        e = -e;
    }
    let residuals = points.iter().map(|p| e.cross(*p - mean)).collect();
    Some(fit(On::Line, Shape::Line(mean, e), residuals, None))
}

fn mean(points: &[Point]) -> Option<Point> {
    let sum = points.iter().fold(Vec2::ZERO, |s, p| s + p.to_vec2());
    (!points.is_empty()).then(|| (sum / points.len() as f64).to_point())
}

/// The circle through points; None where they are on a line.
pub fn circle(on: On, points: &[Point]) -> Option<Fit> {
    if points.len() < 3 {
        return None;
    }
    let (c, r) = round::fit_points(points)?;
    let n = points.len() as f64;
    let (mut x, mut y, mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for p in points {
        let u = (*p - c) / span(*p, c);
        x += u.x;
        y += u.y;
        xx += u.x * u.x;
        xy += u.x * u.y;
        yy += u.y * u.y;
    }
    // cofactor of the radius: the normal equations with the centre taken out
    let det = xx * yy - xy * xy;
    let left = n - (x * x * yy - 2.0 * x * y * xy + y * y * xx) / det;
    if !(left > 1e-12 && r < 1e6) {
        return None;
    }
    let residuals = points.iter().map(|p| span(*p, c) - r).collect();
    Some(fit(on, Shape::Circle(c, r), residuals, Some(1.0 / left)))
}

/// The fillet between two straights, tangent to both; None where they do not turn or no radius fits. Its points say the
/// radius alone.
pub fn fillet(before: (Point, Vec2), after: (Point, Vec2), points: &[Point]) -> Option<Fit> {
    let corner = crossing(before, after)?;
    let to = after.1 - before.1;
    let half = length(to) / 2.0; // sine of half the turn
    let away = (1.0 - half * half).max(0.0).sqrt();
    if half < 1e-3 || away < 1e-3 {
        return None;
    }
    let b = to / length(to);
    let centre = |r: f64| corner + b * (r / away);
    let squares = |r: f64| points.iter().map(|p| (span(*p, centre(r)) - r).powi(2)).sum::<f64>();
    // the radius by each point alone is the larger root of |p - c(r)| = r; noise near the arc's ends can make more than
    // one minimum, so that the search starts all over the range
    let k = 1.0 / away;
    let alone = |p: &Point| {
        let v = *p - corner;
        let (h, a) = (v.dot(b) * k, k * k - 1.0);
        (h + (h * h - a * v.hypot2()).max(0.0).sqrt()) / a
    };
    let most = 2.0 * points.iter().map(alone).fold(0.0, f64::max);
    let starts = (0..STARTS).map(|i| most * 0.75f64.powi(i));
    // its points lie on the side of the corner, not where the rest of the circle would run
    let on_arc = |r: f64| points.iter().map(|p| (*p - centre(r)).dot(b)).sum::<f64>() < 0.0;
    let found = starts.filter_map(|r| settle(points, corner, b * k, r)).filter(|f| on_arc(f.0));
    let (r, weight) = found.min_by(|p, q| squares(p.0).total_cmp(&squares(q.0)))?;
    let c = centre(r);
    let residuals = points.iter().map(|p| span(*p, c) - r).collect();
    let bulge = (k - 1.0) / weight.sqrt();
    Some(Fit { bulge, ..fit(On::Fillet, Shape::Circle(c, r), residuals, Some(1.0 / weight)) })
}

/// Gauss and Newton from one radius: the radius where it settles, and the sum of the squared slopes there. `out`: how the
/// centre moves off the corner per radius.
fn settle(points: &[Point], corner: Point, out: Vec2, mut r: f64) -> Option<(f64, f64)> {
    let squares = |r: f64| points.iter().map(|p| (span(*p, corner + out * r) - r).powi(2)).sum::<f64>();
    let mut weight = 0.0;
    for _ in 0..100 {
        let c = corner + out * r;
        let mut sum = 0.0;
        weight = 0.0;
        for p in points {
            let d = span(*p, c);
            if d <= 0.0 {
                return None;
            }
            let slope = -((*p - c) / d).dot(out) - 1.0;
            sum += slope * (d - r);
            weight += slope * slope;
        }
        if weight <= 1e-12 {
            return None;
        }
        // a step that leads uphill is too long
        let mut step = -sum / weight;
        let here = squares(r);
        while squares(r + step) > here && step.abs() > 1e-13 * r.abs() {
            step /= 2.0;
        }
        r += step;
        if step.abs() <= 1e-13 * r.abs() {
            break;
        }
    }
    (r > 1e-6 && r < 1e6).then_some((r, weight))
}

/// Where two straights cross; None where they are parallel within a thousandth.
pub fn crossing(a: (Point, Vec2), b: (Point, Vec2)) -> Option<Point> {
    let sine = a.1.cross(b.1);
    (sine.abs() > 1e-3).then(|| a.0 + a.1 * ((b.0 - a.0).cross(b.1) / sine))
}
