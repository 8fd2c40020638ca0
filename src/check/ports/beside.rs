//! Whether a chord of a line surely stays off a prism along the depth. What it calls clear is so, by closed forms; a piece
//! of the chord that lies before or behind the prism in depth counts as half the need off it, or as beside it.

use super::around::Block;
use super::tube::Chord;
use crate::geom::{Contour, Point, Rect, SLACK, Vec2, distance};
use crate::solid::{Bounds, Vec3};

/// Seen from the seat.
pub(super) fn flat(v: Vec3) -> Point {
    Point::new(v.x, v.y)
}

/// Whether a chord is surely `need` or more from a prism, wherever it is shifted by up to `moves` beside, seen from the seat.
pub(super) fn clears(chord: &Chord, b: &Block<'_>, need: f64, moves: f64) -> bool {
    let (p, q) = if chord.from.d <= chord.to.d { (chord.from, chord.to) } else { (chord.to, chord.from) };
    let gap = (b.low - q.d).max(p.d - b.high).max(0.0);
    if gap >= need {
        return true;
    }
    let side = Rect::from_points(flat(p), flat(q));
    let reach = (need * need - gap * gap).sqrt() + moves;
    if distance::box_distance2(&side, &b.bounds) >= reach * reach {
        return true;
    }
    // by how far in depth its pieces are off: within half of the need counts as beside, the rest as half of it off
    let half = need / 2.0;
    let bands = [
        (b.low - need, b.low - half, half),
        (b.low - half, b.high + half, 0.0),
        (b.high + half, b.high + need, half),
    ];
    bands.iter().all(|(low, high, off)| {
        let Some((from, to)) = clipped(p, q, *low, *high) else { return true };
        let beside = (need * need - off * off).sqrt() + moves;
        let (from, to) = (flat(from), flat(to));
        if let Some((centre, radius)) = b.contour.as_circle() {
            return point_straight2(centre, from, to) > (beside + radius + SLACK).powi(2);
        }
        if box_straight2(&b.bounds, from, to) > (beside + SLACK).powi(2) {
            return true;
        }
        let slot = Contour::slot(from, to, beside);
        !distance::near(&slot, &b.contour, 0.0)
    })
}

/// The piece of a chord, its ends in the order of their depth, within a range of depth.
fn clipped(p: Vec3, q: Vec3, low: f64, high: f64) -> Option<(Vec3, Vec3)> {
    if q.d < low || p.d > high {
        return None;
    }
    let rise = q.d - p.d;
    if rise <= SLACK {
        return Some((p, q));
    }
    let at = |d: f64| p + (q - p) * ((d - p.d) / rise).clamp(0.0, 1.0);
    Some((at(low.max(p.d)), at(high.min(q.d))))
}

/// A box around chords.
pub(super) fn hull(chords: &[Chord]) -> Bounds {
    let far = Vec3::new(f64::INFINITY, f64::INFINITY, f64::INFINITY);
    let mut b = Bounds { low: far, high: -far };
    for p in chords.iter().flat_map(|c| [c.from, c.to]) {
        b = b.union(&Bounds { low: p, high: p });
    }
    b
}

/// Square of a point's distance from a straight.
fn point_straight2(p: Point, a: Point, b: Point) -> f64 {
    let d = b - a;
    let whole = d.hypot2();
    let t = if whole > 0.0 { ((p - a).dot(d) / whole).clamp(0.0, 1.0) } else { 0.0 };
    (p - (a + d * t)).hypot2()
}

/// Square of the distance of a box from a straight; 0 where they meet.
fn box_straight2(r: &Rect, a: Point, b: Point) -> f64 {
    if enters(r, a, b - a) {
        return 0.0;
    }
    let corners = [(r.x0, r.y0), (r.x1, r.y0), (r.x1, r.y1), (r.x0, r.y1)];
    let from_corner = |(x, y)| point_straight2(Point::new(x, y), a, b);
    let from_end = |p: Point| {
        let gap = |v: f64, low: f64, high: f64| (low - v).max(v - high).max(0.0);
        Vec2::new(gap(p.x, r.x0, r.x1), gap(p.y, r.y0, r.y1)).hypot2()
    };
    corners.map(from_corner).into_iter().chain([from_end(a), from_end(b)]).fold(f64::INFINITY, f64::min)
}

/// Whether a straight from `a` along `d` meets a box.
fn enters(r: &Rect, a: Point, d: Vec2) -> bool {
    let (mut first, mut last) = (0.0f64, 1.0f64);
    for (at, by, low, high) in [(a.x, d.x, r.x0, r.x1), (a.y, d.y, r.y0, r.y1)] {
        if by == 0.0 {
            if at < low || at > high {
                return false;
            }
            continue;
        }
        let (s, t) = ((low - at) / by, (high - at) / by);
        first = first.max(s.min(t));
        last = last.min(s.max(t));
    }
    first <= last
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_box_and_a_straight() {
        let r = Rect::new(0.0, 0.0, 10.0, 4.0);
        let gap = |a: (f64, f64), b: (f64, f64)| {
            box_straight2(&r, Point::new(a.0, a.1), Point::new(b.0, b.1)).sqrt()
        };
        assert_eq!(gap((-5.0, 2.0), (20.0, 3.0)), 0.0);
        assert_eq!(gap((2.0, 1.0), (3.0, 1.0)), 0.0);
        assert_eq!(gap((13.0, 8.0), (13.0, 20.0)), 5.0);
        assert_eq!(gap((-3.0, -3.0), (-3.0, 9.0)), 3.0);
        // past a corner on the slant: x + y = 16 is 2 / sqrt 2 from (10, 4)
        assert!((gap((16.0, 0.0), (6.0, 10.0)) - 2.0f64.sqrt()).abs() < 1e-12);
        assert_eq!(gap((12.0, 2.0), (12.0, 2.0)), 2.0);
    }
}
