//! The table of what stands, moves and runs behind and in front of a panel.

use super::table::{ID, TURN};
use super::words_space::{Axis, ControlKind, DriverKind, Frame, LineKind, ObstacleKind};
use crate::define::instrument::{ROOM, SIZE};
use crate::define::shape::SHAPE;
use crate::define::table::{Field, Kind, Record, Rule, list, may, must};
use crate::define::words::Word;
use crate::units::Sign;

const LENGTH: Kind = Kind::Length(Sign::Any);
const FACTOR: Kind = Kind::Number { least: -1e6, most: 1e6 };
const DIRECTION: Kind = Kind::List { of: &FACTOR, least: 3, most: 3 };
const END: Kind = Kind::Either(&[LENGTH, Kind::Point3]);
const IN: Field = may(
    "in",
    Kind::Choice(Frame::WORDS),
    "The axes of its points: the panel's [x, y, d] (default), or the aeroplane's [station, butt line, water line].",
);

/// The lists and objects of space that a panel file may have.
pub(super) const SPACE: &[Field] = &[
    may("airframe", Kind::Object(&AIRFRAME), "Where the panel's datum stands in the aeroplane."),
    may(
        "obstacles",
        list(&Kind::Object(&OBSTACLE)),
        "Fixed solids of the airframe, behind the panel and in front of it.",
    ),
    may("drivers", list(&Kind::Object(&DRIVER)), "What is moved: each with its stops."),
    may("controls", list(&Kind::Object(&CONTROL)), "What moves: links with solids that follow drivers."),
    may("lines", list(&Kind::Object(&LINE)), "Hoses, wire bundles and cables."),
];

const AIRFRAME: Record = Record {
    name: "airframe",
    doc: "Where the panel's datum (its origin, on the front face) stands in the aeroplane; the panel's tilt gives the direction.",
    fields: &[&[
        must("station", LENGTH, "Station, aft positive."),
        must("butt-line", LENGTH, "Butt line, right positive."),
        must("water-line", LENGTH, "Water line, up positive."),
    ]],
    rules: &[],
};

const OBSTACLE: Record = Record {
    name: "obstacle",
    doc: "A fixed thing of the airframe.",
    fields: &[&[
        ID,
        must("kind", Kind::Choice(ObstacleKind::WORDS), "What it is."),
        IN,
        must(
            "solids",
            Kind::List { of: &Kind::Object(&SOLID), least: 1, most: 1000 },
            "The solids of which it is made.",
        ),
        may("carries", Kind::Text, "What runs or lies in it: fuel, oil, air, hydraulic."),
        may("tolerance", ROOM, "How far off it may stand, any direction, as it was measured."),
    ]],
    rules: &[],
};

const FORMS: &[Field] = &[
    may("id", Kind::Id, "Its name within what it belongs to."),
    may("prism", Kind::Object(&SHAPE), "A flat shape drawn out along the depth, in the panel's axes alone."),
    may("at", Kind::Point, "Where a prism's shape has its origin; the datum when missing."),
    TURN,
    may(
        "box",
        Kind::List { of: &SIZE, least: 3, most: 3 },
        "A box: its size along the three axes in which its points are given.",
    ),
    may("centre", Kind::Point3, "Middle of a box or ball."),
    may("turns", list(&Kind::Object(&TURNED)), "How a box is turned about its middle, one after the other."),
    may("bar", SIZE, "A round bar: its diameter."),
    may("ball", SIZE, "A ball: its diameter."),
    may("tube", SIZE, "A round tube along a path: its outside diameter; its ends are round."),
    may(
        "path",
        Kind::List { of: &Kind::Point3, least: 2, most: 1000 },
        "The points of a tube's centre line; corners are rounded.",
    ),
    may("bend-radius", SIZE, "Radius of a tube's corners, to the inside of the bend."),
    may(
        "hull",
        Kind::List { of: &Kind::Point3, least: 4, most: 1000 },
        "The smallest solid without hollows around these points.",
    ),
    may("from", END, "Depth at which a prism begins, or the point at which a bar does."),
    may("to", END, "Depth or point at which it ends."),
];

const FORMED: &[Rule] = &[
    Rule::One(&["prism", "box", "bar", "ball", "tube", "hull"]),
    Rule::Beside { key: "prism", beside: &["from"] },
    Rule::Beside { key: "prism", beside: &["to"] },
    Rule::Beside { key: "bar", beside: &["from"] },
    Rule::Beside { key: "bar", beside: &["to"] },
    Rule::Beside { key: "box", beside: &["centre"] },
    Rule::Beside { key: "ball", beside: &["centre"] },
    Rule::Beside { key: "tube", beside: &["path"] },
    Rule::Beside { key: "from", beside: &["prism", "bar"] },
    Rule::Beside { key: "to", beside: &["prism", "bar"] },
    Rule::Beside { key: "at", beside: &["prism"] },
    Rule::Beside { key: "turn", beside: &["prism"] },
    Rule::Beside { key: "turns", beside: &["box"] },
    Rule::Beside { key: "centre", beside: &["box", "ball"] },
    Rule::Beside { key: "path", beside: &["tube"] },
    Rule::Beside { key: "bend-radius", beside: &["tube"] },
];

const SOLID: Record = Record {
    name: "solid",
    doc: "A solid: prism, box, bar, ball, tube or hull.",
    fields: &[FORMS],
    rules: &[FORMED],
};

const MOVING: Record = Record {
    name: "moving solid",
    doc: "A solid that moves with its link: prism, box, bar, ball, tube or hull, given where every driver is 0.",
    fields: &[
        FORMS,
        &[
            may("kind", Kind::Text, "What it is: rim, shaft, lever, chain, frame, monitor, hand."),
            may(
                "hand",
                Kind::Either(&[Kind::Flag, Kind::Length(Sign::NotNegative)]),
                "Room for the hand that holds it: a length, or true for 50 mm (common practice).",
            ),
        ],
    ],
    rules: &[FORMED],
};

const TURNED: Record = Record {
    name: "turn of a box",
    doc: "A turn about one axis through the box's middle; positive turns the next axis towards the one after: about d, x towards y (counter-clockwise as seen from the seat).",
    fields: &[&[
        must("about", Kind::Choice(Axis::WORDS), "The axis, of those in which the points are given."),
        must("by", Kind::Angle, "Degrees."),
    ]],
    rules: &[],
};

const DRIVER: Record = Record {
    name: "driver",
    doc: "One thing that is moved: fore-aft travel, roll, pedals, trim, a lever, a canopy.",
    fields: &[&[
        ID,
        must("kind", Kind::Choice(DriverKind::WORDS), "What its number is."),
        must("from", Kind::Amount, "Low stop."),
        must("to", Kind::Amount, "High stop."),
        may("neutral", Kind::Amount, "Where it rests; 0 when missing."),
        may(
            "over",
            Kind::List { of: &Kind::Amount, least: 2, most: 2 },
            "How far it can be forced past the low and the high stop (surface stops, cable stretch).",
        ),
    ]],
    rules: &[],
};

const CONTROL: Record = Record {
    name: "control",
    doc: "Something that moves behind, through or in front of the panel.",
    fields: &[&[
        ID,
        must("kind", Kind::Choice(ControlKind::WORDS), "What it is."),
        IN,
        must(
            "links",
            Kind::List { of: &Kind::Object(&LINK), least: 1, most: 1000 },
            "Its rigid links, joined by slides and pivots.",
        ),
        may(
            "poses",
            Kind::Map(&Kind::Map(&Kind::Amount)),
            "Poses by name: drivers with their numbers. A canopy needs one named \"shut\".",
        ),
    ]],
    rules: &[],
};

const LINK: Record = Record {
    name: "link",
    doc: "One rigid link. Its points are those where every driver is 0.",
    fields: &[&[
        ID,
        may("on", Kind::Text, "The link on which it hangs: an id of this control, or \"control.link\"."),
        may("slide", DIRECTION, "The direction in which it slides."),
        may("pivot", Kind::Object(&PIVOT), "The line about which it turns."),
        may(
            "follows",
            Kind::Map(&FACTOR),
            "Drivers that move it: for one unit of the driver (the file's unit, or a degree) so many of its own.",
        ),
        may("allowance", ROOM, "Play, and flexing under the pilot's effort."),
        may(
            "runs-in",
            list(&Kind::Text),
            "Ids of what it passes through or bears in: not asked to keep apart.",
        ),
        may("solids", list(&Kind::Object(&MOVING)), "Its solids."),
    ]],
    rules: &[&[
        Rule::AtMostOne(&["slide", "pivot"]),
        Rule::Beside { key: "follows", beside: &["slide", "pivot"] },
        Rule::Beside { key: "slide", beside: &["follows"] },
        Rule::Beside { key: "pivot", beside: &["follows"] },
    ]],
};

const PIVOT: Record = Record {
    name: "pivot",
    doc: "The line about which a link turns. A positive turn is that of a box about the same axis.",
    fields: &[&[
        must("at", Kind::Point3, "A point of the line."),
        must("axis", DIRECTION, "Its direction, in the axes in which the points are given."),
    ]],
    rules: &[],
};

const LINE: Record = Record {
    name: "line",
    doc: "A hose, bundle, cable or pipe, in the panel's axes.",
    fields: &[&[
        ID,
        must("kind", Kind::Choice(LineKind::WORDS), "What it is."),
        may("carries", Kind::Text, "What it carries: pitot, static, vacuum, fuel, oil, power, signal."),
        may("from", Kind::Text, "The port that it leaves: \"item.port\"."),
        may("to", Kind::Either(&[Kind::Text, Kind::Point3]), "Where it ends: \"item.port\", or a point."),
        may("diameter", SIZE, "Outside diameter."),
        may("bend-radius", SIZE, "Least bend radius, to the inside of the bend, as its maker states it."),
        may("length", SIZE, "Length that it has."),
        may(
            "path",
            Kind::List { of: &Kind::Point3, least: 2, most: 1000 },
            "The points of its centre line where it is known; corners are rounded to its bend radius.",
        ),
    ]],
    rules: &[],
};
