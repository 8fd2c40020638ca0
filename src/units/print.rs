//! Lengths for people to read: the shortest text that says the number.

use super::length::Unit;

/// How far a length may lie from a fraction of an inch and still be printed as that fraction, in mm.
const FRACTION_SLACK: f64 = 1e-6;

/// Two lengths this near are the same for a reader, in mm: the arithmetic slack of the geometry.
const SAME: f64 = 1e-6;

/// Decimals printed in each unit: about a micrometre, finer than anything cut by these drawings.
fn decimals(unit: Unit) -> usize {
    match unit {
        Unit::Millimetre => 3,
        Unit::Centimetre | Unit::Inch => 4,
        Unit::Metre | Unit::Foot => 6,
        Unit::Micrometre => 0,
        Unit::Mil => 1,
    }
}

/// Millimetres with at most three decimals and no needless zeros: `79.375 mm`.
pub fn fmt_mm(mm: f64) -> String {
    print_length(mm, Unit::Millimetre)
}

/// Millimetres as inches: `3 1/8 in` when it is a multiple of 1/64 in to 1 nm, else `3.1258 in`.
pub fn fmt_in(mm: f64) -> String {
    print_length(mm, Unit::Inch)
}

/// A length given in millimetres, printed in `unit`.
pub fn print_length(mm: f64, unit: Unit) -> String {
    if unit == Unit::Inch
        && let Some(text) = fraction(mm)
    {
        return format!("{text} in");
    }
    format!("{} {}", trimmed(mm / per_unit(unit), decimals(unit)), unit.name())
}

/// Like [`print_length`], with as many more decimals as it takes to tell the value from the limit
/// it is compared with: 5.9999 mm against 6 mm never reads "6 mm is less than 6 mm".
pub fn print_against(mm: f64, limit_mm: f64, unit: Unit) -> String {
    if (mm - limit_mm).abs() > SAME {
        for places in decimals(unit)..=10 {
            let (a, b) = (trimmed(mm / per_unit(unit), places), trimmed(limit_mm / per_unit(unit), places));
            if a != b && places == decimals(unit) {
                break;
            }
            if a != b {
                return format!("{a} {}", unit.name());
            }
        }
    }
    print_length(mm, unit)
}

/// A whole number of nanometres in `unit`, so that reading it again gives the same nanometres.
pub(super) fn print_exact(nm: i64, unit: Unit) -> String {
    let mm = nm as f64 / 1e6;
    if unit == Unit::Inch
        && let Some(text) = fraction(mm)
        && nm % 396_875 == 0
    {
        return format!("{text} in");
    }
    for places in 0..=12 {
        let text = format!("{} {}", trimmed(mm / per_unit(unit), places), unit.name());
        if super::Length::parse(&text, None).is_ok_and(|l| l.nm() == nm) {
            return text;
        }
    }
    format!("{} mm", trimmed(mm, 6))
}

fn per_unit(unit: Unit) -> f64 {
    unit.nanometres() as f64 / 1e6
}

/// `3 1/8` for a multiple of 1/64 in, within a nanometre.
fn fraction(mm: f64) -> Option<String> {
    let parts = (mm / 25.4 * 64.0).round();
    if !parts.is_finite() || parts.abs() > 1e6 || (parts / 64.0 * 25.4 - mm).abs() > FRACTION_SLACK {
        return None;
    }
    let (mut top, mut bottom) = (parts.abs() as i64, 64i64);
    let sign = if parts < 0.0 { "-" } else { "" };
    let whole = top / 64;
    top %= 64;
    while top % 2 == 0 && bottom > 1 {
        (top, bottom) = (top / 2, bottom / 2);
    }
    Some(match (whole, top) {
        (whole, 0) => format!("{sign}{whole}"),
        (0, top) => format!("{sign}{top}/{bottom}"),
        (whole, top) => format!("{sign}{whole} {top}/{bottom}"),
    })
}

/// Fixed decimals without trailing zeros; never "-0".
pub(super) fn trimmed(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_string() } else { text.to_string() }
}
