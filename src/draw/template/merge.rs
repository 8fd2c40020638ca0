//! The contours that are cut: openings that overlap become one, an opening over the edge becomes a notch, so
//! that no two lines on the cut layer cross.

use super::plan::{Fate, Plan};
use crate::geom::Contour;
use crate::geom::distance::{self, Relation};

/// Fills [`Plan::contours`] from the openings to cut and, for a new blank, the outline.
pub(super) fn contours(plan: &mut Plan, sheet_id: &str) {
    let mut openings: Vec<(String, Contour)> = Vec::new();
    for o in plan.openings.iter().filter(|o| o.fate == Fate::Cut) {
        let mut merged = (o.id.clone(), o.contour.clone());
        // what it crosses so far is taken out and joined to it, until it crosses nothing more
        while let Some(k) = openings.iter().position(|(_, c)| crosses(c, &merged.1)) {
            let Some(joined) = openings.get(k).and_then(|(_, c)| one(c.union(&merged.1))) else {
                plan.remarks.push(format!("{} crosses another opening on the cut layer", o.name));
                break;
            };
            let (name, _) = openings.remove(k);
            if !name.split(" + ").any(|n| n == merged.0) {
                merged.0 = format!("{name} + {}", merged.0);
            } else {
                merged.0 = name;
            }
            merged.1 = joined;
            // what the joined shape holds whole is metal that falls out with it
            openings.retain(|(_, c)| !inside(c, &merged.1));
        }
        openings.push(merged);
    }
    if plan.cut_outline {
        let mut outlines = vec![plan.outline.clone()];
        let (over, within): (Vec<_>, Vec<_>) =
            openings.into_iter().partition(|(_, c)| crosses(c, &plan.outline));
        openings = within;
        for (name, c) in over {
            let cut: Option<Vec<Vec<Contour>>> = outlines.iter().map(|o| notched(o, &c)).collect();
            match cut {
                Some(pieces) => {
                    outlines = pieces.into_iter().flatten().collect();
                    plan.remarks.push(format!("{name} runs over the edge: cut as a notch"));
                }
                None => {
                    plan.remarks.push(format!("{name} crosses the outline on the cut layer"));
                    openings.push((name, c));
                }
            }
        }
        if outlines.len() > 1 {
            plan.remarks.push(format!("THE SHEET FALLS INTO {} PIECES", outlines.len()));
        }
        plan.contours.extend(outlines.into_iter().map(|c| (sheet_id.to_owned(), c, true)));
    }
    plan.contours.extend(openings.into_iter().map(|(name, c)| (name, c, false)));
}

fn crosses(a: &Contour, b: &Contour) -> bool {
    distance::within(a, b, 0.0).is_some_and(|g| g.relation == Relation::Crossing)
}

fn inside(a: &Contour, b: &Contour) -> bool {
    distance::within(a, b, 0.0).is_some_and(|g| matches!(g.relation, Relation::Inside | Relation::Coincident))
}

/// The single piece of a union.
fn one(pieces: Option<Vec<Contour>>) -> Option<Contour> {
    let mut pieces = pieces?;
    if pieces.len() == 1 { pieces.pop() } else { None }
}

/// What an opening leaves of one outline.
fn notched(outline: &Contour, opening: &Contour) -> Option<Vec<Contour>> {
    if crosses(outline, opening) { outline.without(opening) } else { Some(vec![outline.clone()]) }
}
