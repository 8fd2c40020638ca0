//! The centre line of a tube: straights between points, with corners rounded. Exact to rounding.

use crate::geom::angle;
use crate::solid::{Leg, Vec3};

/// Below this two points are one, and a straight is none, mm.
const LEAST: f64 = 1e-6;

/// Why a path cannot be walked; the index is that of the point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum PathFault {
    /// This point is the same as the one before it.
    Equal(usize),
    /// At this point the path turns straight back.
    Back(usize),
    /// The rounding of the corners at one or both ends of the straight that ends here asks for more than it has:
    /// asked, there, mm.
    Short(usize, f64, f64),
}

/// Straights and arcs through points, each corner rounded with `radius` at the centre line.
pub(super) fn rounded(points: &[Vec3], radius: f64) -> Result<Vec<Leg>, PathFault> {
    let mut straights: Vec<(Vec3, f64)> = Vec::new();
    for (k, pair) in points.windows(2).enumerate() {
        let [a, b] = pair else { continue };
        let along = *b - *a;
        match along.unit().filter(|_| along.length() > LEAST) {
            Some(unit) => straights.push((unit, along.length())),
            None => return Err(PathFault::Equal(k + 1)),
        }
    }
    let mut corners = Vec::new();
    for (k, pair) in straights.windows(2).enumerate() {
        let [(u, _), (v, _)] = pair else { continue };
        let across = u.cross(*v);
        let turn = libm::atan2(across.length(), u.dot(*v));
        let Some(axis) = across.unit().filter(|_| turn > 1e-9) else {
            if u.dot(*v) < 0.0 {
                return Err(PathFault::Back(k + 1));
            }
            corners.push(None);
            continue;
        };
        let (sin, cos) = angle::sin_cos(turn / 2.0);
        corners.push(Some((axis, turn, radius * sin / cos)));
    }
    let taken = |k: usize| corners.get(k).copied().flatten().map_or(0.0, |(.., t)| t);
    let mut legs = Vec::new();
    let mut from = points.first().copied().unwrap_or(Vec3::ZERO);
    for (k, ((unit, length), end)) in straights.iter().zip(points.iter().skip(1)).enumerate() {
        let before = if k == 0 { 0.0 } else { taken(k - 1) };
        let room = length - before - taken(k);
        if room < -LEAST {
            return Err(PathFault::Short(k + 1, before + taken(k), *length));
        }
        let to = *end - *unit * taken(k);
        if room > LEAST {
            legs.push(Leg::Line(from, to));
        }
        from = to;
        if let (Some(Some((axis, turn, _))), true) = (corners.get(k), radius > 0.0) {
            // the centre lies across the straight, on the side to which the path turns
            let centre = to + axis.cross(*unit) * radius;
            legs.push(Leg::Arc { from: to, centre, axis: *axis, angle: *turn });
            from = crate::solid::Pose::about(centre, *axis, *turn).point(to);
        }
    }
    Ok(legs)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn v(x: f64, y: f64, d: f64) -> Vec3 {
        Vec3::new(x, y, d)
    }

    #[test]
    fn a_square_corner_takes_its_radius_of_each_straight() {
        // a quarter turn of 20: each straight gives 20 x tan 45 = 20
        let legs = rounded(&[v(0.0, 0.0, 0.0), v(0.0, 0.0, 100.0), v(50.0, 0.0, 100.0)], 20.0).unwrap();
        assert_eq!(legs.len(), 3);
        let Leg::Line(a, b) = legs[0] else { panic!() };
        assert!((a - v(0.0, 0.0, 0.0)).length() < 1e-9 && (b - v(0.0, 0.0, 80.0)).length() < 1e-9);
        let Leg::Arc { centre, angle, .. } = legs[1] else { panic!() };
        assert!((centre - v(20.0, 0.0, 80.0)).length() < 1e-9, "{centre:?}");
        assert!((angle - std::f64::consts::FRAC_PI_2).abs() < 1e-12);
        let Leg::Line(a, b) = legs[2] else { panic!() };
        assert!((a - v(20.0, 0.0, 100.0)).length() < 1e-9 && (b - v(50.0, 0.0, 100.0)).length() < 1e-9);
    }

    #[test]
    fn what_cannot_be_walked_names_its_point() {
        let (a, b, c) = (v(0.0, 0.0, 0.0), v(0.0, 30.0, 0.0), v(15.0, 30.0, 0.0));
        assert_eq!(rounded(&[a, b, b], 5.0).unwrap_err(), PathFault::Equal(2));
        assert_eq!(rounded(&[a, b, a], 5.0).unwrap_err(), PathFault::Back(1));
        // a quarter turn of 20 asks 20 of each; the second straight has 15
        let PathFault::Short(2, asked, there) = rounded(&[a, b, c], 20.0).unwrap_err() else { panic!() };
        assert!((asked - 20.0).abs() < 1e-9 && there == 15.0);
        // straight on is no corner
        assert_eq!(rounded(&[a, b, v(0.0, 40.0, 0.0)], 20.0).unwrap().len(), 2);
    }
}
