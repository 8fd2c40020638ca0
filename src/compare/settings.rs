//! What both panels say besides items and metal: tilt, eye, place in the aeroplane, process, limits, accepted findings,
//! and what is there already; and where their data differ by a shift alone.

use super::items;
use super::openings::{COINCIDE, coincide};
use crate::geom::{SLACK, Transform, Vec2, length};
use crate::panel::{Compensates, Panel, ProcessKind, State, SubjectKind};
use std::borrow::Cow;
use std::collections::BTreeMap;

/// Something said of a panel that differs.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// What it is about.
    pub what: String,
    /// What was said and what is said now; `None`: nothing.
    pub said: [Option<String>; 2],
}

/// All that differs, by what it is about.
pub fn settings(old: &Panel, new: &Panel) -> Vec<Setting> {
    let mut all: BTreeMap<String, [Option<String>; 2]> = BTreeMap::new();
    for (k, panel) in [old, new].into_iter().enumerate() {
        for (what, said) in of(panel) {
            all.entry(what).or_default()[k] = Some(said);
        }
    }
    // what is said of an item or a sheet that only one of them has is told with that one
    let [was, now] = [items(old), items(new)];
    for (id, a) in &was {
        let Some(b) = now.get(id) else { continue };
        let words = |s: &crate::panel::Subject| {
            let state = match (s.provision, s.state) {
                (true, _) => "a provision",
                (false, State::Existing) => "there already",
                (false, State::New) => "new",
            };
            Some(state.to_string())
        };
        let item =
            |k: SubjectKind| matches!(k, SubjectKind::Placement | SubjectKind::Unit | SubjectKind::Insert);
        if item(a.kind) && item(b.kind) {
            all.insert(format!("state of {id}"), [words(a), words(b)]);
        }
    }
    for a in &old.sheets {
        let Some(b) = new.sheets.iter().find(|b| b.id == a.id) else { continue };
        let words = |new: bool| Some(if new { "new" } else { "there already" }.to_string());
        all.insert(format!("sheet {}", a.id), [words(a.new), words(b.new)]);
    }
    let differs = all.into_iter().filter(|(_, [a, b])| a != b);
    differs.map(|(what, said)| Setting { what, said }).collect()
}

/// A number without what arithmetic leaves behind.
fn number(v: f64) -> String {
    let v = (v * 1e4).round() / 1e4;
    format!("{}", if v == 0.0 { 0.0 } else { v })
}

fn of(panel: &Panel) -> Vec<(String, String)> {
    let mut out: Vec<(String, String)> = Vec::new();
    let mut tell = |what: &str, said: Option<String>| out.extend(said.map(|s| (what.to_string(), s)));
    tell("tilt", panel.tilt.map(|t| format!("{} degrees", number(t))));
    tell("eye to panel", panel.eye_distance.map(|d| format!("{} mm", number(d))));
    let place = panel.space.airframe.map(|a| {
        let [s, b, w] = [a.station, a.butt_line, a.water_line].map(number);
        format!("station {s}, butt line {b}, water line {w} mm")
    });
    tell("datum in the aeroplane", place);
    if let Some(p) = &panel.process {
        let kind = match p.kind {
            ProcessKind::Hand => "by hand",
            ProcessKind::Punch => "punch",
            ProcessKind::Router => "router",
            ProcessKind::Waterjet => "waterjet",
            ProcessKind::Laser => "laser",
        };
        let compensates = match p.compensates {
            Compensates::Cutter => "the shop's machine",
            Compensates::File => "the file",
        };
        tell("process", Some(kind.into()));
        tell("radius of the tool", p.tool_radius.map(|r| format!("{} mm", number(r))));
        tell("width of the cut", p.kerf.map(|k| format!("{} mm", number(k))));
        tell("who allows for the width of the cut", Some(compensates.into()));
        tell("tolerance of the cut", Some(format!("{} mm per side", number(p.tolerance.0))));
    }
    out.extend(panel.limits.iter().map(|(rule, l)| (format!("limit of {rule}"), number(l.value))));
    out.extend(panel.accepted.iter().map(|a| (format!("accepted {}", a.finding), format!("by {}", a.by))));
    out
}

/// By how much the second panel's datum is shifted where that is all: the main sheet has the same outline somewhere else,
/// and at least half of the items of both moved with it.
pub fn shifted(old: &Panel, new: &Panel) -> Option<Vec2> {
    let (a, b) = (old.sheets.first()?, new.sheets.first()?);
    let [from, to] = [a, b].map(|s| s.outline.bounds());
    let by = Vec2::new(to.x0 - from.x0, to.y0 - from.y0);
    if length(by) <= COINCIDE || !coincide(&a.outline, &Transform::shift(-by).contour(&b.outline)) {
        return None;
    }
    let [was, now] = [items(old), items(new)];
    let both: Vec<Vec2> = was.iter().filter_map(|(id, s)| Some(now.get(id)?.at - s.at)).collect();
    let along = both.iter().filter(|moved| length(**moved - by) <= COINCIDE).count();
    (along > 0 && 2 * along >= both.len()).then_some(by)
}

/// The second panel as seen from the datum of the first: sheets and items alone are moved, as far as a comparison and a
/// view of it look at them.
pub fn on_one_datum<'a>(old: &Panel, new: &'a Panel) -> (Option<Vec2>, Cow<'a, Panel>) {
    let Some(by) = shifted(old, new).filter(|by| length(*by) > SLACK) else {
        return (None, Cow::Borrowed(new));
    };
    let mut moved = new.clone();
    for k in 0..moved.subjects.len() {
        moved.shift(k, -by);
    }
    for s in &mut moved.sheets {
        s.outline = Transform::shift(-by).contour(&s.outline);
    }
    (Some(by), Cow::Owned(moved))
}
