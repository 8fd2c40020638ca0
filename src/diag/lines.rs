//! Byte offsets to lines and columns.

use super::Where;
use std::cell::Cell;
use std::sync::Arc;

/// The lines of one file.
///
/// Columns count characters. A reader asks for places in rising order, so the last answer is kept
/// and counting goes on from there: a file of one long line still costs its length once.
pub struct Lines {
    file: Arc<str>,
    text: Arc<str>,
    starts: Vec<usize>,
    last: Cell<(usize, u32)>,
}

impl Lines {
    /// Finds the line starts of `text`.
    pub fn new(file: Arc<str>, text: Arc<str>) -> Self {
        let mut starts = vec![0];
        starts.extend(text.bytes().enumerate().filter(|(_, b)| *b == b'\n').map(|(i, _)| i + 1));
        Lines { file, text, starts, last: Cell::new((0, 1)) }
    }

    /// The text.
    pub fn text(&self) -> &Arc<str> {
        &self.text
    }

    /// The file's name as shown to the user.
    pub fn file(&self) -> &Arc<str> {
        &self.file
    }

    /// The place of the bytes from `start` to `end`.
    pub fn place(&self, start: usize, end: usize) -> Where {
        let start = start.min(self.text.len());
        let line = self.starts.partition_point(|s| *s <= start).max(1);
        let first = self.starts.get(line - 1).copied().unwrap_or(0);
        let (seen, column) = self.last.get();
        let (from, before) = if seen >= first && seen <= start { (seen, column) } else { (first, 1) };
        let more = self.text.as_bytes().get(from..start).unwrap_or(&[]);
        // A continuation byte of UTF-8 starts with the bits 10; every other byte starts a character.
        let count = more.iter().filter(|b| **b & 0xC0 != 0x80).count();
        let column = before.saturating_add(u32::try_from(count).unwrap_or(u32::MAX));
        self.last.set((start, column));
        Where {
            file: self.file.clone(),
            start,
            end: end.clamp(start, self.text.len()),
            line: u32::try_from(line).unwrap_or(u32::MAX),
            column,
        }
    }
}
