//! What the user asks that must hold, as bars: zones, orders, apart, breakers within reach.

use super::bar::{Bar, What, Why};
use super::ground::Ground;
use crate::check::bans::Shape;
use crate::geom::{Contour, Point, Rect, Vec2};
use crate::panel::{Class, Panel, PartRef, SubjectKind, Wishes};
use crate::place::barred::Polygons;
use crate::place::convex::{Convex, corners, disc, opposite, ordered, sum};

/// Farther than anything on a panel, mm.
const FAR: f64 = 1e5;

/// In order means that the centres are so far from each other, mm.
const STEP: f64 = 1.0;

/// How far the hand comes where nothing else is said, mm: 26.7 in, functional reach of the 5th percentile woman
/// (NUREG-0700 revision 3).
pub const REACH: f64 = 678.2;

/// How far something lies from the shoulder.
pub fn reach_of(w: &Wishes) -> Option<(Point, f64, f64)> {
    let s = w.shoulder?;
    Some((Point::new(s.x, s.y), s.d, w.reach.unwrap_or(REACH)))
}

impl Ground {
    /// Takes up what the panel's wishes ask.
    pub fn bind(&mut self, panel: &Panel) {
        let w = &panel.wishes;
        for (k, zone) in w.zones.iter().enumerate() {
            for item in &zone.items {
                self.in_zone(panel, *item, &zone.area, k);
            }
        }
        for (k, o) in w.orders.iter().enumerate() {
            for pair in o.items.windows(2) {
                if let [a, b] = pair {
                    self.in_order(panel, [*a, *b], o.along, k);
                }
            }
        }
        for (k, keep) in w.apart.iter().enumerate() {
            for (n, a) in keep.items.iter().enumerate() {
                for b in keep.items.iter().skip(n + 1) {
                    self.kept_apart(panel, [*a, *b], keep.by, k);
                }
            }
        }
        self.in_sight(panel);
        if let Some((foot, d, most)) = reach_of(w) {
            let flat = (most * most - d * d).max(0.0).sqrt();
            for item in &w.flight_breakers {
                let Some(i) = self.piece_of(*item) else { continue };
                if flat > 0.0 {
                    self.keep_within(i, &Contour::circle(foot, flat), &[panel.subjects[*item].at]);
                } else {
                    self.inner[i].clear();
                }
                if self.inner[i].len() < 3 && self.too_large[i].is_none() {
                    self.too_large[i] = Some(why(What::Reach, *item, *item));
                }
            }
        }
    }

    /// Nothing stands under what juts out of another: no rule asks it, since the two may stand at other depths, but a lamp
    /// under a knob is not seen (common practice, no source).
    fn in_sight(&mut self, panel: &Panel) {
        let polygons = Polygons::default();
        let placed: Vec<usize> = (0..panel.subjects.len())
            .filter(|k| {
                panel.subjects[*k].kind == SubjectKind::Placement && panel.subjects[*k].carrier.is_none()
            })
            .collect();
        let of = |k: usize, classes: &[Class]| -> Vec<Convex> {
            let parts = panel.subjects[k].parts.iter().filter(|p| classes.contains(&p.class));
            parts.flat_map(|p| polygons.of(&Shape::Outline(&p.contour)).to_vec()).collect()
        };
        for (n, a) in placed.iter().enumerate() {
            for b in placed.iter().skip(n + 1) {
                if self.piece_of(*a).is_none() && self.piece_of(*b).is_none() {
                    continue;
                }
                for (a, b) in [(*a, *b), (*b, *a)] {
                    for p in of(a, &[Class::Front]) {
                        for q in of(b, &[Class::Front, Class::Bezel]) {
                            self.bar_two(a, b, &sum(&q, &opposite(&p)), why(What::Sight, a, b));
                        }
                    }
                }
            }
        }
    }

    /// The piece that a subject belongs to.
    pub fn piece_of(&self, subject: usize) -> Option<usize> {
        self.pieces.iter().position(|p| p.members.contains(&subject))
    }

    fn in_zone(&mut self, panel: &Panel, item: usize, area: &Contour, zone: usize) {
        let Some(i) = self.piece_of(item) else { return };
        let why = why(What::Zone(zone), item, item);
        let polygons = Polygons::default();
        for front in fronts(panel, item) {
            let inner = std::mem::take(&mut self.inner[i]);
            let (inner, hollow) = polygons.within(inner, area, &Shape::Outline(front), &Rect::ZERO, 0.0);
            self.leave(i, inner);
            for bar in hollow.iter().filter_map(|c| Bar::new(c, Vec::new(), why)) {
                self.walls[i].push(bar);
            }
        }
        if self.inner[i].len() < 3 && self.too_large[i].is_none() {
            self.too_large[i] = Some(why);
        }
    }

    fn in_order(&mut self, panel: &Panel, [a, b]: [usize; 2], along: Vec2, order: usize) {
        let at = |k: usize| panel.subjects[k].at.to_vec2().dot(along);
        // the second's shift less the first's is at least this along the way
        let least = at(a) - at(b) + STEP;
        let behind = Rect::new(-FAR, -FAR, least, FAR);
        let turned: Convex = ordered(
            corners(&behind)
                .iter()
                .map(|p| {
                    let across = Vec2::new(-along.y, along.x);
                    (along * p.x + across * p.y).to_point()
                })
                .collect(),
        );
        self.bar_two(b, a, &turned, why(What::Order(order), b, a));
    }

    fn kept_apart(&mut self, panel: &Panel, [a, b]: [usize; 2], by: f64, keep: usize) {
        let why = why(What::Apart(keep), a, b);
        let (polygons, room) = (Polygons::default(), disc(by));
        let all = |k: usize| -> Vec<Convex> {
            fronts(panel, k).into_iter().flat_map(|c| polygons.of(&Shape::Outline(c)).to_vec()).collect()
        };
        for p in all(a) {
            for q in all(b) {
                self.bar_two(a, b, &sum(&sum(&q, &opposite(&p)), &room), why);
            }
        }
    }

    /// Bars the shift of the first less that of the second; one of them may be no piece.
    fn bar_two(&mut self, a: usize, b: usize, c: &Convex, why: Why) {
        match (self.piece_of(a), self.piece_of(b)) {
            (Some(i), Some(j)) if i != j => self.bar_pair(i, j, c, why),
            (Some(i), None) => {
                if let Some(bar) = Bar::new(c, Vec::new(), why) {
                    self.walls[i].push(bar);
                }
            }
            (None, Some(j)) => {
                if let Some(bar) = Bar::new(&opposite(&sum(c, &disc(0.0))), Vec::new(), why) {
                    self.walls[j].push(bar);
                }
            }
            _ => {}
        }
    }
}

fn why(what: What, own: usize, other: usize) -> Why {
    let first = |k: usize| PartRef { subject: k as u32, part: 0 };
    Why { what, own: first(own), other: first(other) }
}

/// What an item shows in front.
pub(in crate::place) fn fronts(panel: &Panel, item: usize) -> Vec<&Contour> {
    let parts = || panel.subjects.get(item).into_iter().flat_map(|s| &s.parts);
    let of = |c: Class| parts().filter(|p| p.class == c).map(|p| &p.contour).collect::<Vec<_>>();
    [Class::Bezel, Class::Front, Class::Cutout]
        .into_iter()
        .map(of)
        .find(|v| !v.is_empty())
        .unwrap_or_else(|| parts().map(|p| &p.contour).collect())
}
