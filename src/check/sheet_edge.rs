//! An opening too near the edge of its sheet.

use super::{From, Limit, Relation, Rule, Select, Source, Standing};
use crate::panel::Classes;

/// The rule.
pub static RULE: Rule = Rule {
    id: "sheet-edge",
    asks: "Between an opening and the sheet's edge there is enough metal.",
    why: "A thin strip along the edge bends while it is cut and cracks afterwards. Boundary of the opening to the outline of \
          the sheet that it is cut in.",
    limit: Limit::AtLeast(6.35),
    source: Source {
        standing: Standing::Published,
        title: "Avionics installation manual (type-certificate data), section on cutting a new hole: 0.25 in from main hole or screw holes to any other hole or panel edge",
    },
    relation: Relation::Inside {
        what: Select { classes: Classes::OPENINGS, when: None },
        measure: From::Boundary,
    },
    asked: None,
};
