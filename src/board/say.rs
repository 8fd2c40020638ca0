//! The panel and its findings as the page reads them.

use super::session::{Session, is_item};
use crate::check::{Finding, Findings, Limit, Note, Verdict};
use crate::draw::front_view::to_lay_out;
use crate::draw::{Weight, text};
use crate::export::svg;
use crate::geom::{Contour, Segment, Vec2};
use crate::panel::{Panel, SubjectKind};
use crate::report::measured_words;
use crate::units::print_length;
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// Width of the view on paper, mm: its letters are then large enough on a screen that is 1280 wide.
const WIDE: f64 = 240.0;

/// One finding.
pub fn finding(panel: &Panel, f: &Finding) -> Value {
    let both: Vec<&str> = std::iter::once(f.a).chain(f.b).map(|r| panel.subject(r).id.as_str()).collect();
    let mut all = json!({
        "id": f.id(panel), "rule": f.rule.id, "asks": f.rule.asks, "subjects": both, "a": panel.part_name(f.a),
        "b": f.b.map(|b| panel.part_name(b)), "source": format!("{} ({})", f.rule.source.title, f.rule.source.standing.words()).trim(),
    });
    if let (Value::Object(all), Value::Object(says)) = (&mut all, again(panel, f)) {
        all.extend(says);
    }
    all
}

/// Of a finding that the page has, all but what its id tells already.
pub fn again(panel: &Panel, f: &Finding) -> Value {
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
    json!({
        "id": f.id(panel), "verdict": f.verdict.word(), "says": measured_words(panel, f), "note": note,
        "measured": f.measured.map(|m| m.lower), "asked": f.asked, "margin": f.worst_margin(),
        "words": f.measured.map(|m| length(m.lower)), "asked-words": f.asked.map(length),
        "space": f.space.as_ref().map(|s| super::behind::place(s)),
        "at": f.at.map(|p| [p.x, p.y]), "plain": f.plain_pass(),
    })
}

/// A length for a label beside an arrow.
fn short(panel: &Panel, mm: f64) -> String {
    if panel.unit.is_inch() { format!("{:.3} in", mm / 25.4) } else { format!("{mm:.2} mm") }
}

/// Contours as path data in the panel's own axes, y up; arcs stay arcs.
pub fn path(contours: &[Contour]) -> String {
    let mut d = String::new();
    for c in contours {
        for (k, s) in c.segments().iter().enumerate() {
            let a = s.start();
            if k == 0 {
                d += &format!("M{:.3} {:.3}", a.x, a.y);
            }
            match s {
                Segment::Line(_) => d += &format!("L{:.3} {:.3}", s.end().x, s.end().y),
                Segment::Arc(arc) => {
                    // in thirds: a whole circle has one point for both its ends
                    for t in [1.0 / 3.0, 2.0 / 3.0, 1.0] {
                        let (p, r) = (arc.at(t), arc.radius);
                        let sweep = u8::from(arc.sweep > 0.0);
                        d += &format!("A{r:.3} {r:.3} 0 0 {sweep} {:.3} {:.3}", p.x, p.y);
                    }
                }
            }
        }
        d.push('Z');
    }
    d
}

/// A pair of numbers of a message, mm.
pub fn vec2(v: &Value) -> Option<Vec2> {
    let (x, y) = (v.get(0)?.as_f64()?, v.get(1)?.as_f64()?);
    let fine = |v: f64| v.is_finite() && v.abs() <= 100_000.0;
    (fine(x) && fine(y)).then(|| Vec2::new(x, y))
}

/// How many of each verdict.
pub fn counts(findings: &Findings) -> Value {
    let c = findings.counts();
    json!({ "fail": c.fail, "withheld": c.withheld, "tight": c.tight, "pass": c.pass })
}

/// What is said of letters that no drawing can have.
fn lacking(panel: &Panel) -> Option<String> {
    let all = panel.subjects.iter().map(|s| s.title.as_str()).chain([panel.name.as_str()]);
    let lacks = |c: &char| !c.is_control() && !text::has(*c, Weight::Regular);
    let letters: BTreeSet<char> = all.flat_map(str::chars).filter(lacks).collect();
    let told: String = letters.iter().take(20).collect();
    (!letters.is_empty()).then(|| {
        format!("No file can be made: the program's font has no {told} and shows \u{25a1} here. Write it otherwise in the panel's file.")
    })
}

/// The whole state.
pub fn state(s: &Session) -> Value {
    let panel = &s.panel;
    let (drawing, scale, shift) = to_lay_out(panel, &s.findings.list, WIDE);
    let says = "Every item of the panel can be chosen below the view, by Tab.";
    let (view, problem) = match svg::inline(&drawing, 0, "view-", &panel.name, says) {
        Ok(view) => (view, lacking(panel)),
        Err(e) => (String::new(), Some(format!("The panel cannot be drawn here: {e}"))),
    };
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
                "together": panel.together.iter().position(|g| g.contains(&k)),
                "x": print_length(i.at.x, panel.unit), "y": print_length(i.at.y, panel.unit),
                "provision": i.provision, "elsewhere": i.id.contains(':'), "label": i.kind == SubjectKind::Label, "held": i.kind == SubjectKind::Unit,
                "box": [b.x0, b.y0, b.x1, b.y1], "verdict": verdict.word(),
            }))
        })
        .collect();
    // openings that are there already, by their middle: a hand comes to rest on them
    let olds: Vec<Value> = panel
        .subjects
        .iter()
        .filter(|s| s.kind == SubjectKind::OldOpening)
        .filter_map(|s| {
            let area = |p: &crate::panel::Part| p.contour.bounds().area();
            let c = s.parts.iter().max_by(|a, b| area(a).total_cmp(&area(b)))?.contour.bounds().center();
            Some(json!({ "id": s.id, "at": [c.x, c.y] }))
        })
        .collect();
    let (undo, redo) = s.steps();
    let sheet = panel.sheets.first().map(|s| s.outline.bounds()).unwrap_or_default();
    json!({
        "kind": "state", "revision": s.revision, "name": panel.name, "file": s.path(), "unit": panel.unit.name(),
        "changed": s.is_changed(), "undo": undo, "redo": redo, "offer": s.offer(), "conflict": s.is_changed_on_disk(),
        "view": { "svg": view, "scale": scale, "shift": [shift.x, shift.y], "width": size.0, "height": size.1, "problem": problem },
        "sheet": [sheet.x0, sheet.y0, sheet.x1, sheet.y1], "items": items, "olds": olds,
        "sheets": panel.sheets.iter().map(|s| s.id.as_str()).collect::<Vec<_>>(),
        "findings": s.findings.list.iter().map(|f| finding(panel, f)).collect::<Vec<_>>(),
        "counts": counts(&s.findings),
    })
}
