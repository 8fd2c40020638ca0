//! Whether another figure fits the readings as well: the mirror image of a part, about two points that hold it.

use super::adjust::{Adjusted, adjust};
use super::network::Network;
use super::observation::State;
use super::start::{Start, on_side, start};
use crate::geom::Point;
use std::collections::BTreeSet;

/// Two figures whose sums of squares differ by less fit alike (99.9 % of chi-square with two degrees of freedom).
const ALIKE: f64 = 13.8;
/// Most choices that are looked at from the other side.
const MOST: usize = 12;
/// A point that moves by more than this is elsewhere in the other figure, mm.
const ELSEWHERE: f64 = 1.0;

/// A part of the network that may also lie elsewhere.
#[derive(Clone, Debug)]
pub struct Ambiguous {
    /// The point to say a side of.
    pub point: usize,
    /// Where it may lie as well.
    pub also: Point,
    /// All points that would lie elsewhere with it.
    pub moved: Vec<usize>,
}

/// The figure that fits best, and what else fits.
pub struct Figure {
    /// It.
    pub adjusted: Adjusted,
    /// Other places.
    pub ambiguous: Vec<Ambiguous>,
}

/// How many stated sides a state contradicts.
fn against(network: &Network, s: &State) -> usize {
    let all = network.points.iter().enumerate();
    let wrong =
        all.flat_map(|(i, p)| p.sides.iter().filter(move |(side, q)| !on_side(*side, s.at[i], s.at[*q])));
    wrong.count()
}

/// First coordinates, adjustment, and the same from the other side of each choice.
pub fn figure(network: &Network, used: &[bool]) -> Figure {
    let mut other = BTreeSet::new();
    let Start { state, mut choices } = start(network, used, &other);
    let mut best = adjust(network, used, &state);
    let mut looked = BTreeSet::new();
    let mut ambiguous: Vec<Ambiguous> = Vec::new();
    while let Some(point) = choices.iter().copied().find(|p| !looked.contains(p)) {
        if looked.len() >= MOST {
            break;
        }
        looked.insert(point);
        let mut turned = other.clone();
        if !turned.remove(&point) {
            turned.insert(point);
        }
        let again = start(network, used, &turned);
        let trial = adjust(network, used, &again.state);
        let (now, then) = (against(network, &best.state), against(network, &trial.state));
        let better = then < now || then == now && trial.sum < best.sum - ALIKE;
        if better {
            // the new figure has its own choices; those looked at stay looked at
            (best, other, choices) = (trial, turned, again.choices);
            ambiguous.clear();
            continue;
        }
        if then > now || trial.sum > best.sum + ALIKE {
            continue;
        }
        let moved: Vec<usize> = (0..network.points.len())
            .filter(|p| (trial.state.at[*p] - best.state.at[*p]).hypot2() > ELSEWHERE * ELSEWHERE)
            .collect();
        if moved.contains(&point) {
            ambiguous.push(Ambiguous { point, also: trial.state.at[point], moved });
        }
    }
    Figure { adjusted: best, ambiguous }
}
