//! Hoses, bundles and cables as subjects.

use super::axes::Axes;
use super::solids;
use super::spoken;
use crate::define::panel::LineKind as KindSaid;
use crate::define::panel::space::{End as EndSaid, Line as Said};
use crate::define::{Size, Text, Word};
use crate::diag::{Problem, Written};
use crate::panel::{Class, Detail, End, Line, LineKind, PartRef, Space, State, SubjectKind};
use crate::resolve::merge::{From, Merged};
use crate::resolve::scene::{Scene, number};
use crate::solid::{Pose, Solid};
use std::sync::Arc;

impl Scene<'_, '_> {
    /// Makes the subjects of all lines.
    pub(super) fn lines(&mut self, space: &mut Space) {
        let m: &Merged<'_> = self.merged;
        for from in &m.space.lines {
            let line = self.line(from);
            space.lines.push(line);
        }
    }

    fn line(&mut self, from: &From<'_, Said>) -> Line {
        let def = from.def;
        let index = self.subjects.len();
        let title = match &def.carries {
            Some(what) => format!("{} {}", what.value, spoken(def.kind.word())),
            None => spoken(def.kind.word()),
        };
        let mut s = self.space_subject(&def.id.value, SubjectKind::Line, title, &def.place);
        let start = def.from.as_ref().and_then(|name| self.port(name));
        let end = match &def.to {
            Some(EndSaid::Port(name)) => self.port(name).map(End::Port),
            Some(EndSaid::Point(p)) => Some(End::Point(Axes::Panel.point(p))),
            None => None,
        };
        // what leaves a new item is new
        let ends = [start, end.as_ref().and_then(|e| if let End::Port(p) = e { Some(*p) } else { None })];
        let new = |r: &PartRef| self.subjects.get(r.subject as usize).is_some_and(|s| s.state == State::New);
        if ends.iter().flatten().any(new) {
            s.state = State::New;
        }
        let carries = def.carries.as_ref().map(|c| c.value.to_string());
        if let (Some(diameter), false) = (&def.diameter, def.path.is_empty()) {
            let bend = def.bend.as_ref();
            let shape = solids::tube(diameter, &def.path, bend, &Axes::Panel, &def.place, self.problems);
            if let Some(solid) = shape.and_then(|shape| Solid::new(shape, Pose::IDENTITY).ok()) {
                let solid = Arc::new(solid);
                let detail = Detail::Line { solid: solid.clone(), carries: carries.clone() };
                let (name, place) = (String::new(), &def.place);
                let part = self.solid_part(name, Class::Line, &solid, detail, None, index, place);
                s.parts.push(part);
            }
        }
        self.push_space(s);
        Line {
            subject: number(index),
            kind: kind(def.kind),
            carries,
            from: start,
            to: end,
            diameter: def.diameter.as_ref().map(Size::mm),
            bend_radius: def.bend.as_ref().map(|r| (r.mm(), self.words_of(r, from.file))),
            length: def.length.as_ref().map(Size::mm),
            place: def.place.clone(),
        }
    }

    fn words_of(&self, size: &Size, file: usize) -> String {
        let source = self.sources(file).map(|s| s.of(size));
        source.map_or_else(String::new, |s| s.words.to_string())
    }

    /// The port of a name `item.port`; one that is not there is told, one whose size is not known is nothing.
    fn port(&mut self, said: &Written<Text>) -> Option<PartRef> {
        let Some((id, port)) = said.value.split_once('.') else {
            let message = format!("`{}` names no port", said.value);
            let help = "write \"item.port\": the item's id, a full stop, and the port's id in its definition";
            self.problems.push(Problem::new("unknown-id", &said.place, message).help(help));
            return None;
        };
        let subject = self.named_subject(id, said)?;
        self.named_part(subject, port, "port-", said)
    }
}

fn kind(said: KindSaid) -> LineKind {
    match said {
        KindSaid::Hose => LineKind::Hose,
        KindSaid::Wires => LineKind::Wires,
        KindSaid::Coax => LineKind::Coax,
        KindSaid::Drive => LineKind::Drive,
        KindSaid::Pipe => LineKind::Pipe,
        KindSaid::ControlCable => LineKind::ControlCable,
    }
}
