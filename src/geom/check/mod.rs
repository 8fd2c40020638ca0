//! Whether pieces make a contour: finite, closed, without empty pieces, simple, with an inside.
//!
//! Exact to [`SLACK`]: pieces that are not neighbours stay more than that apart; neighbours meet
//! only at their common end. Two neighbours that leave their common end in the same direction but
//! part (a cusp) are lawful.

use super::contacts::contacts;
use super::distance::pair;
use super::{Contour, Point, SLACK, Segment, length, span};
use std::fmt;

/// Why pieces do not make a contour. Lengths and places in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub enum ContourError {
    /// There are none.
    Empty,
    /// A number is not finite.
    NotFinite {
        /// Index of the piece.
        piece: usize,
    },
    /// An arc whose radius, angles and end points contradict each other.
    BadArc {
        /// Index of the piece.
        piece: usize,
        /// Its start.
        at: Point,
    },
    /// A piece has no length.
    ZeroLength {
        /// Index of the piece.
        piece: usize,
        /// Where it stands.
        at: Point,
    },
    /// The end of one piece is not the start of the next.
    Open {
        /// Index of the piece that ends too early.
        piece: usize,
        /// Its end.
        at: Point,
        /// Millimetres to the start of the next.
        gap: f64,
    },
    /// Two pieces meet elsewhere than at their common end.
    SelfCrossing {
        /// Where they meet.
        at: Point,
        /// Indices of the two pieces.
        pieces: (usize, usize),
    },
    /// It encloses nothing.
    NoArea,
}

impl fmt::Display for ContourError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let place = |p: &Point| format!("({}, {})", round(p.x), round(p.y));
        match self {
            ContourError::Empty => write!(f, "the outline has no pieces"),
            ContourError::NotFinite { piece } => {
                write!(f, "piece {} holds a number that is not finite", piece + 1)
            }
            ContourError::BadArc { piece, at } => {
                write!(f, "piece {}, an arc from {} mm, does not lie on its own circle", piece + 1, place(at))
            }
            ContourError::ZeroLength { piece, at } => {
                write!(f, "piece {} at {} mm has no length", piece + 1, place(at))
            }
            ContourError::Open { piece, at, gap } => write!(
                f,
                "the outline is open: piece {} ends at {} mm, {} mm from the start of the next",
                piece + 1,
                place(at),
                round(*gap)
            ),
            ContourError::SelfCrossing { at, pieces } => write!(
                f,
                "the outline crosses or touches itself at {} mm (pieces {} and {})",
                place(at),
                pieces.0 + 1,
                pieces.1 + 1
            ),
            ContourError::NoArea => write!(f, "the outline encloses no area"),
        }
    }
}

impl std::error::Error for ContourError {}

/// A length for people: whole nanometres, so that 0.1 + 0.2 reads 0.3; smaller ones as they are.
fn round(v: f64) -> f64 {
    let r = (v * 1e6).round() / 1e6;
    if r == 0.0 && v != 0.0 || !r.is_finite() { v } else { r + 0.0 }
}

/// How far from the common end of two neighbours a second meeting counts as one: an end may lie
/// [`SLACK`] off its own circle, and a shallow crossing lies farther along than it is deep.
const JOIN: f64 = 10.0 * SLACK;

impl Contour {
    /// Makes a contour of pieces in order. Ends that miss the next start by at most [`SLACK`] are
    /// joined; the way round stays as given.
    pub fn new(mut segments: Vec<Segment>) -> Result<Contour, ContourError> {
        check_pieces(&segments)?;
        let starts: Vec<Point> = segments.iter().map(Segment::start).collect();
        let n = segments.len();
        for (piece, s) in segments.iter_mut().enumerate() {
            let next = starts[(piece + 1) % n];
            let gap = span(s.end(), next);
            if gap > SLACK {
                return Err(ContourError::Open { piece, at: s.end(), gap });
            }
            *s = s.with_ends(s.start(), next);
        }
        let contour = Contour::from_checked(segments);
        check_simple(&contour)?;
        let b = contour.bounds();
        let extent = b.width().max(b.height());
        if contour.signed_area().abs() <= SLACK * extent {
            return Err(ContourError::NoArea);
        }
        Ok(contour)
    }
}

fn check_pieces(segments: &[Segment]) -> Result<(), ContourError> {
    if segments.is_empty() {
        return Err(ContourError::Empty);
    }
    for (piece, s) in segments.iter().enumerate() {
        let (a, b) = (s.start(), s.end());
        let ends = a.is_finite() && b.is_finite();
        match s {
            _ if !ends => return Err(ContourError::NotFinite { piece }),
            Segment::Arc(arc) => {
                if !(arc.centre.is_finite()
                    && arc.radius.is_finite()
                    && arc.start.is_finite()
                    && arc.sweep.is_finite())
                {
                    return Err(ContourError::NotFinite { piece });
                }
                // rounding of the circle's points grows with its distance from the origin
                let near = SLACK + 1e-14 * (arc.radius.abs() + length(arc.centre.to_vec2()));
                let fits = arc.radius > 0.0
                    && arc.sweep.abs() <= std::f64::consts::TAU
                    && span(arc.at(0.0), a) <= near
                    && span(arc.at(1.0), b) <= near;
                if !fits {
                    return Err(ContourError::BadArc { piece, at: a });
                }
            }
            Segment::Line(_) => {}
        }
        if s.len() <= SLACK {
            return Err(ContourError::ZeroLength { piece, at: a });
        }
    }
    Ok(())
}

/// Sweeps the boxes from left to right, so that far pieces are never compared.
fn check_simple(contour: &Contour) -> Result<(), ContourError> {
    let pieces: Vec<_> = contour.boxed().collect();
    let n = pieces.len();
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by(|i, j| pieces[*i].1.x0.total_cmp(&pieces[*j].1.x0));
    let mut open: Vec<usize> = Vec::new();
    for &i in &order {
        let here = pieces[i].1;
        open.retain(|&j| pieces[j].1.x1 + SLACK >= here.x0);
        for &j in &open {
            let there = pieces[j].1;
            if there.y0 > here.y1 + SLACK || there.y1 + SLACK < here.y0 {
                continue;
            }
            let (first, second) = (i.min(j), i.max(j));
            if let Some(at) =
                meeting(pieces[first].0, pieces[second].0, second - first == 1, first == 0 && second == n - 1)
            {
                return Err(ContourError::SelfCrossing { at, pieces: (first, second) });
            }
        }
        open.push(i);
    }
    Ok(())
}

/// Where two pieces of one contour meet unlawfully. `follows`: the second starts where the first
/// ends; `closes`: the first starts where the second ends.
fn meeting(first: &Segment, second: &Segment, follows: bool, closes: bool) -> Option<Point> {
    if !follows && !closes {
        let near = pair(first, second);
        return (near.distance() <= SLACK).then_some(near.at[0]);
    }
    let mut found = Vec::new();
    contacts(first, second, &mut found);
    found.into_iter().find(|p| {
        let joint = follows && span(*p, first.end()) <= JOIN || closes && span(*p, first.start()) <= JOIN;
        !joint
    })
}

#[cfg(test)]
mod tests;
