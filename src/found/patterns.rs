//! Openings of the catalogue's instruments among those of the panel: a middle of the same size and shape, and around it
//! every hole where the instrument has it, the whole turned by any angle.

use super::Piece;
use super::sizes::inches;
use crate::geom::{Contour, Point, Vec2, angle, length, span};
use crate::panel::{Class, Panel};
use crate::units::fmt_mm;
use rstar::RTree;
use rstar::primitives::GeomWithData;

/// How far sizes may differ and holes be out of place, mm: less than 80 mm and 3 1/8 in differ.
const OFF: f64 = 0.3;
/// A middle without holes around it is told from this diameter on, mm; smaller ones are everywhere.
const ROUND: f64 = 40.0;

/// The openings of instruments that share them.
#[derive(Clone, Debug)]
pub struct Pattern {
    /// In words: "3 1/8 in, 4 holes".
    pub title: String,
    /// Names of the instruments.
    pub names: Vec<String>,
    /// The largest opening, about its own middle.
    pub middle: Contour,
    /// The others: place from that middle, width.
    pub around: Vec<(Vec2, f64)>,
}

/// A pattern that was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Match {
    /// In words.
    pub title: String,
    /// Names of the instruments that have it.
    pub names: Vec<String>,
    /// Its middle, mm, in the file's axes.
    pub at: Point,
    /// How far it is turned, degrees counter-clockwise.
    pub turn: f64,
    /// Indices of the openings, the middle first.
    pub openings: Vec<usize>,
    /// Largest difference of a size or place, mm.
    pub off: f64,
}

/// The point by which an opening is placed, and its width.
fn place(c: &Contour) -> (Point, f64) {
    match c.as_circle().or_else(|| c.main_circle()) {
        Some((p, r)) => (p, 2.0 * r),
        None => (c.centroid(), c.bounds().width().max(c.bounds().height())),
    }
}

impl Pattern {
    /// The patterns of instruments, each on a sheet of its own; those with the same openings in one.
    pub fn list<'a>(samples: impl IntoIterator<Item = (String, &'a Panel)>) -> Vec<Pattern> {
        let mut out: Vec<Pattern> = Vec::new();
        for (name, panel) in samples {
            let Some(new) = Pattern::of(name, panel) else { continue };
            match out.iter_mut().find(|p| p.same(&new)) {
                Some(p) => p.names.extend(new.names),
                None => out.push(new),
            }
        }
        out
    }

    fn of(name: String, panel: &Panel) -> Option<Pattern> {
        let parts = panel.subjects.iter().flat_map(|s| &s.parts);
        let mut openings: Vec<&Contour> =
            parts.filter(|p| matches!(p.class, Class::Cutout | Class::Hole)).map(|p| &p.contour).collect();
        openings.sort_by(|a, b| b.area().total_cmp(&a.area()));
        let (first, rest) = openings.split_first()?;
        let (at, width) = place(first);
        let around: Vec<(Vec2, f64)> = rest
            .iter()
            .map(|c| {
                let (p, w) = place(c);
                (p - at, w)
            })
            .collect();
        // holes of one size are no pattern about one of them
        if around.iter().any(|(_, w)| 1.3 * w > width)
            || around.is_empty() && (first.as_circle().is_none() || width < ROUND)
        {
            return None;
        }
        let size = match first.as_circle() {
            Some((_, r)) => inches(2.0 * r).unwrap_or_else(|| fmt_mm(2.0 * r)),
            None => {
                let b = first.bounds();
                format!("{} x {}", fmt_mm(b.width()), fmt_mm(b.height()))
            }
        };
        let title = match around.len() {
            0 => size,
            1 => format!("{size} with 1 hole"),
            n => format!("{size} with {n} holes"),
        };
        let middle = crate::geom::Transform::place(Point::ORIGIN - at.to_vec2(), 0.0, false).contour(first);
        Some(Pattern { title, names: vec![name], middle, around })
    }

    fn same(&self, o: &Pattern) -> bool {
        let near = |a: f64, b: f64| (a - b).abs() < 1e-6;
        near(self.middle.area(), o.middle.area())
            && near(self.middle.perimeter(), o.middle.perimeter())
            && self.around.len() == o.around.len()
            && self
                .around
                .iter()
                .all(|(v, w)| o.around.iter().any(|(q, x)| length(*v - *q) < 1e-6 && near(*w, *x)))
    }
}

struct Field<'a> {
    openings: &'a [Piece],
    places: Vec<(Point, f64)>,
    tree: RTree<GeomWithData<[f64; 2], usize>>,
}

/// Finds the patterns; of several at one middle the one with most openings, then the nearest.
pub fn find(openings: &[Piece], patterns: &[Pattern]) -> Vec<Match> {
    let places: Vec<(Point, f64)> = openings.iter().map(|o| place(&o.contour)).collect();
    let tree = RTree::bulk_load(
        places.iter().enumerate().map(|(k, (p, _))| GeomWithData::new([p.x, p.y], k)).collect(),
    );
    let field = Field { openings, places, tree };
    let sizes: Vec<(f64, f64)> = patterns.iter().map(|p| (p.middle.area(), p.middle.perimeter())).collect();
    let mut found: Vec<Match> = Vec::new();
    for (k, opening) in openings.iter().enumerate() {
        let own = &opening.contour;
        let (area, round) = (own.area(), own.perimeter());
        let mut best: Option<Match> = None;
        for (p, size) in patterns.iter().zip(&sizes) {
            // what a uniform offset of OFF/2 would do to the area, and to the length of a smooth outline
            if (area - size.0).abs() > OFF * round || (round - size.1).abs() > 3.2 * OFF {
                continue;
            }
            let Some(m) = field.at(k, p) else { continue };
            let better = best.as_ref().is_none_or(|b| {
                let (n, old) = (m.openings.len(), b.openings.len());
                n > old || n == old && m.off < b.off
            });
            if better {
                best = Some(m);
            }
        }
        found.extend(best);
    }
    // a hole belongs to one pattern: the larger one takes it
    found.sort_by(|a, b| b.openings.len().cmp(&a.openings.len()).then(a.openings.cmp(&b.openings)));
    let mut used = vec![false; openings.len()];
    found.retain(|m| {
        let free = !m.openings.iter().any(|k| used[*k]);
        if free {
            m.openings.iter().for_each(|k| used[*k] = true);
        }
        free
    });
    found.sort_by_key(|m| m.openings.first().copied());
    found
}

impl Field<'_> {
    /// A pattern about one opening.
    fn at(&self, k: usize, p: &Pattern) -> Option<Match> {
        let (at, width) = self.places[k];
        let theirs = place(&p.middle).1;
        let circle = p.middle.as_circle().is_some();
        if circle != self.openings[k].contour.as_circle().is_some() || (width - theirs).abs() > OFF {
            return None;
        }
        let size_off = (width - theirs).abs();
        let Some((lead, _)) = p.around.iter().max_by(|a, b| length(a.0).total_cmp(&length(b.0))) else {
            return self.whole(k, p, at, 0.0, size_off);
        };
        let reach = length(*lead);
        let first = angle::direction(*lead);
        let near =
            self.tree.locate_within_distance([at.x, at.y], (reach + OFF) * (reach + OFF)).map(|g| g.data);
        let mut best: Option<Match> = None;
        for o in near.filter(|o| *o != k) {
            let v = self.places[o].0 - at;
            if (length(v) - reach).abs() > OFF {
                continue;
            }
            if let Some(m) = self.whole(k, p, at, angle::direction(v) - first, size_off)
                && best.as_ref().is_none_or(|b| {
                    let turned = |m: &Match| m.turn.min(360.0 - m.turn);
                    m.off < b.off - 1e-9 || m.off < b.off + 1e-9 && turned(&m) < turned(b)
                })
            {
                best = Some(m);
            }
        }
        best
    }

    /// Every hole of a pattern turned so.
    fn whole(&self, k: usize, p: &Pattern, at: Point, turn: f64, size_off: f64) -> Option<Match> {
        let (s, c) = angle::sin_cos(turn);
        let mut openings = vec![k];
        let mut off = size_off;
        for (v, w) in &p.around {
            let want = at + Vec2::new(v.x * c - v.y * s, v.x * s + v.y * c);
            let o = self.tree.nearest_neighbor(&[want.x, want.y])?.data;
            let (q, width) = self.places[o];
            let apart = span(q, want);
            if apart > OFF || (width - w).abs() > OFF || openings.contains(&o) {
                return None;
            }
            off = off.max(apart).max((width - w).abs());
            openings.push(o);
        }
        let degrees = angle::normalise(turn).to_degrees();
        let turn = if 360.0 - degrees < 1e-6 { 0.0 } else { degrees };
        Some(Match { title: p.title.clone(), names: p.names.clone(), at, turn, openings, off })
    }
}
