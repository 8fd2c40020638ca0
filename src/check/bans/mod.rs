//! What keeps a subject from standing elsewhere: every relation of one of its parts to a part of another subject, to the
//! outline of its sheet, to the map of depth, to what is fixed in the airframe and to controls over their travel, with
//! the room that is asked at the worst tolerances. The rules' measurers in another form: what [`check`](super::check)
//! finds of them is a plain pass exactly where none of these is broken.
//!
//! Rules without a say are named with them; see [`Bans::unsaid`].

mod deep;
mod pairs;
mod solids;
mod tools;
mod unsaid;

pub(super) use tools::Pin;

use super::Rule;
use crate::geom::{Contour, Point, Rect, Vec2};
use crate::panel::{DepthMap, Panel, PartRef, Sheet};
use crate::solid::travel::{Cover, Reach};
use crate::solid::{Bounds, Solid};
use std::borrow::Cow;
use std::cell::OnceCell;
use std::rc::Rc;

/// One relation that a place may break.
#[derive(Clone, Debug)]
pub struct Ban<'a> {
    /// The rule.
    pub rule: &'static Rule,
    /// The subject's own part.
    pub own: PartRef,
    /// The part of the other subject, or of the sheet.
    pub other: PartRef,
    /// How it is broken.
    pub broken: Broken<'a>,
}

/// When a relation is broken; all in millimetres, the subject as it stands.
#[derive(Clone, Debug)]
pub enum Broken<'a> {
    /// The two are nearer than this, or overlap.
    Nearer {
        /// The subject's own.
        own: Shape<'a>,
        /// The other.
        other: Shape<'a>,
        /// What the own sweeps as the two move against each other: a box of shifts about none.
        sweep: Rect,
        /// At least so far apart.
        by: f64,
    },
    /// It is not within the outline, or nearer to it than this.
    NotWithin {
        /// The subject's own.
        own: Shape<'a>,
        /// The outline.
        outline: &'a Contour,
        /// What the own sweeps.
        sweep: Rect,
        /// At least so far from the outline.
        by: f64,
    },
    /// Upright boxes whose sides differ by less than this.
    Alike {
        /// The subject's own.
        own: Rect,
        /// The other.
        other: Rect,
        /// All sides differ by less.
        by: f64,
    },
    /// It meets what it covers, and does not cover it by this.
    Uncovered {
        /// What covers.
        cover: &'a Contour,
        /// What is to be covered.
        what: &'a Contour,
        /// By so much.
        by: f64,
        /// The cover is the subject's own part.
        own_covers: bool,
    },
    /// There is less depth behind it than this, or none that is known.
    Shallow(Shallow<'a>),
    /// A solid comes nearer than this to the own, drawn out along the depth.
    Meets {
        /// The subject's own, seen from the seat.
        own: Cow<'a, Contour>,
        /// The depths between which it stands, with all that it sweeps.
        depth: (f64, f64),
        /// What the own sweeps.
        sweep: Rect,
        /// The solid.
        other: Body<'a>,
        /// At least so far apart.
        by: f64,
    },
}

/// What a part needs of a map of depth.
#[derive(Clone, Debug)]
pub struct Shallow<'a> {
    /// The subject's own.
    pub own: &'a Contour,
    /// Areas so near count, mm.
    pub off: f64,
    /// Depth that is needed, mm: what the part takes and the room behind it.
    pub needed: f64,
    /// The map.
    pub map: &'a DepthMap,
    /// What is told for everywhere else is told of what lies behind one of these.
    pub sheets: &'a [Sheet],
    /// What is not known does no harm: another map speaks for it.
    pub lenient: bool,
}

/// A solid of the airframe.
#[derive(Clone, Debug)]
pub enum Body<'a> {
    /// It stands still.
    Still(&'a Solid),
    /// It moves over its travel.
    Moves(Rc<Travel<'a>>),
}

/// A solid of a control over its travel.
#[derive(Debug)]
pub struct Travel<'a> {
    /// Where it comes to.
    pub reach: Reach<'a>,
    cover: OnceCell<Cover<'a>>,
}

impl<'a> Travel<'a> {
    fn new(reach: Reach<'a>) -> Travel<'a> {
        Travel { reach, cover: OnceCell::new() }
    }

    /// It made ready to be covered by convex sets.
    pub fn cover(&self) -> &Cover<'a> {
        self.cover.get_or_init(|| self.reach.cover())
    }
}

impl Body<'_> {
    /// Smallest upright box.
    pub fn bounds(&self) -> Bounds {
        match self {
            Body::Still(solid) => solid.bounds(),
            Body::Moves(travel) => travel.reach.bounds(),
        }
    }
}

/// What is measured of a part.
#[derive(Clone, Copy, Debug)]
pub enum Shape<'a> {
    /// Its outline.
    Outline(&'a Contour),
    /// Its centre.
    Centre(Point),
}

/// What is asked of the places.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Allow {
    /// What holds as drawn will do, whatever the tolerances take.
    pub tight: bool,
}

/// All that a place may break.
#[derive(Clone, Debug, Default)]
pub struct Bans<'a> {
    /// The relations.
    pub list: Vec<Ban<'a>>,
    /// Rules that depend on the place and have no say, with the reason.
    pub unsaid: Vec<(&'static Rule, &'static str)>,
    /// Numbers that are missing, so that a layer is withheld wherever the subject stands.
    pub withheld: Vec<String>,
}

/// Everything that is asked of where a subject stands. `None`: there is no such subject.
pub fn bans(panel: &Panel, subject: usize, allow: Allow) -> Option<Bans<'_>> {
    bans_among(panel, subject, &[subject], allow)
}

/// The same where others may leave their places too: what they swallow now is there again.
pub fn bans_among<'a>(panel: &'a Panel, subject: usize, moving: &[usize], allow: Allow) -> Option<Bans<'a>> {
    panel.subjects.get(subject)?;
    let asker = Asker { panel, subject, allow };
    let mut all = Bans::default();
    asker.pairs(moving, &mut all);
    asker.depth(&mut all);
    asker.airframe(&mut all);
    asker.tools(&mut all);
    all.unsaid = asker.unsaid();
    all.withheld.sort();
    all.withheld.dedup();
    Some(all)
}

/// Who asks, and of what.
#[derive(Clone, Copy)]
struct Asker<'a> {
    panel: &'a Panel,
    subject: usize,
    allow: Allow,
}

/// Nothing is swept.
const STILL: Rect = Rect { x0: 0.0, y0: 0.0, x1: 0.0, y1: 0.0 };

impl<'a> Asker<'a> {
    /// What tolerances may take, mm.
    fn takes(&self, loss: f64) -> f64 {
        if self.allow.tight { 0.0 } else { loss }
    }

    /// The limit that the file of a subject sets, or the rule's own.
    fn limit(&self, rule: &Rule, subject: usize, own: f64) -> f64 {
        let group = self.panel.subjects.get(subject).map_or(0, |s| s.group);
        self.panel.limit(rule.id, group).map_or(own, |l| l.value)
    }

    fn own(&self, part: usize) -> PartRef {
        PartRef { subject: self.subject as u32, part: part as u32 }
    }
}

impl Shape<'_> {
    /// Smallest upright box.
    pub fn bounds(&self) -> Rect {
        match self {
            Shape::Outline(c) => c.bounds(),
            Shape::Centre(p) => Rect::from_points(*p, *p),
        }
    }
}

impl Ban<'_> {
    /// A box outside of which no shift of the subject breaks it; `None`: it may be broken anywhere.
    pub fn bounds(&self) -> Option<Rect> {
        let shifts = |own: Rect, other: Rect, by: f64, sweep: &Rect| {
            Rect::new(
                other.x0 - own.x1 - by - sweep.x1,
                other.y0 - own.y1 - by - sweep.y1,
                other.x1 - own.x0 + by - sweep.x0,
                other.y1 - own.y0 + by - sweep.y0,
            )
        };
        match &self.broken {
            Broken::Nearer { own, other, by, sweep } => {
                Some(shifts(own.bounds(), other.bounds(), *by, sweep))
            }
            Broken::NotWithin { .. } | Broken::Shallow(_) => None,
            Broken::Alike { own, other, by } => {
                let d = Vec2::new(other.center().x - own.center().x, other.center().y - own.center().y);
                Some(Rect::new(d.x - by, d.y - by, d.x + by, d.y + by))
            }
            Broken::Uncovered { cover, what, own_covers, .. } => {
                let (own, other) = if *own_covers { (cover, what) } else { (what, cover) };
                Some(shifts(own.bounds(), other.bounds(), 0.0, &STILL))
            }
            Broken::Meets { own, sweep, other, by, .. } => {
                let b = other.bounds();
                let other = Rect::new(b.low.x, b.low.y, b.high.x, b.high.y);
                Some(shifts(own.bounds(), other, *by, sweep))
            }
        }
    }

    /// What is asked, mm; `None`: not a distance.
    pub fn asks(&self) -> f64 {
        match &self.broken {
            Broken::Nearer { by, .. }
            | Broken::NotWithin { by, .. }
            | Broken::Alike { by, .. }
            | Broken::Uncovered { by, .. }
            | Broken::Meets { by, .. } => *by,
            Broken::Shallow(s) => s.needed,
        }
    }
}
