//! A flange behind the sheet that meets a neighbour.

use super::{Exempt, From, Limit, Relation, Rule, Select, Source, Standing, Touch};
use crate::panel::{Class, Classes};

/// The rule.
pub static RULE: Rule = Rule {
    id: "rear-flange-clear",
    asks: "The flange of an item put in from behind clears other flanges and bodies.",
    why: "Two flanges cannot lie in one place, and a flange is wider than the face that is seen from the seat. Flat gap and \
          gap in depth both count. Contact fails.",
    limit: Limit::AtLeast(0.0),
    source: Source { standing: Standing::Nature, title: "" },
    relation: Relation::Apart {
        of: Select { classes: Classes::of(&[Class::Flange]), when: None },
        from: Select { classes: Classes::of(&[Class::Flange, Class::Body, Class::Port]), when: None },
        measure: From::Boundary,
        exempt: Exempt::SameSubject,
        same_sheet: false,
        depth: true,
        touch: Touch::Fails,
    },
    asked: None,
};
