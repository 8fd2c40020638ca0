//! Rational Bézier pieces (of Béziers, ellipses, splines with weights) to lines and arcs, with a proven bound.
//!
//! Over an arc about c with radius r, |x(t) - c|^2 - r^2 is a polynomial over the square of the weight; its Bernstein
//! coefficients bound it, and so how far the curve leaves the circle (G. Farin, Curves and Surfaces for CAGD: a
//! polynomial lies within the hull of its coefficients). A piece that leaves it too far is halved.

use super::{Arc, Point, Segment, Vec2, angle, length, span};
use kurbo::Affine;
use std::f64::consts::{FRAC_PI_2, TAU};

/// Highest degree that is read.
pub const MOST_DEGREE: usize = 11;
/// Most halvings of one piece: a 4 m piece is then 1 um long.
const DEEPEST: u32 = 22;
/// Flatter arcs are straights, mm.
const FLATTEST: f64 = 1e6;

/// One piece: homogeneous control points (x w, y w, w), all weights above zero.
#[derive(Clone, Debug, PartialEq)]
pub struct Rational {
    hull: Vec<[f64; 3]>,
}

impl Rational {
    /// A Bézier without weights, of so many points.
    pub fn bezier<const N: usize>(points: &[Point; N]) -> Rational {
        const { assert!(N >= 1 && N <= MOST_DEGREE + 1) };
        Rational { hull: points.iter().map(|p| [p.x, p.y, 1.0]).collect() }
    }

    /// An arc of an ellipse: `centre + u cos t + v sin t` from `start` over `sweep` radians, in pieces of at most a quarter.
    pub fn ellipse(centre: Point, u: Vec2, v: Vec2, start: f64, sweep: f64) -> Vec<Rational> {
        let sweep = sweep.clamp(-TAU, TAU);
        let n = (sweep.abs() / FRAC_PI_2 - 1e-9).ceil().clamp(1.0, 4.0);
        let step = sweep / n;
        let at = |t: f64| {
            let (s, c) = angle::sin_cos(t);
            centre + u * c + v * s
        };
        (0..n as usize)
            .map(|k| {
                let from = start + step * k as f64;
                let w = angle::sin_cos(step / 2.0).1;
                let (s, c) = angle::sin_cos(from + step / 2.0);
                // the tangents at both ends meet at 1/w of the middle direction
                let m = centre + (u * c + v * s) / w;
                let (a, b) = (at(from), at(from + step));
                Rational { hull: vec![[a.x, a.y, 1.0], [m.x * w, m.y * w, w], [b.x, b.y, 1.0]] }
            })
            .collect()
    }

    /// A spline as its Bézier pieces, by the polar form of every knot span. None where knots, points and weights do not
    /// make a spline.
    pub fn spline(degree: usize, knots: &[f64], points: &[Point], weights: &[f64]) -> Option<Vec<Rational>> {
        let n = points.len();
        let lawful = (1..=MOST_DEGREE).contains(&degree)
            && n > degree
            && knots.len() == n + degree + 1
            && (weights.is_empty() || weights.len() == n)
            && weights.iter().all(|w| *w > 1e-9 && *w < 1e9)
            && knots.windows(2).all(|k| k.first() <= k.last());
        if !lawful {
            return None;
        }
        let control: Vec<[f64; 3]> = points
            .iter()
            .enumerate()
            .map(|(k, p)| {
                let w = weights.get(k).copied().unwrap_or(1.0);
                [p.x * w, p.y * w, w]
            })
            .collect();
        let least = 1e-12 * (knots.last()? - knots.first()?).abs();
        let mut out = Vec::new();
        for k in degree..n {
            let (from, to) = (*knots.get(k)?, *knots.get(k + 1)?);
            if to - from <= least {
                continue;
            }
            let hull: Option<Vec<[f64; 3]>> = (0..=degree)
                .map(|j| polar(degree, knots, &control, k, |r| if r < degree - j { from } else { to }))
                .collect();
            let hull = hull?;
            if hull.iter().any(|p| !p.iter().all(|v| v.is_finite()) || p[2] <= 0.0) {
                return None;
            }
            out.push(Rational { hull });
        }
        (!out.is_empty()).then_some(out)
    }

    /// The piece under an affine map, exact.
    pub fn mapped(&self, m: &Affine) -> Rational {
        let [a, b, c, d, e, f] = m.as_coeffs();
        let map = |[x, y, w]: &[f64; 3]| [a * x + c * y + e * w, b * x + d * y + f * w, *w];
        Rational { hull: self.hull.iter().map(map).collect() }
    }

    /// Its first point.
    pub fn start(&self) -> Point {
        self.hull.first().map_or(Point::ORIGIN, flat)
    }

    /// Its last point.
    pub fn end(&self) -> Point {
        self.hull.last().map_or(Point::ORIGIN, flat)
    }

    /// Control points: the piece lies within their hull.
    pub fn control(&self) -> impl Iterator<Item = Point> + '_ {
        self.hull.iter().map(flat)
    }

    /// Lines and arcs that follow each other bit for bit, none farther off than `tolerance`; the largest bound comes
    /// back. It is above the tolerance only where the curve is too tight to be followed.
    pub fn pieces(&self, tolerance: f64, out: &mut Vec<Segment>) -> f64 {
        Row::new(&self.hull).cut(tolerance, 0, out)
    }
}

/// Homogeneous control points in place, so that halving asks for no memory.
#[derive(Clone, Copy)]
struct Row {
    n: usize,
    points: [[f64; 3]; MOST_DEGREE + 1],
}

/// Binomials up to those of a product of two pieces, exact.
const BINOMIAL: [[f64; 2 * MOST_DEGREE + 1]; 2 * MOST_DEGREE + 1] = {
    let mut rows = [[0.0; 2 * MOST_DEGREE + 1]; 2 * MOST_DEGREE + 1];
    let mut n = 0;
    while n < rows.len() {
        rows[n][0] = 1.0;
        let mut k = 1;
        while k <= n {
            rows[n][k] = rows[n - 1][k - 1] + rows[n - 1][k];
            k += 1;
        }
        n += 1;
    }
    rows
};

impl Row {
    /// Of at most [`MOST_DEGREE`] + 1 points.
    fn new(hull: &[[f64; 3]]) -> Row {
        let mut points = [[0.0; 3]; MOST_DEGREE + 1];
        for (p, h) in points.iter_mut().zip(hull) {
            *p = *h;
        }
        Row { n: hull.len().min(MOST_DEGREE + 1), points }
    }

    fn hull(&self) -> &[[f64; 3]] {
        &self.points[..self.n]
    }

    fn start(&self) -> Point {
        self.hull().first().map_or(Point::ORIGIN, flat)
    }

    fn end(&self) -> Point {
        self.hull().last().map_or(Point::ORIGIN, flat)
    }

    fn control(&self) -> impl Iterator<Item = Point> + '_ {
        self.hull().iter().map(flat)
    }

    /// Both halves (de Casteljau).
    fn halves(&self) -> (Row, Row) {
        let (mut left, mut right) = (*self, *self);
        for k in 1..self.n {
            // the row shrinks from its start: what is left of it ends as the right half
            for i in 0..self.n - k {
                right.points[i] = middle(&right.points[i], &right.points[i + 1]);
            }
            left.points[k] = right.points[0];
        }
        (left, right)
    }

    /// How far the curve leaves the circle at most: an upper bound.
    fn off_circle(&self, centre: Point, radius: f64) -> f64 {
        let own = self.points.map(|[x, y, w]| [x - centre.x * w, y - centre.y * w, w * radius]);
        let n = self.n.saturating_sub(1);
        let (single, double) = (&BINOMIAL[n], &BINOMIAL[2 * n]);
        let mut most = 0.0f64;
        for (k, ways) in double.iter().enumerate().take(2 * n + 1) {
            let mut sum = 0.0;
            for i in k.saturating_sub(n)..=k.min(n) {
                let j = k - i;
                let (a, b) = (&own[i], &own[j]);
                let product = a[0] * b[0] + a[1] * b[1] - a[2] * b[2];
                sum += single[i] * single[j] * product;
            }
            most = most.max((sum / ways).abs());
        }
        let least = self.hull().iter().map(|p| p[2]).fold(f64::INFINITY, f64::min);
        let bound = most / (least * least);
        // |d - r| = |d^2 - r^2| / (d + r), and d is at least the root of r^2 less the bound
        bound / (radius + (radius * radius - bound).max(0.0).sqrt())
    }

    /// How far the curve leaves its chord at most, its ends included; infinite above the tolerance.
    fn off_chord(&self, tolerance: f64) -> f64 {
        let (a, b) = (self.start(), self.end());
        let long = span(a, b);
        let e = if long > 0.0 { (b - a) / long } else { Vec2::ZERO };
        let far = |p: Point| {
            let v = p - a;
            let along = v.dot(e);
            let past = (-along).max(along - long).max(0.0);
            e.cross(v).abs().max(past).max(if long > 0.0 { 0.0 } else { length(v) })
        };
        let most = self.control().map(far).fold(0.0, f64::max);
        if most <= tolerance { most } else { f64::INFINITY }
    }

    /// The arc through start, middle and end, and how far the curve leaves it; None where there is none that is short
    /// enough or the curve runs past its ends.
    fn arc(&self, halfway: Point, tolerance: f64) -> Option<(Segment, f64)> {
        let (a, b) = (self.start(), self.end());
        let (p, q) = (halfway - a, b - a);
        let twice = 2.0 * p.cross(q);
        if twice == 0.0 {
            return None;
        }
        let (pp, qq) = (p.hypot2(), q.hypot2());
        let to = Vec2::new(q.y * pp - p.y * qq, p.x * qq - q.x * pp) / twice;
        let (centre, radius) = (a + to, length(to));
        if !radius.is_finite() || radius > FLATTEST || radius <= tolerance {
            return None;
        }
        let turn = if twice > 0.0 { 1.0 } else { -1.0 };
        let (ra, rb) = (a - centre, b - centre);
        // at most 150 degrees, so that the sector is convex and an end is no third of the circle off
        if ra.dot(rb) < -0.866 * radius * radius {
            return None;
        }
        let room = radius * tolerance;
        let inside = self.control().all(|c| {
            let v = c - centre;
            turn * ra.cross(v) >= -room && turn * v.cross(rb) >= -room && v.dot(ra + rb) > 0.0
        });
        if !inside {
            return None;
        }
        let off = self.off_circle(centre, radius);
        (off <= tolerance).then(|| (Segment::Arc(Arc::between(a, b, centre, turn > 0.0)), off))
    }

    fn cut(&self, tolerance: f64, depth: u32, out: &mut Vec<Segment>) -> f64 {
        let chord = self.off_chord(tolerance);
        if chord <= tolerance {
            if self.start() != self.end() {
                out.push(Segment::line(self.start(), self.end()));
            }
            return chord;
        }
        let (left, right) = self.halves();
        if let Some((arc, off)) = self.arc(left.end(), tolerance) {
            out.push(arc);
            return off;
        }
        if depth >= DEEPEST {
            let most = self.control().map(|p| span(p, self.start())).fold(0.0, f64::max);
            out.push(Segment::line(self.start(), self.end()));
            return most;
        }
        let first = left.cut(tolerance, depth + 1, out);
        first.max(right.cut(tolerance, depth + 1, out))
    }
}

fn flat(p: &[f64; 3]) -> Point {
    Point::new(p[0] / p[2], p[1] / p[2])
}

fn middle(a: &[f64; 3], b: &[f64; 3]) -> [f64; 3] {
    [(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0, (a[2] + b[2]) / 2.0]
}

/// The polar form of a knot span at so many arguments.
fn polar(
    degree: usize,
    knots: &[f64],
    control: &[[f64; 3]],
    k: usize,
    argument: impl Fn(usize) -> f64,
) -> Option<[f64; 3]> {
    let mut d: Vec<[f64; 3]> = control.get(k - degree..=k)?.to_vec();
    for r in 1..=degree {
        let t = argument(r - 1);
        for j in (r..=degree).rev() {
            let i = k - degree + j;
            let (from, to) = (*knots.get(i)?, *knots.get(i + degree + 1 - r)?);
            let share = if to > from { (t - from) / (to - from) } else { 0.0 };
            let (before, here) = (d[j - 1], d[j]);
            for (c, v) in d[j].iter_mut().enumerate() {
                *v = before[c] + (here[c] - before[c]) * share;
            }
        }
    }
    d.last().copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(r: &Rational, t: f64) -> Point {
        let mut row = r.hull.clone();
        while row.len() > 1 {
            row =
                row.windows(2).map(|w| std::array::from_fn(|c| w[0][c] + (w[1][c] - w[0][c]) * t)).collect();
        }
        flat(&row[0])
    }

    /// The farthest of 4000 points of the curve from the pieces, against the bound.
    fn holds(r: &Rational, tolerance: f64) -> usize {
        let mut out = Vec::new();
        let bound = r.pieces(tolerance, &mut out);
        assert!(bound <= tolerance, "{bound}");
        assert!(out.windows(2).all(|w| w[0].end() == w[1].start()));
        for k in 0..=4000 {
            let p = at(r, f64::from(k) / 4000.0);
            let d = out
                .iter()
                .map(|s| crate::geom::distance::point_segment(p, s).distance())
                .fold(f64::INFINITY, f64::min);
            assert!(d <= tolerance * 1.001 + 1e-9, "{d} of {tolerance} at {k}");
        }
        out.len()
    }

    #[test]
    fn curves_keep_their_bound() {
        let p = |x: f64, y: f64| Point::new(x, y);
        for tolerance in [1e-3, 1e-2, 0.1] {
            let n = holds(
                &Rational::bezier(&[p(0.0, 0.0), p(30.0, 50.0), p(60.0, -40.0), p(80.0, 10.0)]),
                tolerance,
            );
            assert!(n < 80, "{n}");
            holds(&Rational::bezier(&[p(0.0, 0.0), p(100.0, 50.0), p(-40.0, 50.0), p(60.0, 0.0)]), tolerance);
            // a cusp
            holds(&Rational::bezier(&[p(0.0, 0.0), p(60.0, 60.0), p(0.0, 60.0), p(60.0, 0.0)]), tolerance);
            // there and back on one line
            holds(&Rational::bezier(&[p(0.0, 0.0), p(90.0, 0.0), p(-40.0, 0.0), p(20.0, 0.0)]), tolerance);
            holds(&Rational::bezier(&[p(0.0, 0.0), p(20.0, 40.0), p(50.0, 0.0)]), tolerance);
            for r in Rational::ellipse(p(5.0, 6.0), Vec2::new(30.0, 10.0), Vec2::new(-4.0, 12.0), 0.3, 5.0) {
                holds(&r, tolerance);
            }
        }
    }

    #[test]
    fn a_spline_with_weights_is_the_circle_that_it_says() {
        // nine points, degree 2: the full circle of the textbooks
        let h = 0.5f64.sqrt();
        let ring = [(1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1), (1, 0)];
        let points: Vec<Point> =
            ring.iter().map(|(x, y)| Point::new(f64::from(*x) * 40.0, f64::from(*y) * 40.0)).collect();
        let weights: Vec<f64> = (0..9).map(|k| if k % 2 == 1 { h } else { 1.0 }).collect();
        let knots = [0.0, 0.0, 0.0, 1.0, 1.0, 2.0, 2.0, 3.0, 3.0, 4.0, 4.0, 4.0];
        let parts = Rational::spline(2, &knots, &points, &weights).unwrap();
        assert_eq!(parts.len(), 4);
        for r in &parts {
            let mut out = Vec::new();
            assert!(r.pieces(1e-6, &mut out) < 1e-9);
            assert!(matches!(out.as_slice(), [Segment::Arc(a)] if (a.radius - 40.0).abs() < 1e-9));
        }
        assert!(Rational::spline(2, &knots[1..], &points, &weights).is_none());
        assert!(Rational::spline(2, &knots, &points, &[-1.0; 9]).is_none());
    }
}
