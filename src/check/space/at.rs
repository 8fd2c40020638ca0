//! How near the controls come to anything at one pose: what somebody is told who moves them by hand. Nothing is judged here;
//! the verdict is of the whole travel.

use super::least::{Candidate, What, candidates};
use super::{Known, LOOKED, Nearest, Space, moving, of_links};
use crate::check::Interval;
use crate::panel::{Detail, Panel, PartRef};
use crate::solid::Solid;
use crate::solid::travel::{Moved, at_pose};

/// The control's part that is nearest to anything with every driver at its number, and what it comes nearest to: items,
/// sheets, obstacles, lines and other controls, play and flexing taken off, as in
/// [`least_clearances`](super::least_clearances). `None`: nothing is nearer than [`LOOKED`].
pub fn nearest_at(panel: &Panel, drivers: &[f64]) -> Option<(PartRef, Nearest)> {
    let space = Space::of(panel);
    let mechanism = &panel.space.mechanism;
    let mover = |part: PartRef| match &panel.part(part).detail {
        Detail::Moving { solid, link, .. } => {
            let grow = mechanism.allowance(*link).unwrap_or(0.0);
            Some(Moved { solid, link: Some(*link), grow })
        }
        _ => None,
    };
    let mut best: Option<(PartRef, Nearest)> = None;
    for own in &space.moving {
        let Some(moved) = mover(own.part) else { continue };
        let around = moved.solid.moved(&mechanism.pose(own.link, drivers)).bounds();
        let mut all = candidates(&space, own);
        let apart = |c: &Candidate<'_, '_>| c.bounds.distance(&around) - moved.grow;
        all.sort_by(|a, b| apart(a).total_cmp(&apart(b)));
        for c in &all {
            let reach = best.as_ref().map_or(LOOKED, |(_, b)| b.gap.lower);
            if apart(c) >= reach {
                // a moving one's box is of its whole travel: nothing behind is nearer
                break;
            }
            let still =
                |solid: &Solid| at_pose(mechanism, &moved, &Moved { solid, link: None, grow: 0.0 }, drivers);
            let gap = match &c.what {
                What::Still(solid) => still(solid),
                What::Plate(solid) => still(solid),
                What::Moving(m) => match mover(m.part) {
                    Some(other) => at_pose(mechanism, &moved, &other, drivers),
                    None => continue,
                },
                What::Part => match moving(panel.part(c.part), &panel.play(c.part, own.part)) {
                    Some((solid, Known::Range)) => still(&solid),
                    _ => continue,
                },
            };
            if gap.lower < reach {
                let links: Vec<usize> = std::iter::once(own.link)
                    .chain(if let What::Moving(m) = c.what { Some(m.link) } else { None })
                    .collect();
                let near = Nearest {
                    other: c.part,
                    gap: Interval { lower: gap.lower, upper: gap.upper.max(gap.lower) },
                    points: gap.points,
                    pose: of_links(panel, &links, drivers),
                };
                best = Some((own.part, near));
            }
        }
    }
    best
}
