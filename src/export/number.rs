//! Numbers as files hold them: fixed decimals, no exponent, no trailing zeros, no minus zero.

/// `value` rounded to `decimals` places. Something that is not finite gives "0"; [`super::valid`] has
/// refused it before.
pub fn fixed(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return "0".to_owned();
    }
    let long = format!("{value:.decimals$}");
    let short = if long.contains('.') { long.trim_end_matches('0').trim_end_matches('.') } else { &long };
    match short {
        "-0" => "0".to_owned(),
        s => s.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::fixed;

    #[test]
    fn trims_and_keeps_the_sign_right() {
        let cases = [
            (0.0, "0"),
            (-0.0, "0"),
            (-1e-9, "0"),
            (1.5, "1.5"),
            (100.0, "100"),
            (-79.375, "-79.375"),
            (1.0 / 3.0, "0.333333"),
            (f64::NAN, "0"),
            (f64::INFINITY, "0"),
            (1e15, "1000000000000000"),
        ];
        for (v, s) in cases {
            assert_eq!(fixed(v, 6), s);
        }
        assert_eq!(fixed(2.6, 0), "3");
        assert_eq!(fixed(120.0, 0), "120");
    }
}
