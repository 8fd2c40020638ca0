//! What is on the panel: placements, lettering, old openings, zones.

use super::Told;
use crate::check::Verdict;
use crate::panel::{Class, Detail, State, Subject, SubjectKind};
use crate::report::document::{Block, Column, Section, Table};
use crate::report::sentence::{point, trim};

/// The section.
pub(super) fn section(told: &Told<'_>) -> Section {
    let mut s = Section::new("equipment", "Equipment");
    s.words(
        "Where: the reference point, from the panel's datum, x to the right and y up as the pilot sees it. Mass is as the \
         definition states it; this version draws up no weight and balance.",
    );
    let worst = worst(told);
    let columns = [
        Column::words("Item", 20.0),
        Column::words("Instrument", 42.0),
        Column::number("Where", 21.0),
        Column::words("State", 15.0),
        Column::words("Worst verdict", 15.0),
        Column::number("Mass", 12.0),
        Column::words("Checked on the part", 31.0),
    ];
    let mut t = Table::new("Items on the panel", &columns);
    for (k, subject) in told.panel.subjects.iter().enumerate() {
        if matches!(subject.kind, SubjectKind::Placement | SubjectKind::Unit | SubjectKind::Insert) {
            t.rows.push(item(told, subject, worst.get(k).copied().unwrap_or(Verdict::Pass)));
        }
    }
    s.table(t, "Nothing is placed.");
    lettering(told, &mut s);
    others(told, &mut s);
    s
}

/// Worst verdict of each subject.
fn worst(told: &Told<'_>) -> Vec<Verdict> {
    let mut found = vec![Verdict::Pass; told.panel.subjects.len()];
    for f in &told.findings.list {
        for k in [Some(f.a), f.b].into_iter().flatten() {
            if let Some(w) = found.get_mut(k.subject as usize) {
                *w = (*w).min(f.verdict);
            }
        }
    }
    found
}

fn item(told: &Told<'_>, s: &Subject, worst: Verdict) -> Vec<String> {
    let what = match &s.facts {
        Some(f) if f.instrument.is_empty() => s.title.clone(),
        Some(f) if f.title == s.title => format!("{} ({})", f.title, f.instrument),
        Some(f) => format!("{}: {} ({})", s.title, f.title, f.instrument),
        None => s.title.clone(),
    };
    let mut state = match (s.provision, s.state) {
        (true, _) => "provision",
        (false, State::Existing) => "exists",
        (false, State::New) => "new",
    }
    .to_string();
    if s.turn != 0.0 {
        state.push_str(&format!(", turned {} deg", trim(s.turn, 2)));
    }
    if s.mirrored {
        state.push_str(", mirrored");
    }
    let mass = s.facts.as_ref().and_then(|f| f.mass);
    vec![
        s.id.clone(),
        what,
        point(s.at.x, s.at.y, told.panel.unit),
        state,
        worst.word().into(),
        mass.map_or("not given".into(), |kg| format!("{} kg", trim(kg, 3))),
        s.checked.clone().unwrap_or_else(|| "not recorded".into()),
    ]
}

fn lettering(told: &Told<'_>, s: &mut Section) {
    let columns = [
        Column::words("Label", 28.0),
        Column::words("Text", 34.0),
        Column::words("Names", 24.0),
        Column::number("Letter height", 20.0),
        Column::words("Made by", 30.0),
        Column::number("Where", 24.0),
    ];
    let mut t = Table::new("Lettering", &columns);
    for subject in &told.panel.subjects {
        for part in &subject.parts {
            let Detail::Label { text, height, process, of } = &part.detail else { continue };
            t.rows.push(vec![
                subject.id.clone(),
                text.clone(),
                of.clone().unwrap_or_else(|| "-".into()),
                crate::units::print_length(*height, told.panel.unit),
                process.clone().unwrap_or_else(|| "not given".into()),
                point(subject.at.x, subject.at.y, told.panel.unit),
            ]);
        }
    }
    s.table(t, "There is no lettering on this panel.");
}

fn others(told: &Told<'_>, s: &mut Section) {
    let columns = [
        Column::words("Item", 25.0),
        Column::words("Kind", 18.0),
        Column::words("What", 60.0),
        Column::number("Where", 24.0),
    ];
    let mut t = Table::new("Old openings and zones", &columns);
    for subject in &told.panel.subjects {
        let kind = match subject.kind {
            SubjectKind::OldOpening => "old opening",
            SubjectKind::Zone => "zone",
            SubjectKind::Sheet
            | SubjectKind::Placement
            | SubjectKind::Unit
            | SubjectKind::Insert
            | SubjectKind::Label
            | SubjectKind::Obstacle
            | SubjectKind::Control
            | SubjectKind::Line => continue,
        };
        let reason = subject.parts.iter().find_map(|p| match (&p.detail, p.class) {
            (Detail::Zone { because, .. }, Class::Zone) => Some(because.clone()),
            _ => None,
        });
        t.rows.push(vec![
            subject.id.clone(),
            kind.into(),
            reason.unwrap_or_else(|| subject.title.clone()),
            point(subject.at.x, subject.at.y, told.panel.unit),
        ]);
    }
    if !t.rows.is_empty() {
        s.blocks.push(Block::Table(t));
    }
}
