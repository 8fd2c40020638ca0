//! From files to the resolved panel: every relation against numbers worked out by hand, sheets, parts,
//! chains of files, all problems at once, and that no file makes it panic.

#[path = "resolve/chains.rs"]
mod chains;
#[path = "resolve/demo.rs"]
mod demo;
#[path = "resolve/floating.rs"]
mod floating;
#[path = "resolve/kit.rs"]
mod kit;
#[path = "resolve/limits.rs"]
mod limits;
#[path = "resolve/numbers.rs"]
mod numbers;
#[path = "resolve/parts.rs"]
mod parts;
#[path = "resolve/problems.rs"]
mod problems;
#[path = "resolve/random.rs"]
mod random;
#[path = "resolve/relations.rs"]
mod relations;
#[path = "resolve/rivets.rs"]
mod rivets;
#[path = "resolve/sheets.rs"]
mod sheets;
#[path = "resolve/space.rs"]
mod space;
#[path = "resolve/space_refused.rs"]
mod space_refused;
#[path = "resolve/stacks.rs"]
mod stacks;
