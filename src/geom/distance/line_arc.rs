//! A straight and an arc: 0 where they cross; else the perpendicular foot from the centre, or an end
//! of one against the other. Exact to rounding.

use super::Near;
use super::point::{on_arc, on_line};
use crate::geom::{Arc, Line, length};

#[inline]
pub(super) fn nearest(l: &Line, arc: &Arc, near: &mut Near) {
    for p in [l.a, l.b] {
        near.offer(p, on_arc(p, arc));
    }
    for q in [arc.a, arc.b] {
        near.offer(on_line(q, l), q);
    }
    let d = l.b - l.a;
    let len = length(d);
    if len <= 0.0 {
        return;
    }
    let u = d / len;
    let along = (arc.centre - l.a).dot(u);
    let foot = l.a + u * along;
    let to_foot = foot - arc.centre;
    let h = length(to_foot);
    if h >= arc.radius {
        if along > 0.0 && along < len && arc.faces(to_foot) {
            near.offer(foot, arc.centre + to_foot * (arc.radius / h));
        }
    } else {
        let half = ((arc.radius - h) * (arc.radius + h)).sqrt();
        for t in [along - half, along + half] {
            let p = l.a + u * t;
            if t >= 0.0 && t <= len && arc.faces(p - arc.centre) {
                near.meet(p);
            }
        }
    }
}
