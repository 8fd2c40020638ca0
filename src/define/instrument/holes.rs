//! Hole patterns of a file: where the holes lie, what goes through them, the nuts and rivets behind.

use super::{HeadKind, Make};
use crate::define::Text;
use crate::define::node::{Node, Size, Value, Xy};
use crate::diag::{Where, Written};
use crate::units::Angle;

/// A pattern of equal round holes.
#[derive(Clone, Debug, PartialEq)]
pub struct Holes {
    /// Its id; holes are told apart by their number in the pattern.
    pub id: Option<Written<Text>>,
    /// Where they lie.
    pub pattern: Pattern,
    /// Diameter to cut.
    pub diameter: Option<Size>,
    /// The fastener's name; "none" for a hole that takes none.
    pub fastener: Option<Written<Text>>,
    /// Its head in front.
    pub head: Option<Head>,
    /// Diameter and thickness of a washer in front.
    pub washer: Option<Round>,
    /// What holds it behind.
    pub nut: Option<Nut>,
    /// Length under the head.
    pub length: Option<Size>,
    /// Cut to drawing or from the part.
    pub make: Option<Written<Make>>,
    /// There already (in a panel file).
    pub exists: bool,
    /// The source named nearest around it.
    pub source: Option<Text>,
    /// Where it stands.
    pub place: Where,
}

/// Where the holes of a pattern lie.
#[derive(Clone, Debug, PartialEq)]
pub enum Pattern {
    /// At these points.
    At(Vec<Xy>),
    /// At the corners of a square of this pitch (counter-clockwise from the lower left).
    Square {
        /// Distance between neighbouring centres.
        pitch: Size,
        /// Its centre; the instrument's own origin when missing.
        centre: Option<Xy>,
    },
    /// At the corners of a rectangle (counter-clockwise from the lower left).
    Rectangle {
        /// Pitch to the right.
        width: Size,
        /// Pitch upwards.
        height: Size,
        /// Its centre; the instrument's own origin when missing.
        centre: Option<Xy>,
    },
    /// On a bolt circle.
    Circle {
        /// Diameter through the centres.
        diameter: Size,
        /// How many.
        count: u32,
        /// Direction of the first one, counter-clockwise from the right; 90 (up) when missing.
        start: Option<Written<Angle>>,
        /// Its centre; the instrument's own origin when missing.
        centre: Option<Xy>,
    },
    /// In a row.
    Row {
        /// The first one.
        from: Xy,
        /// From one to the next: right and up.
        step: Xy,
        /// How many.
        count: u32,
    },
}

/// The head of a fastener.
#[derive(Clone, Debug, PartialEq)]
pub struct Head {
    /// Raised or countersunk.
    pub kind: Written<HeadKind>,
    /// Diameter.
    pub diameter: Option<Size>,
    /// Height of a raised head, depth of a countersunk one.
    pub height: Option<Size>,
    /// Whole angle of the countersink, degrees.
    pub angle: Option<Written<f64>>,
}

/// A round thing with a thickness.
#[derive(Clone, Debug, PartialEq)]
pub struct Round {
    /// Diameter.
    pub diameter: Size,
    /// Thickness.
    pub thickness: Option<Size>,
}

/// A nut or nutplate behind the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Nut {
    /// Diameter of the circle that it turns in, or the longest way across a nutplate.
    pub across: Option<Size>,
    /// How far it stands behind.
    pub height: Option<Size>,
    /// The rivets of a nutplate.
    pub rivets: Option<Rivets>,
    /// It is a nutplate, or pressed in: no tool holds it.
    pub captive: bool,
}

/// The rivets that hold a nutplate; their holes lie about each screw of the pattern.
#[derive(Clone, Debug, PartialEq)]
pub struct Rivets {
    /// Where they lie, from the screw's hole, before the turn.
    pub places: Places,
    /// Which way each nutplate is turned.
    pub turns: Turns,
    /// Diameter to drill.
    pub diameter: Size,
    /// The rivet's name.
    pub fastener: Written<Text>,
    /// Its head in front.
    pub head: Option<Head>,
    /// Drilled to the drawing or from the nutplate.
    pub make: Option<Written<Make>>,
    /// The source named nearest around them.
    pub source: Option<Text>,
    /// Where they stand.
    pub place: Where,
}

/// Where the rivets of a nutplate lie, from the screw's hole.
#[derive(Clone, Debug, PartialEq)]
pub enum Places {
    /// Two, left and right of the screw, so far apart.
    Pitch(Size),
    /// At these points.
    At(Vec<Xy>),
}

/// Which way the nutplates of a pattern are turned, counter-clockwise.
#[derive(Clone, Debug, PartialEq)]
pub enum Turns {
    /// All the same way; not turned when nothing is said.
    All(Option<Written<Angle>>),
    /// One after the other, in the pattern's order.
    Each(Vec<Written<Angle>>),
}

impl Holes {
    /// From a node of the record [`HOLES`].
    pub(in crate::define) fn build(node: &Node) -> Option<Holes> {
        Some(Holes {
            id: node.text("id"),
            pattern: Pattern::build(node)?,
            diameter: node.size("diameter"),
            fastener: node.text("fastener"),
            head: node.get("head").and_then(Head::build),
            washer: node.get("washer").and_then(|washer| {
                Some(Round { diameter: washer.size("diameter")?, thickness: washer.size("thickness") })
            }),
            nut: node.get("nut").or(node.get("nutplate")).map(|nut| Nut {
                across: nut.size("across"),
                height: nut.size("height"),
                rivets: nut.get("rivets").and_then(Rivets::build),
                captive: node.get("nutplate").is_some(),
            }),
            length: node.size("length"),
            make: node.word("make"),
            exists: node.is("exists"),
            source: node.source.clone(),
            place: node.place.clone(),
        })
    }
}

impl Pattern {
    fn build(node: &Node) -> Option<Pattern> {
        let centre = node.point("centre");
        let count = node.number("count").map(|n| n.value as u32);
        let sizes: Vec<Size> = node.each("rectangle", |n| match &n.value {
            Value::Size(size) => Some(size.clone()),
            _ => None,
        });
        if let Some(pitch) = node.size("square") {
            Some(Pattern::Square { pitch, centre })
        } else if let [width, height] = sizes.as_slice() {
            Some(Pattern::Rectangle { width: width.clone(), height: height.clone(), centre })
        } else if let Some(diameter) = node.size("circle") {
            Some(Pattern::Circle { diameter, count: count?, start: node.angle("start"), centre })
        } else if let Some(step) = node.point("row") {
            Some(Pattern::Row { from: centre?, step, count: count? })
        } else {
            let points = node.each("at", point);
            (!points.is_empty()).then_some(Pattern::At(points))
        }
    }
}

impl Head {
    fn build(node: &Node) -> Option<Head> {
        Some(Head {
            kind: node.word("kind")?,
            diameter: node.size("diameter"),
            height: node.size("height"),
            angle: node.number("angle"),
        })
    }
}

impl Rivets {
    fn build(node: &Node) -> Option<Rivets> {
        let each = node.each("turn", |n| match &n.value {
            Value::Angle(value) => Some(Written { value: value.clone(), place: n.place.clone() }),
            _ => None,
        });
        let places = match node.size("pitch") {
            Some(pitch) => Places::Pitch(pitch),
            None => Places::At(node.each("at", point)),
        };
        let turns = if each.is_empty() { Turns::All(node.angle("turn")) } else { Turns::Each(each) };
        Some(Rivets {
            places,
            turns,
            diameter: node.size("diameter")?,
            fastener: node.text("fastener")?,
            head: node.get("head").and_then(Head::build),
            make: node.word("make"),
            source: node.source.clone(),
            place: node.place.clone(),
        })
    }
}

fn point(node: &Node) -> Option<Xy> {
    match &node.value {
        Value::Point(point) => Some(point.clone()),
        _ => None,
    }
}
