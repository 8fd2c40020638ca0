//! An old opening that shows beside a new bezel.

use super::{Limit, Relation, Rule, Select, Source, Standing};
use crate::panel::{Class, Classes};

/// The rule.
pub static RULE: Rule = Rule {
    id: "old-opening-covered",
    asks: "A bezel that lies over an old opening covers it whole.",
    why: "An old opening that peeps out beside a bezel stays visible and sharp. Measured: how far the bezel reaches beyond the \
          opening where it reaches least. An old opening that a new cutout swallows whole no longer exists and is not asked \
          for; one that a new opening swallows in part is told of by the web rule.",
    limit: Limit::AtLeast(0.0),
    source: Source { standing: Standing::Nature, title: "" },
    relation: Relation::Covers {
        cover: Select { classes: Classes::of(&[Class::Bezel]), when: None },
        what: Select { classes: Classes::of(&[Class::OldOpening]), when: None },
        own: false,
    },
    asked: None,
};
