//! What may have been meant, each with its residual. Only the user's word changes the panel.

use super::sort::Sorted;
use crate::diag::{Problem, Problems};
use crate::geom::Contour;

/// What a proposal would do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Straights to arcs or a circle.
    Fit,
    /// A diameter to a trade size.
    Size,
}

impl Kind {
    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            Kind::Fit => "fit",
            Kind::Size => "size",
        }
    }
}

/// One proposal.
#[derive(Clone, Debug)]
pub struct Proposal {
    /// Its id: `p1`, `p2`, ...
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

/// Takes the accepted ones into the panel: first fits, then sizes.
///
/// # Errors
/// An id that is none of theirs; two sizes for one opening.
pub fn accept(sorted: &mut Sorted, list: &mut [Proposal], accepted: &[String]) -> Result<(), Problems> {
    let mut problems = Problems::new();
    for a in accepted {
        let mut any = false;
        for p in list.iter_mut() {
            if p.id == *a || a == "fits" && p.kind == Kind::Fit {
                (p.accepted, any) = (true, true);
            }
        }
        if !any && a != "fits" {
            let ids: Vec<&str> = list.iter().map(|p| p.id.as_str()).collect();
            let help = match ids.as_slice() {
                [] => "this file gives none".to_owned(),
                [one] => format!("there is {one}"),
                [first, .., last] => format!("there are {first} to {last}; `fits` accepts all fits"),
            };
            problems
                .push(Problem::nowhere("unknown-proposal", format!("there is no proposal `{a}`")).help(help));
        }
    }
    let sizes: Vec<&Proposal> = list.iter().filter(|p| p.accepted && p.kind == Kind::Size).collect();
    for (k, p) in sizes.iter().enumerate() {
        let same = |q: &&&Proposal| q.replace.iter().any(|(o, _)| p.replace.iter().any(|(t, _)| o == t));
        if let Some(q) = sizes.iter().take(k).find(same) {
            let message = format!("{} and {} give one opening two sizes", q.id, p.id);
            problems.push(Problem::nowhere("two-sizes", message).help("accept one of them"));
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    for kind in [Kind::Fit, Kind::Size] {
        for (target, by) in list.iter().filter(|p| p.accepted && p.kind == kind).flat_map(|p| &p.replace) {
            let piece = match target {
                None => sorted.outline.as_mut(),
                Some(k) => sorted.openings.get_mut(*k),
            };
            if let Some(piece) = piece {
                piece.contour = by.clone();
            }
        }
    }
    Ok(())
}
