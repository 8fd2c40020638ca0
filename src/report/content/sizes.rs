//! Every instrument that is used, size by size with where each comes from, and what its definition leaves open.

use super::Told;
use crate::geom::{Point, Transform};
use crate::panel::{Basis, Class, Detail, Facts, Part, Subject};
use crate::report::document::{Block, Column, Section, Table};
use crate::report::numbers::own_number;
use crate::report::sentence::trim;
use crate::units::{Unit, print_length};

/// The section.
pub(super) fn section(told: &Told<'_>) -> Section {
    let mut s = Section::new("sizes", "Sizes and where they come from");
    s.words(
        "One table for each instrument that is used, as its definition states it. Depth is counted from the sheet's front \
         face, forward; below zero is the pilot's side. A size that is only typical is to be measured on your own part.",
    );
    let mut seen: Vec<&Facts> = Vec::new();
    for subject in &told.panel.subjects {
        let Some(facts) = &subject.facts else { continue };
        // what is kept free without an instrument has no sizes
        if facts.instrument.is_empty() || seen.iter().any(|s| alike(s, facts)) {
            continue;
        }
        seen.push(facts);
        s.blocks.push(Block::Head(format!("{} ({})", facts.title, facts.instrument)));
        let users: Vec<&str> = told
            .panel
            .subjects
            .iter()
            .filter(|o| o.facts.as_ref().is_some_and(|f| alike(f, facts)))
            .map(|o| o.id.as_str())
            .collect();
        s.blocks.push(Block::Table(table(subject, told.panel.unit, &users)));
        if !facts.numbers.is_empty() {
            let own: Vec<String> = facts.numbers.iter().map(own_number).collect();
            s.words(format!("Said by the panel's file of this item alone: {}.", own.join("; ")));
        }
        let open = open(subject);
        if !open.is_empty() {
            s.words(format!("Not said: {}.", open.join("; ")));
        }
    }
    s
}

/// Whether two items have the same definition and the same numbers of their own.
fn alike(a: &Facts, b: &Facts) -> bool {
    a.instrument == b.instrument && a.numbers == b.numbers
}

fn table(subject: &Subject, unit: Unit, users: &[&str]) -> Table {
    let columns = [
        Column::words("Part", 25.0),
        Column::number("Size", 35.0),
        Column::number("Depth", 25.0),
        Column::words("Standing", 24.0),
        Column::words("Document, revision, who, when", 50.0),
    ];
    let mut t = Table::new(format!("Used as: {}", users.join(", ")), &columns);
    let mut counts: Vec<usize> = Vec::new();
    for part in &subject.parts {
        // a hand's room is the program's, not a size of the instrument
        if matches!(part.class, Class::Hand | Class::Zone | Class::Label | Class::Provision) {
            continue;
        }
        let row = vec![
            base(&part.name).to_string(),
            size(subject, part, unit),
            depth(part, unit),
            basis(part.source.basis).to_string(),
            if part.source.words.is_empty() {
                "no source named".into()
            } else {
                part.source.words.to_string()
            },
        ];
        match t.rows.iter().position(|r| *r == row) {
            Some(k) => counts[k] += 1,
            None => {
                t.rows.push(row);
                counts.push(1);
            }
        }
    }
    for (row, n) in t.rows.iter_mut().zip(counts).filter(|(_, n)| *n > 1) {
        if let Some(name) = row.first_mut() {
            *name = format!("{n} \u{d7} {name}");
        }
    }
    t
}

/// A part's name without the number that tells it from its like: `screw-3.head` is a `screw.head`.
fn base(name: &str) -> String {
    let plain = |word: &str| {
        let cut = word.trim_end_matches(|c: char| c.is_ascii_digit());
        cut.strip_suffix('-').filter(|c| cut.len() < word.len() && !c.is_empty()).unwrap_or(word).to_string()
    };
    name.split('.').map(plain).collect::<Vec<_>>().join(".")
}

/// A part's size as it lies in its own instrument.
fn size(subject: &Subject, part: &Part, unit: Unit) -> String {
    let own = Transform::place(Point::ORIGIN, -subject.turn, false).contour(&part.contour);
    let say = |v: f64| {
        let mm = format!("{} mm", trim(v, 2));
        if unit.is_inch() { format!("{} ({mm})", print_length(v, Unit::Inch)) } else { mm }
    };
    let measured = match own.as_circle() {
        Some((_, r)) => format!("\u{2300} {}", say(2.0 * r)),
        None => {
            let b = own.bounds();
            format!("{} \u{d7} {}", say(b.width()), say(b.height()))
        }
    };
    match &part.written {
        Some(w) if !unit.is_inch() => format!("{measured} (written {w})"),
        _ => measured,
    }
}

fn depth(part: &Part, unit: Unit) -> String {
    if let Detail::Port { terms, .. } = &part.detail {
        let list: Vec<String> = terms
            .iter()
            .map(|(name, mm)| match mm {
                Some(v) => format!("{name} {}", print_length(*v, unit)),
                None => format!("{name} not given"),
            })
            .collect();
        if !list.is_empty() {
            return list.join(", ");
        }
    }
    match part.depth {
        Some((from, to)) => {
            let scale = if unit.is_inch() { 25.4 } else { 1.0 };
            let digits = if unit.is_inch() { 3 } else { 2 };
            format!("{} to {} {}", trim(from / scale, digits), trim(to / scale, digits), unit.name())
        }
        None => match part.class {
            Class::Body | Class::Port => "not given".into(),
            _ => "through".into(),
        },
    }
}

/// The standing of a size in words.
fn basis(basis: Basis) -> &'static str {
    match basis {
        Basis::Maker => "maker's installation drawing",
        Basis::Measured => "measured on the part",
        Basis::Standard => "published standard",
        Basis::Practice => "common practice",
        Basis::Typical => "typical, measure yours",
        Basis::Invented => "invented for the demo",
        Basis::File => "the panel's own file",
    }
}

/// What the definition leaves open.
fn open(subject: &Subject) -> Vec<String> {
    let mut list: Vec<String> =
        subject.missing.iter().map(|(part, what)| format!("{part}: {what}")).collect();
    if let Some(facts) = &subject.facts {
        list.extend(facts.open_terms.iter().cloned());
        if facts.mass.is_none() {
            list.push("mass".into());
        }
    }
    list
}
