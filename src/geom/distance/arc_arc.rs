//! Two arcs: 0 where they cross; else points on the line of centres that both arcs reach, or an end
//! of one against the other. Exact to rounding; arcs about one centre are caught by their ends.

use super::Near;
use super::point::on_arc;
use crate::geom::contacts::circles;
use crate::geom::{Arc, Vec2, length};

#[inline]
pub(super) fn nearest(a: &Arc, b: &Arc, near: &mut Near) {
    for p in [a.a, a.b] {
        near.offer(p, on_arc(p, b));
    }
    for q in [b.a, b.b] {
        near.offer(on_arc(q, a), q);
    }
    let between = b.centre - a.centre;
    let d = length(between);
    if d <= 0.0 {
        return;
    }
    let u = between / d;
    for v in [u, -u] {
        if !a.faces(v) {
            continue;
        }
        for w in [u, -u] {
            if b.faces(w) {
                near.offer(a.centre + v * a.radius, b.centre + w * b.radius);
            }
        }
    }
    if let Some((x, h)) = circles(d, a.radius, b.radius) {
        let n = Vec2::new(-u.y, u.x);
        for v in [u * x + n * h, u * x - n * h] {
            let p = a.centre + v;
            if a.faces(v) && b.faces(p - b.centre) {
                near.meet(p);
            }
        }
    }
}
