//! What is drawn twice: whole shapes that are the same, and stretches that lie on each other.
//!
//! Two shapes are the same whatever their way round and wherever they start. Shapes are compared only where
//! box and length agree, through a grid of these numbers: equal ones join the first of them and are not
//! compared among each other, so that many copies of one cost no more than many different ones.

use crate::geom::{Arc, Line, Point, Rect, Segment, Vec2, angle, length, span};
use std::collections::BTreeMap;
use std::f64::consts::TAU;

/// How far apart two lines may be and count as one: below it a machine cuts the same kerf again, mm.
/// (Common practice, no source.)
pub const SAME: f64 = 0.01;
/// Shortest stretch on which two lines lie on each other that is told, mm.
const SHORTEST: f64 = 0.05;
/// How far boxes and lengths of shapes that are the same may be apart, mm, and the width of the grid's cells: so wide
/// that few numbers have a border in reach, and never two.
const REACH: f64 = 2.0 * SAME;
const CELL: f64 = 16.0 * SAME;
/// Most comparisons of pieces for one pair of shapes that are cut up differently.
const MOST: usize = 1_000_000;

/// Box of pieces.
pub fn bounds(pieces: &[Segment]) -> Option<Rect> {
    pieces.iter().map(Segment::bounds).reduce(|a, b| a.union(b))
}

fn cell(v: f64) -> i64 {
    whole(v / CELL)
}

/// The whole number below, or the number itself: `floor` without a call of the library, saturating.
pub(super) fn whole(v: f64) -> i64 {
    let t = v as i64;
    if (t as f64) > v { t.saturating_sub(1) } else { t }
}

/// For every shape the index of the first one that is the same (its own where there is none before).
pub fn first_of(shapes: &[&[Segment]], closed: bool) -> Vec<usize> {
    let mut grid: BTreeMap<[i64; 4], Vec<usize>> = BTreeMap::new();
    let mut out = Vec::with_capacity(shapes.len());
    for (k, s) in shapes.iter().enumerate() {
        let b = bounds(s).unwrap_or(Rect::ZERO);
        let long: f64 = s.iter().map(Segment::len).sum();
        // a length adds up the differences of all its pieces
        let c = b.center();
        let numbers = [c.x, c.y, b.width(), long / 8.0];
        let key = numbers.map(cell);
        let mut found = None;
        'search: for n in 0..16u32 {
            // the cell of each number, or that of the number moved to the nearer border if that is near
            let mut near = key;
            for (d, (v, k)) in numbers.iter().zip(&mut near).enumerate() {
                if n >> d & 1 == 1 {
                    let (low, high) = (cell(v - REACH), cell(v + REACH));
                    match (low == *k, high == *k) {
                        (true, true) => continue 'search,
                        (false, _) => *k = low,
                        (true, false) => *k = high,
                    }
                }
            }
            for &o in grid.get(&near).map_or(&[][..], Vec::as_slice) {
                if shapes.get(o).is_some_and(|t| same(s, t, closed)) {
                    found = Some(o);
                    break 'search;
                }
            }
        }
        if found.is_none() {
            grid.entry(key).or_default().push(k);
        }
        out.push(found.unwrap_or(k));
    }
    out
}

/// Whether two shapes are the same.
fn same(a: &[Segment], b: &[Segment], closed: bool) -> bool {
    if a.len() == b.len() && (along(a, b, 0, false) || along(a, b, 0, true)) {
        return true;
    }
    if !closed {
        return false;
    }
    if let (Some((c, r)), Some((d, q))) = (circle(a), circle(b)) {
        return span(c, d) <= SAME && (r - q).abs() <= SAME;
    }
    if a.len() == b.len() {
        let Some(start) = a.first().map(Segment::start) else { return true };
        let starts = b.iter().enumerate().filter(|(_, s)| span(s.start(), start) <= SAME).map(|(k, _)| k);
        for k in starts.take(8) {
            if along(a, b, k, false) || along(a, b, k, true) {
                return true;
            }
        }
    }
    a.len().saturating_mul(b.len()) <= MOST && lies_on(a, b) && lies_on(b, a)
}

/// The circle that pieces go round, whatever their number.
fn circle(pieces: &[Segment]) -> Option<(Point, f64)> {
    let Some(Segment::Arc(first)) = pieces.first() else { return None };
    pieces
        .iter()
        .all(|s| matches!(s, Segment::Arc(a) if span(a.centre, first.centre) <= SAME && (a.radius - first.radius).abs() <= SAME))
        .then_some((first.centre, first.radius))
}

/// Whether the pieces of `b` from piece `from` on, forwards or backwards, are those of `a`.
fn along(a: &[Segment], b: &[Segment], from: usize, back: bool) -> bool {
    let n = b.len();
    a.iter().enumerate().all(|(k, s)| {
        let at = if back { (from + 2 * n - 1 - k) % n } else { (from + k) % n };
        let Some(t) = b.get(at) else { return false };
        let (p, q) = if back { (t.end(), t.start()) } else { (t.start(), t.end()) };
        span(s.start(), p) <= SAME && span(s.end(), q) <= SAME && span(s.at(0.5), t.at(0.5)) <= SAME
    })
}

/// Whether ends, quarters and middles of all pieces of `a` lie on `b`.
fn lies_on(a: &[Segment], b: &[Segment]) -> bool {
    a.iter().all(|s| {
        [0.0, 0.25, 0.5, 0.75].iter().all(|t| {
            let p = s.at(*t);
            b.iter().any(|o| crate::geom::distance::point_segment(p, o).distance() <= SAME)
        })
    })
}

/// The stretch on which two pieces lie on each other: its length and ends.
pub fn overlap(a: &Segment, b: &Segment) -> Option<(f64, [Point; 2])> {
    let found = match (a, b) {
        (Segment::Line(a), Segment::Line(b)) => lines(a, b),
        (Segment::Arc(a), Segment::Arc(b)) => arcs(a, b),
        _ => None,
    };
    found.filter(|(long, _)| *long > SHORTEST)
}

fn lines(a: &Line, b: &Line) -> Option<(f64, [Point; 2])> {
    let d = a.b - a.a;
    let long = length(d);
    if long <= 0.0 {
        return None;
    }
    let u = d / long;
    let along = |p: Point| (p - a.a).dot(u);
    let (s, t) = (along(b.a), along(b.b));
    let (from, to) = (s.min(t).max(0.0), s.max(t).min(long));
    if to <= from {
        return None;
    }
    let across = |p: Point| u.cross(p - a.a);
    let off = |x: f64| {
        let share = if t == s { 0.0 } else { (x - s) / (t - s) };
        (across(b.a) + (across(b.b) - across(b.a)) * share).abs()
    };
    (off(from) <= SAME && off(to) <= SAME).then(|| (to - from, [a.a + u * from, a.a + u * to]))
}

fn arcs(a: &Arc, b: &Arc) -> Option<(f64, [Point; 2])> {
    if span(a.centre, b.centre) > SAME || (a.radius - b.radius).abs() > SAME {
        return None;
    }
    let forward = |x: &Arc| (if x.sweep >= 0.0 { x.start } else { x.start + x.sweep }, x.sweep.abs());
    let ((s, turn), (o, other)) = (forward(a), forward(b));
    let offset = angle::normalise(o - s);
    let first = (offset, turn.min(offset + other));
    let second = (0.0, turn.min(offset + other - TAU));
    let long = |(f, t): (f64, f64)| (t - f).max(0.0);
    let most = if long(first) >= long(second) { first } else { second };
    let at = |t: f64| a.centre + angle::unit(s + t) * a.radius;
    let total: Vec2 = Vec2::new(long(first), long(second));
    (long(most) > 0.0).then(|| ((total.x + total.y) * a.radius, [at(most.0), at(most.1)]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Contour;

    #[test]
    fn same_whatever_the_way_round_the_start_and_the_cutting() {
        let c = Contour::rect(Point::new(5.0, 6.0), 30.0, 20.0, 4.0);
        let turned = c.reversed().started_at(3);
        let mut halves = Vec::new();
        for s in c.segments() {
            let m = s.at(0.5);
            halves.extend([s.part(0.0, 0.5, s.start(), m), s.part(0.5, 1.0, m, s.end())]);
        }
        let other = Contour::rect(Point::new(5.0, 6.0), 30.0, 20.0, 4.1);
        let round = Contour::circle(Point::ORIGIN, 3.0);
        let split = [
            Segment::Arc(Arc::new(Point::ORIGIN, 3.0, 1.0, 2.0)),
            Segment::Arc(Arc::new(Point::ORIGIN, 3.0, 3.0, TAU - 2.0)),
        ];
        let all = [c.segments(), turned.segments(), &halves, other.segments(), round.segments(), &split];
        assert_eq!(first_of(&all, true), [0, 0, 0, 3, 4, 4]);
    }

    #[test]
    fn stretches_by_hand() {
        let line = |a: (f64, f64), b: (f64, f64)| Segment::line(a.into(), b.into());
        let (long, ends) = overlap(&line((0.0, 0.0), (10.0, 0.0)), &line((14.0, 0.0), (6.0, 0.0))).unwrap();
        assert_eq!((long, ends), (4.0, [Point::new(6.0, 0.0), Point::new(10.0, 0.0)]));
        assert!(
            overlap(&line((0.0, 0.0), (10.0, 0.0)), &line((10.0, 0.0), (20.0, 0.0))).is_none(),
            "a joint"
        );
        assert!(
            overlap(&line((0.0, 0.0), (10.0, 0.0)), &line((0.0, 0.02), (10.0, 0.02))).is_none(),
            "beside"
        );
        assert!(overlap(&line((0.0, 0.0), (10.0, 0.0)), &line((5.0, -5.0), (5.0, 5.0))).is_none(), "across");
        let arc = |s: f64, w: f64| Segment::Arc(Arc::new(Point::ORIGIN, 10.0, s, w));
        let (long, _) = overlap(&arc(0.0, 2.0), &arc(3.0, -2.0)).unwrap();
        assert!((long - 10.0).abs() < 1e-9, "one radian of radius 10");
        // both ends of one lie within the other: two stretches
        let (long, _) = overlap(&arc(0.0, 4.0), &arc(3.0, 4.0)).unwrap();
        assert!((long - 10.0 * (1.0 + (7.0 - TAU))).abs() < 1e-9);
        assert!(overlap(&arc(0.0, 1.0), &arc(1.0, 1.0)).is_none());
    }
}
