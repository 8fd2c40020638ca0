//! What may have been meant, each with its residual. Only the user's word changes the panel.

use super::sort::Sorted;
use crate::diag::{Problem, Problems};
use crate::geom::Contour;

/// What a proposal would do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Straights to arcs or a circle.
    Fit,
    /// A contour to its own mirror image.
    Symmetry,
    /// A diameter to a trade size.
    Size,
    /// A contour to the stated grid.
    Grid,
}

impl Kind {
    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            Kind::Fit => "fit",
            Kind::Symmetry => "symmetry",
            Kind::Size => "size",
            Kind::Grid => "grid",
        }
    }
}

/// One proposal.
#[derive(Clone, Debug)]
pub struct Proposal {
    /// Its id: `p1`, `p2`, ...; of a grid `grid-` and the contour's id, which no other answer changes.
    pub id: String,
    /// What it would do.
    pub kind: Kind,
    /// In words.
    pub says: String,
    /// How far a line would move at most, mm.
    pub off: f64,
    /// Which contours it would replace: index of the opening (None: the outline), and what by.
    pub replace: Vec<(Option<usize>, Contour)>,
    /// Whether the user accepted it.
    pub accepted: bool,
}

/// Gives the ids.
pub fn number(list: &mut [Proposal]) {
    for (k, p) in list.iter_mut().enumerate() {
        p.id = format!("p{}", k + 1);
    }
}

/// The kind that a word accepts as a whole.
fn all(word: &str) -> Option<Kind> {
    match word {
        "fits" => Some(Kind::Fit),
        "grid" => Some(Kind::Grid),
        _ => None,
    }
}

/// Whether the user's word accepts a proposal.
fn says(word: &str, p: &Proposal) -> bool {
    p.id == word || all(word) == Some(p.kind)
}

/// Marks the accepted ones.
pub fn mark(list: &mut [Proposal], accepted: &[String]) {
    for p in list {
        p.accepted = accepted.iter().any(|a| says(a, p));
    }
}

/// Refuses what cannot be accepted.
///
/// # Errors
/// An id that is none of theirs; two sizes for one opening.
pub fn refuse(list: &[Proposal], accepted: &[String]) -> Result<(), Problems> {
    let mut problems = Problems::new();
    for a in accepted.iter().filter(|a| all(a).is_none() && !list.iter().any(|p| p.id == **a)) {
        let ids: Vec<&str> = list.iter().map(|p| p.id.as_str()).collect();
        let help = match ids.as_slice() {
            [] => "this file gives none".to_owned(),
            [one] => format!("there is {one}"),
            [first, .., last] => {
                format!("there are {first} to {last}; `fits` accepts all fits, `grid` the whole grid")
            }
        };
        problems.push(Problem::nowhere("unknown-proposal", format!("there is no proposal `{a}`")).help(help));
    }
    let sizes: Vec<&Proposal> = list.iter().filter(|p| p.accepted && p.kind == Kind::Size).collect();
    for (k, p) in sizes.iter().enumerate() {
        let same = |q: &&&Proposal| q.replace.iter().any(|(o, _)| p.replace.iter().any(|(t, _)| o == t));
        if let Some(q) = sizes.iter().take(k).find(same) {
            let message = format!("{} and {} give one opening two sizes", q.id, p.id);
            problems.push(Problem::nowhere("two-sizes", message).help("accept one of them"));
        }
    }
    problems.or(())
}

/// Takes the accepted ones of some kinds into the panel, kind after kind.
pub fn take(sorted: &mut Sorted, list: &[Proposal], kinds: &[Kind]) {
    for kind in kinds {
        for (target, by) in list.iter().filter(|p| p.accepted && p.kind == *kind).flat_map(|p| &p.replace) {
            let piece = match target {
                None => sorted.outline.as_mut(),
                Some(k) => sorted.openings.get_mut(*k),
            };
            if let Some(piece) = piece {
                piece.contour = by.clone();
                // the size is then the user's word; where it lies is as doubtful as before
                if let (Kind::Size, Some(doubt)) = (kind, &mut piece.doubt) {
                    doubt.diameter = None;
                }
            }
        }
    }
}
