//! A rule is data: which parts, which relation between them, which limit, by which source.

use crate::check::{Finding, RULES};
use crate::panel::{Classes, Panel, Part, PartRef};

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
}

/// Pairs that the rule does not speak about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exempt {
    /// None.
    Nothing,
    /// Parts of one and the same subject (the maker's own pattern).
    SameSubject,
}

/// A finding's raw measure before it is judged.
pub type Own = fn(&Panel, usize, &'static Rule, &mut Vec<Finding>);

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
        /// Both parts must also share depth (solids); flat rules say no.
        depth: bool,
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
    /// The rule's own measurer, called once a subject.
    Own(Own),
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
    /// Limit for a pair where [`Limit::Worked`] or diameters need the parts; `None` uses `limit`.
    pub asked: Option<fn(&Panel, &Part, Option<&Part>) -> Option<f64>>,
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
        RULES.iter().position(|r| r.id == self.id).unwrap_or(usize::MAX) as u16
    }
}
