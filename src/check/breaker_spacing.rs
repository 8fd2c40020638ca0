//! Circuit breakers stand far enough apart to be pulled and read.

use super::{Limit, Rule, Source, Standing, spacing};

/// The rule.
pub static RULE: Rule = Rule {
    id: "breaker-spacing",
    asks: "Circuit breakers keep a pitch at which one can be pulled, and named, alone.",
    why: "A breaker that is pulled with its neighbour takes a second circuit away, and below this pitch there is no \
          room for its name. Measured: centre to centre of the breakers' own holes. 19 mm is from memory.",
    limit: Limit::AtLeast(19.0),
    source: Source {
        standing: Standing::Memory,
        title: "Makers' sheets of push-pull breakers, about 3/4 in pitch",
    },
    relation: spacing::pitch(spacing::is_breaker),
    asked: None,
};
