//! Labels can be read: nothing lies on them and no opening cuts them.

use super::{Exempt, From, Limit, Relation, Rule, Select, Source, Standing, Touch};
use crate::panel::{Class, Classes};

/// The rule.
pub static RULE: Rule = Rule {
    id: "label-clear",
    asks: "A label keeps clear of bezels, knobs, fastener heads and openings, its own item's too.",
    why: "Lettering under a bezel or across a hole is noticed after it is engraved. Boundary of the label's room to \
          boundary; half a millimetre is common practice.",
    limit: Limit::AtLeast(0.5),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::Apart {
        of: Select { classes: Classes::of(&[Class::Label]), when: None },
        from: Select {
            classes: Classes::of(&[
                Class::Bezel,
                Class::Front,
                Class::Head,
                Class::Cutout,
                Class::Hole,
                Class::OldOpening,
            ]),
            when: None,
        },
        measure: From::Boundary,
        exempt: Exempt::Nothing,
        same_sheet: false,
        depth: false,
        touch: Touch::Fails,
    },
    asked: None,
};
