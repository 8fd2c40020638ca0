//! What of a solid is seen along a plane's normal: its outline drawn on the plane.
//!
//! Around its convex hull: exact where the hull's edges lie along the plane's axes or the directions asked, else at most
//! 0.1 % of its size outside (tangents in 96 directions, radius times 1 / cos(pi / 96) - 1).

use crate::geom::{Contour, Point, SLACK, angle, span};
use crate::solid::{Plane, Solid};
use std::f64::consts::TAU;

/// Directions of tangents.
const TANGENTS: u32 = 96;

/// The outline of a solid on a plane, in the plane's axes; none where it is too thin to have one.
pub fn outline(solid: &Solid, plane: &Plane) -> Option<Contour> {
    let lines: Vec<(f64, f64, f64)> = (0..TANGENTS)
        .map(|k| {
            let (s, c) = angle::sin_cos_deg(360.0 * f64::from(k) / f64::from(TANGENTS));
            let u = plane.across * c + plane.up * s;
            let reach = solid.pieces().iter().map(|p| p.reach(u)).fold(f64::NEG_INFINITY, f64::max);
            (c, s, reach - u.dot(plane.at))
        })
        .collect();
    let turn = angle::sin_cos(TAU / f64::from(TANGENTS)).0;
    let mut corners: Vec<Point> = Vec::new();
    for ((c, s, a), (d, t, b)) in lines.iter().zip(lines.iter().cycle().skip(1)) {
        // where two tangents meet
        let p = Point::new((a * t - b * s) / turn, (b * c - a * d) / turn);
        if corners.last().is_none_or(|q| span(*q, p) > SLACK) {
            corners.push(p);
        }
    }
    while corners.len() > 1 && corners.first().zip(corners.last()).is_some_and(|(a, b)| span(*a, *b) <= SLACK)
    {
        corners.pop();
    }
    let contour = (corners.len() >= 3).then(|| Contour::polygon(&corners))?;
    (contour.signed_area() > SLACK).then_some(contour)
}
