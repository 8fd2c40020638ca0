//! Findings to words: text for people, JSON for programs. Nothing is judged here.

pub mod catalogue;
mod cure;
mod explain;
mod json;
mod not_checked;
mod sentence;
mod text;

pub use explain::explain;
pub use json::{FORMAT, json, problems_json};
pub use not_checked::{CAUTIONS, NOT_CHECKED};
pub use text::{TextOptions, text};
