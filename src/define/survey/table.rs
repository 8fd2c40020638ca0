//! The table of a survey file.

use super::table_behind::BEHIND;
use super::table_photograph::PHOTOGRAPH;
use super::words::ToolKind;
use crate::define::document::FileKind;
use crate::define::instrument::{HEAD, ROOM, SIZE, SOURCES};
use crate::define::table::{Field, Kind, Record, Rule, list, may, must};
use crate::define::words::Word;
use crate::units::Sign;

/// What a survey file is.
pub const FILE: FileKind = FileKind { key: "survey", record: &SURVEY };

pub(super) const ANY: Kind = Kind::Length(Sign::Any);
pub(super) const DEVIATION: Kind = Kind::Length(Sign::Positive);
const PAIR: Kind = Kind::List { of: &Kind::Id, least: 2, most: 2 };
const TRIPLE: Kind = Kind::List { of: &Kind::Id, least: 3, most: 3 };
const TWO_UP: Kind = Kind::List { of: &Kind::Id, least: 2, most: usize::MAX };
const THREE_UP: Kind = Kind::List { of: &Kind::Id, least: 3, most: usize::MAX };
const NAMED: Kind = Kind::Either(&[Kind::Id, Kind::Object(&POINT)]);
pub(super) const ID: Field = must("id", Kind::Id, "Its id, used in readings and in the report.");
pub(super) const CORNERS: Kind =
    Kind::List { of: &Kind::Either(&[Kind::Id, Kind::Object(&CORNER)]), least: 3, most: usize::MAX };

/// The outermost object of a survey file.
pub const SURVEY: Record = Record {
    name: "survey",
    doc: "What was measured on a panel that has no drawing, with tape, rule and calipers. Seen from the seat: x to the right, y up.",
    fields: &[
        HEAD,
        &[
            must("survey", Kind::Text, "Title: the panel that was measured."),
            may(
                "datum",
                Kind::Object(&DATUM),
                "Which point is the origin and which way x runs; not needed where points are given by coordinates.",
            ),
            may(
                "points",
                list(&NAMED),
                "Marks, corners and ends: ids, or objects where there is more to say.",
            ),
            may("circles", list(&NAMED), "Round holes and arcs: each has a centre and a radius."),
            may("tools", Kind::Map(&Kind::Object(&TOOL)), "What was measured with, by name."),
            must(
                "readings",
                list(&Kind::Object(&READING)),
                "Every reading, in the order in which it was taken.",
            ),
            may("conditions", list(&Kind::Object(&CONDITION)), "What is known without a reading."),
            may(
                "photographs",
                list(&Kind::Object(&PHOTOGRAPH)),
                "Photographs and scans of the panel, with what was picked in them.",
            ),
            may(
                "behind",
                Kind::Object(&BEHIND),
                "What lies and moves behind the panel and before it, as rod, stick and tape found it.",
            ),
            may(
                "pairs",
                list(&PAIR),
                "Left and right partners: the report says how far one is from the other's mirror image.",
            ),
            may(
                "as-found",
                Kind::Object(&AS_FOUND),
                "How the points make a panel: outline and old openings.",
            ),
            may("sources", Kind::Map(&Kind::Object(&SOURCES)), "Where tools' deviations come from, by name."),
        ],
    ],
    rules: &[&[Rule::AtLeastOne(&["points", "circles"])]],
};

const DATUM: Record = Record {
    name: "datum",
    doc: "Origin and axes that coordinates are given from.",
    fields: &[&[
        must("origin", Kind::Id, "The point that is the origin."),
        may(
            "along",
            Kind::Id,
            "The point towards which x runs: the base line. Missing: a level or a plumb line turns it.",
        ),
        may("at", Kind::Point, "Coordinates of the origin, when they are not 0, 0."),
    ]],
    rules: &[],
};

const POINT: Record = Record {
    name: "point",
    doc: "A point or a circle's centre. `above` and the like say on which side it lies where distances alone allow two.",
    fields: &[&[
        ID,
        may("at", Kind::Point, "Its coordinates, where they are known and hold."),
        may("depth", ANY, "How far it lies ahead of the plane of the datum points, where the panel is bent."),
        may("above", Kind::Id, "It lies higher than this point."),
        may("below", Kind::Id, "It lies lower than this point."),
        may("left-of", Kind::Id, "It lies to the left of this point, seen from the seat."),
        may("right-of", Kind::Id, "It lies to the right of this point, seen from the seat."),
    ]],
    rules: &[],
};

const TOOL: Record = Record {
    name: "tool",
    doc: "What was measured with.",
    fields: &[&[
        must("kind", Kind::Choice(ToolKind::WORDS), "What it is."),
        may(
            "deviation",
            DEVIATION,
            "Standard deviation of one reading; common practice for the kind when missing.",
        ),
        may("starts-at", ANY, "Readings were taken from this mark instead of zero and not reduced."),
        may("zero-error", ANY, "What it reads at zero: known, taken off every reading."),
        may(
            "find-zero-error",
            Kind::Flag,
            "Its zero error is not known: find it from the readings (worn hook).",
        ),
        may("source", Kind::Id, "Name of the source of its deviation in `sources`."),
    ]],
    rules: &[],
};

const READING: Record = Record {
    name: "reading",
    doc: "One reading. A base line is given by two points; offsets are positive to its left, looking from the first to the second.",
    fields: &[&[
        may("distance", PAIR, "From point to point; of circles from centre to centre."),
        may("inside", PAIR, "From near edge to near edge of two circles (or a circle and a point)."),
        may("outside", PAIR, "From far edge to far edge of two circles (or a circle and a point)."),
        may("diameter", Kind::Id, "Of a circle."),
        may("radius", Kind::Id, "Of a circle."),
        may("offset", TRIPLE, "Of the first from the line through the other two: left is positive."),
        may("along", TRIPLE, "Of the first along the line from the second towards the third."),
        may("gap", TRIPLE, "Of a circle's near edge from the line through the other two; never negative."),
        may("up", PAIR, "How much higher the second is than the first."),
        may("right", PAIR, "How much further right the second is than the first."),
        must("reads", ANY, "What the tool read, as it read."),
        may("tool", Kind::Id, "One of `tools`, or a kind of tool; a tape when missing."),
        may("deviation", DEVIATION, "Standard deviation of this reading, when it is not the tool's."),
    ]],
    rules: &[&[Rule::One(&[
        "distance", "inside", "outside", "diameter", "radius", "offset", "along", "gap", "up", "right",
    ])]],
};

const CONDITION: Record = Record {
    name: "condition",
    doc: "What is known without a reading, and how well.",
    fields: &[&[
        may("line", THREE_UP, "These lie on one line, through the first and the last."),
        may("level", TWO_UP, "These lie at one height."),
        may("plumb", TWO_UP, "These lie one above the other."),
        may("square", TRIPLE, "Right angle at the second point."),
        may("same-size", TWO_UP, "These circles have one diameter."),
        may("circle", Kind::Id, "The points in `through` lie on this circle."),
        may("through", list(&Kind::Id), "Points on the edge of `circle`."),
        may("deviation", DEVIATION, "Standard deviation of it; 0.2 mm (common practice) when missing."),
    ]],
    rules: &[&[
        Rule::One(&["line", "level", "plumb", "square", "same-size", "circle"]),
        Rule::Beside { key: "circle", beside: &["through"] },
        Rule::Beside { key: "through", beside: &["circle"] },
    ]],
};

const AS_FOUND: Record = Record {
    name: "found panel",
    doc: "How the points make a panel.",
    fields: &[&[
        may(
            "outline",
            CORNERS,
            "Points of the outline in order, joined by lines; the last is joined to the first. No panel is written without it.",
        ),
        may("openings", list(&Kind::Object(&OPENING)), "Openings that are there."),
        may("material", Kind::Text, "Material of the sheet."),
        may("thickness", SIZE, "Thickness of the sheet."),
    ]],
    rules: &[],
};

const CORNER: Record = Record {
    name: "outline point",
    doc: "A point of an outline with a rounded corner, or the end of an arc.",
    fields: &[&[
        must("to", Kind::Id, "The point: a sharp corner, or where the edges would meet."),
        may("radius", ROOM, "The corner is rounded with this radius."),
        may("through", Kind::Id, "An arc leads here from the point before, through this point."),
    ]],
    rules: &[&[Rule::AtMostOne(&["radius", "through"])]],
};

const OPENING: Record = Record {
    name: "found opening",
    doc: "An opening that is there.",
    fields: &[&[
        ID,
        may("circle", Kind::Id, "It is this circle."),
        may("points", CORNERS, "Its corners in order."),
    ]],
    rules: &[&[Rule::One(&["circle", "points"])]],
};
