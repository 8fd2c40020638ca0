//! What becomes of the openings that the old panel has, and what the new one has cut. Outlines are compared as polygons
//! at most [`FINE`] mm off; areas are true to that times the length of the outline.
//!
//! Only what is metal by now is asked: a sheet that the new panel calls new has no opening yet, provisions are not cut.

use crate::geom::overlay::Area;
use crate::geom::region::{Bound, polygon};
use crate::geom::{Contour, contains};
use crate::panel::{Class, Panel, Part};

/// Outlines that differ nowhere by more than a rounded number does are one and the same, mm: 3 1/8 in is 79.4 mm.
pub const COINCIDE: f64 = 0.02;
/// How far a polygon may be off its outline, mm.
const FINE: f64 = 0.001;
/// Slivers left by the grid on which areas are joined, mm2.
const SLIVER: f64 = 1e-3;

/// What becomes of an opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fate {
    /// A new item has the same opening.
    Used,
    /// New openings take it in whole.
    Swallowed,
    /// New openings take a part of it.
    CutInto,
    /// What lies in front of it hides it whole.
    Covered,
    /// Some of it stays open.
    Open,
}

/// An opening of the old panel.
#[derive(Clone, Debug, PartialEq)]
pub struct Was {
    /// Its name in the old panel.
    pub name: String,
    /// What becomes of it.
    pub fate: Fate,
    /// The new openings that use it, take it in or cut into it.
    pub by: Vec<String>,
    /// What no new opening takes, mm2.
    pub left: f64,
    /// Bezels, and sheets in front, that lie over what is left.
    pub under: Vec<String>,
    /// What is left and nothing lies over: to fill or to cover, mm2.
    pub open: f64,
    /// Its outline.
    pub outline: Contour,
    /// Outlines of what is to fill or to cover, by the even-odd rule.
    pub gap: Vec<Contour>,
}

/// An opening to be cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// Its name in the new panel.
    pub name: String,
    /// Metal that goes, mm2.
    pub area: f64,
    /// Length of its outline that runs through metal, mm.
    pub length: f64,
    /// Outlines of the metal that goes, by the even-odd rule.
    pub metal: Vec<Contour>,
}

/// The openings of both.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Openings {
    /// Those of the old panel in sheets that stay.
    pub old: Vec<Was>,
    /// To be cut, but what the old panel has cut just so.
    pub cut: Vec<Cut>,
}

/// A part with the sheet that it belongs to.
struct On<'a> {
    sheet: usize,
    id: &'a str,
    name: String,
    part: &'a Part,
}

/// All parts of some classes, but of provisions.
fn parts<'a>(panel: &'a Panel, classes: &[Class]) -> Vec<On<'a>> {
    let mut out = Vec::new();
    for s in panel.subjects.iter().filter(|s| !s.provision) {
        for part in s.parts.iter().filter(|p| classes.contains(&p.class)) {
            let sheet = part.sheet as usize;
            let Some(id) = panel.sheets.get(sheet).map(|s| s.id.as_str()) else { continue };
            let name = if part.name.is_empty() { s.id.clone() } else { format!("{}.{}", s.id, part.name) };
            out.push(On { sheet, id, name, part });
        }
    }
    out
}

/// An outline as an area that it holds, or that holds it: of two that run along one another neither leaves a sliver.
fn area(c: &Contour, bound: Bound) -> Area {
    Area::of(&[polygon(c, bound, FINE)])
}

/// Whether two outlines are one within [`COINCIDE`].
pub fn coincide(a: &Contour, b: &Contour) -> bool {
    let (x, y) = (a.bounds(), b.bounds());
    let near = |d: f64| d.abs() <= COINCIDE;
    if !(near(x.x0 - y.x0) && near(x.x1 - y.x1) && near(x.y0 - y.y0) && near(x.y1 - y.y1)) {
        return false;
    }
    if contains(a, b) && contains(b, a) {
        return true;
    }
    let (p, q) = (area(a, Bound::Within), area(b, Bound::Within));
    p.without(&q).size() + q.without(&p).size() <= (COINCIDE + FINE) * a.perimeter()
}

/// Whether the boxes of two outlines meet.
fn meets(a: &Contour, b: &Contour) -> bool {
    a.bounds().overlaps(b.bounds())
}

/// Takes outlines from an area, one after the other; whose took anything.
fn taken<'a>(whole: Area, by: impl Iterator<Item = (&'a str, &'a Contour)>) -> (Area, Vec<String>) {
    let mut who = Vec::new();
    let left = by.fold(whole, |left, (name, c)| {
        let less = left.without(&area(c, Bound::Around));
        if less.size() < left.size() - FINE {
            who.push(name.to_string());
        }
        less
    });
    (left, who)
}

/// What lies over the metal of a sheet: bezels on it and on what is in front of it, and these sheets themselves; a layer
/// has the openings of the sheet on which it lies, so that it hides none of them.
fn covers<'a>(panel: &'a Panel, bezels: &'a [On<'a>], id: &str) -> Vec<(&'a str, &'a Contour)> {
    let Some(own) = panel.sheets.iter().position(|s| s.id == id) else { return Vec::new() };
    let front = |k: usize| panel.sheets.get(k).map(|s| s.front);
    let over = |k: usize| {
        let layer = panel.sheets.get(k).is_some_and(|s| s.layer_of == Some(own));
        k == own || layer || front(k) < front(own)
    };
    let bezels = bezels.iter().filter(|b| over(b.sheet)).map(|b| (b.name.as_str(), &b.part.contour));
    let sheets =
        panel.sheets.iter().enumerate().filter(|(k, s)| *k != own && s.layer_of.is_none() && over(*k));
    bezels.chain(sheets.map(|(_, s)| (s.id.as_str(), &s.outline))).collect()
}

/// What becomes of one opening of the old panel.
fn fate(o: &On<'_>, now: &[On<'_>], covers: &[(&str, &Contour)]) -> Was {
    let c = &o.part.contour;
    let was = |fate: Fate, by: Vec<String>| Was {
        name: o.name.clone(),
        fate,
        by,
        left: 0.0,
        under: Vec::new(),
        open: 0.0,
        outline: c.clone(),
        gap: Vec::new(),
    };
    let near: Vec<&On<'_>> = now.iter().filter(|n| n.id == o.id && meets(c, &n.part.contour)).collect();
    if let Some(n) = near.iter().find(|n| coincide(c, &n.part.contour)) {
        return was(Fate::Used, vec![n.name.clone()]);
    }
    if let Some(n) = near.iter().find(|n| contains(&n.part.contour, c)) {
        return was(Fate::Swallowed, vec![n.name.clone()]);
    }
    let (rest, by) = taken(area(c, Bound::Within), near.iter().map(|n| (n.name.as_str(), &n.part.contour)));
    let left = if by.is_empty() { c.area() } else { rest.size() };
    if left <= FINE {
        return was(Fate::Swallowed, by);
    }
    let (rest, under) = taken(rest, covers.iter().filter(|(_, b)| meets(c, b)).copied());
    let open = if under.is_empty() { left } else { rest.size() };
    let fate = match (by.is_empty(), open <= FINE) {
        (false, _) => Fate::CutInto,
        (true, true) => Fate::Covered,
        (true, false) => Fate::Open,
    };
    let gap = match open > FINE {
        true if by.is_empty() && under.is_empty() => vec![c.clone()],
        true => rest.contours(SLIVER),
        false => Vec::new(),
    };
    Was { left, under, open: if open <= FINE { 0.0 } else { open }, gap, ..was(fate, by) }
}

/// What a new opening takes of the metal; `None`: nothing is cut, the old panel has the same.
fn cut(n: &On<'_>, old: &[On<'_>], blank: bool) -> Option<Cut> {
    let c = &n.part.contour;
    let there: Vec<&On<'_>> = old.iter().filter(|o| o.id == n.id && meets(c, &o.part.contour)).collect();
    if there.iter().any(|o| coincide(&o.part.contour, c)) {
        return None;
    }
    let outline = polygon(c, Bound::Within, FINE);
    let open: Vec<Vec<_>> = there.iter().map(|o| polygon(&o.part.contour, Bound::Around, FINE)).collect();
    let open = Area::of(if blank { &[] } else { &open });
    let metal = Area::of(std::slice::from_ref(&outline)).without(&open);
    let length = (c.perimeter() - open.holds_of(&outline)).max(0.0);
    // what cuts into no opening is told by its exact outline
    let whole = there.is_empty() || blank;
    let outlines = if whole { vec![c.clone()] } else { metal.contours(SLIVER) };
    Some(Cut { name: n.name.clone(), area: metal.size(), length, metal: outlines })
}

impl Openings {
    /// From one panel to another. A sheet that the new panel calls new has no opening yet; where the old panel calls it
    /// new too, both are drawings of one blank, and only what the old one does not have is told as a cut.
    pub fn of(old: &Panel, new: &Panel) -> Openings {
        let blank = |panel: &Panel, id: &str| panel.sheets.iter().find(|s| s.id == id).map(|s| s.new);
        let all = parts(old, &[Class::Cutout, Class::Hole, Class::OldOpening]);
        let now = parts(new, &[Class::Cutout, Class::Hole]);
        let bezels = parts(new, &[Class::Bezel]);
        let (stays, drawn): (Vec<On<'_>>, Vec<On<'_>>) =
            all.into_iter().partition(|o| blank(new, o.id) == Some(false));
        let told = |o: &On<'_>| fate(o, &now, &covers(new, &bezels, o.id));
        let cuts = now.iter().filter_map(|n| match (blank(old, n.id), blank(new, n.id)) {
            (_, Some(false)) => cut(n, &stays, false),
            (Some(true), _) => cut(n, &drawn, true),
            _ => cut(n, &[], true),
        });
        Openings { cut: cuts.collect(), old: stays.iter().map(told).collect() }
    }
}
