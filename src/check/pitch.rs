//! Fasteners too near each other.

use super::{Exempt, From, Limit, Need, Relation, Rule, Source, Standing, Touch, pick};
use crate::panel::{Panel, PartRef};

/// The rule.
pub static RULE: Rule = Rule {
    id: "pitch",
    asks: "Two fasteners keep three diameters from centre to centre.",
    why: "Holes side by side weaken the sheet between them, and two heads or two nuts do not fit. The greater fastener counts. \
          The pattern of one and the same item is its maker's and exempt; the screws round an insert are the builder's own.",
    limit: Limit::Diameters(3.0),
    source: Source {
        standing: Standing::Published,
        title: "Avionics installation manual (type-certificate data), extra fastener holes: spacing 3 D; AC 43.13-1B as quoted says the same",
    },
    relation: Relation::Apart {
        of: pick::FASTENER_HOLES,
        from: pick::FASTENER_HOLES,
        measure: From::Centres,
        exempt: Exempt::MakersOwn,
        same_sheet: true,
        depth: false,
        touch: Touch::Fails,
    },
    asked: Some(asked),
};

fn asked(panel: &Panel, r: PartRef, user: Option<f64>) -> Need {
    pick::diameters(panel, r, user.unwrap_or(3.0))
}
