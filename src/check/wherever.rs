//! What a finding about one subject rests on: whether it stands wherever the subject is put.

use super::ports::exit;
use super::{Finding, Relation, Verdict, body_passes, depth_behind, line_bend, typical};
use crate::panel::{Class, Panel};

/// Whether a finding about a subject stays as it is wherever that subject is moved, the rest of the panel left as it is.
/// `false`: it may change, or nobody looked into it.
pub fn stands_wherever(panel: &Panel, f: &Finding) -> bool {
    if let Some(b) = f.b {
        // two parts of one subject move together
        let parts = matches!(f.rule.relation, Relation::Apart { .. } | Relation::Covers { .. });
        return (parts || f.rule.id == body_passes::RULE.id) && b.subject == f.a.subject;
    }
    let is = |id: &str| f.rule.id == id && f.verdict == Verdict::Withheld;
    if is(typical::RULE.id) {
        return true;
    }
    if is(line_bend::RULE.id) {
        return matches!(exit(panel, f.a), Some(Err(_)));
    }
    if is(depth_behind::RULE.id) {
        let part = panel.part(f.a);
        let told = matches!(part.class, Class::Body | Class::Port) && part.depth.is_some();
        let nothing =
            panel.space.groups.len() <= 1 && panel.depth.areas.is_empty() && panel.depth.elsewhere.is_none();
        return !told || nothing;
    }
    false
}
