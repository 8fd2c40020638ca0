//! Area, centroid, second moments and length of outline, in closed form with arcs.
//!
//! The outline is the polygon of its chords plus a circular segment under each arc. Exact to
//! rounding: the segment terms are series where their closed form would cancel.

use super::{Arc, Contour, Point, Segment, Vec2, angle};

/// What a plane shape weighs and resists, per unit of thickness. Millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moments {
    /// Area in mm2, not negative.
    pub area: f64,
    /// Centroid.
    pub centroid: Point,
    /// Second moment about the axis through the centroid along x (the integral of y2), mm4.
    pub ixx: f64,
    /// About the axis along y (the integral of x2), mm4.
    pub iyy: f64,
    /// Product moment, the integral of xy about the centroid, mm4.
    pub ixy: f64,
}

impl Contour {
    /// Area in mm2, positive when the outline runs counter-clockwise.
    pub fn signed_area(&self) -> f64 {
        let origin = self.bounds().center();
        self.segments()
            .iter()
            .map(|s| {
                let chord = (s.start() - origin).cross(s.end() - origin) / 2.0;
                match s {
                    Segment::Line(_) => chord,
                    Segment::Arc(a) => chord + a.radius * a.radius * minus_sine(a.sweep) / 2.0,
                }
            })
            .sum()
    }

    /// Area in mm2, whichever way the outline runs.
    pub fn area(&self) -> f64 {
        self.signed_area().abs()
    }

    /// Length of the outline.
    pub fn perimeter(&self) -> f64 {
        self.segments().iter().map(Segment::len).sum()
    }

    /// Centroid of the area.
    pub fn centroid(&self) -> Point {
        self.moments().centroid
    }

    /// Area, centroid and second moments about the centroid.
    pub fn moments(&self) -> Moments {
        let origin = self.bounds().center();
        let mut sum = Raw::default();
        for s in self.segments() {
            sum.triangle(s.start() - origin, s.end() - origin);
            if let Segment::Arc(a) = s {
                sum.segment(a, origin);
            }
        }
        sum.about_centroid(origin)
    }
}

/// Signed integrals of 1, x, y, x2, y2, xy.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Raw {
    a: f64,
    x: f64,
    y: f64,
    xx: f64,
    yy: f64,
    xy: f64,
}

impl Raw {
    /// The triangle of the origin and two points.
    fn triangle(&mut self, p: Vec2, q: Vec2) {
        let w = p.cross(q);
        self.a += w / 2.0;
        self.x += w * (p.x + q.x) / 6.0;
        self.y += w * (p.y + q.y) / 6.0;
        self.xx += w * (p.x * p.x + p.x * q.x + q.x * q.x) / 12.0;
        self.yy += w * (p.y * p.y + p.y * q.y + q.y * q.y) / 12.0;
        self.xy += w * (2.0 * (p.x * p.y + q.x * q.y) + p.x * q.y + q.x * p.y) / 24.0;
    }

    /// The region between an arc and its chord, positive for a counter-clockwise arc.
    fn segment(&mut self, arc: &Arc, origin: Point) {
        let sign = if arc.sweep >= 0.0 { 1.0 } else { -1.0 };
        let turn = arc.sweep.abs();
        let r2 = arc.radius * arc.radius;
        let (s, c) = angle::sin_cos(turn / 2.0);
        let f = minus_sine(turn);
        let area = sign * r2 * f / 2.0;
        let first = sign * 2.0 / 3.0 * r2 * arc.radius * s * s * s;
        // along the bisector (u) and across it (v), about the circle's centre
        let uu = sign * r2 * r2 / 4.0 * (f / 2.0 + 2.0 * s * s * s * c);
        let vv = sign * r2 * r2 / 12.0 * (1.5 * f - 2.0 * s * s * s * c);
        let u = angle::unit(arc.start + arc.sweep / 2.0);
        let centre = arc.centre - origin;
        let m = u * first;
        self.a += area;
        self.x += area * centre.x + m.x;
        self.y += area * centre.y + m.y;
        self.xx += area * centre.x * centre.x + 2.0 * centre.x * m.x + uu * u.x * u.x + vv * u.y * u.y;
        self.yy += area * centre.y * centre.y + 2.0 * centre.y * m.y + uu * u.y * u.y + vv * u.x * u.x;
        self.xy += area * centre.x * centre.y + centre.x * m.y + centre.y * m.x + (uu - vv) * u.x * u.y;
    }

    fn about_centroid(self, origin: Point) -> Moments {
        let sign = if self.a >= 0.0 { 1.0 } else { -1.0 };
        if self.a == 0.0 {
            return Moments { area: 0.0, centroid: origin, ixx: 0.0, iyy: 0.0, ixy: 0.0 };
        }
        let c = Vec2::new(self.x / self.a, self.y / self.a);
        Moments {
            area: sign * self.a,
            centroid: origin + c,
            ixx: sign * (self.yy - c.y * self.y),
            iyy: sign * (self.xx - c.x * self.x),
            ixy: sign * (self.xy - c.x * self.y),
        }
    }
}

/// x - sin x without cancellation: the series below half a radian (its tenth power is below 1e-10 of
/// the first term by then, seven terms carry it past rounding).
fn minus_sine(x: f64) -> f64 {
    if x.abs() > 0.5 {
        return x - libm::sin(x);
    }
    let q = x * x;
    let mut term = x * q / 6.0;
    let mut sum = term;
    for k in 2..9 {
        let k = f64::from(2 * k);
        term *= -q / (k * (k + 1.0));
        sum += term;
    }
    sum
}

#[cfg(test)]
mod tests;
