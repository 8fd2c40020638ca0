//! A countersunk hole too near an edge.

use super::{Limit, Need, Relation, Rule, Source, Standing, pick};
use crate::panel::{Panel, PartRef};

const EDGES: [Relation; 2] = pick::to_edges(pick::is_countersunk);

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
    relation: Relation::All(&EDGES),
    asked: Some(asked),
};

fn asked(panel: &Panel, r: PartRef, user: Option<f64>) -> Need {
    pick::diameters(panel, r, user.unwrap_or(2.5))
}
