//! What the verdicts rest on: limits without a source, sizes that are only typical, limits that the panel sets itself.

use super::Told;
use crate::check::{RULES, Standing};
use crate::report::document::{Block, Column, Section, Table};
use crate::report::explain::source_words;
use crate::report::sentence::{limit_words, own_limit};
use std::collections::BTreeSet;

/// Typical and remembered values.
pub(super) fn rests(told: &Told<'_>) -> Section {
    let mut s = Section::new("rests-on", "What rests on typical or remembered values");
    let asked: BTreeSet<&str> = told
        .findings
        .list
        .iter()
        .filter(|f| f.asked.is_some() && f.asks(told.panel).own.is_none())
        .map(|f| f.rule.id)
        .collect();
    let columns =
        [Column::words("Rule", 25.0), Column::words("Limit", 30.0), Column::words("Standing", 45.0)];
    let mut limits = Table::new("Limits that rest on practice or memory alone: set your own", &columns);
    for rule in RULES.iter().filter(|r| asked.contains(r.id)) {
        if matches!(rule.source.standing, Standing::Practice | Standing::Memory) {
            limits.rows.push(vec![rule.id.into(), limit_words(rule.limit), source_words(rule)]);
        }
    }
    s.table(limits, "No limit that was asked rests on practice or memory alone.");
    let columns = [
        Column::words("Item", 20.0),
        Column::words("Instrument", 30.0),
        Column::words("Typical or invented sizes", 45.0),
        Column::words("Checked on the part", 35.0),
    ];
    let mut sizes = Table::new("Items whose sizes are only typical or invented", &columns);
    for subject in &told.panel.subjects {
        let Some(facts) = subject.facts.as_ref().filter(|f| !f.unconfirmed.is_empty()) else { continue };
        sizes.rows.push(vec![
            subject.id.clone(),
            facts.instrument.clone(),
            facts.unconfirmed.join(", "),
            subject.checked.clone().unwrap_or_else(|| "no: measure yours".into()),
        ]);
    }
    s.table(sizes, "No size of an instrument is only typical.");
    if !told.panel.remarks.is_empty() {
        s.blocks.push(Block::Head("Remarks on how the files were read".into()));
        s.blocks.push(Block::List(told.panel.remarks.clone()));
    }
    s
}

/// Limits that the panel's file sets in place of the defaults.
pub(super) fn own(told: &Told<'_>) -> Section {
    let mut s = Section::new("own-limits", "Limits changed by the panel's file");
    let columns = [
        Column::words("Rule", 22.0),
        Column::words("The panel's own", 20.0),
        Column::words("Because", 40.0),
        Column::words("In place of", 45.0),
        Column::words("In the file", 27.0),
    ];
    let mut t = Table::new("Own limits with their reasons", &columns);
    for (id, own) in &told.panel.limits {
        let Some(rule) = RULES.iter().find(|r| r.id == id) else { continue };
        t.rows.push(vec![
            id.clone(),
            own_limit(told.panel, rule.limit, own),
            own.because.clone(),
            format!("{}: {}", limit_words(rule.limit), source_words(rule)),
            format!("{}:{}:{}", own.place.file, own.place.line, own.place.column),
        ]);
    }
    s.table(t, "None: every limit is the default.");
    s
}
