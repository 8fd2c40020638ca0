//! Upright boxes; a point and a box at any attitude.

use super::{apart, levels, product};
use crate::solid::{Bounds, Gap, Pose, Solid, Vec3};

/// Whether a solid's own axes are those of the panel, in any order, to the last bit.
pub(super) fn upright(solid: &Solid) -> bool {
    let square = |c: Vec3| [c.x, c.y, c.d].iter().all(|v| *v == 0.0 || v.abs() == 1.0);
    solid.pose().columns().into_iter().all(square)
}

/// Two boxes along the axes.
pub(super) fn gap(a: &Bounds, b: &Bounds) -> Gap {
    let (x, y, d) = (
        ((a.low.x, a.high.x), (b.low.x, b.high.x)),
        ((a.low.y, a.high.y), (b.low.y, b.high.y)),
        ((a.low.d, a.high.d), (b.low.d, b.high.d)),
    );
    let gap = product([apart(x.0, x.1), apart(y.0, y.1), apart(d.0, d.1)]);
    let (x, y, d) = (levels(x.0, x.1), levels(y.0, y.1), levels(d.0, d.1));
    Gap { lower: gap, upper: gap, points: [Vec3::new(x.0, y.0, d.0), Vec3::new(x.1, y.1, d.1)] }
}

/// How far a point is from a box (below zero: how deep in it), and the nearest point of its surface.
pub(super) fn to(p: Vec3, half: Vec3, pose: &Pose) -> (f64, Vec3) {
    let local = pose.back(p - pose.origin());
    let gaps = [local.x.abs() - half.x, local.y.abs() - half.y, local.d.abs() - half.d];
    let gap = product(gaps);
    let mut q = Vec3::new(
        local.x.clamp(-half.x, half.x),
        local.y.clamp(-half.y, half.y),
        local.d.clamp(-half.d, half.d),
    );
    if gap < 0.0 {
        // out through the nearest face
        if gap == gaps[0] {
            q.x = half.x.copysign(local.x);
        } else if gap == gaps[1] {
            q.y = half.y.copysign(local.y);
        } else {
            q.d = half.d.copysign(local.d);
        }
    }
    (gap, pose.point(q))
}
