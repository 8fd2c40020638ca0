//! How long a line is from its port to its end: bounds.
//!
//! Shorter than the straight between its two plugs no line can be. A route that exists is straight, arc, straight, arc, straight
//! with both arcs of the least radius: the shortest curves of bounded curvature between two far poses are of this kind
//! (L. E. Dubins, 1957, in the plane; H. J. Sussmann, 1995, in space). With the directions u and v of the ends and w of
//! the straight between, an arc that turns by a from u to w ends R tan(a/2) (u + w) from where it began; w is found by
//! trying again until it stands still. What it must go round is not known here: the true route may be longer.

use super::exit::{Exit, Turn, exit};
use crate::calc::bend;
use crate::panel::{Detail, End, Line, Panel, Part};
use crate::solid::{Leg, Shape, Vec3};

/// The length of a route, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Route {
    /// Certainly not shorter.
    pub lower: f64,
    /// A route of this length exists if nothing stands in its way; `None`: its ends stand too near each other for a plain one.
    pub plain: Option<f64>,
}

/// Tries until the straight stands still.
const TRIES: usize = 200;
/// A direction that moves less stands still.
const STILL: f64 = 1e-12;

/// The route from a pose `(p, u)` to a pose `(q, v)`, `v` being the way in which it arrives; `None` for `v`: any way.
/// `radius` is that of the centre line.
pub(super) fn between(p: Vec3, u: Vec3, q: Vec3, v: Option<Vec3>, radius: f64) -> Route {
    let lower = (q - p).length();
    Route { lower, plain: plain(p, u, q, v, radius).map(|l| l.max(lower)) }
}

fn plain(p: Vec3, u: Vec3, q: Vec3, v: Option<Vec3>, radius: f64) -> Option<f64> {
    let mut w = (q - p).unit()?;
    for _ in 0..TRIES {
        let (a, from) = arc(u, w, radius)?;
        let (b, to) = match v {
            Some(v) => arc(v, w, radius)?,
            None => (0.0, Vec3::ZERO),
        };
        let rest = (q - to) - (p + from);
        let next = rest.unit()?;
        if (next - w).length() <= STILL {
            return Some(radius * (a + b) + rest.length());
        }
        // half way: a full step may swing to and fro
        w = (w + next).unit()?;
    }
    None
}

/// The angle between two directions and how far the arc from one to the other leads; `None` for a turn back.
fn arc(u: Vec3, w: Vec3, radius: f64) -> Option<(f64, Vec3)> {
    let (sine, cosine) = (u.cross(w).length(), u.dot(w));
    let angle = libm::atan2(sine, cosine);
    // tan(a / 2) = sin a / (1 + cos a)
    let below = 1.0 + cosine;
    (below > 1e-9).then(|| (angle, (u + w) * (radius * sine / below)))
}

/// The route of the line that hangs on a port, from where its plug seats to where the other one does: its run where that is
/// drawn; `None`: it has no line with a stated end, or its far end is not known.
pub fn route_at(panel: &Panel, here: &Exit) -> Option<Route> {
    let line = panel.space.lines.get(here.line?)?;
    if let Some(drawn) = drawn(panel, line) {
        return Some(Route { lower: drawn, plain: Some(drawn) });
    }
    // what the line says of itself holds along all of it, whatever its first turn is made by
    let radius = match (&line.bend_radius, line.diameter, &here.turn) {
        (Some((inside, _)), Some(outside), _) => bend::centre_line(*inside, outside),
        (.., Turn::Radius { inside, outside, .. }) => bend::centre_line(*inside, *outside),
        // radius and diameter together are no more than the room
        (.., Turn::Room { deep, .. }) => *deep,
    };
    // the same from both ends
    let far = if line.from == Some(here.port) { line.to? } else { End::Port(line.from?) };
    let (to, way, more) = match far {
        End::Point(p) => (p, None, 0.0),
        End::Port(r) => {
            let e = exit(panel, r)?.ok()?;
            (e.at + e.axis * e.straight, Some(-e.axis), e.straight)
        }
    };
    let start = here.at + here.axis * here.straight;
    let r = between(start, here.axis, to, way, radius);
    let straight = here.straight + more;
    Some(Route { lower: r.lower + straight, plain: r.plain.map(|l| l + straight) })
}

/// The length of a run that is drawn.
fn drawn(panel: &Panel, line: &Line) -> Option<f64> {
    let parts = &panel.subjects.get(line.subject as usize)?.parts;
    let leg = |leg: &Leg| match leg {
        Leg::Line(a, b) => (*b - *a).length(),
        Leg::Arc { from, centre, angle, .. } => (*from - *centre).length() * angle.abs(),
    };
    let tube = |p: &Part| match &p.detail {
        Detail::Line { solid, .. } => match solid.shape() {
            Shape::Tube { path, .. } => Some(path.iter().map(leg).sum::<f64>()),
            _ => None,
        },
        _ => None,
    };
    let sum: Option<f64> = parts.iter().map(tube).try_fold(0.0, |sum, l| Some(sum + l?));
    sum.filter(|l| *l > 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    const U: Vec3 = Vec3::FORWARD;

    #[test]
    fn straight_ahead_is_the_distance() {
        let r = between(Vec3::ZERO, U, Vec3::new(0.0, 0.0, 300.0), Some(U), 50.0);
        assert_eq!((r.lower, r.plain), (300.0, Some(300.0)));
    }

    #[test]
    fn a_quarter_turn_and_a_straight() {
        // forward, then to the right: arc of 50 ends at (50, 0, 50), then 200 straight: 50 x pi/2 + 200
        let right = Vec3::new(1.0, 0.0, 0.0);
        let r = between(Vec3::ZERO, U, Vec3::new(250.0, 0.0, 50.0), Some(right), 50.0);
        assert!((r.plain.unwrap() - (25.0 * PI + 200.0)).abs() < 1e-6, "{r:?}");
        assert!(r.lower < r.plain.unwrap());
    }

    #[test]
    fn an_offset_between_two_parallel_ends() {
        // tangents of two circles of radius 50, an S of offset 60 over 400: centres (50, 0) and (10, 400) lie 402 apart,
        // 401.995^2 = 40^2 + 400^2; the inner tangent is sqrt(402^2 - 100^2), the arcs turn by
        // asin(100/402) - atan(40/400) each
        let r = between(Vec3::ZERO, U, Vec3::new(60.0, 0.0, 400.0), Some(U), 50.0);
        let apart = (40.0f64 * 40.0 + 400.0 * 400.0).sqrt();
        let tangent = (apart * apart - 10_000.0).sqrt();
        let turn = libm::atan2(100.0, tangent) - libm::atan2(40.0, 400.0);
        assert!((r.plain.unwrap() - (tangent + 100.0 * turn)).abs() < 1e-6, "{r:?}");
    }

    #[test]
    fn to_a_point_beside_arrives_any_way() {
        // tangent from (200, 100) to the circle round (50, 0) of radius 50: sqrt(150^2 + 100^2 - 50^2) long; the way to
        // it from the centre lies atan(50 / tangent) to the left of the straight
        let r = between(Vec3::ZERO, U, Vec3::new(200.0, 0.0, 100.0), None, 50.0);
        let tangent = (32_500.0f64 - 2_500.0).sqrt();
        let turn = libm::atan2(150.0, 100.0) + libm::atan2(50.0, tangent);
        assert!((r.plain.unwrap() - (tangent + 50.0 * turn)).abs() < 1e-6, "{r:?}");
    }

    #[test]
    fn in_space_it_is_the_same_whatever_the_frame() {
        let v = Vec3::new(0.6, 0.8, 0.0);
        let r = between(Vec3::ZERO, U, Vec3::new(300.0, 200.0, 400.0), Some(v), 60.0);
        let back = between(Vec3::new(300.0, 200.0, 400.0), -v, Vec3::ZERO, Some(-U), 60.0);
        assert!((r.plain.unwrap() - back.plain.unwrap()).abs() < 1e-6, "{r:?} {back:?}");
        assert!(r.plain.unwrap() >= r.lower);
    }

    #[test]
    fn too_near_to_turn_has_a_lower_bound_alone() {
        let r = between(Vec3::ZERO, U, Vec3::new(5.0, 0.0, 0.0), Some(U), 50.0);
        assert_eq!(r.lower, 5.0);
        assert!(r.plain.is_none_or(|l| l > 100.0), "{r:?}");
    }
}
