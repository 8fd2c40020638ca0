//! Toggle switches stand far enough apart for fingers.

use super::{Limit, Rule, Source, Standing, spacing};

/// The rule.
pub static RULE: Rule = Rule {
    id: "switch-spacing",
    asks: "Toggle and rocker switches keep a pitch that one gloved finger can work.",
    why: "Two bats at once are taken where switches stand too close. Measured: centre to centre of the switches' own \
          holes. 19 mm is what builders use (common practice, 19 to 25 mm); human-factors tables ask 19 mm between the \
          edges of toggles and 13 mm between push types, which is more: try it in card with gloves on.",
    limit: Limit::AtLeast(19.0),
    source: Source { standing: Standing::Practice, title: "" },
    relation: spacing::pitch(spacing::is_toggle),
    asked: None,
};
