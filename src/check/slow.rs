//! Rules that a hand at the panel does not wait for: what they look for takes longer than a picture stands.

use super::{
    Rule, comes_out, control_clear, control_run, line_apart, line_bend, line_control, one_piece, service_loop,
};

/// Each costs more instructions after one move on the largest demo panel than all pair rules together, or looks at every
/// line of the panel whatever was moved; where openings meet, what is left of a sheet costs more than all else.
pub static SLOW: &[&Rule] = &[
    &line_bend::RULE,
    &line_apart::RULE,
    &line_control::RULE,
    &service_loop::RULE,
    &control_clear::RULE,
    &control_run::RULE,
    &comes_out::RULE,
    &one_piece::RULE,
];
