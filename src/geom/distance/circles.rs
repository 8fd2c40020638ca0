//! Two full circles: the line of centres tells all. Exact to rounding.

use super::{Gap, Relation};
use crate::geom::contacts;
use crate::geom::{Point, SLACK, Vec2, length, span};

/// [`gap`] if the two discs are at most `limit` apart; a far pair costs one square.
#[inline]
pub(super) fn within(a: (Point, f64), b: (Point, f64), limit: f64) -> Option<Gap> {
    let reach = a.1 + b.1 + super::usable(limit);
    // a hair more than the limit: a pair at exactly the limit is near
    if (b.0 - a.0).hypot2() > reach * reach * (1.0 + 1e-12) {
        return None;
    }
    Some(gap(a, b))
}

pub(super) fn gap(a: (Point, f64), b: (Point, f64)) -> Gap {
    let ((ca, ra), (cb, rb)) = (a, b);
    let d = span(ca, cb);
    let u = if d > 0.0 { (cb - ca) / d } else { Vec2::new(1.0, 0.0) };
    let answer = |distance: f64, relation, side_a: f64, side_b: f64| Gap {
        distance: if distance <= SLACK { 0.0 } else { distance },
        relation,
        at: [ca + u * (side_a * ra), cb + u * (side_b * rb)],
    };
    let (apart, a_in, b_in) = (d - ra - rb, rb - ra - d, ra - rb - d);
    if d <= SLACK && (ra - rb).abs() <= SLACK {
        answer(0.0, Relation::Coincident, 1.0, 1.0)
    } else if apart > SLACK {
        answer(apart, Relation::Apart, 1.0, -1.0)
    } else if apart >= -SLACK {
        answer(0.0, Relation::Touching, 1.0, -1.0)
    } else if a_in >= -SLACK {
        answer(a_in, Relation::Inside, -1.0, -1.0)
    } else if b_in >= -SLACK {
        answer(b_in, Relation::Outside, 1.0, 1.0)
    } else if let Some((x, h)) = contacts::circles(d, ra, rb) {
        let p = ca + u * x + Vec2::new(-u.y, u.x) * h;
        Gap { distance: 0.0, relation: Relation::Crossing, at: [p, p] }
    } else {
        // not finite
        Gap {
            distance: if length(u).is_finite() { 0.0 } else { f64::NAN },
            relation: Relation::Crossing,
            at: [ca, cb],
        }
    }
}
