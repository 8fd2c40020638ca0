//! The report for programs: every finding, unrounded, versioned.

use crate::check::{Finding, Findings, InSpace, Note, driver_unit};
use crate::diag::Problems;
use crate::panel::{Panel, Structure};
use crate::report::cure;
use crate::report::sentence::{limit_words, rule_unit};
use crate::report::{CAUTIONS, NOT_CHECKED};
use serde_json::{Value, json};

/// Version of the report's JSON.
pub const FORMAT: u32 = 1;

/// The whole report.
pub fn json(panel: &Panel, findings: &Findings) -> Value {
    let c = findings.counts();
    let cures = cure::all(panel, findings);
    let list: Vec<Value> = findings
        .list
        .iter()
        .enumerate()
        .map(|(k, f)| finding(panel, f, cures.get(&k).map_or(Value::Null, |c| cure::value(panel, c))))
        .collect();
    let ids: Vec<String> = findings.list.iter().map(|f| f.id(panel)).collect();
    let stale: Vec<&str> =
        panel.accepted.iter().filter(|a| !ids.contains(&a.finding)).map(|a| a.finding.as_str()).collect();
    let (structure, by) = match panel.sheets.first().map(|m| &m.structure) {
        Some((Structure::Yes, by)) => (json!(true), json!(by)),
        Some((Structure::No, by)) => (json!(false), json!(by)),
        _ => (Value::Null, Value::Null),
    };
    json!({
        "format": FORMAT,
        "panel": panel.name,
        "revision": panel.title.get("revision"),
        "inputs-sha256": panel.hash,
        "structure": { "answer": structure, "by": by, "approved-by": panel.title.get("approved-by") },
        "unit": "mm",
        "counts": { "fail": c.fail, "tight": c.tight, "withheld": c.withheld, "pass": c.pass, "existing-shortfalls": c.stays },
        "findings": list,
        "accepted-stale": stale,
        "remarks": panel.remarks,
        "not-checked": NOT_CHECKED,
        "cautions": CAUTIONS,
    })
}

fn finding(panel: &Panel, f: &Finding, cure: Value) -> Value {
    let id = f.id(panel);
    let a = panel.part(f.a);
    let accepted: Vec<Value> = panel
        .accepted
        .iter()
        .filter(|x| x.finding == id)
        .map(|x| json!({ "because": x.because, "by": x.by }))
        .collect();
    let (note, waits, says) = match &f.note {
        Note::None => (Value::Null, Value::Null, Value::Null),
        Note::Contact => (json!("contact"), Value::Null, Value::Null),
        Note::BothStay => (json!("both-stay"), Value::Null, Value::Null),
        Note::Waits(w) => (json!("waits"), json!(w), Value::Null),
        Note::Says(t) => (json!("says"), Value::Null, json!(t)),
    };
    let place = |p: &crate::diag::Where| json!({ "file": &*p.file, "line": p.line, "column": p.column });
    json!({
        "id": id,
        "rule": f.rule.id,
        "verdict": f.verdict.word(),
        "subjects": [panel.part_name(f.a), f.b.map(|b| panel.part_name(b))],
        "quantity": rule_unit(f.rule.limit),
        "measured": f.measured.map(|m| json!({ "lower": m.lower, "upper": m.upper })),
        "asked": f.asked,
        "margin": f.margin(),
        "tolerance-loss": f.loss,
        "witness": [[f.at[0].x, f.at[0].y], [f.at[1].x, f.at[1].y]],
        "in-space": f.space.as_ref().map(|s| in_space(panel, s)),
        "note": note,
        "waits-for": waits,
        "says": says,
        "source": { "standing": f.rule.source.standing.words(), "title": f.rule.source.title },
        "your-limit": f.asks(panel).own.map(|u| json!({ "written": u.written, "because": u.because,
            "in-place-of": limit_words(f.rule.limit) })),
        "places": [place(&a.place), f.b.map(|b| place(&panel.part(b).place))],
        "accepted": accepted,
        "cure": cure,
    })
}

/// Where in space: witness points (x, y, d), and where something moves the drivers with their values.
fn in_space(panel: &Panel, s: &InSpace) -> Value {
    let driver = |(k, v): &(usize, f64)| {
        let d = panel.space.mechanism.drivers.get(*k)?;
        Some(json!({ "driver": d.id, "value": v, "unit": driver_unit(d.kind) }))
    };
    let pose = s.pose.as_ref().map(|p| p.iter().filter_map(driver).collect::<Vec<Value>>());
    json!({ "witness": s.points.map(|p| [p.x, p.y, p.d]), "pose": pose })
}

/// Problems of the input, for a program that asked for JSON.
pub fn problems_json(p: &Problems) -> Value {
    json!({ "format": FORMAT, "problems": p.to_json() })
}
