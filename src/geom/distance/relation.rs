//! How two shapes lie whose outlines meet.
//!
//! Each outline is cut where it meets the other; each part is then inside, outside or on the other
//! shape. An overlap counts from twice [`SLACK`] of depth at the latest; below SLACK it is contact.

use super::{Relation, box_distance2};
use crate::geom::contacts::contacts;
use crate::geom::{Contour, Point, SLACK, Segment, Side};

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
    let reach = SLACK * SLACK;
    let mut meet = Vec::new();
    for (s, sb) in c.boxed() {
        meet.clear();
        if box_distance2(sb, &other.bounds()) <= reach {
            for (t, tb) in other.boxed() {
                if box_distance2(sb, tb) <= reach {
                    contacts(s, t, &mut meet);
                }
            }
        }
        for p in probes(s, &meet) {
            match other.side_of(p) {
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

/// Points that tell the side of every part of a piece cut at its meetings: the start, and three
/// inside each part (a part bows away from a line or arc at most so that one of them sees half of
/// its depth).
fn probes(s: &Segment, meet: &[Point]) -> Vec<Point> {
    let mut cuts: Vec<f64> = meet.iter().map(|p| s.fraction(*p)).collect();
    cuts.extend([0.0, 1.0]);
    cuts.sort_by(f64::total_cmp);
    let mut out = vec![s.start()];
    for w in cuts.windows(2) {
        if (w[1] - w[0]) * s.len() > SLACK {
            out.extend([0.25, 0.5, 0.75].map(|f| s.at(w[0] + (w[1] - w[0]) * f)));
        }
    }
    out
}
