//! The sheets of a panel: the main one, its layers, its inserts; and where their faces lie.

use super::merge::Merged;
use super::scene::Scene;
use super::shape;
use crate::define::panel::{LayerRole, LayerSide, Structure as Said};
use crate::define::{Size, Text};
use crate::diag::{Problem, Where};
use crate::geom::{Contour, Point, Transform, contains, distance};
use crate::panel::{Class, Sheet, SheetRole, State, Structure, SubjectKind, Term, TermKind};

/// Side of the sheet that stands for one whose outline cannot be read, mm: everything lies on it.
const ENDLESS: f64 = 1e5;

/// Where the faces of the metal lie at one spot, mm: the front one, the back one (`None`: a thickness is missing).
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Faces {
    pub front: f64,
    pub back: Option<f64>,
}

/// How far an edge that was measured may lie further in or out.
fn measured_edge(mm: f64) -> Term {
    Term { kind: TermKind::Survey, key: 0, grow: mm, shrink: mm, shift: 0.0 }
}

impl Scene<'_, '_> {
    /// Builds all sheets with their subjects. Without an outline that can be read, a problem is told and the
    /// rest of the file is read over a sheet that holds everything, so that all problems come at once.
    pub fn build_sheets(&mut self) {
        let m: &Merged<'_> = self.merged;
        let place = m.sheet.place.unwrap_or(&m.outer.span).clone();
        let contour = match m.sheet.outline {
            Some((outline, file)) => self.outline(outline, file),
            None => {
                if self.problems.is_empty() {
                    let problem = Problem::new("no-sheet", &place, "the panel has no sheet with an outline")
                        .help("add \"sheet\": { \"outline\": \"M 0 0 H 400 V 120 H 0 Z\", ... }");
                    self.problems.push(problem);
                }
                None
            }
        };
        let contour = contour.unwrap_or_else(|| Contour::rect(Point::ORIGIN, ENDLESS, ENDLESS, 0.0));
        let found = (0..m.files.len()).any(|f| m.as_found(f));
        let structure = match &m.sheet.structure {
            Some((Said::Yes, by)) => (Structure::Yes, by.as_ref().map(Text::to_string)),
            Some((Said::No, by)) => (Structure::No, by.as_ref().map(Text::to_string)),
            Some((Said::Unknown, by)) => (Structure::Unknown, by.as_ref().map(Text::to_string)),
            None => (Structure::Unknown, None),
        };
        self.push_sheet(
            Sheet {
                id: "sheet".into(),
                role: SheetRole::Main,
                layer_of: None,
                subject: 0,
                outline: contour,
                material: m.sheet.material.map(|t| t.value.to_string()),
                thickness: m.sheet.thickness.map(Size::mm),
                thickness_written: m.sheet.thickness.map(|t| t.of.to_string()),
                coat: m.sheet.coat.map(Size::mm),
                front: 0.0,
                new: m.sheet.new,
                structure,
                place,
            },
            if found && !m.sheet.new { State::Existing } else { State::New },
        );
        if let (Some(survey), Some(part)) =
            (m.sheet.survey, self.subjects.last_mut().and_then(|s| s.parts.first_mut()))
            && self.sheets.first().is_some_and(|s| !s.new)
        {
            part.terms.push(measured_edge(survey.mm()));
        }
        self.layers();
        self.inserts();
    }

    fn layers(&mut self) {
        let main = self.sheets.first().map(|s| (s.outline.clone(), s.thickness));
        let Some((main, thickness)) = main else { return };
        let (mut front, mut back) = (0.0, thickness.unwrap_or(0.0));
        let m: &Merged<'_> = self.merged;
        for layer in &m.layers {
            let def = layer.def;
            let contour = match &def.outline {
                Some(o) => self.outline(o, layer.file),
                None => Some(main.clone()),
            };
            let Some(contour) = contour else { continue };
            let contour = shape::placed(&contour, def.at.as_ref(), None);
            let role = match def.role.value {
                LayerRole::Structural => SheetRole::Structural,
                LayerRole::Doubler => SheetRole::Doubler,
                LayerRole::Overlay => SheetRole::Overlay,
            };
            let side = def.side.as_ref().map(|s| s.value);
            let in_front = match side {
                Some(side) => side == LayerSide::Front,
                None => role == SheetRole::Overlay,
            };
            let t = def.thickness.as_ref().map(Size::mm);
            let face = if in_front {
                front -= t.unwrap_or(0.0);
                front
            } else {
                back += t.unwrap_or(0.0);
                back - t.unwrap_or(0.0)
            };
            let exists = def.exists || m.as_found(layer.file) || m.as_found(m.own());
            self.push_sheet(
                Sheet {
                    id: def.id.value.to_string(),
                    role,
                    layer_of: Some(0),
                    subject: 0,
                    outline: contour,
                    material: def.material.as_ref().map(|t| t.value.to_string()),
                    thickness: t,
                    thickness_written: def.thickness.as_ref().map(|t| t.of.to_string()),
                    coat: None,
                    front: face,
                    new: !exists,
                    structure: (Structure::Unknown, None),
                    place: def.place.clone(),
                },
                if exists { State::Existing } else { State::New },
            );
            let sheet = self.sheets.len().saturating_sub(1);
            let mut quiet = crate::diag::Problems::new();
            for old in def.openings.iter().flatten() {
                // what is wrong with them is told where they become subjects
                if let Some(flat) = shape::flat(&old.shape, m.unit(layer.file), &mut quiet) {
                    let turn = old.turn.as_ref().map(|t| t.value.degrees());
                    self.layer_openings.push((sheet, shape::placed(&flat.contour, old.at.as_ref(), turn)));
                }
            }
        }
    }

    fn inserts(&mut self) {
        let m: &Merged<'_> = self.merged;
        for insert in &m.inserts {
            let def = insert.def;
            let Some(contour) = self.outline(&def.outline, insert.file) else { continue };
            let turn = def.turn.as_ref().map_or(0.0, |t| t.value.degrees());
            let contour = Transform::place(shape::point(&def.at), turn, false).contour(&contour);
            let t = def.thickness.as_ref().map(Size::mm);
            let behind = def.lies.as_ref().is_some_and(|l| l.value == LayerSide::Behind);
            let faces = self.faces(0, &contour);
            let front = if behind { faces.back.unwrap_or(0.0) } else { faces.front - t.unwrap_or(0.0) };
            let exists = def.kept || m.as_found(insert.file) || m.as_found(m.own());
            self.push_sheet(
                Sheet {
                    id: def.id.value.to_string(),
                    role: SheetRole::Insert,
                    layer_of: None,
                    subject: 0,
                    outline: contour,
                    material: def.material.as_ref().map(|t| t.value.to_string()),
                    thickness: t,
                    thickness_written: def.thickness.as_ref().map(|t| t.of.to_string()),
                    coat: def.coat.as_ref().map(Size::mm),
                    front,
                    new: !exists,
                    structure: (Structure::Unknown, None),
                    place: def.place.clone(),
                },
                if exists { State::Existing } else { State::New },
            );
        }
    }

    fn push_sheet(&mut self, mut sheet: Sheet, state: State) {
        let index = self.sheets.len();
        let subject = self.subjects.len();
        sheet.subject = u32::try_from(subject).unwrap_or(u32::MAX);
        let contour = sheet.outline.clone();
        let at = contour.bounds().center();
        let title = match sheet.role {
            SheetRole::Main => "sheet".to_string(),
            SheetRole::Floating => format!("floating panel {}", sheet.id),
            SheetRole::Insert => format!("insert {}", sheet.id),
            SheetRole::Structural => format!("structural sheet {}", sheet.id),
            SheetRole::Doubler => format!("doubler {}", sheet.id),
            SheetRole::Overlay => format!("overlay {}", sheet.id),
        };
        let mut s = self.subject(&sheet.id, SubjectKind::Sheet, title, at, index, state, &sheet.place);
        let part = self.file_part("", Class::Edge, contour, at, index, state, subject, &sheet.place);
        s.parts.push(part);
        self.sheets.push(sheet);
        self.subjects.push(s);
    }

    /// The faces of the metal on which something seats that stands on a sheet and covers a contour.
    pub fn faces(&self, on: usize, contour: &Contour) -> Faces {
        let Some(sheet) = self.sheets.get(on) else { return Faces { front: 0.0, back: None } };
        if on != 0 {
            return Faces { front: sheet.front, back: sheet.thickness.map(|t| sheet.front + t) };
        }
        let mut faces = Faces { front: 0.0, back: sheet.thickness };
        for (k, layer) in self.sheets.iter().enumerate().filter(|(_, s)| s.layer_of == Some(0)) {
            if distance::contours(&layer.outline, contour).relation == distance::Relation::Apart {
                continue;
            }
            // what stands wholly in a layer's own opening does not lie on that layer
            if self.layer_openings.iter().any(|(on, opening)| *on == k && contains(opening, contour)) {
                continue;
            }
            if layer.front < 0.0 {
                faces.front -= layer.thickness.unwrap_or(0.0);
            } else {
                faces.back = faces.back.zip(layer.thickness).map(|(b, t)| b + t);
            }
        }
        faces
    }

    /// The sheet that an item names; the main one when it names none.
    pub fn sheet_named(&mut self, on: Option<&(Text, Where)>) -> Option<usize> {
        let Some((name, place)) = on else { return Some(0) };
        if let Some(k) = self.sheets.iter().position(|s| s.id == name.as_ref()) {
            return Some(k);
        }
        if self.merged.unsure(name) {
            return None;
        }
        let known: Vec<String> = self.sheets.iter().map(|s| s.id.clone()).collect();
        let help = match crate::diag::did_you_mean(name, known.iter().map(String::as_str)) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => format!("sheets of this panel: {}", known.join(", ")),
        };
        let problem = Problem::new("unknown-sheet", place, format!("there is no sheet `{name}`")).help(help);
        self.problems.push(problem);
        None
    }

    /// An outline of the files, in place.
    pub fn outline(&mut self, outline: &crate::define::Outline, file: usize) -> Option<Contour> {
        let unit = self.merged.unit(file);
        let (contour, error) = shape::outline(outline, unit, self.files, self.outlines, self.problems)?;
        self.note_error(error);
        Some(contour)
    }

    /// Keeps the largest distance of an arc from the curve that was written.
    pub fn note_error(&mut self, error: f64) {
        self.error = self.error.max(error);
    }
}

/// The origin of the panel.
pub(super) const DATUM: Point = Point::ORIGIN;
