//! What the reader asks first: which panel, of which inputs, may it be cut, is it structure, who approves.

use super::{Told, findings::capital};
use crate::check::{Counts, Verdict};
use crate::draw::front_view;
use crate::panel::Structure;
use crate::report::document::{Block, Column, FIGURE, Figure, Section, Table};

/// Title-block fields that stand among the first facts anyway.
const SHOWN: [&str; 3] = ["aeroplane", "revision", "approved-by"];

/// Panel, revision, inputs, verdicts, structure, approval.
pub(super) fn summary(told: &Told<'_>) -> Section {
    let p = told.panel;
    let mut s = Section::new("summary", "Summary");
    let c = &told.standing.counts;
    if let Some(n) = told.standing.notice() {
        s.blocks.push(Block::Strong(n));
    } else if let Some((because, by)) = &told.standing.lifted {
        let against = told.standing.against.join(", ");
        s.blocks.push(Block::Strong(format!("To be cut in spite of {against}: {because} ({by})")));
    } else {
        s.words(
            "No verdict stands against cutting. That is no approval: the licensed person who signs decides.",
        );
    }
    let mut counts = Table::new(
        "Verdicts",
        &[Column::words("Verdict", 15.0), Column::number("Findings", 12.0), Column::words("Meaning", 80.0)],
    );
    for (verdict, n, means) in [
        (Verdict::Fail, c.fail, "violated as drawn".to_string()),
        (Verdict::Tight, c.tight, "holds as drawn, violated at the worst tolerance".to_string()),
        (Verdict::Withheld, c.withheld, "data are missing: never a pass".to_string()),
        (Verdict::Pass, c.pass, pass_means(c)),
    ] {
        counts.rows.push(vec![verdict.word().into(), n.to_string(), means]);
    }
    s.blocks.push(Block::Table(counts));
    s.blocks.push(Block::Head("Is this panel structure, and who approves the change?".into()));
    let asks = p.sheets.iter().any(|sheet| sheet.structure.0 != Structure::No);
    if asks {
        s.blocks.push(Block::Strong("Ask the person who signs before any metal is cut.".into()));
    }
    let mut structure: Vec<(String, String)> = p
        .sheets
        .iter()
        .map(|sheet| {
            let answer = match sheet.structure.0 {
                Structure::Yes => "structure",
                Structure::No => "not structure",
                Structure::Unknown => "not answered",
            };
            let by = sheet.structure.1.as_deref().map(|b| format!(" ({b})")).unwrap_or_default();
            let name =
                if sheet.id == "sheet" { "Sheet".into() } else { capital(&format!("sheet {}", sheet.id)) };
            (name, format!("{answer}{by}"))
        })
        .collect();
    structure.push(("Who approves".into(), field(told, "approved-by").unwrap_or("not answered").into()));
    s.blocks.push(Block::Facts(structure));
    s.blocks.push(Block::Head("What was checked".into()));
    let mut facts: Vec<(String, String)> = vec![("Panel".into(), p.name.clone())];
    facts.push((
        "Aeroplane".into(),
        field(told, "aeroplane").unwrap_or("not given in the title block").into(),
    ));
    facts.push(("Revision".into(), field(told, "revision").unwrap_or("not given").into()));
    for (key, text) in p.title.fields.iter().filter(|(k, t)| !SHOWN.contains(&k.as_str()) && !t.is_empty()) {
        facts.push((capital(&key.replace('-', " ")), text.clone()));
    }
    facts.push(("Inputs (SHA-256)".into(), p.hash.clone()));
    let files: Vec<&str> = told.files.iter().map(String::as_str).collect();
    facts.push(("Files read".into(), files.join(", ")));
    facts.push(("Program".into(), concat!("panelwright ", env!("CARGO_PKG_VERSION")).into()));
    facts.push(("Unit of the file".into(), p.unit.name().into()));
    let tilt = p.tilt.map_or("not given".to_string(), |t| {
        format!("{} degrees, top leaning forward", crate::report::sentence::trim(t, 2))
    });
    facts.push(("Tilt".into(), tilt));
    s.blocks.push(Block::Facts(facts));
    let mut t = Table::new(
        "Revisions",
        &[
            Column::words("Revision", 14.0),
            Column::words("What changed", 70.0),
            Column::words("Date", 20.0),
            Column::words("By", 26.0),
        ],
    );
    let said = |words: &str| if words.is_empty() { "not given".to_string() } else { words.to_string() };
    t.rows = p
        .title
        .revisions
        .iter()
        .map(|r| [&r.index, &r.change, &r.date, &r.by].map(|w| said(w)).to_vec())
        .collect();
    if !t.rows.is_empty() {
        s.blocks.push(Block::Table(t));
    }
    s
}

fn pass_means(counts: &Counts) -> String {
    let holds = "holds at the worst tolerance";
    counts.stays_words().map_or(holds.to_string(), |words| format!("{holds}; among them {words}"))
}

/// A field of the title block that was filled in.
fn field<'a>(told: &'a Told<'_>, key: &str) -> Option<&'a str> {
    told.panel.title.get(key).filter(|t| !t.trim().is_empty())
}

/// The panel as the pilot sees it.
pub(super) fn front_view(told: &Told<'_>) -> Section {
    let mut s = Section::new("front-view", "Front view");
    let drawing = front_view::figure(told.panel, &told.findings.list, FIGURE);
    let c = &told.standing.counts;
    let says = format!(
        "Front view of {} as the pilot sees it, not to scale: every item with its name, its worst verdict as a word, hatching \
         and line weight. {} fail, {} tight, {} withheld, {} pass. The tables below say the same in words.",
        told.panel.name, c.fail, c.tight, c.withheld, c.pass
    );
    s.blocks.push(Block::Figure(Figure {
        title: format!("{}: front view, not to cut from", told.panel.name),
        says,
        drawing,
    }));
    s.words(
        "Bezels solid, openings dashed, provisions dash and two dots. The worst verdict of each item is written, hatched \
         and drawn heavier; an item without a word passes.",
    );
    s
}
