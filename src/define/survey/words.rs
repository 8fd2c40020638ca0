//! The words of a survey file.

use crate::define::words::words;

words!(
    /// What was measured with.
    ToolKind {
        Tape = "tape": "A steel tape.",
        Rule = "rule": "A steel rule.",
        Calipers = "calipers": "Sliding calipers.",
        Rod = "rod": "A rod or stick pushed in until it meets something.",
        Gauge = "gauge": "Radius gauges, drill shanks, feelers.",
    }
);

words!(
    /// How a picture came about.
    PictureKind {
        Photograph = "photograph": "Taken with a camera: the panel lies askew in it.",
        Scan = "scan": "From a flat bed or a copier: two scales, and hardly any skew.",
    }
);

impl ToolKind {
    /// Standard deviation of one reading where the file states none, mm: common practice, no source.
    pub fn deviation(self) -> f64 {
        match self {
            ToolKind::Tape => 0.5,
            ToolKind::Rule => 0.25,
            ToolKind::Calipers => 0.05,
            ToolKind::Rod => 1.0,
            ToolKind::Gauge => 0.25,
        }
    }
}

impl PictureKind {
    /// Standard deviation of one pick where the file states none, pixels: common practice, no source.
    pub fn deviation(self) -> f64 {
        1.0
    }
}
