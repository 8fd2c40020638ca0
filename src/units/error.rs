//! Why a written quantity was refused, and what to write instead.

use std::fmt;

/// What is wrong with a written quantity.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Reason {
    /// Nothing was written.
    Empty,
    /// A comma: a decimal comma or a thousands separator, and nobody can tell which.
    Comma,
    /// "nan", "inf" and their kin.
    NotFinite,
    /// A number without a unit, in a file that declares none.
    NoUnit,
    /// A fraction without a unit in a metric file: nobody measures so, the inch was forgotten.
    BareFraction {
        /// The file's unit.
        unit: &'static str,
    },
    /// A number without a unit, of a kind for which a file declares none.
    UnitMissing {
        /// Every unit that may stand here.
        known: &'static [&'static str],
    },
    /// A unit that is not known, with the nearest known one.
    UnknownUnit {
        /// The known unit that looks most like it.
        nearest: Option<&'static str>,
        /// Every unit that may stand here.
        known: &'static [&'static str],
    },
    /// A fraction over zero.
    ZeroDivision,
    /// Less than zero where a size is asked.
    Negative,
    /// Zero where a size is asked.
    Zero,
    /// Larger than anything that this program is about.
    Absurd {
        /// The largest value allowed, in words.
        most: &'static str,
    },
    /// Not zero, but so small that it would be kept as zero.
    TooFine,
    /// Not a number that can be read; the words say which part.
    BadNumber(&'static str),
}

/// A refused quantity: what is wrong and at which bytes of the text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct QuantityError {
    /// What is wrong.
    pub reason: Reason,
    /// The text that was read.
    pub text: String,
    /// First byte of the wrong part within the text.
    pub start: usize,
    /// Byte after the wrong part.
    pub end: usize,
}

impl QuantityError {
    pub(super) fn new(reason: Reason, text: &str, start: usize, end: usize) -> Self {
        QuantityError { reason, text: text.to_string(), start, end }
    }

    /// The stable code of this error.
    pub fn code(&self) -> &'static str {
        match self.reason {
            Reason::Empty => "empty-value",
            Reason::Comma => "comma-decimal",
            Reason::NotFinite => "not-finite",
            Reason::NoUnit | Reason::UnitMissing { .. } => "no-unit",
            Reason::BareFraction { .. } => "bare-fraction",
            Reason::UnknownUnit { .. } => "unknown-unit",
            Reason::ZeroDivision => "zero-division",
            Reason::Negative => "negative-size",
            Reason::Zero => "zero-size",
            Reason::Absurd { .. } => "absurd-value",
            Reason::TooFine => "too-fine",
            Reason::BadNumber(_) => "bad-number",
        }
    }

    /// The wrong part of the text.
    pub fn part(&self) -> &str {
        self.text.get(self.start..self.end).unwrap_or(&self.text)
    }

    /// What to do about it.
    pub fn help(&self) -> String {
        match &self.reason {
            Reason::Empty => "write a value with its unit, such as \"79.4 mm\", or leave the key out".into(),
            Reason::Comma => {
                let text = self.text.trim();
                // where there is a point too, or more than one comma, they part thousands
                let right = if text.contains('.') || text.matches(',').count() > 1 {
                    text.replace(',', "")
                } else {
                    text.replace(',', ".")
                };
                format!("use a point for decimals and nothing between thousands: \"{right}\"")
            }
            Reason::NotFinite => "write a finite value, or leave the key out: a missing value is withheld, \
                never guessed"
                .into(),
            Reason::NoUnit => format!(
                "write the unit (\"{0} mm\", \"{0} in\") or give the file its unit once: \"unit\": \"mm\"",
                self.text.trim()
            ),
            Reason::BareFraction { unit } => {
                format!("write \"{0} in\" if inches are meant, \"{0} {unit}\" if not", self.text.trim())
            }
            Reason::UnitMissing { known } => format!("write its unit: {}", known.join(", ")),
            Reason::UnknownUnit { nearest, known } => match nearest {
                Some(word) => format!("did you mean `{word}`? known units: {}", known.join(", ")),
                None => format!("known units: {}", known.join(", ")),
            },
            Reason::ZeroDivision => "write a fraction such as 1/8".into(),
            Reason::Negative => "a size is never negative: drop the sign, or put it on the position".into(),
            Reason::Zero => "write the true size, or leave the key out: a missing value is withheld".into(),
            Reason::Absurd { .. } => "check the unit and the decimal point".into(),
            Reason::TooFine => "whole nanometres are kept: check the unit and the decimal point".into(),
            Reason::BadNumber(_) => "write it as 79.4, .5, 1/16, 3 1/8 or 3-1/8, with its unit".into(),
        }
    }
}

impl fmt::Display for QuantityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = &self.text;
        match &self.reason {
            Reason::Empty => write!(f, "the value is empty"),
            Reason::Comma => write!(f, "{}", comma(text)),
            Reason::NotFinite => write!(f, "`{text}` is not a finite number"),
            Reason::NoUnit => write!(f, "`{text}` has no unit, and the file declares none"),
            Reason::BareFraction { unit } => {
                write!(f, "`{text}` is a fraction without a unit, and the file speaks {unit}")
            }
            Reason::UnitMissing { .. } => write!(f, "`{text}` has no unit"),
            Reason::UnknownUnit { .. } => write!(f, "`{}` is not a unit known here", self.part()),
            Reason::ZeroDivision => write!(f, "`{}` divides by zero", self.part()),
            Reason::Negative => write!(f, "`{text}` is negative, and a size is asked"),
            Reason::Zero => write!(f, "`{text}` is zero, and a size is asked"),
            Reason::Absurd { most } => write!(f, "`{text}` is more than {most}"),
            Reason::TooFine => write!(f, "`{text}` is too small to be kept as anything but zero"),
            Reason::BadNumber(what) => write!(f, "`{text}` cannot be read: {what}"),
        }
    }
}

impl std::error::Error for QuantityError {}

/// What is said of a number with a comma: what was written, and what it could mean.
pub(crate) fn comma(text: &str) -> String {
    let own: String = text.chars().filter(|c| c.is_ascii_digit() || ",.-".contains(*c)).collect();
    match own.split_once(',') {
        Some((whole, part)) if !part.contains([',', '.']) && !whole.contains('.') => {
            format!("`{text}` has a comma: {own} could mean {whole}.{part} or {whole}{part}")
        }
        _ => format!(
            "`{text}` has a comma, which is a decimal point to some and a mark of thousands to others"
        ),
    }
}
