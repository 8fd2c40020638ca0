//! No room for a hand around a knob.

use super::{Exempt, From, Limit, Need, Relation, Rule, Select, Source, Standing, Touch};
use crate::panel::{Class, Classes, Detail, Panel, PartRef};

/// The rule.
pub static RULE: Rule = Rule {
    id: "hand-room",
    asks: "Around a knob there is room for the fingers that turn it.",
    why: "A knob that cannot be held makes its item useless. From the knob's edge to the front parts of other items, seen from \
          the seat; a part that states its own hand room is asked for that. The parts of one item are its maker's.",
    limit: Limit::AtLeast(13.0),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::Apart {
        of: Select { classes: Classes::of(&[Class::Front]), when: Some(is_turned) },
        from: Select { classes: Classes::of(&[Class::Front]), when: None },
        measure: From::Boundary,
        exempt: Exempt::SameSubject,
        same_sheet: false,
        depth: false,
        touch: Touch::Fails,
    },
    asked: Some(asked),
};

fn is_turned(panel: &Panel, r: PartRef) -> bool {
    asked(panel, r, None) != Need::Nothing
}

fn asked(panel: &Panel, r: PartRef, user: Option<f64>) -> Need {
    match &panel.part(r).detail {
        Detail::Front { hand_room: Some(own), .. } => Need::Asks(*own),
        Detail::Front { kind, .. } if kind == "knob" => Need::Asks(user.unwrap_or(13.0)),
        _ => Need::Nothing,
    }
}
