//! Formulas and trade tables, each with its source: pure numbers in and out.

pub mod clearance;
pub mod drill;
pub mod fastener;
pub mod general;
