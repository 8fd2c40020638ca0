//! Findings that somebody has looked at and accepts, and acceptances whose finding is gone.

use super::Told;
use crate::report::document::{Block, Column, Section, Table};

/// The section.
pub(super) fn section(told: &Told<'_>) -> Section {
    let mut s = Section::new("accepted", "Accepted findings");
    s.words("An acceptance is a record beside the verdict; the verdict stays as it is.");
    let columns = [
        Column::words("Finding", 40.0),
        Column::words("Verdict", 12.0),
        Column::words("Because", 45.0),
        Column::words("By", 25.0),
        Column::words("In the file", 28.0),
    ];
    let mut t = Table::new("Accepted, by whom and why", &columns);
    let mut stale = Vec::new();
    for a in &told.panel.accepted {
        let place = format!("{}:{}:{}", a.place.file, a.place.line, a.place.column);
        let found = told.ids.iter().position(|id| *id == a.finding).and_then(|k| told.findings.list.get(k));
        match found {
            Some(f) => t.rows.push(vec![
                a.finding.clone(),
                f.verdict.word().into(),
                a.because.clone(),
                a.by.clone(),
                place,
            ]),
            None => stale.push(format!(
                "{} ({}; accepted by {} because {}): there is no such finding now; take it out or correct its name",
                a.finding, place, a.by, a.because
            )),
        }
    }
    s.table(t, "No finding is recorded as accepted.");
    if !stale.is_empty() {
        s.blocks.push(Block::Head("Stale acceptances".into()));
        s.blocks.push(Block::List(stale));
    }
    s
}
