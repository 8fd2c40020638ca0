//! Bodies or plugs behind the sheet that meet.

use super::{Exempt, From, Limit, Relation, Rule, Select, Source, Standing, Touch};
use crate::panel::{Class, Classes};

/// The rule.
pub static RULE: Rule = Rule {
    id: "bodies-apart",
    asks: "Bodies, plugs and hoses of different items keep clear of each other behind the sheet.",
    why: "Cases that touch rub through and cannot be drawn out. Solids along the depth: a gap beside or a gap in depth will do. \
          A missing depth counts as the whole depth; what is clear even then passes, the rest is withheld. 6 mm to what is \
          fixed is common practice. Units of one stack are exempt.",
    limit: Limit::AtLeast(6.0),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::Apart {
        of: Select { classes: Classes::of(&[Class::Body, Class::Port]), when: None },
        from: Select { classes: Classes::of(&[Class::Body, Class::Port]), when: None },
        measure: From::Boundary,
        exempt: Exempt::SameSubject,
        same_sheet: false,
        depth: true,
        touch: Touch::Fails,
    },
    asked: None,
};
