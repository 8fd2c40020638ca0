//! Lengths and numbers as values of a panel's file.

use crate::units::{Length, Unit};

/// Millimetres as a value of the file: a bare number in its unit, or, where it was written with a unit or cannot be said
/// bare, a text with that.
pub(super) fn spelled(mm: f64, file: Unit, own: Option<Unit>) -> String {
    let unit = own.unwrap_or(file);
    let Some(length) = Length::from_mm(mm, unit) else { return number(mm) };
    let words = length.to_string();
    match words.strip_suffix(unit.name()).map(str::trim) {
        Some(bare) if own.is_none() && bare.parse::<f64>().is_ok() => bare.to_string(),
        _ => serde_json::Value::from(words).to_string(),
    }
}

/// A length as somebody typed it.
pub(super) fn typed(length: &Length, file: Unit) -> String {
    let words = length.to_string();
    match words.strip_suffix(file.name()).map(str::trim) {
        Some(bare) if bare.parse::<f64>().is_ok() && serde_json::from_str::<f64>(bare).is_ok() => {
            bare.to_string()
        }
        _ => serde_json::Value::from(words).to_string(),
    }
}

/// A number as short as it is true, to a millionth.
pub(super) fn number(v: f64) -> String {
    let s = format!("{v:.6}");
    let s = s.trim_end_matches('0').trim_end_matches('.');
    if s == "-0" { "0".into() } else { s.into() }
}
