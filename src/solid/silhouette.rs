//! The outline of a solid seen from the seat.
//!
//! Exact to rounding for prisms and bars along the depth, balls, boxes and hulls; else tangents in 96 directions, on
//! the safe side.

use super::{Core, Shape, Solid, Vec3, split};
use crate::geom::{Contour, Point, Transform, Vec2};

const TANGENTS: usize = 96;

pub(super) fn of(solid: &Solid) -> Contour {
    let origin = solid.pose().origin();
    let flat = Point::new(origin.x, origin.y);
    let along = (solid.pose().vector(Vec3::FORWARD) - Vec3::FORWARD).length() < 1e-12;
    match solid.shape() {
        Shape::Prism { section, .. } if along => {
            let u = solid.pose().vector(Vec3::new(1.0, 0.0, 0.0));
            let turn = libm::atan2(u.y, u.x).to_degrees();
            return Transform::place(flat, turn, false).contour(section);
        }
        Shape::Cylinder { radius, .. } if along => return Contour::circle(flat, *radius),
        Shape::Sphere(radius) => return Contour::circle(flat, *radius),
        _ => {}
    }
    let mut points = Vec::new();
    for piece in solid.pieces() {
        match &piece.core {
            Core::Points(p) if piece.radius == 0.0 => points.extend(p.iter().map(|p| Point::new(p.x, p.y))),
            _ => return round(solid),
        }
    }
    let corners = hull(points);
    if corners.len() < 3 { round(solid) } else { Contour::polygon(&corners) }
}

fn round(solid: &Solid) -> Contour {
    let reach = |u: Vec2| {
        let u = Vec3::new(u.x, u.y, 0.0);
        solid.pieces().iter().map(|p| p.reach(u)).fold(f64::NEG_INFINITY, f64::max)
    };
    let mut corners = split::tangents(TANGENTS, reach);
    corners.dedup_by(|a, b| (*a - *b).hypot2() < 1e-12);
    let corners = hull(corners);
    Contour::polygon(&corners)
}

/// Convex hull, counter-clockwise, without corners that do not turn.
fn hull(mut points: Vec<Point>) -> Vec<Point> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    points.dedup();
    let half = |points: &mut dyn Iterator<Item = Point>| {
        let mut chain: Vec<Point> = Vec::new();
        for p in points {
            while let [.., a, b] = chain[..] {
                if (b - a).cross(p - b) > 1e-12 {
                    break;
                }
                chain.pop();
            }
            chain.push(p);
        }
        chain.pop();
        chain
    };
    let mut all = half(&mut points.iter().copied());
    all.extend(half(&mut points.iter().rev().copied()));
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solid::Pose;

    #[test]
    fn outlines_of_known_solids() {
        let of = |shape, pose: Pose| Solid::new(shape, pose).unwrap().silhouette();
        let boxed = of(Shape::Box(Vec3::new(10.0, 5.0, 3.0)), Pose::shift(Vec3::new(1.0, 2.0, 9.0)));
        assert!((boxed.signed_area() - 200.0).abs() < 1e-9, "{boxed:?}");
        let ball = of(Shape::Sphere(7.0), Pose::shift(Vec3::new(1.0, 2.0, 9.0)));
        assert_eq!(ball.as_circle(), Some((Point::new(1.0, 2.0), 7.0)));
        // a bar that lies across: a rectangle
        let across = Pose::from_forward_to(Vec3::new(1.0, 0.0, 0.0));
        let bar = of(Shape::Cylinder { radius: 2.0, half: 20.0 }, across);
        assert!(bar.area() >= 160.0 - 1e-9 && bar.area() < 160.2, "{}", bar.area());
    }
}
