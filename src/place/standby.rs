//! Whether a standby, which must be seen, is seen where it stands.

use super::sight::{Barred, Sight, is_standby};
use crate::check::Verdict;
use crate::geom::Vec2;
use crate::panel::Panel;

/// What is seen of a standby where it stands.
#[derive(Clone, Debug)]
pub enum Seen {
    /// Lines of sight, and those of them that are barred.
    Told(usize, Vec<Barred>),
    /// Nobody can say: what would settle it.
    Withheld(Vec<&'static str>),
}

impl Seen {
    /// A standby of which a line of sight is barred is put nowhere.
    pub fn verdict(&self) -> Verdict {
        match self {
            Seen::Told(_, barred) if barred.is_empty() => Verdict::Pass,
            Seen::Told(..) => Verdict::Fail,
            Seen::Withheld(_) => Verdict::Withheld,
        }
    }
}

/// What is seen of a standby as it stands.
pub(super) fn seen(panel: &Panel, subject: usize) -> Option<Seen> {
    is_standby(panel, subject).then(|| match Sight::of(panel, subject) {
        Ok(s) if s.asked_of() > 0 => Seen::Told(s.lines(), s.barred(Vec2::ZERO)),
        // nothing known in front is not the same as nothing in front
        Ok(_) => Seen::Withheld(vec!["give what stands before the panel in `controls` and `obstacles`"]),
        Err(lacks) => Seen::Withheld(lacks),
    })
}
