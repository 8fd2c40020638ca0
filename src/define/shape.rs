//! Flat shapes as files write them: circle, rectangle, D-hole, slot, path; and outlines.

use super::Text;
use super::node::{Node, Size, Value, Xy};
use super::table::{Field, Kind, Record, Rule, may, must};
use super::words::{Word, words};
use crate::diag::{Where, Written};
use crate::units::{Length, Sign};

const SIZE: Kind = Kind::Size(Sign::Positive);
const RADIUS: Kind = Kind::Size(Sign::NotNegative);

/// The keys that say which shape it is, and those that refine one.
const FORMS: &[Field] = &[
    may("circle", SIZE, "A circle: its diameter."),
    may(
        "rectangle",
        Kind::List { of: &SIZE, least: 2, most: 2 },
        "A rectangle about its centre: width and height.",
    ),
    may("d-hole", SIZE, "A circle with one or two flats: its diameter."),
    may(
        "slot",
        Kind::List { of: &SIZE, least: 2, most: 2 },
        "A slot with round ends: whole length and width.",
    ),
    may(
        "path",
        Kind::Path,
        "Any outline: SVG path syntax, y up, sweep 1 counter-clockwise, in the file's unit.",
    ),
];

const REFINEMENTS: &[Field] = &[
    may("corner", RADIUS, "Radius of all four corners of a rectangle."),
    may(
        "corners",
        Kind::List { of: &RADIUS, least: 4, most: 4 },
        "Radii of the corners of a rectangle: lower left, lower right, upper right, upper left.",
    ),
    may(
        "clip",
        Kind::Either(&[Kind::List { of: &RADIUS, least: 4, most: 4 }, RADIUS]),
        "How far the corners of a rectangle are cut off straight, along each edge: one size, or four (lower left, lower right, upper right, upper left).",
    ),
    may("flat", SIZE, "Distance from a D-hole's centre to its flat."),
    may(
        "flats",
        Kind::Whole { least: 1, most: 2 },
        "How many flats a D-hole has, the first one at the top (default 1).",
    ),
    may("source", Kind::Id, "Name of the source of these sizes in `sources`."),
];

const REFINED: &[Rule] = &[
    Rule::Beside { key: "corner", beside: &["rectangle"] },
    Rule::Beside { key: "corners", beside: &["rectangle"] },
    Rule::Beside { key: "clip", beside: &["rectangle"] },
    Rule::AtMostOne(&["corner", "corners", "clip"]),
    Rule::Beside { key: "flat", beside: &["d-hole"] },
    Rule::Beside { key: "flats", beside: &["d-hole"] },
    Rule::Beside { key: "d-hole", beside: &["flat"] },
];

/// A shape about its own origin.
pub const SHAPE: Record = Record {
    name: "shape",
    doc: "A flat shape: circle, rectangle, D-hole, slot or path, about its own origin.",
    fields: &[FORMS, REFINEMENTS],
    rules: &[REFINED, &[Rule::One(&["circle", "rectangle", "d-hole", "slot", "path"])]],
};

const DRAWN: &[Field] = &[
    may(
        "lines-and-arcs",
        Kind::List { of: &Kind::Either(&[Kind::Point, Kind::Object(&ARC)]), least: 2, most: usize::MAX },
        "Points joined by lines, [x, y]; an arc is an object. The last one is joined to the first.",
    ),
    may("file", Kind::Text, "Name of a drawing (SVG or DXF) beside this file."),
];

/// An outline in place: a shape, a list of lines and arcs, or a drawing.
pub const OUTLINE: Record = Record {
    name: "outline",
    doc: "The outline of a sheet, in the panel's own axes.",
    fields: &[FORMS, DRAWN, REFINEMENTS],
    rules: &[
        REFINED,
        &[Rule::One(&["circle", "rectangle", "d-hole", "slot", "path", "lines-and-arcs", "file"])],
    ],
};

/// An arc from the point before it.
const ARC: Record = Record {
    name: "arc",
    doc: "An arc from the point before it to `to`.",
    fields: &[&[
        must("to", Kind::Point, "Where the arc ends."),
        may("through", Kind::Point, "A point that it passes."),
        may("centre", Kind::Point, "Its centre."),
        may("radius", SIZE, "Its radius; the shorter way round unless `long` is true."),
        may("turn", Kind::Choice(Way::WORDS), "Which way it runs."),
        may("long", Kind::Flag, "With a radius: the longer of the two arcs."),
    ]],
    rules: &[&[
        Rule::One(&["through", "centre", "radius"]),
        Rule::Beside { key: "centre", beside: &["turn"] },
        Rule::Beside { key: "radius", beside: &["turn"] },
        Rule::Beside { key: "long", beside: &["radius"] },
    ]],
};

words!(
    /// Which way an arc runs, as seen from the seat.
    Way {
        CounterClockwise = "counter-clockwise": "Against the clock.",
        Clockwise = "clockwise": "With the clock.",
    }
);

/// A flat shape about its own origin.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// Which one, with its sizes.
    pub form: Form,
    /// Where it stands.
    pub place: Where,
    /// The source named nearest around it.
    pub source: Option<Text>,
}

/// Which shape, with its sizes.
#[derive(Clone, Debug, PartialEq)]
pub enum Form {
    /// A circle by its diameter.
    Circle(Size),
    /// A rectangle about its centre.
    Rectangle {
        /// Width.
        width: Size,
        /// Height.
        height: Size,
        /// Its corners.
        corners: Corners,
    },
    /// A circle with flats; the first flat is at the top, a second one opposite.
    DHole {
        /// Diameter.
        diameter: Size,
        /// From the centre to a flat.
        flat: Size,
        /// One or two.
        flats: u32,
    },
    /// A slot along x with round ends.
    Slot {
        /// Whole length.
        length: Size,
        /// Width.
        width: Size,
    },
    /// SVG path syntax, y up, in the file's unit.
    Path(Written<Text>),
}

/// Corners of a rectangle. Lists run lower left, lower right, upper right, upper left.
#[derive(Clone, Debug, PartialEq)]
pub enum Corners {
    /// Sharp.
    Sharp,
    /// All of one radius.
    Round(Size),
    /// A radius each; zero is sharp.
    EachRound(Vec<Size>),
    /// All cut off straight, so far along each edge.
    Clipped(Size),
    /// Each cut off straight.
    EachClipped(Vec<Size>),
}

/// An outline in place.
#[derive(Clone, Debug, PartialEq)]
pub enum Outline {
    /// A shape or path.
    Shape(Box<Shape>),
    /// Points and arcs, closed from the last to the first.
    LinesAndArcs {
        /// The steps; the first one is where the outline starts.
        steps: Vec<Step>,
        /// Where the list stands.
        place: Where,
    },
    /// A drawing beside the file.
    File(Written<Text>),
}

/// One step of an outline.
#[derive(Clone, Debug, PartialEq)]
pub enum Step {
    /// A line to here.
    Line(Xy),
    /// An arc to `to`.
    Arc {
        /// Where it ends.
        to: Xy,
        /// What determines it.
        by: ArcBy,
        /// Where it stands.
        place: Where,
    },
}

/// What determines an arc between two points.
#[derive(Clone, Debug, PartialEq)]
pub enum ArcBy {
    /// A point that it passes.
    Through(Xy),
    /// Its centre and way.
    Centre(Xy, Way),
    /// Its radius and way; true: the longer arc.
    Radius(Length, Way, bool),
}

impl Shape {
    /// From a node of the record [`SHAPE`] (or [`OUTLINE`], when it holds a shape).
    pub(super) fn build(node: &Node) -> Option<Shape> {
        let pair = |key: &str| {
            let mut sizes = sizes(node.get(key)?).into_iter();
            Some((sizes.next()?, sizes.next()?))
        };
        let form = if let Some(diameter) = node.size("circle") {
            Form::Circle(diameter)
        } else if let Some((width, height)) = pair("rectangle") {
            Form::Rectangle { width, height, corners: corners(node) }
        } else if let Some(diameter) = node.size("d-hole") {
            let flats = if node.number("flats").is_some_and(|n| n.value >= 2.0) { 2 } else { 1 };
            Form::DHole { diameter, flat: node.size("flat")?, flats }
        } else if let Some((length, width)) = pair("slot") {
            Form::Slot { length, width }
        } else {
            Form::Path(node.text("path")?)
        };
        Some(Shape { form, place: node.place.clone(), source: node.source.clone() })
    }
}

impl Outline {
    /// From a path text or a node of the record [`OUTLINE`].
    pub(super) fn build(node: &Node) -> Option<Outline> {
        if let Some(path) = node.as_text() {
            let place = node.place.clone();
            let shape = Shape { form: Form::Path(path), place, source: node.source.clone() };
            return Some(Outline::Shape(Box::new(shape)));
        }
        if let Some(list) = node.get("lines-and-arcs") {
            let steps = list.items().iter().filter_map(step).collect();
            return Some(Outline::LinesAndArcs { steps, place: list.place.clone() });
        }
        match node.text("file") {
            Some(file) => Some(Outline::File(file)),
            None => Shape::build(node).map(|shape| Outline::Shape(Box::new(shape))),
        }
    }

    /// Where it stands.
    pub fn place(&self) -> &Where {
        match self {
            Outline::Shape(shape) => &shape.place,
            Outline::LinesAndArcs { place, .. } => place,
            Outline::File(file) => &file.place,
        }
    }
}

fn step(node: &Node) -> Option<Step> {
    if let Value::Point(to) = &node.value {
        return Some(Step::Line(to.clone()));
    }
    let way = node.word::<Way>("turn").map(|way| way.value);
    let by = match (node.point("through"), node.point("centre"), node.size("radius")) {
        (Some(point), ..) => ArcBy::Through(point),
        (_, Some(centre), _) => ArcBy::Centre(centre, way?),
        (.., Some(radius)) => ArcBy::Radius(radius.of, way?, node.is("long")),
        _ => return None,
    };
    Some(Step::Arc { to: node.point("to")?, by, place: node.place.clone() })
}

fn sizes(node: &Node) -> Vec<Size> {
    let size = |n: &Node| match &n.value {
        Value::Size(size) => Some(size.clone()),
        _ => None,
    };
    node.items().iter().filter_map(size).collect()
}

fn corners(node: &Node) -> Corners {
    if let Some(radius) = node.size("corner") {
        return Corners::Round(radius);
    }
    let four = |key: &str| node.get(key).map(sizes).filter(|sizes| sizes.len() == 4);
    match (four("corners"), node.size("clip"), four("clip")) {
        (Some(radii), ..) => Corners::EachRound(radii),
        (_, Some(clip), _) => Corners::Clipped(clip),
        (.., Some(clips)) => Corners::EachClipped(clips),
        _ => Corners::Sharp,
    }
}
