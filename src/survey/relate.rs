//! What a reading or condition of the file says, as relations of points.

use super::network::Network;
use super::observation::Relation;
use crate::define::Text;
use crate::define::survey::{Holds, What};
use crate::diag::{Problem, Problems, Written};

impl Network {
    pub(super) fn is_round(&self, p: usize, at: &Written<Text>, problems: &mut Problems) -> bool {
        if !self.points[p].round {
            let message = format!("`{}` is a point and has no radius", at.value);
            problems.push(
                Problem::new("no-circle", &at.place, message).help("list it in `circles`, not `points`"),
            );
        }
        self.points[p].round
    }

    pub(super) fn relation(
        &self,
        what: What,
        of: &[usize],
        at: &[Written<Text>],
        problems: &mut Problems,
    ) -> Option<Relation> {
        let edges = |sign: i8| {
            let (a, b) = (*of.first()?, *of.get(1)?);
            let (a, b) = (a.min(b), a.max(b));
            let k = |p: usize| if self.points[p].round { sign } else { 0 };
            Some(Relation::Distance { a, b, ra: k(a), rb: k(b) })
        };
        match (what, of) {
            (What::Distance, _) => edges(0),
            (What::Inside | What::Outside, &[a, b]) => {
                if !self.points[a].round && !self.points[b].round {
                    self.is_round(a, at.first()?, problems);
                    return None;
                }
                edges(if what == What::Inside { -1 } else { 1 })
            }
            (What::Diameter | What::Radius, &[c]) => {
                self.is_round(c, at.first()?, problems).then_some(())?;
                Some(Relation::Radius { c, k: if what == What::Diameter { 2 } else { 1 } })
            }
            (What::Offset, &[p, a, b]) => Some(Relation::Offset { p, a, b }),
            (What::Along, &[p, a, b]) => Some(Relation::Along { p, a, b }),
            (What::Gap, &[p, a, b]) => {
                self.is_round(p, at.first()?, problems).then_some(())?;
                Some(Relation::Gap { p, a, b })
            }
            (What::Up, &[a, b]) => Some(Relation::Up { a, b }),
            (What::Right, &[a, b]) => Some(Relation::Right { a, b }),
            _ => None,
        }
    }

    pub(super) fn condition(
        &self,
        holds: Holds,
        of: &[usize],
        at: &[Written<Text>],
        problems: &mut Problems,
    ) -> Vec<Relation> {
        let (Some((&first, rest)), Some((&last, inner))) = (of.split_first(), of.split_last()) else {
            return Vec::new();
        };
        match holds {
            Holds::Line => {
                let inner = inner.get(1..).unwrap_or(&[]);
                let (a, b) = (first.min(last), first.max(last));
                inner.iter().map(|&p| Relation::Offset { p, a, b }).collect()
            }
            Holds::Level => rest.iter().map(|&b| Relation::Up { a: first, b }).collect(),
            Holds::Plumb => rest.iter().map(|&b| Relation::Right { a: first, b }).collect(),
            Holds::Square => match *of {
                [p, a, b] => vec![Relation::Along { p, a, b }],
                _ => Vec::new(),
            },
            Holds::SameSize => {
                if !of.iter().zip(at).all(|(p, at)| self.is_round(*p, at, problems)) {
                    return Vec::new();
                }
                rest.iter().map(|&b| Relation::SameSize { a: first, b }).collect()
            }
            Holds::Circle => {
                if !at.first().is_some_and(|at| self.is_round(first, at, problems)) {
                    return Vec::new();
                }
                let on = |&p: &usize| {
                    let (a, b) = (p.min(first), p.max(first));
                    let k = |q: usize| if q == first { -1 } else { 0 };
                    Relation::Distance { a, b, ra: k(a), rb: k(b) }
                };
                rest.iter().map(on).collect()
            }
        }
    }
}
