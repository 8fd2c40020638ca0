//! The relation *covers*: how far a cover reaches beyond what it hides, or how far that sticks out. Exact to
//! rounding; how far it sticks out is told at most [`SLACK`](crate::geom::SLACK) too much.

use super::judge::{Measure, Stack, loss};
use crate::geom::distance::{self, Relation};
use crate::geom::margin::margin_inside;
use crate::panel::Part;

/// Measures a cover over what it hides. `own`: it is there to hide it, so that apart is a fail too;
/// otherwise `None` where the two do not meet, and nothing is asked.
pub(super) fn measure(cover: &Part, what: &Part, own: bool) -> Option<Measure> {
    let gap = distance::contours(&what.contour, &cover.contour);
    let hidden = matches!(gap.relation, Relation::Inside | Relation::Coincident);
    if !own && matches!(gap.relation, Relation::Apart | Relation::Touching) {
        return None;
    }
    let value = if hidden { gap.distance } else { margin_inside(&cover.contour, &what.contour).min(0.0) };
    let worst = value - loss(what, cover, Stack::Within);
    Some(Measure { value, upper: value, worst, contact: !hidden, at: [gap.at[1], gap.at[0]] })
}
