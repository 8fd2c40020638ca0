//! Bezels too near each other.

use super::{Exempt, From, Limit, Relation, Rule, Select, Source, Standing, Touch, insert};
use crate::panel::{Class, Classes};

/// The rule.
pub static RULE: Rule = Rule {
    id: "bezel-gap",
    asks: "Two bezels, and the room kept for a provision, keep a gap; bezels and openings keep it from the edge of an insert.",
    why: "Bezels that touch cannot be lined up, rub their coat off and cannot be taken out one by one. Boundary to boundary, \
          seen from the seat. Units of one stack are exempt: their joints are the stack's own question. An insert in front covers its sheet like \
          a bezel: what lies half on it does not seat, a hole under it leads nowhere. What stands on the insert, its seat, \
          and holes at its own screws are exempt; old openings under it are covered and may stay.",
    limit: Limit::AtLeast(1.5),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::All(&[
        Relation::Apart {
            of: Select { classes: Classes::of(&[Class::Bezel, Class::Provision]), when: None },
            from: Select { classes: Classes::of(&[Class::Bezel, Class::Provision]), when: None },
            measure: From::Boundary,
            exempt: Exempt::SameSubject,
            same_sheet: false,
            depth: false,
            touch: Touch::Fails,
        },
        Relation::Apart {
            of: insert::UNDER,
            from: insert::IN_FRONT,
            measure: From::Boundary,
            exempt: Exempt::OnIt,
            same_sheet: false,
            depth: false,
            touch: Touch::Fails,
        },
    ]),
    asked: None,
};
