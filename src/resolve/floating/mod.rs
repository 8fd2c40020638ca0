//! Panels that float on shock mounts in or before openings of this one: each is a whole panel with a file of its
//! own, resolved by itself and laid in.
//!
//! What stands on it is called by the floating panel's id, a colon, and its own: no file can give such a name to
//! anything else. It moves as one, as a rigid group; the carrier is group 0.

mod lay;

use super::assemble;
use super::catalogue::Shelf;
use super::chain::{self, ReadFile, normal};
use super::merge::{From, Merged};
use super::scene::{Scene, Stand, number};
use super::shape;
use crate::define::panel::{Floating, FloatsIn};
use crate::diag::{Problem, Problems, Where, did_you_mean};
use crate::files::{Files, beside};
use crate::geom::Point;
use crate::panel::{Class, Classes, Detail, Group, Make, Panel, PartRef, SubjectKind, Sway};
use std::sync::Arc;

/// What the laying in of a panel works with.
pub(super) struct Work<'w, 'a> {
    pub files: &'a dyn Files,
    /// Names of the files of the panel at hand and of all that it floats in.
    pub ring: &'w [String],
    pub shelf: &'w mut Shelf<'a>,
    pub outlines: &'w mut Vec<(String, Arc<str>)>,
    pub problems: &'w mut Problems,
}

impl Scene<'_, '_> {
    /// The new openings of this sheet in which panels float.
    pub fn floating_openings(&mut self) {
        let m: &Merged<'_> = self.merged;
        for from in &m.floating {
            let Some(FloatsIn::New(said)) = &from.def.opening else { continue };
            let Some(flat) = shape::flat(said, m.unit(from.file), self.problems) else { continue };
            self.note_error(flat.error);
            let def = from.def;
            let stand = Stand { at: shape::point(&def.at), turn: 0.0, mirrored: false, sheet: 0 };
            let id = opening_id(def);
            let state = self.state(&id, from.file, None, &stand, "", &def.place);
            let title = format!("opening for the floating panel {}", def.id.value);
            let index = self.subjects.len();
            let mut s = self.subject(&id, SubjectKind::Insert, title, stand.at, 0, state, &def.place);
            let contour = stand.transform().contour(&flat.contour);
            let centre = contour.as_circle().map_or_else(|| contour.bounds().center(), |(c, _)| c);
            let mut part =
                self.file_part("cutout", Class::Cutout, contour, centre, 0, state, index, &def.place);
            part.detail = Detail::Cutout { make: Make::Drawing };
            s.parts.push(part);
            self.subjects.push(s);
        }
    }
}

fn opening_id(def: &Floating) -> String {
    format!("{}:opening", def.id.value)
}

/// Lays in all panels that float in this one.
pub(super) fn lay_in(mut panel: Panel, merged: &Merged<'_>, work: &mut Work<'_, '_>) -> Panel {
    for from in &merged.floating {
        one(&mut panel, from, merged, work);
    }
    panel
}

fn one(panel: &mut Panel, from: &From<'_, Floating>, merged: &Merged<'_>, work: &mut Work<'_, '_>) {
    let def = from.def;
    let Some(inner) = read(def, work) else { return };
    if !inner.space.groups.is_empty() {
        let message = format!("`{}` floats, and another panel floats in it", def.id.value);
        let help = "lay both in this panel, each by itself";
        work.problems.push(Problem::new("floats-in-floating", &def.panel.place, message).help(help));
        return;
    }
    if let (Some(a), Some(b)) = (panel.tilt, inner.tilt)
        && a != b
    {
        let message = format!("`{}` leans by {b} degrees and this panel by {a}", def.id.value);
        let help = "a floating panel is laid in parallel to its carrier: give both the same \"tilt\"";
        work.problems.push(Problem::new("other-tilt", &def.panel.place, message).help(help));
    }
    let opening = opening(panel, def, merged, work.problems);
    let at = shape::point(&def.at);
    on_sheets(panel, &inner, def, at, work.problems);
    let sway = def.sway.as_ref().map(|s| Sway {
        left: s.left.value.mm(),
        right: s.right.value.mm(),
        up: s.up.value.mm(),
        down: s.down.value.mm(),
        forward: s.forward.value.mm(),
        aft: s.aft.value.mm(),
    });
    let droop = def.droop.as_ref().map(|d| d.value.degrees());
    if let Some(d) = def.droop.as_ref().filter(|d| !(0.0..=45.0).contains(&d.value.degrees())) {
        let message = format!("a floating panel does not droop by {} degrees", d.value.degrees());
        let help = "write by how many degrees the rear of what it carries drops, at least 0 and at most 45";
        work.problems.push(Problem::new("out-of-range", &d.place, message).help(help));
    }
    if panel.space.groups.is_empty() {
        panel.space.groups.push(Group {
            id: "sheet".into(),
            sheet: 0,
            opening: None,
            sway: None,
            sag: None,
            droop: None,
            limits: panel.limits.clone(),
            process: panel.process.clone(),
            depth: panel.depth.clone(),
            place: merged.outer.span.clone(),
        });
    }
    let place = lay::Place {
        id: &def.id.value,
        by: crate::solid::Vec3::new(at.x, at.y, -def.stand_off.value.mm()),
        said: &def.panel.place,
    };
    let group = Group {
        id: def.id.value.to_string(),
        sheet: panel.sheets.len(),
        opening,
        sway,
        sag: def.sag.as_ref().map(|s| s.value.mm()),
        droop,
        limits: inner.limits.clone(),
        process: inner.process.clone(),
        depth: Default::default(),
        place: def.place.clone(),
    };
    lay::into(panel, inner, group, &place, work.problems);
}

/// Reads and resolves the floating panel's own file.
fn read(def: &Floating, work: &mut Work<'_, '_>) -> Option<Panel> {
    let path = beside(&def.panel.place.file, &def.panel.value);
    let key = normal(&path);
    let refuse = |code, message: String, help: &str, problems: &mut Problems| {
        problems.push(Problem::new(code, &def.panel.place, message).help(help));
    };
    if path.is_empty() {
        let message = format!("\"panel\" names a folder, no file: \"{}\"", def.panel.value);
        refuse("no-file", message, "write the name of the floating panel's file", work.problems);
        return None;
    }
    if work.ring.contains(&key) {
        let message =
            format!("`{}` floats in itself: {key} is the file of a panel that carries it", def.id.value);
        refuse("floats-in-itself", message, "name the floating panel's own file", work.problems);
        return None;
    }
    if let Err(p) = work.files.read(&path) {
        let help = p
            .help
            .clone()
            .unwrap_or_else(|| "the name is taken from the folder of the file that says it".into());
        let place = p.place.clone().or(Some(def.panel.place.clone()));
        work.problems.push(Problem { place, ..p }.help(help));
        return None;
    }
    let chain = chain::read(&path, work.files, work.problems)?;
    for file in &chain {
        let name = file.name();
        if !work.outlines.iter().any(|(known, _)| *known == name) {
            work.outlines.push((name, file.text.clone()));
        }
    }
    // a file below may float the carrier
    let below = |f: &ReadFile| work.ring.contains(&f.name());
    if let Some(own) = chain.iter().find(|f| below(f) && !f.def.floating.is_empty()) {
        let message = format!("`{}` floats in itself: it builds on {}", def.id.value, own.name());
        refuse("floats-in-itself", message, "name the floating panel's own file", work.problems);
        return None;
    }
    assemble::chain(&path, &chain, work.files, work.ring, work.shelf, work.outlines, work.problems)
}

/// The opening in or before which it floats.
fn opening(panel: &Panel, def: &Floating, merged: &Merged<'_>, problems: &mut Problems) -> Option<PartRef> {
    let (id, place): (String, Option<&Where>) = match def.opening.as_ref()? {
        FloatsIn::New(_) => (opening_id(def), None),
        FloatsIn::Known(id) => (id.value.to_string(), Some(&id.place)),
    };
    let main = |k: usize| {
        panel.subjects[k].parts.iter().position(|p| p.sheet == 0 && Classes::OPENINGS.has(p.class))
    };
    if let Some((k, part)) = panel.find(&id).and_then(|k| Some((k, main(k)?))) {
        return Some(PartRef { subject: number(k), part: number(part) });
    }
    if let (Some(place), false) = (place, merged.unsure(&id.as_str().into())) {
        let openings = panel.subjects.iter().filter(|s| s.kind == SubjectKind::OldOpening);
        let help = match did_you_mean(&id, openings.map(|s| s.id.as_str())) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => "name an opening of this panel's sheet, or give the shape of a new one".into(),
        };
        let message = format!("there is no opening `{id}` in this panel's sheet");
        problems.push(Problem::new("unknown-id", place, message).help(help));
    }
    None
}

/// Tells mounts that stand beside the carrier's sheet or beside the floating one.
fn on_sheets(panel: &Panel, inner: &Panel, def: &Floating, at: Point, problems: &mut Problems) {
    let (Some(carrier), Some(own)) = (panel.sheets.first(), inner.sheets.first()) else { return };
    for mount in &def.mounts {
        let Some(s) = panel.find(&mount.id.value).and_then(|k| panel.subjects.get(k)) else { continue };
        let on_own = Point::ORIGIN + (s.at - at);
        let beside = match (carrier.outline.holds(s.at), own.outline.holds(on_own)) {
            (false, _) => "this panel's sheet",
            (true, false) => "the floating panel's sheet",
            (true, true) => continue,
        };
        let message = format!("the mount {} stands beside {beside}", mount.id.value);
        let help =
            "a shock mount joins both sheets: \"at\" counts from this panel's datum, to the right and up";
        problems.push(Problem::new("off-sheet", &mount.place, message).help(help));
    }
}
