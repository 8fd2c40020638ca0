//! The table of what the user wishes of an arrangement.

use super::table::TURN;
use super::words::Side;
use crate::define::shape::SHAPE;
use crate::define::table::{Field, Kind, Record, list, may, must};
use crate::define::words::Word;
use crate::units::Sign;

const SOME: Kind = Kind::List { of: &Kind::Id, least: 1, most: 500 };
pub(super) const SEVERAL: Kind = Kind::List { of: &Kind::Id, least: 2, most: 500 };
const WEIGHT: Kind = Kind::Number { least: 0.0, most: 1000.0 };
const BECAUSE: Field = may("because", Kind::Text, "Why.");

/// What is wished of an arrangement.
pub(super) const ARRANGE: Record = Record {
    name: "arrange",
    doc: "What the command `arrange` is to respect and to strive for.",
    fields: &[&[
        may("free", SOME, "Items that may move; all that is new and not locked when missing."),
        may("fixed", SOME, "Items that stay where they are."),
        may("zones", list(&Kind::Object(&ZONE)), "Items that stay within an area: must hold."),
        may("orders", list(&Kind::Object(&ORDER)), "Items whose centres stand in this order: must hold."),
        may("apart", list(&Kind::Object(&APART)), "Items that keep apart, front from front: must hold."),
        may("groups", list(&Kind::Object(&GROUP)), "Items near each other, such as engine gauges."),
        may(
            "rows",
            list(&Kind::Object(&ORDER)),
            "Items in one row, side by side, such as switches in order of use.",
        ),
        may("symmetric", list(&Kind::Object(&SYMMETRIC)), "Pairs that stand as mirror images."),
        may("roles", Kind::Object(&ROLES), "Which item is what."),
        may("primary", SOME, "What must be read at a glance, besides the basic T."),
        may(
            "flight-breakers",
            SOME,
            "Breakers that may have to be reset in flight: within reach, must hold.",
        ),
        may("eye", Kind::Point, "The point of the panel straight and level ahead of the pilot's eye."),
        may("shoulder", Kind::Point3, "The pilot's shoulder, harness locked; its d is negative."),
        may(
            "reach",
            Kind::Length(Sign::Positive),
            "From the shoulder to what the hand works; 26.7 in when missing.",
        ),
        may("weights", Kind::Object(&WEIGHTS), "What each term counts; 0 leaves it out."),
    ]],
    rules: &[],
};

const ZONE: Record = Record {
    name: "zone of an arrangement",
    doc: "An area within which the fronts of some items stay.",
    fields: &[&[
        must("items", SOME, "The items."),
        must("shape", Kind::Object(&SHAPE), "The area."),
        may("at", Kind::Point, "Where the shape's origin lies; the panel's datum when missing."),
        TURN,
        BECAUSE,
    ]],
    rules: &[],
};

const ORDER: Record = Record {
    name: "order",
    doc: "Items one after the other.",
    fields: &[&[
        must("items", SEVERAL, "From the first to the last."),
        must("along", Kind::Choice(Side::WORDS), "The direction in which they follow each other."),
        BECAUSE,
    ]],
    rules: &[],
};

const APART: Record = Record {
    name: "apart",
    doc: "Items of which each keeps away from each other one.",
    fields: &[&[
        must("items", SEVERAL, "The items."),
        must("by", Kind::Length(Sign::Positive), "At least so far, front from front."),
        BECAUSE,
    ]],
    rules: &[],
};

const GROUP: Record = Record {
    name: "group",
    doc: "Items near each other.",
    fields: &[&[must("items", SEVERAL, "The items."), BECAUSE]],
    rules: &[],
};

const SYMMETRIC: Record = Record {
    name: "symmetric pair",
    doc: "Two items that stand as mirror images.",
    fields: &[&[
        must("items", Kind::List { of: &Kind::Id, least: 2, most: 2 }, "The two."),
        must("about", Kind::Length(Sign::Any), "The x of the line about which they are mirrored."),
        BECAUSE,
    ]],
    rules: &[],
};

const ROLES: Record = Record {
    name: "roles",
    doc: "Which item is what, for the basic T and the order of the engine controls.",
    fields: &[&[
        may("attitude", Kind::Id, "Shows attitude."),
        may("airspeed", Kind::Id, "Shows airspeed."),
        may("altitude", Kind::Id, "Shows altitude."),
        may("direction", Kind::Id, "Shows direction."),
        may("power", Kind::Id, "The throttle."),
        may("propeller", Kind::Id, "The propeller control."),
        may("mixture", Kind::Id, "The mixture control."),
        may("carburettor-heat", Kind::Id, "The carburettor heat control."),
    ]],
    rules: &[],
};

const WEIGHTS: Record = Record {
    name: "weights",
    doc: "What each term of the cost counts.",
    fields: &[&[
        may("basic-t", WEIGHT, "The basic T; 3 when missing."),
        may("field-of-view", WEIGHT, "Fields of view from the pilot's eye; 2 when missing."),
        may("together", WEIGHT, "Groups near each other; 1 when missing."),
        may("reach", WEIGHT, "What the hand works within reach; 1 when missing."),
        may("rows", WEIGHT, "Rows straight, close and in order; 1 when missing."),
        may("alignment", WEIGHT, "Centres in line; 0.5 when missing."),
        may("symmetry", WEIGHT, "Pairs as mirror images; 0.5 when missing."),
        may("provision-room", WEIGHT, "Room round what is kept free; 0.5 when missing."),
        may("short-hoses", WEIGHT, "What one hose or another joins, near each other; 0.3 when missing."),
        may("little-moved", WEIGHT, "Little is moved; 0.1 when missing."),
    ]],
    rules: &[],
};
