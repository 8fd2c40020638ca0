//! What a template can be asked for, and why it may be refused.

use super::bars::{LENGTHS_IN, LENGTHS_MM};
use std::fmt;

/// Which face of the sheet the reader looks at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Face {
    /// The pilot's side.
    Front,
    /// The far side: everything mirrored.
    Back,
}

impl Face {
    /// The words that stand on every page.
    pub fn words(self) -> &'static str {
        match self {
            Face::Front => "FRONT, seen by the pilot",
            Face::Back => "BACK, mirrored",
        }
    }

    /// Where the asymmetric mark must be for whoever holds the page, in words.
    pub fn mark(self) -> &'static str {
        match self {
            Face::Front => "This sheet is FRONT view; the asymmetric mark must be at your right.",
            Face::Back => "This sheet is BACK view; the asymmetric mark must be at your left.",
        }
    }
}

/// The paper a template is printed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// One page as large as the sheet needs.
    Whole,
    /// ISO 216 A4, 210 x 297 mm.
    A4,
    /// ISO 216 A3, 297 x 420 mm.
    A3,
    /// ANSI/ASME Y14.1 size A, 8.5 x 11 in.
    Letter,
    /// ANSI/ASME Y14.1 size B, 11 x 17 in.
    Tabloid,
}

impl Paper {
    /// Upright width and height in mm; none for a page cut to the sheet.
    pub fn size(self) -> Option<(f64, f64)> {
        match self {
            Paper::Whole => None,
            Paper::A4 => Some((210.0, 297.0)),
            Paper::A3 => Some((297.0, 420.0)),
            Paper::Letter => Some((215.9, 279.4)),
            Paper::Tabloid => Some((279.4, 431.8)),
        }
    }

    /// The name on the page.
    pub fn name(self) -> &'static str {
        match self {
            Paper::Whole => "one page",
            Paper::A4 => "A4",
            Paper::A3 => "A3",
            Paper::Letter => "Letter",
            Paper::Tabloid => "Tabloid",
        }
    }
}

/// What the printed thing is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// True size, to cut metal by.
    Cut,
    /// To look at: fitted to the paper, nothing on the cut layer, stamped NOT TO SCALE.
    Copy,
    /// True size, to cut card or plywood by and try the boxes in.
    Trial,
}

/// A scale bar measured on an earlier print.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    /// What the bar says, mm.
    pub nominal: f64,
    /// What the rule reads on the paper, mm.
    pub read: f64,
}

/// Smallest and greatest correction taken for a printer's: beyond it the wrong bar was measured or the
/// page was fitted to other paper.
pub const CORRECTION: (f64, f64) = (0.9, 1.1);

impl Measured {
    /// Factor by which the next print is drawn larger so that its bar reads true: nominal / read.
    fn factor(this: Option<Measured>, axis: char) -> Result<f64, TemplateError> {
        let Some(m) = this else { return Ok(1.0) };
        let near = |l: f64| (m.nominal - l).abs() < 1e-6;
        let drawn = LENGTHS_MM.iter().any(|l| near(f64::from(*l)))
            || LENGTHS_IN.iter().any(|l| near(f64::from(*l) * 25.4));
        if !drawn {
            return Err(TemplateError::NoBar { axis, measured: m });
        }
        let factor = m.nominal / m.read;
        if m.read > 0.0 && m.nominal > 0.0 && (CORRECTION.0..=CORRECTION.1).contains(&factor) {
            Ok(factor)
        } else {
            Err(TemplateError::Correction { axis, measured: m })
        }
    }
}

/// How a template is made.
#[derive(Clone, Debug, PartialEq)]
pub struct TemplateOptions {
    /// Which face is seen.
    pub face: Face,
    /// Paper.
    pub paper: Paper,
    /// How far neighbouring tiles overlap, mm.
    pub overlap: f64,
    /// The horizontal bar as measured on an earlier print.
    pub measured_x: Option<Measured>,
    /// The vertical bar as measured on an earlier print.
    pub measured_y: Option<Measured>,
    /// What it is for.
    pub purpose: Purpose,
    /// Why the findings are older than the inputs, if they are.
    pub stale: Option<String>,
}

impl TemplateOptions {
    /// Factors x, y by which a print is drawn larger so that its bars read true.
    ///
    /// # Errors
    /// A bar that no sheet has, a correction that no printer needs.
    pub fn correction(&self) -> Result<(f64, f64), TemplateError> {
        Ok((Measured::factor(self.measured_x, 'x')?, Measured::factor(self.measured_y, 'y')?))
    }
}

impl Default for TemplateOptions {
    fn default() -> Self {
        TemplateOptions {
            face: Face::Front,
            paper: Paper::Whole,
            overlap: 10.0,
            measured_x: None,
            measured_y: None,
            purpose: Purpose::Cut,
            stale: None,
        }
    }
}

/// Why there is no template.
#[derive(Clone, Debug, PartialEq)]
pub enum TemplateError {
    /// The panel has fewer sheets.
    NoSheet {
        /// Asked for, counted from 0.
        asked: usize,
        /// How many there are.
        have: usize,
    },
    /// A printer correction that no printer needs.
    Correction {
        /// `x` or `y`.
        axis: char,
        /// As entered.
        measured: Measured,
    },
    /// No sheet has a scale bar of this length.
    NoBar {
        /// `x` or `y`.
        axis: char,
        /// As entered.
        measured: Measured,
    },
    /// An overlap that leaves no room on the page, or is no length.
    Overlap {
        /// As asked, mm.
        overlap: f64,
        /// The most that this paper takes, mm.
        most: f64,
    },
    /// The file shall compensate but neither kerf nor tool radius is given.
    NoKerf,
    /// The tool is too wide for an opening or the outline: nothing is left of the path.
    ToolTooWide {
        /// `subject.part`.
        part: String,
        /// Offset asked for, mm.
        offset: f64,
    },
}

impl fmt::Display for TemplateError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            TemplateError::NoSheet { asked, have } => {
                write!(f, "there is no sheet number {}: the panel has {have}", asked + 1)
            }
            TemplateError::Correction { axis, measured: Measured { nominal, read } } => write!(
                f,
                "the {axis} bar of {nominal} mm measured as {read} mm: a printer is corrected between {} and \
                 {} only. Measure the bar of the {axis} axis from its first to its last line; if it is so, \
                 print at 100 % with no fit to page and measure again",
                CORRECTION.0, CORRECTION.1
            ),
            TemplateError::NoBar { axis, measured } => {
                let list = |all: &[u32]| all.iter().map(u32::to_string).collect::<Vec<_>>().join(", ");
                write!(
                    f,
                    "no sheet has an {axis} bar of {} mm: a bar is {} mm or {} in long, the longest for which there is \
                     room. Measure the whole bar of the {axis} axis, from its first to its last line",
                    measured.nominal,
                    list(&LENGTHS_MM),
                    list(&LENGTHS_IN)
                )
            }
            TemplateError::Overlap { overlap, most } => {
                write!(f, "tiles cannot overlap by {overlap} mm: this paper takes 0 to {most:.0} mm")
            }
            TemplateError::NoKerf => write!(
                f,
                "the process says that the file compensates, but gives neither kerf nor tool radius: state one, \
                 or let the cutter compensate"
            ),
            TemplateError::ToolTooWide { part, offset } => write!(
                f,
                "a tool path {offset} mm inside {part} vanishes or falls apart: the tool does not pass. Use a narrower \
                 one or let the cutter compensate"
            ),
        }
    }
}

impl std::error::Error for TemplateError {}
