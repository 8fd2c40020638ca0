//! Moving controls: mechanisms, poses, and the least clearance over a whole travel.

#[path = "travel/closed.rs"]
mod closed;
#[path = "travel/covered.rs"]
mod covered;
#[path = "travel/many_pieces.rs"]
mod many_pieces;
#[path = "travel/mechanism.rs"]
mod mechanism;
#[allow(dead_code, reason = "contours are for other tests")]
#[path = "support/oracle.rs"]
mod oracle;
#[path = "travel/outside.rs"]
mod outside;
#[path = "support/panels.rs"]
mod panels;
#[path = "travel/properties.rs"]
mod properties;
#[path = "travel/random.rs"]
mod random;
#[path = "travel/setup.rs"]
mod setup;
#[path = "travel/swept.rs"]
mod swept;
