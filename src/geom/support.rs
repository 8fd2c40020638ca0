//! How far a shape reaches: in a direction, and from a point. Exact with arcs, to rounding.

use super::{Contour, Point, Segment, Vec2, length, span};

impl Contour {
    /// Greatest value of `p . direction` over the shape (`direction` need not be of unit length).
    pub fn support(&self, direction: Vec2) -> f64 {
        if let Some((centre, radius)) = self.as_circle() {
            return centre.to_vec2().dot(direction) + radius * length(direction);
        }
        self.segments().iter().map(|s| reach(s, direction)).fold(f64::NEG_INFINITY, f64::max)
    }

    /// Distance of the shape's point farthest from `from`.
    pub fn farthest(&self, from: Point) -> f64 {
        if let Some((centre, radius)) = self.as_circle() {
            return span(centre, from) + radius;
        }
        let far = |s: &Segment| {
            let end = span(from, s.start());
            match s {
                Segment::Line(_) => end,
                Segment::Arc(a) => {
                    let away = a.centre - from;
                    if away == Vec2::ZERO {
                        a.radius
                    } else if a.faces(away) {
                        length(away) + a.radius
                    } else {
                        end
                    }
                }
            }
        };
        self.segments().iter().map(far).fold(0.0, f64::max)
    }
}

/// Greatest `p . d` over a piece; its end counts as the next one's start.
fn reach(s: &Segment, d: Vec2) -> f64 {
    let end = s.start().to_vec2().dot(d);
    match s {
        Segment::Arc(a) if a.faces(d) => a.centre.to_vec2().dot(d) + a.radius * length(d),
        _ => end,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::angle;

    #[test]
    fn reaches_of_arcs_and_corners() {
        let o = Point::new(2.0, 3.0);
        let slot = Contour::slot(o, o + Vec2::new(10.0, 0.0), 1.5);
        assert!((slot.farthest(o) - 11.5).abs() < 1e-12);
        assert!((slot.farthest(o + Vec2::new(5.0, 0.0)) - 6.5).abs() < 1e-12);
        assert!((slot.support(Vec2::new(0.0, 2.0)) - 9.0).abs() < 1e-12);
        assert!((Contour::rect(o, 6.0, 8.0, 0.0).farthest(o) - 5.0).abs() < 1e-12);
        assert_eq!(Contour::circle(o, 4.0).farthest(o), 4.0);
        // from inside a bowed side the far point lies within the arc, not at its ends
        let d = Contour::d_hole(o, 5.0, 1.0, false);
        assert!((d.farthest(o - Vec2::new(0.0, 0.5)) - 5.5).abs() < 1e-12);
    }

    #[test]
    fn no_sampled_point_reaches_farther() {
        let c = Contour::d_hole(Point::new(-3.0, 1.0), 7.0, 2.0, false);
        let from = Point::new(4.0, -9.0);
        for k in 0..360 {
            let u = angle::unit(f64::from(k).to_radians());
            let seen = c
                .segments()
                .iter()
                .flat_map(|s| (0..=200).map(|i| s.at(f64::from(i) / 200.0)))
                .map(|p| p.to_vec2().dot(u))
                .fold(f64::NEG_INFINITY, f64::max);
            let told = c.support(u);
            assert!(told >= seen - 1e-12 && told - seen < 7.0 * (0.025f64).powi(2), "{k}: {told} {seen}");
        }
        let seen = c
            .segments()
            .iter()
            .flat_map(|s| (0..=200).map(|i| span(from, s.at(f64::from(i) / 200.0))))
            .fold(0.0, f64::max);
        assert!(c.farthest(from) >= seen - 1e-12 && c.farthest(from) - seen < 1e-2);
    }
}
