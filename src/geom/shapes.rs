//! Contours of the shapes that panels are made of. All run counter-clockwise and join bit for bit.
//! Sizes are the caller's to check: above zero and finite. A shape that its sizes cannot make (a
//! corner larger than its side) is drawn with the nearest size that can, as each function says.

use super::{Arc, Contour, Point, Segment, Vec2, angle, length, span};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// One corner of a rectangle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Corner {
    /// Left square.
    Sharp,
    /// Rounded with this radius.
    Round(f64),
    /// Cut off: this much along x and this much along y.
    Clip(f64, f64),
}

impl Contour {
    /// A full circle. `radius` must be above zero.
    pub fn circle(centre: Point, radius: f64) -> Contour {
        Contour::from_checked(vec![Segment::Arc(Arc::new(centre, radius, 0.0, TAU))])
    }

    /// An upright rectangle with corners rounded by `corner` (0 for sharp; at most half the shorter
    /// side is used), from the lower left.
    pub fn rect(centre: Point, width: f64, height: f64, corner: f64) -> Contour {
        let r = corner.min(width / 2.0).min(height / 2.0);
        let corner = if r > 0.0 { Corner::Round(r) } else { Corner::Sharp };
        Contour::rect_corners(centre, width, height, [corner; 4])
    }

    /// An upright rectangle whose corners differ: lower left, lower right, upper right, upper left.
    /// A corner uses at most half of each side.
    pub fn rect_corners(centre: Point, width: f64, height: f64, corners: [Corner; 4]) -> Contour {
        let (w, h) = (width / 2.0, height / 2.0);
        // outward signs of the corner and the quarter turn in which its arc starts
        let signs = [(-1.0, -1.0, 2), (1.0, -1.0, 3), (1.0, 1.0, 0), (-1.0, 1.0, 1)];
        let mut loops = Builder::default();
        for (corner, (sx, sy, quarter)) in corners.into_iter().zip(signs) {
            let at = centre + Vec2::new(sx * w, sy * h);
            // the side that arrives is horizontal at the corners on the falling diagonal
            let along_x_first = sx * sy < 0.0;
            match corner {
                Corner::Sharp => loops.to(at),
                Corner::Clip(x, y) if x > 0.0 && y > 0.0 => {
                    let px = at - Vec2::new(sx * x.min(w), 0.0);
                    let py = at - Vec2::new(0.0, sy * y.min(h));
                    let (first, second) = if along_x_first { (px, py) } else { (py, px) };
                    loops.to(first);
                    loops.to(second);
                }
                Corner::Round(r) if r > 0.0 => {
                    let r = r.min(w).min(h);
                    let c = centre + Vec2::new(sx * (w - r), sy * (h - r));
                    loops.quarter(c, r, quarter);
                }
                Corner::Round(_) | Corner::Clip(..) => loops.to(at),
            }
        }
        loops.close()
    }

    /// A polygon through the points in order, in their own way round. The caller knows that they are
    /// three or more, distinct and simple; unchecked input goes through [`Contour::new`].
    pub fn polygon(points: &[Point]) -> Contour {
        let next = points.iter().cycle().skip(1);
        Contour::from_checked(points.iter().zip(next).map(|(a, b)| Segment::line(*a, *b)).collect())
    }

    /// A slot with round ends: everything within `radius` of the straight from `a` to `b` (a circle
    /// where the two are one point).
    pub fn slot(a: Point, b: Point, radius: f64) -> Contour {
        let d = length(b - a);
        if d <= 0.0 {
            return Contour::circle(a, radius);
        }
        let u = (b - a) / d;
        let n = Vec2::new(u.y, -u.x) * radius;
        let turn = angle::direction(n);
        let corners = [a + n, b + n, b - n, a - n];
        let cap = |centre, start, from, to| {
            Segment::Arc(Arc { centre, radius, start: angle::normalise(start), sweep: PI, a: from, b: to })
        };
        Contour::from_checked(vec![
            Segment::line(corners[0], corners[1]),
            cap(b, turn, corners[1], corners[2]),
            Segment::line(corners[2], corners[3]),
            cap(a, turn + PI, corners[3], corners[0]),
        ])
    }

    /// A circle with one flat, at `flat` from the centre towards -y (a D hole), or with two, the
    /// other towards +y. `flat` must be above zero; at `radius` or more the circle stays whole.
    pub fn d_hole(centre: Point, radius: f64, flat: f64, double: bool) -> Contour {
        if !(flat > 0.0 && flat < radius) {
            return Contour::circle(centre, radius);
        }
        let x = ((radius - flat) * (radius + flat)).sqrt();
        let corner = |sx: f64, sy: f64| centre + Vec2::new(sx * x, sy * flat);
        let (low_left, low_right) = (corner(-1.0, -1.0), corner(1.0, -1.0));
        if !double {
            let round = Arc::between(low_right, low_left, centre, true);
            return Contour::from_checked(vec![
                Segment::line(low_left, low_right),
                Segment::Arc(Arc { radius, ..round }),
            ]);
        }
        let (up_left, up_right) = (corner(-1.0, 1.0), corner(1.0, 1.0));
        let right = Arc::between(low_right, up_right, centre, true);
        let left = Arc::between(up_left, low_left, centre, true);
        Contour::from_checked(vec![
            Segment::line(low_left, low_right),
            Segment::Arc(Arc { radius, ..right }),
            Segment::line(up_right, up_left),
            Segment::Arc(Arc { radius, ..left }),
        ])
    }
}

/// Walks from point to point; a straight of less than rounding is left out and its ends made one.
#[derive(Default)]
struct Builder {
    pieces: Vec<Segment>,
    first: Option<Point>,
    last: Point,
}

/// Straights shorter than this part of their distance from the origin are rounding (f64 carries
/// 2.2e-16, a few operations lie between).
const ROUNDING: f64 = 1e-14;

impl Builder {
    fn to(&mut self, p: Point) {
        if self.first.is_none() {
            self.first = Some(p);
            self.last = p;
        } else if span(self.last, p) > ROUNDING * (1.0 + p.x.abs() + p.y.abs()) {
            self.pieces.push(Segment::line(self.last, p));
            self.last = p;
        }
    }

    fn quarter(&mut self, centre: Point, radius: f64, quarter: i32) {
        let axis = |k: i32| match k % 4 {
            0 => Vec2::new(1.0, 0.0),
            1 => Vec2::new(0.0, 1.0),
            2 => Vec2::new(-1.0, 0.0),
            _ => Vec2::new(0.0, -1.0),
        };
        self.to(centre + axis(quarter) * radius);
        let b = centre + axis(quarter + 1) * radius;
        let start = FRAC_PI_2 * f64::from(quarter);
        self.pieces.push(Segment::Arc(Arc { centre, radius, start, sweep: FRAC_PI_2, a: self.last, b }));
        self.last = b;
    }

    fn close(mut self) -> Contour {
        if let Some(first) = self.first {
            self.to(first);
            if let (Some(s), true) = (self.pieces.last_mut(), self.last != first) {
                *s = s.with_ends(s.start(), first);
            }
        }
        Contour::from_checked(self.pieces)
    }
}
