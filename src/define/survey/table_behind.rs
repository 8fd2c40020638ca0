//! The table of what was felt and taped behind the panel, in a survey file.

use super::table::{ANY, CORNERS, DEVIATION, ID};
use crate::define::instrument::SIZE;
use crate::define::panel::{ControlKind, ObstacleKind};
use crate::define::table::{Kind, Record, Rule, list, may, must};
use crate::define::words::{Word, words};

words!(
    /// How a control moves.
    Moves {
        Slide = "slide": "Straight: a shaft that is pushed and pulled.",
        Turn = "turn": "About an axis: a stick, a pedal, a wheel, a lever.",
    }
);

words!(
    /// On which side of the sheet a taped place lies.
    DepthSide {
        Ahead = "ahead": "Behind the panel, farther from the pilot.",
        Aft = "aft": "On the pilot's side.",
    }
);

const IDS: Kind = Kind::List { of: &Kind::Id, least: 1, most: 1000 };
const PLACE: Kind = Kind::Either(&[Kind::Point3, Kind::Object(&TAPED)]);

/// What lies behind.
pub const BEHIND: Record = Record {
    name: "behind",
    doc: "What lies and moves behind the panel and before it, as a rod, a stick or a tape found it. What no probe reached stays unknown.",
    fields: &[&[
        may(
            "probes",
            list(&Kind::Object(&PROBE)),
            "Rods and sticks that were pushed in at a spot until they met something.",
        ),
        may(
            "areas",
            list(&Kind::Object(&AREA)),
            "Parts of the sheet behind which probes were taken all over.",
        ),
        may("obstacles", list(&Kind::Object(&OBSTACLE)), "Fixed things that probes met."),
        may("controls", list(&Kind::Object(&CONTROL)), "What moves: marks on it, taped at its stops."),
    ]],
    rules: &[],
};

const PROBE: Record = Record {
    name: "probe",
    doc: "One spot and how deep it is there, square to the sheet from its front face.",
    fields: &[&[
        ID,
        may(
            "through",
            Kind::Id,
            "The point or round hole at whose place, or through whose middle, it was taken.",
        ),
        may("off", Kind::Point, "How far from that place: [right, up]."),
        may("at", Kind::Point, "Or its place on the sheet by its coordinates."),
        may(
            "from",
            ANY,
            "Depth of the rod's zero: where it was read at the sheet's back or from a straightedge in front.",
        ),
        must(
            "reads",
            Kind::Either(&[ANY, Kind::List { of: &ANY, least: 1, most: 50 }]),
            "What was read; several readings of one spot in a list.",
        ),
        may("free", Kind::Flag, "It met nothing so far in: there is at least this depth."),
        may("tool", Kind::Id, "One of `tools`, or a kind of tool; a rod when missing."),
        may(
            "deviation",
            DEVIATION,
            "Standard deviation of one of these readings, when it is not the tool's.",
        ),
    ]],
    rules: &[&[Rule::One(&["through", "at"]), Rule::Beside { key: "off", beside: &["through"] }]],
};

const AREA: Record = Record {
    name: "probed area",
    doc: "A part of the sheet that was probed: the least of its probes is the depth there.",
    fields: &[&[
        ID,
        may("circle", Kind::Id, "What lies behind this round hole."),
        may("points", CORNERS, "Or its corners in order: points of the survey."),
        must("probes", IDS, "The probes in it."),
        may(
            "reach",
            DEVIATION,
            "How far from a probe nothing else is thought to stand; 30 mm (common practice) when missing. A spot farther from all probes leaves the area unknown.",
        ),
    ]],
    rules: &[&[Rule::One(&["circle", "points"])]],
};

const OBSTACLE: Record = Record {
    name: "probed obstacle",
    doc: "A fixed thing of the airframe whose near side probes met.",
    fields: &[&[
        ID,
        must("kind", Kind::Choice(ObstacleKind::WORDS), "What it is."),
        must(
            "solids",
            Kind::List { of: &Kind::Object(&SOLID), least: 1, most: 1000 },
            "The solids of which it is made.",
        ),
        may("carries", Kind::Text, "What runs or lies in it: fuel, oil, air, hydraulic."),
    ]],
    rules: &[],
};

const SOLID: Record = Record {
    name: "probed solid",
    doc: "A tube whose near side was met, a ball, a plate that stands edge-on, or a face that was met at its corners; plate and face reach forward.",
    fields: &[&[
        may("id", Kind::Id, "Its name within what it belongs to."),
        may("tube", SIZE, "A round tube along `path`: its diameter."),
        may(
            "path",
            Kind::List { of: &Kind::Id, least: 2, most: 1000 },
            "Probes that met the tube's near side, in order.",
        ),
        may("ball", SIZE, "A ball: its diameter."),
        may("met", Kind::Id, "The probe that met the middle of its near side."),
        may("plate", SIZE, "A sheet that stands edge-on, such as a rib: its thickness."),
        may(
            "edge",
            Kind::List { of: &Kind::Id, least: 2, most: 1000 },
            "Probes along the middle of the plate's near edge, in order.",
        ),
        may("face", Kind::List { of: &Kind::Id, least: 3, most: 1000 }, "Probes at the corners of a face."),
        may("thick", SIZE, "How far the solid reaches forward of its face or edge."),
    ]],
    rules: &[&[
        Rule::One(&["tube", "ball", "face", "plate"]),
        Rule::Beside { key: "tube", beside: &["path"] },
        Rule::Beside { key: "path", beside: &["tube"] },
        Rule::Beside { key: "ball", beside: &["met"] },
        Rule::Beside { key: "met", beside: &["ball"] },
        Rule::Beside { key: "face", beside: &["thick"] },
        Rule::Beside { key: "plate", beside: &["edge"] },
        Rule::Beside { key: "edge", beside: &["plate"] },
        Rule::Beside { key: "plate", beside: &["thick"] },
        Rule::Beside { key: "thick", beside: &["face", "plate"] },
    ]],
};

const CONTROL: Record = Record {
    name: "taped control",
    doc: "Something that moves, fitted to marks on it that were taped at both stops and in its middle position.",
    fields: &[&[
        ID,
        must("kind", Kind::Choice(ControlKind::WORDS), "What it is."),
        must("moves", Kind::Choice(Moves::WORDS), "How it moves."),
        must("driver", Kind::Id, "Name of its movement: fore-aft, roll, rudder."),
        must(
            "marks",
            Kind::List { of: &Kind::Object(&MARK), least: 1, most: 50 },
            "Spots on it, each taped in all three positions.",
        ),
        may(
            "deviation",
            DEVIATION,
            "Standard deviation of one taped length, 2 mm (common practice) when missing.",
        ),
        may("solids", list(&Kind::Object(&MOVING)), "Its solids, by its marks."),
    ]],
    rules: &[],
};

const MARK: Record = Record {
    name: "mark on a control",
    doc: "A spot on a control and its places: right, up and ahead of the survey's origin (aft is negative), or by tapes.",
    fields: &[&[
        ID,
        must("low", PLACE, "At the low stop: pulled, left, shut."),
        must("neutral", PLACE, "In its middle position."),
        must("high", PLACE, "At the high stop: pushed, right, open."),
    ]],
    rules: &[],
};

const TAPED: Record = Record {
    name: "taped place",
    doc: "A place by its distances to three or more points of the survey.",
    fields: &[&[
        must("taped", Kind::Map(&ANY), "Points of the survey and what the tape read to them."),
        must("side", Kind::Choice(DepthSide::WORDS), "On which side of the sheet it lies."),
    ]],
    rules: &[],
};

const MOVING: Record = Record {
    name: "solid by marks",
    doc: "A solid of a control, its middle line through marks in their middle position.",
    fields: &[&[
        may("id", Kind::Id, "Its name within the control."),
        may("tube", SIZE, "A round tube along `path`: its diameter."),
        may(
            "path",
            Kind::List { of: &Kind::Id, least: 2, most: 1000 },
            "Marks on its middle line, in order.",
        ),
        may("ball", SIZE, "A ball: its diameter."),
        may("about", Kind::Id, "The mark in its middle."),
        may("hand", Kind::Flag, "A hand holds it."),
    ]],
    rules: &[&[
        Rule::One(&["tube", "ball"]),
        Rule::Beside { key: "tube", beside: &["path"] },
        Rule::Beside { key: "path", beside: &["tube"] },
        Rule::Beside { key: "ball", beside: &["about"] },
        Rule::Beside { key: "about", beside: &["ball"] },
    ]],
};
