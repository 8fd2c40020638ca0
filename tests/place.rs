//! Where an item fits: regions against the rules themselves and by hand, and the command that asks.

#[path = "support/oracle.rs"]
mod oracle;
#[path = "support/panel_files.rs"]
mod panel_files;
#[path = "support/panels.rs"]
mod panels;

#[path = "place/airframe.rs"]
mod airframe;
#[path = "place/areas.rs"]
mod areas;
#[path = "place/by_hand.rs"]
mod by_hand;
#[path = "place/command.rs"]
mod command;
#[path = "place/floating.rs"]
mod floating;
#[path = "place/into.rs"]
mod into;
#[path = "place/many.rs"]
mod many;
#[path = "place/rules.rs"]
mod rules;
#[path = "place/scenes.rs"]
mod scenes;
#[path = "place/sight.rs"]
mod sight;
