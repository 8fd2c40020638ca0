//! How far fitted pieces may be off at 95 %, from the scatter of all points of the file together.
//!
//! One instrument measured them all, so one deviation holds for all: the root of all squared residuals over all points to
//! spare. Each piece then knows from its own normal equations how far it may lie across itself, at its ends too, where the
//! panel runs on to a corner beyond the outermost points.

use super::fit::{Fit, Shape};
use crate::geom::{Point, Vec2, angle, span};
use std::f64::consts::PI;

/// Corners sharper than this sine are off by both their sides.
const SHARP: f64 = 0.5;

/// How far a contour may be off at 95 %, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Doubt {
    /// A circle's centre, or the edge of any other contour where it is worst.
    pub off: f64,
    /// A circle's diameter, either way.
    pub diameter: Option<f64>,
}

/// The same for points of deviation 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Spread {
    /// Of a circle: its centre's longer half axis, its diameter.
    Circle(f64, f64),
    /// Of any other contour.
    Edge(f64),
}

impl Spread {
    /// Of points of this deviation, which `freedom` points to spare tell.
    pub fn doubt(self, deviation: f64, freedom: usize) -> Doubt {
        match self {
            Spread::Circle(centre, diameter) => Doubt {
                off: deviation * centre * plane_95(freedom),
                diameter: Some(deviation * diameter * student_95(freedom)),
            },
            Spread::Edge(off) => Doubt { off: deviation * off * student_95(freedom), diameter: None },
        }
    }
}

/// The normal equations' inverse of a circle's centre and radius, by the directions from the centre to its points.
fn cofactor(points: &[Point], centre: Point) -> Option<[[f64; 3]; 3]> {
    let mut m = [[0.0; 3]; 3];
    for p in points {
        let u = (*p - centre) / span(*p, centre);
        let row = [u.x, u.y, 1.0];
        for (i, a) in row.iter().enumerate() {
            for (j, b) in row.iter().enumerate() {
                m[i][j] += a * b;
            }
        }
    }
    let minor = |i: usize, j: usize| {
        let (a, b, c, d) = ((i + 1) % 3, (i + 2) % 3, (j + 1) % 3, (j + 2) % 3);
        m[a][c] * m[b][d] - m[a][d] * m[b][c]
    };
    let det: f64 = (0..3).map(|j| m[0][j] * minor(0, j)).sum();
    (det > 1e-14).then(|| std::array::from_fn(|i| std::array::from_fn(|j| minor(j, i) / det)))
}

/// Of a contour that is one circle.
pub fn circle(points: &[Point], centre: Point) -> Option<Spread> {
    let q = cofactor(points, centre)?;
    let (mean, half) = ((q[0][0] + q[1][1]) / 2.0, (q[0][0] - q[1][1]) / 2.0);
    let longer = (mean + (half * half + q[0][1] * q[0][1]).sqrt()).max(0.0).sqrt();
    Some(Spread::Circle(longer, 2.0 * q[2][2].max(0.0).sqrt()))
}

/// One piece of a contour between its two joints.
pub struct Part<'a> {
    /// What was fitted.
    pub fit: &'a Fit,
    /// Whether it is an arc between its neighbours, of which its points say the radius alone.
    pub fillet: bool,
    /// Its points.
    pub points: &'a [Point],
    /// Where it begins and ends.
    pub ends: [Point; 2],
}

impl Part<'_> {
    /// How far it may be off across itself at a place of it; of a fillet nothing, which its neighbours say.
    fn across(&self, at: Point) -> Option<f64> {
        match self.fit.shape {
            Shape::Line(mean, e) => {
                let along = |p: Point| (p - mean).dot(e);
                let sum: f64 = self.points.iter().map(|p| along(*p) * along(*p)).sum();
                Some((1.0 / self.points.len() as f64 + along(at) * along(at) / sum).sqrt())
            }
            Shape::Circle(..) if self.fillet => Some(0.0),
            Shape::Circle(c, _) => {
                let q = cofactor(self.points, c)?;
                let u = (at - c) / span(at, c);
                let row = [u.x, u.y, 1.0];
                let times = |i: usize| (0..3).map(|j| q[i][j] * row[j]).sum::<f64>();
                Some((0..3).map(|i| row[i] * times(i)).sum::<f64>().max(0.0).sqrt())
            }
        }
    }

    /// The direction in which it runs at a place of it.
    fn way(&self, at: Point) -> Vec2 {
        match self.fit.shape {
            Shape::Line(_, e) => e,
            Shape::Circle(c, _) => {
                let v = (at - c) / span(at, c);
                Vec2::new(-v.y, v.x)
            }
        }
    }

    /// The farthest that it may be off between its joints.
    fn between(&self) -> Option<f64> {
        let [a, b] = self.ends;
        let ends = self.across(a)?.max(self.across(b)?);
        let Shape::Circle(c, r) = self.fit.shape else { return Some(ends) };
        if self.fillet {
            return Some(0.0);
        }
        // where it is worst lies between two of its points, or beyond them
        let by = angle::direction(a - c);
        let spots = (0..64).map(|k| c + angle::unit(by + f64::from(k) * PI / 32.0) * r);
        let on = self.points.iter().copied().chain(spots.filter(|s| self.passes(*s)));
        on.map(|p| self.across(p)).try_fold(ends, |w, v| Some(w.max(v?)))
    }

    /// Whether a spot of its circle lies on it: on the side of its chord on which its points do.
    fn passes(&self, spot: Point) -> bool {
        let [a, b] = self.ends;
        let side = |p: Point| (b - a).cross(p - a);
        let own: f64 = self.points.iter().map(|p| side(*p)).sum();
        side(spot) * own > 0.0
    }
}

/// Of a contour of several pieces, in their order.
pub fn edge(parts: &[Part<'_>]) -> Option<Spread> {
    let n = parts.len();
    let mut worst = 0.0f64;
    for (k, part) in parts.iter().enumerate() {
        worst = worst.max(part.between()?);
        let next = &parts[(k + 1) % n];
        let at = part.ends[1];
        if part.fillet {
            let before = &parts[(k + n - 1) % n];
            let sides = before.across(part.ends[0])?.max(next.across(at)?);
            // both sides move it, and its own radius moves its middle
            let sharp =
                corner(sides, sides, before.way(at).cross(next.way(at)), before.way(at).dot(next.way(at)));
            worst = worst.max(sharp + part.fit.bulge);
        } else if !next.fillet {
            let (e, f) = (part.way(at), next.way(at));
            worst = worst.max(corner(part.across(at)?, next.across(at)?, e.cross(f), e.dot(f)));
        }
    }
    Some(Spread::Edge(worst))
}

/// How far a corner may be off whose sides are off by so much, by sine and cosine of their angle.
fn corner(a: f64, b: f64, sine: f64, cosine: f64) -> f64 {
    if sine.abs() < SHARP {
        return a.max(b);
    }
    (a * a + b * b + 2.0 * a * b * cosine.abs()).sqrt() / sine.abs()
}

/// Half axes of the 95 % ellipse of two quantities whose deviation so many points to spare tell: the root of twice the
/// quantile of F, (n / 2) (0.05^(-2 / n) - 1), which is exact.
pub fn plane_95(freedom: usize) -> f64 {
    let n = freedom.max(1) as f64;
    (n * (libm::exp(-2.0 / n * libm::log(0.05)) - 1.0)).sqrt()
}

/// The two-sided 95 % quantile of Student's t. The chance is a finite sum (M. Abramowitz, I. Stegun, Handbook of
/// Mathematical Functions, 26.7.3 and 26.7.4), its inverse by halving; above 400 the 400's, 0.3 % above the limit.
pub fn student_95(freedom: usize) -> f64 {
    let n = freedom.clamp(1, 400);
    let chance = |t: f64| {
        let f = n as f64;
        let (cc, sine) = (f / (f + t * t), t / (f + t * t).sqrt());
        let odd = n % 2 == 1;
        // the sum's first term and where its factors begin
        let (mut term, mut k) = if odd { (cc.sqrt(), 3) } else { (1.0, 2) };
        let mut sum = if n == 1 { 0.0 } else { term };
        while k + 2 <= n {
            term *= cc * (k - 1) as f64 / k as f64;
            sum += term;
            k += 2;
        }
        if odd { 2.0 / PI * (libm::atan(t / f.sqrt()) + sine * sum) } else { sine * sum }
    };
    let (mut low, mut high) = (0.0, 20.0);
    for _ in 0..80 {
        let mid = 0.5 * (low + high);
        if chance(mid) < 0.95 { low = mid } else { high = mid }
    }
    high
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_are_those_of_the_tables() {
        // Student's t, two-sided 5 %: NIST/SEMATECH e-Handbook of Statistical Methods, table 1.3.6.7.2 (from memory)
        for (n, t) in [
            (1, 12.706),
            (2, 4.303),
            (3, 3.182),
            (4, 2.776),
            (5, 2.571),
            (10, 2.228),
            (30, 2.042),
            (100, 1.984),
        ] {
            assert!((student_95(n) - t).abs() < 6e-4, "{n}: {}", student_95(n));
        }
        // F with 2 and n degrees, upper 5 %: table 1.3.6.7.3 of the same (from memory)
        for (n, f) in [(1, 199.50), (2, 19.000), (5, 5.786), (10, 4.103), (30, 3.316)] {
            let own = plane_95(n) * plane_95(n) / 2.0;
            assert!((own - f).abs() < 1e-3 * f, "{n}: {own}");
        }
    }
}
