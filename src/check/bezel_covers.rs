//! A front-mounted item whose bezel does not hide its cutout.

use super::{Limit, Relation, Rule, Select, Source, Standing};
use crate::panel::{Class, Classes, Mounting, Panel, PartRef};

/// The rule.
pub static RULE: Rule = Rule {
    id: "bezel-covers",
    asks: "The bezel of an item put in from the front covers its own cutout all round.",
    why: "What the bezel does not cover stays an open slot beside it. Measured: how far the bezel reaches beyond the cutout \
          where it reaches least. Fastener holes may lie inside or outside of the bezel.",
    limit: Limit::AtLeast(0.0),
    source: Source { standing: Standing::Nature, title: "" },
    relation: Relation::Covers {
        cover: Select { classes: Classes::of(&[Class::Bezel]), when: None },
        what: Select { classes: Classes::of(&[Class::Cutout]), when: Some(from_the_front) },
        own: true,
    },
    asked: None,
};

/// Not said to be put in from behind.
fn from_the_front(panel: &Panel, r: PartRef) -> bool {
    panel.subject(r).facts.as_ref().is_none_or(|f| f.mounting != Some(Mounting::Rear))
}
