//! The two pieces a contour is made of: straight lines and circular arcs.

use super::{Point, Rect, Vec2, angle, span};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// A straight piece from `a` to `b`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Start.
    pub a: Point,
    /// End.
    pub b: Point,
}

/// A circular piece. The end points are kept beside centre, radius and angles so that neighbours
/// join bit for bit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Centre of the circle.
    pub centre: Point,
    /// Radius, above zero.
    pub radius: f64,
    /// Angle of the start, radians in [0, 2 pi).
    pub start: f64,
    /// Signed angle travelled, radians, counter-clockwise positive, 0 < |sweep| <= 2 pi.
    pub sweep: f64,
    /// Start point.
    pub a: Point,
    /// End point.
    pub b: Point,
}

/// One piece of a contour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Segment {
    /// Straight.
    Line(Line),
    /// Circular.
    Arc(Arc),
}

impl Arc {
    /// Arc by centre, radius, start angle and sweep (radians). End points follow.
    pub fn new(centre: Point, radius: f64, start: f64, sweep: f64) -> Arc {
        let start = angle::normalise(start);
        let sweep = sweep.clamp(-TAU, TAU);
        let a = centre + angle::unit(start) * radius;
        let b = if sweep.abs() == TAU { a } else { centre + angle::unit(start + sweep) * radius };
        Arc { centre, radius, start, sweep, a, b }
    }

    /// Arc from `a` to `b` about `centre`, the way round given by `ccw`. The radius is the mean of
    /// the two distances; the end points are kept as given.
    pub fn between(a: Point, b: Point, centre: Point, ccw: bool) -> Arc {
        let radius = (span(centre, a) + span(centre, b)) / 2.0;
        let start = angle::normalise(angle::direction(a - centre));
        let end = angle::normalise(angle::direction(b - centre));
        let mut sweep = angle::normalise(end - start);
        if sweep == 0.0 {
            sweep = TAU;
        }
        if !ccw {
            sweep -= TAU;
            if sweep == 0.0 {
                sweep = -TAU;
            }
        }
        Arc { centre, radius, start, sweep, a, b }
    }

    /// Whether the direction `theta` (radians) from the centre lies within the sweep, ends included,
    /// with an angular slack that stands for 1e-9 mm of travel along the arc.
    pub fn covers(&self, theta: f64) -> bool {
        let slack = 1e-9 / self.radius.max(1e-9);
        let along = if self.sweep >= 0.0 { theta - self.start } else { self.start - theta };
        let along = angle::normalise(along);
        along <= self.sweep.abs() + slack || along >= TAU - slack
    }

    /// Whether the ray from the centre along `v` meets the arc. Signs of cross products only: exact to
    /// rounding, without an angle. False for the zero vector unless the arc is most of a circle.
    #[inline]
    pub fn faces(&self, v: Vec2) -> bool {
        let (s, e) = (self.a - self.centre, self.b - self.centre);
        let (s, e) = if self.sweep >= 0.0 { (s, e) } else { (e, s) };
        let turn = self.sweep.abs();
        if turn >= TAU {
            return true;
        }
        // where the two ends are not nearly opposite, the sign of a dot product tells the wedge from
        // its mirror image behind the centre
        let near = |gap: f64| gap > 3.0 || v.dot(s + e) > 0.0;
        if turn <= PI {
            s.cross(v) >= 0.0 && v.cross(e) >= 0.0 && near(turn)
        } else {
            !(e.cross(v) > 0.0 && v.cross(s) > 0.0 && near(TAU - turn))
        }
    }

    /// Point at the fraction `t` in 0..=1 of the sweep.
    pub fn at(&self, t: f64) -> Point {
        self.centre + angle::unit(self.start + self.sweep * t) * self.radius
    }
}

impl Segment {
    /// Straight piece.
    pub fn line(a: Point, b: Point) -> Segment {
        Segment::Line(Line { a, b })
    }

    /// Start point.
    pub fn start(&self) -> Point {
        match self {
            Segment::Line(l) => l.a,
            Segment::Arc(a) => a.a,
        }
    }

    /// End point.
    pub fn end(&self) -> Point {
        match self {
            Segment::Line(l) => l.b,
            Segment::Arc(a) => a.b,
        }
    }

    /// Length of the piece, exact to rounding.
    pub fn len(&self) -> f64 {
        match self {
            Segment::Line(l) => span(l.a, l.b),
            Segment::Arc(a) => a.radius * a.sweep.abs(),
        }
    }

    /// Point at the fraction `t` in 0..=1 of the length.
    pub fn at(&self, t: f64) -> Point {
        match self {
            Segment::Line(l) => l.a.lerp(l.b, t),
            Segment::Arc(a) => a.at(t),
        }
    }

    /// Fraction in 0..=1 of the length at which the piece passes a point that lies on it (to slack);
    /// for other points, that of a nearby one.
    pub fn fraction(&self, p: Point) -> f64 {
        match self {
            Segment::Line(l) => {
                let d = l.b - l.a;
                ((p - l.a).dot(d) / d.hypot2().max(f64::MIN_POSITIVE)).clamp(0.0, 1.0)
            }
            Segment::Arc(a) => {
                let turn = a.sweep.abs();
                let from = angle::direction(p - a.centre) - a.start;
                let along = angle::normalise(if a.sweep >= 0.0 { from } else { -from });
                if along <= turn {
                    along / turn
                } else if along - turn <= TAU - along {
                    1.0
                } else {
                    0.0
                }
            }
        }
    }

    /// The part between two fractions of the length, with its end points given (so that neighbours
    /// join bit for bit).
    pub fn part(&self, from: f64, to: f64, a: Point, b: Point) -> Segment {
        match *self {
            Segment::Line(_) => Segment::line(a, b),
            Segment::Arc(s) => Segment::Arc(Arc {
                start: angle::normalise(s.start + s.sweep * from),
                sweep: s.sweep * (to - from),
                a,
                b,
                ..s
            }),
        }
    }

    /// The same piece with other end points (within slack of its own).
    pub(crate) fn with_ends(&self, a: Point, b: Point) -> Segment {
        self.part(0.0, 1.0, a, b)
    }

    /// The same piece walked the other way.
    pub fn reversed(&self) -> Segment {
        match *self {
            Segment::Line(l) => Segment::line(l.b, l.a),
            Segment::Arc(a) => Segment::Arc(Arc {
                start: angle::normalise(a.start + a.sweep),
                sweep: -a.sweep,
                a: a.b,
                b: a.a,
                ..a
            }),
        }
    }

    /// Smallest upright box around the piece, exact to rounding.
    pub fn bounds(&self) -> Rect {
        let mut r = Rect::from_points(self.start(), self.end());
        if let Segment::Arc(a) = self {
            for (k, d) in [
                (0.0, Vec2::new(1.0, 0.0)),
                (1.0, Vec2::new(0.0, 1.0)),
                (2.0, Vec2::new(-1.0, 0.0)),
                (3.0, Vec2::new(0.0, -1.0)),
            ] {
                if a.covers(k * FRAC_PI_2) {
                    r = r.union_pt(a.centre + d * a.radius);
                }
            }
        }
        r
    }

    /// Unit direction of travel at the start.
    pub fn start_direction(&self) -> Vec2 {
        match self {
            Segment::Line(l) => (l.b - l.a) / span(l.a, l.b).max(f64::MIN_POSITIVE),
            Segment::Arc(a) => {
                let r = (a.a - a.centre) / a.radius;
                if a.sweep >= 0.0 { Vec2::new(-r.y, r.x) } else { Vec2::new(r.y, -r.x) }
            }
        }
    }

    /// Unit direction of travel at the end.
    pub fn end_direction(&self) -> Vec2 {
        -self.reversed().start_direction()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn arcs() -> Vec<Arc> {
        let sweeps = [1e-3, 1.0, PI - 1e-9, PI, PI + 1e-9, 5.0, TAU - 1e-3, TAU];
        let starts = [0.0, 0.3, FRAC_PI_2, PI, 4.0, 6.2];
        let mut out = Vec::new();
        for sweep in sweeps {
            for start in starts {
                for sign in [1.0, -1.0] {
                    out.push(Arc::new(Point::new(3.0, -8.0), 12.5, start, sign * sweep));
                }
            }
        }
        out
    }

    /// What the signs of cross products say is what the angles say, but for the very ends.
    #[test]
    fn faces_as_the_angles_say() {
        for arc in arcs() {
            for k in 0..720 {
                let t = f64::from(k) * (TAU / 720.0) + 1e-4;
                let along = angle::normalise(if arc.sweep > 0.0 { t - arc.start } else { arc.start - t });
                let within = along <= arc.sweep.abs();
                let near_end =
                    [along, TAU - along, (along - arc.sweep.abs()).abs()].iter().any(|d| *d < 1e-6);
                assert!(near_end || arc.faces(angle::unit(t) * 7.0) == within, "{arc:?} {t}");
            }
        }
    }

    #[test]
    fn fractions_parts_and_the_way_back() {
        for s in
            arcs().into_iter().map(Segment::Arc).chain([Segment::line(Point::ORIGIN, Point::new(9.0, 2.0))])
        {
            for t in [0.1, 0.25, 0.5, 0.9] {
                let p = s.at(t);
                assert!((s.fraction(p) - t).abs() * s.len() < 1e-9, "{s:?} {t}");
                assert!(span(s.reversed().at(1.0 - t), p) < 1e-12 * 100.0);
                let part = s.part(0.0, t, s.start(), p);
                assert!(
                    span(part.at(0.5), s.at(t / 2.0)) < 1e-12 * 100.0
                        && (part.len() - t * s.len()).abs() < 1e-9
                );
            }
            assert_eq!((s.reversed().start(), s.reversed().end()), (s.end(), s.start()));
            let b = s.bounds();
            for k in 0..=500 {
                let p = s.at(f64::from(k) / 500.0);
                assert!(b.inflate(1e-12 * 100.0, 1e-12 * 100.0).contains(p), "{s:?}");
            }
        }
    }

    #[test]
    fn arcs_between_points() {
        let (a, b, c) = (Point::new(5.0, 0.0), Point::new(0.0, 5.0), Point::ORIGIN);
        assert!((Arc::between(a, b, c, true).sweep - FRAC_PI_2).abs() < 1e-15);
        assert!((Arc::between(a, b, c, false).sweep + 1.5 * PI).abs() < 1e-15);
        assert_eq!((Arc::between(a, a, c, true).sweep, Arc::between(a, a, c, false).sweep), (TAU, -TAU));
        let way = Segment::Arc(Arc::between(a, b, c, true));
        assert!(span(way.start_direction().to_point(), Point::new(0.0, 1.0)) < 1e-15);
        assert!(span(way.end_direction().to_point(), Point::new(-1.0, 0.0)) < 1e-15);
    }
}
