//! Arcs for formats that cannot hold any arc whatever: pieces short enough to be well conditioned, and
//! cubics with a stated error.

use crate::geom::{Arc, Point, Vec2, angle};
use std::f64::consts::{FRAC_PI_2, TAU};

/// Splits an arc into equal pieces of at most `most` radians each; the first and last point are kept bit
/// for bit.
pub fn split(arc: &Arc, most: f64) -> Vec<Arc> {
    // a piece that is over by rounding alone stays whole
    let n = (arc.sweep.abs() / most - 1e-9).ceil().max(1.0);
    equal_parts(arc, n)
}

/// Splits an arc into `n` equal pieces.
fn equal_parts(arc: &Arc, n: f64) -> Vec<Arc> {
    let step = arc.sweep / n;
    let mut out: Vec<Arc> = Vec::new();
    let mut k = 0.0;
    while k < n {
        let a = out.last().map_or(arc.a, |p| p.b);
        let b = if k + 1.0 >= n { arc.b } else { arc.at((k + 1.0) / n) };
        out.push(Arc { start: angle::normalise(arc.start + step * k), sweep: step, a, b, ..*arc });
        k += 1.0;
    }
    out
}

/// A cubic Bezier piece: its two inner points and its end.
pub type Cubic = [Point; 3];

/// Largest distance of a cubic from the unit arc of `sweep` radians that it stands for, when its inner
/// points lie on the end tangents at 4/3 tan(sweep/4): 2/27 sin^6(sweep/4) / cos^2(sweep/4) (Goldapp,
/// "Approximation of circular arcs by cubic polynomials", Computer Aided Geometric Design 8, 1991, from
/// memory; a test samples it).
pub fn cubic_error(sweep: f64) -> f64 {
    let (s, c) = angle::sin_cos(sweep.abs() / 4.0);
    2.0 / 27.0 * s * s * s * s * s * s / (c * c)
}

/// An arc as cubics that stay within `tolerance` mm of it. Quarter turns are cut evenly, so that the
/// extreme points of a circle that starts at angle 0 are points of the result.
pub fn cubics(arc: &Arc, tolerance: f64) -> Vec<Cubic> {
    let quarters = (arc.sweep.abs() / FRAC_PI_2 - 1e-9).ceil().max(1.0);
    let mut per_quarter = 1.0;
    // at 64 a quarter a circle of 100 m is right to 1e-7 mm: the loop ends there whatever the radius
    while per_quarter < 64.0 && arc.radius * cubic_error(arc.sweep / (quarters * per_quarter)) > tolerance {
        per_quarter += 1.0;
    }
    equal_parts(arc, quarters * per_quarter)
        .iter()
        .map(|p| {
            let reach = 4.0 / 3.0 * libm::tan(p.sweep / 4.0);
            let tangent = |q: Point| {
                let r = q - p.centre;
                Vec2::new(-r.y, r.x) * reach
            };
            [p.a + tangent(p.a), p.b - tangent(p.b), p.b]
        })
        .collect()
}

/// A full circle as an arc that starts at angle 0.
pub fn circle(centre: Point, radius: f64) -> Arc {
    Arc::new(centre, radius, 0.0, TAU)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::span;

    #[test]
    fn cubics_stay_within_their_error() {
        for radius in [0.5, 4.0, 39.7, 150.0, 2000.0] {
            for sweep in [0.01, 1.0, FRAC_PI_2, -2.5, 4.0, TAU, -TAU] {
                let arc = Arc::new(Point::new(3.0, -7.0), radius, 0.3, sweep);
                let mut from = arc.a;
                let mut worst: f64 = 0.0;
                for [p, q, to] in cubics(&arc, 1e-4) {
                    for k in 0..=40 {
                        let t = f64::from(k) / 40.0;
                        let u = 1.0 - t;
                        let at = from.to_vec2() * (u * u * u)
                            + p.to_vec2() * (3.0 * u * u * t)
                            + q.to_vec2() * (3.0 * u * t * t)
                            + to.to_vec2() * (t * t * t);
                        worst = worst.max((span(at.to_point(), arc.centre) - radius).abs());
                    }
                    from = to;
                }
                assert_eq!(from, arc.b);
                assert!(worst <= 1e-4, "radius {radius} sweep {sweep}: {worst}");
            }
        }
        assert!((cubic_error(FRAC_PI_2) - 2.725e-4).abs() < 1e-7);
    }

    #[test]
    fn pieces_join_and_add_up() {
        let arc = Arc::new(Point::new(1.0, 2.0), 10.0, 5.0, -4.0);
        let parts = split(&arc, 1.0);
        assert_eq!(parts.len(), 4);
        assert_eq!(parts.first().map(|p| p.a), Some(arc.a));
        assert_eq!(parts.last().map(|p| p.b), Some(arc.b));
        assert!(parts.windows(2).all(|w| w[0].b == w[1].a));
        assert!((parts.iter().map(|p| p.sweep).sum::<f64>() - arc.sweep).abs() < 1e-12);
        assert_eq!(split(&arc, 4.0).len(), 1);
    }
}
