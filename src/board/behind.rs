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
use crate::panel::{Panel, State};
use crate::units::print_length;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::sync::{Arc, Mutex, PoisonError};

/// Widths and heights of a section that are answered, mm.
const ROOM: (f64, f64) = (20.0, 1000.0);

/// Media type of what is told as JSON.
const JSON: &str = "application/json";

/// Of so many revisions it is known which solids a page got.
const KNOWN: usize = 8;

/// Sums of the meshes that were told of the newest revisions, in their order: a page that has one of them gets what differs.
#[derive(Clone, Default)]
pub struct Told(Arc<Mutex<BTreeMap<u64, Vec<String>>>>);

impl Told {
    fn of(&self, revision: Option<u64>) -> Vec<String> {
        let all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        revision.and_then(|r| all.get(&r)).cloned().unwrap_or_default()
    }

    fn keep(&self, revision: u64, sums: Vec<String>) {
        let mut all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        all.insert(revision, sums);
        while all.len() > KNOWN {
            all.pop_first();
        }
    }
}

/// Makes what a name asks for: `solids/REVISION` (that which the page has, or `-`), or `section/REVISION/SUBJECT/upright|level/AT/WIDTH/HEIGHT`, where SUBJECT is a number or
/// `-` and AT a length in mm or `-` for the item's middle. `None`: there is no such thing.
pub fn made(s: &Session, name: &str) -> Option<Work> {
    let mut words = name.split('/');
    match words.next()? {
        "solids" => {
            let had = words.next()?.parse::<u64>().ok();
            let (panel, findings, revision) = (s.panel.clone(), s.findings.list.clone(), s.revision);
            let told = s.solids.clone();
            Some(Box::new(move || Ok(solids(&panel, &findings, revision, had, &told))))
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

/// All solids, or those that are otherwise than at the revision `had`: the length of the head in four bytes, the head (JSON),
/// then the numbers of the meshes.
fn solids(panel: &Panel, findings: &[Finding], revision: u64, had: Option<u64>, told: &Told) -> Made {
    let mechanism = &panel.space.mechanism;
    // in the zero pose; the page moves each link by the matrix that is told of it
    let model = model(panel, findings, &vec![0.0; mechanism.drivers.len()]);
    let all = shown(&model);
    let sums = all.sums();
    let Shown { meshes, data, solids, refused } = all.but(&told.of(had));
    told.keep(revision, sums);
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
        "kinds": kinds, "sheets": [sheets.x0, sheets.y0, sheets.x1, sheets.y1],
        "worst": worst(panel, findings, false), "worst-staying": worst(panel, findings, true),
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

/// The finding about a control that leaves it the least room over its whole travel, what meets first: of what is new, moved or
/// enlarged, or, with `staying`, between things that are there both and stay.
fn worst(panel: &Panel, findings: &[Finding], staying: bool) -> Option<String> {
    let stays =
        |f: &Finding| std::iter::once(f.a).chain(f.b).all(|r| panel.subject(r).state == State::Existing);
    let of = |f: &&Finding| stays(f) == staying;
    let room = |f: &&Finding| {
        let s = f.space.as_ref()?;
        s.pose.as_ref().filter(|p| !p.is_empty())?;
        // what is withheld has no number of its own, but the points that were found
        Some(f.measured.map_or((s.points[1] - s.points[0]).length(), |m| m.lower))
    };
    let all = findings.iter().filter(of).filter_map(|f| Some((f, room(&f)?)));
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::{Options, check};
    use crate::edit::Edit;
    use crate::resolve::Catalogue;
    use crate::units::{Length, Unit};

    /// A knob, a ball of 20 mm, pushed by up to 60 mm towards a ball of 20 mm that stays: 80 mm apart at rest. Beside its way a
    /// new vent.
    const PANEL: &str = r#"{ "format": 1, "panel": "Push", "unit": "mm",
"sheet": { "thickness": 2, "material": "6061-T6", "new": true, "outline": "M 0 0 H 400 V 150 H 0 Z" },
"place": [ { "id": "vent", "instrument": "vent/60mm", "at": [60, 75] }, { "id": "far", "instrument": "vent/60mm", "at": [320, 75] } ],
"obstacles": [ { "id": "stay", "kind": "bracket", "solids": [ { "ball": 20, "centre": [120, 75, 100] } ] } ],
"drivers": [ { "id": "push", "kind": "slide", "from": 0, "to": 60, "over": [0, 0] } ],
"controls": [ { "id": "knob", "kind": "lever", "links": [ { "id": "rod", "slide": [0, 0, 1], "follows": { "push": -1 }, "allowance": 0,
  "solids": [ { "ball": 20, "centre": [120, 75, 200] } ] } ] } ] }"#;

    fn session(name: &str) -> (Session, std::path::PathBuf) {
        let folder = std::env::temp_dir().join(format!("panelwright-behind-{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&folder);
        std::fs::create_dir_all(&folder).unwrap();
        let file = folder.join("p.json");
        std::fs::write(&file, PANEL).unwrap();
        (Session::open(file.to_str().unwrap(), Catalogue::builtin()).unwrap(), folder)
    }

    /// The head of an answer, and how many bytes of numbers follow it.
    fn head(s: &Session, name: &str) -> (Value, usize) {
        let bytes = made(s, name).unwrap()().unwrap().bytes;
        let length = u32::from_le_bytes(bytes[..4].try_into().unwrap()) as usize;
        (serde_json::from_slice(&bytes[4..4 + length]).unwrap(), bytes.len() - 4 - length)
    }

    #[test]
    fn the_gap_at_a_pose_is_that_between_two_balls() {
        let (s, folder) = session("gap");
        for (push, stands) in [(0.0, 0.0), (50.0, 50.0), (60.0, 60.0), (500.0, 60.0), (-7.0, 0.0)] {
            let a = pose(&s, &json!({ "n": 3, "drivers": [push], "gap": true }));
            let own = a.own.unwrap();
            assert_eq!(
                (&own["n"], own["drivers"][0].as_f64()),
                (&json!(3), Some(stands)),
                "no further than its travel"
            );
            // forward is away from the pilot: the rod comes nearer by as much
            assert_eq!(own["matrices"][0][14].as_f64(), Some(stands));
            let told = a.later.unwrap()();
            if 80.0 - stands > LOOKED {
                assert!(
                    told["gap"].is_null() && told["words"].as_str().unwrap().contains("nothing within"),
                    "{told}"
                );
                continue;
            }
            // centres 100 mm apart less the way, less two radii of 10 mm
            let (low, high) = (told["gap"].as_f64().unwrap(), told["upper"].as_f64().unwrap());
            assert!(
                low <= 80.0 - stands + 1e-9 && 80.0 - stands <= high + 1e-9 && high - low < 1e-3,
                "{told}"
            );
            let d = |k: usize| -told["points"][k][2].as_f64().unwrap();
            let mut ends = [d(0), d(1)];
            ends.sort_by(f64::total_cmp);
            assert!((ends[0] - 110.0).abs() < 1e-3 && (ends[1] - (190.0 - stands)).abs() < 1e-3, "{told}");
        }
        let other = pose(&s, &json!({ "n": 4, "drivers": [1, 2], "gap": true }));
        assert!(
            other.own.unwrap()["matrices"].is_null() && other.later.is_none(),
            "drivers of another panel"
        );
        std::fs::remove_dir_all(folder).unwrap();
    }

    #[test]
    fn what_is_new_and_what_stays_have_a_least_clearance_each() {
        let (s, folder) = session("worst");
        let findings = check(&s.panel, &Options::default()).list;
        let new = worst(&s.panel, &findings, false).unwrap();
        let stays = worst(&s.panel, &findings, true).unwrap();
        assert!(new.contains("knob") && new.contains("vent") && !new.contains("stay"), "{new}");
        assert!(stays.contains("knob") && stays.contains("stay") && !stays.contains("vent"), "{stays}");
        std::fs::remove_dir_all(folder).unwrap();
    }

    #[test]
    fn after_an_edit_only_what_is_otherwise_is_told() {
        let (mut s, folder) = session("solids");
        let (all, bytes) = head(&s, "solids/-");
        let names = |v: &Value| -> Vec<String> {
            v["meshes"]
                .as_array()
                .unwrap()
                .iter()
                .map(|m| m["id"].as_str().unwrap_or("").to_owned())
                .collect()
        };
        let had = names(&all);
        assert!(["vent", "far", "stay", "knob"].iter().all(|id| had.iter().any(|h| h == id)), "{had:?}");
        let (same, none) = head(&s, &format!("solids/{}", s.revision));
        assert_eq!(none, 0);
        assert!(same["meshes"].as_array().unwrap().iter().enumerate().all(|(k, m)| m["had"] == k), "{same}");
        let revision = s.revision;
        let at = ["330", "75"].map(|t| Length::parse(t, Some(Unit::Millimetre)).unwrap());
        s.edit(&Edit::Put { id: "far".into(), at }).unwrap();
        let (now, some) = head(&s, &format!("solids/{revision}"));
        assert!(some > 0 && some < bytes, "{some} of {bytes}");
        for (k, m) in now["meshes"].as_array().unwrap().iter().enumerate() {
            let id = had[k].as_str();
            // the sheet's opening moved with it
            let otherwise = id == "far" || id == "sheet";
            assert_eq!(m["had"].is_null(), otherwise, "{id}: {m}");
        }
        // a revision that nobody remembers: all of it
        assert_eq!(head(&s, "solids/77").1, head(&s, "solids/-").1);
        std::fs::remove_dir_all(folder).unwrap();
    }

    #[test]
    fn a_section_is_made_of_the_revision_that_the_page_shows() {
        let (s, folder) = session("section");
        let r = s.revision;
        let k = s.panel.find("vent").unwrap();
        let told = |name: &str| -> Value {
            serde_json::from_slice(&made(&s, name).unwrap()().unwrap().bytes).unwrap()
        };
        let cut = told(&format!("section/{r}/{k}/upright/-/60/40"));
        assert!(cut["line"].as_str().unwrap().contains("60 mm"), "through its middle: {cut}");
        assert_eq!(told(&format!("section/{}/{k}/upright/-/60/40", r + 1)), json!({ "stale": true }));
        for wrong in [
            "".to_string(),
            "else".into(),
            "solids".into(),
            format!("section/{r}/999/upright/-/60/40"),
            format!("section/{r}/{k}/sideways/-/60/40"),
            format!("section/{r}/{k}/level/nan/60/40"),
            format!("section/{r}/{k}/level/-/1e9/40"),
            format!("section/{r}/{k}/level/-/60"),
        ] {
            assert!(made(&s, &wrong).is_none(), "{wrong}");
        }
        std::fs::remove_dir_all(folder).unwrap();
    }
}
