//! The rules and how they are judged. Pure: a panel in, findings out.

mod absent;
mod apart;
mod body_passes;
mod breaker_spacing;
mod corner_radius;
mod countersink_depth;
mod covers;
mod depth_behind;
mod engine;
mod fastener_hole;
mod finding;
mod gone;
mod inside;
mod judge;
mod label_clear;
mod label_height;
mod labelled;
mod least_hole;
mod near;
mod own;
mod pair;
mod plan;
mod rule;
#[cfg(test)]
mod scene;
mod sheet_thickness;
mod spare_hole;
mod stack;
mod stack_height;
mod stack_lock;
mod stack_set_back;
mod stack_width;
mod switch_spacing;
mod tilt;
mod twins;
mod typical;
mod web;

pub use engine::{Options, check, recheck};
pub use finding::{Asks, Counts, Finding, Findings, Interval, Note, Verdict};
pub use plan::REACH;
pub use rule::{Asked, Exempt, From, Limit, Need, Own, Relation, Rule, Select, Source, Standing, Touch};

/// All rules, in the order in which findings are listed.
pub static RULES: &[&Rule] = &[
    &web::RULE,
    &body_passes::RULE,
    &fastener_hole::RULE,
    &countersink_depth::RULE,
    &least_hole::RULE,
    &corner_radius::RULE,
    &sheet_thickness::RULE,
    &depth_behind::RULE,
    &stack_height::RULE,
    &stack_width::RULE,
    &stack_set_back::RULE,
    &stack_lock::RULE,
    &switch_spacing::RULE,
    &breaker_spacing::RULE,
    &labelled::RULE,
    &label_clear::RULE,
    &label_height::RULE,
    &tilt::RULE,
    &twins::RULE,
    &typical::RULE,
    &spare_hole::RULE,
];
