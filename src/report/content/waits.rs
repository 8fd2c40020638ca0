//! Every unknown that stands, with the number that it waits for: silence would read as approval.

use super::Told;
use crate::check::{Note, Verdict};
use crate::report::document::{Column, Section, Table};

/// The section; one row for each withheld finding.
pub(super) fn section(told: &Told<'_>) -> Section {
    let mut s = Section::new("waits", "What is withheld waits for");
    let mut t = Table::new(
        "Each withheld verdict and what it waits for",
        &[Column::words("Finding", 45.0), Column::words("Waits for", 60.0)],
    );
    for (f, id) in told.findings.list.iter().zip(&told.ids).filter(|(f, _)| f.verdict == Verdict::Withheld) {
        let waits = match &f.note {
            Note::Waits(what) | Note::Says(what) => what.clone(),
            Note::None | Note::Contact | Note::BothStay => "data that its parts do not give".into(),
        };
        t.rows.push(vec![id.clone(), waits]);
    }
    s.table(t, "Nothing is withheld.");
    s
}
