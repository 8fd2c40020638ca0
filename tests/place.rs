//! Where an item fits: regions against the rules themselves and by hand, and the command that asks.

#[path = "support/panels.rs"]
mod panels;

#[path = "place/airframe.rs"]
mod airframe;
#[path = "place/by_hand.rs"]
mod by_hand;
#[path = "place/command.rs"]
mod command;
#[path = "place/rules.rs"]
mod rules;
#[path = "place/scenes.rs"]
mod scenes;
