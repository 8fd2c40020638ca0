//! The whole answer for one instrument at one angle: its region, the best spots, and where it fits nowhere, by how much
//! it is short and what is in its way.

use super::region::{Question, Region, Short};
use super::spots::{Asked, Spots, spots};
use crate::check::{Finding, Options, Verdict, check};
use crate::geom::{Point, Vec2};
use crate::panel::{Panel, PartRef};

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

/// What is said of the instrument wherever it stands, and so is no matter of its place.
fn anywhere(f: &Finding) -> bool {
    let own = f.b.is_some_and(|b| b.subject == f.a.subject);
    own || f.verdict == Verdict::Withheld || f.rule.id == "labelled"
}

impl Answer {
    /// Works it out; the instrument is a subject of the panel that stands at its datum.
    pub fn of(panel: Panel, subject: usize, asks: Asks) -> Answer {
        let question = Question::of(&panel, subject);
        let region = question.as_ref().map(|q| q.answer(0.0, &[])).unwrap_or_default();
        let roomiest = spots(&panel, subject, &region, Asked::MostRoom, anywhere);
        let nearest = asks.near.map(|near| spots(&panel, subject, &region, Asked::Nearest(near), anywhere));
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

    /// Whether a spot was found that passes every rule that is known.
    pub fn fits(&self) -> bool {
        self.roomiest.best.as_ref().is_some_and(|b| b.findings.is_empty())
    }

    /// Where the instrument stands after a shift.
    pub fn at(&self, shift: Vec2) -> Point {
        self.panel.subjects.get(self.subject).map_or(Point::ORIGIN, |s| s.at) + shift
    }

    /// What is no pass wherever it stands: withheld for want of a size, between parts of its own, or a label that is yet
    /// to come.
    pub fn beside(&self) -> Vec<Finding> {
        let findings = check(&self.panel, &Options::default());
        let own = |r: PartRef| r.subject as usize == self.subject;
        let about = |f: &Finding| own(f.a) || f.b.is_some_and(own);
        findings.list.into_iter().filter(|f| about(f) && f.verdict != Verdict::Pass && anywhere(f)).collect()
    }
}
