//! What a drawing can be asked for, and why it may be refused.

use super::paper::PageSize;
use std::fmt;

/// How a drawing is made.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DrawingOptions {
    /// The sheet of paper; none takes the smallest on which the drawing is legible.
    pub page: Option<PageSize>,
    /// Why the findings are older than the inputs, if they are.
    pub stale: Option<String>,
}

/// Why there is no drawing.
#[derive(Clone, Debug, PartialEq)]
pub enum DrawingError {
    /// The panel has fewer sheets.
    NoSheet {
        /// Asked for, counted from 0.
        asked: usize,
        /// How many there are.
        have: usize,
    },
    /// No standard scale brings the sheet onto the page.
    TooLarge {
        /// Width and height of the sheet of metal, mm.
        metal: (f64, f64),
        /// Name of the page.
        page: &'static str,
    },
}

impl fmt::Display for DrawingError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            DrawingError::NoSheet { asked, have } => {
                write!(f, "there is no sheet number {}: the panel has {have}", asked + 1)
            }
            DrawingError::TooLarge { metal: (w, h), page } => write!(
                f,
                "a sheet of {w:.0} x {h:.0} mm does not fit on {page} at any standard scale: ask for a larger \
                 page, or leave the choice to the program"
            ),
        }
    }
}

impl std::error::Error for DrawingError {}
