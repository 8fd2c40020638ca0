//! The whole answer for one instrument at one angle: its region, the best spots, and where it fits nowhere, by how much
//! it is short and what is in its way.

use super::region::{Question, Region, TOLERANCE};
use super::short::Short;
use super::sight::{Sight, is_standby};
use super::sighted::{BySight, Sighted};
use super::spots::{Asked, Spot, Spots, asked_at, spots_kept};
use crate::check::Verdict;
use crate::check::bans::Allow;
use crate::geom::{Point, Vec2};
use crate::panel::{Class, Panel, Part};

/// How much is worked out.
#[derive(Clone, Copy, PartialEq)]
enum Depth {
    Whole,
    Brief,
}

/// What was asked.
#[derive(Clone, Debug)]
pub struct Asks {
    /// Name of the instrument.
    pub instrument: String,
    /// Turned, degrees.
    pub turn: f64,
    /// The place wished for.
    pub near: Option<Point>,
    /// What holds as drawn will do, whatever the tolerances take (`--nominal`).
    pub tight: bool,
}

/// Another angle, or another version of the instrument, for which there is a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Instead {
    /// Name of the instrument.
    pub instrument: String,
    /// Turned, degrees.
    pub turn: f64,
    /// Size of its region, mm2.
    pub area: f64,
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
    /// What is seen of it past controls and fixed things; where the panel does not say where the eye is: what would settle it.
    pub sight: Result<Sight, Vec<&'static str>>,
    /// The best spot by sight and reach; `None` where there is no region.
    pub by_sight: Option<BySight>,
    /// By how much it is short, where it fits nowhere.
    pub short: Option<Short>,
    /// Where the region is empty to its tolerance: a spot at which all rules pass all the same. What is left is a point
    /// or a line, or a strip narrower than [`TOLERANCE`](super::TOLERANCE).
    pub hairline: Option<Spot>,
    /// Such a spot at which a standby is not wholly seen, so that it is not chosen.
    pub hidden: Option<Spot>,
    /// What else would do where it fits nowhere.
    pub instead: Vec<Instead>,
    /// Items without which there would be a place by the relations: id, area in mm2.
    pub without: Vec<(String, f64)>,
    /// Where no single item would do, pairs of items without which there would be: ids, area in mm2.
    pub pairs: Vec<([String; 2], f64)>,
    /// Where it fits nowhere: the region, mm2, were its plugs and hoses led off to the side within its own outline; `None`:
    /// none leaves it to the rear, or it would not do.
    pub side_exit: Option<f64>,
}

impl Answer {
    /// Works it out; the instrument is a subject of the panel that stands at its datum.
    pub fn of(panel: Panel, subject: usize, asks: Asks) -> Answer {
        Answer::to(panel, subject, asks, Depth::Whole)
    }

    /// No more than what [`Brief`](super::Brief) tells: sight and reach only where the spot with the most room does not
    /// pass, and nothing of what would have to go.
    pub(super) fn brief(panel: Panel, subject: usize, asks: Asks) -> Answer {
        Answer::to(panel, subject, asks, Depth::Brief)
    }

    fn to(panel: Panel, subject: usize, asks: Asks, depth: Depth) -> Answer {
        let allow = Allow { tight: asks.tight };
        let question = Question::of(&panel, subject, allow);
        let region = question.as_ref().map(|q| q.answer(0.0, &[])).unwrap_or_default();
        let sight = Sight::of(&panel, subject);
        // a standby must be seen before room or nearness ranks its spots
        let must = sight.as_ref().ok().filter(|s| s.standby);
        let seen = |shift: Vec2| must.is_none_or(|s| s.clear(shift));
        let ranked = |asked: Asked| spots_kept(&panel, subject, &region, asked, seen);
        let roomiest = ranked(Asked::MostRoom);
        let nearest = asks.near.map(|near| ranked(Asked::Nearest(near)));
        let empty = region.area.size() <= 0.0;
        let whole = depth == Depth::Whole;
        let passes = roomiest.best.as_ref().is_some_and(|s| s.verdict() == Verdict::Pass);
        let by_sight = (!empty && (whole || !passes)).then(|| match &sight {
            Ok(s) => BySight::Told(Sighted::of(&panel, subject, &region, s)),
            Err(lacks) => BySight::Withheld(lacks.clone()),
        });
        let asked = question.as_ref().filter(|_| empty);
        let short = asked.and_then(Question::short);
        let hairline = short.as_ref().and_then(|s| hairline(&panel, subject, s, allow.tight));
        let asked = asked.filter(|_| hairline.is_none() && whole);
        let short = short.filter(|_| hairline.is_none());
        let (hairline, hidden) = match hairline {
            Some(s) if !seen(s.shift) => (None, Some(s)),
            other => (other, None),
        };
        let name = |s: usize| panel.subjects.get(s).map_or(String::new(), |s| s.id.clone());
        let mut without: Vec<(String, f64)> = asked
            .map(Question::singles)
            .unwrap_or_default()
            .into_iter()
            .map(|(s, area)| (name(s), area))
            .collect();
        without.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
        let pairs = asked.filter(|_| without.is_empty()).map(Question::pairs).unwrap_or_default();
        let pairs = pairs.into_iter().map(|(pair, area)| (pair.map(name), area)).collect();
        drop(question);
        let side_exit = if whole && empty && hairline.is_none() && hidden.is_none() {
            without_rear_plugs(&panel, subject, allow)
        } else {
            None
        };
        let instead = Vec::new();
        Answer {
            panel,
            subject,
            asks,
            region,
            roomiest,
            nearest,
            sight,
            by_sight,
            short,
            hairline,
            hidden,
            instead,
            without,
            pairs,
            side_exit,
        }
    }

    /// Whether it fits: as the best spot that was found stands; nowhere is a fail. A standby of which nobody can say what
    /// is seen is withheld at best.
    pub fn verdict(&self) -> Verdict {
        let stands = self.best().map_or(Verdict::Fail, Spot::verdict);
        if self.unseen_standby() { stands.min(Verdict::Withheld) } else { stands }
    }

    /// The best spot that was found: of those that stand alike the one with the most room.
    pub fn best(&self) -> Option<&Spot> {
        let spots = [Some(&self.roomiest), self.nearest.as_ref(), self.sighted().map(|s| &s.spots)];
        let spots = spots.into_iter().flatten();
        let all = spots.filter_map(|s| s.best.as_ref()).chain(&self.hairline);
        all.reduce(|best, s| if s.verdict() > best.verdict() { s } else { best })
    }

    /// Whether it is a standby, which must be seen, and the file does not tell what is seen of it.
    pub fn unseen_standby(&self) -> bool {
        let known = self.sight.as_ref().is_ok_and(|s| s.asked_of() > 0);
        !known && is_standby(&self.panel, self.subject)
    }

    /// Whether that is what was asked for.
    pub fn fits(&self) -> bool {
        match self.verdict() {
            Verdict::Pass => true,
            Verdict::Tight => self.asks.tight,
            _ => false,
        }
    }

    /// The best spot by sight and reach, where it is told.
    pub fn sighted(&self) -> Option<&Sighted> {
        match self.by_sight.as_ref()? {
            BySight::Told(s) => Some(s),
            BySight::Withheld(_) => None,
        }
    }

    /// Where the instrument stands after a shift.
    pub fn at(&self, shift: Vec2) -> Point {
        self.panel.subjects.get(self.subject).map_or(Point::ORIGIN, |s| s.at) + shift
    }
}

/// A spot that passes where the region is empty to its tolerance; `None` where it is short by more than that.
fn hairline(panel: &Panel, subject: usize, short: &Short, tight: bool) -> Option<Spot> {
    if short.by > 2.0 * TOLERANCE {
        return None;
    }
    let spots = asked_at(panel, subject, vec![(short.at, 0.0)], tight);
    spots.best.filter(|s| s.findings.is_empty())
}

/// The region without the plugs that leave the subject to the rear; `None` where none does or it is empty all the same.
fn without_rear_plugs(panel: &Panel, subject: usize, allow: Allow) -> Option<f64> {
    let mut trial = panel.clone();
    let s = trial.subjects.get_mut(subject)?;
    let deepest = s.parts.iter().filter(|p| p.class == Class::Body).filter_map(|p| p.depth).map(|d| d.1);
    let deepest = deepest.fold(f64::NEG_INFINITY, f64::max);
    let rear = |p: &Part| p.class == Class::Port && p.depth.is_some_and(|(_, to)| to > deepest);
    let before = s.parts.len();
    s.parts.retain(|p| !rear(p));
    if s.parts.len() == before {
        return None;
    }
    let size = Question::of(&trial, subject, allow)?.answer(0.0, &[]).area.size();
    (size > 0.0).then_some(size)
}
