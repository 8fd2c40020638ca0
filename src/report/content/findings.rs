//! The findings that are not a pass, each with all that is known of it: fail, tight, withheld.

use super::{Told, facts, order};
use crate::check::{Finding, Verdict};
use crate::report::document::{Block, Entry, Section};

/// One section a verdict, empty ones too: silence would read as nothing looked at.
pub(super) fn sections(told: &Told<'_>) -> Vec<Section> {
    [
        (Verdict::Fail, "fail", "violated as drawn"),
        (Verdict::Tight, "tight", "holds as drawn, violated at the worst tolerance"),
        (Verdict::Withheld, "withheld", "data are missing: never a pass"),
    ]
    .into_iter()
    .map(|(verdict, id, means)| {
        let list = order::of(told, verdict, true);
        let mut s = Section::new(id, format!("{}: {}", capital(verdict.word()), list.len()));
        s.words(if list.is_empty() { format!("None ({means}).") } else { format!("{}.", capital(means)) });
        s.blocks.extend(list.into_iter().map(|(k, f)| Block::Entry(entry(told, k, f))));
        s
    })
    .collect()
}

/// The finding at this place of the list.
pub(super) fn entry(told: &Told<'_>, k: usize, f: &Finding) -> Entry {
    Entry {
        verdict: f.verdict.word(),
        name: told.ids.get(k).cloned().unwrap_or_default(),
        asks: f.rule.asks.to_string(),
        facts: facts::of(told, k, f),
    }
}

/// The same words with a capital at their head.
pub(super) fn capital(words: &str) -> String {
    let mut chars = words.chars();
    chars.next().map_or(String::new(), |c| c.to_uppercase().chain(chars).collect())
}
