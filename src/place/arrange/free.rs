//! What may move where nobody said anything: what is new, not locked, and stands in the panel's own file.

use crate::panel::{Panel, State, Subject, SubjectKind};

/// Whether an item can be given another place at all: items of a floating panel stand in a file of its own.
pub fn can_move(s: &Subject) -> bool {
    s.kind == SubjectKind::Placement && !s.id.contains(':')
}

/// Items that may move: those that the panel's wishes name; else what is new and not locked. What is wished to stay stays.
pub fn free(panel: &Panel) -> Vec<usize> {
    let w = &panel.wishes;
    let named = |k: &usize, s: &Subject| match &w.free {
        Some(free) => free.contains(k),
        None => s.state == State::New && !s.locked,
    };
    let may = |(k, s): &(usize, &Subject)| can_move(s) && named(k, s) && !w.fixed.contains(k);
    panel.subjects.iter().enumerate().filter(may).map(|(k, _)| k).collect()
}
