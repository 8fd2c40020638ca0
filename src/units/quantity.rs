//! Angles, masses and currents: a number, its unit and the spelling.

use super::error::{QuantityError, Reason};
use super::length::unknown;
use super::number::Scan;
use std::fmt;
use std::sync::Arc;

/// Spellings of one kind of quantity, each with its factor to the unit used inside.
struct Table {
    units: &'static [(&'static str, f64)],
    known: &'static [&'static str],
    /// The unit of a bare number, if the kind has only one.
    default: Option<&'static str>,
    most: f64,
    most_words: &'static str,
}

const DEGREES: Table = Table {
    units: &[("deg", 1.0), ("\u{b0}", 1.0), ("degree", 1.0), ("degrees", 1.0)],
    known: &["deg", "\u{b0}"],
    default: Some("deg"),
    most: 360.0,
    most_words: "360 deg",
};

/// The pound and the ounce are exact by definition (international yard and pound agreement, 1959).
const KILOGRAMS: Table = Table {
    units: &[
        ("kg", 1.0),
        ("g", 0.001),
        ("lb", 0.453_592_37),
        ("lbs", 0.453_592_37),
        ("oz", 0.028_349_523_125),
    ],
    known: &["kg", "g", "lb", "oz"],
    default: None,
    most: 1000.0,
    most_words: "1000 kg",
};

const AMPERES: Table = Table {
    units: &[("A", 1.0), ("mA", 0.001)],
    known: &["A", "mA"],
    default: Some("A"),
    most: 1000.0,
    most_words: "1000 A",
};

fn read(text: &str, table: &Table) -> Result<(f64, Arc<str>), QuantityError> {
    let mut scan = Scan::new(text)?;
    let start = scan.at;
    let minus = scan.take('-');
    let number = scan.number()?.to_f64();
    let (word, at) = scan.word();
    let (factor, spelling) = match (word, table.default) {
        ("", _) if !scan.rest().trim().is_empty() => {
            return scan.bad("something follows the number that is no unit", at);
        }
        ("", Some(unit)) => (1.0, format!("{} {unit}", text.trim())),
        ("", None) => {
            let reason = Reason::UnitMissing { known: table.known };
            return Err(QuantityError::new(reason, text, start, text.trim_end().len()));
        }
        (word, _) => match table.units.iter().find(|(name, _)| *name == word) {
            Some((_, factor)) => (*factor, text.trim().to_string()),
            None => return Err(unknown(text, word, at, table.known)),
        },
    };
    scan.blank();
    if !scan.rest().is_empty() {
        let at = scan.at;
        return scan.bad("something follows the unit", at);
    }
    let value = number * factor;
    if value > table.most {
        let reason = Reason::Absurd { most: table.most_words };
        return Err(QuantityError::new(reason, text, start, text.trim_end().len()));
    }
    Ok((if minus { -value } else { value }, spelling.into()))
}

/// Refuses less than zero.
fn not_negative((value, spelling): (f64, Arc<str>)) -> Result<(f64, Arc<str>), QuantityError> {
    if value < 0.0 {
        return Err(QuantityError::new(Reason::Negative, &spelling, 0, spelling.len()));
    }
    Ok((value, spelling))
}

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $table:ident, $inside:ident, $unit:literal, $check:expr) => {
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq)]
        pub struct $name {
            value: f64,
            spelling: Arc<str>,
        }

        impl $name {
            /// Reads a number and its unit.
            pub fn parse(text: &str) -> Result<$name, QuantityError> {
                let (value, spelling) = read(text, &$table).and_then($check)?;
                Ok($name { value, spelling })
            }

            #[doc = concat!("In ", $unit, ".")]
            pub fn $inside(&self) -> f64 {
                self.value
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(&self.spelling)
            }
        }
    };
}

quantity!(
    /// An angle as written; a bare number is degrees.
    Angle, DEGREES, degrees, "degrees", Ok
);
quantity!(
    /// A mass as written; never negative.
    Mass, KILOGRAMS, kg, "kilograms", not_negative
);
quantity!(
    /// A current as written; a bare number is amperes; never negative.
    Current, AMPERES, amperes, "amperes", not_negative
);
