//! A point and a straight, an arc, a contour. Closed forms, exact to rounding.

use super::{Gap, Near, Relation};
use crate::geom::{Arc, Contour, Line, Point, SLACK, Segment, Side, length, span};

/// Nearest point of a straight.
#[inline]
pub(super) fn on_line(p: Point, l: &Line) -> Point {
    let d = l.b - l.a;
    let t = (p - l.a).dot(d);
    let whole = d.hypot2();
    if t <= 0.0 {
        l.a
    } else if t >= whole {
        l.b
    } else {
        l.a + d * (t / whole)
    }
}

/// Nearest point of an arc.
#[inline]
pub(super) fn on_arc(p: Point, arc: &Arc) -> Point {
    let v = p - arc.centre;
    let d = length(v);
    if d > 0.0 && arc.faces(v) {
        return arc.centre + v * (arc.radius / d);
    }
    // not facing: the nearer end (from the centre itself every point is as near)
    if (arc.a - p).hypot2() <= (arc.b - p).hypot2() { arc.a } else { arc.b }
}

/// Nearest point of a piece.
pub(crate) fn point_segment(p: Point, s: &Segment) -> Near {
    let mut near = Near::within(f64::INFINITY);
    let q = match s {
        Segment::Line(l) => on_line(p, l),
        Segment::Arc(a) => on_arc(p, a),
    };
    near.offer(p, q);
    near
}

/// Nearest point of an outline, piece by piece.
pub(super) fn point_outline(p: Point, c: &Contour) -> Near {
    let mut near = Near::within(f64::INFINITY);
    for (s, b) in c.boxed() {
        let (dx, dy) = ((b.x0 - p.x).max(p.x - b.x1).max(0.0), (b.y0 - p.y).max(p.y - b.y1).max(0.0));
        if dx * dx + dy * dy < near.d2 {
            let here = point_segment(p, s);
            near.offer(p, here.at[1]);
        }
    }
    near
}

/// Least distance of a point from an outline, and on which side it lies: `Inside`, `Apart`, or
/// `Touching` within [`SLACK`]. The first of the two places is the point itself.
pub fn point_contour(p: Point, c: &Contour) -> Gap {
    let near = match c.as_circle() {
        Some((centre, radius)) => {
            let mut near = Near::within(f64::INFINITY);
            let v = p - centre;
            let d = span(centre, p);
            let q = if d > 0.0 {
                centre + v * (radius / d)
            } else {
                c.segments().first().map_or(centre, Segment::start)
            };
            near.offer(p, q);
            near
        }
        None => point_outline(p, c),
    };
    let distance = if near.found { near.distance() } else { f64::NAN };
    let (distance, relation) = if distance <= SLACK {
        (0.0, Relation::Touching)
    } else if c.holds(p) {
        (distance, Relation::Inside)
    } else {
        (distance, Relation::Apart)
    };
    Gap { distance, relation, at: near.at }
}

impl Contour {
    /// On which side of the outline a point lies; within [`SLACK`] of it is on it.
    pub fn side_of(&self, p: Point) -> Side {
        let b = self.bounds().inflate(SLACK, SLACK);
        if p.x < b.x0 || p.x > b.x1 || p.y < b.y0 || p.y > b.y1 {
            return Side::Outside;
        }
        let on = self.boxed().any(|(s, b)| {
            p.x >= b.x0 - SLACK
                && p.x <= b.x1 + SLACK
                && p.y >= b.y0 - SLACK
                && p.y <= b.y1 + SLACK
                && point_segment(p, s).distance() <= SLACK
        });
        match (on, on || self.holds(p)) {
            (true, _) => Side::Boundary,
            (false, true) => Side::Inside,
            (false, false) => Side::Outside,
        }
    }
}
