//! Where a value stands in a file.

use std::sync::Arc;

/// Place of a value in a file; cheap to clone. Line and column count from 1, in characters.
#[derive(Clone, Debug, PartialEq)]
pub struct Where {
    /// Name of the file as the user gave it.
    pub file: Arc<str>,
    /// Line.
    pub line: u32,
    /// Column.
    pub column: u32,
    /// First byte.
    pub start: usize,
    /// Byte after the last.
    pub end: usize,
}
