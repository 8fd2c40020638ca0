//! Shifts that are barred, as convex polygons, and how deep a shift lies in them.

use crate::check::Rule;
use crate::geom::{Point, Rect, Vec2};
use crate::panel::PartRef;
use crate::place::convex::{Convex, straights};

/// The straights round a convex polygon.
#[derive(Clone, Debug)]
pub struct Straights(Vec<(Vec2, f64)>);

impl Straights {
    /// Of a polygon, counter-clockwise.
    pub fn of(c: &[Point]) -> Straights {
        Straights(straights(c).collect())
    }

    /// How far within the nearest straight a point lies; not above 0 outside of any.
    pub fn depth(&self, p: Vec2) -> f64 {
        let mut least = f64::INFINITY;
        for (n, far) in &self.0 {
            least = least.min(far - n.dot(p));
            if least <= 0.0 {
                return least;
            }
        }
        least
    }

    /// How far beyond the farthest straight a point lies; 0 within all.
    pub fn beyond(&self, p: Vec2) -> f64 {
        self.0.iter().map(|(n, far)| n.dot(p) - far).fold(0.0, f64::max)
    }
}

/// What bars a shift: the rule and the two parts; no rule where it is the user's own wish.
#[derive(Clone, Copy, Debug)]
pub struct Why {
    /// The rule, or the wish in words.
    pub what: What,
    /// The part that moves.
    pub own: PartRef,
    /// The other part.
    pub other: PartRef,
}

/// What bars.
#[derive(Clone, Copy, Debug)]
pub enum What {
    /// A rule.
    Rule(&'static Rule),
    /// Two are to keep apart, by this wish.
    Apart(usize),
    /// Two stand in order, by this wish.
    Order(usize),
    /// It is to stay in a zone, by this wish.
    Zone(usize),
    /// It is to stay within reach.
    Reach,
    /// One would stand under what juts out of the other.
    Sight,
}

/// One convex set of barred shifts.
#[derive(Clone, Debug)]
pub struct Bar {
    straights: Straights,
    bounds: Rect,
    /// Not barred within these.
    unless: Vec<Straights>,
    why: Why,
}

impl Bar {
    /// Bars what a polygon holds.
    pub fn new(c: &Convex, unless: Vec<Straights>, why: Why) -> Option<Bar> {
        let first = c.first().filter(|_| c.len() >= 3)?;
        let bounds = c.iter().fold(Rect::from_points(*first, *first), |b, p| b.union_pt(*p));
        Some(Bar { straights: Straights::of(c), bounds, unless, why })
    }

    fn depth(&self, p: Vec2) -> f64 {
        let b = &self.bounds;
        if p.x <= b.x0 || p.x >= b.x1 || p.y <= b.y0 || p.y >= b.y1 {
            return 0.0;
        }
        let deep = self.straights.depth(p);
        if deep <= SAME {
            return 0.0;
        }
        self.unless.iter().map(|u| u.beyond(p)).fold(deep, f64::min)
    }
}

/// Less is rounding, mm.
const SAME: f64 = 1e-9;

/// All shifts that one thing bars another.
#[derive(Clone, Debug, Default)]
pub struct Barred {
    bars: Vec<Bar>,
    /// Around all of them.
    pub bounds: Option<Rect>,
}

impl Barred {
    /// Adds one.
    pub fn push(&mut self, bar: Bar) {
        self.bounds = Some(self.bounds.map_or(bar.bounds, |b| b.union(bar.bounds)));
        self.bars.push(bar);
    }

    /// How deep a shift lies in the deepest bar; 0 where none bars it.
    pub fn depth(&self, p: Vec2) -> f64 {
        let Some(b) = &self.bounds else { return 0.0 };
        if p.x <= b.x0 || p.x >= b.x1 || p.y <= b.y0 || p.y >= b.y1 {
            return 0.0;
        }
        self.bars.iter().map(|bar| bar.depth(p)).fold(0.0, f64::max)
    }

    /// The deepest bar at a shift.
    pub fn deepest(&self, p: Vec2) -> Option<(f64, Why)> {
        let deep = self.bars.iter().map(|bar| (bar.depth(p), bar.why)).filter(|(d, _)| *d > 0.0);
        deep.max_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// Adds all of another.
    pub fn join(&mut self, other: Barred) {
        for bar in other.bars {
            self.push(bar);
        }
    }
}
