//! Openings that are there already: a new item's opening whose outline is that of an old one in the same
//! sheet is not cut. A blanking plate on the screws of the dial that went takes no metal away.

use crate::geom::{Rect, SLACK, contains};
use crate::panel::{Class, Part, Subject};

/// Marks the openings that coincide with an old one.
pub(super) fn mark(subjects: &mut [Subject]) {
    let of_old = |s: &Subject| s.parts.iter().filter(|p| p.class == Class::OldOpening).cloned().collect();
    let old: Vec<Vec<Part>> = subjects.iter().map(of_old).collect();
    let old: Vec<Part> = old.into_iter().flatten().collect();
    for part in subjects.iter_mut().flat_map(|s| &mut s.parts) {
        if matches!(part.class, Class::Cutout | Class::Hole) {
            part.there = old.iter().any(|o| o.sheet == part.sheet && same(o, part));
        }
    }
}

/// Whether two openings have one outline, to [`SLACK`].
fn same(a: &Part, b: &Part) -> bool {
    near(&a.contour.bounds(), &b.contour.bounds())
        && contains(&a.contour, &b.contour)
        && contains(&b.contour, &a.contour)
}

fn near(a: &Rect, b: &Rect) -> bool {
    let sides = [a.x0 - b.x0, a.x1 - b.x1, a.y0 - b.y0, a.y1 - b.y1];
    sides.iter().all(|d| d.abs() <= SLACK)
}
