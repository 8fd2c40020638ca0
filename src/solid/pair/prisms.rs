//! Prisms along one depth axis; a point and a prism at any attitude.

use super::{apart, levels, product};
use crate::geom::distance::{self, Relation, point_contour};
use crate::geom::penetration::penetration;
use crate::geom::{Contour, Point, Transform, Vec2};
use crate::solid::{Bounds, Core, Gap, Piece, Pose, Vec3};

/// A box along the axes, as a prism.
pub(super) fn upright(b: &Bounds) -> Piece {
    let (m, size) = ((b.low + b.high) * 0.5, b.high - b.low);
    let section = Contour::rect(Point::new(m.x, m.y), size.x, size.y, 0.0);
    Piece::new(Core::Prism { section, from: b.low.d, to: b.high.d, pose: Pose::IDENTITY }, 0.0, 0.0)
}

/// How far a point is from a prism (below zero: how deep in it), and the nearest point of its surface.
pub(super) fn to(p: Vec3, section: &Contour, (from, to): (f64, f64), pose: &Pose) -> Option<(f64, Vec3)> {
    let local = pose.back(p - pose.origin());
    let flat = Point::new(local.x, local.y);
    let near = point_contour(flat, section);
    let beside = if near.relation == Relation::Inside { -near.distance } else { near.distance };
    let before = (from - local.d).max(local.d - to);
    if beside.is_nan() || before.is_nan() {
        return None;
    }
    let gap = product([beside, before]);
    let level = local.d.clamp(from, to);
    let (foot, level) = if gap >= 0.0 {
        (if beside > 0.0 { near.at[1] } else { flat }, level)
    } else if beside >= before {
        (near.at[1], level)
    } else {
        (flat, if local.d - from < to - local.d { from } else { to })
    };
    Some((gap, pose.point(Vec3::new(foot.x, foot.y, level))))
}

/// Two prisms along one depth axis: the gap of their sections and the gap in depth are the sides of a right angle.
pub(super) fn gap(a: &Piece, b: &Piece) -> Option<Gap> {
    let Core::Prism { section: s, from: f, to: t, pose: p } = &a.core else { return None };
    let Core::Prism { section: r, from: g, to: u, pose: q } = &b.core else { return None };
    if p.columns() != q.columns() || a.radius != 0.0 || b.radius != 0.0 {
        return None;
    }
    // the second in the axes of the first
    let off = p.back(q.origin() - p.origin());
    let laid;
    let r = if off.x == 0.0 && off.y == 0.0 {
        r
    } else {
        laid = Transform::shift(Vec2::new(off.x, off.y)).contour(r);
        &laid
    };
    let (one, two) = ((*f, *t), (g + off.d, u + off.d));
    let flat = distance::contours(s, r);
    if flat.distance.is_nan() {
        return None;
    }
    let before = apart(one, two);
    let beside = match flat.relation.overlaps() {
        false => flat.distance,
        true if before >= 0.0 => 0.0,
        true => -penetration(s, r).filter(|d| d.exact)?.depth,
    };
    let gap = product([beside, before]);
    let (from, to) = levels(one, two);
    let [m, n] = flat.at;
    // one before the other: a point that both have seen from the front; of outlines that cross any common one
    let (m, n) = match flat.relation {
        Relation::Inside => (m, m),
        Relation::Outside | Relation::Coincident | Relation::Crossing => (n, n),
        Relation::Apart | Relation::Touching => (m, n),
    };
    let points = [Vec3::new(m.x, m.y, from), Vec3::new(n.x, n.y, to)].map(|v| p.point(v));
    Some(Gap { lower: gap, upper: gap, points })
}
