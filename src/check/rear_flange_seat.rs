//! A flange behind the sheet that does not seat on metal.

use super::{Exempt, From, Limit, Relation, Rule, Select, Source, Standing, Touch};
use crate::panel::{Class, Classes};

/// The rule.
pub static RULE: Rule = Rule {
    id: "rear-flange-seat",
    asks: "The flange of an item put in from behind seats on metal all round its cutout.",
    why: "A flange over a hole or beyond its own cutout bends and leaks light, and its screws pull it crooked. Measured: how \
          far the flange reaches beyond its own cutout, and its distance to other items' openings; equal is enough. That it \
          stays on the sheet is asked by on-sheet.",
    limit: Limit::AtLeast(0.0),
    source: Source { standing: Standing::Nature, title: "" },
    relation: Relation::All(&[
        Relation::Covers {
            cover: Select { classes: Classes::of(&[Class::Flange]), when: None },
            what: Select { classes: Classes::of(&[Class::Cutout]), when: None },
            own: true,
        },
        Relation::Apart {
            of: Select { classes: Classes::of(&[Class::Flange]), when: None },
            from: Select { classes: Classes::OPENINGS, when: None },
            measure: From::Boundary,
            exempt: Exempt::SameSubject,
            same_sheet: true,
            depth: false,
            touch: Touch::IsZero,
        },
    ]),
    asked: None,
};
