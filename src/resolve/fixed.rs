//! What stands by coordinates alone: holes of the sheet, seats of inserts, old openings, zones, depth.

use super::instrument::{HoleAt, Local, holes};
use super::merge::Merged;
use super::scene::{Scene, Stand};
use super::shape;
use super::sheets::{DATUM, Faces};
use super::spelling;
use crate::define::instrument::Holes;
use crate::define::panel::{Forbids as Said, LayerSide, OldOpening};
use crate::define::{Size, Text, Xy};
use crate::diag::{Where, Written};
use crate::geom::{Contour, Point};
use crate::panel::{Class, DepthArea, DepthMap, Detail, Forbids, Make, State, Subject, SubjectKind};
use crate::units::Angle;
use std::collections::BTreeSet;

fn degrees(turn: &Option<Written<Angle>>) -> Option<f64> {
    turn.as_ref().map(|t| t.value.degrees())
}

fn at(at: &Option<Xy>) -> Point {
    at.as_ref().map_or(DATUM, shape::point)
}

/// Centre of a shape for dimensions: a circle's own, else the middle of its box.
fn middle(contour: &Contour) -> Point {
    contour.as_circle().map_or_else(|| contour.bounds().center(), |(c, _)| c)
}

impl Scene<'_, '_> {
    /// Holes of the sheet itself.
    pub fn fixing_holes(&mut self) {
        let m: &Merged<'_> = self.merged;
        for (k, from) in m.holes.iter().enumerate() {
            let def = from.def;
            let id: Text =
                def.id.as_ref().map_or_else(|| format!("fixing-{}", k + 1).into(), |i| i.value.clone());
            let stand = Stand { at: DATUM, turn: 0.0, mirrored: false, sheet: 0 };
            let kept = def.exists.then_some(from.file);
            let state = self.state(&id, from.file, kept, &stand, "", &def.place);
            let mut s =
                self.subject(&id, SubjectKind::Insert, format!("holes {id}"), DATUM, 0, state, &def.place);
            let found = self.pattern(def, k, from.file, &mut s);
            let index = self.subjects.len();
            for h in found.iter().flat_map(|h| std::iter::once(h).chain(&h.rivets)) {
                for local in h.hole.iter().chain(&h.head).chain(&h.nut) {
                    let faces = self.faces(0, &local.contour);
                    let part = self.part(local, &stand, None, faces, state, index, &def.place);
                    s.parts.push(part);
                }
            }
            self.subjects.push(s);
        }
    }

    fn pattern(&mut self, def: &Holes, k: usize, file: usize, s: &mut Subject) -> Vec<HoleAt> {
        let Some(sources) = self.sources(file) else { return Vec::new() };
        holes(def, k, &sources, 0.0, false, &mut s.missing)
    }

    /// Each insert's opening and screws in the sheet that carries it, and its screw holes in itself.
    pub fn insert_seats(&mut self) {
        let m: &Merged<'_> = self.merged;
        for from in &m.inserts {
            let def = from.def;
            let Some(sheet) = self.sheets.iter().position(|x| x.id == def.id.value.as_ref()) else {
                continue;
            };
            let stand = Stand {
                at: shape::point(&def.at),
                turn: degrees(&def.turn).unwrap_or(0.0),
                mirrored: false,
                sheet: 0,
            };
            let mut id = format!("{}-seat", def.id.value);
            while self.subjects.iter().any(|s| s.id == id) {
                id.push_str("-2");
            }
            let kept = def.kept.then_some(from.file);
            let state = self.state(&id, from.file, kept, &stand, "", &def.place);
            let title = format!("seat of the insert {}", def.id.value);
            let mut s = self.subject(&id, SubjectKind::Insert, title, stand.at, 0, state, &def.place);
            s.turn = stand.turn;
            s.carrier = self.sheets.get(sheet).map(|x| x.subject);
            let index = self.subjects.len();
            match &def.opening {
                Some(opening) => {
                    if let Some(flat) = shape::flat(opening, m.unit(from.file), self.problems) {
                        let contour = stand.transform().contour(&flat.contour);
                        let centre = middle(&contour);
                        let mut part = self.file_part(
                            "cutout",
                            Class::Cutout,
                            contour,
                            centre,
                            0,
                            state,
                            index,
                            &def.place,
                        );
                        part.detail = Detail::Cutout { make: Make::Drawing };
                        s.parts.push(part);
                        self.note_error(flat.error);
                    }
                }
                None => {
                    s.missing.push(("cutout".into(), "the opening in the sheet behind the insert".into()))
                }
            }
            let mut found = Vec::new();
            for (k, screws) in def.screws.iter().enumerate() {
                found.extend(self.pattern(screws, k, from.file, &mut s));
            }
            let own = Stand { sheet, ..stand };
            let outline = self.sheets.get(sheet).map(|x| x.outline.clone());
            let main = outline.map_or(Faces { front: 0.0, back: None }, |o| self.faces(0, &o));
            let behind = def.lies.as_ref().is_some_and(|l| l.value == LayerSide::Behind);
            let faces = self.seat_faces(sheet, main, behind);
            for h in &found {
                // the screw's head sinks into the sheet in front
                let mut plain = h.clone();
                plain.sinks_elsewhere();
                let (carrier, insert) = if behind { (h, &plain) } else { (&plain, h) };
                if let (Some(hole), Some(inside)) = (&carrier.hole, &insert.hole) {
                    s.parts.push(self.part(hole, &stand, None, main, state, index, &def.place));
                    let inside = Local { name: format!("insert-{}", inside.name), ..inside.clone() };
                    s.parts.push(self.part(&inside, &own, None, faces, state, index, &def.place));
                }
                for local in h.head.iter().chain(&h.nut) {
                    s.parts.push(self.part(local, &stand, None, faces, state, index, &def.place));
                }
                // the nutplate is riveted to the sheet behind alone
                let (on, under) = if behind { (&own, faces) } else { (&stand, main) };
                for local in h.rivets.iter().flat_map(|r| r.hole.iter().chain(&r.head)) {
                    s.parts.push(self.part(local, on, None, under, state, index, &def.place));
                }
            }
            self.subjects.push(s);
        }
    }

    /// The faces of main sheet and insert together.
    fn seat_faces(&self, insert: usize, main: Faces, behind: bool) -> Faces {
        let Some(sheet) = self.sheets.get(insert) else { return main };
        if behind {
            Faces { front: main.front, back: sheet.thickness.map(|t| sheet.front + t) }
        } else {
            Faces { front: sheet.front, back: main.back }
        }
    }

    /// Old openings of the sheet and of its layers.
    pub fn old_openings(&mut self) {
        let m: &Merged<'_> = self.merged;
        let new_blank = self.sheets.first().is_some_and(|s| s.new);
        for from in &m.old {
            // a new blank does not have what does not stay; the old sheet has it still
            if !from.def.stays && new_blank {
                continue;
            }
            let on = from.def.on.as_ref().map(|o| (o.value.clone(), o.place.clone()));
            let Some(sheet) = self.sheet_named(on.as_ref()) else { continue };
            self.old_opening(from.def, from.file, sheet);
        }
        for layer in &m.layers {
            let Some(sheet) = self.sheets.iter().position(|x| x.id == layer.def.id.value.as_ref()) else {
                continue;
            };
            for old in layer.def.openings.iter().flatten() {
                self.old_opening(old, layer.file, sheet);
            }
        }
    }

    fn old_opening(&mut self, def: &OldOpening, file: usize, sheet: usize) {
        let unit = self.merged.unit(file);
        let Some(flat) = shape::flat(&def.shape, unit, self.problems) else { return };
        self.note_error(flat.error);
        let written = spelling::of_shape(&def.shape, unit, &flat.contour);
        let contour = shape::placed(&flat.contour, def.at.as_ref(), degrees(&def.turn));
        let centre = middle(&contour);
        let new = self.sheets.get(sheet).is_some_and(|s| s.new);
        let state = if new { State::New } else { State::Existing };
        let index = self.subjects.len();
        let title = def.note.as_ref().map_or("old opening".to_string(), |n| n.value.to_string());
        let id = def.id.value.as_ref();
        let mut s = self.subject(id, SubjectKind::OldOpening, title, at(&def.at), sheet, state, &def.place);
        s.turn = degrees(&def.turn).unwrap_or(0.0);
        let mut part =
            self.file_part("", Class::OldOpening, contour, centre, sheet, state, index, &def.place);
        part.terms = match &def.survey {
            Some(own) => self.room.surveyed(flat.off, own.mm(), state, index),
            None => self.room.terms(Class::OldOpening, flat.off, state, index),
        };
        part.written = written;
        if let Some(sources) = self.sources(file) {
            part.source = sources.named(def.shape.source.as_ref());
        }
        s.parts.push(part);
        self.subjects.push(s);
    }

    /// Zones and flanges.
    pub fn zones(&mut self) {
        let m: &Merged<'_> = self.merged;
        for from in &m.zones {
            let def = from.def;
            let Some(flat) = shape::flat(&def.shape, m.unit(from.file), self.problems) else { continue };
            self.note_error(flat.error);
            let contour = shape::placed(&flat.contour, def.at.as_ref(), degrees(&def.turn));
            let centre = middle(&contour);
            let because = match &def.because {
                Some(b) => b.value.to_string(),
                None if def.flange => "the sheet is bent here".to_string(),
                None => "forbidden zone".to_string(),
            };
            let has = |f: Said| def.forbids.contains(&f);
            let forbids = Forbids { cut: has(Said::Cut), behind: has(Said::Behind), front: has(Said::Front) };
            let id = def.id.value.as_ref();
            let index = self.subjects.len();
            let (kind, state) = (SubjectKind::Zone, State::Existing);
            let mut s = self.subject(id, kind, because.clone(), at(&def.at), 0, state, &def.place);
            let mut part = self.file_part("", Class::Zone, contour, centre, 0, state, index, &def.place);
            part.detail = Detail::Zone { forbids, because };
            s.parts.push(part);
            self.subjects.push(s);
        }
    }

    /// Room behind the sheet.
    pub fn depth_map(&mut self) -> DepthMap {
        let m: &Merged<'_> = self.merged;
        let mut areas = Vec::new();
        for (k, from) in m.areas.iter().enumerate() {
            let def = from.def;
            let Some(flat) = shape::flat(&def.shape, m.unit(from.file), self.problems) else { continue };
            areas.push(DepthArea {
                id: def.id.as_ref().map_or_else(|| format!("area-{}", k + 1), |i| i.value.to_string()),
                contour: shape::placed(&flat.contour, def.at.as_ref(), degrees(&def.turn)),
                available: def.available.as_ref().map(Size::mm),
                place: def.place.clone(),
            });
        }
        DepthMap { elsewhere: m.depth.map(Size::mm), areas }
    }

    /// Openings that the panel below has and that stay in the sheet although their item is gone, moved or
    /// exchanged: metal does not grow back.
    pub fn what_stays(&mut self) {
        let Some(before) = self.before else { return };
        let there = self.subjects.iter().filter(|n| n.state == State::Existing);
        let there: BTreeSet<String> = there.map(|n| n.id.clone()).collect();
        for s in &before.subjects {
            let carried = matches!(
                s.kind,
                SubjectKind::Placement | SubjectKind::Unit | SubjectKind::Insert | SubjectKind::OldOpening
            );
            if !carried || s.state != State::Existing {
                continue;
            }
            if there.contains(&s.id) {
                continue;
            }
            let mut parts = Vec::new();
            for p in &s.parts {
                let opens = matches!(p.class, Class::Cutout | Class::Hole | Class::OldOpening);
                let name = before.sheets.get(p.sheet as usize).map(|x| x.id.as_str());
                let sheet = self.sheets.iter().position(|x| Some(x.id.as_str()) == name && !x.new);
                if let (true, Some(sheet)) = (opens, sheet) {
                    parts.push((p, sheet));
                }
            }
            let Some(sheet) = parts.first().map(|(_, sheet)| *sheet) else { continue };
            // what was old before keeps its name unless somebody else has taken it
            let taken = |id: &str, all: &[Subject]| all.iter().any(|n| n.id == id);
            let mut id =
                if s.kind == SubjectKind::OldOpening { s.id.clone() } else { format!("old-{}", s.id) };
            while taken(&id, &self.subjects) {
                id = format!("old-{id}");
            }
            let index = self.subjects.len();
            let title = format!("left by {}", s.title);
            let place: Where = s.place.clone();
            let mut old =
                self.subject(&id, SubjectKind::OldOpening, title, s.at, sheet, State::Existing, &place);
            let one = parts.len() == 1;
            for (p, sheet) in parts {
                let name = if one { "" } else { p.name.as_str() };
                let (class, state) = (Class::OldOpening, State::Existing);
                let mut part =
                    self.file_part(name, class, p.contour.clone(), p.centre, sheet, state, index, &place);
                part.source = p.source.clone();
                part.written = p.written.clone();
                old.parts.push(part);
            }
            self.subjects.push(old);
        }
    }
}
