//! Old openings that a new one swallows whole: once it is cut they no longer exist, and no rule
//! speaks of them. What is swallowed in part stays and is judged.

use super::near::{Near, meets};
use crate::geom::{Rect, contains};
use crate::panel::{Class, Panel, PartRef};

/// The swallowed old openings, ascending. The other opening must be a cutout or a hole in the same
/// sheet that contains it as drawn; the same outline counts (an old opening that is used again).
pub(super) fn gone(panel: &Panel, boxes: &[Option<Rect>]) -> Vec<PartRef> {
    let mut gone = Vec::new();
    let olds = || {
        let parts = panel
            .subjects
            .iter()
            .enumerate()
            .flat_map(|(s, subject)| subject.parts.iter().enumerate().map(move |(p, part)| (s, p, part)));
        parts.filter(|(_, _, part)| part.class == Class::OldOpening)
    };
    let count = olds().count();
    if count == 0 {
        return gone;
    }
    let near = Near::new(boxes, count);
    let mut others = Vec::new();
    for (s, p, old) in olds() {
        near.meet(&old.contour.bounds(), &mut others);
        let swallowed = others.iter().any(|o| {
            panel.subjects[*o].parts.iter().any(|new| {
                matches!(new.class, Class::Cutout | Class::Hole)
                    && new.sheet == old.sheet
                    && meets(&new.contour.bounds(), &old.contour.bounds())
                    && contains(&new.contour, &old.contour)
            })
        });
        if swallowed {
            gone.push(PartRef { subject: s as u32, part: p as u32 });
        }
    }
    gone
}
