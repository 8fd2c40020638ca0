//! The table of depth terms: how each item's depth adds up, the room that it has, and the verdict; worst first.

use super::page::{About, cautions};
use super::things;
use crate::check::{Finding, Note, Verdict};
use crate::draw::Drawing;
use crate::draw::drawing::DrawingOptions;
use crate::draw::drawing::flow::{Cells, Piece};
use crate::draw::drawing::number::Print;
use crate::panel::{Class, Detail, Panel, Part, PartRef, Subject, SubjectKind};

/// Rules that speak of the room behind an item.
const RULES: [&str; 3] = ["depth-behind", "obstacle-clear", "control-clear"];

/// A row: how bad, whose, and its cells.
struct Row {
    rank: (Verdict, f64),
    subject: usize,
    cells: Cells,
}

/// The table of all bodies and ports.
pub fn depth_table(panel: &Panel, findings: &[Finding], opts: &DrawingOptions) -> Drawing {
    let about = About {
        panel,
        findings,
        opts,
        kind: "depth behind the panel",
        part: "depth terms, worst first".into(),
        name: "page".into(),
    };
    let pages = about.words(&blocks(&about));
    about.drawing(pages)
}

/// Heads of the table's columns.
pub const HEADS: [&str; 7] = ["Part", "Terms", "Total", "Room", "Margin", "Verdict", "What decides"];

/// The rows of the table: part, terms, total, room, margin, verdict, what decides. Worst first. In inches where the panel
/// speaks inches, else in millimetres.
pub fn depth_rows(panel: &Panel, findings: &[Finding]) -> Vec<Vec<String>> {
    rows(panel, findings, Print::of(panel.unit)).into_iter().map(|r| r.cells.1).collect()
}

fn rows(panel: &Panel, findings: &[Finding], print: Print) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for (k, s) in panel.subjects.iter().enumerate() {
        for (n, p) in s.parts.iter().enumerate().filter(|(_, p)| behind(p)) {
            let at = PartRef { subject: k as u32, part: n as u32 };
            rows.push(row((panel, findings, print), s, p, at));
        }
        // an item whose body is missing altogether still has its line
        let items = matches!(s.kind, SubjectKind::Placement | SubjectKind::Unit);
        let bare = !s.parts.iter().any(|p| p.class == Class::Body);
        for (name, what) in s.missing.iter().filter(|_| items && bare) {
            let name = format!("{}.{name}", s.id);
            let unknown = || "not known".to_owned();
            let cells = vec![
                name.clone(),
                what.clone(),
                unknown(),
                unknown(),
                "-".into(),
                "withheld".into(),
                what.clone(),
            ];
            let rank = (Verdict::Withheld, f64::NEG_INFINITY);
            rows.push(Row { rank, subject: k, cells: Cells(name, cells) });
        }
    }
    // items by their worst row, rows of an item together
    let worse = |a: &(Verdict, f64), b: &(Verdict, f64)| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1));
    let mut worst: Vec<(Verdict, f64)> = vec![(Verdict::Pass, f64::INFINITY); panel.subjects.len()];
    for r in &rows {
        if let Some(w) = worst.get_mut(r.subject).filter(|w| worse(&r.rank, w).is_lt()) {
            *w = r.rank;
        }
    }
    let of = |k: usize| worst.get(k).copied().unwrap_or((Verdict::Pass, f64::INFINITY));
    rows.sort_by(|a, b| {
        let items = worse(&of(a.subject), &of(b.subject)).then(a.subject.cmp(&b.subject));
        items.then(worse(&a.rank, &b.rank))
    });
    rows
}

fn blocks(about: &About<'_>) -> Vec<Vec<Piece>> {
    let panel = about.panel;
    let print = about.print();
    let rows = rows(panel, about.findings, print);
    let mut first = vec![Piece::Head("How deep each item reaches, and the room it has".into())];
    first.push(Piece::Words(format!(
        "In {}, from the front face of the main sheet. Total: the body, and what its plug, hose and bend need behind it. \
         Margin: what is left beyond what the rule asks, at the worst tolerances; negative: so much is missing. Worst first.",
        if print.inch { "inches" } else { "millimetres" }
    )));
    if rows.is_empty() {
        first.push(Piece::Strong(
            "No item of this panel has a body or a port: there is nothing to add up.".into(),
        ));
    } else {
        let head = vec!["", "terms", "total", "room", "margin", "verdict", "what decides"];
        let parts = vec![0.18, 0.25, 0.085, 0.085, 0.09, 0.1, 0.21];
        first.push(Piece::Table(parts, head, rows.into_iter().map(|r| r.cells).collect()));
    }
    let mut blocks = vec![first];
    let lacking = things::lacking(panel);
    if !lacking.is_empty() {
        let mut b = vec![Piece::Head("Numbers that are missing".into())];
        b.extend(lacking.into_iter().map(|(_, w)| Piece::Words(w)));
        blocks.push(b);
    }
    blocks.push(about.standing_block());
    blocks.push(cautions());
    blocks
}

/// Bodies and ports that reach behind the sheet, or may.
fn behind(p: &Part) -> bool {
    matches!(p.class, Class::Body | Class::Port) && p.depth.is_none_or(|d| d.1 > 0.0)
}

fn row((panel, findings, print): (&Panel, &[Finding], Print), s: &Subject, p: &Part, at: PartRef) -> Row {
    let mine = |f: &&Finding| RULES.contains(&f.rule.id) && (f.a == at || f.b == Some(at));
    let margin = |f: &Finding| f.worst_margin().unwrap_or(f64::NEG_INFINITY);
    let decides = findings
        .iter()
        .filter(mine)
        .min_by(|a, b| a.verdict.cmp(&b.verdict).then(margin(a).total_cmp(&margin(b))));
    let depth = findings.iter().filter(mine).find(|f| f.rule.id == "depth-behind");
    let total = p.depth.map(|d| d.1);
    let room = depth.and_then(|f| f.measured).zip(total).map(|(m, t)| m.lower + t);
    let or_unknown = |v: Option<f64>| v.map_or_else(|| "not known".into(), |v| print.number(v));
    let name = panel.part_name(at);
    let (verdict, left) = match decides {
        Some(f) => {
            (f.verdict.word().to_owned(), f.worst_margin().map_or_else(|| "-".into(), |m| print.number(m)))
        }
        None => ("not asked".into(), "-".into()),
    };
    let rank = decides.map_or((Verdict::Pass, f64::INFINITY), |f| (f.verdict, margin(f)));
    let cells = vec![
        name.clone(),
        terms(s, p, print),
        or_unknown(total),
        or_unknown(room),
        left,
        verdict,
        decides.map_or_else(String::new, |f| what(panel, f, at)),
    ];
    Row { rank, subject: at.subject as usize, cells: Cells(name, cells) }
}

/// How the total adds up: `body 90 + connector 30 + bend 20`.
fn terms(s: &Subject, p: &Part, print: Print) -> String {
    let number = |v: Option<f64>| v.map_or_else(|| "?".into(), |v| print.number(v));
    let Detail::Port { terms, .. } = &p.detail else {
        return match p.depth {
            Some((from, to)) if from != 0.0 => format!("from {} to {}", print.number(from), print.number(to)),
            depth => format!("body {}", number(depth.map(|d| d.1))),
        };
    };
    let list: Vec<String> = terms.iter().map(|(n, v)| format!("{n} {}", number(*v))).collect();
    let long: f64 = terms.iter().filter_map(|(_, v)| *v).sum();
    let open = terms.iter().any(|(_, v)| v.is_none());
    let straight = p.depth.is_some_and(|(from, to)| (to - from - long).abs() < 0.01);
    let start = match p.depth {
        Some((from, _)) => Some(from),
        None => s
            .parts
            .iter()
            .filter(|b| b.class == Class::Body)
            .filter_map(|b| b.depth)
            .map(|d| d.1)
            .reduce(f64::max),
    };
    if straight || open || list.is_empty() {
        std::iter::once(format!("body {}", number(start))).chain(list).collect::<Vec<_>>().join(" + ")
    } else {
        let (from, to) = p.depth.unwrap_or_default();
        format!("to the side, {} to {} deep: {}", print.number(from), print.number(to), list.join(" + "))
    }
}

/// What decides, in few words.
fn what(panel: &Panel, f: &Finding, at: PartRef) -> String {
    let other = if f.a == at { f.b } else { Some(f.a) };
    match (&f.note, other) {
        // the rest of the sentence stands in the report
        (Note::Waits(w), _) => {
            format!("{}: waits for {}", f.rule.id, w.split(';').next().unwrap_or(w))
        }
        // passed although less than asked: nothing there is being changed
        (Note::BothStay, Some(o)) => {
            format!("{}: {}; both are there already", f.rule.id, panel.part_name(o))
        }
        (Note::BothStay, None) => format!("{}; it is there already", f.rule.id),
        (_, Some(o)) => format!("{}: {}", f.rule.id, panel.part_name(o)),
        (_, None) => f.rule.id.to_owned(),
    }
}
