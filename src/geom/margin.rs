//! How far one shape stays inside another, or sticks out of it.
//!
//! Inside: the distance of the outlines, exact. Sticking out: the greatest distance from `outer` of a
//! point of `inner`'s outline, found by cutting the outline until upper and lower bound agree to
//! [`SLACK`]; the upper one is returned, so the answer never tells less than the truth. The bounds
//! over one straight and one arc of `outer` are exact where it is the nearest, so that parallel edges are
//! decided without cutting.

use super::distance::{self, Relation, cuts, point_segment, probes};
use super::{Arc, Contour, Point, SLACK, Segment, Side, span};
use std::f64::consts::{PI, TAU};

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

/// A part of the inner outline, and at most how far it sticks out.
struct Part {
    upper: f64,
    segment: Segment,
}

fn sticks_out(outer: &Contour, inner: &Contour) -> f64 {
    if let (Some((co, ro)), Some((ci, ri))) = (outer.as_circle(), inner.as_circle()) {
        return (span(co, ci) + ri - ro).max(0.0);
    }
    let mut lower = 0.0_f64;
    let mut parts = Vec::new();
    for (s, sb) in inner.boxed() {
        // only what lies outside matters
        for w in cuts(s, sb, outer).windows(2) {
            let (from, to) = (w[0], w[1]);
            if probes(from, to).iter().any(|t| outer.side_of(s.at(*t)) == Side::Outside) {
                push(outer, s.part(from, to, s.at(from), s.at(to)), &mut lower, &mut parts);
            }
        }
    }
    let mut cut = 0;
    let mut settled = lower;
    while let Some(part) = parts.pop() {
        if part.upper <= lower + SLACK || cut >= CUTS || part.segment.len() <= SLACK {
            settled = settled.max(part.upper);
            continue;
        }
        cut += 1;
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
    // a distance grows by at most the way walked from either end
    let mut upper = (ends[0] + ends[1] + segment.len()) / 2.0;
    for s in outer.segments() {
        upper = upper.min(over(s, &segment));
    }
    parts.push(Part { upper, segment });
    // the best seen first: the last of the list is cut next
    let n = parts.len();
    if n >= 2 && parts[n - 1].upper < parts[n - 2].upper {
        parts.swap(n - 1, n - 2);
    }
}

/// Greatest distance of a piece of the inner outline from one piece of the outer, at most.
fn over(outer: &Segment, inner: &Segment) -> f64 {
    let (a, b) = (inner.start(), inner.end());
    // a point that makes a triangle with the ends which holds the piece, and how far the piece bows
    let (apex, bow) = match inner {
        Segment::Line(_) => (a, 0.0),
        Segment::Arc(arc) if arc.sweep.abs() < 3.0 => {
            let cos = libm::cos(arc.sweep / 2.0);
            (arc.centre + (a.midpoint(b) - arc.centre) / (cos * cos), arc.radius * (1.0 - cos))
        }
        Segment::Arc(_) => return f64::INFINITY,
    };
    match outer {
        // the distance from a straight is convex: over the chord it is greatest at an end
        Segment::Line(_) => bow + point_segment(a, outer).distance().max(point_segment(b, outer).distance()),
        Segment::Arc(arc) => {
            if faced(arc, [a, b, apex]) {
                let (least, most) = from_centre(arc.centre, inner);
                (most - arc.radius).max(arc.radius - least)
            } else {
                // no point is farther from the arc than from one of its ends
                from_centre(arc.a, inner).1.min(from_centre(arc.b, inner).1)
            }
        }
    }
}

/// Whether an arc faces all of a triangle: it lies in a convex sector of the arc (one of two halves that
/// overlap, where the whole is more than half a circle).
fn faced(arc: &Arc, triangle: [Point; 3]) -> bool {
    let turn = arc.sweep.abs();
    let all = |half: &Arc| triangle.iter().all(|p| half.faces(*p - arc.centre));
    if turn >= TAU {
        true
    } else if turn <= PI {
        all(arc)
    } else {
        let across = |p: Point| arc.centre - (p - arc.centre);
        let sweep = if arc.sweep > 0.0 { PI } else { -PI };
        all(&Arc { sweep, b: across(arc.a), ..*arc }) || all(&Arc { sweep, a: across(arc.b), ..*arc })
    }
}

/// Least and greatest distance of a piece from a point.
fn from_centre(c: Point, s: &Segment) -> (f64, f64) {
    let (da, db) = (span(c, s.start()), span(c, s.end()));
    let least = point_segment(c, s).distance();
    let most = match s {
        Segment::Arc(a) if a.faces(a.centre - c) => span(c, a.centre) + a.radius,
        _ => da.max(db),
    };
    (least.min(da).min(db), most)
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
