//! Every rule that was asked: what it asks, by which source, and how many findings it gave.

use super::Told;
use crate::check::RULES;
use crate::report::document::{Column, Section, Table};
use crate::report::explain::source_words;
use crate::report::sentence::limit_words;

/// The section.
pub(super) fn section(told: &Told<'_>) -> Section {
    let mut s = Section::new("rules", "Rules that were asked");
    s.words("A rule without a finding met nothing on this panel that it speaks of.");
    let columns = [
        Column::words("Rule", 22.0),
        Column::words("Asks", 50.0),
        Column::words("Default limit", 26.0),
        Column::words("Source and its standing", 44.0),
        Column::number("Findings", 13.0),
    ];
    let mut t = Table::new("All rules of this version", &columns);
    for rule in RULES {
        let count = told.findings.list.iter().filter(|f| f.rule == *rule).count();
        t.rows.push(vec![
            rule.id.into(),
            rule.asks.into(),
            limit_words(rule.limit),
            source_words(rule),
            if count == 0 { "none".into() } else { count.to_string() },
        ]);
    }
    s.table(t, "There is no rule.");
    s
}
