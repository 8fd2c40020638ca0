//! A contour as convex pieces that together cover it.
//!
//! A convex contour is one piece, exact. Else arcs that bow outwards stay exact (a chord with its segment of the
//! circle); arcs that bow inwards become chords, which lie on the safe side and off the arc by at most
//! [`CHORD`]. A contour that defeats both is covered by its hull, and says by how much that is larger at the most.

use crate::geom::{Arc, Contour, Line, Point, Segment, Vec2, angle, span};
use std::f64::consts::PI;

/// How far a chord may lie off an arc that bows inwards, mm.
pub(super) const CHORD: f64 = 1e-3;

/// Convex contours, counter-clockwise, that cover `contour`, each with the bound by which it may be larger.
pub(super) fn convex(contour: &Contour) -> Vec<(Contour, f64)> {
    let contour = contour.ccw();
    if contour.is_convex() {
        return vec![(contour, 0.0)];
    }
    // finer pieces of the outward arcs where their chords would run into something
    for step in [PI, PI / 4.0, PI / 16.0, PI / 90.0] {
        if let Some(pieces) = cut(&contour, step) {
            return pieces;
        }
    }
    hull(&contour)
}

/// Chord polygon in triangles joined to convex ones, and the segments of outward arcs.
fn cut(contour: &Contour, step: f64) -> Option<Vec<(Contour, f64)>> {
    let mut corners: Vec<Point> = Vec::new();
    let mut pieces = Vec::new();
    for s in contour.segments() {
        let Segment::Arc(a) = s else {
            corners.push(s.start());
            continue;
        };
        let inward = a.sweep < 0.0;
        let fine = if inward { 2.0 * libm::acos((1.0 - CHORD / a.radius).clamp(-1.0, 1.0)) } else { step };
        let count = (a.sweep.abs() / fine.clamp(1e-3, PI * 0.999)).ceil().clamp(1.0, 4000.0);
        let at = |k: f64| match k {
            _ if k == 0.0 => a.a,
            _ if k == count => a.b,
            _ => a.centre + angle::unit(a.start + a.sweep * k / count) * a.radius,
        };
        for k in 0..count as usize {
            let (p, q) = (at(k as f64), at(k as f64 + 1.0));
            corners.push(p);
            if !inward {
                let part =
                    Arc { start: angle::direction(p - a.centre), sweep: a.sweep / count, a: p, b: q, ..*a };
                let chord = Segment::Line(Line { a: q, b: p });
                pieces.push((Contour::from_checked(vec![Segment::Arc(part), chord]), 0.0));
            }
        }
    }
    let inwards = contour.segments().iter().any(|s| matches!(s, Segment::Arc(a) if a.sweep < 0.0));
    let excess = if inwards { CHORD } else { 0.0 };
    corners.dedup_by(|a, b| span(*a, *b) < 1e-9);
    while corners.len() > 2 && span(corners[0], corners[corners.len() - 1]) < 1e-9 {
        corners.pop();
    }
    for polygon in joined(ears(&corners)?) {
        pieces.push((Contour::polygon(&polygon), excess));
    }
    Some(pieces)
}

fn hull(contour: &Contour) -> Vec<(Contour, f64)> {
    let b = contour.bounds();
    let (w, h) = (b.width(), b.height());
    let whole = Contour::rect(b.center(), w, h, 0.0);
    vec![(whole, (w * w + h * h).sqrt())]
}

fn turn(a: Point, b: Point, c: Point) -> f64 {
    (b - a).cross(c - b)
}

/// Triangles of a simple polygon that runs counter-clockwise; `None` where it proves not to be simple.
fn ears(corners: &[Point]) -> Option<Vec<[Point; 3]>> {
    let mut left: Vec<Point> = corners.to_vec();
    let whole = area(corners);
    if left.len() < 3 || whole <= 0.0 {
        return None;
    }
    let mut found = Vec::with_capacity(left.len());
    while left.len() > 3 {
        let n = left.len();
        let ear = (0..n).find(|&k| {
            let [a, b, c] = [left[(k + n - 1) % n], left[k], left[(k + 1) % n]];
            let convex = turn(a, b, c);
            if convex <= 0.0 {
                // a corner that does not turn is no corner
                return convex == 0.0 && (b - a).dot(c - b) >= 0.0;
            }
            left.iter().all(|p| {
                let corner = *p == a || *p == b || *p == c;
                corner || !(turn(a, b, *p) >= 0.0 && turn(b, c, *p) >= 0.0 && turn(c, a, *p) >= 0.0)
            })
        })?;
        let [a, b, c] = [left[(ear + n - 1) % n], left[ear], left[(ear + 1) % n]];
        if turn(a, b, c) > 0.0 {
            found.push([a, b, c]);
        }
        left.remove(ear);
    }
    found.push([left[0], left[1], left[2]]);
    let sum: f64 = found.iter().map(|t| area(t)).sum();
    ((sum - whole).abs() <= 1e-9 * whole.max(1.0)).then_some(found)
}

fn area(corners: &[Point]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    corners.iter().zip(next).map(|(a, b)| a.to_vec2().cross(b.to_vec2())).sum::<f64>() / 2.0
}

/// Neighbouring polygons joined as long as they stay convex.
fn joined(triangles: Vec<[Point; 3]>) -> Vec<Vec<Point>> {
    let mut all: Vec<Vec<Point>> = Vec::new();
    'next: for t in triangles {
        for have in &mut all {
            if let Some(one) = join(have, &t) {
                *have = one;
                continue 'next;
            }
        }
        all.push(t.to_vec());
    }
    all
}

/// A polygon and a triangle with a common side, as one, if that is convex.
fn join(have: &[Point], t: &[Point; 3]) -> Option<Vec<Point>> {
    let n = have.len();
    for k in 0..n {
        let (a, b) = (have[k], have[(k + 1) % n]);
        for m in 0..3 {
            if t[m] == b && t[(m + 1) % 3] == a {
                let tip = t[(m + 2) % 3];
                let (before, after) = (have[(k + n - 1) % n], have[(k + 2) % n]);
                let fits = turn(before, a, tip) >= 0.0 && turn(a, tip, b) > 0.0 && turn(tip, b, after) >= 0.0;
                return fits.then(|| {
                    let mut one = have.to_vec();
                    one.insert(k + 1, tip);
                    one
                });
            }
        }
    }
    None
}

/// A polygon around a set of which only the reach in a direction is known: its tangents in `count` directions.
pub(super) fn tangents(count: usize, reach: impl Fn(Vec2) -> f64) -> Vec<Point> {
    let unit = |k: usize| angle::unit(2.0 * PI * (k % count) as f64 / count as f64);
    (0..count)
        .map(|k| {
            let (u, v) = (unit(k), unit(k + 1));
            let (h, g) = (reach(u), reach(v));
            // p.u = h, p.v = g
            let det = u.cross(v);
            Point::new((h * v.y - g * u.y) / det, (u.x * g - v.x * h) / det)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_l_and_a_bitten_plate_are_covered() {
        let p = |x: f64, y: f64| Point::new(x, y);
        let l =
            Contour::polygon(&[p(0.0, 0.0), p(9.0, 0.0), p(9.0, 2.0), p(2.0, 2.0), p(2.0, 9.0), p(0.0, 9.0)]);
        let pieces = convex(&l);
        assert!(pieces.len() <= 3 && pieces.iter().all(|(c, _)| c.is_convex()), "{}", pieces.len());
        let sum: f64 = pieces.iter().map(|(c, _)| c.signed_area()).sum();
        assert!((sum - 32.0).abs() < 1e-9, "{sum}");
        let bite = Contour::rect(p(0.0, 0.0), 60.0, 40.0, 6.0).without(&Contour::circle(p(30.0, 3.0), 9.0));
        let bite = bite.expect("bite")[0].clone();
        let pieces = convex(&bite);
        assert!(pieces.iter().all(|(c, e)| c.is_convex() && *e <= CHORD));
        let sum: f64 = pieces.iter().map(|(c, _)| c.signed_area()).sum();
        // chords of the bite on the safe side: larger by less than its length times the chord bound
        assert!(sum >= bite.signed_area() - 1e-9 && sum - bite.signed_area() < 30.0 * CHORD, "{sum}");
    }
}
