//! The readers of instrument and panel files, held against good, bad and random files, and against
//! another validator.

#[path = "readers/catalogue.rs"]
mod catalogue;
#[path = "readers/generate.rs"]
mod generate;
#[path = "readers/random.rs"]
mod random;
#[path = "readers/read.rs"]
mod read;
#[path = "readers/refused.rs"]
mod refused;
#[path = "readers/schema.rs"]
mod schema;

use panelwright::define::{Instrument, Panel, read_instrument, read_panel};
use panelwright::diag::Problems;

/// Reads an instrument from a text called `file.json`.
fn instrument(text: &str) -> (Option<Instrument>, Problems) {
    let mut problems = Problems::new();
    let read = read_instrument("file.json", &text.into(), &mut problems);
    (read, problems)
}

/// Reads a panel from a text called `file.json`.
fn panel(text: &str) -> (Option<Panel>, Problems) {
    let mut problems = Problems::new();
    let read = read_panel("file.json", &text.into(), &mut problems);
    (read, problems)
}
