//! What the shop needs, sheet by sheet: contours, cut length, openings, hole schedule, process, least metal.

use super::Told;
use crate::draw::template::{CutSheet, cut_sheet};
use crate::report::document::{Block, Column, Section, Table};
use crate::report::sentence::trim;
use crate::units::{Unit, print_length};

/// The section.
pub(super) fn section(told: &Told<'_>) -> Section {
    let mut s = Section::new("cut-data", "Cut data");
    s.words(
        "Finished sizes. The 1:1 template and the shop files hold the contours themselves; nothing here replaces them.",
    );
    if let Some(n) = told.standing.notice() {
        s.blocks.push(Block::Strong(n));
    }
    for k in 0..told.panel.sheets.len() {
        if let Some(cut) = cut_sheet(told.panel, k) {
            sheet(told, k, cut, &mut s);
        }
    }
    s
}

fn sheet(told: &Told<'_>, k: usize, cut: CutSheet, s: &mut Section) {
    let unit = told.panel.unit;
    let both = |mm: f64| {
        let other = if unit.is_inch() { Unit::Millimetre } else { Unit::Inch };
        format!("{} ({})", print_length(mm, unit), print_length(mm, other))
    };
    s.blocks.push(Block::Head(format!("{} ({})", cut.name, cut.role)));
    let outline = if cut.cut_outline { "cut: a new blank" } else { "exists, not cut" };
    let mut facts = vec![
        ("Material".to_string(), cut.material.clone()),
        ("Thickness".into(), cut.thickness.clone()),
        ("Outline".into(), format!("{} \u{d7} {}, {outline}", both(cut.size.0), both(cut.size.1))),
        ("Closed contours to cut".into(), cut.contours.to_string()),
        ("Cut length".into(), both(cut.length)),
        ("Process".into(), cut.process.clone()),
        ("Width of the cut".into(), cut.width.clone()),
        ("Tolerance of the cut".into(), cut.tolerance.clone()),
        ("Least web measured".into(), least(told, k, "web", unit)),
        ("Nearest to an edge".into(), least(told, k, "sheet-edge", unit)),
    ];
    if let Some((name, mm)) = &cut.least {
        facts.push(("Least opening to cut".into(), format!("{} wide: {name}", both(*mm))));
    }
    s.blocks.push(Block::Facts(facts));
    let columns = [
        Column::words("Opening", 32.0),
        Column::words("What is done", 36.0),
        Column::words("Kind", 13.0),
        Column::number("Size", 34.0),
        Column::number("x", 15.0),
        Column::number("y", 15.0),
    ];
    let mut t = Table::new(format!("Openings of {}, {} from the datum", cut.name, unit.name()), &columns);
    let digits = if unit.is_inch() { 4 } else { 3 };
    let scale = if unit.is_inch() { 25.4 } else { 1.0 };
    for o in &cut.openings {
        let size = match o.diameter {
            Some(d) => format!("\u{2300} {}", print_length(d, unit)),
            None => format!("{} \u{d7} {}", print_length(o.size.0, unit), print_length(o.size.1, unit)),
        };
        t.rows.push(vec![
            o.name.clone(),
            o.fate.into(),
            if o.hole { "hole" } else { "cutout" }.into(),
            size,
            trim(o.centre.x / scale, digits),
            trim(o.centre.y / scale, digits),
        ]);
    }
    s.table(t, "This sheet has no opening.");
    let columns = [
        Column::words("Key", 9.0),
        Column::number("Count", 12.0),
        Column::number("Diameter, mm (in)", 27.0),
        Column::number("Drill, mm", 18.0),
        Column::number("Drill, in", 27.0),
        Column::words("How", 22.0),
    ];
    let mut t = Table::new(format!("Hole schedule of {}: round openings that are made", cut.name), &columns);
    t.rows = cut.holes;
    s.table(t, "No round opening is made in this sheet.");
    if !cut.remarks.is_empty() {
        s.blocks.push(Block::List(cut.remarks));
    }
}

/// The least that a rule measured on a sheet, with the finding.
fn least(told: &Told<'_>, sheet: usize, rule: &str, unit: Unit) -> String {
    let on = told.findings.list.iter().zip(&told.ids).filter(|(f, _)| {
        f.rule.id == rule
            && [Some(f.a), f.b].into_iter().flatten().any(|r| told.panel.part(r).sheet as usize == sheet)
    });
    let least = on
        .filter_map(|(f, id)| Some((f.measured?.lower, f.verdict.word(), id)))
        .min_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.2.cmp(b.2)));
    match least {
        Some((mm, verdict, id)) => format!("{}: {id} ({verdict})", print_length(mm, unit)),
        None => "nothing measured near its limit".into(),
    }
}
