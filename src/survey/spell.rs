//! Lengths as a panel file is to have them: bare numbers in its own unit, texts with theirs where it says none.

use crate::units::Unit;

/// How lengths are written.
#[derive(Clone, Copy, Debug)]
pub struct Spell(pub Option<Unit>);

impl Spell {
    /// For a file in mm.
    pub const MM: Spell = Spell(Some(Unit::Millimetre));

    fn unit(self) -> Unit {
        self.0.unwrap_or(Unit::Millimetre)
    }

    /// Nanometres of the last decimal: hundredths of a millimetre, ten-thousandths of an inch.
    fn step(self) -> f64 {
        if self.unit().is_inch() { 2540.0 } else { 10_000.0 }
    }

    fn steps(self, steps: f64) -> f64 {
        let v = steps * self.step() / self.unit().nanometres() as f64;
        if v == 0.0 { 0.0 } else { v }
    }

    /// The number in the file's unit.
    pub fn number(self, mm: f64) -> f64 {
        self.steps((mm * 1e6 / self.step()).round())
    }

    /// The same rounded up: what is left out of a tolerance would be a promise.
    pub fn up(self, mm: f64) -> f64 {
        self.steps((mm * 1e6 / self.step() - 1e-9).ceil().max(0.0))
    }

    /// What is read again of a length that was written, mm.
    pub fn again(self, mm: f64) -> f64 {
        self.number(mm) * self.unit().nanometres() as f64 / 1e6
    }

    /// A number of the file as it stands in it.
    pub fn said(self, number: f64) -> String {
        if self.0.is_some() { format!("{number}") } else { format!("\"{number} mm\"") }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Length;

    #[test]
    fn what_is_written_is_read_again_within_half_a_step() {
        let units = ["mm", "cm", "m", "um", "in", "ft", "mil"].map(|u| Unit::named(u).unwrap());
        for spell in units.into_iter().map(Some).chain([None]).map(Spell) {
            for mm in [0.0, -0.004, 12.345, 79.375, -317.5004, 1234.5678] {
                let text = spell.said(spell.number(mm));
                let read = Length::parse(text.trim_matches('"'), spell.0).unwrap().mm();
                assert!((read - mm).abs() <= 0.005 + 1e-9, "{spell:?} {mm}: {text}");
                assert!((read - spell.again(mm)).abs() < 1e-6, "{spell:?} {mm}: {text}");
                let text = spell.said(spell.up(mm.abs()));
                let more = Length::parse(text.trim_matches('"'), spell.0).unwrap().mm() - mm.abs();
                assert!((-1e-6..0.01 + 1e-6).contains(&more), "{spell:?} {mm}: {text}");
            }
        }
        // an inch is 25.4 mm (ISO 31-1, annex A): 3 1/8 in
        assert_eq!(Spell(Some(Unit::Inch)).said(Spell(Some(Unit::Inch)).number(79.375)), "3.125");
    }
}
