//! One instrument on a plain sheet of its own, for a picture of it.

use super::catalogue::{Catalogue, Shelf};
use super::chain::ReadFile;
use super::scene::{Scene, Stand};
use super::tolerance::Room;
use super::{assemble, merge};
use crate::define::panel::Placed;
use crate::diag::{Problem, Problems, Where};
use crate::files::{Disk, Files};
use crate::geom::Point;
use crate::panel::{Panel, State, SubjectKind};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Room around the instrument, mm.
const AROUND: f64 = 30.0;

/// The panel; the only error is a definition that cannot be read.
pub(super) fn sample(catalogue: &Catalogue, name: &str) -> Result<Panel, Problems> {
    let mut problems = Problems::new();
    let files = Disk::new("");
    let mut shelf = Shelf::new(catalogue, &files as &dyn Files);
    let nowhere = Where { file: "".into(), start: 0, end: 0, line: 1, column: 1 };
    let entry = shelf.get(name, &nowhere, &mut problems);
    let Some(entry) = entry.filter(|_| problems.is_empty()) else { return Err(placeless(&problems)) };
    let boxes = entry.built.parts.iter().map(|p| p.contour.bounds());
    let b = boxes.reduce(|a, b| a.union(b)).unwrap_or_default().inflate(AROUND, AROUND);
    let text: Arc<str> = format!(
        "{{ \"format\": 1, \"panel\": {}, \"unit\": \"mm\", \"sheet\": {{ \"thickness\": 2, \"outline\": \
         \"M {:.3} {:.3} H {:.3} V {:.3} H {:.3} Z\" }} }}",
        serde_json::Value::from(entry.def.title.value.as_ref()),
        b.x0,
        b.y0,
        b.x1,
        b.y1,
        b.x0
    )
    .into();
    let Some(def) = crate::define::read_panel(name, &text, &mut problems) else { return Err(problems) };
    let read = [ReadFile { text, def }];
    let Some(merged) = merge::merge(&read, &mut problems) else { return Err(problems) };
    let mut outlines = Vec::new();
    let mut scene = Scene {
        merged: &merged,
        shelf: &mut shelf,
        files: &files,
        outlines: &mut outlines,
        problems: &mut problems,
        before: None,
        stood: &[],
        sheets: Vec::new(),
        subjects: Vec::new(),
        room: Room::new(None, None),
        remarks: Vec::new(),
        error: 0.0,
        layer_openings: Vec::new(),
        index: BTreeMap::new(),
    };
    scene.build_sheets();
    if !scene.problems.is_empty() {
        return Err(problems);
    }
    let stand = Stand { at: Point::ORIGIN, turn: 0.0, mirrored: false, sheet: 0 };
    let place = entry.def.place.clone();
    let title = entry.def.title.value.to_string();
    let (kind, state) = (SubjectKind::Placement, State::New);
    let placed = Placed::default();
    let id = name.rsplit('/').next().unwrap_or(name).trim_end_matches(".json");
    let subject = scene.instrument(id, kind, title, &stand, &entry.built, state, &placed, &place);
    scene.subjects.push(subject);
    let Scene { sheets, subjects, .. } = scene;
    Ok(assemble::plain(&merged, name, sheets, subjects))
}

/// The same problems; those of an unknown name are about no place in a file.
fn placeless(problems: &Problems) -> Problems {
    let mut all = Problems::new();
    if problems.sorted().iter().all(|p| p.place.as_ref().is_none_or(|w| !w.file.is_empty())) {
        return problems.clone();
    }
    for p in problems.sorted() {
        let place = p.place.clone().filter(|w| !w.file.is_empty());
        all.push(Problem { place, ..p.clone() });
    }
    all
}
