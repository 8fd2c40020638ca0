//! Where points lie if another reading is the wrong one: two that cannot be told apart give two figures, and the
//! deviations of one of them say nothing of the other.

use super::adjust::{Adjusted, adjust};
use super::network::Network;
use super::solve::{Solved, Suspect, together};
use super::statistics::LINE_95;
use crate::geom::Point;

/// A point that lies elsewhere if another reading is the wrong one.
#[derive(Clone, Debug)]
pub struct Either {
    /// The point.
    pub point: usize,
    /// The observation that would be the wrong one.
    pub rival: usize,
    /// Where the point would lie.
    pub at: Point,
    /// Its radius then, mm; 0 for a point.
    pub radius: f64,
}

/// The other figures: for each rival of what was set aside, the adjustment without it.
pub(super) fn figures(
    network: &Network,
    used: &[bool],
    adjusted: &Adjusted,
    suspects: &[Suspect],
) -> Vec<(usize, Adjusted)> {
    // both coordinates of a pick are one
    let first = |s: &&Suspect| together(network, s.observation).first() == Some(&s.observation);
    let pairs = suspects.iter().filter(first).flat_map(|s| s.rivals.iter().map(|r| (s.observation, *r)));
    pairs
        .map(|(aside, rival)| {
            let mut other = used.to_vec();
            together(network, aside).iter().for_each(|i| other[*i] = true);
            together(network, rival).iter().for_each(|i| other[*i] = false);
            (rival, adjust(network, &other, &adjusted.state))
        })
        .collect()
}

/// Points that a figure has outside their 95 % ellipse of the one that is told, or with another radius.
pub(super) fn either(solved: &Solved, figures: &[(usize, Adjusted)]) -> Vec<Either> {
    let mut all = Vec::new();
    for (rival, other) in figures {
        for point in (0..solved.network.points.len()).filter(|p| solved.holds(*p)) {
            let (here, there) = (&solved.adjusted.state, &other.state);
            let far = (there.at[point] - here.at[point]).hypot2().sqrt();
            let wider = (there.radius[point] - here.radius[point]).abs();
            let moved = far > solved.ellipse(point).major.max(SEEN)
                || wider > (LINE_95 * solved.radius_deviation(point)).max(SEEN);
            if moved {
                let (at, radius) = (there.at[point], there.radius[point]);
                all.push(Either { point, rival: *rival, at, radius });
            }
        }
    }
    all
}

/// Less than this is no other place, mm: the report is written to the hundredth.
const SEEN: f64 = 0.01;
