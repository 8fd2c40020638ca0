//! A number as somebody typed it, read by what its path asks, as a file says it.

use super::numbers::{NoNumber, number_at};
use crate::define::table::Kind;
use crate::units::{Angle, Current, Length, Mass, QuantityError, Unit};
use serde_json::{Value, json};

/// A number for a file, always with its unit.
#[derive(Clone, Debug, PartialEq)]
pub struct Typed {
    /// The number; the list of a point's.
    pub of: Value,
    /// How much larger and smaller it may be, where that was typed: `60.4 mm +0.1 -0`.
    pub off: [Option<Value>; 2],
}

/// Reads words for the number at a path of any instrument; a bare length is in `unit`. A point is typed with commas.
///
/// # Errors
/// What is wrong, and what to write instead.
pub fn typed(path: &str, words: &str, unit: Unit) -> Result<Typed, String> {
    let kind = match number_at(path) {
        Ok(Kind::Object(record)) => record.field("of").map(|f| &f.kind),
        Ok(_) => None,
        Err(NoNumber::Key(before, step, known)) => {
            let of = if before.is_empty() { "an instrument".to_string() } else { format!("`{before}`") };
            return Err(format!("`{step}` is no part of {of}: there are {}", known.join(", ")));
        }
        Err(NoNumber::Words) => None,
    };
    let Some(kind) = kind else { return Err(format!("`{path}` is no single number of an instrument")) };
    let said = |e: QuantityError| format!("{path}: {e}; {}", e.help());
    let words = words.trim();
    let plain = |of: Value| Typed { of, off: [None, None] };
    let length = |words: &str| Length::parse(words.trim(), Some(unit)).map_err(said);
    match kind {
        Kind::Length(sign) => {
            let (number, off) = tolerance(words);
            let of = length(number)?;
            of.check(*sign).map_err(said)?;
            let mut both = [None, None];
            for (slot, words) in both.iter_mut().zip(off) {
                let Some(words) = words else { continue };
                let by = length(words)?;
                by.check(crate::units::Sign::NotNegative).map_err(said)?;
                *slot = Some(json!(by.to_string()));
            }
            Ok(Typed { of: json!(of.to_string()), off: both })
        }
        Kind::Mass => Ok(plain(json!(Mass::parse(words).map_err(said)?.to_string()))),
        Kind::Current => Ok(plain(json!(Current::parse(words).map_err(said)?.to_string()))),
        Kind::Angle => Ok(plain(json!(Angle::parse(words).map_err(said)?.to_string()))),
        Kind::Point | Kind::Point3 => {
            let n = if matches!(kind, Kind::Point) { 2 } else { 3 };
            let all: Vec<&str> = words.split(',').collect();
            if all.len() != n {
                let example = if n == 2 { "12.5 mm, 0 mm" } else { "0 mm, -2 mm, 1 in" };
                return Err(format!(
                    "{path}: `{words}` is no point: write {n} lengths with commas between, such as {example}"
                ));
            }
            let each: Result<Vec<Value>, String> =
                all.into_iter().map(|w| Ok(json!(length(w)?.to_string()))).collect();
            Ok(plain(Value::Array(each?)))
        }
        _ => Err(format!("`{path}` is no single number of an instrument")),
    }
}

/// A length's words and those of its tolerance: a sign behind a blank begins one.
fn tolerance(words: &str) -> (&str, [Option<&str>; 2]) {
    let (rest, minus) = match words.rfind(" -") {
        Some(at) if at > 0 => (words.get(..at).unwrap_or(words), words.get(at + 2..)),
        _ => (words, None),
    };
    match rest.split_once(" +") {
        Some((of, plus)) => (of, [Some(plus), minus]),
        None => (rest, [None, minus]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(path: &str, words: &str) -> Result<Typed, String> {
        typed(path, words, Unit::Millimetre)
    }

    #[test]
    fn any_unit_that_the_files_know_is_kept_as_it_was_typed() {
        let of = |path, words| read(path, words).unwrap().of;
        assert_eq!(of("openings.main.shape.circle", "3 1/8 in"), json!("3 1/8 in"));
        assert_eq!(of("bodies.can.to", " 92.5 "), json!("92.5 mm"));
        assert_eq!(of("mass", "1 lb"), json!("1 lb"));
        assert_eq!(of("current.peak", "850 mA"), json!("850 mA"));
        assert_eq!(of("centre", "0, -2 mm, 1 in"), json!(["0 mm", "-2 mm", "1 in"]));
        let both = read("openings.main.shape.circle", "60.4 mm +0.1 -0.05 mm").unwrap();
        assert_eq!((both.of, both.off), (json!("60.4 mm"), [Some(json!("0.1 mm")), Some(json!("0.05 mm"))]));
        let plus = read("openings.main.shape.circle", "60.4 +0.1").unwrap();
        assert_eq!(plus.off, [Some(json!("0.1 mm")), None]);
        // a depth before the sheet is no tolerance
        assert_eq!(of("bodies.can.from", "-3"), json!("-3 mm"));
    }

    #[test]
    fn what_is_no_such_number_is_told_with_what_to_write() {
        for (path, words, told) in [
            ("mass", "0.5", "unit"),
            ("mass", "3 mm", "mm"),
            ("bodies.can.to", "", "the value is empty"),
            ("bezel.shape.circle", "-2", "-2"),
            ("bezel.shape.circle", "60 +-1", "-1"),
            ("centre", "1, 2", "3 lengths"),
            ("bodies.can.too", "3", "there are"),
            ("kind", "3", "no single number"),
        ] {
            let why = read(path, words).unwrap_err();
            assert!(why.contains(told), "{path} {words}: {why}");
        }
    }
}
