//! What may move where nobody said anything: what is new, not locked, and stands in the panel's own file.

use crate::panel::{Panel, State, Subject, SubjectKind};

/// Whether an item can be given another place at all: items of a floating panel stand in a file of its own.
pub fn can_move(s: &Subject) -> bool {
    s.kind == SubjectKind::Placement && !s.id.contains(':')
}

/// Items that may move unless something else is said.
pub fn free(panel: &Panel) -> Vec<usize> {
    let may = |s: &Subject| can_move(s) && s.state == State::New && !s.locked;
    panel.subjects.iter().enumerate().filter(|(_, s)| may(s)).map(|(k, _)| k).collect()
}
