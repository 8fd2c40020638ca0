//! An instrument's definition as parts about its own origin, with its facts and with what is missing.
//!
//! Depth in an instrument's file is counted from where the instrument seats. Put in from the front (or
//! clamped): 0 is the front face of the sheet, forward positive. Put in from behind: what lies forward
//! (0 and more) is counted from the back face of the metal, because there its flange or shoulder seats
//! and there its maker measures; what lies on the pilot's side (less than 0) from the front face.

mod facts;
mod holes;
mod parts;
mod ports;
mod rivets;
mod source;

pub(super) use holes::{HoleAt, holes};
pub(super) use source::Sources;

use super::shape::Off;
use crate::define::Instrument;
use crate::define::instrument::Replacement;
use crate::diag::Problems;
use crate::geom::{Contour, Point, Rect};
use crate::panel::{Class, Detail, Facts, Mounting, OwnNumber, SizeSource};
use std::sync::Arc;

/// Where a depth is counted from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Seat {
    /// From where the instrument seats.
    Instrument,
    /// From the front face.
    Front,
    /// From the back face.
    Back,
}

/// Depth range of a part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Span {
    /// Through the sheet.
    Through,
    /// From, to, mm.
    Range(f64, f64, Seat),
    /// A number is missing.
    Missing,
}

/// A part about its instrument's origin.
#[derive(Clone, Debug)]
pub(super) struct Local {
    pub name: String,
    pub class: Class,
    pub contour: Contour,
    pub centre: Point,
    pub span: Span,
    pub off: Off,
    /// Its size as written in inches.
    pub written: Option<Arc<str>>,
    pub source: SizeSource,
    pub detail: Detail,
}

/// A definition, ready to be placed.
#[derive(Clone, Debug)]
pub(super) struct Built {
    pub facts: Arc<Facts>,
    pub parts: Vec<Local>,
    pub missing: Vec<(String, String)>,
    /// Largest distance of a contour from a curve that was written, mm.
    pub error: f64,
}

impl Built {
    /// Smallest upright box, after a turn, of what shows in front: the bezel; without one the openings
    /// and what stands in front of the sheet. `None`: nothing at all.
    pub fn front_box(&self, turned: impl Fn(&Contour) -> Contour) -> Option<Rect> {
        let boxes = |pick: &dyn Fn(&Local) -> bool| {
            self.parts
                .iter()
                .filter(|p| pick(p))
                .map(|p| turned(&p.contour).bounds())
                .reduce(|a, b| a.union(b))
        };
        let in_front = |p: &Local| match p.class {
            Class::Cutout | Class::Hole => true,
            Class::Body => matches!(p.span, Span::Range(from, ..) if from < 0.0),
            _ => false,
        };
        boxes(&|p| p.class == Class::Bezel).or_else(|| boxes(&in_front)).or_else(|| boxes(&|_| true))
    }

    /// Whether anything goes through the sheet.
    pub fn has_opening(&self) -> bool {
        self.parts.iter().any(|p| matches!(p.class, Class::Cutout | Class::Hole))
    }
}

/// Builds the parts of a definition. Problems are told; what they spoil is left out.
pub(super) fn build(name: &str, def: &Instrument, problems: &mut Problems) -> Built {
    let sources = Sources::of_instrument(def);
    let mut b = parts::Builder {
        def,
        sources: &sources,
        problems,
        parts: Vec::new(),
        missing: Vec::new(),
        error: 0.0,
    };
    if let Some(tilt) = def.tilt.as_ref().and_then(|t| t.calibrated.as_ref()) {
        super::assemble::upright(tilt, b.problems);
    }
    b.openings();
    b.all_holes();
    b.covers();
    b.bodies();
    b.ports();
    b.front_parts();
    let parts::Builder { parts, mut missing, error, .. } = b;
    let facts = facts::facts(name, def, &sources, &parts, &mut missing);
    Built { facts: Arc::new(facts), parts, missing, error }
}

impl Built {
    /// The same with what was replaced by numbers of the item's own: each with what it was written as before.
    pub fn with_numbers(self, def: &Instrument, numbers: &[(Replacement, Option<String>)]) -> Built {
        let sources = Sources::of_instrument(def);
        let own = |(n, was): &(Replacement, Option<String>)| OwnNumber {
            path: n.path.value.to_string(),
            written: n.written(),
            was: was.clone(),
            named: n.source.name.to_string(),
            source: SizeSource { place: Some(n.place().clone()), ..sources.named(Some(&n.name())) },
        };
        let facts = Facts { numbers: numbers.iter().map(own).collect(), ..(*self.facts).clone() };
        Built { facts: Arc::new(facts), ..self }
    }
}

/// Mounting of the file in the panel's words.
pub(super) fn mounting(def: &Instrument) -> Option<Mounting> {
    use crate::define::instrument::Mounting as M;
    def.mounting.as_ref().map(|m| match m.value {
        M::Front => Mounting::Front,
        M::Rear => Mounting::Rear,
        M::Clamp => Mounting::Clamp,
    })
}
