//! The engine of the check as a whole: what it lists, and that a recheck equals a check.

#[path = "support/panels.rs"]
mod panels;

#[path = "support/messy.rs"]
mod messy;

#[path = "support/small.rs"]
mod small;

#[path = "check/again.rs"]
mod again;

#[path = "check/demo_again.rs"]
mod demo_again;

#[path = "check/made.rs"]
mod made;

#[path = "check/plain.rs"]
mod plain;

#[path = "check/cure.rs"]
mod cure;

#[path = "check/face.rs"]
mod face;

#[path = "check/behind.rs"]
mod behind;

#[path = "check/invariant.rs"]
mod invariant;

#[path = "check/registry.rs"]
mod registry;
