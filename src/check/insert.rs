//! An insert or a floating panel in front as a thing that covers the sheet which carries it.

use super::Select;
use crate::geom::{SLACK, span};
use crate::panel::{Class, Classes, Panel, Part, PartRef, SheetRole};

/// The outlines of inserts in front.
pub(super) const IN_FRONT: Select =
    Select { classes: Classes::of(&[Class::Edge]), when: Some(|panel, r| covers(panel, panel.part(r))) };

/// The outlines of inserts in front and of panels that float in front.
pub(super) const HIDING: Select =
    Select { classes: Classes::of(&[Class::Edge]), when: Some(|panel, r| lies_over(panel, panel.part(r))) };

/// What may not lie under an insert or across its edge: bezels, rooms kept free, openings, other inserts.
pub(super) const UNDER: Select = Select {
    classes: Classes::of(&[Class::Bezel, Class::Provision, Class::Cutout, Class::Hole, Class::Edge]),
    when: Some(seen),
};

/// Whether a part is the outline of an insert that lies in front of the sheet. One behind starts at the
/// sheet's back; where no thickness is known it counts as in front.
pub(super) fn covers(panel: &Panel, part: &Part) -> bool {
    let sheet = panel.sheets.get(part.sheet as usize);
    part.class == Class::Edge && sheet.is_some_and(|s| s.role == SheetRole::Insert && s.front <= 0.0)
}

/// Whether a part is the outline of a sheet that hides what is behind it: of an insert in front, or of a floating panel
/// before its carrier's face.
pub(super) fn lies_over(panel: &Panel, part: &Part) -> bool {
    let sheet = panel.sheets.get(part.sheet as usize);
    let floats = |s: &crate::panel::Sheet| s.role == SheetRole::Floating && s.front < 0.0;
    covers(panel, part) || part.class == Class::Edge && sheet.is_some_and(floats)
}

/// Whether the first part stands on the insert whose outline the second is, or is of its seat.
pub(super) fn on_it(panel: &Panel, a: PartRef, insert: PartRef) -> bool {
    panel.part(a).sheet == panel.part(insert).sheet || panel.subject(a).carrier == Some(insert.subject)
}

/// Whether the second part is an opening of another sheet than the insert on which the first stands, and so
/// behind it.
pub(super) fn hides(panel: &Panel, a: PartRef, opening: PartRef) -> bool {
    let (part, other) = (panel.part(a), panel.part(opening));
    let edge = panel.sheets.get(part.sheet as usize).and_then(|s| panel.subjects.get(s.subject as usize));
    let on_insert = edge.and_then(|s| s.parts.first()).is_some_and(|edge| lies_over(panel, edge));
    on_insert && Classes::OPENINGS.has(other.class) && other.sheet != part.sheet
}

fn seen(panel: &Panel, r: PartRef) -> bool {
    let part = panel.part(r);
    match part.class {
        Class::Edge => covers(panel, part),
        Class::Hole => !mate(panel, part),
        _ => true,
    }
}

/// Whether a hole of the carrying sheet stands behind a hole of an insert: one screw passes both.
fn mate(panel: &Panel, hole: &Part) -> bool {
    let on_insert = |sheet: u32| {
        let sheet = panel.sheets.get(sheet as usize);
        sheet.is_some_and(|s| s.role == SheetRole::Insert)
    };
    if on_insert(hole.sheet) || !panel.sheets.iter().any(|s| s.role == SheetRole::Insert) {
        return false;
    }
    // of an insert's own screws, not of what stands on it
    let seats = panel.subjects.iter().filter(|s| s.facts.is_none() && s.carrier.is_some());
    let mut holes = seats.flat_map(|s| &s.parts).filter(|p| p.class == Class::Hole && on_insert(p.sheet));
    holes.any(|p| span(p.centre, hole.centre) <= SLACK)
}
