//! Openings of one item that run into each other.

use super::{Exempt, From, Limit, Relation, Rule, Select, Source, Standing, Touch};
use crate::panel::Classes;

/// The rule.
pub static RULE: Rule = Rule {
    id: "own-openings",
    asks: "The openings of one item do not meet.",
    why: "Contours that cross or touch are cut twice where they meet, and the piece between falls out. Draw them as one opening. \
          How much metal the maker leaves between them is the maker's question.",
    limit: Limit::AtLeast(0.0),
    source: Source { standing: Standing::Nature, title: "" },
    relation: Relation::Apart {
        of: Select { classes: Classes::OPENINGS, when: None },
        from: Select { classes: Classes::OPENINGS, when: None },
        measure: From::Boundary,
        exempt: Exempt::Others,
        same_sheet: true,
        depth: false,
        touch: Touch::Fails,
    },
    asked: None,
};
