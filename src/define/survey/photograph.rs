//! Photographs and scans as their file describes them.

use super::PictureKind;
use crate::define::Text;
use crate::define::node::{Node, Value};
use crate::diag::{Where, Written};
use crate::units::Length;

/// A photograph or scan.
#[derive(Clone, Debug, PartialEq)]
pub struct Photograph {
    /// Its id.
    pub id: Written<Text>,
    /// The picture's file.
    pub image: Option<Written<Text>>,
    /// How it came about.
    pub kind: PictureKind,
    /// Width and height, pixels.
    pub size: [f64; 2],
    /// Standard deviation of one pick, pixels.
    pub deviation: Option<f64>,
    /// Whether the lens's term is sought, where the file says so.
    pub lens: Option<bool>,
    /// What was picked.
    pub picks: Vec<Pick>,
    /// Where it stands.
    pub place: Where,
}

/// A point or the edge of a circle in a picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Pick {
    /// The point or circle.
    pub of: Written<Text>,
    /// Whether the places lie on its edge.
    pub edge: bool,
    /// Where: from the left and from the top, pixels.
    pub spots: Vec<Written<[f64; 2]>>,
    /// Standard deviation of these places, pixels, where it is not the photograph's.
    pub deviation: Option<f64>,
    /// How far it may stand off the plane.
    pub may_stand_off: Option<Written<Length>>,
    /// Where it stands.
    pub place: Where,
}

fn two(node: &Node) -> Option<[f64; 2]> {
    let number = |n: &Node| match n.value {
        Value::Number(v) => Some(v),
        _ => None,
    };
    let both: Vec<f64> = node.items().iter().filter_map(number).collect();
    both.try_into().ok()
}

impl Photograph {
    pub(super) fn build(node: &Node) -> Option<Photograph> {
        Some(Photograph {
            id: node.text("id")?,
            image: node.text("image"),
            kind: node.word("kind")?.value,
            size: two(node.get("size")?)?,
            deviation: node.number("deviation").map(|d| d.value),
            lens: node.flag("lens").map(|f| f.value),
            picks: node.each("picks", Pick::build),
            place: node.place.clone(),
        })
    }
}

impl Pick {
    fn build(node: &Node) -> Option<Pick> {
        let spot = |n: &Node| Some(Written::new(two(n)?, n.place.clone()));
        let (of, edge, spots) = match node.text("point") {
            Some(point) => (point, false, vec![spot(node.get("at")?)?]),
            None => (node.text("circle")?, true, node.each("edge", spot)),
        };
        let deviation = node.number("deviation").map(|d| d.value);
        let may_stand_off = node.length("may-stand-off");
        Some(Pick { of, edge, spots, deviation, may_stand_off, place: node.place.clone() })
    }
}
