//! The relation *inside*: how far within the sheet's outline a part lies, or how far it sticks out. Exact to
//! rounding; how far it sticks out is told at most [`SLACK`](crate::geom::SLACK) too much.

use super::From;
use super::judge::{Measure, Stack, loss};
use crate::geom::distance::{self, Relation};
use crate::geom::margin::margin_inside;
use crate::panel::Part;

/// Measures a part against the outline of its sheet; `None` if it lies inside and farther than
/// `limit` from the outline. Not inside: contact, whatever the limit.
pub(super) fn measure(part: &Part, edge: &Part, from: From, limit: f64) -> Option<Measure> {
    let (gap, stack) = match from {
        From::Boundary | From::Outlines => {
            match distance::outlines_within(&part.contour, &edge.contour, limit) {
                Some(gap) => (gap, Stack::Within),
                // the outline is far: all of the part is on one side of it
                None if part.contour.segments().first().is_some_and(|s| edge.contour.holds(s.start())) => {
                    return None;
                }
                None => (distance::contours(&part.contour, &edge.contour), Stack::Within),
            }
        }
        From::Centre | From::Centres => {
            (distance::point_contour(part.centre, &edge.contour), Stack::PointWithin)
        }
    };
    let inside = matches!(gap.relation, Relation::Inside | Relation::Coincident)
        || (stack_is_point(stack) && gap.relation == Relation::Touching);
    let value = match (inside, stack) {
        (true, _) => gap.distance,
        (false, Stack::PointWithin) => -gap.distance,
        (false, _) => margin_inside(&edge.contour, &part.contour).min(0.0),
    };
    if inside && value > limit {
        return None;
    }
    Some(Measure {
        value,
        upper: value,
        worst: value - loss(part, edge, stack),
        contact: !inside,
        at: gap.at,
    })
}

fn stack_is_point(stack: Stack) -> bool {
    matches!(stack, Stack::PointWithin)
}
