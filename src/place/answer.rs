//! The whole answer for one instrument at one angle: its region, the best spots, and where it fits nowhere, by how much
//! it is short and what is in its way.

use super::region::{Question, Region, Short};
use super::spots::{Asked, Spot, Spots, spots};
use crate::check::Verdict;
use crate::geom::{Point, Vec2};
use crate::panel::Panel;

/// What was asked.
#[derive(Clone, Debug)]
pub struct Asks {
    /// Name of the instrument.
    pub instrument: String,
    /// Turned, degrees.
    pub turn: f64,
    /// The place wished for.
    pub near: Option<Point>,
}

/// The answer for one angle.
pub struct Answer {
    /// The panel with the instrument.
    pub panel: Panel,
    /// The instrument's subject.
    pub subject: usize,
    /// What was asked.
    pub asks: Asks,
    /// All shifts at which the relations hold.
    pub region: Region,
    /// The spot with the most room.
    pub roomiest: Spots,
    /// The spot nearest to the place wished for.
    pub nearest: Option<Spots>,
    /// By how much it is short, where it fits nowhere.
    pub short: Option<Short>,
    /// Items without which there would be a place by the relations: id, area in mm2.
    pub without: Vec<(String, f64)>,
}

impl Answer {
    /// Works it out; the instrument is a subject of the panel that stands at its datum.
    pub fn of(panel: Panel, subject: usize, asks: Asks) -> Answer {
        let question = Question::of(&panel, subject);
        let region = question.as_ref().map(|q| q.answer(0.0, &[])).unwrap_or_default();
        let roomiest = spots(&panel, subject, &region, Asked::MostRoom);
        let nearest = asks.near.map(|near| spots(&panel, subject, &region, Asked::Nearest(near)));
        let empty = region.area.size() <= 0.0;
        let short = question.as_ref().filter(|_| empty).and_then(Question::short);
        let mut without = Vec::new();
        if let Some(q) = question.as_ref().filter(|_| empty) {
            for other in q.others() {
                let area = q.answer(0.0, &[other]).area.size();
                if let Some(s) = panel.subjects.get(other).filter(|_| area > 0.0) {
                    without.push((s.id.clone(), area));
                }
            }
            without.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
        }
        drop(question);
        Answer { panel, subject, asks, region, roomiest, nearest, short, without }
    }

    /// Whether it fits: as the best spot that was found stands; nowhere is a fail.
    pub fn verdict(&self) -> Verdict {
        let spots = [Some(&self.roomiest), self.nearest.as_ref()].into_iter().flatten();
        let best = spots.filter_map(|s| s.best.as_ref());
        best.map(Spot::verdict).max().unwrap_or(Verdict::Fail)
    }

    /// Where the instrument stands after a shift.
    pub fn at(&self, shift: Vec2) -> Point {
        self.panel.subjects.get(self.subject).map_or(Point::ORIGIN, |s| s.at) + shift
    }
}
