//! What the files say, one to one: definitions with the place of every value.
//!
//! Reader and JSON Schema come from one table of fields ([`table`]). [`document`] parses strict
//! JSON, `check` holds it against the table and collects every problem of the file at once,
//! [`node`] is the checked tree, and the files below build plain structs from it. What a file does
//! not say stays `None` here; nothing is filled in.

mod check;
pub mod document;
pub mod instrument;
pub mod node;
mod numbers;
pub mod panel;
mod raw;
mod scalar;
pub mod schema;
pub mod shape;
pub mod summary;
pub mod survey;
pub mod table;
mod words;

pub use instrument::Instrument;
pub use node::{Amount, Node, Size, Weight, Xy, Xyd};
pub use panel::Panel;
pub use shape::{Corners, Outline, Shape};
pub use survey::Survey;
pub use words::Word;

use crate::diag::Problems;
use std::sync::Arc;

/// A short text that is shared, not copied.
pub type Text = Arc<str>;

/// Reads an instrument file. `name` is shown in errors and findings. What could be read comes back
/// even when something is wrong; nothing comes back when the file is no instrument file at all.
pub fn read_instrument(name: &str, text: &Arc<str>, problems: &mut Problems) -> Option<Instrument> {
    read_instrument_tree(name, text, problems).map(|(_, instrument)| instrument)
}

/// The same with the checked tree of the file.
pub fn read_instrument_tree(
    name: &str,
    text: &Arc<str>,
    problems: &mut Problems,
) -> Option<(Node, Instrument)> {
    let root = document::read(name, text, &instrument::FILE, problems)?;
    let instrument = Instrument::build(&root, &[], problems)?;
    Some((root, instrument))
}

/// Reads a panel file; see [`read_instrument`].
pub fn read_panel(name: &str, text: &Arc<str>, problems: &mut Problems) -> Option<Panel> {
    let root = document::read(name, text, &panel::FILE, problems)?;
    Panel::build(&root, problems)
}

/// Reads a survey file; see [`read_instrument`].
pub fn read_survey(name: &str, text: &Arc<str>, problems: &mut Problems) -> Option<Survey> {
    let root = document::read(name, text, &survey::FILE, problems)?;
    Survey::build(&root, problems)
}
