//! Byte offsets to lines and columns.

use super::Where;
use std::sync::Arc;

/// Bytes between two stored character counts.
const BLOCK: usize = 256;

/// The lines of one file.
///
/// Columns count characters. The number of characters before every 256th byte is kept, so that a
/// place costs the same in a file of one long line.
pub struct Lines {
    file: Arc<str>,
    text: Arc<str>,
    starts: Vec<usize>,
    counts: Vec<usize>,
}

impl Lines {
    /// Finds the line starts of `text`.
    pub fn new(file: Arc<str>, text: Arc<str>) -> Self {
        let mut starts = vec![0];
        starts.extend(text.bytes().enumerate().filter(|(_, b)| *b == b'\n').map(|(i, _)| i + 1));
        let before = |sum: &mut usize, block: &[u8]| {
            let here = *sum;
            *sum += characters(block);
            Some(here)
        };
        let counts = text.as_bytes().chunks(BLOCK).scan(0, before).collect();
        Lines { file, text, starts, counts }
    }

    /// The text.
    pub fn text(&self) -> &Arc<str> {
        &self.text
    }

    /// The file's name as shown to the user.
    pub fn file(&self) -> &Arc<str> {
        &self.file
    }

    /// The place of the bytes from `start` to `end`, widened to whole characters.
    pub fn place(&self, start: usize, end: usize) -> Where {
        let start = self.text.floor_char_boundary(start.min(self.text.len()));
        let end = self.text.ceil_char_boundary(end.clamp(start, self.text.len()));
        let line = self.starts.partition_point(|s| *s <= start).max(1);
        let first = self.starts.get(line - 1).copied().unwrap_or(0);
        let column = match self.text.as_bytes().get(first..start) {
            // the rest of a short line is sooner counted than two blocks
            Some(short) if short.len() < BLOCK => characters(short) + 1,
            _ => self.before(start).saturating_sub(self.before(first)) + 1,
        };
        Where {
            file: self.file.clone(),
            start,
            end,
            line: u32::try_from(line).unwrap_or(u32::MAX),
            column: u32::try_from(column).unwrap_or(u32::MAX),
        }
    }

    /// Characters before a byte of the text.
    fn before(&self, at: usize) -> usize {
        let block = at / BLOCK;
        // At the text's very end the last block may not have begun.
        let (known, from) = match self.counts.get(block) {
            Some(count) => (*count, block * BLOCK),
            None => (self.counts.last().copied().unwrap_or(0), self.counts.len().saturating_sub(1) * BLOCK),
        };
        known + self.text.as_bytes().get(from..at).map_or(0, characters)
    }
}

/// A continuation byte of UTF-8 starts with the bits 10; every other byte starts a character.
fn characters(bytes: &[u8]) -> usize {
    bytes.iter().filter(|b| **b & 0xC0 != 0x80).count()
}
