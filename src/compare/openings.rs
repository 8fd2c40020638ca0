//! What becomes of the openings that the old panel has, and what the new one has cut. Outlines are compared as polygons
//! at most [`FINE`] mm off; areas are true to that times the length of the outline.

use crate::geom::overlay::Area;
use crate::geom::region::{Bound, polygon};
use crate::geom::{Contour, contains};
use crate::panel::{Class, Panel, Part};

/// Outlines that differ nowhere by more than a rounded number does are one and the same, mm: 3 1/8 in is 79.4 mm.
pub const COINCIDE: f64 = 0.02;
/// How far a polygon may be off its outline, mm.
const FINE: f64 = 0.001;

/// What becomes of an opening.
#[derive(Clone, Debug, PartialEq)]
pub enum Fate {
    /// A new item has the same opening.
    Used(String),
    /// A new opening takes it in whole.
    Swallowed(String),
    /// A new opening takes a part of it; what is left, mm2.
    Part(String, f64),
    /// A bezel covers it whole.
    Covered(String),
    /// Nothing covers it: metal to add, mm2.
    Open(f64),
}

/// An opening of the old panel.
#[derive(Clone, Debug, PartialEq)]
pub struct Was {
    /// Its name in the old panel.
    pub name: String,
    /// What becomes of it.
    pub fate: Fate,
}

/// The openings of both.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Openings {
    /// Those of the old panel in sheets that stay.
    pub old: Vec<Was>,
    /// To be cut: name in the new panel, metal that goes, mm2, and length of the outline, mm.
    pub cut: Vec<(String, f64, f64)>,
}

fn name(panel: &Panel, subject: usize, part: &Part) -> String {
    let id = panel.subjects.get(subject).map_or("", |s| s.id.as_str());
    if part.name.is_empty() { id.to_string() } else { format!("{id}.{}", part.name) }
}

/// All parts of some classes with their sheets' ids.
fn parts<'a>(panel: &'a Panel, classes: &[Class]) -> Vec<(&'a str, String, &'a Part)> {
    let mut out = Vec::new();
    for (k, s) in panel.subjects.iter().enumerate() {
        for p in s.parts.iter().filter(|p| classes.contains(&p.class)) {
            if let Some(sheet) = panel.sheets.get(p.sheet as usize) {
                out.push((sheet.id.as_str(), name(panel, k, p), p));
            }
        }
    }
    out
}

fn area(c: &Contour) -> Area {
    Area::of(&[polygon(c, Bound::Within, FINE)])
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
    let (p, q) = (area(a), area(b));
    p.without(&q).size() + q.without(&p).size() <= (COINCIDE + FINE) * a.perimeter()
}

impl Openings {
    /// From one panel to another. A sheet that the new panel calls new has no opening yet.
    pub fn of(old: &Panel, new: &Panel) -> Openings {
        let stays = |sheet: &str| new.sheets.iter().any(|s| s.id == sheet && !s.new);
        let mut was = parts(old, &[Class::Cutout, Class::Hole, Class::OldOpening]);
        was.retain(|(sheet, _, _)| stays(sheet));
        let now = parts(new, &[Class::Cutout, Class::Hole]);
        let bezels = parts(new, &[Class::Bezel]);
        let meets = |a: &Part, b: &Part| a.contour.bounds().overlaps(b.contour.bounds());
        let fate = |sheet: &str, p: &Part| {
            let near: Vec<_> = now.iter().filter(|(s, _, n)| *s == sheet && meets(p, n)).collect();
            if let Some((_, n, _)) = near.iter().find(|(_, _, n)| coincide(&p.contour, &n.contour)) {
                return Fate::Used(n.clone());
            }
            if let Some((_, n, _)) = near.iter().find(|(_, _, n)| contains(&n.contour, &p.contour)) {
                return Fate::Swallowed(n.clone());
            }
            let whole = area(&p.contour);
            for (_, n, by) in &near {
                let left = whole.without(&area(&by.contour)).size();
                if left < whole.size() - FINE {
                    return Fate::Part(n.clone(), left);
                }
            }
            match bezels.iter().find(|(_, _, b)| contains(&b.contour, &p.contour)) {
                Some((_, n, _)) => Fate::Covered(n.clone()),
                None => Fate::Open(p.contour.area()),
            }
        };
        let cut = now.iter().filter_map(|(sheet, name, p)| {
            let there: Vec<_> = was.iter().filter(|(s, _, o)| s == sheet && meets(p, o)).collect();
            if there.iter().any(|(_, _, o)| coincide(&o.contour, &p.contour)) {
                return None;
            }
            let gone = there.iter().fold(area(&p.contour), |left, (_, _, o)| left.without(&area(&o.contour)));
            Some((name.clone(), gone.size(), p.contour.perimeter()))
        });
        let cut = cut.collect();
        let old = was.iter().map(|(s, name, p)| Was { name: name.clone(), fate: fate(s, p) }).collect();
        Openings { old, cut }
    }
}
