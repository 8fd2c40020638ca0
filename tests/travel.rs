//! Moving controls: mechanisms, poses, and the least clearance over a whole travel.

#[path = "travel/closed.rs"]
mod closed;
#[path = "travel/mechanism.rs"]
mod mechanism;
#[path = "travel/setup.rs"]
mod setup;
