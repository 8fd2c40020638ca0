//! The relation *covers*: how far a cover reaches beyond what it hides. Exact to rounding.

use super::judge::{Measure, Stack, loss};
use crate::geom::distance::{self, Relation};
use crate::panel::Part;

/// Measures a cover over what it hides. `own`: it is there to hide it, so that apart is a fail too;
/// otherwise `None` where the two do not meet, and nothing is asked.
pub(super) fn measure(cover: &Part, what: &Part, own: bool) -> Option<Measure> {
    let gap = distance::contours(&what.contour, &cover.contour);
    let hidden = matches!(gap.relation, Relation::Inside | Relation::Coincident);
    if !own && matches!(gap.relation, Relation::Apart | Relation::Touching) {
        return None;
    }
    let value = if hidden { gap.distance } else { 0.0 };
    let worst = value - loss(what, cover, Stack::Within);
    Some(Measure { value, worst, contact: !hidden, at: [gap.at[1], gap.at[0]] })
}
