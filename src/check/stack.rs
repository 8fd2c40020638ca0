//! What the rules about stacks share: the frame of a unit and numbers that must be there.

use super::own::{Teller, anchor};
use crate::panel::{Class, Panel, PartRef, StackFrame, StackUnit, Subject, SubjectKind};

/// A unit in its frame.
pub(super) struct InFrame<'a> {
    pub unit: &'a StackUnit,
    pub frame: &'a StackFrame,
    /// The part that stands for the unit, and for the frame.
    pub a: PartRef,
    pub b: Option<PartRef>,
    pub at: crate::geom::Point,
}

/// The subject as a unit carried by a stack; `None` if it is none. A unit without any part is spoken
/// of by its frame's part.
pub(super) fn in_frame<'a>(t: &Teller<'a>) -> Option<InFrame<'a>> {
    let s = t.subject()?;
    let unit = s.facts.as_ref()?.unit.as_ref()?;
    let carrier = s.carrier? as usize;
    let stack = t.panel.subjects.get(carrier)?;
    let frame = stack.facts.as_ref()?.frame.as_ref()?;
    let own = anchor(s, &[Class::Bezel, Class::Case, Class::Body, Class::Front]);
    let of_stack = frame_part(t.panel, carrier);
    let (a, at) = match (own, of_stack) {
        (Some((k, at)), _) => (t.part(k), at),
        (None, Some(b)) => (b, s.at),
        (None, None) => return None,
    };
    Some(InFrame { unit, frame, a, b: of_stack.filter(|b| *b != a), at })
}

/// The part that stands for a stack's frame.
pub(super) fn frame_part(panel: &Panel, stack: usize) -> Option<PartRef> {
    let s = panel.subjects.get(stack)?;
    let (k, _) = anchor(s, &[Class::Cutout, Class::Bezel])?;
    Some(PartRef { subject: stack as u32, part: k as u32 })
}

/// The units of a stack, provisions included.
pub(super) fn units<'a>(panel: &'a Panel, stack: &Subject) -> impl Iterator<Item = &'a Subject> + use<'a> {
    let (from, to) = (stack.units.start as usize, stack.units.end as usize);
    panel.subjects.get(from..to).unwrap_or(&[]).iter().filter(|s| s.kind == SubjectKind::Unit)
}

/// Names of the values that are missing.
pub(super) fn missing<'a>(values: &[(&'a str, Option<f64>)]) -> Vec<&'a str> {
    values.iter().filter(|(_, v)| v.is_none()).map(|(n, _)| *n).collect()
}
