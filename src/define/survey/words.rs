//! The words of a survey file.

use crate::define::words::words;

words!(
    /// What was measured with.
    ToolKind {
        Tape = "tape": "A steel tape.",
        Rule = "rule": "A steel rule.",
        Calipers = "calipers": "Sliding calipers.",
        Gauge = "gauge": "Radius gauges, drill shanks, feelers.",
    }
);

impl ToolKind {
    /// Standard deviation of one reading where the file states none, mm: common practice, no source.
    pub fn deviation(self) -> f64 {
        match self {
            ToolKind::Tape => 0.5,
            ToolKind::Rule => 0.25,
            ToolKind::Calipers => 0.05,
            ToolKind::Gauge => 0.25,
        }
    }
}
