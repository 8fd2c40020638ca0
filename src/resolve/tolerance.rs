//! What every part may be off: size, cut and position, each a named term.
//!
//! - **Size**: what the definition states. A part of an instrument that states none takes the file's general
//!   tolerance (`tolerances.size`), else ISO 2768-1 m for its largest size; half of it per side.
//! - **Cut**: an opening to be cut is as far off per side as the process leaves it: hand 0.5, punch 0.2, router
//!   0.15, waterjet 0.15, laser 0.1 mm (common practice, no source), or what the file says. Where the definition
//!   states a tolerance for the opening the larger of the two holds: a wish does not sharpen a tool.
//! - **Position**: one shift for all parts of a subject, so between them it cancels. By hand, with a punch or with
//!   a drill what is marked out is 0.5 mm off, a machine is as good in position as in its cut (common practice).
//! - **Survey**: what exists was measured; it is taken to be 0.5 mm off where the file says nothing (job practice:
//!   measurements that disagree by more are taken again).
//!
//! Defaults that were used are told, to be printed in the report.

use super::shape::Off;
use crate::calc::general::Grade;
use crate::define::Size;
use crate::define::panel::{Compensates as CompSaid, Process as Said, ProcessKind as KindSaid, Tolerances};
use crate::panel::{Class, Compensates, Process, ProcessKind, State, Term, TermKind};
use std::collections::BTreeSet;

/// Tolerance per side of an opening, and of the place of one, mm: common practice, no source.
fn practice(kind: ProcessKind) -> (f64, f64, &'static str) {
    match kind {
        ProcessKind::Hand => (0.5, 0.5, "hand"),
        ProcessKind::Punch => (0.2, 0.5, "punch"),
        ProcessKind::Router => (0.15, 0.15, "router"),
        ProcessKind::Waterjet => (0.15, 0.15, "waterjet"),
        ProcessKind::Laser => (0.1, 0.1, "laser"),
    }
}

/// How much an edge may be off after the cut, a side, mm: common practice, no source.
pub fn cut_tolerance(kind: ProcessKind) -> f64 {
    practice(kind).0
}

const SURVEY: f64 = 0.5;

/// The tolerances of one panel.
pub(super) struct Room {
    cut: f64,
    position: f64,
    survey: f64,
    size: Option<f64>,
    said: [bool; 3],
    process: Option<&'static str>,
    used: BTreeSet<String>,
}

/// The process in the panel's words.
pub(super) fn process(said: &Said) -> Process {
    let kind = match said.kind.value {
        KindSaid::Hand => ProcessKind::Hand,
        KindSaid::Punch => ProcessKind::Punch,
        KindSaid::Router => ProcessKind::Router,
        KindSaid::Waterjet => ProcessKind::Waterjet,
        KindSaid::Laser => ProcessKind::Laser,
    };
    let (cut, _, name) = practice(kind);
    Process {
        kind,
        tool_radius: said.tool_radius.as_ref().map(Size::mm),
        kerf: said.kerf.as_ref().map(Size::mm),
        compensates: match said.compensates.as_ref().map(|c| c.value) {
            Some(CompSaid::File) => Compensates::File,
            Some(CompSaid::Cutter) | None => Compensates::Cutter,
        },
        tolerance: match &said.tolerance {
            Some(t) => (t.mm(), "stated in the file".into()),
            None => (cut, format!("common practice for {name}")),
        },
        place: said.place.clone(),
    }
}

impl Room {
    pub fn new(process: Option<&Process>, said: Option<&Tolerances>) -> Room {
        let kind = process.map_or(ProcessKind::Hand, |p| p.kind);
        let (_, position, name) = practice(kind);
        let mm = |s: Option<&Option<Size>>| s.and_then(|s| s.as_ref()).map(Size::mm);
        let (p, v) = (mm(said.map(|t| &t.position)), mm(said.map(|t| &t.survey)));
        Room {
            cut: process.map_or(practice(kind).0, |p| p.tolerance.0),
            position: p.unwrap_or(position),
            survey: v.unwrap_or(SURVEY),
            size: mm(said.map(|t| &t.size)),
            said: [process.is_some_and(|p| p.tolerance.1 == "stated in the file"), p.is_some(), v.is_some()],
            process: process.map(|_| name),
            used: BTreeSet::new(),
        }
    }

    /// The terms of one part. `subject` is the index of its subject, for the shift that all its parts share.
    pub fn terms(&mut self, class: Class, off: Off, state: State, subject: usize) -> Vec<Term> {
        let mut terms = Vec::new();
        let key = u32::try_from(subject + 1).unwrap_or(0);
        let none = Term { kind: TermKind::Size, key: 0, grow: 0.0, shrink: 0.0, shift: 0.0 };
        let stated = (off.plus.unwrap_or(0.0) / 2.0, off.minus.unwrap_or(0.0) / 2.0);
        match class {
            Class::Cutout | Class::Hole | Class::Edge if state == State::New => {
                let (grow, shrink) = (self.cut.max(stated.0), self.cut.max(stated.1));
                self.tell_cut();
                terms.push(Term { kind: TermKind::Cut, grow, shrink, ..none });
            }
            Class::Cutout | Class::Hole | Class::OldOpening | Class::Edge => {
                if stated != (0.0, 0.0) {
                    terms.push(Term { grow: stated.0, shrink: stated.1, ..none });
                }
            }
            Class::Bezel | Class::Flange | Class::Case | Class::Body | Class::Front | Class::Hand => {
                let (grow, shrink) = if off.plus.is_some() || off.minus.is_some() {
                    stated
                } else {
                    let general = self.general(off.nominal) / 2.0;
                    (general, general)
                };
                if (grow, shrink) != (0.0, 0.0) {
                    terms.push(Term { grow, shrink, ..none });
                }
            }
            Class::Port | Class::Head | Class::Nut | Class::Zone | Class::Label | Class::Provision => {}
            // their own tolerance is in the file
            Class::Obstacle | Class::Moving | Class::Line => {}
        }
        let placed = !matches!(
            class,
            Class::Zone
                | Class::Label
                | Class::Edge
                | Class::Provision
                | Class::Obstacle
                | Class::Moving
                | Class::Line
        );
        if placed {
            let (kind, shift) = match state {
                State::New => (TermKind::Position, self.position),
                State::Existing => (TermKind::Survey, self.survey),
            };
            self.tell_place(state);
            if shift > 0.0 {
                terms.push(Term { kind, key, shift, ..none });
            }
        }
        terms
    }

    /// The terms of an old opening whose own place was surveyed: off by at most `shift` mm at 95 %. One that is to be cut
    /// anew takes the tool's.
    pub fn surveyed(&mut self, off: Off, shift: f64, state: State, subject: usize) -> Vec<Term> {
        if state == State::New {
            return self.terms(Class::OldOpening, off, state, subject);
        }
        let (plus, minus) = (off.plus.unwrap_or(0.0) / 2.0, off.minus.unwrap_or(0.0) / 2.0);
        let key = u32::try_from(subject + 1).unwrap_or(0);
        self.used.insert("old openings with a `survey` of their own are off at most by it (95 %)".into());
        let size = Term { kind: TermKind::Size, key: 0, grow: plus, shrink: minus, shift: 0.0 };
        let place = Term { kind: TermKind::Survey, key, grow: 0.0, shrink: 0.0, shift };
        [size, place].into_iter().filter(|t| t.grow + t.shrink + t.shift > 0.0).collect()
    }

    /// How far off what exists may stand, mm.
    pub fn survey(&mut self) -> f64 {
        self.tell_place(State::Existing);
        self.survey
    }

    fn general(&mut self, nominal: f64) -> f64 {
        match self.size {
            Some(size) => {
                self.used.insert(format!(
                    "sizes of instruments without a tolerance of their own are taken {} off (general tolerance of the file)",
                    mm(size)
                ));
                size
            }
            None => {
                self.used.insert(
                    "sizes of instruments without a tolerance of their own take ISO 2768-1 m, by default: the file gives no \
                     general tolerance (\"tolerances\": { \"size\": ... })"
                        .into(),
                );
                Grade::Medium.linear(nominal)
            }
        }
    }

    fn tell_cut(&mut self) {
        let cut = mm(self.cut);
        self.used.insert(match (self.said[0], self.process) {
            (true, _) => format!("cut contours are taken {cut} off per side (stated in the file)"),
            (_, Some(name)) => {
                format!("cut contours are taken {cut} off per side (common practice for {name})")
            }
            _ => {
                format!("no cutting process is given: cut contours are taken {cut} off per side, as by hand")
            }
        });
    }

    fn tell_place(&mut self, state: State) {
        let (words, said, v) = match state {
            State::New => ("the place of what is cut is taken", self.said[1], self.position),
            State::Existing => ("what exists is taken to be measured", self.said[2], self.survey),
        };
        let source = if said { "stated in the file" } else { "common practice, by default" };
        let tail = if state == State::New { "off" } else { "off at most" };
        self.used.insert(format!("{words} {} {tail} ({source})", mm(v)));
    }

    /// What was used, in words.
    pub fn remarks(&self) -> impl Iterator<Item = &String> {
        self.used.iter()
    }
}

fn mm(v: f64) -> String {
    crate::units::fmt_mm(v)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn room() -> Room {
        Room::new(None, None)
    }

    #[test]
    fn a_case_without_tolerance_takes_half_of_iso_2768_m_per_side() {
        // ISO 2768-1 m: 30 to 120 mm plus or minus 0.3, so a diameter of 78.1 is 0.3 off and its radius 0.15
        let off = Off { nominal: 78.1, ..Off::default() };
        let terms = room().terms(Class::Case, off, State::New, 4);
        assert_eq!((terms[0].kind, terms[0].grow, terms[0].shrink), (TermKind::Size, 0.15, 0.15));
    }

    #[test]
    fn stated_tolerances_hold_for_a_case_and_add_nothing_to_a_blunt_tool() {
        let off = Off { nominal: 79.4, plus: Some(0.4), minus: None };
        let case = room().terms(Class::Case, off, State::New, 0);
        assert_eq!((case[0].grow, case[0].shrink), (0.2, 0.0));
        let cut = room().terms(Class::Cutout, off, State::New, 0);
        assert_eq!((cut[0].kind, cut[0].grow, cut[0].shrink), (TermKind::Cut, 0.5, 0.5));
        let old = room().terms(Class::OldOpening, off, State::Existing, 0);
        assert_eq!((old[0].kind, old[0].grow), (TermKind::Size, 0.2));
        assert_eq!((old[1].kind, old[1].shift), (TermKind::Survey, 0.5));
    }

    #[test]
    fn all_parts_of_a_subject_share_one_shift() {
        let (a, b) = (
            room().terms(Class::Hole, Off::default(), State::New, 7),
            room().terms(Class::Cutout, Off::default(), State::New, 7),
        );
        assert_eq!(a[1].key, b[1].key);
        assert_ne!(a[1].key, room().terms(Class::Hole, Off::default(), State::New, 8)[1].key);
    }
}
