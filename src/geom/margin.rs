//! How far one shape stays inside another, or sticks out of it.
//!
//! Inside: the distance of the outlines, exact. Sticking out: the greatest distance from `outer` of a
//! point of `inner`'s outline, found by cutting the outline until upper and lower bound agree to
//! [`SLACK`]; the upper one is returned, so the answer never tells less than the truth. Over one
//! straight of `outer` the distance is convex, so that parallel edges are decided without cutting.

use super::distance::{self, Relation, point_segment};
use super::{Contour, Point, SLACK, Segment, length, span};

/// Most cuts of one question; beyond it the upper bound stands as it is.
const CUTS: usize = 20_000;

/// Positive or zero: `inner` lies in `outer`, by this much at the nearest place. Negative: it does
/// not, and sticks out by this much at the farthest place of its outline.
pub fn margin_inside(outer: &Contour, inner: &Contour) -> f64 {
    let gap = distance::contours(inner, outer);
    match gap.relation {
        Relation::Inside | Relation::Coincident => gap.distance,
        _ => -sticks_out(outer, inner),
    }
}

/// A part of the inner outline, with the distances of its ends from `outer` (0 where inside).
struct Part {
    upper: f64,
    segment: Segment,
    ends: [f64; 2],
}

fn sticks_out(outer: &Contour, inner: &Contour) -> f64 {
    if let (Some((co, ro)), Some((ci, ri))) = (outer.as_circle(), inner.as_circle()) {
        return (span(co, ci) + ri - ro).max(0.0);
    }
    let mut lower = 0.0_f64;
    let mut parts = Vec::new();
    for s in inner.segments() {
        // halves, so that the chord of an arc says something about it
        let mid = s.at(0.5);
        for half in [s.part(0.0, 0.5, s.start(), mid), s.part(0.5, 1.0, mid, s.end())] {
            push(outer, half, &mut lower, &mut parts);
        }
    }
    let mut cuts = 0;
    let mut settled = lower;
    while let Some(part) = parts.pop() {
        if part.upper <= lower + SLACK || cuts >= CUTS || part.segment.len() <= SLACK {
            settled = settled.max(part.upper);
            continue;
        }
        cuts += 1;
        let s = part.segment;
        let mid = s.at(0.5);
        push(outer, s.part(0.0, 0.5, s.start(), mid), &mut lower, &mut parts);
        push(outer, s.part(0.5, 1.0, mid, s.end()), &mut lower, &mut parts);
    }
    settled.max(lower)
}

/// Distance of a point from the shape.
fn off(outer: &Contour, p: Point) -> f64 {
    let gap = distance::point_contour(p, outer);
    if gap.relation == Relation::Apart { gap.distance } else { 0.0 }
}

fn push(outer: &Contour, segment: Segment, lower: &mut f64, parts: &mut Vec<Part>) {
    let (a, b) = (segment.start(), segment.end());
    let ends = [off(outer, a), off(outer, b)];
    *lower = lower.max(ends[0]).max(ends[1]);
    // the piece stays within this of its chord
    let bow = match segment {
        Segment::Line(_) => 0.0,
        Segment::Arc(arc) if arc.sweep.abs() <= std::f64::consts::PI => {
            arc.radius * (1.0 - libm::cos(arc.sweep.abs() / 2.0))
        }
        Segment::Arc(arc) => 2.0 * arc.radius,
    };
    // a distance grows by at most the way walked from either end
    let mut upper = (ends[0] + ends[1] + segment.len()) / 2.0;
    for s in outer.segments() {
        upper = upper.min(bow + over_chord(s, a, b));
    }
    parts.push(Part { upper, segment, ends });
    // the best seen first: the last of the list is cut next
    let n = parts.len();
    if n >= 2 && parts[n - 1].upper < parts[n - 2].upper {
        parts.swap(n - 1, n - 2);
    }
    debug_assert!(parts.iter().all(|p| p.ends.iter().all(|e| *e <= *lower)));
}

/// Greatest distance of the straight from `a` to `b` from one piece, at most.
fn over_chord(s: &Segment, a: Point, b: Point) -> f64 {
    let at_ends = point_segment(a, s).distance().max(point_segment(b, s).distance());
    match s {
        // the distance from a straight is convex
        Segment::Line(_) => at_ends,
        Segment::Arc(arc) => {
            let (va, vb) = (a - arc.centre, b - arc.centre);
            // both ends, and so all between, in a wedge of the arc that is convex
            let wedge = arc.sweep.abs() <= std::f64::consts::PI && arc.faces(va) && arc.faces(vb);
            if !wedge {
                return f64::INFINITY;
            }
            let d = vb - va;
            let t = (-va.dot(d) / d.hypot2().max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
            let nearest = length(va + d * t);
            (length(va).max(length(vb)) - arc.radius).max(arc.radius - nearest)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn p(x: f64, y: f64) -> Point {
        Point::new(x, y)
    }

    #[test]
    fn inside_and_out() {
        let sheet = Contour::rect(p(0.0, 0.0), 100.0, 60.0, 10.0);
        let at = |x: f64, y: f64, r: f64| margin_inside(&sheet, &Contour::circle(p(x, y), r));
        assert!((at(0.0, 0.0, 20.0) - 10.0).abs() < 1e-12);
        assert!((at(0.0, 10.0, 20.0) - 0.0).abs() < 1e-12);
        assert!((at(0.0, 15.0, 20.0) + 5.0).abs() < 2.0 * SLACK);
        assert!((at(70.0, 0.0, 5.0) + 25.0).abs() < 2.0 * SLACK, "wholly outside: its far side");
        // over the rounded corner: from the arc's centre
        let corner = at(45.0, 25.0, 4.0);
        assert!((corner + (50f64.sqrt() + 4.0 - 10.0)).abs() < 2.0 * SLACK, "{corner}");
        assert_eq!(margin_inside(&sheet, &sheet), 0.0);
        let disc = Contour::circle(p(0.0, 0.0), 30.0);
        assert_eq!(margin_inside(&disc, &Contour::circle(p(20.0, 0.0), 15.0)), -5.0);
    }

    #[test]
    fn parallel_sides_and_hollows() {
        let sheet = Contour::rect(p(0.0, 0.0), 400.0, 200.0, 0.0);
        let strip = Contour::rect(p(0.0, 95.0), 300.0, 20.0, 0.0);
        assert!((margin_inside(&sheet, &strip) + 5.0).abs() < 2.0 * SLACK);
        let l = Contour::polygon(&[
            p(0.0, 0.0),
            p(20.0, 0.0),
            p(20.0, 5.0),
            p(5.0, 5.0),
            p(5.0, 20.0),
            p(0.0, 20.0),
        ]);
        // its far corner (12, 12) is 7 from both arms
        assert!((margin_inside(&l, &Contour::rect(p(7.0, 7.0), 10.0, 10.0, 0.0)) + 7.0).abs() < 2.0 * SLACK);
        let hollow = Contour::d_hole(p(0.0, 0.0), 30.0, 20.0, true);
        let bar = Contour::rect(p(0.0, 0.0), 10.0, 60.0, 2.0);
        assert!((margin_inside(&hollow, &bar) + 10.0).abs() < 2.0 * SLACK);
    }
}
