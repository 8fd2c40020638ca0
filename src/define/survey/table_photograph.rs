//! The table of a photograph or scan in a survey file.

use super::words::PictureKind;
use crate::define::table::{Field, Kind, Record, Rule, may, must};
use crate::define::words::Word;
use crate::units::Sign;

/// Most pixels on a side.
const MOST_PIXELS: u32 = 40_000;
const PIXEL: Kind = Kind::Number { least: -1e6, most: 1e6 };
const SPOT: Kind = Kind::List { of: &PIXEL, least: 2, most: 2 };
const SIDE: Kind = Kind::Whole { least: 16, most: MOST_PIXELS };
const ID: Field = must("id", Kind::Id, "Its id, used in the report.");

/// A photograph or scan.
pub const PHOTOGRAPH: Record = Record {
    name: "photograph",
    doc: "A photograph or scan of the panel and what was picked in it. Pixels count from the left and from the top edge of the picture; the middle of the first is 0.5, 0.5.",
    fields: &[&[
        ID,
        may(
            "image",
            Kind::Text,
            "Name of the picture's file, beside this one (PNG, or JPEG as a viewer shows it).",
        ),
        must("kind", Kind::Choice(PictureKind::WORDS), "How the picture came about."),
        must(
            "size",
            Kind::List { of: &SIDE, least: 2, most: 2 },
            "Its width and height in pixels, uncropped: the lens looks at its middle.",
        ),
        may(
            "deviation",
            Kind::Number { least: 0.01, most: 1000.0 },
            "Standard deviation of one pick in each direction, pixels; 1 (common practice) when missing.",
        ),
        may(
            "lens",
            Kind::Flag,
            "Find the lens's first radial term; true when missing and more than four known points are picked.",
        ),
        must(
            "picks",
            Kind::List { of: &Kind::Object(&PICK), least: 1, most: usize::MAX },
            "What was picked: points that readings or coordinates hold, and what is to be found.",
        ),
    ]],
    rules: &[],
};

const PICK: Record = Record {
    name: "pick",
    doc: "A point and where it is in the picture, or a circle and three or more places on its edge.",
    fields: &[&[
        may("point", Kind::Id, "One of `points`, or a circle whose centre is marked."),
        may("at", SPOT, "Where it is: [from the left, from the top]."),
        may("circle", Kind::Id, "One of `circles`."),
        may(
            "edge",
            Kind::List { of: &SPOT, least: 3, most: 1000 },
            "Places on its edge, well spread around it.",
        ),
        may(
            "deviation",
            Kind::Number { least: 0.01, most: 1000.0 },
            "Standard deviation of these places in each direction, pixels, where it is not the photograph's.",
        ),
        may(
            "may-stand-off",
            Kind::Length(Sign::Positive),
            "How far it may stand off the panel's plane where this is not known: the report says what that does.",
        ),
    ]],
    rules: &[&[
        Rule::One(&["point", "circle"]),
        Rule::Beside { key: "point", beside: &["at"] },
        Rule::Beside { key: "at", beside: &["point"] },
        Rule::Beside { key: "circle", beside: &["edge"] },
        Rule::Beside { key: "edge", beside: &["circle"] },
    ]],
};
