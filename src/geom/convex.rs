//! Whether a shape is convex: no joint turns back and no arc bows inwards. Exact, but for joints that turn
//! back by less than a nanoradian, which are rounding.

use super::{Contour, Point, SLACK, Segment, Vec2, length, span};

/// Sine of the turn below which two pieces join smoothly.
const STRAIGHT: f64 = 1e-9;

impl Contour {
    /// Whether the shape holds the straight between any two of its points.
    pub fn is_convex(&self) -> bool {
        if self.as_circle().is_some() {
            return true;
        }
        // a simple outline is convex if all of its turns go one way, joints and arcs alike
        let (mut left, mut right) = (false, false);
        let pieces = self.segments();
        for (s, next) in pieces.iter().zip(pieces.iter().cycle().skip(1)) {
            let (from, to) = (leaves(s), arrives(next));
            let (sine, cosine) = (from.cross(to), from.dot(to));
            if sine * sine > STRAIGHT * STRAIGHT * from.hypot2() * to.hypot2() {
                left |= sine > 0.0;
                right |= sine < 0.0;
            } else if cosine < 0.0 {
                // a joint that turns right round is a spike, in or out
                return false;
            }
            if let Segment::Arc(a) = s {
                left |= a.sweep > 0.0;
                right |= a.sweep < 0.0;
            }
            if left && right {
                return false;
            }
        }
        true
    }

    /// The convex polygon around points (Andrew's chain of turns, 1979); none where they lie on a line.
    pub fn around(mut points: Vec<Point>) -> Option<Contour> {
        points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
        points.dedup_by(|a, b| span(*a, *b) <= SLACK);
        let half = |points: &mut dyn Iterator<Item = &Point>| {
            let mut chain: Vec<Point> = Vec::new();
            for p in points {
                while let [.., a, b] = chain.as_slice()
                    && (*b - *a).cross(*p - *b) <= SLACK * length(*b - *a)
                {
                    chain.pop();
                }
                chain.push(*p);
            }
            chain.pop();
            chain
        };
        let mut corners = half(&mut points.iter());
        corners.extend(half(&mut points.iter().rev()));
        let contour = (corners.len() >= 3).then(|| Contour::polygon(&corners))?;
        (contour.area() > SLACK).then_some(contour)
    }
}

/// Direction of travel at the start, of any length.
fn arrives(s: &Segment) -> Vec2 {
    match s {
        Segment::Line(l) => l.b - l.a,
        Segment::Arc(a) => across(a.a - a.centre, a.sweep),
    }
}

/// Direction of travel at the end, of any length.
fn leaves(s: &Segment) -> Vec2 {
    match s {
        Segment::Line(l) => l.b - l.a,
        Segment::Arc(a) => across(a.b - a.centre, a.sweep),
    }
}

fn across(radius: Vec2, sweep: f64) -> Vec2 {
    if sweep >= 0.0 { Vec2::new(-radius.y, radius.x) } else { Vec2::new(radius.y, -radius.x) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Corner, Transform};

    #[test]
    fn known_shapes() {
        let p = |x: f64, y: f64| Point::new(x, y);
        let o = Point::ORIGIN;
        let clip = Contour::rect_corners(
            o,
            60.0,
            40.0,
            [Corner::Round(3.0), Corner::Sharp, Corner::Clip(5.0, 9.0), Corner::Sharp],
        );
        let whole = [
            Contour::circle(o, 3.0),
            Contour::rect(o, 5.0, 4.0, 0.0),
            Contour::rect(o, 5.0, 4.0, 1.0),
            clip,
            Contour::slot(o, p(4.0, 7.0), 2.0),
            Contour::d_hole(o, 6.0, 4.0, true),
            // a point in the middle of a side
            Contour::polygon(&[p(0.0, 0.0), p(3.0, 0.0), p(9.0, 0.0), p(9.0, 5.0)]),
        ];
        let l =
            Contour::polygon(&[p(0.0, 0.0), p(9.0, 0.0), p(9.0, 2.0), p(2.0, 2.0), p(2.0, 9.0), p(0.0, 9.0)]);
        let bite =
            Contour::rect(o, 60.0, 40.0, 6.0).without(&Contour::circle(p(30.0, 3.0), 9.0)).expect("bite")[0]
                .clone();
        let key = Contour::circle(o, 20.0).union(&Contour::rect(p(0.0, 20.0), 6.0, 6.0, 0.0)).expect("key")
            [0]
        .clone();
        for turn in [0.0, 33.0, 90.0] {
            for mirror in [false, true] {
                let t = Transform::place(p(3.0, -9.0), turn, mirror);
                for c in &whole {
                    assert!(t.contour(c).is_convex() && t.contour(c).reversed().is_convex(), "{c:?}");
                }
                for c in [&l, &bite, &key] {
                    assert!(!t.contour(c).is_convex() && !t.contour(c).reversed().is_convex(), "{c:?}");
                }
            }
        }
    }
}
