//! Quantiles: what chance alone does.

/// Half axes of a 95 % ellipse in standard deviations: the root of the 95 % quantile of chi-square with two
/// degrees of freedom, -2 ln 0.05.
pub const ELLIPSE_95: f64 = 2.447_746_830_680_816;

/// Two-sided 95 % of one quantity in standard deviations.
pub const LINE_95: f64 = 1.959_963_984_540_054;

/// Least critical value of a single test: one false alarm in a thousand readings (Baarda 1968, from memory).
const LEAST_CRITICAL: f64 = 3.290_526_731_491_926;

/// Chance that a standard normal quantity is farther from zero than `z`.
fn two_sided(z: f64) -> f64 {
    libm::erfc(z / std::f64::consts::SQRT_2)
}

/// The critical value for the largest of `n` tests: at most 5 % false alarms among all of them, and never fewer than
/// 3.29 standard deviations.
pub fn critical(n: usize) -> f64 {
    let level = 0.05 / n.max(1) as f64;
    let (mut low, mut high) = (0.0, 40.0);
    for _ in 0..80 {
        let mid = 0.5 * (low + high);
        if two_sided(mid) > level { low = mid } else { high = mid }
    }
    f64::max(high, LEAST_CRITICAL)
}

/// The 95 % quantile of chi-square with `freedom` degrees of freedom (Wilson and Hilferty 1931: within 1 % above
/// two degrees).
pub fn chi_square_95(freedom: usize) -> f64 {
    let n = freedom.max(1) as f64;
    let c = 2.0 / (9.0 * n);
    let cube = 1.0 - c + 1.644_853_626_951_472 * c.sqrt();
    n * cube * cube * cube
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_are_those_of_the_tables() {
        // NIST/SEMATECH e-Handbook of Statistical Methods, tables 1.3.6.7.1 and 1.3.6.7.4: from memory
        assert!((two_sided(1.959_963_984_540_054) - 0.05).abs() < 1e-12);
        for (freedom, want) in [(2, 5.991), (5, 11.070), (10, 18.307), (30, 43.773), (100, 124.342)] {
            assert!((chi_square_95(freedom) / want - 1.0).abs() < 0.01, "{freedom}");
        }
        assert!((ELLIPSE_95 * ELLIPSE_95 - 5.991_464_547).abs() < 1e-8);
        assert!((critical(1) - LEAST_CRITICAL).abs() < 1e-12);
        // 0.05 / 1000 on two sides
        assert!((critical(1000) - 4.0556).abs() < 1e-3, "{}", critical(1000));
    }
}
