//! The outline of everything within a distance of a shape, or deeper than it inside: what a tool's centre
//! follows. Lines stay lines, arcs stay arcs; corners that the tool rounds become arcs.
//!
//! Circles by closed form; the rest by `cavalier_contours`. Every result is measured against the outline it
//! came from: one that is not at its distance to [`WITHIN`] is not given out.

use super::{Contour, bulge, distance};
use cavalier_contours::polyline::{PlineSource, Polyline};

/// How far from its distance a result may be, mm: the library was measured at 2e-7 in its worst family.
pub const WITHIN: f64 = 1e-5;

/// Why there is no offset.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OffsetError {
    /// The distance is not finite.
    NotFinite,
    /// Nothing of the shape is left.
    Nothing,
    /// The result failed its measurement.
    Off {
        /// By how much, mm.
        by: f64,
    },
}

impl Contour {
    /// The outline moved outward by `by` mm, inward where it is negative; each piece counter-clockwise. An
    /// inward offset may fall into several pieces. Islands that an outward offset encloses are left out.
    ///
    /// # Errors
    /// Nothing is left, or the result does not hold its distance.
    pub fn offset(&self, by: f64) -> Result<Vec<Contour>, OffsetError> {
        if !by.is_finite() {
            return Err(OffsetError::NotFinite);
        }
        if by == 0.0 {
            return Ok(vec![self.ccw()]);
        }
        if let Some((centre, radius)) = self.as_circle() {
            let r = radius + by;
            return if r > super::SLACK {
                Ok(vec![Contour::circle(centre, r)])
            } else {
                Err(OffsetError::Nothing)
            };
        }
        // the library's positive side is the left one: inward for a counter-clockwise outline
        let made: Vec<Polyline<f64>> = bulge::to(self).parallel_offset(-by);
        let found: Vec<Contour> = made.iter().filter_map(bulge::from).filter(Contour::is_ccw).collect();
        if found.is_empty() {
            return Err(OffsetError::Nothing);
        }
        for c in &found {
            let off = (distance::contours(self, c).distance - by.abs()).abs();
            if off > WITHIN {
                return Err(OffsetError::Off { by: off });
            }
        }
        Ok(found)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Corner, Point};
    use std::f64::consts::PI;

    fn one(c: &Contour, by: f64) -> Contour {
        let found = c.offset(by).expect("offset");
        assert_eq!(found.len(), 1);
        found[0].clone()
    }

    /// Steiner's formula for a convex shape: area + perimeter d + pi d^2.
    #[test]
    fn areas_follow_steiner() {
        let corners = [Corner::Round(9.0), Corner::Sharp, Corner::Clip(7.0, 12.0), Corner::Round(25.0)];
        let convex = Contour::rect_corners(Point::new(30.0, -12.0), 120.0, 80.0, corners);
        for c in [convex, Contour::rect(Point::ORIGIN, 40.0, 30.0, 0.0), Contour::circle(Point::ORIGIN, 39.7)]
        {
            for d in [0.05, 0.1, 1.0, 7.5] {
                let grown = one(&c, d);
                let expected = c.area() + c.perimeter() * d + PI * d * d;
                assert!((grown.area() - expected).abs() < 1e-6, "{d}: {} {expected}", grown.area());
                // and back again: a shape of rounded corners comes back as it was
                assert!((one(&grown, -d).area() - c.area()).abs() < 1e-5);
            }
        }
    }

    #[test]
    fn arcs_stay_arcs() {
        let c = Contour::rect(Point::new(5.0, 5.0), 60.0, 40.0, 6.0);
        let inner = one(&c, -0.1);
        let radii: Vec<f64> = inner
            .segments()
            .iter()
            .filter_map(|s| if let crate::geom::Segment::Arc(a) = s { Some(a.radius) } else { None })
            .collect();
        assert_eq!((inner.segments().len(), radii.len()), (8, 4));
        assert!(radii.iter().all(|r| (r - 5.9).abs() < 1e-9), "{radii:?}");
        let hole = Contour::d_hole(Point::new(3.0, 4.0), 6.0, 5.0, false);
        assert_eq!(one(&hole, -0.2).segments().len(), 2);
    }

    #[test]
    fn narrow_shapes_fall_apart_or_vanish() {
        let p = |x: f64, y: f64| Point::new(x, y);
        let dumb_bell = Contour::polygon(&[
            p(0.0, 0.0),
            p(20.0, 0.0),
            p(20.0, 9.0),
            p(40.0, 9.0),
            p(40.0, 0.0),
            p(60.0, 0.0),
            p(60.0, 20.0),
            p(40.0, 20.0),
            p(40.0, 11.0),
            p(20.0, 11.0),
            p(20.0, 20.0),
            p(0.0, 20.0),
        ]);
        assert_eq!(dumb_bell.offset(-1.5).map(|v| v.len()), Ok(2));
        assert_eq!(dumb_bell.offset(-11.0), Err(OffsetError::Nothing));
        assert_eq!(Contour::circle(p(0.0, 0.0), 2.0).offset(-2.0), Err(OffsetError::Nothing));
        assert_eq!(dumb_bell.offset(f64::NAN), Err(OffsetError::NotFinite));
    }
}
