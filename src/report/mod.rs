//! Findings to words: text for people, JSON for programs. Nothing is judged here.

mod explain;
mod json;
mod limits_of;
mod not_checked;
mod sentence;
mod text;

pub use explain::explain;
pub use json::{FORMAT, json, problems_json};
pub use not_checked::{CAUTIONS, NOT_CHECKED};
pub use text::{TextOptions, text};

use crate::check::{Finding, Verdict};

/// How many findings of each verdict there are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Violated as drawn.
    pub fail: usize,
    /// Holds as drawn, not at the worst tolerance.
    pub tight: usize,
    /// Data are missing.
    pub withheld: usize,
    /// Holds.
    pub pass: usize,
    /// Among the passes: shortfalls between openings that both exist and stay.
    pub existing: usize,
}

/// Counts findings by verdict.
pub fn counts<'a>(findings: impl IntoIterator<Item = &'a Finding>) -> Counts {
    let mut c = Counts::default();
    for f in findings {
        match f.verdict {
            Verdict::Fail => c.fail += 1,
            Verdict::Tight => c.tight += 1,
            Verdict::Withheld => c.withheld += 1,
            Verdict::Pass => c.pass += 1,
        }
        if f.note == crate::check::Note::BothStay {
            c.existing += 1;
        }
    }
    c
}
