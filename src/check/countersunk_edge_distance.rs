//! A countersunk hole too near an edge.

use super::{Exempt, From, Limit, Need, Relation, Rule, Select, Source, Standing, Touch, pick};
use crate::panel::{Class, Classes, Panel, PartRef};

/// The rule.
pub static RULE: Rule = Rule {
    id: "countersunk-edge-distance",
    asks: "A countersunk fastener's hole keeps half a diameter more from edges than a plain one.",
    why: "A countersink takes metal away towards the edge. Measured as edge-distance is, from the hole's centre. The value is \
          the common shop rule, from memory.",
    limit: Limit::Diameters(2.5),
    source: Source {
        standing: Standing::Memory,
        title: "aviation maintenance handbook, countersunk rivets: 2 1/2 D; not seen",
    },
    relation: Relation::All(&[
        Relation::Inside {
            what: Select {
                classes: Classes::of(&[Class::Hole, Class::OldOpening]),
                when: Some(pick::is_countersunk),
            },
            measure: From::Centre,
        },
        Relation::Apart {
            of: Select {
                classes: Classes::of(&[Class::Hole, Class::OldOpening]),
                when: Some(pick::is_countersunk),
            },
            from: Select { classes: Classes::of(&[Class::Cutout, Class::OldOpening]), when: None },
            measure: From::Centre,
            exempt: Exempt::MakersOwn,
            same_sheet: true,
            depth: false,
            touch: Touch::Fails,
        },
    ]),
    asked: Some(asked),
};

fn asked(panel: &Panel, r: PartRef, user: Option<f64>) -> Need {
    pick::diameters(panel, r, user.unwrap_or(2.5))
}
