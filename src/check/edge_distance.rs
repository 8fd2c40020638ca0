//! A fastener's hole too near the sheet's edge or another item's cutout.

use super::{Limit, Need, Relation, Rule, Source, Standing, pick};
use crate::panel::{Panel, PartRef};

const EDGES: [Relation; 2] = pick::to_edges(pick::is_fastener_hole);

/// The rule.
pub static RULE: Rule = Rule {
    id: "edge-distance",
    asks: "A fastener's hole keeps its distance, in diameters of the fastener, from the sheet's edge and from other items' cutouts.",
    why: "A screw too near an edge tears out. Measured from the hole's centre to the edge of the metal. The cutout of the \
          hole's own item is exempt: that distance is its maker's (a standard round pattern has 1.36 diameters there). \
          Where the fastener is not named, the hole's own diameter is taken; if that is not enough the verdict is withheld.",
    limit: Limit::Diameters(2.0),
    source: Source {
        standing: Standing::Published,
        title: "Avionics installation manual (type-certificate data), extra fastener holes: edge distance 2 D; AC 43.13-1B as quoted says the same",
    },
    relation: Relation::All(&EDGES),
    asked: Some(asked),
};

fn asked(panel: &Panel, r: PartRef, user: Option<f64>) -> Need {
    pick::diameters(panel, r, user.unwrap_or(2.0))
}
