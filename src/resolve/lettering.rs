//! The room that lettering takes, without a font at hand: on the generous side.
//!
//! Widths are in heights of a capital letter, rounded up from the bundled condensed sans (its widest letter of
//! each group); a test holds them against the font itself. Engravers' single-line letters are narrower.

/// Width of one character, spacing included, in letter heights.
fn width(c: char) -> f64 {
    match c {
        ' ' | '.' | ',' | ':' | ';' | '\'' | '|' | '!' | 'i' | 'j' | 'l' | 'I' | '(' | ')' | '[' | ']'
        | '-' => 0.5,
        'f' | 'r' | 't' | '"' | '/' | '\\' | '*' => 0.6,
        'M' | 'W' | 'm' | 'w' | '@' | '%' | '&' => 1.25,
        'G' | 'O' | 'Q' | 'N' | 'D' | 'H' | 'U' => 1.0,
        c if c.is_ascii_lowercase() || c.is_ascii_digit() => 0.82,
        c if c.is_ascii() => 0.96,
        _ => 1.3,
    }
}

/// Width and height of a text of one or more lines, mm; capital letters are `height` high, lines stand one
/// and a half times that apart, and letters hang down by a quarter.
pub(super) fn room(text: &str, height: f64) -> (f64, f64) {
    let lines: Vec<&str> = text.split('\n').collect();
    let wide = lines.iter().map(|l| l.chars().map(width).sum::<f64>()).fold(0.0, f64::max);
    let hangs = text.chars().any(|c| "gjpqy,;Q@()[]|".contains(c));
    let high = 1.0 + 1.5 * (lines.len().saturating_sub(1)) as f64 + if hangs { 0.5 } else { 0.0 };
    (wide.max(0.5) * height, high * height)
}

/// Letter height taken where a label gives none, mm: 16 minutes of arc at 760 mm (public human-factors guide).
pub(super) const HEIGHT: f64 = 3.5;

/// Distance of a label that its item carries as a text, mm: common practice, no source.
pub(super) const GAP: f64 = 2.0;
