//! Round bars: a point and a bar; two bars whose axes are parallel.

use super::{apart, levels, product};
use crate::solid::{Core, Gap, Piece, Vec3};

/// Axes that are turned against each other by less than this, radians, are parallel: over ten metres of bar it is 1e-9 mm.
const PARALLEL: f64 = 1e-13;

/// How far a point is from a bar (below zero: how deep in it), and the nearest point of its surface.
pub(super) fn to(p: Vec3, ends: [Vec3; 2], axis: Vec3, radius: f64) -> (f64, Vec3) {
    let (middle, half) = ((ends[0] + ends[1]) * 0.5, (ends[1] - ends[0]).length() / 2.0);
    let along = axis.dot(p - middle);
    let across = p - middle - axis * along;
    let (beside, before) = (across.length() - radius, along.abs() - half);
    let gap = product([beside, before]);
    let out = across.unit().unwrap_or_else(|| aside(axis));
    let q = if gap >= 0.0 {
        let wide = if beside > 0.0 { out * radius } else { across };
        middle + wide + axis * along.clamp(-half, half)
    } else if beside >= before {
        middle + out * radius + axis * along
    } else {
        middle + across + axis * half.copysign(along)
    };
    (gap, q)
}

/// Any unit vector across another.
fn aside(axis: Vec3) -> Vec3 {
    let least = if axis.x.abs() < 0.6 { Vec3::new(1.0, 0.0, 0.0) } else { Vec3::new(0.0, 1.0, 0.0) };
    axis.cross(least).unit().unwrap_or(Vec3::FORWARD)
}

/// Two bars whose axes are parallel.
pub(super) fn gap(a: &Piece, b: &Piece) -> Option<Gap> {
    let Core::Bar { ends: p, axis, radius: r } = &a.core else { return None };
    let Core::Bar { ends: q, axis: other, radius: s } = &b.core else { return None };
    if axis.cross(*other).length() > PARALLEL || a.radius != 0.0 || b.radius != 0.0 {
        return None;
    }
    let stretch = |ends: &[Vec3; 2]| {
        let [m, n] = ends.map(|e| axis.dot(e - p[0]));
        (m.min(n), m.max(n))
    };
    let (one, two) = (stretch(p), stretch(q));
    let off = q[0] - p[0];
    let across = off - *axis * axis.dot(off);
    let gap = product([across.length() - r - s, apart(one, two)]);
    let (from, to) = levels(one, two);
    // one before the other: a point that both have seen along the axis
    let out = across.unit().unwrap_or(Vec3::ZERO);
    let shared = across.length().min(*r);
    let near = (across.length() - s).max(shared);
    let (m, n) = (p[0] + *axis * from + out * shared, p[0] + *axis * to + out * near);
    Some(Gap { lower: gap, upper: gap, points: [m, n] })
}
