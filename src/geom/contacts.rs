//! All points where two pieces meet, to [`SLACK`]: crossings, tangent points, and ends that lie on
//! the other piece. Pieces that run together are told by the ends of the shared stretch.

use super::distance::point_segment;
use super::{Arc, Line, Point, SLACK, Segment, Vec2, length, span};

/// Appends the meeting points of two pieces to `out`; some may be named twice.
pub(crate) fn contacts(a: &Segment, b: &Segment, out: &mut Vec<Point>) {
    match (a, b) {
        (Segment::Line(a), Segment::Line(b)) => line_line(a, b, out),
        (Segment::Line(a), Segment::Arc(b)) => line_arc(a, b, out),
        (Segment::Arc(a), Segment::Line(b)) => line_arc(b, a, out),
        (Segment::Arc(a), Segment::Arc(b)) => arc_arc(a, b, out),
    }
    for (p, other) in [(a.start(), b), (a.end(), b), (b.start(), a), (b.end(), a)] {
        if point_segment(p, other).distance() <= SLACK {
            out.push(p);
        }
    }
}

/// Proper crossing of two straights.
fn line_line(a: &Line, b: &Line, out: &mut Vec<Point>) {
    let (da, db) = (a.b - a.a, b.b - b.a);
    let (o1, o2) = (da.cross(b.a - a.a), da.cross(b.b - a.a));
    let (o3, o4) = (db.cross(a.a - b.a), db.cross(a.b - b.a));
    if (o1 < 0.0) != (o2 < 0.0) && (o3 < 0.0) != (o4 < 0.0) && o3 != o4 {
        out.push(a.a + da * (o3 / (o3 - o4)));
    }
}

/// Crossings of a straight with an arc; a pass within slack of tangent counts at its foot.
fn line_arc(l: &Line, arc: &Arc, out: &mut Vec<Point>) {
    let d = l.b - l.a;
    let len = length(d);
    if len <= 0.0 {
        return;
    }
    let u = d / len;
    let along = (arc.centre - l.a).dot(u);
    let foot = l.a + u * along;
    let h = span(foot, arc.centre);
    let mut offer = |t: f64| {
        let p = l.a + u * t;
        if t >= 0.0 && t <= len && arc.faces(p - arc.centre) {
            out.push(p);
        }
    };
    if (h - arc.radius).abs() <= SLACK {
        offer(along);
    }
    if h < arc.radius {
        let half = ((arc.radius - h) * (arc.radius + h)).sqrt();
        offer(along - half);
        offer(along + half);
    }
}

/// Crossings of two arcs; circles within slack of tangent count on the line of centres.
fn arc_arc(a: &Arc, b: &Arc, out: &mut Vec<Point>) {
    let between = b.centre - a.centre;
    let d = length(between);
    // circles that are one circle meet along a stretch: its ends are ends of the arcs
    if d <= SLACK && (a.radius - b.radius).abs() <= SLACK || d <= 0.0 {
        return;
    }
    let u = between / d;
    let mut offer = |v: Vec2| {
        let p = a.centre + v;
        if a.faces(v) && b.faces(p - b.centre) {
            out.push(p);
        }
    };
    for (gap, side) in
        [(d - a.radius - b.radius, 1.0), (a.radius - d - b.radius, 1.0), (b.radius - d - a.radius, -1.0)]
    {
        if gap.abs() <= SLACK {
            offer(u * (side * a.radius));
        }
    }
    if let Some((x, h)) = circles(d, a.radius, b.radius) {
        let n = Vec2::new(-u.y, u.x);
        offer(u * x + n * h);
        offer(u * x - n * h);
    }
}

/// Crossings of two circles whose centres are `d` apart: along the line of centres from the first,
/// and to either side of it.
pub(crate) fn circles(d: f64, r1: f64, r2: f64) -> Option<(f64, f64)> {
    if d <= 0.0 || d > r1 + r2 || d < (r1 - r2).abs() {
        return None;
    }
    let x = (d + (r1 - r2) * (r1 + r2) / d) / 2.0;
    Some((x, ((r1 - x) * (r1 + x)).max(0.0).sqrt()))
}
