//! What stands, moves and runs behind and in front of the panel: from the files' words to subjects and to
//! [`Space`].

mod axes;
mod controls;
mod faults;
mod lines;
mod merge;
mod names;
mod obstacles;
mod path;
mod pierce;
mod solids;

pub(super) use merge::Lists;

use super::scene::{Scene, number};
use crate::define::panel::Frame;
use crate::diag::{Problem, Where};
use crate::geom::Point;
use crate::panel::{
    Airframe, Basis, Class, Detail, Part, SizeSource, Space, State, Subject, SubjectKind, Term, TermKind,
};
use crate::solid::Solid;
use axes::Axes;

impl Scene<'_, '_> {
    /// Makes the subjects of all obstacles, controls and lines, and what they do together. Everything else stands.
    pub fn space(&mut self) -> Space {
        let said = self.merged.space.airframe;
        let airframe = said.map(|a| Airframe {
            station: a.station.mm(),
            butt_line: a.butt_line.mm(),
            water_line: a.water_line.mm(),
        });
        let mut space = Space { airframe, ..Space::default() };
        self.obstacles(airframe);
        self.controls(&mut space);
        self.lines(&mut space);
        self.bearings(&mut space);
        space
    }

    /// The axes in which something is given; what the aeroplane's lack is told.
    fn axes(&mut self, frame: Frame, airframe: Option<Airframe>, id: &str, place: &Where) -> Option<Axes> {
        if frame == Frame::Panel {
            return Some(Axes::Panel);
        }
        let files = self.merged.files.iter().rev();
        let tilt = files.filter_map(|f| f.def.tilt.as_ref()).map(|t| t.value.degrees()).next();
        if let (Some(datum), Some(tilt)) = (airframe, tilt) {
            return Some(Axes::aeroplane(datum, tilt));
        }
        let mut help = Vec::new();
        if airframe.is_none() {
            help.push(
                "\"airframe\": { \"station\": .., \"butt-line\": .., \"water-line\": .. }, where the panel's datum stands",
            );
        }
        if tilt.is_none() {
            help.push("\"tilt\": degrees, positive when the panel's top leans away from the pilot, 0 when it is upright");
        }
        let message =
            format!("`{id}` is given in the aeroplane's axes, and the panel's place in it is not known");
        self.problems
            .push(Problem::new("no-airframe", place, message).help(format!("add {}", help.join("; and "))));
        None
    }

    /// A part that is a solid.
    #[allow(clippy::too_many_arguments)]
    fn solid_part(
        &mut self,
        name: String,
        class: Class,
        solid: &Solid,
        detail: Detail,
        off: Option<f64>,
        subject: usize,
        place: &Where,
    ) -> Part {
        let contour = solid.silhouette();
        let bounds = solid.bounds();
        let shift = off.unwrap_or_else(|| self.room.survey());
        let key = number(subject).saturating_add(1);
        let term = Term { kind: TermKind::Survey, key, grow: 0.0, shrink: 0.0, shift };
        Part {
            name,
            class,
            sheet: 0,
            centre: contour.as_circle().map_or_else(|| contour.bounds().center(), |(c, _)| c),
            contour,
            depth: Some((bounds.low.d, bounds.high.d)),
            there: false,
            terms: if shift > 0.0 { vec![term] } else { Vec::new() },
            written: None,
            source: SizeSource { basis: Basis::File, words: "the panel's own file".into(), place: None },
            detail,
            place: place.clone(),
        }
    }

    /// An empty subject of space: it is there already.
    fn space_subject(&self, id: &str, kind: SubjectKind, title: String, place: &Where) -> Subject {
        self.subject(id, kind, title, Point::ORIGIN, 0, State::Existing, place)
    }

    /// Adds a subject whose parts are complete; where it has several, each has a name of its own.
    fn push_space(&mut self, mut s: Subject) {
        for k in 0..s.parts.len() {
            let (before, rest) = s.parts.split_at_mut(k);
            let Some(part) = rest.first_mut() else { continue };
            while before.iter().any(|p| p.name == part.name) {
                part.name.push_str("-2");
            }
        }
        if let [only] = s.parts.as_mut_slice() {
            only.name.clear();
        }
        if let Some(first) = s.parts.first() {
            s.at = first.centre;
        }
        self.subjects.push(s);
    }
}

/// A word of the files for people: `canopy frame`.
fn spoken(word: &str) -> String {
    word.replace('-', " ")
}
