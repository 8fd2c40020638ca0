//! Data snooping (Baarda 1968): for each reading its redundancy number, its test, and how far its test can be told
//! from that of another.
//!
//! The redundancy number is the share of an error in a reading that shows in its own residual: 0 nothing checks it, 1 all
//! shows. The test is the residual over its standard deviation; by chance it is above 3.29 once in a thousand readings.

use super::adjust::Adjusted;
use super::network::Network;
use super::normal::Matrix;

/// Below this redundancy number an error of ten standard deviations may stay hidden.
pub const LEAST_REDUNDANCY: f64 = 0.3;
/// Above this correlation two tests cannot be told apart.
pub const MOST_CORRELATION: f64 = 0.9;
/// A reading below this redundancy has no test.
const NO_TEST: f64 = 1e-6;

/// What the rest of the network says of one observation.
#[derive(Clone, Debug)]
pub struct Test {
    /// Residual: adjusted less observed, mm.
    pub residual: f64,
    /// Redundancy number, 0 to 1.
    pub redundancy: f64,
    /// The test: residual over its standard deviation; 0 where nothing checks it.
    pub test: f64,
    /// The observation whose test is most like this one's, and the correlation, 0 to 1.
    pub like: Option<(usize, f64)>,
    /// Q aᵀ: what the unknowns have to do with it.
    pub sight: Vec<f64>,
}

impl Test {
    /// How far it disagrees with all others, had it not been used: observed less expected, mm.
    pub fn misclosure(&self) -> Option<f64> {
        (self.redundancy > NO_TEST).then(|| -self.residual / self.redundancy)
    }

    /// Whether a gross error in it would be found and laid at its door.
    pub fn checkable(&self) -> bool {
        self.redundancy >= LEAST_REDUNDANCY && self.like.is_none_or(|(_, rho)| rho <= MOST_CORRELATION)
    }
}

/// The tests of all observations in use.
pub fn tests(network: &Network, adjusted: &Adjusted, cofactor: &Matrix) -> Vec<Option<Test>> {
    let mut all: Vec<Option<Test>> = adjusted
        .rows
        .iter()
        .zip(&network.observations)
        .map(|(row, o)| {
            let (v, row) = row.as_ref()?;
            let mut sight = vec![0.0; network.unknowns];
            for (u, d) in &row.terms {
                sight.iter_mut().zip(cofactor.row(*u)).for_each(|(s, q)| *s += d * q);
            }
            let redundancy = (1.0 - row.dot(&sight) / (o.sigma * o.sigma)).clamp(0.0, 1.0);
            let test = if redundancy > NO_TEST { -v / (o.sigma * redundancy.sqrt()) } else { 0.0 };
            Some(Test { residual: -v, redundancy, test, like: None, sight })
        })
        .collect();
    let mut like: Vec<Option<(usize, f64)>> = vec![None; all.len()];
    for (i, a) in all.iter().enumerate() {
        let Some(a) = a.as_ref().filter(|a| a.redundancy > NO_TEST) else { continue };
        for (j, b) in all.iter().enumerate().take(i) {
            let Some(b) = b.as_ref().filter(|b| b.redundancy > NO_TEST) else { continue };
            let Some((_, row)) = &adjusted.rows[j] else { continue };
            let (si, sj) = (network.observations[i].sigma, network.observations[j].sigma);
            let rho = row.dot(&a.sight).abs() / (si * sj * (a.redundancy * b.redundancy).sqrt());
            for (at, with) in [(i, j), (j, i)] {
                if like[at].is_none_or(|(_, best)| rho > best) {
                    like[at] = Some((with, rho));
                }
            }
        }
    }
    for (test, like) in all.iter_mut().zip(like) {
        if let Some(test) = test {
            test.like = like.map(|(with, rho)| (with, rho.min(1.0)));
        }
    }
    all
}
