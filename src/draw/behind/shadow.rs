//! What of a solid stands before a depth, seen from the seat: its silhouette as polygons, for the map of depth.
//!
//! Exact (to the chords of arcs, 0.01 mm) for what runs straight along the depth; of other solids hulls of [`SLICES`]
//! sections and of their corners, which for round ones lie at most 0.1 % of the radius within the truth.

use crate::geom::region::{Bound, polygon};
use crate::geom::{Contour, Point};
use crate::solid::{Core, Leg, Piece, Plane, Pose, Shape, Solid, Vec3, section};

/// Sections across the depth.
const SLICES: u32 = 40;
/// How far chords may lie off arcs, mm.
const CHORD: f64 = 0.01;

/// Polygons that together cover what lies between the sheet and the depth `limit`; may overlap.
pub fn shadow(solid: &Solid, limit: f64) -> Vec<Vec<Point>> {
    let b = solid.bounds();
    if b.low.d >= limit || b.high.d <= 0.0 {
        return Vec::new();
    }
    let along = (solid.pose().vector(Vec3::FORWARD) - Vec3::FORWARD).length() < 1e-12;
    if along && matches!(solid.shape(), Shape::Prism { .. } | Shape::Cylinder { .. }) {
        return vec![polygon(&solid.silhouette(), Bound::Around, CHORD)];
    }
    solid.pieces().iter().filter_map(|p| part(p, limit)).collect()
}

/// A convex piece: the hull of its sections and corners.
fn part(piece: &Piece, limit: f64) -> Option<Vec<Point>> {
    let solid = whole(piece)?;
    let b = piece.bounds();
    let (low, high) = (b.low.d.max(0.0), b.high.d.min(limit));
    if low >= high {
        return None;
    }
    let mut points: Vec<Point> = Vec::new();
    for k in 0..=SLICES {
        let depth = low + (high - low) * f64::from(k) / f64::from(SLICES);
        let cuts = section(&solid, &Plane::deep(depth));
        points.extend(cuts.iter().flat_map(|c| polygon(c, Bound::Around, CHORD)));
    }
    if let (Core::Points(corners), true) = (&piece.core, piece.radius == 0.0) {
        let near = corners.iter().filter(|p| p.d >= low && p.d <= high);
        points.extend(near.map(|p| Point::new(p.x, p.y)));
    }
    Contour::around(points).map(|c| polygon(&c, Bound::Around, CHORD))
}

/// A piece as a solid of its own.
fn whole(piece: &Piece) -> Option<Solid> {
    let shape = match &piece.core {
        Core::Prism { section, from, to, pose } => {
            let shape = Shape::Prism { section: section.ccw(), from: *from, to: *to };
            return Solid::new(shape, *pose).ok();
        }
        Core::Bar { ends: [a, b], axis, radius } => {
            let half = (*b - *a).length() / 2.0;
            let pose = Pose::from_forward_to(*axis).then(&Pose::shift((*a + *b) * 0.5));
            return Solid::new(Shape::Cylinder { radius: *radius, half }, pose).ok();
        }
        Core::Points(p) => match p.as_slice() {
            [at] => return Solid::new(Shape::Sphere(piece.radius), Pose::shift(*at)).ok(),
            [a, b] => Shape::Tube { path: vec![Leg::Line(*a, *b)], radius: piece.radius },
            all => Shape::Hull(all.to_vec()),
        },
    };
    Solid::new(shape, Pose::IDENTITY).ok()
}
