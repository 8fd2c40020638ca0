//! Straights and points, rounded: balls and the pieces of tubes.

use crate::solid::{Gap, Piece, Vec3};

/// The nearest points of two segments (or points), less both radii. Where the segments meet, the whole of both radii is
/// the depth: across their plane nothing else has to be passed.
pub(super) fn gap(a: &Piece, (p0, p1): (Vec3, Vec3), b: &Piece, (q0, q1): (Vec3, Vec3)) -> Option<Gap> {
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
    let (d, s, t) = best.filter(|(d, ..)| d.is_finite())?;
    let (p, q) = (p0 + u * s, q0 + v * t);
    let n = (q - p).unit().or_else(|| u.cross(v).unit()).or_else(|| across(u)).or_else(|| across(v));
    let n = n.unwrap_or(Vec3::FORWARD);
    let gap = d - a.radius - b.radius;
    Some(Gap { lower: gap, upper: gap, points: [p + n * a.radius, q - n * b.radius] })
}

/// Some direction across a straight.
fn across(u: Vec3) -> Option<Vec3> {
    let least =
        if u.x.abs() < 0.6 * u.length() { Vec3::new(1.0, 0.0, 0.0) } else { Vec3::new(0.0, 1.0, 0.0) };
    u.cross(least).unit()
}
