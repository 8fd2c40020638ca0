//! The panel and its findings as the page reads them.

use super::session::{Session, is_item};
use crate::check::{Finding, Findings, Limit, Note, Verdict};
use crate::draw::front_view::to_lay_out;
use crate::export::svg;
use crate::geom::Contour;
use crate::panel::{Panel, SubjectKind};
use crate::report::measured_words;
use crate::units::print_length;
use serde_json::{Value, json};

/// Width of the view on paper, mm: its letters are then large enough on a screen that is 1280 wide.
const WIDE: f64 = 240.0;

/// One finding.
pub fn finding(panel: &Panel, f: &Finding) -> Value {
    let note = match &f.note {
        Note::None => String::new(),
        Note::Contact => "they touch or overlap".into(),
        Note::BothStay => "both are there already and stay: reported, not judged".into(),
        Note::Waits(w) => format!("waits for {w}"),
        Note::Says(t) => t.clone(),
    };
    let length = |mm: f64| {
        if matches!(f.rule.limit, Limit::DegreesAtMost(_)) {
            format!("{mm:.2} deg")
        } else {
            short(panel, mm)
        }
    };
    let both: Vec<&str> = std::iter::once(f.a).chain(f.b).map(|r| panel.subject(r).id.as_str()).collect();
    json!({
        "id": f.id(panel), "rule": f.rule.id, "asks": f.rule.asks, "verdict": f.verdict.word(),
        "subjects": both, "a": panel.part_name(f.a), "b": f.b.map(|b| panel.part_name(b)),
        "says": measured_words(panel, f), "note": note,
        "measured": f.measured.map(|m| m.lower), "asked": f.asked, "margin": f.worst_margin(),
        "words": f.measured.map(|m| length(m.lower)), "asked-words": f.asked.map(length),
        "at": f.at.map(|p| [p.x, p.y]), "plain": f.plain_pass(), "source": f.rule.source.title,
    })
}

/// A length for a label beside an arrow.
fn short(panel: &Panel, mm: f64) -> String {
    if panel.unit.is_inch() { format!("{:.3} in", mm / 25.4) } else { format!("{mm:.2} mm") }
}

/// Contours as path data in the panel's own axes, y up.
pub fn path(contours: &[Contour]) -> String {
    let mut d = String::new();
    for c in contours {
        for (k, s) in c.segments().iter().enumerate() {
            let (a, b) = (s.start(), s.end());
            if k == 0 {
                d += &format!("M{:.3} {:.3}", a.x, a.y);
            }
            d += &format!("L{:.3} {:.3}", b.x, b.y);
        }
        d.push('Z');
    }
    d
}

/// How many of each verdict.
pub fn counts(findings: &Findings) -> Value {
    let c = findings.counts();
    json!({ "fail": c.fail, "withheld": c.withheld, "tight": c.tight, "pass": c.pass })
}

/// The whole state.
pub fn state(s: &Session) -> Value {
    let panel = &s.panel;
    let (drawing, scale, shift) = to_lay_out(panel, &s.findings.list, WIDE);
    let says = "Every item of the panel can be chosen below the view, by Tab.";
    let view = svg::inline(&drawing, 0, "view-", &panel.name, says).unwrap_or_default();
    let size = drawing.pages.first().map_or((0.0, 0.0), |p| (p.width, p.height));
    let mut worst = vec![Verdict::Pass; panel.subjects.len()];
    for f in &s.findings.list {
        for r in std::iter::once(f.a).chain(f.b) {
            if let Some(w) = worst.get_mut(r.subject as usize) {
                *w = (*w).min(f.verdict);
            }
        }
    }
    let items: Vec<Value> = panel
        .subjects
        .iter()
        .zip(&worst)
        .enumerate()
        .filter(|(_, (i, _))| is_item(i.kind) || i.kind == SubjectKind::Unit)
        .filter_map(|(k, (i, verdict))| {
            let b = i.parts.iter().map(|p| p.contour.bounds()).reduce(|a, b| a.union(b))?;
            Some(json!({
                "id": i.id, "number": k, "title": i.title, "at": [i.at.x, i.at.y], "turn": i.turn, "locked": i.locked,
                "x": print_length(i.at.x, panel.unit), "y": print_length(i.at.y, panel.unit),
                "provision": i.provision, "label": i.kind == SubjectKind::Label, "held": i.kind == SubjectKind::Unit,
                "box": [b.x0, b.y0, b.x1, b.y1], "verdict": verdict.word(),
            }))
        })
        .collect();
    let (undo, redo) = s.steps();
    let sheet = panel.sheets.first().map(|s| s.outline.bounds()).unwrap_or_default();
    json!({
        "kind": "state", "revision": s.revision, "name": panel.name, "file": s.path(), "unit": panel.unit.name(),
        "changed": s.is_changed(), "undo": undo, "redo": redo, "offer": s.offer(), "conflict": s.is_changed_on_disk(),
        "view": { "svg": view, "scale": scale, "shift": [shift.x, shift.y], "width": size.0, "height": size.1 },
        "sheet": [sheet.x0, sheet.y0, sheet.x1, sheet.y1], "items": items,
        "sheets": panel.sheets.iter().map(|s| s.id.as_str()).collect::<Vec<_>>(),
        "findings": s.findings.list.iter().map(|f| finding(panel, f)).collect::<Vec<_>>(),
        "counts": counts(&s.findings),
    })
}

/// The catalogue for the list of what can be added.
pub fn catalogue(s: &Session) -> Value {
    let all = s.catalogue().all().unwrap_or_default();
    let one = |i: &crate::define::summary::Summary| json!({ "name": i.name, "title": i.title, "kind": i.kind, "words": i.words });
    json!({ "kind": "catalogue", "all": all.iter().map(one).collect::<Vec<_>>() })
}
