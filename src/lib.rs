//! Layout and fit check of light-aeroplane instrument panels.
//!
//! The story, in dependency order: [`units`], [`geom`] and [`solid`] are plain numbers and shapes; a reader
//! turns files into definitions, `resolve` turns those into one [`panel::Panel`], [`check`] judges it,
//! `draw` makes sheets of it and `export` turns sheets into bytes.
#![forbid(unsafe_code)]

pub mod as_cut;
pub mod board;
pub mod calc;
pub mod check;
pub mod cli;
pub mod compare;
pub mod cut;
pub mod define;
pub mod diag;
pub mod draw;
pub mod edit;
pub mod export;
pub mod files;
pub mod found;
pub mod geom;
pub mod import;
mod jobs;
pub mod many;
pub mod panel;
pub mod place;
pub mod report;
pub mod resolve;
pub mod solid;
pub mod survey;
pub mod units;
