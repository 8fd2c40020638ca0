//! The resolved panel: everything absolute, in millimetres, valid by construction.
//!
//! `resolve` alone builds it; `check`, `place` and `draw` read it. Nothing here knows files or JSON;
//! what an error or a finding needs to point at the file is kept as [`Where`].
//!
//! A panel is a list of **subjects** (placements, old openings, inserts, zones, labels, sheets), each
//! with its **parts** (cutout, hole, bezel, body ...): flat contours with a depth range. Rules speak
//! about classes of parts, so a new kind of subject needs no new rule.

mod facts;
mod group;
mod numbers;
mod part;
mod sheet;
mod space;
mod subject;
mod wishes;

pub use facts::{
    Basis, Control, Facts, Leaves, Mounting, Outlet, Service, SizeSource, StackFrame, StackUnit,
};
pub use group::Play;
pub use numbers::{NumberLine, OwnNumber};
pub use part::{
    Class, Classes, Detail, Fastening, Forbids, Head, HeadKind, Make, Nut, Part, PartRef, Term, TermKind,
};
pub use sheet::{Compensates, DepthArea, DepthMap, Process, ProcessKind, Sheet, SheetRole, Structure};
pub use space::{Airframe, End, Exempt, Exempted, Group, Line, LineKind, NamedPose, Space, Sway};
pub use subject::{Hung, State, Subject, SubjectKind};
pub use wishes::{InOrder, InZone, KeptApart, Wishes};

use crate::diag::Where;
use crate::geom::{Transform, Vec2};
use crate::solid::Vec3;
use crate::solid::travel::Joint;
use crate::units::Unit;
use std::collections::BTreeMap;

/// A limit that the panel's file sets in place of a rule's default.
#[derive(Clone, Debug, PartialEq)]
pub struct UserLimit {
    /// The value in the rule's own unit (mm, diameters, degrees).
    pub value: f64,
    /// As written, for the report.
    pub written: String,
    /// Why, in the user's words.
    pub because: String,
    /// Where it stands.
    pub place: Where,
}

/// A finding that somebody has looked at and accepts; shown beside the verdict, which stays.
#[derive(Clone, Debug, PartialEq)]
pub struct Accepted {
    /// `rule/subject.part/subject.part`.
    pub finding: String,
    /// Why.
    pub because: String,
    /// By whom.
    pub by: String,
    /// Where it stands.
    pub place: Where,
}

/// Title-block data as the user wrote them (ISO 7200 fields); nothing is filled in by the program.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Title {
    /// Key (owner, number, revision, date, drawn-by, approved-by, ...) and text, in the file's order.
    pub fields: Vec<(String, String)>,
    /// What changed with each revision, oldest first.
    pub revisions: Vec<Revision>,
}

/// One revision of the panel, in the user's words; empty where nothing was said.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Revision {
    /// Its index.
    pub index: String,
    /// When.
    pub date: String,
    /// What changed.
    pub change: String,
    /// Who changed it.
    pub by: String,
}

impl Title {
    /// The text of one field.
    pub fn get(&self, key: &str) -> Option<&str> {
        self.fields.iter().find(|(k, _)| k == key).map(|(_, v)| v.as_str())
    }
}

/// A panel: sheets with everything placed on them.
#[derive(Clone, Debug)]
pub struct Panel {
    /// Title from the file.
    pub name: String,
    /// Short name for files (`wheatear-proposed`), from the file's own name.
    pub slug: String,
    /// Unit in which the file speaks and the printers answer.
    pub unit: Unit,
    /// Tilt in degrees, positive when the top leans forward, away from the pilot. `None`: not given.
    pub tilt: Option<f64>,
    /// Eye to panel in millimetres, for lettering. `None`: not given.
    pub eye_distance: Option<f64>,
    /// The sheets; index 0 is the main one.
    pub sheets: Vec<Sheet>,
    /// Everything that has parts. Index = [`PartRef::subject`].
    pub subjects: Vec<Subject>,
    /// How the openings are cut. `None`: not given.
    pub process: Option<Process>,
    /// Room behind the sheet.
    pub depth: DepthMap,
    /// What stands, moves and runs behind and in front of it.
    pub space: Space,
    /// The user's limits by rule id.
    pub limits: BTreeMap<String, UserLimit>,
    /// Accepted findings.
    pub accepted: Vec<Accepted>,
    /// Title block.
    pub title: Title,
    /// A recorded reason to cut in spite of verdicts: (because, by).
    pub cut_anyway: Option<(String, String)>,
    /// Items that a hand moves together: lists of two or more subjects, each in one of them at most.
    pub together: Vec<Vec<usize>>,
    /// What is wished of an arrangement.
    pub wishes: Wishes,
    /// Content hash (SHA-256, hexadecimal) of every input file.
    pub hash: String,
    /// What resolve wants the report to say (general tolerance taken, curve error on record, ...).
    pub remarks: Vec<String>,
}

impl Panel {
    /// The part a reference names.
    pub fn part(&self, r: PartRef) -> &Part {
        &self.subjects[r.subject as usize].parts[r.part as usize]
    }

    /// The subject of a part reference.
    pub fn subject(&self, r: PartRef) -> &Subject {
        &self.subjects[r.subject as usize]
    }

    /// `subject.part`, as findings name it; a sheet, zone or label with one part is named by its id alone.
    pub fn part_name(&self, r: PartRef) -> String {
        let s = self.subject(r);
        match s.parts.get(r.part as usize) {
            Some(p) if !p.name.is_empty() => format!("{}.{}", s.id, p.name),
            _ => s.id.clone(),
        }
    }

    /// Index of a subject by id.
    pub fn find(&self, id: &str) -> Option<usize> {
        self.subjects.iter().position(|s| s.id == id)
    }

    /// Moves one subject and all its parts by `by`; used to try a cure. Limits, relations and files
    /// are not touched.
    pub fn shift(&mut self, subject: usize, by: Vec2) {
        let t = Transform::shift(by);
        let s = &mut self.subjects[subject];
        s.at += by;
        for p in &mut s.parts {
            p.shift(&t);
            p.detail.shift(by);
        }
        let links = self.space.mechanism.links.iter_mut().zip(&self.space.control_of);
        for (link, _) in links.filter(|(_, of)| **of as usize == subject) {
            if let Joint::Pivot(at, _) = &mut link.joint {
                *at += Vec3::new(by.x, by.y, 0.0);
            }
        }
    }

    /// Metal thickness in millimetres where a contour lies on a sheet and its layers: `(sum, even)`;
    /// `even` is false where a layer's edge runs under the contour. `None` if any thickness is missing.
    pub fn thickness_at(&self, sheet: usize, contour: &crate::geom::Contour) -> Option<(f64, bool)> {
        let main = &self.sheets[sheet];
        let mut sum = main.thickness?;
        let mut even = true;
        for (k, layer) in self.sheets.iter().enumerate().filter(|(_, s)| s.layer_of == Some(sheet)) {
            let g = crate::geom::distance::contours(&layer.outline, contour);
            if g.relation != crate::geom::distance::Relation::Apart && self.in_opening_of(k, contour) {
                continue;
            }
            match g.relation {
                crate::geom::distance::Relation::Outside | crate::geom::distance::Relation::Coincident => {
                    sum += layer.thickness?
                }
                crate::geom::distance::Relation::Apart => {}
                _ => {
                    // the layer's edge runs under the item: count it, and say that the seat is uneven
                    sum += layer.thickness?;
                    even = false;
                }
            }
        }
        Some((sum, even))
    }

    /// Whether a contour lies wholly in an opening that a layer has for itself: there it has no metal.
    fn in_opening_of(&self, layer: usize, contour: &crate::geom::Contour) -> bool {
        let olds = self.subjects.iter().filter(|s| s.kind == SubjectKind::OldOpening);
        olds.flat_map(|s| &s.parts).any(|p| {
            p.sheet as usize == layer
                && p.class == Class::OldOpening
                && crate::geom::contains(&p.contour, contour)
        })
    }
}
