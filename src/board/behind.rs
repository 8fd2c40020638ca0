//! What is behind the panel, for the page: the section through an item, all solids, where the controls stand and how near
//! they come. Worked out of copies: a hand on the sheet does not wait for it.

use super::answer::Answer;
use super::made::{Made, Work};
use super::session::Session;
use crate::check::{Finding, InSpace, LOOKED, driver_unit, nearest_at, pose_words};
use crate::draw::behind::{View, alone};
use crate::draw::solids::{Kind, model};
use crate::export::solids::{Shown, matrix, shown};
use crate::export::svg;
use crate::panel::Panel;
use crate::units::print_length;
use serde_json::{Value, json};
use std::fmt::Write as _;

/// Widths and heights of a section that are answered, mm.
const ROOM: (f64, f64) = (20.0, 1000.0);

/// Media type of what is told as JSON.
const JSON: &str = "application/json";

/// Makes what a name asks for: `solids`, or `section/REVISION/SUBJECT/upright|level/AT/WIDTH/HEIGHT`, where SUBJECT is a number or
/// `-` and AT a length in mm or `-` for the item's middle. `None`: there is no such thing.
pub fn made(s: &Session, name: &str) -> Option<Work> {
    let mut words = name.split('/');
    match words.next()? {
        "solids" => {
            let (panel, findings, revision) = (s.panel.clone(), s.findings.list.clone(), s.revision);
            Some(Box::new(move || Ok(solids(&panel, &findings, revision))))
        }
        "section" => {
            let mut word = || words.next();
            // numbers of subjects are those of one revision: the page hears of the new one and asks again
            if word()?.parse::<u64>().ok()? != s.revision {
                return Some(Box::new(|| {
                    Ok(Made { name: None, kind: JSON, bytes: b"{\"stale\":true}".to_vec() })
                }));
            }
            let subject = match word()? {
                "-" => None,
                n => Some(n.parse::<usize>().ok().filter(|k| *k < s.panel.subjects.len())?),
            };
            let upright = match word()? {
                "upright" => true,
                "level" => false,
                _ => return None,
            };
            let at = match word()? {
                "-" => None,
                n => Some(number(n, (-1e5, 1e5))?),
            };
            let room = (number(word()?, ROOM)?, number(word()?, ROOM)?);
            let view = View { subject, upright, at, room };
            let (panel, findings, revision) = (s.panel.clone(), s.findings.list.clone(), s.revision);
            Some(Box::new(move || section(&panel, &findings, revision, view)))
        }
        _ => None,
    }
}

fn number(word: &str, (low, high): (f64, f64)) -> Option<f64> {
    word.parse::<f64>().ok().filter(|v| *v >= low && *v <= high)
}

fn section(panel: &Panel, findings: &[Finding], revision: u64, view: View) -> Result<Made, String> {
    let cut = alone(panel, findings, view).map_err(|e| e.to_string())?;
    let says = format!("{}. {}", cut.seen, cut.least.as_deref().unwrap_or(""));
    let svg = svg::inline(&cut.drawing, 0, "cut-", &cut.line, &says).map_err(|e| e.to_string())?;
    let size = cut.drawing.pages.first().map_or((0.0, 0.0), |p| (p.width, p.height));
    let told = json!({
        "revision": revision, "svg": svg, "width": size.0, "height": size.1, "line": cut.line, "seen": cut.seen,
        "least": cut.least, "lacking": cut.lacking, "scale": cut.scale, "shift": [cut.shift.x, cut.shift.y],
    });
    Ok(Made { name: None, kind: JSON, bytes: told.to_string().into_bytes() })
}

/// All solids: the length of the head in four bytes, the head (JSON), then the numbers of the meshes.
fn solids(panel: &Panel, findings: &[Finding], revision: u64) -> Made {
    let mechanism = &panel.space.mechanism;
    // in the zero pose; the page moves each link by the matrix that is told of it
    let model = model(panel, findings, &vec![0.0; mechanism.drivers.len()]);
    let Shown { meshes, data, solids, refused } = shown(&model);
    let drivers: Vec<Value> = mechanism
        .drivers
        .iter()
        .map(|d| {
            let (low, high) = d.domain();
            json!({
                "id": d.id, "unit": driver_unit(d.kind), "low": low, "high": high, "rest": d.neutral,
                "stops": [d.stops.0, d.stops.1], "over": d.over.is_some(),
            })
        })
        .collect();
    let sheets =
        panel.sheets.iter().map(|s| s.outline.bounds()).reduce(|a, b| a.union(b)).unwrap_or_default();
    let kinds: Value = Kind::ALL
        .iter()
        .map(|k| (k.word().to_owned(), json!(k.lightness())))
        .collect::<serde_json::Map<_, _>>()
        .into();
    let mut left_out = model.left_out;
    left_out.extend(refused);
    let head = json!({
        "revision": revision, "title": model.title, "solids": solids, "meshes": meshes, "left-out": left_out,
        "drivers": drivers, "links": mechanism.links.len(), "matrices": matrices(panel, &mechanism.neutral()),
        "kinds": kinds, "sheets": [sheets.x0, sheets.y0, sheets.x1, sheets.y1], "worst": worst(panel, findings),
    });
    let mut text = head.to_string().into_bytes();
    // numbers begin at a multiple of four
    text.resize(text.len().next_multiple_of(4), b' ');
    let mut bytes = (text.len() as u32).to_le_bytes().to_vec();
    bytes.extend(text);
    bytes.extend(data);
    Made { name: None, kind: "application/octet-stream", bytes }
}

/// How each link has moved from the zero pose.
fn matrices(panel: &Panel, drivers: &[f64]) -> Vec<[f64; 16]> {
    let mechanism = &panel.space.mechanism;
    (0..mechanism.links.len()).map(|l| matrix(&mechanism.pose(l, drivers))).collect()
}

/// Where in space a finding was measured, in the space of the meshes, and the numbers of the drivers that move what it is about.
pub fn place(s: &InSpace) -> Value {
    let pose = s.pose.as_ref().map(|p| p.iter().map(|(k, v)| json!([k, v])).collect::<Vec<_>>());
    json!({ "points": s.points.map(Shown::point), "pose": pose })
}

/// The finding about a control that leaves it the least room over its whole travel: what meets first.
fn worst(panel: &Panel, findings: &[Finding]) -> Option<String> {
    let room = |f: &&Finding| {
        let s = f.space.as_ref()?;
        s.pose.as_ref().filter(|p| !p.is_empty())?;
        // what is withheld has no number of its own, but the points that were found
        Some(f.measured.map_or((s.points[1] - s.points[0]).length(), |m| m.lower))
    };
    let all = findings.iter().filter_map(|f| Some((f, room(&f)?)));
    all.min_by(|(_, a), (_, b)| a.total_cmp(b)).map(|(f, _)| f.id(panel))
}

/// Where the controls stand with every driver at its number, at once; where `gap` asks for it, how near they come to anything
/// there, when it is ready.
pub fn pose(s: &Session, m: &Value) -> Answer {
    let panel = &s.panel;
    let drivers = &panel.space.mechanism.drivers;
    let told: Option<Vec<f64>> = m["drivers"].as_array().and_then(|a| a.iter().map(Value::as_f64).collect());
    // another page may have changed the panel since: its next state brings the new drivers
    let Some(told) = told.filter(|t| t.len() == drivers.len()) else {
        return Answer {
            own: Some(json!({ "kind": "pose", "n": m["n"], "matrices": null })),
            changed: false,
            later: None,
        };
    };
    let numbers: Vec<f64> = told
        .iter()
        .zip(drivers)
        .map(|(v, d)| {
            let (low, high) = d.domain();
            v.max(low).min(high)
        })
        .collect();
    let own =
        json!({ "kind": "pose", "n": m["n"], "drivers": numbers, "matrices": matrices(panel, &numbers) });
    let later = (m["gap"] == true).then(|| {
        let (panel, n) = (panel.clone(), m["n"].clone());
        Box::new(move || gap(&panel, &n, &numbers)) as Box<dyn FnOnce() -> Value + Send>
    });
    Answer { own: Some(own), changed: false, later }
}

fn gap(panel: &Panel, n: &Value, drivers: &[f64]) -> Value {
    let all: Vec<(usize, f64)> = drivers.iter().copied().enumerate().collect();
    let pose = pose_words(panel, &all);
    let Some((own, near)) = nearest_at(panel, drivers) else {
        let mut words = String::new();
        let moves = panel.space.mechanism.links.is_empty();
        let _ = if moves {
            write!(words, "nothing of this panel moves")
        } else {
            write!(words, "nothing within {} of a control", print_length(LOOKED, panel.unit))
        };
        return json!({ "kind": "gap", "n": n, "pose": pose, "words": words, "gap": null, "points": null });
    };
    let (own, other) = (panel.part_name(own), panel.part_name(near.other));
    let words = if near.gap.lower <= 0.0 {
        format!("{own} and {other} meet")
    } else {
        format!("{}, {own} to {other}", print_length(near.gap.lower, panel.unit))
    };
    json!({
        "kind": "gap", "n": n, "pose": pose, "words": words, "gap": near.gap.lower, "upper": near.gap.upper,
        "between": [own, other], "points": near.points.map(Shown::point),
    })
}
