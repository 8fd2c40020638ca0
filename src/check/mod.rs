//! The rules and how they are judged. Pure: a panel in, findings out.

mod finding;
mod rule;
mod web;

pub use finding::{Finding, Interval, Note, Verdict};
pub use rule::{Asked, Exempt, From, Limit, Need, Own, Relation, Rule, Select, Source, Standing, Touch};

/// All rules, in the order in which findings are listed.
pub static RULES: &[&Rule] = &[&web::RULE];
