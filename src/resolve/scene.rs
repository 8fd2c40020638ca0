//! One definition becomes sheets and subjects: the order of the work, and what all of it shares.

use super::catalogue::Shelf;
use super::instrument::{Local, Seat, Sources, Span};
use super::merge::Merged;
use super::shape::Off;
use super::sheets::Faces;
use super::tolerance::Room;
use crate::define::Text;
use crate::diag::{Problem, Problems, Where};
use crate::files::Files;
use crate::geom::{Contour, Point, Rect, SLACK, Transform, span};
use crate::panel::{
    Basis, Class, Detail, Mounting, Panel, Part, Sheet, SizeSource, State, Subject, SubjectKind,
};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The work on one definition.
pub(super) struct Scene<'s, 'a> {
    pub merged: &'s Merged<'s>,
    pub shelf: &'s mut Shelf<'a>,
    pub files: &'a dyn Files,
    /// Outline files that were read: name and text.
    pub outlines: &'s mut Vec<(String, Arc<str>)>,
    pub problems: &'s mut Problems,
    /// The panel that this one builds on.
    pub before: Option<&'s Panel>,
    pub sheets: Vec<Sheet>,
    pub subjects: Vec<Subject>,
    pub room: Room,
    pub remarks: Vec<String>,
    /// Largest distance of an arc from the curve that was written, mm.
    pub error: f64,
    /// Openings of layers that have their own: sheet and contour.
    pub layer_openings: Vec<(usize, Contour)>,
    /// Where everything stood that a file of the chain had: for relations to what was taken out.
    pub stood: &'s [Anchor],
    /// The subjects of the panel below by id.
    pub index: BTreeMap<&'s str, usize>,
}

/// Where something stands: id, place in its file, reference point, box about that point.
pub(super) type Anchor = (Text, Where, Point, Rect);

/// Where and how something is placed.
#[derive(Clone, Copy)]
pub(super) struct Stand {
    pub at: Point,
    pub turn: f64,
    pub mirrored: bool,
    pub sheet: usize,
}

impl Stand {
    pub fn transform(&self) -> Transform {
        Transform::place(self.at, self.turn, self.mirrored)
    }
}

impl Scene<'_, '_> {
    /// An empty subject.
    #[allow(clippy::too_many_arguments)]
    pub fn subject(
        &self,
        id: &str,
        kind: SubjectKind,
        title: String,
        at: Point,
        sheet: usize,
        state: State,
        place: &Where,
    ) -> Subject {
        Subject {
            id: id.to_string(),
            kind,
            title,
            at,
            turn: 0.0,
            mirrored: false,
            sheet: number(sheet),
            group: 0,
            state,
            provision: false,
            locked: false,
            critical: false,
            carrier: None,
            hung: None,
            facts: None,
            checked: None,
            parts: Vec::new(),
            missing: Vec::new(),
            place: place.clone(),
            units: 0..0,
        }
    }

    /// A part that the panel's own file states, with the terms of its class.
    #[allow(clippy::too_many_arguments)]
    pub fn file_part(
        &mut self,
        name: &str,
        class: Class,
        contour: Contour,
        centre: Point,
        sheet: usize,
        state: State,
        subject: usize,
        place: &Where,
    ) -> Part {
        let source = SizeSource { basis: Basis::File, words: "the panel's own file".into(), place: None };
        let b = contour.bounds();
        let off = Off { nominal: b.width().max(b.height()), ..Off::default() };
        Part {
            name: name.to_string(),
            class,
            sheet: number(sheet),
            terms: self.room.terms(class, off, state, subject),
            contour,
            centre,
            depth: None,
            there: false,
            written: None,
            source,
            detail: Detail::Plain,
            place: place.clone(),
        }
    }

    /// A part of an instrument or pattern, in place. `faces` is the metal where it stands.
    #[allow(clippy::too_many_arguments)]
    pub fn part(
        &mut self,
        local: &Local,
        stand: &Stand,
        mounting: Option<Mounting>,
        faces: Faces,
        state: State,
        subject: usize,
        place: &Where,
    ) -> Part {
        let t = stand.transform();
        Part {
            name: local.name.clone(),
            class: local.class,
            sheet: number(stand.sheet),
            contour: t.contour(&local.contour),
            centre: t.point(local.centre),
            depth: depth(local.span, mounting, faces),
            there: false,
            terms: self.room.terms(local.class, local.off, state, subject),
            written: local.written.clone(),
            source: local.source.clone(),
            detail: local.detail.clone(),
            place: place.clone(),
        }
    }

    /// Whether something is there already: this file says so, or the panel below has it just so.
    pub fn state(
        &mut self,
        id: &str,
        file: usize,
        kept_by: Option<usize>,
        stand: &Stand,
        what: &str,
        place: &Where,
    ) -> State {
        let own = self.merged.own();
        let kept = kept_by == Some(own);
        if self.sheets.get(stand.sheet).is_some_and(|s| s.new) {
            if kept {
                let message = format!("{id} is kept, but its sheet is a new blank: nothing is in it yet");
                let problem = Problem::new("kept-on-new", place, message)
                    .help("take \"kept\" away, or the sheet's \"new\"");
                self.problems.push(problem);
            }
            return State::New;
        }
        let there = self.merged.as_found(own) || (file != own && self.was_just_so(id, stand, what));
        if kept || there { State::Existing } else { State::New }
    }

    /// Whether the panel below has a subject of this name, there already, in the same place.
    fn was_just_so(&self, id: &str, stand: &Stand, what: &str) -> bool {
        let Some(before) = self.before else { return false };
        let Some(s) = self.index.get(id).and_then(|k| before.subjects.get(*k)) else { return false };
        let sheet = before.sheets.get(s.sheet as usize).map(|x| x.id.as_str());
        s.state == State::Existing
            && span(s.at, stand.at) <= SLACK
            && s.turn == stand.turn
            && s.mirrored == stand.mirrored
            && sheet == self.sheets.get(stand.sheet).map(|x| x.id.as_str())
            && s.facts.as_ref().map_or(what.is_empty() || what == s.title, |f| f.instrument == what)
    }

    /// The sources of a file of the chain.
    pub fn sources(&self, file: usize) -> Option<Sources<'_>> {
        self.merged.files.get(file).map(|f| Sources::of_panel(&f.def))
    }
}

/// Absolute depth range of a part; see the head of `instrument`.
fn depth(span: Span, mounting: Option<Mounting>, faces: Faces) -> Option<(f64, f64)> {
    let Span::Range(from, to, seat) = span else { return None };
    match seat {
        Seat::Front => Some((faces.front + from, faces.front + to)),
        Seat::Back => faces.back.map(|b| (b + from, b + to)),
        Seat::Instrument if mounting == Some(Mounting::Rear) => {
            let start = if from < 0.0 { faces.front + from } else { faces.back? + from };
            let end = if to <= 0.0 { faces.front + to } else { faces.back? + to };
            Some((start, end))
        }
        Seat::Instrument => Some((faces.front + from, faces.front + to)),
    }
}

/// Index as the panel holds it.
pub(super) fn number(k: usize) -> u32 {
    u32::try_from(k).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    const FACES: Faces = Faces { front: -0.5, back: Some(2.0) };

    #[test]
    fn depth_is_counted_from_where_the_instrument_seats() {
        let span = Span::Range(0.0, 65.0, Seat::Instrument);
        assert_eq!(depth(span, Some(Mounting::Front), FACES), Some((-0.5, 64.5)));
        assert_eq!(depth(span, Some(Mounting::Rear), FACES), Some((2.0, 67.0)));
        // a switch held from behind: its nut stands in front, its body behind
        let nut = Span::Range(-3.0, 0.0, Seat::Instrument);
        assert_eq!(depth(nut, Some(Mounting::Rear), FACES), Some((-3.5, -0.5)));
        let through = Span::Range(-3.0, 20.0, Seat::Instrument);
        assert_eq!(depth(through, Some(Mounting::Rear), FACES), Some((-3.5, 22.0)));
        let unknown = Faces { back: None, ..FACES };
        assert_eq!(depth(span, Some(Mounting::Rear), unknown), None);
        assert_eq!(depth(nut, Some(Mounting::Rear), unknown), Some((-3.5, -0.5)));
        assert_eq!(depth(Span::Range(0.0, 4.0, Seat::Back), Some(Mounting::Front), FACES), Some((2.0, 6.0)));
    }
}
