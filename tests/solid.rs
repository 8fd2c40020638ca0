//! Solids and their distances against independent libraries.

#[allow(dead_code)]
#[path = "support/oracle.rs"]
mod oracle;
#[path = "support/panels.rs"]
mod panels;

#[path = "solid/draw.rs"]
mod draw;
#[path = "solid/outside.rs"]
mod outside;
#[path = "solid/same.rs"]
mod same;
