//! How far one outline lies outside and inside of another.

use super::BOUND;
use crate::geom::{Contour, Point, distance};

/// The most that an outline lies outside of another, and inside of it, mm, none negative.
pub(super) struct Off {
    pub outside: f64,
    pub inside: f64,
}

/// Of two circles exactly: centres so far apart, radii that differ by so much. Of others from points along both: a
/// distance to an outline changes by no more than the way that a point goes, so that half of the step between two points
/// bounds what lies between them.
pub(super) fn off(design: &Contour, cut: &Contour) -> Off {
    if let (Some((a, r)), Some((b, s))) = (design.as_circle(), cut.as_circle()) {
        let apart = (b - a).hypot2().sqrt();
        return Off { outside: (apart + s - r).max(0.0), inside: (apart + r - s).max(0.0) };
    }
    // what was cut beyond the design, and what of the design was not cut
    Off { outside: beyond(cut, design), inside: beyond(design, cut) }
}

/// The most that points of the first outline lie outside of the second.
fn beyond(of: &Contour, other: &Contour) -> f64 {
    let mut most: f64 = 0.0;
    for s in of.segments() {
        let steps = (s.len() / BOUND).ceil().max(1.0);
        let step = s.len() / steps;
        let mut k = 0.0;
        while k <= steps {
            let far = outside(s.at(k / steps), other);
            most = most.max(if far > 0.0 { far + step / 2.0 } else { far });
            // from a point that lies well within it takes so many steps to come out, or to come farther out than before
            k += ((most - far) / step).floor().max(1.0);
        }
        most = most.max(outside(s.end(), other));
    }
    most
}

/// How far a point lies outside of an outline; negative within.
fn outside(p: Point, c: &Contour) -> f64 {
    let gap = distance::point_contour(p, c);
    if gap.relation == distance::Relation::Inside { -gap.distance } else { gap.distance }
}
