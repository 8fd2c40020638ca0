//! By how much a subject is short of a place where it fits nowhere, and what binds there.

use super::region::{Question, TOLERANCE};
use crate::check::Rule;
use crate::check::bans::Broken;
use crate::geom::{Point, distance};
use crate::panel::PartRef;

/// What a relation binds: the rule, the subject's own part and the other.
#[derive(Clone, Copy, Debug)]
pub struct Binds {
    /// The rule.
    pub rule: &'static Rule,
    /// The subject's own part.
    pub own: PartRef,
    /// The other part.
    pub other: PartRef,
    /// What the rule asks of them, mm.
    pub asks: f64,
}

/// By how much a subject is short of a place.
#[derive(Clone, Debug)]
pub struct Short {
    /// With all limits together so much less there is a place, mm; with [`TOLERANCE`] less than that there is none.
    pub by: f64,
    /// That place.
    pub at: Point,
    /// What binds there.
    pub binds: Vec<Binds>,
}

/// No panel is as large, mm.
const MOST: f64 = 4096.0;

impl Question<'_> {
    /// Relations that a shift breaks or nearly breaks, where all limits are less by so much, mm.
    pub fn binds(&self, less: f64, at: Point) -> Vec<Binds> {
        let less = less - 4.0 * TOLERANCE;
        let near =
            self.all.list.iter().filter(|b| b.bounds().is_none_or(|b| b.inflate(1.0, 1.0).contains(at)));
        let broken = near.filter(|b| self.breaks(b, less, at));
        broken.map(|b| Binds { rule: b.rule, own: b.own, other: b.other, asks: b.asks() }).collect()
    }

    /// By how much it is short where it fits nowhere: where that is more than a limit, parts overlap by the rest. `None`:
    /// nothing that gives way makes room.
    pub fn short(&self) -> Option<Short> {
        let distances = self.all.list.iter().filter(|b| !matches!(b.broken, Broken::Shallow(_)));
        let (mut none, mut some) = (0.0, distances.map(|b| b.asks()).fold(1.0, f64::max));
        let mut there = self.leaves(some);
        while there.is_none() {
            if some > MOST {
                return None;
            }
            none = some;
            some *= 2.0;
            there = self.leaves(some);
        }
        while some - none > TOLERANCE {
            let middle = (none + some) / 2.0;
            match self.leaves(middle) {
                None => none = middle,
                found => (some, there) = (middle, found),
            }
        }
        let contours = self.answer(some, &[]).area.contours(0.0);
        let largest = contours.iter().max_by(|a, b| a.area().total_cmp(&b.area()));
        let at = match largest {
            Some(largest) => {
                let middle = largest.bounds().center();
                if largest.holds(middle) { middle } else { distance::point_contour(middle, largest).at[1] }
            }
            // what is left is finer than the grid on which areas are joined
            None => there.flatten()?,
        };
        Some(Short { by: some, at, binds: self.binds(some, at) })
    }
}
