//! What one rule says of one or two parts.
//!
//! A finding is numbers and references; its words are made when somebody reads it, so that checking
//! a panel while it is dragged allocates next to nothing.

use super::fastened::Fastened;
use super::openings::Own;
use super::ready::Ready;
use super::space::Swept;
use crate::check::{Limit, Options, Rule};
use crate::geom::{Point, Rect};
use crate::panel::{Panel, PartRef};
use crate::solid::Vec3;
use std::sync::{Arc, OnceLock};

/// The four verdicts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Violated as drawn.
    Fail,
    /// Data are missing: never a pass.
    Withheld,
    /// Holds as drawn, violated at the worst tolerance.
    Tight,
    /// Holds at the worst tolerance.
    Pass,
}

impl Verdict {
    /// The word, everywhere the same.
    pub fn word(self) -> &'static str {
        match self {
            Verdict::Fail => "fail",
            Verdict::Withheld => "withheld",
            Verdict::Tight => "tight",
            Verdict::Pass => "pass",
        }
    }
}

/// A measured value between certain bounds: millimetres (also where the limit is told in diameters or
/// thicknesses, which `asked` then holds multiplied out), or degrees.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// The true value is not below.
    pub lower: f64,
    /// The true value is not above.
    pub upper: f64,
}

impl Interval {
    /// A closed form: both ends alike (exact to rounding).
    pub fn exact(v: f64) -> Interval {
        Interval { lower: v, upper: v }
    }
}

/// How the judged value stands, beyond the number.
#[derive(Clone, Debug, PartialEq)]
pub enum Note {
    /// Nothing to add.
    None,
    /// The two overlap or touch: fails whatever the limit's source.
    Contact,
    /// Both exist and stay: a shortfall is reported, not failed.
    BothStay,
    /// Withheld: the number it waits for, in words.
    Waits(String),
    /// What the rule wants to say in its own words.
    Says(String),
}

/// Where in space a finding was measured.
#[derive(Clone, Debug, PartialEq)]
pub struct InSpace {
    /// Witness points, the first on `a`, the second on `b`, mm, panel's frame.
    pub points: [Vec3; 2],
    /// Drivers that move what it is about, by index into the mechanism's, each with its value (mm or degrees) at which it
    /// was measured; `None`: nothing that it is about moves.
    pub pose: Option<Vec<(usize, f64)>>,
}

/// One finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The rule.
    pub rule: &'static Rule,
    /// First part.
    pub a: PartRef,
    /// Second part, for rules about two.
    pub b: Option<PartRef>,
    /// Verdict.
    pub verdict: Verdict,
    /// Measured at nominal size; `None` when withheld or not a number.
    pub measured: Option<Interval>,
    /// What is asked, same unit; `None` where the rule asks no number.
    pub asked: Option<f64>,
    /// What the worst stack of tolerances takes away, same unit, not negative.
    pub loss: f64,
    /// Witness points on the panel, first on `a`, second on `b` (or the same point twice).
    pub at: [Point; 2],
    /// The same in space, where it was measured there.
    pub space: Option<Box<InSpace>>,
    /// More.
    pub note: Note,
}

impl Finding {
    /// `rule/subject.part/subject.part`; stays the same while its subjects do.
    pub fn id(&self, panel: &Panel) -> String {
        let mut s = format!("{}/{}", self.rule.id, panel.part_name(self.a));
        if let Some(b) = self.b {
            s.push('/');
            s.push_str(&panel.part_name(b));
        }
        s
    }

    /// Measured minus asked at nominal (lower end); `None` without numbers.
    pub fn margin(&self) -> Option<f64> {
        let (m, a) = (self.measured?, self.asked?);
        Some(if self.rule.limit.at_most() { a - m.upper } else { m.lower - a })
    }

    /// Order of every list: rule, then first part, then second.
    pub fn key(&self) -> (u16, PartRef, Option<PartRef>) {
        (self.rule.order(), self.a, self.b)
    }
}

/// What the report needs to say about the limit of a finding: the user's own beside the default.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Asks<'a> {
    /// The rule's default.
    pub default: Limit,
    /// The panel's own limit, which holds in its place.
    pub own: Option<&'a crate::panel::UserLimit>,
}

impl Finding {
    /// The limit that was asked and the one that it replaces, if it does.
    pub fn asks<'a>(&self, panel: &'a Panel) -> Asks<'a> {
        Asks { default: self.rule.limit, own: self.own_limit(panel) }
    }

    /// The panel's own limit that was asked: of two rigid groups the greater.
    fn own_limit<'a>(&self, panel: &'a Panel) -> Option<&'a crate::panel::UserLimit> {
        let of = |r| panel.limit(self.rule.id, panel.group(r));
        let (first, second) = (of(self.a), self.b.and_then(of));
        match (first, second) {
            (Some(a), Some(b)) if b.value > a.value => Some(b),
            (a, b) => a.or(b),
        }
    }

    /// Holds without anything to add: not even a shortfall that is reported and not judged.
    pub fn plain_pass(&self) -> bool {
        self.verdict == Verdict::Pass && self.note != Note::BothStay
    }

    /// Margin at the worst stack of tolerances.
    pub fn worst_margin(&self) -> Option<f64> {
        self.margin().map(|m| m - self.loss)
    }
}

/// What is kept of a check for the next.
#[derive(Clone, Debug, Default)]
pub(super) struct Kept {
    /// Where each subject stood: the box of its parts, sheets left out.
    pub boxes: Vec<Option<Rect>>,
    /// No row of the plan asks more of any part than this, mm.
    pub most: Vec<f64>,
    /// The tolerances of no part can take away more than this, mm.
    pub most_loss: f64,
    /// Parts made ready for pairing, by subject.
    pub ready: Vec<OnceLock<Arc<[Ready]>>>,
    /// Openings made ready, by subject.
    pub cuts: Vec<OnceLock<Arc<Own>>>,
    /// Tools, screws and what they may meet, made ready, by subject.
    pub fastened: Vec<OnceLock<Arc<Fastened>>>,
    /// What the airframe's moving solids sweep.
    pub swept: Swept,
}

impl PartialEq for Findings {
    /// The same findings, however they were come by.
    fn eq(&self, o: &Findings) -> bool {
        (&self.list, &self.gone, self.options) == (&o.list, &o.gone, o.options)
    }
}

/// All findings of a panel, sorted by [`Finding::key`].
#[derive(Clone, Debug)]
pub struct Findings {
    /// The findings.
    pub list: Vec<Finding>,
    /// Old openings that a new one swallows whole, ascending; nothing speaks of them.
    pub gone: Vec<PartRef>,
    /// What a recheck need not work out again.
    pub(super) kept: Kept,
    /// How they were asked for.
    pub options: Options,
}

/// How many findings of each verdict.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Violated as drawn.
    pub fail: usize,
    /// Data missing.
    pub withheld: usize,
    /// Violated at the worst tolerance.
    pub tight: usize,
    /// Holds.
    pub pass: usize,
    /// Of those that pass: shortfalls between things that exist and stay, reported and not judged.
    pub stays: usize,
}

impl Counts {
    /// The shortfalls that are not judged, in words; `None` where there are none.
    pub fn stays_words(&self) -> Option<String> {
        match self.stays {
            0 => None,
            1 => Some("1 shortfall between things that exist and stay: reported, not judged".into()),
            n => Some(format!("{n} shortfalls between things that exist and stay: reported, not judged")),
        }
    }
}

impl Findings {
    /// Of a panel of which nothing was asked yet: [`recheck`](super::recheck) then tells all that is said of what changed.
    pub fn unasked() -> Findings {
        Findings { list: Vec::new(), gone: Vec::new(), kept: Kept::default(), options: Options::default() }
    }

    /// How many of each verdict.
    pub fn counts(&self) -> Counts {
        let mut counts = Counts::default();
        for f in &self.list {
            match f.verdict {
                Verdict::Fail => counts.fail += 1,
                Verdict::Withheld => counts.withheld += 1,
                Verdict::Tight => counts.tight += 1,
                Verdict::Pass => counts.pass += 1,
            }
            counts.stays += usize::from(f.note == Note::BothStay);
        }
        counts
    }

    /// Whether nothing is fail, tight or withheld.
    pub fn all_pass(&self) -> bool {
        self.list.iter().all(|f| f.verdict == Verdict::Pass)
    }

    /// The finding of a rule about one or two parts.
    pub fn find(&self, rule: &Rule, a: PartRef, b: Option<PartRef>) -> Option<&Finding> {
        let key = (rule.order(), a, b);
        let k = self.list.binary_search_by_key(&key, Finding::key).ok()?;
        self.list.get(k)
    }
}
