//! Whether another figure fits the readings as well: the mirror image of a part, about two points that hold it.

use super::adjust::{Adjusted, adjust};
use super::network::Network;
use super::observation::State;
use super::start::{Start, look_again, on_side, start};
use crate::geom::Point;
use std::collections::BTreeSet;

/// Two figures whose sums of squares differ by less fit alike (99.9 % of chi-square with two degrees of freedom).
const ALIKE: f64 = 13.8;
/// Most choices that are looked at from the other side.
const MOST: usize = 12;
/// Other guesses that are tried where nothing places a point and the figure does not fit.
const GUESSES: u32 = 24;
/// A sum of squares below so much per observation fits.
const FITS: f64 = 3.0;
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

/// How many stated sides a state contradicts, and how many pictures.
fn against(network: &Network, s: &State) -> usize {
    let all = network.points.iter().enumerate();
    let wrong =
        all.flat_map(|(i, p)| p.sides.iter().filter(move |(side, q)| !on_side(*side, s.at[i], s.at[*q])));
    // a picture is seen from the seat
    wrong.count() + s.cameras.iter().filter(|c| !c.upright()).count()
}

/// The points that lie elsewhere in another figure.
fn moved(one: &State, other: &State) -> Vec<usize> {
    let pairs = one.at.iter().zip(&other.at).enumerate();
    pairs.filter(|(_, (a, b))| (**a - **b).hypot2() > ELSEWHERE * ELSEWHERE).map(|(p, _)| p).collect()
}

/// The mirror image about the base line; none where known points hold the figure.
fn image(network: &Network, s: &State) -> Option<State> {
    let axis = s.at[network.datum.origin?].y;
    let mut image = s.clone();
    image.at.iter_mut().for_each(|p| p.y = 2.0 * axis - p.y);
    look_again(network, &mut image);
    Some(image)
}

/// First coordinates, adjustment, and the same from the other side of each choice.
pub fn figure(network: &Network, used: &[bool]) -> Figure {
    let mut other = BTreeSet::new();
    let Start { state, mut choices, guessed } = start(network, used, &other, 0);
    let mut best = adjust(network, used, &state);
    let mut guess = 0;
    if guessed {
        let many = used.iter().filter(|u| **u).count() as f64;
        for again in 1..=GUESSES {
            if best.sum <= FITS * many {
                break;
            }
            let next = start(network, used, &other, again);
            let trial = adjust(network, used, &next.state);
            if trial.sum < best.sum - ALIKE {
                (best, choices, guess) = (trial, next.choices, again);
            }
        }
    }
    let mut looked = BTreeSet::new();
    let mut ambiguous: Vec<Ambiguous> = Vec::new();
    if guessed && let Some(image) = image(network, &best.state) {
        // no choice was made about the base line: the whole figure may lie on its other side
        let trial = adjust(network, used, &image);
        let (now, then) = (against(network, &best.state), against(network, &trial.state));
        let alike = trial.sum <= best.sum + ALIKE;
        if alike && then < now {
            best = trial;
        } else if alike && then == now {
            let moved = moved(&trial.state, &best.state);
            if let Some(point) = moved.first().copied() {
                ambiguous.push(Ambiguous { point, also: trial.state.at[point], moved });
            }
        }
    }
    while let Some(point) = choices.iter().copied().find(|p| !looked.contains(p)) {
        if looked.len() >= MOST {
            break;
        }
        looked.insert(point);
        let mut turned = other.clone();
        if !turned.remove(&point) {
            turned.insert(point);
        }
        let again = start(network, used, &turned, guess);
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
        let moved = moved(&trial.state, &best.state);
        if moved.contains(&point) {
            ambiguous.push(Ambiguous { point, also: trial.state.at[point], moved });
        }
    }
    Figure { adjusted: best, ambiguous }
}
