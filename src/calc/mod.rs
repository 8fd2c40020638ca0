//! Formulas and trade tables, each with its source: pure numbers in and out.

pub mod bend;
pub mod clearance;
pub mod clock;
pub mod drill;
pub mod fastener;
pub mod general;
