//! Lengths and lines of text as a sheet prints them.

use crate::calc::drill::Limits;
use crate::draw::{Weight, text};
use crate::panel::{Panel, Part, Sheet, TermKind};
use crate::units::Unit;

/// Millimetres with up to two decimals, no trailing zeros: `79.4`, `3.97`, `120`.
pub(in crate::draw) fn mm(v: f64) -> String {
    trimmed(v, 2)
}

/// Inches with three decimals: `3.125`.
pub(in crate::draw) fn inch(v: f64) -> String {
    format!("{:.3}", v / 25.4)
}

/// A length in the unit that the panel speaks: `79.4` or `3.125 in`.
pub(in crate::draw) fn length(v: f64, unit: Unit) -> String {
    if unit.is_inch() { format!("{} in", trimmed(v / 25.4, 3)) } else { mm(v) }
}

/// Both: `79.38 mm (3.125 in)`.
pub(in crate::draw) fn both(v: f64) -> String {
    format!("{} mm ({} in)", mm(v), inch(v))
}

/// A sheet's thickness as it was written; what was written in inches says its millimetres too.
pub(in crate::draw) fn thickness(sheet: &Sheet) -> String {
    match (&sheet.thickness_written, sheet.thickness) {
        (Some(w), Some(t)) if !w.contains("mm") => format!("{w} ({} mm)", mm(t)),
        (Some(w), _) => w.clone(),
        (None, Some(t)) => format!("{} mm", mm(t)),
        (None, None) => "thickness not given".into(),
    }
}

/// What the tool and the size that a part states allow its diameter: both sides count. `None` where neither
/// is known.
pub(in crate::draw) fn limits(part: &Part) -> Option<Limits> {
    let terms = part.terms.iter().filter(|t| matches!(t.kind, TermKind::Cut | TermKind::Size));
    let (plus, minus) = terms.fold((0.0, 0.0), |(p, m), t| (p + 2.0 * t.grow, m + 2.0 * t.shrink));
    (plus > 0.0 || minus > 0.0).then_some(Limits { plus, minus })
}

/// Short content hash: its first twelve digits.
pub(in crate::draw) fn short_hash(panel: &Panel) -> &str {
    panel.hash.get(..12).unwrap_or(&panel.hash)
}

/// A number with at most `places` decimals and no trailing zeros.
pub(in crate::draw) fn trimmed(v: f64, places: usize) -> String {
    let s = format!("{v:.places$}");
    let s = if s.contains('.') { s.trim_end_matches('0').trim_end_matches('.') } else { &s };
    if s == "-0" { "0".into() } else { s.into() }
}

/// Breaks a text at its spaces into lines no wider than `width` mm; a word wider than that is broken
/// between letters.
pub(in crate::draw) fn wrap(words: &str, height: f64, weight: Weight, width: f64) -> Vec<String> {
    let fits = |s: &str| text::width(s, height, weight) <= width;
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in words.split_whitespace() {
        let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
        if fits(&longer) {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        for c in word.chars() {
            line.push(c);
            if !fits(&line) && line.chars().count() > 1 {
                line.pop();
                lines.push(std::mem::replace(&mut line, c.to_string()));
            }
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// The greatest letter height, at most `height`, at which a text is no wider than `width` mm.
pub(in crate::draw) fn fitted(words: &str, height: f64, weight: Weight, width: f64) -> f64 {
    let w = text::width(words, height, weight);
    if w <= width { height } else { height * width / w }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_read_as_people_write_them() {
        assert_eq!(
            (mm(79.4), mm(120.0), mm(3.96875), mm(-0.001)),
            ("79.4".into(), "120".into(), "3.97".into(), "0".into())
        );
        assert_eq!(both(79.375), "79.38 mm (3.125 in)");
    }

    #[test]
    fn wrapped_lines_fit_and_lose_nothing() {
        let s = "isolate the battery first, then averyveryverylongwordwithoutanyspaceatall and the rest";
        for width in [5.0, 12.0, 30.0, 500.0] {
            let lines = wrap(s, 2.5, Weight::Regular, width);
            assert!(lines.iter().all(|l| text::width(l, 2.5, Weight::Regular) <= width));
            assert_eq!(lines.concat().replace(' ', ""), s.replace(' ', ""));
        }
    }
}
