//! Choices of parts that several pair rules share, and what a fastener asks in diameters.

use super::{Exempt, From, Need, Relation, Select, Touch};
use crate::panel::{Class, Classes, Detail, HeadKind, Panel, Part, PartRef};

/// A hole that a fastener goes through. A hole that names neither a fastener nor another use counts:
/// it is judged by its own diameter. An old opening counts only if it names its fastener.
pub(super) fn is_fastener_hole(panel: &Panel, r: PartRef) -> bool {
    let part = panel.part(r);
    match &part.detail {
        Detail::Hole { fastening, free, .. } => !free && (part.class == Class::Hole || fastening.is_some()),
        _ => false,
    }
}

/// A fastener's hole whose head is countersunk.
pub(super) fn is_countersunk(panel: &Panel, r: PartRef) -> bool {
    let head = panel.part(r).fastening().and_then(|f| f.head);
    is_fastener_hole(panel, r) && head.is_some_and(|h| h.kind == HeadKind::Countersunk)
}

/// Openings by whose edge a hole may tear out, and those that may hold a fastener.
const HOLES: Classes = Classes::of(&[Class::Hole, Class::OldOpening]);
const CUTOUTS: Classes = Classes::of(&[Class::Cutout, Class::OldOpening]);

/// The holes of fasteners.
pub(super) const FASTENER_HOLES: Select = Select { classes: HOLES, when: Some(is_fastener_hole) };

/// From the centre of some fasteners' holes to the sheet's edge and to other items' cutouts.
pub(super) const fn to_edges(which: fn(&Panel, PartRef) -> bool) -> [Relation; 2] {
    let holes = Select { classes: HOLES, when: Some(which) };
    [
        Relation::Inside { what: holes, measure: From::Centre },
        Relation::Apart {
            of: holes,
            from: Select { classes: CUTOUTS, when: None },
            measure: From::Centre,
            exempt: Exempt::MakersOwn,
            same_sheet: true,
            depth: false,
            touch: Touch::Fails,
        },
    ]
}

/// So many diameters of the part's fastener; nothing of a part that has none. Where the fastener's
/// diameter is not known the hole's own is taken, which is not less.
pub(super) fn diameters(panel: &Panel, r: PartRef, times: f64) -> Need {
    let part = panel.part(r);
    if !is_fastener_hole(panel, r) {
        return Need::Nothing;
    }
    match part.fastening().and_then(|f| f.diameter) {
        Some(d) => Need::Asks(times * d),
        None => Need::AtMost(times * width(part), "the diameter of the fastener"),
    }
}

/// Greatest side of a part's box.
fn width(part: &Part) -> f64 {
    let b = part.contour.bounds();
    b.width().max(b.height())
}
