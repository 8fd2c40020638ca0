//! Words set to a width: exact advances of the bundled font, broken where names may be broken.

use crate::draw::{Weight, text};

/// Advances in letter heights of the characters that nearly all text is made of.
pub(super) struct Measure {
    regular: [f64; 128],
    bold: [f64; 128],
}

impl Measure {
    /// Reads the advances once.
    pub fn new() -> Measure {
        let table = |weight: Weight| {
            let mut t = [0.0; 128];
            for (k, slot) in (0u8..128).zip(t.iter_mut()) {
                *slot = text::width(char::from(k).encode_utf8(&mut [0; 4]), 1.0, weight);
            }
            t
        };
        Measure { regular: table(Weight::Regular), bold: table(Weight::Bold) }
    }

    fn char(&self, c: char, weight: Weight) -> f64 {
        let table = match weight {
            Weight::Regular => &self.regular,
            Weight::Bold => &self.bold,
        };
        match table.get(c as usize) {
            Some(w) => *w,
            None => text::width(c.encode_utf8(&mut [0; 4]), 1.0, weight),
        }
    }

    /// Width in mm of a line whose capitals are `height` mm high.
    pub fn width(&self, line: &str, height: f64, weight: Weight) -> f64 {
        line.chars().map(|c| self.char(c, weight)).sum::<f64>() * height
    }

    /// Breaks a text into lines no wider than `width` mm: at spaces, within a name after its strokes, hyphens and
    /// dots, and between letters only where a piece alone is wider. Nothing but spaces is lost.
    pub fn wrap(&self, words: &str, height: f64, weight: Weight, width: f64) -> Vec<String> {
        let mut lines: Vec<String> = Vec::new();
        let (mut line, mut used) = (String::new(), 0.0);
        for word in words.split_whitespace() {
            let space = if line.is_empty() { 0.0 } else { self.char(' ', weight) * height };
            let wide = self.width(word, height, weight);
            if used + space + wide <= width {
                if !line.is_empty() {
                    line.push(' ');
                }
                line.push_str(word);
                used += space + wide;
                continue;
            }
            // a word that fits a line of its own is not broken to fill this one
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            used = 0.0;
            for piece in pieces(word) {
                let wide = self.width(piece, height, weight);
                if used + wide > width && !line.is_empty() {
                    lines.push(std::mem::take(&mut line));
                    used = 0.0;
                }
                if wide <= width {
                    line.push_str(piece);
                    used += wide;
                    continue;
                }
                for c in piece.chars() {
                    let wide = self.char(c, weight) * height;
                    if used + wide > width && !line.is_empty() {
                        lines.push(std::mem::take(&mut line));
                        used = 0.0;
                    }
                    line.push(c);
                    used += wide;
                }
            }
        }
        if !line.is_empty() {
            lines.push(line);
        }
        lines
    }
}

/// The parts of a word between which a name may be broken.
fn pieces(word: &str) -> Vec<&str> {
    let chars: Vec<(usize, char)> = word.char_indices().collect();
    let mut out = Vec::new();
    let mut start = 0;
    for pair in chars.windows(2) {
        let [(_, c), (next, after)] = pair else { continue };
        let between = match c {
            '/' | ':' | ',' | ';' | '+' => true,
            // not in -2.5 or 14.2
            '-' | '.' | '_' => after.is_alphabetic() || *c == '_',
            _ => false,
        };
        if between {
            out.extend(word.get(start..*next));
            start = *next;
        }
    }
    out.extend(word.get(start..));
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_fit_and_nothing_is_lost() {
        let m = Measure::new();
        let words = "countersunk-edge-distance/standby.screw-4/engine.cutout at x -12.5 y 3.25 mm averyveryverylongwordindeed \u{2300}";
        for width in [4.0, 9.0, 20.0, 33.0, 200.0] {
            for weight in [Weight::Regular, Weight::Bold] {
                let lines = m.wrap(words, 2.0, weight, width);
                assert!(lines.iter().all(|l| text::width(l, 2.0, weight) <= width + 1e-9), "{lines:?}");
                assert_eq!(lines.concat().replace(' ', ""), words.replace(' ', ""));
            }
        }
    }

    #[test]
    fn names_break_between_their_parts() {
        assert_eq!(pieces("web/asi.cutout/alt"), ["web/", "asi.", "cutout/", "alt"]);
        assert_eq!(pieces("-2.5"), ["-2.5"]);
        assert_eq!(pieces(""), [""]);
    }
}
