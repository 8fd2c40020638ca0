//! The contours that are cut: openings that overlap become one, so that no two lines on the cut layer cross.

use super::plan::{Fate, Plan};
use crate::geom::distance::{self, Relation};

/// Fills [`Plan::contours`] from the openings to cut and, for a new blank, the outline.
pub(super) fn contours(plan: &mut Plan, sheet_id: &str) {
    if plan.cut_outline {
        plan.contours.push((sheet_id.to_owned(), plan.outline.clone(), true));
    }
    for o in plan.openings.iter().filter(|o| o.fate == Fate::Cut) {
        plan.contours.push((o.id.clone(), o.contour.clone(), false));
    }
    for (k, (name, contour, _)) in plan.contours.iter().enumerate() {
        for (other, before, _) in plan.contours.iter().take(k) {
            let met = distance::within(contour, before, 0.0).map(|g| g.relation);
            if matches!(met, Some(Relation::Crossing)) {
                plan.remarks.push(format!("{name} and {other} cross on the cut layer"));
            }
        }
    }
}
