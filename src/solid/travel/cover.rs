//! A solid over its whole travel as convex sets that together hold it: for shadows of it, where a clearance alone will
//! not do.
//!
//! Each set stands for a piece and a part of the drivers' domain (a *cell*): the hull of the piece at the part's corners,
//! grown by the bend of its points' paths (see `chain.rs`). Slides are exact. Where it turns, the hull is too large: by
//! the bend once more, and because points of the piece turn against each other, by at most a quarter of its size times
//! the angle. Cells are cut in halves by who asks, where that is worth it.

use super::chain::Chain;
use super::reach::{carrying, chain, corners, domain, middles, moving};
use super::{Moved, Reach};
use crate::solid::{Core, Piece, Pose, Vec3};

/// Drivers up to which all corners of their domain are looked at.
const CORNERED: usize = 6;

/// A convex set that holds a piece wherever its drivers stand in a part of their domain.
#[derive(Clone, Debug)]
pub struct Hull<'a> {
    core: &'a Core,
    poses: Vec<Pose>,
    /// By how much it is rounded, mm: the piece's own rounding, its growth, and the bend of paths.
    pub radius: f64,
}

impl Hull<'_> {
    /// A point of it, before rounding, that reaches farthest along a direction of any length.
    pub fn support(&self, direction: Vec3) -> Vec3 {
        let mut best = (f64::NEG_INFINITY, Vec3::ZERO);
        for pose in &self.poses {
            let p = pose.point(self.core.support(pose.back(direction)));
            let reach = p.dot(direction);
            if reach > best.0 {
                best = (reach, p);
            }
        }
        best.1
    }
}

/// A piece and a part of the domain.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    piece: usize,
    range: Vec<[f64; 2]>,
    /// By how much its hull may be too large, mm.
    pub excess: f64,
}

/// The pieces of a solid and how they move.
#[derive(Clone, Debug)]
pub struct Cover<'a> {
    chain: Chain,
    pieces: Vec<(&'a Piece, Costs)>,
    domain: Vec<[f64; 2]>,
    grow: f64,
}

/// What one unit of each driver does to a piece.
#[derive(Clone, Debug)]
struct Costs {
    rate: Vec<f64>,
    bend: Vec<f64>,
    /// Radians times a quarter of the piece's size, mm.
    turn: Vec<f64>,
}

impl Costs {
    fn at(list: &[f64], driver: usize) -> f64 {
        list.get(driver).copied().unwrap_or_default()
    }

    /// How far points stray from the hull of a range's corners because of one driver, mm.
    fn bent(&self, driver: usize, [low, high]: [f64; 2]) -> f64 {
        let half = (high - low) / 2.0;
        half * half / 2.0 * Costs::at(&self.bend, driver)
    }

    /// How much too large a driver makes the hull of a range.
    fn too_much(&self, driver: usize, range: [f64; 2]) -> f64 {
        2.0 * self.bent(driver, range) + (range[1] - range[0]) * Costs::at(&self.turn, driver)
    }
}

/// Whether the hull of all corners of a range is asked for, else that of its middle.
fn cornered(range: &[[f64; 2]]) -> bool {
    range.iter().filter(|[low, high]| low < high).count() <= CORNERED
}

impl<'a> Reach<'a> {
    /// The solid made ready to be covered.
    pub fn cover(&self) -> Cover<'a> {
        let Moved { solid, link, grow } = self.moved;
        let links = link.map_or(Vec::new(), |l| carrying(self.mechanism, l, solid, None));
        let drivers = moving(self.mechanism, &links);
        let chain = chain(self.mechanism, &links, &drivers);
        let domain = domain(self.mechanism, &drivers);
        let (at, halves) = middles(&domain);
        let leaves = self.tree.leaves().filter_map(|leaf| {
            let motion = chain.motion(&leaf.corners, &at, &halves);
            let turn = (0..domain.len()).map(|d| chain.turn(d) * leaf.size / 4.0).collect();
            Some((leaf.piece?, Costs { rate: motion.rate, bend: motion.bend, turn }))
        });
        let pieces = leaves.collect();
        Cover { chain, pieces, domain, grow }
    }
}

impl<'a> Cover<'a> {
    /// One cell a piece, with the whole domain.
    pub fn cells(&self) -> Vec<Cell> {
        (0..self.pieces.len()).map(|piece| self.cell(piece, self.domain.clone())).collect()
    }

    fn cell(&self, piece: usize, range: Vec<[f64; 2]>) -> Cell {
        let excess = self.pieces.get(piece).map_or(0.0, |(_, costs)| {
            if cornered(&range) {
                range.iter().enumerate().map(|(d, r)| costs.too_much(d, *r)).sum()
            } else {
                2.0 * self.stray(costs, &range)
            }
        });
        Cell { piece, range, excess }
    }

    /// How far points stray from what stands for a range, mm.
    fn stray(&self, costs: &Costs, range: &[[f64; 2]]) -> f64 {
        let all = range.iter().enumerate();
        if cornered(range) {
            all.map(|(d, r)| costs.bent(d, *r)).sum()
        } else {
            all.map(|(d, [low, high])| (high - low) / 2.0 * Costs::at(&costs.rate, d)).sum()
        }
    }

    /// A cell cut in two where that helps the most; `None` where it is exact.
    pub fn halves(&self, cell: &Cell) -> Option<[Cell; 2]> {
        let (_, costs) = self.pieces.get(cell.piece)?;
        let all = cell.range.iter().enumerate();
        let cost = |d: usize, r: [f64; 2]| {
            if cornered(&cell.range) {
                costs.too_much(d, r)
            } else {
                (r[1] - r[0]) * Costs::at(&costs.rate, d)
            }
        };
        let dearest = all.map(|(d, r)| (d, *r, cost(d, *r))).max_by(|a, b| a.2.total_cmp(&b.2))?;
        let (d, [low, high], _) = Some(dearest).filter(|(.., cost)| *cost > 0.0)?;
        let middle = (low + high) / 2.0;
        Some([[low, middle], [middle, high]].map(|r| {
            let mut range = cell.range.clone();
            if let Some(slot) = range.get_mut(d) {
                *slot = r;
            }
            self.cell(cell.piece, range)
        }))
    }

    /// The convex set that stands for a cell.
    pub fn hull(&self, cell: &Cell) -> Option<Hull<'a>> {
        let (piece, costs) = self.pieces.get(cell.piece)?;
        let at = if cornered(&cell.range) { corners(&cell.range) } else { vec![middles(&cell.range).0] };
        let poses = at.iter().map(|c| self.chain.pose(c)).collect();
        let radius = piece.radius + self.grow + self.stray(costs, &cell.range);
        Some(Hull { core: &piece.core, poses, radius })
    }
}
