//! Left and right: how far one partner is from the other's mirror image. Airframes are not mirror images.

use super::solve::Solved;

/// Two partners.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Partners {
    /// The one further left.
    pub left: usize,
    /// The other.
    pub right: usize,
    /// How much farther the right one is from the middle line, mm.
    pub across: f64,
    /// How much higher the right one is, mm.
    pub up: f64,
    /// Standard deviations of the two, mm.
    pub deviations: (f64, f64),
}

/// The x of the middle line (the mean of all pairs' middles), and what each pair differs. Pairs that are not
/// determined are left out.
pub fn pairs(s: &Solved) -> Option<(f64, Vec<Partners>)> {
    let at = |p: usize| s.adjusted.state.at[p];
    let held: Vec<(usize, usize)> = s
        .network
        .pairs
        .iter()
        .filter(|(a, b)| s.holds(*a) && s.holds(*b))
        .map(|(a, b)| if at(*a).x <= at(*b).x { (*a, *b) } else { (*b, *a) })
        .collect();
    if held.is_empty() {
        return None;
    }
    let share = 1.0 / held.len() as f64;
    let middle = held.iter().map(|(a, b)| 0.5 * (at(*a).x + at(*b).x)).sum::<f64>() * share;
    let n = s.network.unknowns;
    let deviation = |row: &[f64]| {
        let of = |i: usize| s.cofactor.row(i).iter().zip(row).map(|(q, v)| q * v).sum::<f64>();
        let variance: f64 = (0..n).filter(|i| row[*i] != 0.0).map(|i| row[i] * of(i)).sum();
        // an empty sum is -0
        (variance.max(0.0) + 0.0).sqrt() * s.scale
    };
    let add = |row: &mut [f64], u: Option<usize>, d: f64| {
        if let Some(u) = u {
            row[u] += d;
        }
    };
    let one = |&(left, right): &(usize, usize)| {
        let (mut x, mut y) = (vec![0.0; n], vec![0.0; n]);
        let ((lx, ly), (rx, ry)) = (s.network.unknowns(left), s.network.unknowns(right));
        add(&mut x, lx, 1.0);
        add(&mut x, rx, 1.0);
        for (a, b) in &held {
            add(&mut x, s.network.unknowns(*a).0, -share);
            add(&mut x, s.network.unknowns(*b).0, -share);
        }
        add(&mut y, ly, -1.0);
        add(&mut y, ry, 1.0);
        Partners {
            left,
            right,
            across: at(left).x + at(right).x - 2.0 * middle,
            up: at(right).y - at(left).y,
            deviations: (deviation(&x), deviation(&y)),
        }
    };
    Some((middle, held.iter().map(one).collect()))
}
