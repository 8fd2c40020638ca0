//! Views behind the sheet: sections, the view from behind, the map and table of depth, the control card.

#[path = "behind/command.rs"]
mod command;
#[path = "behind/kit.rs"]
mod kit;
#[path = "support/oracle.rs"]
mod oracle;
#[path = "support/panels.rs"]
mod panels;
#[path = "behind/section.rs"]
mod section;
#[path = "behind/views.rs"]
mod views;
