//! Which limit held in a finding: the rule's own or the user's.

use crate::check::Finding;
use crate::panel::{Panel, UserLimit};

/// The user's limit for the finding's rule, if the panel file sets one.
pub(crate) fn user_limit<'a>(panel: &'a Panel, f: &Finding) -> Option<&'a UserLimit> {
    panel.limits.get(f.rule.id)
}
