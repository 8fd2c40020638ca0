//! Views behind the sheet: sections, the view from behind, the map and table of depth, the control card.

#[path = "behind/kit.rs"]
mod kit;
#[path = "behind/look.rs"]
mod look;
#[path = "support/oracle.rs"]
mod oracle;
#[path = "support/panels.rs"]
mod panels;
#[path = "behind/section.rs"]
mod section;
