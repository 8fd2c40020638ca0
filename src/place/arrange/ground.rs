//! What may stand where: pieces that move as one, what bars each from a place, and what bars two from each other.
//!
//! Shifts are from where a piece stands in the panel. What two pieces bar each other depends on the difference of their
//! shifts alone, and so is worked out once.

use super::bar::{Bar, Barred, Straights, What, Why};
use crate::check::bans::{Allow, Ban, Broken, bans_among};
use crate::geom::{Contour, Point, Rect, Vec2};
use crate::panel::{Class, Detail, Panel, PartRef, SubjectKind};
use crate::place::barred::{GRID, Polygons};
use crate::place::convex::{Convex, corners, holds};
use crate::place::shadows::Shadows;
use std::collections::BTreeMap;

/// What moves as one: an item with its labels, a stack with its units.
#[derive(Clone, Debug)]
pub struct Piece {
    /// The item itself.
    pub lead: usize,
    /// It and all that moves with it.
    pub members: Vec<usize>,
    /// What it shows in front, where it stands.
    pub face: Rect,
}

/// A panel made ready to be arranged.
pub struct Ground {
    /// What moves.
    pub pieces: Vec<Piece>,
    /// Shifts at which a piece is within the hull of its sheet; empty where it is nowhere.
    pub inner: Vec<Convex>,
    sides: Vec<Straights>,
    /// What bars a piece that is not a piece.
    pub walls: Vec<Barred>,
    /// What bars two pieces, the first less than the second: the first's shift less the second's.
    pairs: Vec<Barred>,
    /// Pairs, and pieces by themselves, that the rules find in order as they stand: a polygon around a shape bars a little
    /// more than the shape.
    in_order: Vec<bool>,
    /// What bars each piece's stay on the sheet, where it fits nowhere.
    pub too_large: Vec<Option<Why>>,
}

/// The pieces that some subjects make; a subject that moves with another is none of its own.
pub fn pieces(panel: &Panel, free: &[usize]) -> Vec<Piece> {
    let goes_with = |lead: usize| -> Vec<usize> {
        let mut all = vec![lead];
        let units = panel.subjects.iter().enumerate();
        all.extend(
            units
                .filter(|(_, s)| s.kind == SubjectKind::Unit && s.carrier == Some(lead as u32))
                .map(|(k, _)| k),
        );
        let names: Vec<&str> = all.iter().map(|k| panel.subjects[*k].id.as_str()).collect();
        let of_it =
            |d: &Detail| matches!(d, Detail::Label { of: Some(of), .. } if names.contains(&of.as_str()));
        let labels = panel.subjects.iter().enumerate().filter(|(_, s)| s.kind == SubjectKind::Label);
        let labels: Vec<usize> =
            labels.filter(|(_, s)| s.parts.iter().any(|p| of_it(&p.detail))).map(|(k, _)| k).collect();
        all.extend(labels);
        all
    };
    let piece = |lead: &usize| {
        let subject = panel.subjects.get(*lead)?;
        Some(Piece { lead: *lead, members: goes_with(*lead), face: face(&subject.parts)? })
    };
    free.iter().filter_map(piece).collect()
}

/// A box around what shows in front; around everything where nothing does.
pub(super) fn face(parts: &[crate::panel::Part]) -> Option<Rect> {
    let of = |front: bool| {
        let bezels = parts.iter().filter(|p| !front || p.class == Class::Bezel);
        bezels.map(|p| p.contour.bounds()).reduce(|a, b| a.union(b))
    };
    of(true).or_else(|| of(false))
}

impl Ground {
    /// Makes a panel ready.
    pub fn new(panel: &Panel, pieces: Vec<Piece>) -> Ground {
        let n = pieces.len();
        let mut owner: BTreeMap<usize, usize> = BTreeMap::new();
        for (k, p) in pieces.iter().enumerate() {
            owner.extend(p.members.iter().map(|m| (*m, k)));
        }
        let moving: Vec<usize> = owner.keys().copied().collect();
        let lines = lines_at(panel, &owner);
        let polygons = Polygons::default();
        let mut ground = Ground {
            inner: vec![Vec::new(); n],
            sides: Vec::new(),
            walls: vec![Barred::default(); n],
            pairs: vec![Barred::default(); n * n],
            too_large: vec![None; n],
            in_order: vec![false; n * n],
            pieces,
        };
        for i in 0..n {
            let window = window(panel, &ground.pieces[i]);
            let shadows = Shadows::within(window, whole(panel, &ground.pieces[i]), panel.most_play());
            let mut inner = corners(&window);
            let mut by_other: BTreeMap<Option<usize>, Vec<Ban<'_>>> = BTreeMap::new();
            for m in ground.pieces[i].members.clone() {
                let all = bans_among(panel, m, &moving, Allow::default()).map(|b| b.list);
                for ban in all.unwrap_or_default() {
                    let other = ban.other.subject as usize;
                    let of = owner.get(&other).copied();
                    if of == Some(i) || lines.contains(&other) || of.is_some_and(|j| j < i) {
                        continue;
                    }
                    by_other.entry(of).or_default().push(ban);
                }
            }
            for (of, bans) in by_other {
                match of {
                    Some(j) => {
                        ground.pairs[i * n + j] =
                            barred(panel, (&polygons, &shadows), &bans, &ground.pieces[i])
                    }
                    None => {
                        let before = |inner: &Convex| inner.len() >= 3;
                        for ban in &bans {
                            let was = before(&inner);
                            let hollow = on_the_sheet(&polygons, ban, &mut inner, &window);
                            for bar in hollow {
                                ground.walls[i].push(bar);
                            }
                            if was && !before(&inner) {
                                ground.too_large[i] =
                                    Some(Why { what: What::Rule(ban.rule), own: ban.own, other: ban.other });
                            }
                        }
                        let walls = barred(panel, (&polygons, &shadows), &bans, &ground.pieces[i]);
                        ground.walls[i].join(walls);
                    }
                }
            }
            ground.sides.push(Straights::of(&inner));
            ground.inner[i] = inner;
        }
        ground
    }

    /// Takes what nearly fits as it stands for fitting, where the rules object to nothing.
    pub fn trust(&mut self, objects: impl Fn(usize, Option<usize>) -> bool) {
        let n = self.pieces.len();
        for i in 0..n {
            let wall = self.against_walls(i, Vec2::ZERO);
            self.in_order[i * n + i] = wall < NEARLY && !objects(i, None);
            for j in i + 1..n {
                let deep = self.against(i, Vec2::ZERO, j, Vec2::ZERO);
                self.in_order[i * n + j] = deep < NEARLY && !objects(i, Some(j));
            }
        }
    }

    /// Lets a piece stand only where a straight-sided set of shifts holds it.
    pub fn keep_within(&mut self, i: usize, outline: &Contour, own: &[Point]) {
        let inner = std::mem::take(&mut self.inner[i]);
        self.leave(i, Polygons::default().within_hull(inner, outline, own, 0.0));
    }

    /// Leaves a piece these shifts.
    pub fn leave(&mut self, i: usize, inner: Convex) {
        self.sides[i] = Straights::of(&inner);
        self.inner[i] = inner;
    }

    /// Bars two pieces further; the polygon is of the first's shift less the second's.
    pub fn bar_pair(&mut self, i: usize, j: usize, polygon: &Convex, why: Why) {
        let n = self.pieces.len();
        let (k, turned);
        if i < j {
            (k, turned) = (i * n + j, polygon.clone());
        } else {
            (k, turned) = (j * n + i, crate::place::convex::opposite(polygon));
        }
        if let Some(bar) = Bar::new(&turned, Vec::new(), why) {
            self.pairs[k].push(bar);
        }
    }

    /// How deep a piece at a shift lies in what is no piece, and beyond the sheet.
    pub fn against_walls(&self, i: usize, at: Vec2) -> f64 {
        if self.inner[i].len() < 3 {
            return f64::INFINITY;
        }
        if at == Vec2::ZERO && self.in_order[i * self.pieces.len() + i] {
            return 0.0;
        }
        self.sides[i].beyond(at) + self.walls[i].depth(at)
    }

    /// How deep two pieces lie in each other.
    pub fn against(&self, i: usize, at: Vec2, j: usize, other: Vec2) -> f64 {
        let n = self.pieces.len();
        let (k, d) = if i < j { (i * n + j, at - other) } else { (j * n + i, other - at) };
        if d == Vec2::ZERO && self.in_order[k] { 0.0 } else { self.pairs[k].depth(d) }
    }

    /// What two pieces bar each other, as the first's shift less the second's; a box around it.
    pub fn reach(&self, i: usize, j: usize) -> Option<Rect> {
        let n = self.pieces.len();
        if i < j {
            self.pairs[i * n + j].bounds
        } else {
            self.pairs[j * n + i].bounds.map(|b| Rect::new(-b.x1, -b.y1, -b.x0, -b.y0))
        }
    }

    /// By how much and why two pieces bar each other.
    pub fn why(&self, i: usize, at: Vec2, j: usize, other: Vec2) -> Option<(f64, Why)> {
        let n = self.pieces.len();
        if i < j {
            self.pairs[i * n + j].deepest(at - other)
        } else {
            self.pairs[j * n + i].deepest(other - at)
        }
    }

    /// By how much and why a piece is barred by what is no piece.
    pub fn why_wall(&self, i: usize, at: Vec2) -> Option<(f64, Why)> {
        self.walls[i].deepest(at)
    }
}

/// What is barred by less may be in order all the same, mm: twice [`crate::place::TOLERANCE`].
const NEARLY: f64 = 2.0 * crate::place::TOLERANCE;

/// Lines that end at a port of a piece: they go where it goes.
pub(super) fn lines_at(panel: &Panel, owner: &BTreeMap<usize, usize>) -> Vec<usize> {
    let at = |r: &PartRef| owner.contains_key(&(r.subject as usize));
    let ends = |l: &&crate::panel::Line| {
        let to = matches!(&l.to, Some(crate::panel::End::Port(r)) if at(r));
        to || l.from.as_ref().is_some_and(at)
    };
    panel.space.lines.iter().filter(ends).map(|l| l.subject as usize).collect()
}

/// Shifts that could matter: those at which a piece meets a sheet at all.
fn window(panel: &Panel, piece: &Piece) -> Rect {
    let all = panel.sheets.iter().map(|s| s.outline.bounds()).reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO);
    let f = piece.face;
    Rect::new(all.x0 - f.x1, all.y0 - f.y1, all.x1 - f.x0, all.y1 - f.y0).inflate(1.0, 1.0)
}

/// A box around all that moves with a piece, where it stands.
fn whole(panel: &Panel, piece: &Piece) -> Rect {
    let parts = piece.members.iter().filter_map(|m| panel.subjects.get(*m)).flat_map(|s| &s.parts);
    parts.map(|p| p.contour.bounds()).reduce(|a, b| a.union(b)).unwrap_or(piece.face)
}

/// Takes from a convex set of shifts those at which a part leaves its sheet's hull; what the sheet's hollows and the map of
/// depth bar.
fn on_the_sheet(polygons: &Polygons, ban: &Ban<'_>, inner: &mut Convex, window: &Rect) -> Vec<Bar> {
    let barred = match &ban.broken {
        Broken::NotWithin { own, outline, sweep, by } => {
            let (kept, barred) = polygons.within(std::mem::take(inner), outline, own, sweep, by + GRID);
            *inner = kept;
            barred
        }
        Broken::Shallow(s) => polygons.deep_enough(s, 0.0, window).1,
        _ => return Vec::new(),
    };
    let why = Why { what: What::Rule(ban.rule), own: ban.own, other: ban.other };
    barred.iter().filter_map(|c| Bar::new(c, Vec::new(), why)).collect()
}

/// What relations bar; what lies within a larger bar already is left out.
fn barred(
    panel: &Panel,
    (shapes, shadows): (&Polygons, &Shadows),
    bans: &[Ban<'_>],
    piece: &Piece,
) -> Barred {
    let mut sorted: Vec<(&Ban<'_>, Rect)> = bans.iter().filter_map(|b| Some((b, b.bounds()?))).collect();
    sorted.sort_by(|a, b| b.1.area().total_cmp(&a.1.area()));
    let mut out = Barred::default();
    let mut kept: BTreeMap<u32, Vec<Convex>> = BTreeMap::new();
    for (ban, box_of) in sorted {
        let why = Why { what: What::Rule(ban.rule), own: ban.own, other: ban.other };
        let old = panel.part(ban.other).class == Class::OldOpening;
        let mut unless = if old { swallows(panel, shapes, piece, ban.other) } else { Vec::new() };
        let kept = kept.entry(ban.other.subject).or_default();
        let plain = !old && !matches!(ban.broken, Broken::Uncovered { .. });
        if plain && kept.iter().any(|k| corners(&box_of).iter().all(|p| holds(k, *p))) {
            continue;
        }
        let polygons = match &ban.broken {
            Broken::Uncovered { cover, what, by, own_covers } => {
                unless
                    .extend(covered(shapes, cover, what, by + GRID, *own_covers).map(|c| Straights::of(&c)));
                shapes.meets(cover, what, *own_covers)
            }
            _ => shapes.shifts(ban, 0.0, shadows),
        };
        for c in polygons {
            if plain && kept.iter().any(|k| c.iter().all(|p| holds(k, *p))) {
                continue;
            }
            if let Some(bar) = Bar::new(&c, unless.clone(), why) {
                out.push(bar);
                if plain {
                    kept.push(c);
                }
            }
        }
    }
    out
}

/// Shifts at which a cutout of the piece swallows an old opening whole: then nothing speaks of it.
fn swallows(panel: &Panel, shapes: &Polygons, piece: &Piece, old: PartRef) -> Vec<Straights> {
    let part = panel.part(old);
    let cuts = |c: Class| matches!(c, Class::Cutout | Class::Hole);
    let all = piece.members.iter().filter_map(|m| panel.subjects.get(*m)).flat_map(|s| &s.parts);
    let cutouts = all.filter(|p| cuts(p.class) && p.sheet == part.sheet);
    cutouts
        .filter_map(|c| covered(shapes, &c.contour, &part.contour, GRID, true))
        .map(|c| Straights::of(&c))
        .collect()
}

/// Shifts at which a cover hides something by this; none for a cover that is not convex.
fn covered(shapes: &Polygons, cover: &Contour, what: &Contour, by: f64, own_covers: bool) -> Option<Convex> {
    let far = cover.bounds().union(what.bounds());
    let reach = 2.0 * (far.width() + far.height());
    shapes
        .hides(cover, what, by, own_covers, &Rect::new(-reach, -reach, reach, reach))
        .filter(|c| c.len() >= 3)
}
