//! The end of every report: what is not checked, the cautions, lines to sign.

use super::Told;
use crate::report::document::{Block, Section, Sign};
use crate::report::{CAUTIONS, NOT_CHECKED};

/// The last sections.
pub(super) fn sections(told: &Told<'_>) -> Vec<Section> {
    let mut open = Section::new("not-checked", "Not checked by this version");
    open.blocks.push(Block::List(NOT_CHECKED.iter().map(|s| s.to_string()).collect()));
    let mut cautions = Section::new("cautions", "Cautions");
    cautions.blocks.push(Block::List(CAUTIONS.iter().map(|s| s.to_string()).collect()));
    let mut seen = Section::new("seen", "Seen");
    seen.words(format!(
        "A name here says that this report of inputs {} was seen. It approves nothing, and neither does the program: the \
         approval stands in the aeroplane's own papers.",
        told.panel.hash.get(..12).unwrap_or(&told.panel.hash)
    ));
    seen.blocks.push(Block::Sign(vec![
        Sign { who: "Owner", means: "seen by" },
        Sign { who: "Inspector", means: "seen by" },
    ]));
    vec![open, cautions, seen]
}
