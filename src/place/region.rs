//! The region of all shifts at which no relation is broken.
//!
//! Conservative: shapes are taken as polygons around them, so that every shift in the region keeps every relation; what
//! keeps them all by more than [`TOLERANCE`] is in it, beside controls that turn by more than [`Region::excess`] more. Sums
//! of convex polygons are exact; covers that are not convex count as covering nothing. Solids are asked by their shadows
//! between the depths of each part (`shadow.rs`). Rules without a say are named with the region.

use super::barred::{GRID, Polygons, STILL, largest};
use super::convex::{Convex, corners, holds};
use super::open::{Left, Open, any_left};
use super::shadows::Shadows;
use super::walls::{Asked, Walls};
use crate::check::bans::{Allow, Ban, Bans, Broken, Shape, bans};
use crate::geom::overlay::Area;
use crate::geom::{Contour, Point, Rect};
use crate::panel::{Class, Panel, PartRef};
use std::cell::OnceCell;
use std::collections::{BTreeMap, BTreeSet};

/// What passes by more than this is in the region, mm: chords of both shapes and of the room between them, and the grid
/// on which areas are joined.
pub const TOLERANCE: f64 = 0.06;

/// Where a subject may stand.
#[derive(Clone, Debug, Default)]
pub struct Region {
    /// All shifts that keep every relation.
    pub area: Area,
    /// What holds as drawn will do, whatever the tolerances take.
    pub tight: bool,
    /// Rules that have a say, by how many relations of parts.
    pub rules: BTreeMap<&'static str, usize>,
    /// Rules that depend on the place and have no say, with the reason.
    pub unsaid: Vec<(&'static str, &'static str)>,
    /// Numbers that are missing: what they say is withheld wherever the subject stands.
    pub withheld: Vec<String>,
    /// How much more than [`TOLERANCE`] the region may lack beside controls, mm.
    pub excess: f64,
}

/// A question about a subject made ready to be asked with less than is asked, or without some of the others.
pub struct Question<'a> {
    pub(super) panel: &'a Panel,
    pub(super) all: Bans<'a>,
    pub(super) polygons: Polygons,
    tight: bool,
    window: Rect,
    /// A box around the subject's own parts where it stands.
    own: Rect,
    /// What is left of the sheet, and what each other subject bars, where all is asked that is asked.
    whole: OnceCell<Parts>,
}

/// What a region is made of.
pub(super) struct Parts {
    /// What the sheet and the map of depth leave.
    pub inner: Area,
    /// What other subjects bar of it, sheets and old openings left out.
    pub walls: Walls,
    /// What each old opening bars, by its subject.
    pub olds: BTreeMap<u32, Area>,
}

/// The region of a subject; `None`: there is no such subject.
pub fn region(panel: &Panel, subject: usize) -> Option<Region> {
    Some(Question::of(panel, subject, Allow::default())?.answer(0.0, &[]))
}

impl<'a> Question<'a> {
    /// All that is asked of a subject.
    pub fn of(panel: &'a Panel, subject: usize, allow: Allow) -> Option<Question<'a>> {
        let all = bans(panel, subject, allow)?;
        let sheet = panel.sheets.iter().map(|s| s.outline.bounds()).reduce(|a, b| a.union(b))?;
        let own =
            panel.subjects[subject].parts.iter().map(|p| p.contour.bounds()).reduce(|a, b| a.union(b))?;
        let window = Rect::new(sheet.x0 - own.x1, sheet.y0 - own.y1, sheet.x1 - own.x0, sheet.y1 - own.y0);
        let window = window.inflate(1.0, 1.0);
        Some(Question {
            panel,
            all,
            tight: allow.tight,
            polygons: Polygons::default(),
            window,
            own,
            whole: OnceCell::new(),
        })
    }

    /// Subjects that have a say in the matter, sheets left out, ascending.
    pub fn others(&self) -> Vec<usize> {
        let inside = |b: &Ban<'_>| b.bounds().is_some_and(|b| b.overlaps(self.window));
        let mut all: Vec<usize> =
            self.all.list.iter().filter(|b| inside(b)).map(|b| b.other.subject as usize).collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    /// The region, all limits less by so much, without what some subjects ask. Limits that fall below zero let parts
    /// overlap by as much.
    pub fn answer(&self, less: f64, without: &[usize]) -> Region {
        let counts = |b: &&Ban<'a>| !without.contains(&(b.other.subject as usize));
        let mut rules = BTreeMap::new();
        for ban in self.all.list.iter().filter(counts) {
            *rules.entry(ban.rule.id).or_insert(0) += 1;
        }
        let own;
        let parts = if less == 0.0 {
            self.whole()
        } else {
            own = self.parts(less);
            &own
        };
        let area = self.of_parts(parts, |other| !without.contains(&(other as usize)));
        Region {
            area,
            tight: self.tight,
            rules,
            unsaid: self.all.unsaid.iter().map(|(r, why)| (r.id, *why)).collect(),
            withheld: self.all.withheld.clone(),
            excess: parts.walls.shadows.excess(),
        }
    }

    /// What the region is made of, where all is asked that is asked.
    pub(super) fn whole(&self) -> &Parts {
        self.whole.get_or_init(|| self.parts(0.0))
    }

    pub(super) fn parts(&self, less: f64) -> Parts {
        let inner = self.on_the_sheet(less);
        let Some(window) = bounds(&inner) else {
            return Parts { inner, walls: Walls::default(), olds: BTreeMap::new() };
        };
        let shadows = self.shadows(window);
        let mut by_old: BTreeMap<PartRef, Area> = BTreeMap::new();
        let mut walls: Vec<(usize, u32, Rect)> = Vec::new();
        for (k, ban) in self.all.list.iter().enumerate() {
            let Some(bounds) = ban.bounds().filter(|b| b.overlaps(window)) else { continue };
            let old = self.panel.part(ban.other).class == Class::OldOpening;
            let bars = match &ban.broken {
                Broken::Uncovered { cover, what, by, own_covers } => {
                    self.polygons.uncovered(cover, what, by - less + GRID, *own_covers, &self.window)
                }
                _ if old => Area::of(&self.polygons.shifts(ban, less, &shadows)),
                _ => {
                    walls.push((k, ban.other.subject, bounds));
                    continue;
                }
            };
            by_old.entry(ban.other).and_modify(|a| *a = a.with(&bars)).or_insert(bars);
        }
        let mut olds: BTreeMap<u32, Area> = BTreeMap::new();
        for (old, uncovered) in by_old {
            let bars = uncovered.without(&self.swallows(old));
            olds.entry(old.subject).and_modify(|a| *a = a.with(&bars)).or_insert(bars);
        }
        walls.sort_by(|a, b| b.2.area().total_cmp(&a.2.area()));
        // of the same two shapes the one that asks the most comes first
        let mut seen = BTreeSet::new();
        walls.retain(|(k, ..)| self.all.list.get(*k).and_then(key).is_none_or(|shapes| seen.insert(shapes)));
        Parts { inner, walls: Walls::new(walls.into_iter(), less, shadows), olds }
    }

    /// What those that count leave.
    pub(super) fn of_parts(&self, parts: &Parts, counts: impl Fn(u32) -> bool) -> Area {
        let area = self.left(parts, &parts.inner, &counts);
        let olds = parts.olds.iter().filter(|(o, _)| counts(**o));
        olds.fold(area, |area, (_, old)| area.without(old))
    }

    /// Whether anything is left, all limits less by so much, and where where that is known.
    pub(super) fn leaves(&self, less: f64) -> Option<Option<Point>> {
        let parts = self.parts(less);
        let window = bounds(&parts.inner)?;
        let asked = Asked { question: self, walls: &parts.walls };
        let [inner, olds] = [vec![&parts.inner], parts.olds.values().collect()]
            .map(|all: Vec<&Area>| all.iter().flat_map(|a| [a.contours(0.0)]).collect::<Vec<_>>());
        let lies = |all: &[Vec<Contour>], p: Point| all.iter().any(|c| odd(c, p));
        let may = |p: Point| lies(&inner, p) && !lies(&olds, p);
        match any_left(window, asked, asked.near(window, |_| true), may) {
            Left::At(p) => Some(Some(p)),
            Left::Nothing => None,
            Left::Little => (self.of_parts(&parts, |_| true).size() > 0.0).then_some(None),
        }
    }

    /// What is left of an area by the walls of those that count.
    pub(super) fn left(&self, parts: &Parts, inner: &Area, counts: impl Fn(u32) -> bool) -> Area {
        let Some(window) = bounds(inner) else { return Area::default() };
        let asked = Asked { question: self, walls: &parts.walls };
        let open = Open::of(window, asked, &asked.near(window, counts), 1);
        if open.is_empty() {
            return Area::default();
        }
        let barred = asked.outermost(open.reach(), true);
        let barred: Vec<Convex> = barred.into_iter().map(|(_, (_, c))| c.clone()).collect();
        open.of_area(inner).without(&Area::of(&barred))
    }

    /// Shadows of solids for shifts within a window.
    fn shadows(&self, window: Rect) -> Shadows {
        Shadows::within(window, self.own, self.panel.most_play())
    }

    /// Shifts at which everything stays on its sheet, and has the depth that it needs.
    fn on_the_sheet(&self, less: f64) -> Area {
        let mut inner = corners(&self.window);
        let (mut barred, mut left) = (Vec::new(), Vec::new());
        for ban in &self.all.list {
            match &ban.broken {
                Broken::NotWithin { own, outline, sweep, by } => {
                    let (kept, more) = self.polygons.within(inner, outline, own, sweep, by - less + GRID);
                    inner = kept;
                    barred.extend(more);
                }
                Broken::Shallow(s) => {
                    let (area, more) = self.polygons.deep_enough(s, less, &self.window);
                    left.extend(area);
                    barred.extend(more);
                }
                _ => {}
            }
        }
        let area = left.iter().fold(Area::of(&[inner]), |all, a| all.common(a));
        if barred.is_empty() { area } else { area.without(&Area::of(&largest(barred))) }
    }

    /// Shifts at which a cutout of the subject swallows an old opening whole: then nothing speaks of it.
    fn swallows(&self, old: PartRef) -> Area {
        let part = self.panel.part(old);
        let own = self.all.list.first().and_then(|b| self.panel.subjects.get(b.own.subject as usize));
        let Some(subject) = own else { return Area::default() };
        let cuts = |c: Class| matches!(c, Class::Cutout | Class::Hole);
        let cutouts = subject.parts.iter().filter(|p| cuts(p.class) && p.sheet == part.sheet);
        let all = cutouts.map(|c| self.polygons.covered(&c.contour, &part.contour, GRID, true, &self.window));
        all.fold(Area::default(), |all, a| all.with(&a))
    }

    /// Whether a relation is broken at a shift, or nearly so, with all limits less by so much.
    pub(super) fn breaks(&self, ban: &Ban<'a>, less: f64, at: Point) -> bool {
        let room = |all: Vec<Convex>| all.iter().any(|c| holds(c, at));
        match &ban.broken {
            Broken::NotWithin { own, outline, sweep, by } => {
                let (kept, barred) = self.polygons.within(vec![at], outline, own, sweep, by - less);
                kept.is_empty() || room(barred)
            }
            Broken::Shallow(s) => {
                let (left, barred) = self.polygons.deep_enough(s, less, &self.window);
                left.is_some_and(|a| !inside(&a, at)) || room(barred)
            }
            Broken::Uncovered { cover, what, by, own_covers } => {
                let area = self.polygons.uncovered(cover, what, by - less, *own_covers, &self.window);
                inside(&area, at)
            }
            _ => room(self.polygons.shifts(ban, less, &self.shadows(Rect::from_points(at, at)))),
        }
    }
}

/// The two shapes of a relation, where they only keep apart.
fn key(ban: &Ban<'_>) -> Option<[u64; 4]> {
    let Broken::Nearer { own, other, sweep, .. } = &ban.broken else { return None };
    let of = |s: &Shape<'_>| match s {
        Shape::Outline(c) => [std::ptr::from_ref(*c) as u64, 0],
        Shape::Centre(p) => [p.x.to_bits(), p.y.to_bits()],
    };
    let ([a, b], [c, d]) = (of(own), of(other));
    (*sweep == STILL).then_some([a, b, c, d])
}

fn inside(area: &Area, at: Point) -> bool {
    odd(&area.contours(0.0), at)
}

/// Whether a point lies in what contours are by the even-odd rule.
fn odd(contours: &[Contour], at: Point) -> bool {
    contours.iter().filter(|c| c.holds(at)).count() % 2 == 1
}

/// A box around an area; `None` where it is empty.
pub(super) fn bounds(area: &Area) -> Option<Rect> {
    area.contours(0.0).iter().map(|c| c.bounds()).reduce(|a, b| a.union(b))
}
