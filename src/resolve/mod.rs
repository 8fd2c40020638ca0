//! Definitions to one [`Panel`]: everything absolute, in millimetres, all errors together.
//!
//! The way: `chain` reads the panel's file and those that it builds on; `merge` puts them together;
//! `layout` and `solve` turn relations into coordinates; `instrument` makes parts of definitions; `put`,
//! `fixed` and `sheets` place them; `tolerance` says what each may be off. What the files leave open stays
//! open: it is recorded as missing, and the rules that need it withhold their verdicts.

mod assemble;
mod builtin;
mod catalogue;
mod chain;
mod fixed;
mod floating;
mod instrument;
mod items;
mod layout;
mod lettering;
mod merge;
mod numbers;
pub mod outline;
mod place;
mod put;
mod reuse;
mod sample;
mod scene;
mod shape;
mod sheets;
mod solve;
mod space;
mod spelling;
mod together;
mod tolerance;
mod tried;
mod wishes;

use crate::files::beside;
pub use catalogue::Catalogue;
pub use numbers::numbers_of;
pub use tolerance::cut_tolerance;
pub use tried::{TRIED, laid_in};

use crate::diag::Problems;
use crate::files::Files;
use crate::panel::Panel;
use catalogue::Shelf;
use sha2::{Digest, Sha256};
use std::sync::Arc;

/// Reads a panel's file with all that it builds on and names, and resolves it. Either a panel, in which
/// nothing can be invalid, or every problem of all files, each with its place.
pub fn resolve(path: &str, files: &dyn Files, catalogue: &Catalogue) -> Result<Panel, Problems> {
    let (panel, problems) = read(path, files, catalogue);
    told(panel, problems)
}

/// The same of a panel on which nothing stands yet: a bare sheet is enough to ask where something goes.
pub fn resolve_bare(path: &str, files: &dyn Files, catalogue: &Catalogue) -> Result<Panel, Problems> {
    let (panel, mut problems) = read(path, files, catalogue);
    problems.forget(assemble::EMPTY);
    told(panel, problems)
}

fn told(panel: Option<Panel>, problems: Problems) -> Result<Panel, Problems> {
    match panel {
        Some(panel) if problems.is_empty() => Ok(panel),
        // a file that others build on is worked through once for each of them
        _ => Err(problems.without_repeats()),
    }
}

fn read(path: &str, files: &dyn Files, catalogue: &Catalogue) -> (Option<Panel>, Problems) {
    let mut problems = Problems::new();
    let mut shelf = Shelf::new(catalogue, files);
    let mut outlines = Vec::new();
    let panel = chain::read(path, files, &mut problems).and_then(|chain| {
        let panel = assemble::chain(path, &chain, files, &[], &mut shelf, &mut outlines, &mut problems)?;
        let texts = chain.iter().map(|f| &f.text);
        Some(Panel { hash: hash(texts.chain(outlines.iter().map(|(_, t)| t)).chain(shelf.texts())), ..panel })
    });
    (panel, problems)
}

/// SHA-256 over the texts in their order, each behind its length, so that no two sets of files run
/// together; names are left out.
fn hash<'a>(texts: impl Iterator<Item = &'a Arc<str>>) -> String {
    let mut all = Sha256::new();
    for text in texts {
        all.update((text.len() as u64).to_le_bytes());
        all.update(text.as_bytes());
    }
    all.finalize().iter().map(|b| format!("{b:02x}")).collect()
}
