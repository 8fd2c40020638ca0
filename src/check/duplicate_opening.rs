//! One opening given twice.

use super::{Exempt, From, Limit, Relation, Rule, Select, Source, Standing, Touch};
use crate::panel::Classes;

/// The rule.
pub static RULE: Rule = Rule {
    id: "duplicate-opening",
    asks: "No opening is drawn twice.",
    why: "A doubled contour is cut twice, and often one of the two was to be moved or has the other unit's size. Measured: the \
          greatest difference of the sides of their upright boxes. An old opening that a new one uses again is not doubled.",
    limit: Limit::AtLeast(0.5),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::Apart {
        of: Select { classes: Classes::OPENINGS, when: None },
        from: Select { classes: Classes::OPENINGS, when: None },
        measure: From::Outlines,
        exempt: Exempt::Nothing,
        same_sheet: true,
        depth: false,
        touch: Touch::IsZero,
    },
    asked: None,
};
