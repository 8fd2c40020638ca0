//! Metal left between two openings of different subjects.

use super::{Exempt, From, Limit, Relation, Rule, Select, Source, Standing, Touch};
use crate::panel::Classes;

/// The rule.
pub static RULE: Rule = Rule {
    id: "web",
    asks: "Between two openings there is enough metal.",
    why: "A thin bridge bends while it is cut and cracks afterwards. Boundary to boundary, in one sheet. \
          An item's own screws are exempt from its own cutout: that distance is its maker's. \
          The screws round an insert are the builder's own and are not.",
    limit: Limit::AtLeast(6.35),
    source: Source {
        standing: Standing::Published,
        title: "Avionics installation manual (type-certificate data), section on cutting a new hole: 0.25 in from main hole or screw holes to any other hole",
    },
    relation: Relation::Apart {
        of: Select { classes: Classes::OPENINGS, when: None },
        from: Select { classes: Classes::OPENINGS, when: None },
        measure: From::Boundary,
        exempt: Exempt::MakersOwn,
        same_sheet: true,
        depth: false,
        touch: Touch::Fails,
    },
    asked: None,
};
