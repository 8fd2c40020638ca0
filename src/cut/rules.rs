//! What a cutting file is asked: the questions, each with its source.

use crate::check::{Source, Standing};

/// One question.
#[derive(Debug)]
pub struct CutRule {
    /// Its name.
    pub id: &'static str,
    /// What it asks, one sentence.
    pub asks: &'static str,
    /// Where it comes from.
    pub source: Source,
}

const fn rule(id: &'static str, asks: &'static str, standing: Standing, title: &'static str) -> CutRule {
    CutRule { id, asks, source: Source { standing, title } }
}

/// What several cutting services publish about the files that they are sent.
const SERVICES: &str = "Upload guides published by cutting services: closed single contours, one unit, known layers, \
                        nothing on them that is not to be cut";

/// The file names its unit.
pub static UNIT: CutRule =
    rule("unit", "The file says in which unit it is drawn.", Standing::Quoted, SERVICES);
/// There is something to cut.
pub static LAYERS: CutRule = rule(
    "cut-layers",
    "It is clear which layers are cut, and something stands on them.",
    Standing::Quoted,
    SERVICES,
);
/// Nothing on the cut layers was left unread.
pub static READ: CutRule = rule(
    "all-read",
    "Everything on the cut layers was read.",
    Standing::Nature,
    "what was not read was not checked",
);
/// The file does not bar its own use.
pub static NOTICE: CutRule = rule(
    "notice",
    "Neither the file's name nor a text in it says that it is not to be cut from.",
    Standing::Nature,
    "the file's own words",
);
/// Each contour is an outline or an opening.
pub static NESTING: CutRule =
    rule("nesting", "Every contour is a part's outline or an opening in one.", Standing::Practice, "");
/// Contours are closed.
pub static CLOSED: CutRule = rule("closed", "Every contour is closed.", Standing::Quoted, SERVICES);
/// Nothing is cut twice.
pub static DOUBLED: CutRule = rule(
    "single",
    "Nothing is drawn twice, in part or whole.",
    Standing::Quoted,
    "Upload guides published by cutting services: one line is one cut, a second one over it is cut again",
);
/// Contours do not cross.
pub static CROSSING: CutRule = rule(
    "crossing",
    "No contour crosses or touches itself or another.",
    Standing::Nature,
    "where two cuts meet there is no metal between them",
);
/// No strays.
pub static STRAYS: CutRule =
    rule("strays", "No loose straights, no pieces without length.", Standing::Quoted, SERVICES);
/// Only contours on cut layers.
pub static ONLY_CONTOURS: CutRule = rule(
    "only-contours",
    "On the cut layers stand only contours: no text, dimensions, points, fills or centre marks.",
    Standing::Quoted,
    SERVICES,
);
/// Curves are true arcs.
pub static TRUE_ARCS: CutRule = rule(
    "true-arcs",
    "Circles are drawn as such, not as chords that leave the circle by more than a machine's tolerance.",
    Standing::Quoted,
    "Process limits published by cutting services: tolerance of +-0.1 mm",
);
/// Size is plausible.
pub static SIZE: CutRule = rule(
    "size",
    "The size is one that a panel can have, and nothing lies far from the rest.",
    Standing::Practice,
    "",
);
/// Drawn in one plane.
pub static FLAT: CutRule = rule("flat", "Everything to be cut lies in one plane.", Standing::Practice, "");
/// Metal between openings.
pub static WEB: CutRule = rule(
    "web",
    "Between two openings, and between an opening and the edge, at least one thickness of metal is left.",
    Standing::Practice,
    "",
);
/// The user's own web.
pub static OWN_WEB: CutRule = rule(
    "web",
    "Between two openings, and between an opening and the edge, at least the metal that you named is left.",
    Standing::Practice,
    "your own limit (--web)",
);
/// Openings are wide enough for the process.
pub static LEAST_HOLE: CutRule = CutRule {
    id: crate::check::LEAST_HOLE.id,
    asks: crate::check::LEAST_HOLE.asks,
    source: crate::check::LEAST_HOLE.source,
};
/// Inside corners fit the tool.
pub static CORNER: CutRule = CutRule {
    id: crate::check::CORNER_RADIUS.id,
    asks: crate::check::CORNER_RADIUS.asks,
    source: crate::check::CORNER_RADIUS.source,
};
