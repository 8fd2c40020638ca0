//! The rules and how they are judged. Pure: a panel in, findings out.

mod absent;
mod again;
mod apart;
pub mod bans;
mod bezel_covers;
mod bezel_gap;
mod bodies_apart;
mod body_passes;
mod breaker_spacing;
mod comes_out;
mod control_clear;
mod control_run;
mod corner_radius;
mod countersink_depth;
mod countersunk_edge_distance;
mod covers;
mod critical_apart;
mod cure;
mod depth_behind;
mod droop;
mod duplicate_opening;
mod edge_distance;
mod engine;
mod fastened;
mod fastener_hole;
mod finding;
mod gone;
mod hand_behind;
mod hand_room;
mod head_room;
mod insert;
mod inside;
mod joined;
mod judge;
mod keep_out;
mod label_clear;
mod label_height;
mod labelled;
mod layer_web;
mod least_hole;
mod line_apart;
mod line_bend;
mod line_control;
mod merge;
mod near;
mod necks;
mod obstacle_clear;
mod old_opening_covered;
mod on_sheet;
mod one_piece;
mod openings;
mod own;
mod own_openings;
mod pair;
mod pick;
mod pitch;
mod plan;
mod plausible;
pub mod ports;
mod ready;
mod rear_flange_clear;
mod rear_flange_seat;
mod removal;
mod rule;
mod run;
mod said;
#[cfg(test)]
mod scene;
mod screw_behind;
mod service_loop;
mod sheet_edge;
mod sheet_thickness;
mod slow;
mod space;
mod spacing;
mod spare_hole;
mod stack;
mod stack_height;
mod stack_lock;
mod stack_set_back;
mod stack_width;
mod sway;
mod switch_spacing;
mod tilt;
mod tool_reach;
mod twins;
mod typical;
mod web;
mod wherever;

pub(crate) use corner_radius::{RULE as CORNER_RADIUS, least_corner};
pub use cure::{Cure, FARTHEST, NoCure, cure, cures};
pub use engine::{Options, check, recheck, recheck_but};
pub use finding::{Asks, Counts, Finding, Findings, InSpace, Interval, Note, Verdict};
pub(crate) use least_hole::{RULE as LEAST_HOLE, least_width};
pub use plan::REACH;
pub use plausible::Doubtful;
pub use rule::InRoom;
pub use rule::{
    Asked, Exempt, From, Heed, Limit, Near, Need, Own, Relation, Rule, Select, Source, Standing, Touch, Two,
};
pub use slow::SLOW;
pub use space::{
    LOOKED, Least, Nearest, Space, least_clearances, nearest_at, unit as driver_unit, words as pose_words,
};
pub use wherever::stands_wherever;

/// All rules, in the order in which findings are listed.
pub static RULES: &[&Rule] = &[
    &plausible::RULE,
    &web::RULE,
    &edge_distance::RULE,
    &countersunk_edge_distance::RULE,
    &sheet_edge::RULE,
    &layer_web::RULE,
    &pitch::RULE,
    &own_openings::RULE,
    &duplicate_opening::RULE,
    &on_sheet::RULE,
    &one_piece::RULE,
    &keep_out::RULE,
    &bezel_gap::RULE,
    &bezel_covers::RULE,
    &old_opening_covered::RULE,
    &rear_flange_seat::RULE,
    &rear_flange_clear::RULE,
    &head_room::RULE,
    &hand_room::RULE,
    &bodies_apart::RULE,
    &body_passes::RULE,
    &fastener_hole::RULE,
    &countersink_depth::RULE,
    &least_hole::RULE,
    &corner_radius::RULE,
    &sheet_thickness::RULE,
    &depth_behind::RULE,
    &line_bend::RULE,
    &line_apart::RULE,
    &service_loop::RULE,
    &droop::RULE,
    &sway::RULE,
    &obstacle_clear::RULE,
    &control_clear::RULE,
    &control_run::RULE,
    &line_control::RULE,
    &comes_out::RULE,
    &tool_reach::RULE,
    &hand_behind::RULE,
    &screw_behind::RULE,
    &stack_height::RULE,
    &stack_width::RULE,
    &stack_set_back::RULE,
    &stack_lock::RULE,
    &switch_spacing::RULE,
    &breaker_spacing::RULE,
    &critical_apart::RULE,
    &labelled::RULE,
    &label_clear::RULE,
    &label_height::RULE,
    &tilt::RULE,
    &twins::RULE,
    &typical::RULE,
    &spare_hole::RULE,
];
