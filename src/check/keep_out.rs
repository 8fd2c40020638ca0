//! Something in a zone where the panel's file forbids it.

use super::{Exempt, From, Limit, Relation, Rule, Select, Source, Standing, Touch};
use crate::panel::{Class, Classes, Detail, Forbids, Panel, PartRef};

/// The rule.
pub static RULE: Rule = Rule {
    id: "keep-out",
    asks: "Nothing lies in a zone that forbids it: openings, things behind, or things in front.",
    why: "Zones stand for ribs, flanges, structure and whatever else the builder knows of. Boundary to boundary, seen from the \
          seat; to touch a zone's boundary is allowed.",
    limit: Limit::AtLeast(0.0),
    source: Source { standing: Standing::Nature, title: "" },
    relation: Relation::All(&[
        Relation::Apart {
            of: Select { classes: Classes::OPENINGS, when: None },
            from: Select { classes: Classes::of(&[Class::Zone]), when: Some(forbids_cut) },
            measure: From::Boundary,
            exempt: Exempt::SameSubject,
            same_sheet: false,
            depth: false,
            touch: Touch::IsZero,
        },
        Relation::Apart {
            of: Select {
                classes: Classes::of(&[Class::Body, Class::Port, Class::Flange, Class::Nut]),
                when: None,
            },
            from: Select { classes: Classes::of(&[Class::Zone]), when: Some(forbids_behind) },
            measure: From::Boundary,
            exempt: Exempt::SameSubject,
            same_sheet: false,
            depth: false,
            touch: Touch::IsZero,
        },
        Relation::Apart {
            of: Select {
                classes: Classes::of(&[
                    Class::Bezel,
                    Class::Front,
                    Class::Head,
                    Class::Label,
                    Class::Provision,
                ]),
                when: None,
            },
            from: Select { classes: Classes::of(&[Class::Zone]), when: Some(forbids_front) },
            measure: From::Boundary,
            exempt: Exempt::SameSubject,
            same_sheet: false,
            depth: false,
            touch: Touch::IsZero,
        },
    ]),
    asked: None,
};

fn forbids(panel: &Panel, r: PartRef) -> Forbids {
    match panel.part(r).detail {
        Detail::Zone { forbids, .. } => forbids,
        _ => Forbids::default(),
    }
}

fn forbids_cut(panel: &Panel, r: PartRef) -> bool {
    forbids(panel, r).cut
}

fn forbids_behind(panel: &Panel, r: PartRef) -> bool {
    forbids(panel, r).behind
}

fn forbids_front(panel: &Panel, r: PartRef) -> bool {
    forbids(panel, r).front
}
