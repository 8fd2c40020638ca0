//! What the user wishes of an arrangement, as the file says it.

use super::words::Side;
use crate::define::node::{Node, Xyd};
use crate::define::{Shape, Text, Xy};
use crate::diag::{Where, Written};
use crate::units::{Angle, Length};

/// What is wished of an arrangement.
#[derive(Clone, Debug, PartialEq)]
pub struct Arrange {
    /// Items that may move; `None`: not said.
    pub free: Option<Vec<Written<Text>>>,
    /// Items that stay.
    pub fixed: Vec<Written<Text>>,
    /// Items within an area.
    pub zones: Vec<ArrangeZone>,
    /// Items in order.
    pub orders: Vec<Sequence>,
    /// Items that keep apart.
    pub apart: Vec<KeepApart>,
    /// Items near each other.
    pub groups: Vec<Vec<Written<Text>>>,
    /// Items in a row.
    pub rows: Vec<Sequence>,
    /// Mirror images.
    pub symmetric: Vec<Symmetric>,
    /// Which item is what.
    pub roles: Vec<(Text, Written<Text>)>,
    /// What must be read at a glance.
    pub primary: Vec<Written<Text>>,
    /// Breakers that may have to be reset in flight.
    pub flight_breakers: Vec<Written<Text>>,
    /// The point ahead of the pilot's eye.
    pub eye: Option<Xy>,
    /// The pilot's shoulder.
    pub shoulder: Option<Xyd>,
    /// How far the hand comes.
    pub reach: Option<Written<Length>>,
    /// What each term counts.
    pub weights: Vec<(Text, f64)>,
    /// Where it stands.
    pub place: Where,
}

/// An area within which items stay.
#[derive(Clone, Debug, PartialEq)]
pub struct ArrangeZone {
    /// The items.
    pub items: Vec<Written<Text>>,
    /// The area.
    pub shape: Shape,
    /// Where the shape's origin lies.
    pub at: Option<Xy>,
    /// Turned counter-clockwise.
    pub turn: Option<Written<Angle>>,
    /// Where it stands.
    pub place: Where,
}

/// Items one after the other.
#[derive(Clone, Debug, PartialEq)]
pub struct Sequence {
    /// From the first to the last.
    pub items: Vec<Written<Text>>,
    /// The direction.
    pub along: Side,
    /// Where it stands.
    pub place: Where,
}

/// Items that keep apart.
#[derive(Clone, Debug, PartialEq)]
pub struct KeepApart {
    /// The items.
    pub items: Vec<Written<Text>>,
    /// At least so far.
    pub by: Written<Length>,
    /// Where it stands.
    pub place: Where,
}

/// Two mirror images.
#[derive(Clone, Debug, PartialEq)]
pub struct Symmetric {
    /// The two.
    pub items: Vec<Written<Text>>,
    /// The x of the line.
    pub about: Written<Length>,
}

impl Arrange {
    pub(super) fn build(node: &Node) -> Arrange {
        let entries = |key: &str| node.get(key).map_or(&[][..], Node::entries);
        let number = |n: &Node| match n.value {
            crate::define::node::Value::Number(v) => Some(v),
            _ => None,
        };
        Arrange {
            free: node.get("free").map(|_| node.texts("free")),
            fixed: node.texts("fixed"),
            zones: node.each("zones", ArrangeZone::build),
            orders: node.each("orders", Sequence::build),
            apart: node.each("apart", KeepApart::build),
            groups: node.each("groups", |n| Some(n.texts("items"))),
            rows: node.each("rows", Sequence::build),
            symmetric: node.each("symmetric", |n| {
                Some(Symmetric { items: n.texts("items"), about: n.length("about")? })
            }),
            roles: entries("roles").iter().filter_map(|e| Some((e.key.clone(), e.node.as_text()?))).collect(),
            primary: node.texts("primary"),
            flight_breakers: node.texts("flight-breakers"),
            eye: node.point("eye"),
            shoulder: node.point3("shoulder"),
            reach: node.length("reach"),
            weights: entries("weights")
                .iter()
                .filter_map(|e| Some((e.key.clone(), number(&e.node)?)))
                .collect(),
            place: node.place.clone(),
        }
    }
}

impl ArrangeZone {
    fn build(node: &Node) -> Option<ArrangeZone> {
        Some(ArrangeZone {
            items: node.texts("items"),
            shape: node.get("shape").and_then(Shape::build)?,
            at: node.point("at"),
            turn: node.angle("turn"),
            place: node.place.clone(),
        })
    }
}

impl Sequence {
    fn build(node: &Node) -> Option<Sequence> {
        let along = node.word::<Side>("along")?.value;
        Some(Sequence { items: node.texts("items"), along, place: node.place.clone() })
    }
}

impl KeepApart {
    fn build(node: &Node) -> Option<KeepApart> {
        Some(KeepApart { items: node.texts("items"), by: node.length("by")?, place: node.place.clone() })
    }
}
