//! A shape swept by a box of shifts: all places that it reaches when it moves by any of them (the Minkowski sum of shape
//! and box). Exact: lines and arcs give lines and arcs.
//!
//! A convex shape gives one contour: its pieces, each moved by the corner of the box that lies farthest out along the
//! piece's normal, joined by straights. Any other shape is told as the shape itself and, piece by piece, what each
//! stretch of its outline sweeps; a point that the sweep reaches and the shape does not hold lies in one of these,
//! because on its way out it has crossed the outline.

use super::{Arc, Contour, Point, Rect, SLACK, Segment, Vec2, span};

/// Sine of the angle below which a normal counts as lying on an axis.
const ON_AXIS: f64 = 1e-9;

/// The shape with all that it sweeps when it moves by any shift of the box, which holds the zero shift. The contours
/// overlap; together they are the swept shape.
pub fn swept(shape: &Contour, by: Rect) -> Vec<Contour> {
    let shape = shape.ccw();
    if by.width() <= SLACK && by.height() <= SLACK {
        return vec![shape];
    }
    let pieces: Vec<Segment> = shape.segments().iter().flat_map(quarters).collect();
    if shape.is_convex()
        && let Some(whole) = convex(&pieces, by)
    {
        return vec![whole];
    }
    let stretches: Vec<Contour> = pieces.iter().filter_map(|s| stretch(s, by)).collect();
    std::iter::once(shape).chain(stretches).collect()
}

/// A piece cut where it runs along an axis: what is left runs one way in x and one way in y.
fn quarters(s: &Segment) -> Vec<Segment> {
    let Segment::Arc(arc) = s else { return vec![*s] };
    let axes = [Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0), Vec2::new(-1.0, 0.0), Vec2::new(0.0, -1.0)];
    let mut cuts: Vec<(f64, Point)> = Vec::new();
    for axis in axes {
        let at = arc.centre + axis * arc.radius;
        if arc.faces(axis) && span(at, arc.a) > SLACK && span(at, arc.b) > SLACK {
            cuts.push((s.fraction(at), at));
        }
    }
    cuts.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut parts = Vec::new();
    let mut from = (0.0, arc.a);
    for to in cuts.into_iter().chain([(1.0, arc.b)]) {
        parts.push(s.part(from.0, to.0, from.1, to.1));
        from = to;
    }
    parts
}

/// The outward normal of a counter-clockwise shape in the middle of a piece, of any length.
fn normal(s: &Segment) -> Vec2 {
    match s {
        Segment::Line(l) => {
            let d = l.b - l.a;
            Vec2::new(d.y, -d.x)
        }
        Segment::Arc(a) => (a.at(0.5) - a.centre) * a.sweep.signum(),
    }
}

/// Which corner of a box lies farthest out along a normal, counter-clockwise from upper right.
fn corner(n: Vec2) -> usize {
    let slack = ON_AXIS * n.hypot();
    let (x, y) = (if n.x.abs() <= slack { 0.0 } else { n.x }, if n.y.abs() <= slack { 0.0 } else { n.y });
    // a normal on an axis takes the corner that comes next
    match (x > 0.0, y > 0.0, x < 0.0, y < 0.0) {
        (true, _, _, false) => 0,
        (false, true, _, _) => 1,
        (_, false, true, _) => 2,
        _ => 3,
    }
}

fn at_corner(by: Rect, k: usize) -> Vec2 {
    match k % 4 {
        0 => Vec2::new(by.x1, by.y1),
        1 => Vec2::new(by.x0, by.y1),
        2 => Vec2::new(by.x0, by.y0),
        _ => Vec2::new(by.x1, by.y0),
    }
}

fn moved(s: &Segment, by: Vec2) -> Segment {
    match *s {
        Segment::Line(l) => Segment::line(l.a + by, l.b + by),
        Segment::Arc(a) => Segment::Arc(Arc { centre: a.centre + by, a: a.a + by, b: a.b + by, ..a }),
    }
}

/// The outline of a swept convex shape; `None` where rounding hides which way it turns.
fn convex(pieces: &[Segment], by: Rect) -> Option<Contour> {
    let mut out = Path::default();
    let mut turned = 0;
    for (s, next) in pieces.iter().zip(pieces.iter().cycle().skip(1)) {
        let (own, then) = (corner(normal(s)), corner(normal(next)));
        out.piece(moved(s, at_corner(by, own)));
        let steps = (then + 4 - own) % 4;
        turned += steps;
        for k in 1..=steps {
            out.to(s.end() + at_corner(by, own + k));
        }
    }
    (turned == 4).then(|| out.closed()).flatten()
}

/// What one piece sweeps that runs one way in x and one way in y; `None` where it sweeps no area.
fn stretch(s: &Segment, by: Rect) -> Option<Contour> {
    let (a, b) = (s.start(), s.end());
    let s = if b.x < a.x { s.reversed() } else { *s };
    let (a, b) = (s.start(), s.end());
    // of a piece that rises the sides are that by the upper left and the lower right corner
    let rises = b.y >= a.y;
    let (near, far) = if rises { (by.y1, by.y0) } else { (by.y0, by.y1) };
    let mut out = Path::default();
    out.piece(moved(&s, Vec2::new(by.x0, near)));
    out.to(b + Vec2::new(by.x1, near));
    out.to(b + Vec2::new(by.x1, far));
    out.piece(moved(&s.reversed(), Vec2::new(by.x1, far)));
    out.to(a + Vec2::new(by.x0, far));
    out.closed().filter(|c| c.area().abs() > SLACK * SLACK).map(|c| c.ccw())
}

/// A contour in the making: pieces with straights between them.
#[derive(Default)]
struct Path {
    pieces: Vec<Segment>,
}

impl Path {
    fn piece(&mut self, s: Segment) {
        self.to(s.start());
        let from = self.pieces.last().map_or(s.start(), Segment::end);
        self.pieces.push(s.with_ends(from, s.end()));
    }

    /// A straight to a point, unless it is there.
    fn to(&mut self, p: Point) {
        if let Some(from) = self.pieces.last().map(Segment::end)
            && span(from, p) > SLACK
        {
            self.pieces.push(Segment::line(from, p));
        }
    }

    fn closed(mut self) -> Option<Contour> {
        let start = self.pieces.first()?.start();
        self.to(start);
        if let Some(last) = self.pieces.last_mut() {
            *last = last.with_ends(last.start(), start);
        }
        (self.pieces.len() > 1).then(|| Contour::from_checked(self.pieces))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Transform, distance};
    use std::f64::consts::PI;

    const BY: Rect = Rect { x0: -2.0, y0: -5.0, x1: 3.0, y1: 1.0 };

    #[test]
    fn a_swept_rectangle_and_circle_are_what_they_must_be() {
        let [r] = swept(&Contour::rect(Point::new(10.0, 20.0), 8.0, 6.0, 0.0), BY).try_into().unwrap();
        let b = r.bounds();
        assert_eq!((b.x0, b.x1, b.y0, b.y1), (4.0, 17.0, 12.0, 24.0));
        assert!((r.area() - 13.0 * 12.0).abs() < 1e-9);
        let [c] = swept(&Contour::circle(Point::ORIGIN, 4.0), BY).try_into().unwrap();
        // area of a sum: the circle's, the box's, and the radius times the box's edge
        assert!((c.area() - (PI * 16.0 + 30.0 + 4.0 * 22.0)).abs() < 1e-9, "{}", c.area());
        assert!(c.is_convex() && c.is_ccw());
    }

    #[test]
    fn what_does_not_move_stays_and_a_sweep_along_one_axis_is_one() {
        let c = Contour::circle(Point::ORIGIN, 4.0);
        assert_eq!(swept(&c, Rect::ZERO), std::slice::from_ref(&c));
        let [slot] = swept(&c, Rect { x0: 0.0, y0: -6.0, x1: 0.0, y1: 0.0 }).try_into().unwrap();
        assert!((slot.area() - (PI * 16.0 + 8.0 * 6.0)).abs() < 1e-9);
    }

    #[test]
    fn a_swept_shape_is_as_far_from_another_as_the_nearest_of_its_places() {
        let p = Point::new;
        let l =
            Contour::polygon(&[p(0.0, 0.0), p(9.0, 0.0), p(9.0, 2.0), p(2.0, 2.0), p(2.0, 9.0), p(0.0, 9.0)]);
        let key =
            Contour::circle(Point::ORIGIN, 5.0).union(&Contour::rect(p(0.0, 5.0), 2.0, 4.0, 0.0)).unwrap();
        let shapes = [
            Contour::rect(Point::ORIGIN, 7.0, 4.0, 1.5),
            Contour::circle(p(1.0, 1.0), 3.0),
            Contour::d_hole(Point::ORIGIN, 6.0, 4.0, true),
            Contour::slot(Point::ORIGIN, p(4.0, 7.0), 2.0),
            Contour::polygon(&[p(0.0, 0.0), p(9.0, 1.0), p(3.0, 8.0)]),
            l,
            key[0].clone(),
        ];
        let others = [
            Contour::circle(p(14.0, 9.0), 2.5),
            Contour::rect(p(-13.0, 4.0), 3.0, 9.0, 1.0),
            Contour::circle(p(5.0, -17.0), 1.0),
        ];
        let n = 12;
        for (k, shape) in shapes.iter().enumerate() {
            for turn in [0.0, 17.0, 90.0, 203.0] {
                let shape = Transform::place(p(0.5, -0.5), turn, k % 2 == 1).contour(shape);
                let all = swept(&shape, BY);
                for other in &others {
                    let exact = all
                        .iter()
                        .map(|c| distance::contours(c, other).distance)
                        .fold(f64::INFINITY, f64::min);
                    let mut tried = f64::INFINITY;
                    for i in 0..=n {
                        for j in 0..=n {
                            let at = Vec2::new(
                                BY.x0 + BY.width() * f64::from(i) / f64::from(n),
                                BY.y0 + BY.height() * f64::from(j) / f64::from(n),
                            );
                            let there = Transform::shift(at).contour(&shape);
                            tried = tried.min(distance::contours(&there, other).distance);
                        }
                    }
                    // places tried are some of all: never nearer than the sweep, and a step of the grid off at most
                    let step = span(Point::ORIGIN, Point::new(BY.width(), BY.height())) / f64::from(n);
                    assert!(exact <= tried + 1e-9 && tried <= exact + step, "{k} {turn}: {exact} {tried}");
                }
            }
        }
    }
}
