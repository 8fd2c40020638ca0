//! Findings to words: text for people, JSON for programs, a document for paper and screen. Nothing is judged here.

pub mod arrange;
pub mod catalogue;
mod compare;
mod content;
mod cure;
mod cut_json;
mod cut_text;
pub mod document;
mod earlier;
mod explain;
pub mod fits;
pub mod fits_into;
pub mod fits_many;
mod fits_sight;
pub mod html;
mod json;
mod not_checked;
mod pages;
mod sentence;
mod survey_json;
mod survey_text;
mod text;

pub use compare::{COMPARE_FORMAT, compare_json, compare_text};
pub use content::document;
pub use cut_json::{CUT_FORMAT, cut_json};
pub use cut_text::cut_text;
pub use earlier::Earlier;
pub use explain::explain;
pub use json::{FORMAT, json, problems_json};
pub use not_checked::{CAUTIONS, CUT_CAUTIONS, NOT_CHECKED};
pub use pages::pages;
pub use survey_json::{SURVEY_FORMAT, survey_json};
pub use survey_text::survey_text;
pub use text::{TextOptions, text};
