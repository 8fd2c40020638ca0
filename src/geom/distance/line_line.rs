//! Two straights: 0 where they cross, else the least of the four end-to-straight distances. Exact to
//! rounding; straights that run together are caught by their ends.

use super::Near;
use super::point::on_line;
use crate::geom::Line;

#[inline]
pub(super) fn nearest(a: &Line, b: &Line, near: &mut Near) {
    let (da, db) = (a.b - a.a, b.b - b.a);
    let (o1, o2) = (da.cross(b.a - a.a), da.cross(b.b - a.a));
    let (o3, o4) = (db.cross(a.a - b.a), db.cross(a.b - b.a));
    if (o1 < 0.0) != (o2 < 0.0) && (o3 < 0.0) != (o4 < 0.0) && o3 != o4 {
        near.meet(a.a + da * (o3 / (o3 - o4)));
        return;
    }
    for p in [a.a, a.b] {
        near.offer(p, on_line(p, b));
    }
    for q in [b.a, b.b] {
        near.offer(on_line(q, a), q);
    }
}
