//! Labels along a line: as near as possible to where they belong, in the same order, never closer than asked.
//!
//! With `q_i = wanted_i - i * apart` the condition "in order and at least `apart`" becomes "the places do not
//! fall", and the places of least squared shift are the isotonic regression of `q`: neighbours that would fall
//! are pooled to their mean until none does (pool adjacent violators, Ayer and others 1955). Clamping them to an
//! interval keeps them from falling and stays optimal. So, whatever is wanted: `s_(i+1) - s_i >= apart` to
//! rounding. Leaders from `wanted` to the places, drawn between two parallel lines, cannot cross: between
//! two pairs of the same order every blend has that order.

/// The places; none when the interval is too short. `wanted` must not fall.
pub fn spread(wanted: &[f64], apart: f64, low: f64, high: f64) -> Option<Vec<f64>> {
    let last = wanted.len().saturating_sub(1) as f64;
    let top = high - last * apart;
    if top < low {
        return None;
    }
    // pools: sum, count
    let mut pools: Vec<(f64, f64)> = Vec::new();
    for (k, w) in wanted.iter().enumerate() {
        let mut pool = (w - k as f64 * apart, 1.0);
        while let Some(before) = pools.last().copied() {
            if before.0 / before.1 <= pool.0 / pool.1 {
                break;
            }
            pools.pop();
            pool = (pool.0 + before.0, pool.1 + before.1);
        }
        pools.push(pool);
    }
    let flat = pools.iter().flat_map(|(sum, n)| std::iter::repeat_n((sum / n).clamp(low, top), *n as usize));
    Some(flat.enumerate().map(|(k, q)| q + k as f64 * apart).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn order_distance_and_interval_hold_for_any_wish() {
        let mut state = 7_u64;
        let mut dice = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 11) as f64 / (1_u64 << 53) as f64
        };
        for n in 0..120_usize {
            let mut wanted: Vec<f64> = (0..n).map(|_| dice() * 300.0).collect();
            wanted.sort_by(f64::total_cmp);
            let (low, high, apart) = (-20.0, 310.0, 4.0);
            let Some(places) = spread(&wanted, apart, low, high) else {
                assert!(n.saturating_sub(1) as f64 * apart > high - low);
                continue;
            };
            assert_eq!(places.len(), n);
            assert!(places.windows(2).all(|w| w[1] - w[0] >= apart - 1e-9));
            assert!(places.iter().all(|p| (low - 1e-9..=high + 1e-9).contains(p)));
        }
    }

    #[test]
    fn what_has_room_stays_and_what_has_none_shares_the_shift() {
        assert_eq!(spread(&[1.0, 10.0, 20.0], 4.0, 0.0, 30.0), Some(vec![1.0, 10.0, 20.0]));
        assert_eq!(spread(&[10.0, 10.0], 4.0, 0.0, 30.0), Some(vec![8.0, 12.0]));
        assert_eq!(spread(&[0.0, 0.0], 4.0, 0.0, 30.0), Some(vec![0.0, 4.0]));
        assert_eq!(spread(&[1.0, 2.0], 4.0, 0.0, 3.0), None);
        assert_eq!(spread(&[], 4.0, 0.0, 3.0), Some(vec![]));
    }

    #[test]
    fn no_other_lawful_places_are_nearer() {
        let wanted = [3.0, 4.0, 4.5, 9.0];
        let best = spread(&wanted, 2.0, 0.0, 20.0).unwrap_or_default();
        let cost = |s: &[f64]| wanted.iter().zip(s).map(|(w, s)| (w - s) * (w - s)).sum::<f64>();
        let steps = || (0..80).map(|k| f64::from(k) * 0.25);
        for a in steps() {
            for b in steps().filter(|b| b - a >= 2.0) {
                for c in steps().filter(|c| c - b >= 2.0) {
                    for d in steps().filter(|d| d - c >= 2.0) {
                        assert!(cost(&best) <= cost(&[a, b, c, d]) + 1e-12);
                    }
                }
            }
        }
    }
}
