//! A fastener's head or nut under or against a neighbour.

use super::{Exempt, From, Limit, Relation, Rule, Select, Source, Standing, Touch};
use crate::geom::SLACK;
use crate::panel::{Class, Classes, Panel, PartRef};

/// The rule.
pub static RULE: Rule = Rule {
    id: "head-room",
    asks: "Fastener heads and nuts are clear of other items' bezels, heads, knobs, bodies, flanges and nuts.",
    why: "A bezel does not lie flat on a neighbour's screw, and a nut that a body covers cannot be turned. Flat gap and gap in \
          depth both count; a flush head is in nobody's way. Contact fails. Room for the tool is not asked.",
    limit: Limit::AtLeast(0.0),
    source: Source { standing: Standing::Nature, title: "" },
    relation: Relation::All(&[
        Relation::Apart {
            of: Select { classes: Classes::of(&[Class::Head]), when: Some(in_the_way) },
            from: Select {
                classes: Classes::of(&[Class::Bezel, Class::Head, Class::Front]),
                when: Some(in_the_way),
            },
            measure: From::Boundary,
            exempt: Exempt::SameSubject,
            same_sheet: false,
            depth: true,
            touch: Touch::Fails,
        },
        Relation::Apart {
            of: Select { classes: Classes::of(&[Class::Nut]), when: None },
            from: Select {
                classes: Classes::of(&[Class::Nut, Class::Body, Class::Flange, Class::Port]),
                when: None,
            },
            measure: From::Boundary,
            exempt: Exempt::SameSubject,
            same_sheet: false,
            depth: true,
            touch: Touch::Fails,
        },
    ]),
    asked: None,
};

/// Anything but a head that does not reach beyond the sheet's face; one whose height is not known does.
fn in_the_way(panel: &Panel, r: PartRef) -> bool {
    let part = panel.part(r);
    let face = panel.sheets.get(part.sheet as usize).map_or(0.0, |s| s.front);
    part.class != Class::Head || part.depth.is_none_or(|(from, _)| from < face - SLACK)
}
