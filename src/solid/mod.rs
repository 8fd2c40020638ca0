//! Solids behind and in front of the sheet, and how far apart they stay, also while they move.
//!
//! Axes: x to the right, y up as seen from the seat, d forward (into the aeroplane), 0 at the front face;
//! millimetres. The frame is left-handed on purpose; only lengths, dot products and turns by
//! [`Pose::about`] are used here, none of which minds. Each file answers one question and states whether its
//! answer is exact (to rounding) or what its error bound is.

mod build;
mod distance;
mod gap;
mod pair;
mod piece;
mod pose;
mod section;
mod shape;
mod silhouette;
mod split;
pub mod travel;
mod vec;

pub use distance::{Clearance, Lie, distance, nearer, within};
pub use gap::{Gap, Swept, gap};
pub use piece::{Core, Piece};
pub use pose::Pose;
pub use section::{Plane, section};
pub use shape::{Fault, Leg, Shape, Solid};
pub use vec::{Bounds, Vec3};

use crate::geom::Contour;

/// Convex contours, counter-clockwise, that together cover a contour: arcs that bow inwards become chords on the safe side,
/// off the arc by at most 1 micrometre.
pub fn convex_cover(c: &Contour) -> Vec<Contour> {
    split::convex(c).into_iter().map(|(piece, _)| piece).collect()
}
