//! The table of what floats on shock mounts in an opening of a panel.

use super::table::ID;
use crate::define::shape::SHAPE;
use crate::define::table::{Kind, Record, list, may, must};
use crate::units::Sign;

const AWAY: Kind = Kind::Length(Sign::NotNegative);

/// A panel on shock mounts.
pub(super) const FLOATING: Record = Record {
    name: "floating panel",
    doc: "A panel on shock mounts in or before an opening of this one. What stands on it is called by this id, a colon, and its own: `centre:airspeed`.",
    fields: &[&[
        ID,
        must("panel", Kind::Text, "Name of its own panel file, beside this one."),
        must("at", Kind::Point, "Where its datum stands on this panel."),
        must(
            "stand-off",
            Kind::Length(Sign::Any),
            "Its front face from this panel's front face, positive aft, towards the pilot.",
        ),
        may(
            "opening",
            Kind::Either(&[Kind::Id, Kind::Object(&SHAPE)]),
            "The opening of this panel's sheet that it lies in or covers: the id of one that is there, or a new one about its datum.",
        ),
        may("mounts", list(&Kind::Object(&MOUNTS)), "Its shock mounts, where they stand on this panel."),
        may(
            "sway",
            Kind::Object(&SWAY),
            "How far it sways on its mounts, each way. Without it whatever it might meet is withheld.",
        ),
        may("sag", AWAY, "How far it sinks on its mounts below where it is drawn."),
        may(
            "droop",
            Kind::Angle,
            "By how many degrees it tips on its mounts, so that what it carries drops at its rear.",
        ),
    ]],
    rules: &[],
};

const MOUNTS: Record = Record {
    name: "shock mounts",
    doc: "Shock mounts of one kind. Their own openings are cut in this panel's sheet; the holes in the floating one stand in its file.",
    fields: &[&[
        must("instrument", Kind::Text, "Name of their definition, such as \"mount/shock-plate\"."),
        must(
            "at",
            Kind::List { of: &Kind::Point, least: 1, most: 100 },
            "Where they stand, from this panel's datum.",
        ),
        may("kept", Kind::Flag, "They are there already and stay as they are."),
        may("checked", Kind::Signed, "You have confirmed their sizes on your own part: who and when."),
    ]],
    rules: &[],
};

const SWAY: Record = Record {
    name: "sway",
    doc: "How far a floating panel moves on its mounts from where it is drawn, in flight and on the ground, as measured or as the maker of the mounts states it.",
    fields: &[&[
        must("left", AWAY, "To the left, seen from the seat."),
        must("right", AWAY, "To the right."),
        must("up", AWAY, "Upwards."),
        must("down", AWAY, "Downwards."),
        must("forward", AWAY, "Forward, away from the pilot."),
        must("aft", AWAY, "Aft, towards the pilot."),
    ]],
    rules: &[],
};
