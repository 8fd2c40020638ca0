//! A length: whole nanometres, its unit, and the spelling it came with.

use super::error::{QuantityError, Reason};
use super::number::Scan;
use std::fmt;
use std::sync::Arc;

/// Nothing in a light aeroplane is longer than this, in nanometres (100 m).
const MOST_NM: i128 = 100_000_000_000;

/// A unit of length.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Unit {
    /// Millimetre.
    Millimetre,
    /// Centimetre.
    Centimetre,
    /// Metre.
    Metre,
    /// Micrometre.
    Micrometre,
    /// Inch.
    Inch,
    /// Foot.
    Foot,
    /// Thousandth of an inch.
    Mil,
}

/// Every spelling that is read, and its unit; the first of a unit is the one printed.
const SPELLINGS: &[(&str, Unit)] = &[
    ("mm", Unit::Millimetre),
    ("cm", Unit::Centimetre),
    ("m", Unit::Metre),
    ("um", Unit::Micrometre),
    ("\u{b5}m", Unit::Micrometre),
    ("\u{3bc}m", Unit::Micrometre),
    ("in", Unit::Inch),
    ("in.", Unit::Inch),
    ("inch", Unit::Inch),
    ("inches", Unit::Inch),
    ("\"", Unit::Inch),
    ("\u{201d}", Unit::Inch),
    ("\u{2033}", Unit::Inch),
    ("ft", Unit::Foot),
    ("ft.", Unit::Foot),
    ("foot", Unit::Foot),
    ("feet", Unit::Foot),
    ("'", Unit::Foot),
    ("\u{2019}", Unit::Foot),
    ("\u{2032}", Unit::Foot),
    ("mil", Unit::Mil),
    ("mils", Unit::Mil),
    ("thou", Unit::Mil),
];

/// The units offered when one is not known.
const KNOWN: &[&str] = &["mm", "cm", "m", "um", "in", "ft", "mil"];

impl Unit {
    /// Nanometres in one of it; exact.
    pub fn nanometres(self) -> i64 {
        match self {
            Unit::Millimetre => 1_000_000,
            Unit::Centimetre => 10_000_000,
            Unit::Metre => 1_000_000_000,
            Unit::Micrometre => 1_000,
            Unit::Inch => 25_400_000,
            Unit::Foot => 304_800_000,
            Unit::Mil => 25_400,
        }
    }

    /// Its short name.
    pub fn name(self) -> &'static str {
        match self {
            Unit::Millimetre => "mm",
            Unit::Centimetre => "cm",
            Unit::Metre => "m",
            Unit::Micrometre => "um",
            Unit::Inch => "in",
            Unit::Foot => "ft",
            Unit::Mil => "mil",
        }
    }

    /// The unit of a spelling.
    pub fn named(word: &str) -> Option<Unit> {
        SPELLINGS.iter().find(|(spelling, _)| *spelling == word).map(|(_, unit)| *unit)
    }

    /// True for the inch family.
    pub fn is_inch(self) -> bool {
        matches!(self, Unit::Inch | Unit::Foot | Unit::Mil)
    }
}

/// Which signs a length may have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// Any: a coordinate.
    Any,
    /// Zero or more: a gap, a tolerance.
    NotNegative,
    /// More than zero: a size.
    Positive,
}

/// A length as it was written.
#[derive(Clone, PartialEq, Eq)]
pub struct Length {
    nm: i64,
    unit: Unit,
    exact: bool,
    spelling: Arc<str>,
}

impl Length {
    /// Reads `3 1/8 in`, `3-1/8"`, `.5 in`, `1' 2 1/2"`, `62 mil`, `79.4 mm`; a bare number only
    /// when the file declares its unit, and a bare fraction only when that is of the inch family.
    pub fn parse(text: &str, default_unit: Option<Unit>) -> Result<Length, QuantityError> {
        let mut scan = Scan::new(text)?;
        let start = scan.at;
        let minus = scan.take('-');
        let number = scan.number()?;
        let (word, at) = scan.word();
        let (unit, bare) = match (word.is_empty(), default_unit) {
            (false, _) => (known(text, word, at)?, false),
            (true, _) if !scan.rest().trim().is_empty() => {
                return scan.bad("something follows the number that is no unit", at);
            }
            (true, Some(unit)) if !unit.is_inch() && text.contains('/') => {
                let reason = Reason::BareFraction { unit: unit.name() };
                return Err(QuantityError::new(reason, text, start, text.trim_end().len()));
            }
            (true, Some(unit)) => (unit, true),
            (true, None) => {
                return Err(QuantityError::new(Reason::NoUnit, text, start, text.trim_end().len()));
            }
        };
        let span = (start, text.trim_end().len());
        let (mut nm, mut exact) = nanometres(text, number.scaled(i128::from(unit.nanometres())), span)?;
        scan.blank();
        if unit == Unit::Foot && !bare && !scan.rest().is_empty() {
            scan.take('-');
            let inches = scan.number()?;
            let (word, at) = scan.word();
            if word.is_empty() || known(text, word, at)? != Unit::Inch {
                return scan.bad("after feet, inches are expected", at);
            }
            let (more, same) = nanometres(text, inches.scaled(i128::from(Unit::Inch.nanometres())), span)?;
            nm += more;
            exact &= same;
            scan.blank();
        }
        if !scan.rest().is_empty() {
            let at = scan.at;
            return scan.bad("something follows the unit", at);
        }
        if nm > MOST_NM {
            return Err(QuantityError::new(Reason::Absurd { most: "100 m" }, text, span.0, span.1));
        }
        let signed = if minus { -nm } else { nm };
        let nm = i64::try_from(signed)
            .map_err(|_| QuantityError::new(Reason::Absurd { most: "100 m" }, text, span.0, span.1))?;
        let spelling = match (bare, unit) {
            (true, unit) => format!("{} {}", text.trim(), unit.name()).into(),
            (false, _) => text.trim().into(),
        };
        Ok(Length { nm, unit, exact, spelling })
    }

    /// A length that the program sets itself, to the nearest nanometre, spelled as it would be
    /// printed in `unit`; `None` when it is not finite or longer than 100 m.
    pub fn from_mm(mm: f64, unit: Unit) -> Option<Length> {
        let nm = (mm * 1e6).round();
        if !nm.is_finite() || nm.abs() > MOST_NM as f64 {
            return None;
        }
        let spelling = super::print::print_exact(nm as i64, unit).into();
        Some(Length { nm: nm as i64, unit, exact: true, spelling })
    }

    /// In millimetres.
    pub fn mm(&self) -> f64 {
        self.nm as f64 / 1e6
    }

    /// In whole nanometres.
    pub fn nm(&self) -> i64 {
        self.nm
    }

    /// The unit it was written in.
    pub fn unit(&self) -> Unit {
        self.unit
    }

    /// False when what was written lay between two nanometres.
    pub fn is_exact(&self) -> bool {
        self.exact
    }

    /// Refuses a sign that has no meaning here.
    pub fn check(&self, sign: Sign) -> Result<(), QuantityError> {
        let reason = match sign {
            Sign::NotNegative | Sign::Positive if self.nm < 0 => Reason::Negative,
            Sign::Positive if self.nm == 0 => Reason::Zero,
            _ => return Ok(()),
        };
        Err(QuantityError::new(reason, &self.spelling, 0, self.spelling.len()))
    }
}

/// The unit of `word`, or an error under it with the nearest known one.
fn known(text: &str, word: &str, at: usize) -> Result<Unit, QuantityError> {
    Unit::named(word).ok_or_else(|| unknown(text, word, at, KNOWN))
}

/// The error for a unit that is not known.
pub(super) fn unknown(text: &str, word: &str, at: usize, known: &'static [&'static str]) -> QuantityError {
    let nearest = crate::diag::did_you_mean(word, known.iter().copied());
    QuantityError::new(Reason::UnknownUnit { nearest, known }, text, at, at + word.len())
}

fn nanometres(
    text: &str,
    scaled: Option<(i128, bool)>,
    (start, end): (usize, usize),
) -> Result<(i128, bool), QuantityError> {
    match scaled {
        Some((0, false)) => Err(QuantityError::new(Reason::TooFine, text, start, end)),
        Some((nm, exact)) if nm <= MOST_NM => Ok((nm, exact)),
        _ => Err(QuantityError::new(Reason::Absurd { most: "100 m" }, text, start, end)),
    }
}

impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.spelling)
    }
}

impl fmt::Debug for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Length({} = {} nm)", self.spelling, self.nm)
    }
}
