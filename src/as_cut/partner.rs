//! Which measured opening is which of the design.

use super::{Item, centre};
use crate::geom::{Contour, length};
use crate::panel::Class;

/// Openings whose centres lie farther apart than this, or whose sizes differ by more, are not the same, mm.
const LIKE: f64 = 10.0;

/// Pairs of places in the two lists: first those of the same name, then the nearest of like size, each taken once.
pub(super) fn partners(asked: &[Item<'_>], found: &[Item<'_>], laid: &[Contour]) -> Vec<(usize, usize)> {
    let mut pairs = Vec::new();
    let (mut free_a, mut free_b) = (vec![true; asked.len()], vec![true; found.len()]);
    for (a, item) in asked.iter().enumerate() {
        // an item's name alone means its cutout
        let cutout = item.part.class == Class::Cutout;
        let known = |f: &Item<'_>| f.name == item.name || (cutout && f.name == item.subject);
        if let Some(b) = (0..found.len()).find(|b| free_b[*b] && known(&found[*b])) {
            (free_a[a], free_b[b]) = (false, false);
            pairs.push((a, b));
        }
    }
    let mut near = Vec::new();
    for a in (0..asked.len()).filter(|a| free_a[*a]) {
        for b in (0..found.len()).filter(|b| free_b[*b]) {
            let apart = length(centre(&laid[b]) - centre(&asked[a].part.contour));
            let sizes = [&laid[b], &asked[a].part.contour].map(|c| c.area().max(0.0).sqrt());
            let differ = (sizes[0] - sizes[1]).abs();
            if apart <= LIKE && differ <= LIKE.min(sizes[1] / 2.0) {
                near.push((apart + differ, a, b));
            }
        }
    }
    near.sort_by(|x, y| x.0.total_cmp(&y.0).then((x.1, x.2).cmp(&(y.1, y.2))));
    for (_, a, b) in near {
        if free_a[a] && free_b[b] {
            (free_a[a], free_b[b]) = (false, false);
            pairs.push((a, b));
        }
    }
    pairs
}
