//! The adjustment: coordinates that make the sum of the weighted squares of all residuals least.
//!
//! Gauss-Newton steps on the normal equations; where a step makes it worse, Levenberg's damping shortens it. It ends
//! when no coordinate moves by more than a billionth of a millimetre (or the sum cannot be lowered any more).

use super::network::Network;
use super::normal::{Factor, Matrix};
use super::observation::{Row, State};

/// A step shorter than this ends the work, mm.
const STILL: f64 = 1e-9;
/// Most steps.
const MOST: usize = 100;

/// An adjusted state and what the adjustment knows of it.
#[derive(Clone, Debug)]
pub struct Adjusted {
    /// Coordinates, radii, zero errors.
    pub state: State,
    /// Sum of the weighted squares of the residuals.
    pub sum: f64,
    /// For each observation in use: what is observed less what follows from the state, mm, and its derivatives.
    pub rows: Vec<Option<(f64, Row)>>,
    /// The factor of the normal equations.
    pub factor: Factor,
    /// Whether the steps ended.
    pub settled: bool,
    /// Steps taken.
    pub steps: usize,
}

/// Residuals (observed less computed), derivatives, and the weighted sum of squares.
fn rows(network: &Network, used: &[bool], s: &State) -> (Vec<Option<(f64, Row)>>, f64) {
    let mut sum = 0.0;
    let rows = network
        .observations
        .iter()
        .zip(used)
        .map(|(o, used)| {
            used.then(|| {
                let (value, row) = o.row(network, s);
                let v = o.value - value;
                sum += (v / o.sigma) * (v / o.sigma);
                (v, row)
            })
        })
        .collect();
    (rows, sum)
}

/// The normal equations: lower half of the matrix, and the right side.
fn normal(network: &Network, rows: &[Option<(f64, Row)>], damping: f64) -> (Matrix, Vec<f64>) {
    let mut n = Matrix::zero(network.unknowns);
    let mut right = vec![0.0; network.unknowns];
    for (o, row) in network.observations.iter().zip(rows) {
        let Some((v, row)) = row else { continue };
        let weight = 1.0 / (o.sigma * o.sigma);
        for (i, d) in &row.terms {
            right[*i] += weight * d * v;
            let line = n.row_mut(*i);
            for (j, e) in row.terms.iter().filter(|(j, _)| j <= i) {
                line[*j] += weight * d * e;
            }
        }
    }
    if damping > 0.0 {
        for i in 0..network.unknowns {
            let line = n.row_mut(i);
            line[i] = line[i] * (1.0 + damping) + 1e-12;
        }
    }
    (n, right)
}

/// Adjusts from a first state with the observations in use.
pub fn adjust(network: &Network, used: &[bool], start: &State) -> Adjusted {
    let mut state = start.clone();
    let (mut at, mut sum) = rows(network, used, &state);
    let (mut damping, mut settled, mut steps) = (0.0, false, 0);
    let mut factor = None;
    while steps < MOST && !settled {
        steps += 1;
        let (matrix, right) = normal(network, &at, damping);
        let made = Factor::new(&matrix);
        let step = made.solve(&right);
        let longest = step.iter().fold(0.0f64, |m, v| m.max(v.abs()));
        let next = network.moved(&state, &step);
        let (next_rows, next_sum) = rows(network, used, &next);
        let still = longest < STILL;
        if next_sum <= sum || still && next_sum.is_finite() {
            // what cannot be lowered any more moves by rounding alone
            settled = still || damping == 0.0 && longest < 1e-6 && next_sum >= sum * (1.0 - 1e-14);
            (state, at, sum) = (next, next_rows, next_sum);
            damping = if damping < 1e-6 { 0.0 } else { damping * 0.1 };
            factor = (damping == 0.0 && settled).then_some(made);
        } else {
            settled = longest < 1e-7 || damping > 1e12;
            damping = if damping == 0.0 { 1e-4 } else { damping * 10.0 };
        }
    }
    let factor = factor.unwrap_or_else(|| Factor::new(&normal(network, &at, 0.0).0));
    Adjusted { state, sum, rows: at, factor, settled, steps }
}
