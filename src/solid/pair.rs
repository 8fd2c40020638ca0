//! Pairs of pieces with a closed form: exact to rounding.

use super::{Core, Gap, Piece, Pose, Vec3};
use crate::geom::distance;

/// The gap of two pieces where a closed form knows it.
pub(super) fn gap(a: &Piece, b: &Piece) -> Option<Gap> {
    match (&a.core, &b.core) {
        (Core::Points(p), Core::Points(q)) if p.len() <= 2 && q.len() <= 2 => {
            let line = |p: &[Vec3]| (p[0], p[p.len() - 1]);
            (!p.is_empty() && !q.is_empty()).then(|| straights(a, line(p), b, line(q)))?
        }
        (
            Core::Prism { section: s, from: f, to: t, pose: p },
            Core::Prism { section: r, from: g, to: u, pose: q },
        ) if *p == Pose::IDENTITY && *q == Pose::IDENTITY && a.radius == 0.0 && b.radius == 0.0 => {
            aligned(distance::contours(s, r), (*f, *t), (*g, *u))
        }
        _ => None,
    }
}

/// Two prisms along one depth axis: the gap of their sections and the gap in depth are the sides of a right angle.
/// Overlaps are left to the general way.
fn aligned(flat: crate::geom::Gap, a: (f64, f64), b: (f64, f64)) -> Option<Gap> {
    let beside = if flat.relation.overlaps() { 0.0 } else { flat.distance };
    let apart = (b.0 - a.1).max(a.0 - b.1);
    if beside <= 0.0 && apart <= 0.0 {
        return None;
    }
    let [p, q] = flat.at;
    let (dp, dq) = if b.0 > a.1 {
        (a.1, b.0)
    } else if a.0 > b.1 {
        (a.0, b.1)
    } else {
        let level = (a.0.max(b.0) + a.1.min(b.1)) / 2.0;
        (level, level)
    };
    // one above the other: any point that both have seen from the front will do
    let (p, q) = if beside > 0.0 { (p, q) } else { (q, q) };
    let gap = (beside * beside + apart.max(0.0) * apart.max(0.0)).sqrt();
    Some(Gap { lower: gap, upper: gap, points: [Vec3::new(p.x, p.y, dp), Vec3::new(q.x, q.y, dq)] })
}

/// Two straights, rounded: the nearest points of two segments (or points).
fn straights(a: &Piece, (p0, p1): (Vec3, Vec3), b: &Piece, (q0, q1): (Vec3, Vec3)) -> Option<Gap> {
    let (u, v, w) = (p1 - p0, q1 - q0, p0 - q0);
    let (uu, vv, uv, uw, vw) = (u.dot(u), v.dot(v), u.dot(v), u.dot(w), v.dot(w));
    let clamp = |x: f64| if x.is_nan() { 0.0 } else { x.clamp(0.0, 1.0) };
    // of a point of one the nearest of the other
    let t_of = |s: f64| if vv > 0.0 { clamp((vw + uv * s) / vv) } else { 0.0 };
    let s_of = |t: f64| if uu > 0.0 { clamp((uv * t - uw) / uu) } else { 0.0 };
    let off = |s: f64, t: f64| (w + u * s - v * t).length();
    let det = uu * vv - uv * uv;
    let mut best: Option<(f64, f64, f64)> = None;
    let mut take = |s: f64, t: f64| {
        let d = off(s, t);
        if best.is_none_or(|(least, ..)| d < least) {
            best = Some((d, s, t));
        }
    };
    if det > 1e-12 * uu * vv {
        let s = clamp((uv * vw - vv * uw) / det);
        let t = t_of(s);
        take(s_of(t), t);
    }
    for end in [0.0, 1.0] {
        take(end, t_of(end));
        take(s_of(end), end);
    }
    let (d, s, t) = best?;
    let n = (q0 + v * t - p0 - u * s).unit()?;
    let gap = d - a.radius - b.radius;
    Some(Gap { lower: gap, upper: gap, points: [p0 + u * s + n * a.radius, q0 + v * t - n * b.radius] })
}
