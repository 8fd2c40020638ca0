//! How deep two shapes overlap: the shortest shift that parts them.
//!
//! Along a unit direction u the shift is h(u) = reach of `a` along u + reach of `b` against u; every
//! direction gives a shift that parts the shapes, so the least of those tried is an upper bound. For
//! convex shapes (and so for circles) it is exact: h is the support function of their Minkowski
//! difference, whose least value lies at the normal of a straight, at the end of an arc, or on the
//! line of two centres of curvature, and all of these are tried. For other shapes it is the depth of
//! their convex hulls, which a cleverer shift may beat. Pairs of very many pieces (more than
//! [`PAIRS`] products) try fewer directions and keep the bound only.

use super::{Contour, Point, Segment, Vec2, distance, length};

/// Most products of piece counts for which all lines of centres are tried.
pub const PAIRS: usize = 4096;

/// How deep two shapes lie in each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Depth {
    /// Length of the shift, mm: the least one is not longer.
    pub depth: f64,
    /// A shift of the first shape, of that length, that parts the two.
    pub by: Vec2,
    /// Whether no shorter one does: both shapes are convex and every direction that can be least was tried.
    pub exact: bool,
}

/// For shapes whose insides overlap: an upper bound of the least shift that parts them, exact for
/// convex ones. None where there is no overlap.
pub fn penetration(a: &Contour, b: &Contour) -> Option<Depth> {
    let circles = a.as_circle().zip(b.as_circle());
    if !distance::within(a, b, 0.0)?.relation.overlaps() {
        return None;
    }
    if let Some(((ca, ra), (cb, rb))) = circles {
        let d = length(ca - cb);
        let u = if d > 0.0 { (ca - cb) / d } else { Vec2::new(1.0, 0.0) };
        let depth = ra + rb - d;
        return Some(Depth { depth, by: u * depth, exact: true });
    }
    let mut best = (f64::INFINITY, Vec2::ZERO);
    let mut offer = |v: Vec2| {
        let l = length(v);
        if l > 0.0 {
            let u = v / l;
            let h = a.support(u) + b.support(-u);
            if h < best.0 {
                best = (h, u * -h);
            }
        }
    };
    for n in normals(a) {
        offer(n);
        offer(-n);
    }
    for n in normals(b) {
        offer(n);
        offer(-n);
    }
    let (fa, fb) = (foci(a), foci(b));
    let all = fa.len() * fb.len() <= PAIRS;
    if all {
        for (p, round) in &fa {
            for (q, other) in &fb {
                // the least at two corners lies at a normal beside them
                if *round || *other {
                    offer(*q - *p);
                    offer(*p - *q);
                }
            }
        }
    } else {
        offer(b.bounds().center() - a.bounds().center());
    }
    let (depth, by) = best;
    depth.is_finite().then(|| Depth { depth, by, exact: all && a.is_convex() && b.is_convex() })
}

/// Normals of the straights and at the ends of the arcs.
fn normals(c: &Contour) -> Vec<Vec2> {
    let mut out = Vec::new();
    for s in c.segments() {
        match s {
            Segment::Line(l) => {
                let d = l.b - l.a;
                out.push(Vec2::new(d.y, -d.x));
            }
            Segment::Arc(a) => out.extend([a.a - a.centre, a.b - a.centre]),
        }
    }
    out
}

/// Centres of curvature: corners (false) and centres of arcs (true).
fn foci(c: &Contour) -> Vec<(Point, bool)> {
    let mut out: Vec<(Point, bool)> = Vec::new();
    for s in c.segments() {
        out.push((s.start(), false));
        if let Segment::Arc(a) = s {
            out.push((a.centre, true));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Relation, SLACK, Transform, angle};

    fn p(x: f64, y: f64) -> Point {
        Point::new(x, y)
    }

    /// The shift parts the two, and nine tenths of it do not (the depth is no more than a touch).
    fn parts(a: &Contour, b: &Contour, exact: bool) -> f64 {
        let Depth { depth, by, exact: told } = penetration(a, b).expect("overlap");
        assert_eq!(told, exact);
        assert!((length(by) - depth).abs() < 1e-9);
        let moved = |k: f64| Transform::shift(by * k).contour(a);
        assert!(!distance::contours(&moved(1.0 + 1e-9), b).relation.overlaps());
        if exact {
            // no direction of many does with less
            for k in 0..720 {
                let u = angle::unit(f64::from(k) * 0.5f64.to_radians()) * (depth - 10.0 * SLACK).max(0.0);
                let shifted = Transform::shift(u).contour(a);
                assert!(distance::contours(&shifted, b).relation.overlaps(), "{k}");
            }
        }
        depth
    }

    #[test]
    fn exact_for_convex_pairs() {
        let circle = Contour::circle(p(0.0, 0.0), 5.0);
        assert!((parts(&circle, &Contour::circle(p(7.0, 0.0), 3.0), true) - 1.0).abs() < 1e-12);
        assert!((parts(&circle, &Contour::circle(p(0.0, 0.0), 3.0), true) - 8.0).abs() < 1e-12);
        let square = Contour::rect(p(6.0, 1.0), 4.0, 40.0, 0.0);
        assert!((parts(&circle, &square, true) - 1.0).abs() < 1e-12);
        // a corner in a circle: along the line from the corner to the centre
        let corner = Contour::rect(p(12.4, 13.2), 20.0, 20.0, 0.0);
        assert!((parts(&circle, &corner, true) - 1.0).abs() < 1e-12);
        let round = Contour::rect(p(9.0, 6.0), 14.0, 10.0, 4.0);
        parts(&circle, &round, true);
        parts(&round, &Contour::slot(p(0.0, 0.0), p(4.0, 4.0), 2.0), true);
        parts(&Contour::d_hole(p(1.0, 2.0), 6.0, 3.0, false), &round, true);
    }

    #[test]
    fn an_upper_bound_for_others_and_none_apart() {
        let l = Contour::polygon(&[
            p(0.0, 0.0),
            p(20.0, 0.0),
            p(20.0, 5.0),
            p(5.0, 5.0),
            p(5.0, 20.0),
            p(0.0, 20.0),
        ]);
        parts(&Contour::circle(p(7.0, 7.0), 3.0), &l, false);
        assert_eq!(penetration(&Contour::circle(p(9.0, 9.0), 4.0), &l), None, "a touch is no overlap");
        assert_eq!(penetration(&Contour::circle(p(15.0, 15.0), 4.0), &l), None);
        let twice = penetration(&l, &l).expect("coincident").depth;
        assert!(twice > 0.0 && distance::contours(&l, &l).relation == Relation::Coincident);
    }
}
