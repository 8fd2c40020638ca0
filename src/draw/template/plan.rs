//! What happens to each opening of one sheet: cut, already there, swallowed, drilled from the part.
//!
//! Exact on the contours. Every opening of the sheet (and, for a layer, of the sheet that it lies on) gets
//! exactly one fate, so that no line is cut twice and nothing that exists is cut again.

use super::merge;
use crate::geom::distance::{self, Relation};
use crate::geom::{Contour, Point, Rect};
use crate::panel::{Class, Classes, Detail, Make, Panel, Part, PartRef, State, Subject};
use std::sync::Arc;

/// Begins the remark on openings that lie off the sheet.
pub(in crate::draw) const OFF: &str = "NOT DRAWN, off the sheet";

/// What is done with an opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fate {
    /// Cut along its contour.
    Cut,
    /// Exists and stays: shown, not cut.
    Existing,
    /// Not cut: the part itself is the drill guide; a pilot mark shows where.
    FromPart,
    /// Not cut: lies in a larger opening that is cut.
    Swallowed,
    /// Not cut: another opening has the very same contour.
    Twice,
    /// Not cut: lies in an opening that exists.
    AlreadyOpen,
    /// Not cut now: kept free for later.
    Provision,
    /// Not drawn: off the sheet.
    OffSheet,
}

/// One opening with its fate.
#[derive(Clone, Debug)]
pub struct Opening {
    /// The part.
    pub part: PartRef,
    /// Id of its subject.
    pub id: String,
    /// `subject.part`.
    pub name: String,
    /// Finished contour, panel axes.
    pub contour: Contour,
    /// Its size as it was written in inches.
    pub written: Option<Arc<str>>,
    /// Point that is dimensioned and marked.
    pub centre: Point,
    /// A hole (for a fastener, shaft, wire), not a cutout.
    pub hole: bool,
    /// What happens to it.
    pub fate: Fate,
}

/// Openings and edges of one sheet.
#[derive(Clone, Debug)]
pub struct Plan {
    /// The sheet's outline, finished size, panel axes.
    pub outline: Contour,
    /// Whether the outline is cut (a new blank) or exists.
    pub cut_outline: bool,
    /// Every opening, in the panel's order.
    pub openings: Vec<Opening>,
    /// Finished contours to cut, none crossing another: (ids joined by `+`, contour, cut from outside).
    pub contours: Vec<(String, Contour, bool)>,
    /// What the reader must be told.
    pub remarks: Vec<String>,
}

impl Plan {
    /// The plan of the sheet with this index; the caller knows that it exists.
    pub fn of(panel: &Panel, sheet: usize) -> Option<Plan> {
        let s = panel.sheets.get(sheet)?;
        let carrier = s.layer_of;
        let mut openings: Vec<Opening> = Vec::new();
        for (k, subject) in panel.subjects.iter().enumerate() {
            for (j, part) in subject.parts.iter().enumerate() {
                let on = part.sheet as usize;
                if Classes::OPENINGS.has(part.class) && (on == sheet || Some(on) == carrier) {
                    let r = PartRef { subject: k as u32, part: j as u32 };
                    let shared = on != sheet;
                    openings.push(opening(panel, subject, part, r, &s.outline, shared && s.new));
                }
            }
        }
        settle(&mut openings);
        let mut plan = Plan {
            outline: s.outline.ccw(),
            cut_outline: s.new,
            openings,
            contours: Vec::new(),
            remarks: Vec::new(),
        };
        merge::contours(&mut plan, &s.id);
        plan.tell();
        Some(plan)
    }

    /// Smallest upright box around outline and openings that are drawn, panel axes.
    pub fn bounds(&self) -> Rect {
        self.openings
            .iter()
            .filter(|o| o.fate != Fate::OffSheet)
            .fold(self.outline.bounds(), |b, o| b.union(o.contour.bounds()))
    }

    /// Openings of one fate.
    pub fn with(&self, fate: Fate) -> impl Iterator<Item = &Opening> {
        self.openings.iter().filter(move |o| o.fate == fate)
    }

    fn tell(&mut self) {
        for (fate, words) in [
            (Fate::Swallowed, "not cut, inside a larger opening"),
            (Fate::Twice, "not cut again, same contour as another"),
            (Fate::AlreadyOpen, "not cut, the metal is open there already"),
            (Fate::Provision, "provision, not cut now"),
            (Fate::OffSheet, OFF),
        ] {
            let names: Vec<&str> = self.with(fate).map(|o| o.name.as_str()).collect();
            if !names.is_empty() {
                self.remarks.push(format!("{words}: {}", listed(&names)));
            }
        }
    }
}

/// At most eight names, then how many more.
fn listed(names: &[&str]) -> String {
    match names.get(..8) {
        Some(first) if names.len() > 8 => format!("{} and {} more", first.join(", "), names.len() - 8),
        _ => names.join(", "),
    }
}

/// An opening before it is compared with the others. `anew`: a layer that is a new blank has none of its
/// carrier's openings yet, so even those that exist in the carrier are cut in it.
fn opening(
    panel: &Panel,
    subject: &Subject,
    part: &Part,
    r: PartRef,
    outline: &Contour,
    anew: bool,
) -> Opening {
    let make = match &part.detail {
        Detail::Cutout { make } | Detail::Hole { make, .. } => *make,
        _ => Make::Drawing,
    };
    let meets = distance::contours(&part.contour, outline).relation;
    let fate = match (subject.state, make) {
        _ if matches!(meets, Relation::Apart | Relation::Touching | Relation::Outside) => Fate::OffSheet,
        _ if subject.provision => Fate::Provision,
        (State::Existing, _) if !anew => Fate::Existing,
        (_, Make::FromPart) => Fate::FromPart,
        _ => Fate::Cut,
    };
    Opening {
        part: r,
        id: subject.id.clone(),
        name: panel.part_name(r),
        contour: part.contour.ccw(),
        written: part.written.clone(),
        centre: part.centre,
        hole: part.class == Class::Hole,
        fate,
    }
}

/// Finds what need not be cut because something else opens the metal there.
fn settle(openings: &mut [Opening]) {
    for k in 0..openings.len() {
        let Some(o) = openings.get(k) else { continue };
        if !matches!(o.fate, Fate::Cut | Fate::FromPart) {
            continue;
        }
        let mut fate = o.fate;
        for (j, other) in openings.iter().enumerate() {
            if j == k || !matches!(other.fate, Fate::Cut | Fate::Existing) {
                continue;
            }
            let Some(gap) = distance::within(&o.contour, &other.contour, 0.0) else { continue };
            let exists = other.fate == Fate::Existing;
            match gap.relation {
                Relation::Inside | Relation::Coincident if exists => fate = Fate::AlreadyOpen,
                Relation::Inside if fate != Fate::AlreadyOpen => fate = Fate::Swallowed,
                Relation::Coincident if j < k && fate == Fate::Cut => fate = Fate::Twice,
                _ => {}
            }
        }
        if let Some(o) = openings.get_mut(k) {
            o.fate = fate;
        }
    }
}
