//! The region of all shifts at which no relation between parts is broken.
//!
//! Conservative: shapes are taken as polygons around them, so that every shift in the region keeps every relation; what
//! keeps them all by more than [`TOLERANCE`] is in it. Sums of convex polygons are exact; covers that are not convex
//! count as covering nothing. Rules that measure by themselves are not in it (`check::bans::own_rules`).

use super::convex::{CHORD, Convex, around, clipped, disc, holds, opposite, ordered, sum, support};
use crate::check::Rule;
use crate::check::bans::{Ban, Broken, Shape, bans};
use crate::geom::overlay::Area;
use crate::geom::region::{Bound, polygon};
use crate::geom::{Contour, Point, Rect, Vec2};
use crate::panel::{Class, Panel, PartRef};
use std::cell::OnceCell;
use std::collections::BTreeMap;

/// What passes by more than this is in the region, mm: chords of both shapes and of the room between them, and the grid
/// on which areas are joined.
pub const TOLERANCE: f64 = 0.04;

/// How much more than asked is kept, mm: the grid on which areas are joined.
pub(super) const GRID: f64 = 1e-5;

/// Where a subject may stand.
#[derive(Clone, Debug, Default)]
pub struct Region {
    /// All shifts that keep every relation.
    pub area: Area,
    /// Rules that have a say, by how many relations of parts.
    pub rules: BTreeMap<&'static str, usize>,
}

/// What a relation binds: the rule, the subject's own part and the other.
#[derive(Clone, Copy, Debug)]
pub struct Binds {
    /// The rule.
    pub rule: &'static Rule,
    /// The subject's own part.
    pub own: PartRef,
    /// The other part.
    pub other: PartRef,
}

/// A question about a subject made ready to be asked with less than is asked, or without some of the others.
pub struct Question<'a> {
    panel: &'a Panel,
    bans: Vec<Ban<'a>>,
    window: Rect,
    /// What each other subject bars where all is asked that is asked.
    whole: OnceCell<Groups>,
}

/// Barred shifts by the other subject.
type Groups = BTreeMap<u32, Vec<Convex>>;

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

/// The region of a subject; `None`: there is no such subject.
pub fn region(panel: &Panel, subject: usize) -> Option<Region> {
    Some(Question::of(panel, subject)?.answer(0.0, &[]))
}

impl<'a> Question<'a> {
    /// All that is asked of a subject.
    pub fn of(panel: &'a Panel, subject: usize) -> Option<Question<'a>> {
        let bans = bans(panel, subject)?;
        let all = panel.sheets.iter().map(|s| s.outline.bounds()).reduce(|a, b| a.union(b))?;
        let own =
            panel.subjects[subject].parts.iter().map(|p| p.contour.bounds()).reduce(|a, b| a.union(b))?;
        let window =
            Rect::new(all.x0 - own.x1, all.y0 - own.y1, all.x1 - own.x0, all.y1 - own.y0).inflate(1.0, 1.0);
        Some(Question { panel, bans, window, whole: OnceCell::new() })
    }

    /// Subjects that have a say in the matter, sheets left out, ascending.
    pub fn others(&self) -> Vec<usize> {
        let inside = |b: &Ban<'_>| b.bounds().is_some_and(|b| b.overlaps(self.window));
        let mut all: Vec<usize> =
            self.bans.iter().filter(|b| inside(b)).map(|b| b.other.subject as usize).collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    /// Relations that a shift breaks or nearly breaks, where all limits are less by so much, mm.
    pub fn binds(&self, less: f64, at: Point) -> Vec<Binds> {
        let near = |b: &&Ban<'_>| {
            let room = |polygons: Vec<Convex>| polygons.iter().any(|c| holds(c, at));
            match &b.broken {
                Broken::Nearer { own, other, by } => {
                    room(nearer(own, other, (by - less).max(0.0) + 4.0 * TOLERANCE))
                }
                Broken::NotWithin { own, outline, by } => {
                    let (around, hollows) = hollows_of(outline);
                    let by = (by - less).max(0.0) + 4.0 * TOLERANCE;
                    let kept = within(vec![at], &around, &hull(own), by);
                    kept.is_empty() || room(apart(own, &hollows, by))
                }
                Broken::Uncovered { .. } | Broken::Alike { .. } => b.bounds().is_some_and(|b| b.contains(at)),
            }
        };
        self.bans.iter().filter(near).map(|b| Binds { rule: b.rule, own: b.own, other: b.other }).collect()
    }

    /// By how much it is short where it fits nowhere; `None`: it would overlap something wherever it stands.
    pub fn short(&self) -> Option<Short> {
        let empty = |less: f64| self.answer(less, &[]).area.size() <= 0.0;
        let most = |b: &Ban<'_>| match b.broken {
            Broken::Nearer { by, .. }
            | Broken::NotWithin { by, .. }
            | Broken::Alike { by, .. }
            | Broken::Uncovered { by, .. } => by,
        };
        let (mut none, mut some) = (0.0, self.bans.iter().map(most).fold(0.0, f64::max));
        if empty(some) {
            return None;
        }
        while some - none > TOLERANCE {
            let middle = (none + some) / 2.0;
            if empty(middle) { none = middle } else { some = middle }
        }
        let contours = self.answer(some, &[]).area.contours(0.0);
        let largest = contours.iter().max_by(|a, b| a.area().total_cmp(&b.area()))?;
        let at = largest.bounds().center();
        Some(Short { by: some, at, binds: self.binds(some, at) })
    }

    /// The region, all limits less by so much, none below zero, without what some subjects ask.
    pub fn answer(&self, less: f64, without: &[usize]) -> Region {
        let counts = |b: &&Ban<'a>| !without.contains(&(b.other.subject as usize));
        let mut rules = BTreeMap::new();
        for ban in self.bans.iter().filter(counts) {
            *rules.entry(ban.rule.id).or_insert(0) += 1;
        }
        let (mut area, mut barred) = self.on_the_sheet(less, without);
        let window = bounds(&area);
        let mut olds: BTreeMap<PartRef, Area> = BTreeMap::new();
        for ban in self.bans.iter().filter(counts) {
            let Some(box_of) = ban.bounds() else { continue };
            if window.is_none_or(|w| !box_of.overlaps(w)) {
                continue;
            }
            let old = self.panel.part(ban.other).class == Class::OldOpening;
            let bars = match &ban.broken {
                Broken::Uncovered { cover, what, by, own_covers } => {
                    uncovered(cover, what, (by - less).max(0.0) + GRID, *own_covers, &self.window)
                }
                _ if old => Area::of(&self.shifts(ban, less)),
                _ => continue,
            };
            olds.entry(ban.other).and_modify(|a| *a = a.with(&bars)).or_insert(bars);
        }
        let whole = || self.barred(0.0, window);
        let own;
        let groups = if less == 0.0 {
            self.whole.get_or_init(whole)
        } else {
            own = self.barred(less, window);
            &own
        };
        let asked = groups.iter().filter(|(other, _)| !without.contains(&(**other as usize)));
        barred.extend(asked.flat_map(|(_, group)| group.iter().cloned()));
        area = area.without(&Area::of(&barred));
        for (old, uncovered) in olds {
            area = area.without(&uncovered.without(&self.swallows(old)));
        }
        Region { area, rules }
    }

    /// Shifts at which everything stays on its sheet, and what is barred besides where the sheet is hollow.
    fn on_the_sheet(&self, less: f64, without: &[usize]) -> (Area, Vec<Convex>) {
        let mut inner = corners(&self.window);
        let mut barred = Vec::new();
        let mut hollows: BTreeMap<PartRef, (Contour, Vec<Convex>)> = BTreeMap::new();
        for ban in &self.bans {
            let Broken::NotWithin { own, outline, by } = &ban.broken else { continue };
            if without.contains(&(ban.other.subject as usize)) {
                continue;
            }
            let by = (by - less).max(0.0) + GRID;
            if outline.is_convex() {
                inner = within(inner, outline, &hull(own), by);
                continue;
            }
            // what keeps so far from the hull and from the hollows in it keeps so far from the outline
            let (around, hollows) = hollows.entry(ban.other).or_insert_with(|| hollows_of(outline));
            inner = within(inner, around, &hull(own), by);
            barred.extend(apart(own, hollows, by));
        }
        (Area::of(&[inner]), largest(barred))
    }

    /// Shifts that a relation bars, as convex polygons.
    fn shifts(&self, ban: &Ban<'_>, less: f64) -> Vec<Convex> {
        match &ban.broken {
            Broken::Nearer { own, other, by } => nearer(own, other, (by - less).max(0.0) + GRID),
            Broken::Alike { own, other, by } => {
                alike(own, other, (by - less).max(0.0) + GRID).into_iter().collect()
            }
            Broken::NotWithin { .. } | Broken::Uncovered { .. } => Vec::new(),
        }
    }

    /// What each other subject bars within a box of shifts, old openings left out.
    fn barred(&self, less: f64, window: Option<Rect>) -> Groups {
        let mut groups: BTreeMap<u32, Vec<&Ban<'a>>> = BTreeMap::new();
        for ban in &self.bans {
            let old = self.panel.part(ban.other).class == Class::OldOpening;
            let near = ban.bounds().zip(window).is_some_and(|(b, w)| b.overlaps(w));
            if near && !old && !matches!(ban.broken, Broken::Uncovered { .. }) {
                groups.entry(ban.other.subject).or_default().push(ban);
            }
        }
        groups.into_iter().map(|(other, bans)| (other, self.outermost(bans, less))).collect()
    }

    /// What the relations to one subject bar; what is barred already all over its box is not worked out.
    fn outermost(&self, mut bans: Vec<&Ban<'a>>, less: f64) -> Vec<Convex> {
        let size = |b: &Ban<'_>| b.bounds().map_or(0.0, |b| b.area());
        bans.sort_by(|a, b| size(b).total_cmp(&size(a)));
        let mut kept: Vec<Convex> = Vec::new();
        for ban in bans {
            let Some(box_of) = ban.bounds() else { continue };
            let hidden = |c: &Convex| corners(&box_of).iter().all(|p| holds(c, *p));
            if kept.iter().any(hidden) {
                continue;
            }
            let new = self.shifts(ban, less).into_iter().filter(|c| c.len() >= 3);
            let new: Vec<Convex> =
                new.filter(|c| !kept.iter().any(|k| c.iter().all(|p| holds(k, *p)))).collect();
            kept.extend(new);
        }
        kept
    }

    /// Shifts at which a cutout of the subject swallows an old opening whole: then nothing speaks of it.
    fn swallows(&self, old: PartRef) -> Area {
        let part = self.panel.part(old);
        let Some(subject) = self.bans.first().and_then(|b| self.panel.subjects.get(b.own.subject as usize))
        else {
            return Area::default();
        };
        let cuts = |c: Class| matches!(c, Class::Cutout | Class::Hole);
        let cutouts = subject.parts.iter().filter(|p| cuts(p.class) && p.sheet == part.sheet);
        let all = cutouts.map(|c| covered(&c.contour, &part.contour, GRID, true, &self.window));
        all.fold(Area::default(), |all, a| all.with(&a))
    }
}

/// A box around an area; `None` where it is empty.
fn bounds(area: &Area) -> Option<Rect> {
    area.contours(0.0).iter().map(|c| c.bounds()).reduce(|a, b| a.union(b))
}

pub(super) fn corners(r: &Rect) -> Vec<Point> {
    vec![Point::new(r.x0, r.y0), Point::new(r.x1, r.y0), Point::new(r.x1, r.y1), Point::new(r.x0, r.y1)]
}

/// Convex polygons around what is measured of a part.
fn polygons(s: &Shape<'_>) -> Vec<Convex> {
    match s {
        Shape::Outline(c) => around(c),
        Shape::Centre(p) => vec![vec![*p]],
    }
}

/// The corners of a shape's hull, in any order: a convex outline holds the shape where it holds them.
pub(super) fn hull(s: &Shape<'_>) -> Convex {
    let points: Vec<Point> = polygons(s).into_iter().flatten().collect();
    match Contour::around(points.clone()) {
        Some(hull) => ordered(polygon(&hull, Bound::Around, CHORD)),
        None => points,
    }
}

/// Shifts at which two are nearer than this, or overlap where that is not above zero.
pub(super) fn nearer(own: &Shape<'_>, other: &Shape<'_>, by: f64) -> Vec<Convex> {
    apart(own, &polygons(other), by)
}

/// The hull of an outline, and the hollows between the two as convex polygons that cover them.
pub(super) fn hollows_of(outline: &Contour) -> (Contour, Vec<Convex>) {
    let inner = polygon(outline, Bound::Within, CHORD);
    let Some(whole) = Contour::around(inner.clone()) else { return (outline.clone(), Vec::new()) };
    let all = polygon(&whole, Bound::Within, CHORD);
    let hollow = Area::of(&[all]).without(&Area::of(&[inner]));
    let pieces = hollow.contours(SLIVER).iter().filter(|c| c.is_ccw()).flat_map(around).collect();
    (whole, pieces)
}

/// Slivers left by the grid on which areas are joined, mm2.
const SLIVER: f64 = 1e-4;

/// Shifts at which a shape is nearer than this to some convex polygons, or overlaps one.
pub(super) fn apart(own: &Shape<'_>, others: &[Convex], by: f64) -> Vec<Convex> {
    let mine: Vec<Convex> = polygons(own).iter().map(|c| sum(&opposite(c), &disc(by))).collect();
    others.iter().flat_map(|q| mine.iter().map(|p| sum(q, p)).collect::<Vec<_>>()).collect()
}

/// Shifts at which two boxes differ by less than this on all sides.
pub(super) fn alike(own: &Rect, other: &Rect, by: f64) -> Option<Convex> {
    let range =
        |a0: f64, a1: f64, b0: f64, b1: f64| ((b0 - a0).max(b1 - a1) - by, (b0 - a0).min(b1 - a1) + by);
    let (x0, x1) = range(own.x0, own.x1, other.x0, other.x1);
    let (y0, y1) = range(own.y0, own.y1, other.y0, other.y1);
    (x0 < x1 && y0 < y1).then(|| corners(&Rect::new(x0, y0, x1, y1)))
}

/// Straights that a convex outline lies to the left of: outward unit vectors, and how far they are from the origin.
pub(super) fn straights(outline: &Contour) -> Vec<(Vec2, f64)> {
    let inner = polygon(outline, Bound::Within, CHORD);
    let sides = inner.iter().zip(inner.iter().cycle().skip(1));
    let normal = |(a, b): (&Point, &Point)| {
        let v = *b - *a;
        let long = v.hypot2().sqrt();
        (long > 1e-9).then(|| {
            let n = Vec2::new(v.y, -v.x) / long;
            (n, n.dot(a.to_vec2()))
        })
    };
    sides.filter_map(normal).collect()
}

/// What of a convex set of shifts keeps a shape so far within a convex outline.
pub(super) fn within(mut shifts: Convex, outline: &Contour, own: &[Point], by: f64) -> Convex {
    for (n, far) in straights(outline) {
        shifts = clipped(&shifts, n, far - support(own, n) - by);
    }
    shifts
}

/// Shifts at which a cover hides something by this; none for a cover that is not convex.
fn covered(cover: &Contour, what: &Contour, by: f64, own_covers: bool, window: &Rect) -> Area {
    if !cover.is_convex() {
        return Area::default();
    }
    let what = sum(&hull(&Shape::Outline(what)), &disc(by));
    let mut shifts = corners(window);
    for (n, far) in straights(cover) {
        // the cover moves, or what it hides does
        let room = far - support(&what, n);
        shifts = clipped(&shifts, if own_covers { -n } else { n }, room);
    }
    Area::of(&[shifts])
}

/// Shifts at which a cover meets what it does not hide by this.
fn uncovered(cover: &Contour, what: &Contour, by: f64, own_covers: bool, window: &Rect) -> Area {
    let (own, other) = if own_covers { (cover, what) } else { (what, cover) };
    let meets = nearer(&Shape::Outline(own), &Shape::Outline(other), GRID);
    Area::of(&meets).without(&covered(cover, what, by, own_covers, window))
}

/// So many of the largest polygons are compared with all others.
const COMPARED: usize = 6;

/// Those polygons of a list that are not wholly within one of its largest.
fn largest(mut all: Vec<Convex>) -> Vec<Convex> {
    let size = |c: &Convex| {
        let next = c.iter().cycle().skip(1);
        c.iter().zip(next).map(|(a, b)| a.to_vec2().cross(b.to_vec2())).sum::<f64>()
    };
    all.retain(|c| c.len() >= 3);
    all.sort_by(|a, b| size(b).total_cmp(&size(a)));
    let mut kept: Vec<Convex> = Vec::new();
    for c in all {
        if !kept.iter().take(COMPARED).any(|k| c.iter().all(|p| holds(k, *p))) {
            kept.push(c);
        }
    }
    kept
}
