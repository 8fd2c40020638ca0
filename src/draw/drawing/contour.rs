//! A contour point by point: coordinates of each corner, and what leads to the next. Exact but for the rounding
//! of its numbers; an arc is told by radius, centre and way, so that no rounding is blown up.

use super::number::Print;
use crate::geom::Segment;

/// Rows of the table: point, x, y, what leads to the next point.
pub fn rows(pieces: &[Segment], print: Print) -> Vec<Vec<String>> {
    let n = |v: f64| print.number(v);
    let rows = pieces.iter().enumerate().map(|(k, s)| {
        let next = match s {
            Segment::Line(_) => "straight".to_owned(),
            Segment::Arc(a) => {
                let way = if a.sweep > 0.0 { "ccw" } else { "cw" };
                format!("R{} {way} about {}, {}", n(a.radius), n(a.centre.x), n(a.centre.y))
            }
        };
        vec![(k + 1).to_string(), n(s.start().x), n(s.start().y), next]
    });
    rows.collect()
}
