//! Something that reaches beyond the sheet.

use super::{From, Limit, Relation, Rule, Select, Source, Standing};
use crate::panel::{Class, Classes};

/// The rule.
pub static RULE: Rule = Rule {
    id: "on-sheet",
    asks: "Bezels, flanges, heads, labels and openings lie on their sheet.",
    why: "What reaches beyond the edge is not held there, and an opening across the edge is a notch. Boundary to the outline \
          of the sheet; level with the edge is enough. How much metal must remain is asked by sheet-edge.",
    limit: Limit::AtLeast(0.0),
    source: Source { standing: Standing::Nature, title: "" },
    relation: Relation::Inside {
        what: Select {
            classes: Classes::of(&[
                Class::Bezel,
                Class::Flange,
                Class::Head,
                Class::Label,
                Class::Provision,
                Class::Cutout,
                Class::Hole,
                Class::OldOpening,
            ]),
            when: None,
        },
        measure: From::Boundary,
    },
    asked: None,
};
