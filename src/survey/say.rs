//! What is observed, in words.

use super::network::Network;
use super::next::Further;
use super::observation::{Observation, Relation};
use crate::define::survey::ToolKind;

/// "distance A to K", "C on the line A B".
pub fn relation(network: &Network, relation: &Relation, condition: bool) -> String {
    let id = |p: usize| network.points[p].id.as_ref();
    let picture = |k: usize| network.pictures[k].id.as_ref();
    match *relation {
        Relation::Distance { a, b, ra, rb } if condition => {
            let (circle, on) = if rb == -1 && ra == 0 { (b, a) } else { (a, b) };
            format!("{} on the circle {}", id(on), id(circle))
        }
        Relation::Distance { a, b, ra: 0, rb: 0 } => format!("distance {} to {}", id(a), id(b)),
        Relation::Distance { a, b, ra, rb } => {
            let edge = if ra < 0 || rb < 0 { "near" } else { "far" };
            format!("{} to {}, {edge} edges", id(a), id(b))
        }
        Relation::Offset { p, a, b } if condition => format!("{} on the line {} {}", id(p), id(a), id(b)),
        Relation::Along { p, a, b } if condition => {
            format!("square at {} from {} to {}", id(a), id(p), id(b))
        }
        Relation::Offset { p, a, b } => format!("offset of {} from the line {} {}", id(p), id(a), id(b)),
        Relation::Gap { p, a, b } => format!("gap of {} to the line {} {}", id(p), id(a), id(b)),
        Relation::Along { p, a, b } => format!("{} along the line {} {}", id(p), id(a), id(b)),
        Relation::Up { a, b } if condition => format!("{} level with {}", id(b), id(a)),
        Relation::Right { a, b } if condition => format!("{} plumb with {}", id(b), id(a)),
        Relation::Up { a, b } => format!("height of {} above {}", id(b), id(a)),
        Relation::Right { a, b } => format!("{} to the right of {}", id(b), id(a)),
        Relation::Radius { c, k: 2 } => format!("diameter of {}", id(c)),
        Relation::Radius { c, .. } => format!("radius of {}", id(c)),
        Relation::Picked { p, pick, down } => {
            let side = if down { "top" } else { "left" };
            format!("{} in {}, from the {side}", id(p), picture(network.picks[pick].picture))
        }
        Relation::Edge { p, pick } => {
            format!("edge of {} in {}", id(p), picture(network.picks[pick].picture))
        }
        Relation::Lens { picture: k } => format!("lens of {}", picture(k)),
        Relation::Axes { picture: k } => format!("axes of {} square", picture(k)),
        Relation::SameSize { a, b } => format!("{} as large as {}", id(b), id(a)),
    }
}

/// An observation in words.
pub fn observation(network: &Network, o: &Observation) -> String {
    relation(network, &o.relation, o.what.is_none())
}

/// A further reading in words, with its tool.
pub fn further(network: &Network, f: &Further) -> String {
    let tools = [(ToolKind::Rule, "tape"), (ToolKind::Calipers, "rule")];
    let coarser = tools.iter().find(|(finer, _)| f.sigma > finer.deviation());
    let tool = coarser.map_or("calipers", |(_, word)| *word);
    format!("{} ({tool})", relation(network, &f.relation, false))
}

/// "mm" or "px".
pub fn unit(o: &Observation) -> &'static str {
    if o.relation.in_pixels() { "px" } else { "mm" }
}

/// "one tape", "3 tapes".
pub fn count(n: usize, word: &str) -> String {
    match n {
        1 => format!("one {word}"),
        n => format!("{n} {word}s"),
    }
}
