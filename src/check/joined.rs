//! A shock mount joins two panels that sway against each other: its stud, and the nut on its far end, are one fastening.

use crate::geom::span;
use crate::panel::{Panel, PartRef};

/// How far apart the axes of a mount and of what holds its other end may stand, mm: a stud in its clearance hole.
const ON_AXIS: f64 = 1.0;

/// Whether one of two parts is of a shock mount and the other stands on its axis, in the other rigid group.
pub(super) fn joined(panel: &Panel, a: PartRef, b: PartRef) -> bool {
    if panel.space.groups.is_empty() || panel.group(a) == panel.group(b) {
        return false;
    }
    let on = |mount: PartRef, other: PartRef| {
        panel.is_mount(mount) && span(panel.subject(mount).at, panel.part(other).centre) <= ON_AXIS
    };
    on(a, b) || on(b, a)
}
