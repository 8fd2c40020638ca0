//! The shifts that a relation bars, as convex polygons, or the shifts that it leaves, as an area.

use super::convex::{
    CHORD, Convex, around, clip, corners, grown, holds_all, hull, opposite, ordered, straights, sum, support,
};
use super::eased::eased;
use super::inset::inset;
use super::shadows::{COARSE, Shadows};
use crate::check::bans::{Ban, Body, Broken, Shallow, Shape};
use crate::geom::overlay::Area;
use crate::geom::region::{Bound, polygon};
use crate::geom::{Contour, Point, Rect, SLACK, Vec2, angle};
use crate::solid::convex_cover;
use std::borrow::Cow;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::f64::consts::TAU;
use std::rc::Rc;
use std::sync::LazyLock;

/// How much more than asked is kept, mm: the grid on which areas are joined.
pub const GRID: f64 = 1e-5;

/// Slivers left by the grid on which areas are joined, mm2.
const SLIVER: f64 = 1e-4;

/// Polygons by what they are of.
type Kept<K> = RefCell<BTreeMap<K, Rc<Vec<Convex>>>>;

/// Polygons of outlines, worked out once; kept by where the outline lies in memory, never told in that order.
#[derive(Default)]
pub struct Polygons {
    around: Kept<usize>,
    hollows: RefCell<BTreeMap<usize, Rc<Hollows>>>,
    reach: RefCell<BTreeMap<usize, [f64; SIDES]>>,
    grown: Kept<(usize, u64)>,
    coarse: Kept<usize>,
}

/// Sides of the polygons that tell roughly what a relation bars.
const SIDES: usize = 16;

/// Their directions.
static SIDE: LazyLock<[Vec2; SIDES]> =
    LazyLock::new(|| std::array::from_fn(|k| angle::unit(TAU * k as f64 / SIDES as f64)));

/// How far a convex set reaches at the most along each of the [`SIDE`]s.
pub struct Around([f64; SIDES]);

impl Around {
    /// Whether all of a box may lie in the set.
    pub fn may_hold(&self, b: &Rect) -> bool {
        let (c, half) = (b.center(), Vec2::new(b.width(), b.height()) / 2.0);
        let farthest = |u: &Vec2| u.dot(c.to_vec2()) + u.x.abs() * half.x + u.y.abs() * half.y;
        SIDE.iter().zip(&self.0).all(|(u, far)| farthest(u) <= *far + SLACK)
    }

    /// Corners of a polygon around the set; of a set that is nearly nothing they are hardly a polygon, but around it still.
    pub fn corners(&self) -> Convex {
        let turn = SIDE[1];
        let corner = |k: usize| {
            let (u, a, b) = (SIDE[k], self.0[k], self.0[(k + 1) % SIDES]);
            Point::ORIGIN + u * a + Vec2::new(-u.y, u.x) * ((b - a * turn.x) / turn.y)
        };
        (0..SIDES).map(corner).collect()
    }
}

/// The hull of an outline, and the hollows between the two as convex polygons that cover them.
pub struct Hollows {
    /// Straights that the hull lies behind: outward unit vectors, and how far they are from the origin.
    straights: Vec<(Vec2, f64)>,
    /// The hollows.
    pieces: Vec<Convex>,
}

impl Polygons {
    /// Convex polygons around what is measured of a part.
    pub fn of(&self, s: &Shape<'_>) -> Rc<Vec<Convex>> {
        match s {
            Shape::Outline(c) => {
                let key = std::ptr::from_ref(*c) as usize;
                self.around.borrow_mut().entry(key).or_insert_with(|| Rc::new(around(c))).clone()
            }
            Shape::Centre(p) => Rc::new(vec![vec![*p]]),
        }
    }

    /// Convex polygons hardly around an outline, for what moves.
    fn coarse(&self, c: &Contour) -> Rc<Vec<Convex>> {
        let key = std::ptr::from_ref(c) as usize;
        let of =
            || Rc::new(convex_cover(c).iter().map(|p| ordered(polygon(p, Bound::Around, COARSE))).collect());
        self.coarse.borrow_mut().entry(key).or_insert_with(of).clone()
    }

    /// Shifts at which a shape is nearer than this to some others, or overlaps one by more than it says below zero.
    fn apart(&self, own: &Shape<'_>, sweep: &Rect, others: &[Convex], by: f64) -> Vec<Convex> {
        if others.is_empty() {
            return Vec::new();
        }
        let of = || Rc::new(grown_all(&self.of(own), sweep, by));
        let mine = match own {
            Shape::Outline(c) if *sweep == STILL => {
                let key = (std::ptr::from_ref(*c) as usize, by.max(0.0).to_bits());
                self.grown.borrow_mut().entry(key).or_insert_with(of).clone()
            }
            _ => of(),
        };
        apart(&mine, others, by)
    }

    /// How far what a relation bars reaches at the most along each of some directions; `None` where it is told only by its
    /// box.
    pub fn reach_of(&self, ban: &Ban<'_>, less: f64) -> Option<Around> {
        let Broken::Nearer { own, other, sweep, by } = &ban.broken else { return None };
        if *sweep != STILL {
            return None;
        }
        let (own, other, by) = (self.reaches(own), self.reaches(other), by - less + GRID);
        // own shapes are turned through the origin
        Some(Around(std::array::from_fn(|k| other[k] + own[(k + SIDES / 2) % SIDES] + by)))
    }

    /// How far a shape reaches along each of some directions.
    fn reaches(&self, s: &Shape<'_>) -> [f64; SIDES] {
        let of = |shape: &Shape<'_>| {
            let (mut most, sides) = ([f64::NEG_INFINITY; SIDES], &*SIDE);
            for p in self.of(shape).iter().flatten() {
                for (most, u) in most.iter_mut().zip(sides) {
                    let far = p.x * u.x + p.y * u.y;
                    if far > *most {
                        *most = far;
                    }
                }
            }
            most
        };
        match s {
            Shape::Outline(c) => {
                let key = std::ptr::from_ref(*c) as usize;
                if let Some(known) = self.reach.borrow().get(&key) {
                    return *known;
                }
                let found = of(s);
                self.reach.borrow_mut().insert(key, found);
                found
            }
            Shape::Centre(_) => of(s),
        }
    }

    /// The smallest convex polygon around a shape.
    pub fn hull(&self, s: &Shape<'_>) -> Convex {
        hull(self.of(s).iter().flatten().copied().collect())
    }

    fn hollows(&self, outline: &Contour) -> Rc<Hollows> {
        let key = std::ptr::from_ref(outline) as usize;
        self.hollows.borrow_mut().entry(key).or_insert_with(|| Rc::new(Hollows::of(outline))).clone()
    }

    /// Shifts that a relation bars; none for those that are told as an area.
    pub fn shifts(&self, ban: &Ban<'_>, less: f64, shadows: &Shadows) -> Vec<Convex> {
        match &ban.broken {
            Broken::Nearer { own, other, sweep, by } => {
                self.apart(own, sweep, &self.of(other), by - less + GRID)
            }
            Broken::Alike { own, other, by } => alike(own, other, by - less + GRID).into_iter().collect(),
            Broken::Meets { own, depth, sweep, other, by } => {
                // along the depth equal is enough, to arithmetic slack; beside, the grid of areas is kept
                let by = by - less - SLACK / 2.0;
                // what overlaps along the depth by less than is let pass
                let depths = (depth.0 - by.min(0.0), depth.1 + by.min(0.0));
                let shadows = shadows.of(other, depths, by.max(0.0));
                if shadows.is_empty() {
                    return Vec::new();
                }
                let coarse = matches!(other, Body::Moves(_));
                let own = match own {
                    // what is made for one question only has no place of its own to be kept by
                    Cow::Owned(c) => Rc::new(around(c)),
                    Cow::Borrowed(c) if coarse => self.coarse(c),
                    Cow::Borrowed(c) => self.of(&Shape::Outline(c)),
                };
                apart(&grown_all(&own, sweep, GRID), &shadows, by.min(0.0))
            }
            Broken::NotWithin { .. } | Broken::Uncovered { .. } | Broken::Shallow(_) => Vec::new(),
        }
    }

    /// What of a convex set of shifts keeps points so far within the hull of an outline.
    pub fn within_hull(&self, mut shifts: Convex, outline: &Contour, own: &[Point], by: f64) -> Convex {
        for (n, far) in &self.hollows(outline).straights {
            clip(&mut shifts, *n, far - support(own, *n) - by);
        }
        shifts
    }

    /// What of a convex set of shifts keeps a shape so far within an outline, and what is barred besides where the
    /// outline is hollow.
    pub fn within(
        &self,
        shifts: Convex,
        outline: &Contour,
        own: &Shape<'_>,
        sweep: &Rect,
        by: f64,
    ) -> (Convex, Vec<Convex>) {
        let whole = sum(&self.hull(own), &corners(sweep));
        let shifts = self.within_hull(shifts, outline, &whole, by);
        // what keeps so far from the hull and from the hollows in it keeps so far from the outline
        (shifts, self.apart(own, sweep, &self.hollows(outline).pieces, by))
    }

    /// Shifts within a window that keep a shape so far within an outline.
    fn inside(&self, outline: &Contour, own: &Shape<'_>, by: f64, window: &Rect) -> Area {
        let (inner, barred) = self.within(corners(window), outline, own, &STILL, by);
        let inner = Area::of(&[inner]);
        if barred.is_empty() { inner } else { inner.without(&Area::of(&barred)) }
    }

    /// What a map of depth leaves: shifts at which nothing that is too shallow lies behind the part, and at which the map
    /// knows the depth; and what it bars besides.
    pub fn deep_enough(&self, s: &Shallow<'_>, less: f64, window: &Rect) -> (Option<Area>, Vec<Convex>) {
        let needed = s.needed - less;
        let own = Shape::Outline(s.own);
        let enough = |d: f64| d >= needed - SLACK;
        let mut barred = Vec::new();
        for area in &s.map.areas {
            let by = match area.available {
                Some(d) if !enough(d) => s.off,
                None if !s.lenient => 0.0,
                _ => continue,
            };
            barred.extend(self.apart(&own, &STILL, &self.of(&Shape::Outline(&area.contour)), by + GRID));
        }
        let margin = match s.map.elsewhere {
            Some(d) if enough(d) => {
                if s.lenient {
                    return (None, barred);
                }
                0.0
            }
            None if s.lenient => return (None, barred),
            None => 0.0,
            Some(_) => s.off,
        };
        let known = s.map.elsewhere.is_some_and(enough);
        let sheets = s.sheets.iter().filter(|_| known).map(|s| &s.outline);
        let areas = s.map.areas.iter().map(|a| &a.contour);
        let all = sheets.chain(areas).map(|outline| self.inside(outline, &own, margin + GRID, window));
        (Some(all.fold(Area::default(), |all, a| all.with(&a))), barred)
    }

    /// Shifts within a window at which a cover hides something by this; `None` for a cover that is not convex.
    pub fn hides(
        &self,
        cover: &Contour,
        what: &Contour,
        by: f64,
        own_covers: bool,
        window: &Rect,
    ) -> Option<Convex> {
        if !cover.is_convex() {
            return None;
        }
        let what = grown(&self.hull(&Shape::Outline(what)), by);
        let mut shifts = corners(window);
        for (n, far) in &self.hollows(cover).straights {
            // the cover moves, or what it hides does
            let room = far - support(&what, *n);
            clip(&mut shifts, if own_covers { -*n } else { *n }, room);
        }
        Some(shifts)
    }

    /// Shifts at which a cover meets something.
    pub fn meets(&self, cover: &Contour, what: &Contour, own_covers: bool) -> Vec<Convex> {
        let (own, other) = if own_covers { (cover, what) } else { (what, cover) };
        self.apart(&Shape::Outline(own), &STILL, &self.of(&Shape::Outline(other)), GRID)
    }

    /// Shifts within a window at which a cover hides something by this, as an area.
    pub fn covered(&self, cover: &Contour, what: &Contour, by: f64, own_covers: bool, window: &Rect) -> Area {
        self.hides(cover, what, by, own_covers, window).map_or(Area::default(), |c| Area::of(&[c]))
    }

    /// Shifts at which a cover meets what it does not hide by this.
    pub fn uncovered(
        &self,
        cover: &Contour,
        what: &Contour,
        by: f64,
        own_covers: bool,
        window: &Rect,
    ) -> Area {
        let meets = Area::of(&self.meets(cover, what, own_covers));
        meets.without(&self.covered(cover, what, by, own_covers, window))
    }
}

/// Nothing is swept.
pub const STILL: Rect = Rect { x0: 0.0, y0: 0.0, x1: 0.0, y1: 0.0 };

impl Hollows {
    fn of(outline: &Contour) -> Hollows {
        let inner = polygon(outline, Bound::Within, CHORD);
        let whole = if outline.is_convex() { ordered(inner.clone()) } else { hull(inner.clone()) };
        let straights = straights(&whole).collect();
        if outline.is_convex() {
            return Hollows { straights, pieces: Vec::new() };
        }
        let hollow = Area::of(&[whole]).without(&Area::of(&[inner]));
        let pieces = hollow.contours(SLIVER).iter().filter(|c| c.is_ccw()).flat_map(around).collect();
        Hollows { straights, pieces }
    }
}

/// A shape turned through the origin, grown by what it sweeps and by a number above zero.
fn grown_all(own: &[Convex], sweep: &Rect, by: f64) -> Vec<Convex> {
    let room = |c: &Convex| -> Convex {
        let c = opposite(c);
        let c = if *sweep == STILL { c } else { sum(&c, &opposite(&corners(sweep))) };
        if by > 0.0 { eased(grown(&c, by)) } else { c }
    };
    own.iter().map(room).collect()
}

/// Shifts at which a shape, turned and grown, overlaps some others, below zero by more than that.
fn apart(mine: &[Convex], others: &[Convex], by: f64) -> Vec<Convex> {
    let both = others.iter().flat_map(|q| mine.iter().map(move |p| sum(q, p)));
    if by < 0.0 {
        both.map(|c| inset(&c, -by)).filter(|c| c.len() > 2).collect()
    } else {
        both.map(eased).collect()
    }
}

/// Shifts at which two boxes differ by less than this on all sides.
fn alike(own: &Rect, other: &Rect, by: f64) -> Option<Convex> {
    let range =
        |a0: f64, a1: f64, b0: f64, b1: f64| ((b0 - a0).max(b1 - a1) - by, (b0 - a0).min(b1 - a1) + by);
    let (x0, x1) = range(own.x0, own.x1, other.x0, other.x1);
    let (y0, y1) = range(own.y0, own.y1, other.y0, other.y1);
    (x0 < x1 && y0 < y1).then(|| corners(&Rect::new(x0, y0, x1, y1)))
}

/// So many of the largest polygons are compared with all others.
const COMPARED: usize = 6;

/// Those polygons of a list that are not wholly within one of its largest.
pub fn largest(mut all: Vec<Convex>) -> Vec<Convex> {
    let size = |c: &Convex| {
        let next = c.iter().cycle().skip(1);
        c.iter().zip(next).map(|(a, b)| a.to_vec2().cross(b.to_vec2())).sum::<f64>()
    };
    all.retain(|c| c.len() >= 3);
    all.sort_by(|a, b| size(b).total_cmp(&size(a)));
    let mut kept: Vec<Convex> = Vec::new();
    for c in all {
        if !kept.iter().take(COMPARED).any(|k| holds_all(k, &c)) {
            kept.push(c);
        }
    }
    kept
}
