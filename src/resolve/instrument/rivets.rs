//! The rivets of nutplates: holes of their own about the hole of each screw.

use super::super::shape::point;
use super::holes::{HoleAt, drilled, head, made, round, stands};
use super::source::Sources;
use super::{Seat, Span};
use crate::calc::fastener;
use crate::define::instrument::{Places, Rivets, Turns};
use crate::geom::{Point, Transform};
use crate::panel::{Class, Fastening, Head, SizeSource};

/// Rivets that are described, ready to be put about each screw.
pub(super) struct Riveted<'a> {
    def: &'a Rivets,
    head: Option<(Head, SizeSource)>,
}

impl<'a> Riveted<'a> {
    /// What is missing is told; without a direction for each of the `screws` there are no holes.
    pub fn of(
        def: &'a Rivets,
        id: &str,
        screws: usize,
        missing: &mut Vec<(String, String)>,
    ) -> Option<Riveted<'a>> {
        if let Turns::Each(turns) = &def.turns
            && turns.len() != screws
        {
            let said = turns.len();
            missing.push((
                format!("hole {id} rivets"),
                format!("the way that each nutplate is turned: `turn` lists {said} for {screws} screws"),
            ));
            return None;
        }
        let name = def.fastener.value.as_ref();
        let head = head(def.head.as_ref(), Some(name), fastener::find(name), &format!("{id}-rivet"), missing);
        Some(Riveted { def, head })
    }

    /// The rivets about the screw number `k`.
    pub fn about(
        &self,
        screw: &str,
        at: Point,
        k: usize,
        nutplate: Option<u32>,
        sources: &Sources<'_>,
    ) -> Vec<HoleAt> {
        let turn = match &self.def.turns {
            Turns::All(turn) => turn.as_ref(),
            Turns::Each(turns) => turns.get(k),
        };
        let put = Transform::place(at, turn.map_or(0.0, |t| t.value.degrees()), false);
        let (places, written) = match &self.def.places {
            Places::Pitch(pitch) => {
                let sides = [-0.5, 0.5].map(|side| Point::new(side * pitch.mm(), 0.0));
                (sides.to_vec(), Some(pitch.place.clone()))
            }
            Places::At(points) => {
                (points.iter().map(point).collect(), points.first().map(|p| p.place.clone()))
            }
        };
        let name = self.def.fastener.value.as_ref();
        let fastening = Fastening {
            name: name.to_string(),
            diameter: fastener::find(name).map(|s| s.diameter),
            head: self.head.as_ref().map(|h| h.0),
            nut: None,
            length: None,
            nutplate,
        };
        let make = made(self.def.make.as_ref().map(|m| m.value));
        let one = |(k, place): (usize, Point)| {
            let (name, at) = (format!("{screw}-rivet-{}", k + 1), put.point(place));
            let head = self.head.as_ref().map(|(head, source)| {
                let span = Span::Range(-stands(head), 0.0, Seat::Front);
                round(format!("head-{name}"), Class::Head, at, head.diameter, span, source.clone())
            });
            let source = SizeSource { place: written.clone(), ..sources.of(&self.def.diameter) };
            let fastening = Some(fastening.clone());
            let hole = drilled(&name, at, &self.def.diameter, source, fastening, false, make);
            HoleAt { hole: Some(hole), head, nut: None, rivets: Vec::new() }
        };
        places.into_iter().enumerate().map(one).collect()
    }
}
