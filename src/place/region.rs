//! The region of all shifts at which no relation between parts is broken.
//!
//! Conservative: shapes are taken as polygons around them, so that every shift in the region keeps every relation; what
//! keeps them all by more than [`TOLERANCE`] is in it. Sums of convex polygons are exact; covers that are not convex
//! count as covering nothing. Rules that measure by themselves are not in it (`check::bans::own_rules`).

use super::convex::{Convex, around, disc, holds, opposite, sum};
use crate::check::Rule;
use crate::check::bans::{Ban, Broken, Shape, bans};
use crate::geom::overlay::Area;
use crate::geom::region::{Bound, polygon};
use crate::geom::{Contour, Point, Rect, Vec2};
use crate::panel::{Class, Panel, PartRef};
use std::collections::BTreeMap;

/// What passes by more than this is in the region, mm: chords of both shapes and of the room between them, and the grid
/// on which areas are joined.
pub const TOLERANCE: f64 = 0.02;

/// How much more than asked is kept, mm: the grid on which areas are joined.
const GRID: f64 = 1e-5;

/// Where a subject may stand.
#[derive(Clone, Debug, Default)]
pub struct Region {
    /// All shifts that keep every relation.
    pub area: Area,
    /// Rules that have a say, by how many relations of parts.
    pub rules: BTreeMap<&'static str, usize>,
}

/// What a relation binds: the rule, the subject's own part and the other.
#[derive(Clone, Copy)]
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
        Some(Question { panel, bans, window })
    }

    /// Subjects that have a say in the matter, ascending.
    pub fn others(&self) -> Vec<usize> {
        let inside = |b: &Ban<'_>| b.bounds().is_none_or(|b| meets(&b, &self.window));
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
                Broken::Nearer { own, other, by } => room(nearer(own, other, by - less + 4.0 * TOLERANCE)),
                Broken::NotWithin { own, outline, by } => {
                    room(near_outline(own, outline, by - less + 4.0 * TOLERANCE))
                }
                Broken::Uncovered { .. } | Broken::Alike { .. } => b.bounds().is_some_and(|b| b.contains(at)),
            }
        };
        self.bans.iter().filter(near).map(|b| Binds { rule: b.rule, own: b.own, other: b.other }).collect()
    }

    /// The region, all limits less by so much (an overlap of so much allowed where that is more), without what some
    /// subjects ask.
    pub fn answer(&self, less: f64, without: &[usize]) -> Region {
        let mut rules = BTreeMap::new();
        let mut area = Area::of(&[corners(&self.window)]);
        let mut barred: Vec<Convex> = Vec::new();
        let mut olds: BTreeMap<PartRef, Area> = BTreeMap::new();
        let mut groups: BTreeMap<u32, Vec<Convex>> = BTreeMap::new();
        let mut kept: Vec<(&'a Contour, Convex)> = Vec::new();
        for ban in &self.bans {
            let far = ban.bounds().is_some_and(|b| !meets(&b, &self.window));
            if far || without.contains(&(ban.other.subject as usize)) {
                continue;
            }
            *rules.entry(ban.rule.id).or_insert(0) += 1;
            let polygons = match &ban.broken {
                Broken::Nearer { own, other, by } => nearer(own, other, by - less + GRID),
                Broken::NotWithin { own, outline, by } => {
                    let by = by - less + GRID;
                    if outline.is_convex() && by >= 0.0 {
                        kept.push((outline, sum(&hull(own), &disc(by))));
                        continue;
                    }
                    let inner = polygon(outline, Bound::Within, super::convex::CHORD);
                    let start = first(own);
                    let shifted = inner.iter().map(|p| *p - start.to_vec2()).collect();
                    area = area.common(&Area::of(&[shifted]));
                    near_outline(own, outline, by)
                }
                Broken::Alike { own, other, by } => alike(own, other, by - less + GRID).into_iter().collect(),
                Broken::Uncovered { cover, what, by, own_covers } => {
                    let uncovered = uncovered(cover, what, by - less + GRID, *own_covers, &self.window);
                    olds.entry(ban.other).and_modify(|a| *a = a.with(&uncovered)).or_insert(uncovered);
                    continue;
                }
            };
            if self.panel.part(ban.other).class == Class::OldOpening {
                let all = Area::of(&polygons);
                olds.entry(ban.other).and_modify(|a| *a = a.with(&all)).or_insert(all);
            } else {
                groups.entry(ban.other.subject).or_default().extend(polygons);
            }
        }
        for polygons in groups.into_values() {
            barred.extend(largest(polygons));
        }
        let mut inner = corners(&self.window);
        for (outline, own) in kept {
            inner = within(inner, outline, &own);
        }
        area = area.common(&Area::of(&[inner])).without(&Area::of(&barred));
        for (old, uncovered) in olds {
            area = area.without(&uncovered.without(&self.swallows(old)));
        }
        Region { area, rules }
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

fn meets(a: &Rect, b: &Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}

fn corners(r: &Rect) -> Vec<Point> {
    vec![Point::new(r.x0, r.y0), Point::new(r.x1, r.y0), Point::new(r.x1, r.y1), Point::new(r.x0, r.y1)]
}

/// Convex polygons around what is measured of a part.
fn polygons(s: &Shape<'_>) -> Vec<Convex> {
    match s {
        Shape::Outline(c) => around(c),
        Shape::Centre(p) => vec![vec![*p]],
    }
}

/// A point of what is measured.
fn first(s: &Shape<'_>) -> Point {
    match s {
        Shape::Outline(c) => c.segments().first().map_or(Point::ORIGIN, |s| s.start()),
        Shape::Centre(p) => *p,
    }
}

/// The corners of a shape's hull, in any order: a convex outline holds the shape where it holds them.
fn hull(s: &Shape<'_>) -> Convex {
    let points: Vec<Point> = polygons(s).into_iter().flatten().collect();
    match Contour::around(points.clone()) {
        Some(hull) => super::convex::ordered(polygon(&hull, Bound::Around, super::convex::CHORD)),
        None => points,
    }
}

/// Shifts at which two are nearer than this.
fn nearer(own: &Shape<'_>, other: &Shape<'_>, by: f64) -> Vec<Convex> {
    let mine: Vec<Convex> = polygons(own).iter().map(|c| sum(&opposite(c), &disc(by))).collect();
    polygons(other).iter().flat_map(|q| mine.iter().map(move |p| sum(q, p))).collect()
}

/// Shifts at which a shape is nearer to an outline than this.
fn near_outline(own: &Shape<'_>, outline: &Contour, by: f64) -> Vec<Convex> {
    let mine: Vec<Convex> = polygons(own).iter().map(|c| sum(&opposite(c), &disc(by))).collect();
    let inner = polygon(outline, Bound::Within, super::convex::CHORD);
    let sides = inner.iter().zip(inner.iter().cycle().skip(1));
    sides.flat_map(|(a, b)| mine.iter().map(move |p| sum(&super::convex::ordered(vec![*a, *b]), p))).collect()
}

/// Shifts at which two boxes differ by less than this on all sides.
fn alike(own: &Rect, other: &Rect, by: f64) -> Option<Convex> {
    let range =
        |a0: f64, a1: f64, b0: f64, b1: f64| ((b0 - a0).max(b1 - a1) - by, (b0 - a0).min(b1 - a1) + by);
    let (x0, x1) = range(own.x0, own.x1, other.x0, other.x1);
    let (y0, y1) = range(own.y0, own.y1, other.y0, other.y1);
    (x0 < x1 && y0 < y1).then(|| corners(&Rect::new(x0, y0, x1, y1)))
}

/// What of a convex polygon lies on the side of a straight where `n` times a point is at most `most`.
fn clipped(c: &[Point], n: Vec2, most: f64) -> Convex {
    let mut out = Vec::with_capacity(c.len() + 1);
    for (p, q) in c.iter().zip(c.iter().cycle().skip(1)) {
        let (a, b) = (n.dot(p.to_vec2()) - most, n.dot(q.to_vec2()) - most);
        if a <= 0.0 {
            out.push(*p);
        }
        if a < 0.0 && b > 0.0 || a > 0.0 && b < 0.0 {
            out.push(*p + (*q - *p) * (a / (a - b)));
        }
    }
    out
}

fn support(c: &[Point], n: Vec2) -> f64 {
    c.iter().map(|p| p.to_vec2().dot(n)).fold(f64::NEG_INFINITY, f64::max)
}

/// Straights that a convex outline lies to the left of: outward unit vectors, and how far they are from the origin.
fn straights(outline: &Contour) -> Vec<(Vec2, f64)> {
    let inner = polygon(outline, Bound::Within, super::convex::CHORD);
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

/// What of a convex set of shifts keeps a shape within a convex outline.
fn within(mut shifts: Convex, outline: &Contour, own: &[Point]) -> Convex {
    for (n, far) in straights(outline) {
        shifts = clipped(&shifts, n, far - support(own, n));
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
