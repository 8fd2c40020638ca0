//! Where each value of a JSON text stands, found by a scanner of its own: the reader under test has no say in it.

use std::ops::Range;

/// A value with its bytes in the text.
pub struct Spot {
    /// From its first byte to behind its last.
    pub at: Range<usize>,
    pub what: What,
}

/// What stands there.
pub enum What {
    /// Its entries: key without quotes, bytes of the key with its quotes, value.
    Object(Vec<(String, Range<usize>, Spot)>),
    List(Vec<Spot>),
    Text,
    Number,
    Flag,
}

/// Scans a text that is known to be JSON without `null` and without escaped quotes in its keys.
pub fn scan(text: &str) -> Spot {
    let mut s = Scanner { bytes: text.as_bytes(), next: 0 };
    s.value()
}

struct Scanner<'a> {
    bytes: &'a [u8],
    next: usize,
}

impl Scanner<'_> {
    /// The next byte that says something.
    fn peek(&mut self) -> u8 {
        while self.bytes[self.next].is_ascii_whitespace() || matches!(self.bytes[self.next], b',' | b':') {
            self.next += 1;
        }
        self.bytes[self.next]
    }

    fn value(&mut self) -> Spot {
        let first = self.peek();
        let start = self.next;
        let what = match first {
            b'{' => {
                self.next += 1;
                let mut entries = Vec::new();
                while self.peek() != b'}' {
                    let key = self.text();
                    let name = String::from_utf8_lossy(&self.bytes[key.start + 1..key.end - 1]).into_owned();
                    entries.push((name, key, self.value()));
                }
                self.next += 1;
                What::Object(entries)
            }
            b'[' => {
                self.next += 1;
                let mut items = Vec::new();
                while self.peek() != b']' {
                    items.push(self.value());
                }
                self.next += 1;
                What::List(items)
            }
            b'"' => {
                self.text();
                What::Text
            }
            _ => {
                while !matches!(self.bytes[self.next], b',' | b'}' | b']')
                    && !self.bytes[self.next].is_ascii_whitespace()
                {
                    self.next += 1;
                }
                if matches!(first, b't' | b'f') { What::Flag } else { What::Number }
            }
        };
        Spot { at: start..self.next, what }
    }

    /// A text with its quotes.
    fn text(&mut self) -> Range<usize> {
        let start = self.next;
        self.next += 1;
        while self.bytes[self.next] != b'"' {
            self.next += if self.bytes[self.next] == b'\\' { 2 } else { 1 };
        }
        self.next += 1;
        start..self.next
    }
}

/// Line and column, both from 1, the column in characters.
pub fn line_and_column(text: &str, byte: usize) -> (u32, u32) {
    let before = &text[..byte];
    let start = before.rfind('\n').map_or(0, |k| k + 1);
    (before.matches('\n').count() as u32 + 1, before[start..].chars().count() as u32 + 1)
}
