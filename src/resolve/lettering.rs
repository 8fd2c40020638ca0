//! The room that lettering takes, without a font at hand: on the generous side.
//!
//! Widths are in heights of a capital letter, rounded up from the bundled condensed sans; a test holds them against the font itself. Engravers' single-line letters are narrower.

/// Width of one character, spacing included, in letter heights: the widest of its group, bold.
fn width(c: char) -> f64 {
    match c {
        '\'' | 'i' | 'j' | 'l' | 'I' | 'J' | '/' | '\\' | '|' | ',' | '.' | ' ' => 0.48,
        ':' | ';' | '-' | 'f' | '!' | '(' | ')' | '[' | ']' => 0.58,
        't' | 'r' | '_' | '`' | '"' | '*' => 0.66,
        '?' | 'z' | 'c' | 's' | 'L' | 'x' => 0.81,
        'v' | 'y' | 'k' | 'a' | 'e' | 'E' | 'F' | 'T' | 'o' | '$' | 'h' | 'n' | 'u' | '{' | '}' => 0.89,
        'S' | 'b' | 'd' | 'g' | 'p' | 'q' | 'Y' | 'Z' | 'C' | 'P' | 'B' | 'A' | 'K' | 'R' | 'V' | 'X' => 0.97,
        c if c.is_ascii_digit() => 0.87,
        'U' | 'G' | 'D' | '#' | '+' | '<' | '=' | '>' | 'H' | 'N' | '^' | '~' | 'O' | 'Q' | '&' => 1.09,
        // w, M, %, @, m, W, and what is not in this list
        _ => 1.38,
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
