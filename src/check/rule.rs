//! A rule is data: which parts, which relation between them, which limit, by which source.

use crate::check::fastened::Pairs;
use crate::check::openings::Metal;
use crate::check::space::Space;
use crate::check::{Finding, RULES};
use crate::geom::Rect;
use crate::panel::{Classes, Panel, PartRef};

/// Standing of a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// A published document that was read.
    Published,
    /// A published document as quoted by another; the quotation was read.
    Quoted,
    /// Common practice, no source.
    Practice,
    /// From memory, to be looked up before anything rests on it.
    Memory,
    /// It follows from the thing itself (metal cannot overlap): no source is needed.
    Nature,
}

impl Standing {
    /// The words that reports print.
    pub fn words(self) -> &'static str {
        match self {
            Standing::Published => "published",
            Standing::Quoted => "published, as quoted",
            Standing::Practice => "common practice, no source",
            Standing::Memory => "from memory, look it up",
            Standing::Nature => "follows from the thing itself",
        }
    }
}

/// Where a limit comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Source {
    /// Standing.
    pub standing: Standing,
    /// Title, edition and clause; empty for practice.
    pub title: &'static str,
}

/// What a rule asks by default.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Limit {
    /// Millimetres, at least.
    AtLeast(f64),
    /// Millimetres, at most.
    AtMost(f64),
    /// Diameters of the first part's fastener, at least.
    Diameters(f64),
    /// Degrees, at most.
    DegreesAtMost(f64),
    /// Sheet thicknesses, at least.
    Thicknesses(f64),
    /// The rule works it out from the parts and says so in its text; at least.
    Worked,
    /// The rule works it out; at most.
    WorkedAtMost,
    /// No number: it is so or it is not.
    Plain,
}

impl Limit {
    /// Whether more is worse.
    pub fn at_most(self) -> bool {
        matches!(self, Limit::AtMost(_) | Limit::DegreesAtMost(_) | Limit::WorkedAtMost)
    }
}

/// A choice of parts: classes, and a closer look.
#[derive(Clone, Copy)]
pub struct Select {
    /// Classes.
    pub classes: Classes,
    /// Closer look; `None`: all of the classes.
    pub when: Option<fn(&Panel, PartRef) -> bool>,
}

/// How far apart is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum From {
    /// Boundary to boundary.
    Boundary,
    /// Centre of the first to the boundary of the second.
    Centre,
    /// Centre to centre.
    Centres,
    /// How much the outlines differ: the greatest difference of the sides of their upright boxes.
    /// Contact has no meaning here.
    Outlines,
}

/// Pairs that the rule does not speak about. A stack and the units in it count as one subject.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exempt {
    /// None.
    Nothing,
    /// Parts of one and the same subject (the maker's own pattern).
    SameSubject,
    /// Parts of one and the same placement; the screws of an insert are the builder's own pattern
    /// and are not exempt.
    MakersOwn,
    /// Parts of different subjects: the rule looks within one subject.
    Others,
    /// Of an insert's sheet as the second part: what stands on that sheet, and its own seat.
    OnIt,
    /// What lies behind the insert on which the first part stands: openings of other sheets.
    Behind,
}

/// What a touch without overlap means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Touch {
    /// Contact: fails whatever the limit.
    Fails,
    /// A distance of 0, judged against the limit.
    IsZero,
}

/// What one part asks of a pair; of two parts the greater need holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Need {
    /// Nothing: the other part decides.
    Nothing,
    /// Millimetres.
    Asks(f64),
    /// A size is missing that would make it exact, but it is not more than this: what passes is
    /// certain, what does not is withheld until the named size is given.
    AtMost(f64, &'static str),
}

/// Works out what a part asks; the last argument is the user's own limit, in the rule's unit.
pub type Asked = fn(&Panel, PartRef, Option<f64>) -> Need;

/// A rule's own measurer: looks at one subject, writes its findings.
pub type Own = fn(&Panel, usize, &'static Rule, &mut Vec<Finding>);

/// The same for two subjects: looks at no other.
pub type Two = fn(&Pairs<'_>, [usize; 2], &'static Rule, &mut Vec<Finding>);

/// A rule's own measurer of a subject in the airframe.
pub type InRoom = fn(&Space<'_>, usize, &'static Rule, &mut Vec<Finding>);

/// A rule's own measurer of a subject and of what is cut out of the sheets.
pub type InMetal = fn(&Metal<'_>, usize, &'static Rule, &mut Vec<Finding>);

/// A rule's own measurer of a subject among what stands near it.
#[derive(Clone, Copy)]
pub struct Near {
    /// What it looks at, seen from the seat: subjects none of whose parts meet this box do not matter, wherever they
    /// are. `None`: it looks at none.
    pub reach: fn(&Space<'_>, usize, &'static Rule) -> Option<Rect>,
    /// What a change of another subject is to it.
    pub heeds: fn(&Panel, usize, usize) -> Heed,
    /// The measurer. All that it writes names the subject first.
    pub measure: InRoom,
}

/// What a change of another subject is to a subject among what stands near it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Heed {
    /// Nothing, wherever it stands.
    Never,
    /// It matters where a part of it meets what is looked at, before or after.
    Near,
    /// It matters wherever it stands.
    Always,
}

impl Heed {
    /// Any subject may matter where it is near.
    pub fn near(_: &Panel, _: usize, _: usize) -> Heed {
        Heed::Near
    }
}

/// The relations. Each has one measurer; a rule outside them brings its own.
#[derive(Clone, Copy)]
pub enum Relation {
    /// Two parts keep apart. Symmetric in classes unless `of` and `from` differ.
    Apart {
        /// First part.
        of: Select,
        /// Second part.
        from: Select,
        /// How it is measured.
        measure: From,
        /// What is exempt.
        exempt: Exempt,
        /// Only parts of one sheet (webs, edges), or of all (bezels, solids).
        same_sheet: bool,
        /// Both parts are solids: a gap in depth counts too; flat rules say no.
        depth: bool,
        /// What a touch means.
        touch: Touch,
    },
    /// The first part lies inside the second with the limit to spare; the second is the sheet's outline.
    Inside {
        /// What.
        what: Select,
        /// Measured from its centre instead of its boundary.
        measure: From,
    },
    /// The first part (a bezel, a head) covers the second wherever they meet.
    Covers {
        /// The cover.
        cover: Select,
        /// What it hides.
        what: Select,
        /// Pairs of the same subject, or of different ones.
        own: bool,
    },
    /// Several relations under one limit.
    All(&'static [Relation]),
    /// The rule's own measurer, called once a subject. It may look at that subject, at the sheets and
    /// at what the panel says as a whole, but at no other subject.
    Own(Own),
    /// A measurer of its own for two subjects that are near each other, called once for each such pair, the lower
    /// number first: the subjects' parts, sheets left out, come within reach of each other.
    Between(Two),
    /// The same as [`Relation::Own`] for a measurer that also looks at the airframe: obstacles, controls, lines that
    /// are there. Where one of these changes everything is asked again.
    Room(InRoom),
    /// The same as [`Relation::Room`] for a measurer that also looks at other subjects, those near it alone.
    Near(Near),
    /// The same as [`Relation::Own`] for a measurer that looks at other subjects too. Dearer: it is run again for every
    /// subject whenever any one changes.
    Around(Own),
    /// The same as [`Relation::Around`] for a measurer that looks at what is cut out of the sheets.
    Metal(InMetal),
}

/// One rule.
pub struct Rule {
    /// Its name: words joined by hyphens; also the file's name.
    pub id: &'static str,
    /// What it asks, one sentence.
    pub asks: &'static str,
    /// Why: what goes wrong otherwise, what is measured, what is exempt.
    pub why: &'static str,
    /// Default limit.
    pub limit: Limit,
    /// Its source.
    pub source: Source,
    /// How it is measured.
    pub relation: Relation,
    /// What each part asks where it depends on the part; `None` uses `limit` alike for all.
    pub asked: Option<Asked>,
}

impl PartialEq for Rule {
    fn eq(&self, other: &Rule) -> bool {
        self.id == other.id
    }
}

impl std::fmt::Debug for Rule {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.id)
    }
}

impl Rule {
    /// Place in the list of rules; findings are sorted by it.
    pub fn order(&self) -> u16 {
        RULES.iter().position(|r| std::ptr::eq(*r, self)).unwrap_or(usize::MAX) as u16
    }
}
