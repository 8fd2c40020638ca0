//! What an arrangement costs: terms that are striven for, each with its weight.

use super::dice::Dice;
use super::ground::{Piece, face};
use super::terms::{TERMS, Term};
use crate::geom::{Point, Rect, Vec2};
use crate::panel::{Detail, InOrder, Panel, SubjectKind, Wishes};
use std::collections::BTreeMap;

/// What a term came to.
#[derive(Clone, Debug)]
pub struct Cost {
    /// The term.
    pub term: &'static Term,
    /// What it counts.
    pub weight: f64,
    /// What was measured; `None`: the file does not say what it needs.
    pub measured: Option<f64>,
}

impl Cost {
    /// What it adds.
    pub fn cost(&self) -> f64 {
        self.measured.map_or(0.0, |m| m * self.weight)
    }
}

/// What the terms need of a panel, worked out once.
pub struct Costs<'p> {
    pub(super) panel: &'p Panel,
    base: Vec<Option<Rect>>,
    owner: Vec<Option<usize>>,
    /// Placed items, of which one at least may move.
    pub(super) items: Vec<usize>,
    pub(super) moving: Vec<usize>,
    pub(super) hoses: BTreeMap<String, Vec<usize>>,
    weights: Vec<f64>,
    /// Items that belong together by any wish; moves bring them near each other.
    related: Vec<Vec<usize>>,
}

/// Where everything stands.
pub(super) struct View<'a> {
    /// What the terms need.
    pub c: &'a Costs<'a>,
    /// Shift of each piece.
    pub at: &'a [Vec2],
}

impl<'p> Costs<'p> {
    /// Of a panel and its pieces.
    pub fn new(panel: &'p Panel, pieces: &[Piece]) -> Costs<'p> {
        let w = &panel.wishes;
        let subjects = panel.subjects.iter().enumerate();
        let placed = |k: &usize| panel.subjects[*k].kind == SubjectKind::Placement;
        let base: Vec<Option<Rect>> = subjects.clone().map(|(_, s)| face(&s.parts)).collect();
        let items = (0..panel.subjects.len()).filter(placed).filter(|k| base[*k].is_some()).collect();
        let mut hoses: BTreeMap<String, Vec<usize>> = BTreeMap::new();
        for (k, s) in subjects.filter(|(k, _)| placed(k)) {
            for p in &s.parts {
                if let Detail::Port { carries: Some(what), .. } = &p.detail
                    && matches!(what.as_str(), "pitot" | "static" | "vacuum")
                {
                    let of = hoses.entry(what.clone()).or_default();
                    if !of.contains(&k) {
                        of.push(k);
                    }
                }
            }
        }
        hoses.retain(|_, v| v.len() > 1);
        let owner = |k: usize| pieces.iter().position(|p| p.members.contains(&k));
        let weight = |t: &Term| w.weights.iter().find(|(id, _)| id == t.id).map_or(t.weight, |(_, v)| *v);
        let mut related: Vec<Vec<usize>> = w.groups.clone();
        related.extend(w.rows.iter().map(|r| r.items.clone()));
        related.push(w.basic_t.iter().flatten().copied().collect());
        related.extend(w.symmetric.iter().map(|(pair, _)| pair.to_vec()));
        Costs {
            panel,
            owner: (0..panel.subjects.len()).map(owner).collect(),
            moving: pieces.iter().map(|p| p.lead).collect(),
            base,
            items,
            hoses,
            weights: TERMS.iter().map(weight).collect(),
            related: related.into_iter().filter(|r| r.len() > 1).collect(),
        }
    }

    /// The cost of shifts, all terms.
    pub fn total(&self, at: &[Vec2]) -> f64 {
        let view = View { c: self, at };
        let of = |(t, w): (&Term, &f64)| if *w > 0.0 { (t.measure)(&view).unwrap_or(0.0) * w } else { 0.0 };
        TERMS.iter().zip(&self.weights).map(of).sum()
    }

    /// Term by term.
    pub fn each(&self, at: &[Vec2]) -> Vec<Cost> {
        let view = View { c: self, at };
        let of = |(term, weight): (&'static Term, &f64)| Cost {
            term,
            weight: *weight,
            measured: (term.measure)(&view),
        };
        TERMS.iter().zip(&self.weights).map(of).collect()
    }

    /// Any placed item.
    pub fn any_item(&self, dice: &mut Dice) -> usize {
        self.items.get(dice.below(self.items.len())).copied().unwrap_or(0)
    }

    /// Some that belong together.
    pub fn some_related(&self, dice: &mut Dice) -> Option<&[usize]> {
        self.related.get(dice.below(self.related.len())).map(Vec::as_slice)
    }

    /// Some row.
    pub fn some_row(&self, dice: &mut Dice) -> Option<&InOrder> {
        let rows = &self.panel.wishes.rows;
        rows.get(dice.below(rows.len())).filter(|r| r.items.len() > 1)
    }

    /// Two different ones of those.
    pub fn relative(&self, dice: &mut Dice) -> Option<(usize, usize)> {
        let all = self.some_related(dice)?;
        let (a, b) = (all.get(dice.below(all.len()))?, all.get(dice.below(all.len()))?);
        (a != b).then_some((*a, *b))
    }

    /// Middles of the faces of all placed items but one, where the file has them.
    pub fn others(&self, but: usize) -> impl Iterator<Item = Point> + '_ {
        let others = self.items.iter().filter(move |k| **k != but);
        others.filter_map(|k| self.base.get(*k).copied().flatten()).map(|f| f.center())
    }

    /// What the panel's file wishes.
    pub fn wishes(&self) -> &Wishes {
        &self.panel.wishes
    }

    /// The face of a subject.
    pub fn face(&self, k: usize, at: &[Vec2]) -> Rect {
        let base = self.base.get(k).copied().flatten().unwrap_or(Rect::ZERO);
        match self.owner.get(k).copied().flatten() {
            Some(p) => base + at[p],
            None => base,
        }
    }
}

impl View<'_> {
    pub fn face(&self, k: usize) -> Rect {
        self.c.face(k, self.at)
    }

    pub fn wishes(&self) -> &Wishes {
        self.c.wishes()
    }
}
