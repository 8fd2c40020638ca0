//! General tolerances of linear sizes: ISO 2768-1, table 1 (public tables; one transcription gives the
//! first two ranges of class c as 0.15 / 0.2, every other 0.2 / 0.3).

/// Tolerance class of ISO 2768-1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grade {
    /// f
    Fine,
    /// m
    Medium,
    /// c
    Coarse,
    /// v
    VeryCoarse,
}

/// Upper ends of the ranges of nominal size, mm; the first range starts at 0.5.
const RANGES: [f64; 8] = [3.0, 6.0, 30.0, 120.0, 400.0, 1000.0, 2000.0, 4000.0];
const FINE: [f64; 8] = [0.05, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5, f64::NAN];
const MEDIUM: [f64; 8] = [0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2, 2.0];
const COARSE: [f64; 8] = [0.2, 0.3, 0.5, 0.8, 1.2, 2.0, 3.0, 4.0];
const VERY_COARSE: [f64; 8] = [f64::NAN, 0.5, 1.0, 1.5, 2.5, 4.0, 6.0, 8.0];

impl Grade {
    /// The grade that `ISO 2768-m`, `ISO 2768-1 m` or `ISO 2768-mK` names.
    pub fn named(written: &str) -> Option<Grade> {
        let mut rest: String = written.to_uppercase();
        rest.retain(|c| !c.is_whitespace() && c != '-');
        let rest = rest.strip_prefix("ISO2768")?;
        let rest = rest.strip_prefix('1').unwrap_or(rest);
        let mut letters = rest.chars();
        let grade = match letters.next()? {
            'F' => Grade::Fine,
            'M' => Grade::Medium,
            'C' => Grade::Coarse,
            'V' => Grade::VeryCoarse,
            _ => return None,
        };
        // a second letter (H, K, L) is for form and position, part 2 of the standard
        match (letters.next(), letters.next()) {
            (None, _) | (Some('H' | 'K' | 'L'), None) => Some(grade),
            _ => None,
        }
    }

    /// Plus or minus for a nominal size, mm. Sizes below a table's first value take that value, sizes
    /// above its last take the last; both are outside the standard.
    pub fn linear(self, nominal: f64) -> f64 {
        let row = match self {
            Grade::Fine => &FINE,
            Grade::Medium => &MEDIUM,
            Grade::Coarse => &COARSE,
            Grade::VeryCoarse => &VERY_COARSE,
        };
        let mut last = 0.0;
        for (end, value) in RANGES.iter().zip(row) {
            if value.is_nan() {
                continue;
            }
            last = *value;
            if nominal <= *end {
                break;
            }
        }
        last
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_of_the_table() {
        // ISO 2768-1, table 1 (public tables)
        let cases = [
            (Grade::Medium, 4.5, 0.1),
            (Grade::Medium, 6.0, 0.1),
            (Grade::Medium, 6.1, 0.2),
            (Grade::Medium, 79.4, 0.3),
            (Grade::Medium, 400.0, 0.5),
            (Grade::Medium, 412.0, 0.8),
            (Grade::Fine, 79.4, 0.15),
            (Grade::Fine, 1500.0, 0.5),
            (Grade::Coarse, 2.0, 0.2),
            (Grade::Coarse, 5.0, 0.3),
            (Grade::VeryCoarse, 5.0, 0.5),
            (Grade::VeryCoarse, 3000.0, 8.0),
            // outside the standard
            (Grade::Fine, 3000.0, 0.5),
            (Grade::VeryCoarse, 1.0, 0.5),
            (Grade::Medium, 0.1, 0.1),
        ];
        for (grade, nominal, want) in cases {
            assert_eq!(grade.linear(nominal), want, "{grade:?} {nominal}");
        }
    }

    #[test]
    fn names() {
        for name in ["ISO 2768-m", "iso 2768 m", "ISO 2768-1 m", "ISO 2768-mK", "ISO2768-1-m"] {
            assert_eq!(Grade::named(name), Some(Grade::Medium), "{name}");
        }
        for name in ["", "ISO 2768", "2768-m", "ISO 2768-x", "ISO 2768-medium", "0.2 mm"] {
            assert_eq!(Grade::named(name), None, "{name}");
        }
    }
}
