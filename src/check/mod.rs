//! The rules and how they are judged. Pure: a panel in, findings out.

mod finding;
mod rule;
mod web;

pub use finding::{Finding, Interval, Note, Verdict};
pub use rule::{Exempt, From, Limit, Own, Relation, Rule, Select, Source, Standing};

/// All rules, in the order in which findings are listed.
pub static RULES: &[&Rule] = &[&web::RULE];
