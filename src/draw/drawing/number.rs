//! Numbers as the drawing prints them: rounded once to whole steps, and what rounding leaves open.
//!
//! Millimetres to 0.01 without needless zeros (ISO 129-1, from memory); inches to 0.001 with all three
//! decimals and no zero before the point (ASME Y14.5, from memory); angles to 0.001 degrees.

use crate::units::Unit;

/// How lengths are printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Print {
    /// Inches instead of millimetres.
    pub inch: bool,
}

impl Print {
    /// As the panel's file speaks.
    pub fn of(unit: Unit) -> Print {
        Print { inch: unit.is_inch() }
    }

    /// One step of the last printed digit, mm.
    pub fn step(self) -> f64 {
        if self.inch { 0.0254 } else { 0.01 }
    }

    /// A length in whole steps: two that print alike have the same.
    pub fn key(self, mm: f64) -> i64 {
        (mm / self.step()).round() as i64
    }

    /// The length that a number of steps stands for, mm.
    pub fn value(self, key: i64) -> f64 {
        key as f64 * self.step()
    }

    /// The number of a length, without its unit.
    pub fn number(self, mm: f64) -> String {
        let key = self.key(mm);
        let (sign, k) = (if key < 0 { "-" } else { "" }, key.unsigned_abs());
        if self.inch {
            return match k / 1000 {
                0 if k == 0 => "0".into(),
                0 => format!("{sign}.{k:03}"),
                whole => format!("{sign}{whole}.{:03}", k % 1000),
            };
        }
        let text = format!("{sign}{}.{:02}", k / 100, k % 100);
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    }

    /// The unit's name.
    pub fn unit(self) -> &'static str {
        if self.inch { "in" } else { "mm" }
    }
}

/// Degrees with at most three decimals.
pub fn degrees(angle: f64) -> String {
    let text = format!("{angle:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".into() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_rounded_once() {
        let mm = Print { inch: false };
        for (v, s) in [(79.375, "79.38"), (-88.9, "-88.9"), (0.004, "0"), (-0.004, "0"), (120.0, "120")] {
            assert_eq!(mm.number(v), s);
        }
        let inch = Print { inch: true };
        for (v, s) in [(79.375, "3.125"), (-3.175, "-.125"), (0.01, "0"), (25.4, "1.000")] {
            assert_eq!(inch.number(v), s);
        }
        for k in -4000..4000 {
            let v = f64::from(k) * 0.0137;
            for p in [mm, inch] {
                let back: f64 = p.number(v).parse().expect("a number");
                let back = if p.inch { back * 25.4 } else { back };
                assert!((back - v).abs() <= p.step() / 2.0 + 1e-9, "{v} {back}");
                assert_eq!(p.key(back), p.key(v));
            }
        }
    }

    #[test]
    fn angles() {
        assert_eq!([degrees(30.0), degrees(-0.0001), degrees(12.3456)], ["30", "0", "12.346"]);
    }
}
