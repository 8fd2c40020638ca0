//! How two shapes lie whose outlines meet.
//!
//! Each outline is cut where it meets the other; each part is then inside, outside or on the other
//! shape. An overlap counts from twice [`SLACK`] of depth at the latest; below SLACK it is contact.

use super::{Relation, box_distance2};
use crate::geom::contacts::contacts;
use crate::geom::{Contour, Rect, SLACK, Segment, Side};

/// Relation of two contours known to meet within slack.
pub(super) fn in_contact(a: &Contour, b: &Contour) -> Relation {
    let (first, second) = (parts_of(a, b), parts_of(b, a));
    match ((first.inside, first.outside), (second.inside, second.outside)) {
        ((true, true), _) | (_, (true, true)) => Relation::Crossing,
        ((false, false), (false, false)) => Relation::Coincident,
        // all of a is in b, and none of b's outline is in a
        ((true, false), _) => Relation::Inside,
        (_, (true, false)) => Relation::Outside,
        // one outline lies on the other's: a sliver's difference in area, smaller than slack
        ((false, false), (_, true)) => Relation::Inside,
        ((_, true), (false, false)) => Relation::Outside,
        ((false, true), (false, true)) => Relation::Touching,
    }
}

struct Parts {
    inside: bool,
    outside: bool,
}

/// Which sides of `other` the outline of `c` visits.
fn parts_of(c: &Contour, other: &Contour) -> Parts {
    let mut parts = Parts { inside: false, outside: false };
    for (s, sb) in c.boxed() {
        let cuts = cuts(s, sb, other);
        let inner = cuts.windows(2).flat_map(|w| probes(w[0], w[1]));
        for t in std::iter::once(0.0).chain(inner) {
            match other.side_of(s.at(t)) {
                Side::Inside => parts.inside = true,
                Side::Outside => parts.outside = true,
                Side::Boundary => {}
            }
        }
        if parts.inside && parts.outside {
            break;
        }
    }
    parts
}

/// Fractions of a piece at which it meets an outline, in order, with both ends; two that are within
/// slack of each other are one.
pub(crate) fn cuts(s: &Segment, bounds: &Rect, other: &Contour) -> Vec<f64> {
    let reach = SLACK * SLACK;
    let mut meet = Vec::new();
    if box_distance2(bounds, &other.bounds()) <= reach {
        for (t, tb) in other.boxed() {
            if box_distance2(bounds, tb) <= reach {
                contacts(s, t, &mut meet);
            }
        }
    }
    let mut cuts: Vec<f64> = meet.iter().map(|p| s.fraction(*p)).collect();
    cuts.extend([0.0, 1.0]);
    cuts.sort_by(f64::total_cmp);
    let len = s.len();
    cuts.dedup_by(|b, a| (*b - *a) * len <= SLACK);
    // the last one stands for the end, whichever was kept
    if let Some(last) = cuts.last_mut() {
        *last = 1.0;
    }
    cuts
}

/// Three places inside a part: it bows away from a line or arc at most so that one of them sees half
/// of its depth.
pub(crate) fn probes(from: f64, to: f64) -> [f64; 3] {
    [0.25, 0.5, 0.75].map(|f| from + (to - from) * f)
}
