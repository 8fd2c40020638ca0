//! On which side of an outline a point lies, and whether one shape lies in another.
//!
//! Exact with arcs. Parity of crossings with a ray to the right: every outline is a closed chain of
//! heights that rise or fall, so the parity cannot be wrong by rounding of a joint; only points
//! nearer to the outline than rounding can fall on either side, and [`Contour::side_of`] calls those
//! Boundary.

use super::distance::{self, Relation};
use super::{Arc, Contour, Point, Segment};

/// On which side of an outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// In the shape.
    Inside,
    /// On the outline, to [`super::SLACK`].
    Boundary,
    /// Not in the shape.
    Outside,
}

/// Whether `inner` lies wholly in `outer`; the outlines may touch.
pub fn contains(outer: &Contour, inner: &Contour) -> bool {
    let (o, i) = (outer.bounds().inflate(super::SLACK, super::SLACK), inner.bounds());
    let boxed = o.x0 <= i.x0 && o.y0 <= i.y0 && o.x1 >= i.x1 && o.y1 >= i.y1;
    boxed && matches!(distance::contours(inner, outer).relation, Relation::Inside | Relation::Coincident)
}

impl Contour {
    /// Whether a point lies inside by parity; on the outline either answer is possible.
    pub(crate) fn holds(&self, p: Point) -> bool {
        if let Some((centre, radius)) = self.as_circle() {
            return (p - centre).hypot2() < radius * radius;
        }
        let mut inside = false;
        for (s, b) in self.boxed() {
            // a piece wholly above, below or to the left of the point is not met by the ray
            if p.y < b.y0 || p.y > b.y1 || p.x > b.x1 {
                continue;
            }
            inside ^= match s {
                Segment::Line(l) => {
                    (l.a.y > p.y) != (l.b.y > p.y)
                        && l.a.x + (p.y - l.a.y) * ((l.b.x - l.a.x) / (l.b.y - l.a.y)) > p.x
                }
                Segment::Arc(arc) => arc_crossings(arc, p),
            };
        }
        inside
    }
}

/// Whether the ray from `p` to the right meets an arc an odd number of times. The arc is cut at the
/// top and bottom of its circle into parts that rise (right half) or fall (left half).
fn arc_crossings(arc: &Arc, p: Point) -> bool {
    let (c, r) = (arc.centre, arc.radius);
    let (a, b) = if arc.sweep >= 0.0 { (arc.a, arc.b) } else { (arc.b, arc.a) };
    let dy = p.y - c.y;
    let half = ((r - dy) * (r + dy)).max(0.0).sqrt();
    let met = |from: f64, to: f64, right: bool| {
        let x = if right { c.x + half } else { c.x - half };
        (from > p.y) != (to > p.y) && x > p.x
    };
    let (top, bottom) = (c.y + r, c.y - r);
    let (a_right, b_right) = (a.x >= c.x, b.x >= c.x);
    // what lies ahead on the half where the arc starts, and on the other one
    let (ahead, back) = if a_right { (top, bottom) } else { (bottom, top) };
    if a_right != b_right {
        return met(a.y, ahead, a_right) ^ met(ahead, b.y, b_right);
    }
    // the same half: straight on if the end lies ahead, else once round
    let straight_on = if a_right { b.y > a.y } else { b.y < a.y };
    if straight_on {
        met(a.y, b.y, a_right)
    } else {
        met(a.y, ahead, a_right) ^ met(ahead, back, !a_right) ^ met(back, b.y, a_right)
    }
}
