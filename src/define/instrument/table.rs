//! The table of an instrument file.

use super::words::{Basis, Carries, FrontKind, HeadKind, KINDS, Make, Mounting, PortKind, Service, Towards};
use crate::define::document::FileKind;
use crate::define::shape::SHAPE;
use crate::define::table::{Field, Kind, Record, Rule, list, may, must};
use crate::define::words::Word;
use crate::units::Sign;

pub(in crate::define) const SIZE: Kind = Kind::Size(Sign::Positive);
pub(in crate::define) const ROOM: Kind = Kind::Size(Sign::NotNegative);
const DEPTH: Kind = Kind::Size(Sign::Any);
const IN_SHAPE: Kind = Kind::Object(&SHAPE);

/// The units that a file may declare.
pub(in crate::define) const UNITS: &[(&str, &str)] =
    &[("mm", "Millimetres."), ("cm", "Centimetres."), ("in", "Inches.")];

/// The head that all files share, but for the key that tells the kind.
pub(in crate::define) const HEAD: &[Field] = &[
    may("$schema", Kind::Text, "Where your editor finds the schema of this file."),
    must("format", Kind::Whole { least: 1, most: 1 }, "Format number of this file: 1."),
    may("unit", Kind::Choice(UNITS), "Unit of every bare number that is a length."),
];

const SOURCE: Field = may("source", Kind::Id, "Name of the source of these sizes in `sources`.");
const TURN: Field = may("turn", Kind::Angle, "Turned counter-clockwise, in degrees.");
const AT: Field =
    may("at", Kind::Point, "Where its origin lies: to the right and up from the instrument's origin.");
const ID: Field = must("id", Kind::Id, "Its id, used in findings.");

/// What an instrument file is.
pub const FILE: FileKind = FileKind { key: "instrument", record: &INSTRUMENT };

/// The outermost object of an instrument file.
pub const INSTRUMENT: Record = Record {
    name: "instrument",
    doc: "One instrument: what it needs of the sheet, in front and behind. Every key but the title and the kind may be missing; what is missing is withheld, never guessed.",
    fields: &[
        HEAD,
        &[
            must("instrument", Kind::Text, "Title: what it is, in plain words."),
            must("kind", Kind::Choice(KINDS), "What kind of thing it is."),
            may("words", list(&Kind::Text), "Words to find it by."),
            may("mounting", Kind::Choice(Mounting::WORDS), "How it is held."),
            may("service", Kind::Choice(Service::WORDS), "Through which side it comes out for service."),
            may("nominal", Kind::Text, "The name of its size, such as \"3 1/8 in\"; never used as a size."),
            may("sources", Kind::Map(&Kind::Object(&SOURCES)), "Where sizes come from, by name."),
            may("source", Kind::Id, "Name of the source that holds where no other is named."),
            may(
                "case",
                IN_SHAPE,
                "The section that passes the opening, as measured: not the opening itself.",
            ),
            may("openings", list(&Kind::Object(&OPENING)), "Openings for bodies, shafts and buttons."),
            may("holes", list(&Kind::Object(&HOLES)), "Fastener holes and other round holes, in patterns."),
            may("bezel", Kind::Object(&COVER), "The face that covers the sheet in front."),
            may(
                "flange",
                Kind::Object(&COVER),
                "The face that seats behind the sheet; of a clamped instrument, its clamp.",
            ),
            may(
                "bodies",
                list(&Kind::Object(&SOLID)),
                "Solids behind the sheet; negative depths are in front.",
            ),
            may(
                "ports",
                list(&Kind::Object(&PORT)),
                "Where hoses, plugs and cables leave it; an empty list says that nothing does.",
            ),
            may("front", list(&Kind::Object(&FRONT)), "Knobs, levers and what else the pilot touches."),
            may("mass", Kind::Weight, "Mass without fasteners and wiring."),
            may("centre", Kind::Point3, "Centre of mass."),
            may("current", Kind::Object(&CURRENT), "Currents by duty."),
            may("compass-safe", SIZE, "Least distance from a magnetic compass."),
            may("sheet", Kind::Object(&ACCEPTS), "Thickness of the sheets that it accepts."),
            may("tilt", Kind::Object(&TILT), "What the panel's tilt means to it."),
            may("label", Kind::Flag, "Whether it needs lettering (every control and lamp does)."),
            may("stack", Kind::Object(&STACK), "What it is to a stack."),
        ],
    ],
    rules: &[],
};

/// Where sizes come from.
pub(in crate::define) const SOURCES: Record = Record {
    name: "source",
    doc: "Where sizes come from.",
    fields: &[&[
        must("basis", Kind::Choice(Basis::WORDS), "Standing of the sizes."),
        may("document", Kind::Text, "Document: a drawing, a standard."),
        may("revision", Kind::Text, "Its revision or edition."),
        may("who", Kind::Text, "Who measured."),
        may("when", Kind::Text, "When, in your own words."),
    ]],
    rules: &[],
};

const OPENING: Record = Record {
    name: "opening",
    doc: "An opening for a body, shaft or button.",
    fields: &[&[
        ID,
        must("shape", IN_SHAPE, "Its shape as cut, about its own origin."),
        AT,
        TURN,
        may("make", Kind::Choice(Make::WORDS), "Cut to the drawing, or from the part."),
        SOURCE,
    ]],
    rules: &[],
};

/// A pattern of equal round holes; panel files use it too.
pub const HOLES: Record = Record {
    name: "hole pattern",
    doc: "A pattern of equal round holes.",
    fields: &[&[
        may("id", Kind::Id, "Its id, used in findings; the holes are numbered."),
        may(
            "at",
            Kind::List { of: &Kind::Point, least: 1, most: 500 },
            "Centres of the holes: a list of points.",
        ),
        may("square", SIZE, "Four holes at the corners of a square: the pitch between neighbours."),
        may(
            "rectangle",
            Kind::List { of: &SIZE, least: 2, most: 2 },
            "Four holes at the corners of a rectangle: pitch across and up.",
        ),
        may("circle", SIZE, "Holes on a bolt circle: the diameter through their centres."),
        may("row", Kind::Point, "Holes in a row: from one to the next, right and up."),
        may("centre", Kind::Point, "Centre of the square, rectangle or circle; first hole of a row."),
        may("count", Kind::Whole { least: 1, most: 500 }, "How many, on a circle or in a row."),
        may(
            "start",
            Kind::Angle,
            "Direction of the first hole of a circle, counter-clockwise from the right (default 90: up).",
        ),
        may("diameter", SIZE, "Diameter to cut or drill."),
        may(
            "fastener",
            Kind::Text,
            "The fastener, such as \"#6-32\" or \"M4\"; \"none\" for a hole that takes none.",
        ),
        may("head", Kind::Object(&HEAD_RECORD), "The fastener's head in front."),
        may("washer", Kind::Object(&WASHER), "A washer under the head."),
        may("nut", Kind::Object(&NUT), "The nut behind."),
        may("nutplate", Kind::Object(&NUTPLATE), "The captive nut riveted behind."),
        may("length", SIZE, "Length of the fastener under its head."),
        may("make", Kind::Choice(Make::WORDS), "Cut to the drawing, or from the part."),
        may("exists", Kind::Flag, "In a panel file: the holes are there already."),
        SOURCE,
    ]],
    rules: &[&[
        Rule::One(&["at", "square", "rectangle", "circle", "row"]),
        Rule::Beside { key: "circle", beside: &["count"] },
        Rule::Beside { key: "row", beside: &["count"] },
        Rule::Beside { key: "row", beside: &["centre"] },
        Rule::Beside { key: "count", beside: &["circle", "row"] },
        Rule::Beside { key: "start", beside: &["circle"] },
        Rule::Beside { key: "centre", beside: &["square", "rectangle", "circle", "row"] },
        Rule::AtMostOne(&["nut", "nutplate"]),
    ]],
};

const HEAD_RECORD: Record = Record {
    name: "head",
    doc: "The head of a fastener.",
    fields: &[&[
        must("kind", Kind::Choice(HeadKind::WORDS), "Raised or countersunk."),
        may("diameter", SIZE, "Its diameter."),
        may("height", SIZE, "Height of a raised head; depth of a countersunk one."),
        may(
            "angle",
            Kind::Number { least: 40.0, most: 150.0 },
            "Whole angle of the countersink in degrees: 82 and 90 are usual for screws, 100 for rivets.",
        ),
        SOURCE,
    ]],
    rules: &[],
};

const WASHER: Record = Record {
    name: "washer",
    doc: "A washer.",
    fields: &[&[
        must("diameter", SIZE, "Its outer diameter."),
        may("thickness", SIZE, "Its thickness."),
        SOURCE,
    ]],
    rules: &[],
};

const NUT: Record = Record { name: "nut", doc: "A nut behind the sheet.", fields: &[NUT_SIZES], rules: &[] };

const NUT_SIZES: &[Field] = &[
    may("across", SIZE, "Diameter of the circle that it turns in; of a nutplate the body over the screw."),
    may("height", SIZE, "How far it stands behind."),
    SOURCE,
];

const NUTPLATE: Record = Record {
    name: "nutplate",
    doc: "A nutplate behind the sheet: a captive nut on rivets of its own.",
    fields: &[
        NUT_SIZES,
        &[may("rivets", Kind::Object(&RIVETS), "Its rivets: their holes are drilled and checked too.")],
    ],
    rules: &[],
};

const RIVETS: Record = Record {
    name: "nutplate's rivets",
    doc: "The rivets of a nutplate, about the hole of its screw; where the pattern has several screws, about each.",
    fields: &[&[
        may("pitch", SIZE, "Two lugs: from one rivet to the other, the screw in the middle."),
        may(
            "at",
            Kind::List { of: &Kind::Point, least: 1, most: 6 },
            "Any other kind: where the rivets lie from the screw's hole, a list of points.",
        ),
        may(
            "turn",
            Kind::Either(&[Kind::List { of: &Kind::Angle, least: 1, most: 500 }, Kind::Angle]),
            "Turned counter-clockwise: one angle for all, or one for each screw of the pattern in its order.",
        ),
        must("diameter", SIZE, "Diameter to drill."),
        must("fastener", Kind::Text, "The rivet, such as \"rivet 3/32\"."),
        may("head", Kind::Object(&HEAD_RECORD), "Its head in front."),
        may("make", Kind::Choice(Make::WORDS), "Drilled to the drawing, or from the nutplate."),
        SOURCE,
    ]],
    rules: &[&[Rule::One(&["pitch", "at"])]],
};

const COVER: Record = Record {
    name: "face",
    doc: "A face that lies on the sheet.",
    fields: &[&[
        must("shape", IN_SHAPE, "Its shape."),
        AT,
        may("thickness", ROOM, "How far it stands off the sheet."),
        SOURCE,
    ]],
    rules: &[],
};

const SOLID: Record = Record {
    name: "body",
    doc: "A solid along the depth, which runs forward from the sheet's front face.",
    fields: &[&[
        ID,
        must("shape", IN_SHAPE, "Its section, seen from the seat."),
        AT,
        TURN,
        may("from", DEPTH, "Depth where it begins; negative is on the pilot's side."),
        may("to", DEPTH, "Depth where it ends."),
        SOURCE,
    ]],
    rules: &[],
};

const PORT: Record = Record {
    name: "port",
    doc: "Where a hose, plug or cable leaves the instrument.",
    fields: &[&[
        ID,
        may("kind", Kind::Choice(PortKind::WORDS), "What leaves here."),
        may("carries", Kind::Choice(Carries::WORDS), "What it carries."),
        AT,
        may("depth", DEPTH, "At which depth."),
        may("towards", Kind::Choice(Towards::WORDS), "In which direction it leaves."),
        may("diameter", SIZE, "Diameter of the plug, hose or cable."),
        may("bend-radius", ROOM, "Least bend radius, to the inside of the bend."),
        may("needs", list(&Kind::Object(&NEED)), "What it needs beyond the body, one after the other."),
        may(
            "side-exit",
            list(&Kind::Object(&NEED)),
            "What it needs instead with a plug that leaves sideways.",
        ),
        SOURCE,
    ]],
    rules: &[],
};

const NEED: Record = Record {
    name: "need",
    doc: "One term of what a port needs. Without a length the depth is withheld.",
    fields: &[&[
        must("term", Kind::Text, "What it is: connector, backshell, bend, hand."),
        may("length", ROOM, "How long it is."),
        SOURCE,
    ]],
    rules: &[],
};

const FRONT: Record = Record {
    name: "front part",
    doc: "Something that the pilot touches or reads.",
    fields: &[&[
        ID,
        must("kind", Kind::Choice(FrontKind::WORDS), "What it is."),
        must("shape", IN_SHAPE, "Its shape, seen from the seat."),
        AT,
        may("out", ROOM, "How far it stands out from the sheet."),
        may("hand-room", ROOM, "Room for the hand around it."),
        SOURCE,
    ]],
    rules: &[],
};

const CURRENT: Record = Record {
    name: "current",
    doc: "Currents by duty.",
    fields: &[&[
        may("continuous", Kind::Current, "As long as it is on."),
        may("intermittent", Kind::Current, "For minutes: transmitting, heating."),
        may("peak", Kind::Current, "For moments: a motor that starts."),
        may("volts", Kind::Number { least: 1.0, most: 400.0 }, "At which voltage."),
        SOURCE,
    ]],
    rules: &[],
};

const ACCEPTS: Record = Record {
    name: "sheet range",
    doc: "Sheets that the instrument accepts.",
    fields: &[&[may("least", ROOM, "Thinnest."), may("most", SIZE, "Thickest."), SOURCE]],
    rules: &[],
};

const TILT: Record = Record {
    name: "tilt",
    doc: "What the panel's tilt means to the instrument; positive when the top leans away from the pilot.",
    fields: &[&[
        may("matters", Kind::Flag, "Whether it matters at all."),
        may("calibrated", Kind::Angle, "The tilt that it is calibrated for."),
        may("bears", Kind::Angle, "How far off that it may be."),
        SOURCE,
    ]],
    rules: &[],
};

const STACK: Record = Record {
    name: "stack part",
    doc: "What it is to a stack: a unit or the frame.",
    fields: &[&[
        may("unit", Kind::Object(&STACK_UNIT), "It is a unit that slides in."),
        may("frame", Kind::Object(&STACK_FRAME), "It is the frame."),
    ]],
    rules: &[&[Rule::One(&["unit", "frame"])]],
};

const STACK_UNIT: Record = Record {
    name: "stack unit",
    doc: "A unit that slides into a stack.",
    fields: &[&[
        may("height", SIZE, "Height of its front."),
        may("width", SIZE, "Width of its tray."),
        may("set-back", ROOM, "How far its tray sits behind the panel's face."),
        may("lock-room", ROOM, "Room for the front lock's tool."),
        SOURCE,
    ]],
    rules: &[],
};

const STACK_FRAME: Record = Record {
    name: "stack frame",
    doc: "The opening and rails of a stack.",
    fields: &[&[
        may("opening-width", SIZE, "Width of the opening."),
        may("opening-height", SIZE, "Height of the opening."),
        may("rail-spacing", SIZE, "Clear width between the rails."),
        may("joint", ROOM, "Gap per joint between units."),
        may("ends", ROOM, "Clear room above the first and below the last unit, each."),
        may("top", ROOM, "Clear room above the first unit."),
        may("bottom", ROOM, "Clear room below the last unit."),
        may("shim", ROOM, "Thickest shim per side that the rails take."),
        may("set-back", ROOM, "How far the rails sit behind the panel's face."),
        SOURCE,
    ]],
    rules: &[&[Rule::AtMostOne(&["ends", "top"]), Rule::AtMostOne(&["ends", "bottom"])]],
};
