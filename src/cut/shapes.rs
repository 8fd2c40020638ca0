//! What kind of shape a closed contour is: a circle in several arcs, a circle drawn as chords.

use super::same::SAME;
use crate::geom::{Contour, Point, Segment, span};
use std::f64::consts::{PI, TAU};

/// A contour of arcs that all lie on one circle, once round, is that circle.
pub fn as_circle(pieces: &[Segment]) -> Option<Contour> {
    let Some(Segment::Arc(first)) = pieces.first() else { return None };
    let mut turn = 0.0;
    for s in pieces {
        match s {
            Segment::Arc(a)
                if span(a.centre, first.centre) <= SAME / 4.0
                    && (a.radius - first.radius).abs() <= SAME / 4.0
                    && a.sweep * first.sweep > 0.0 =>
            {
                turn += a.sweep.abs();
            }
            _ => return None,
        }
    }
    ((turn - TAU).abs() <= 1e-3).then(|| Contour::circle(first.centre, first.radius))
}

/// A circle that is drawn as chords.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chords {
    /// Its centre.
    pub centre: Point,
    /// Radius through the corners, mm.
    pub radius: f64,
    /// How many.
    pub count: usize,
    /// How far the chords leave the circle at most, mm.
    pub off: f64,
}

/// Fewest sides of a polygon that is taken for a circle: fewer are a bolt head, not a curve.
const FEWEST: usize = 12;

/// Whether a contour is a circle drawn as chords: straights alone, corners on one circle, turning the same way.
pub fn chords(c: &Contour) -> Option<Chords> {
    let pieces = c.segments();
    if pieces.len() < FEWEST || pieces.iter().any(|s| matches!(s, Segment::Arc(_))) {
        return None;
    }
    let centre = c.centroid();
    let radii: Vec<f64> = pieces.iter().map(|s| span(centre, s.start())).collect();
    let radius = radii.iter().sum::<f64>() / radii.len() as f64;
    let longest = pieces.iter().map(Segment::len).fold(0.0, f64::max);
    let round = radii.iter().all(|r| (r - radius).abs() <= 2.0 * SAME) && longest < 2.0 * radius * 0.5;
    let half = longest / 2.0;
    let off = radius - ((radius - half) * (radius + half)).max(0.0).sqrt();
    // once round: what a star or a spiral on the same circle would not be
    let full = c.perimeter() / (TAU * radius);
    (round && radius > 0.0 && (full - 1.0).abs() < 1.0 / PI / 4.0).then_some(Chords {
        centre,
        radius,
        count: pieces.len(),
        off,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Arc, angle};

    #[test]
    fn a_circle_in_two_arcs_and_one_in_chords() {
        let c = Point::new(7.0, -3.0);
        let arcs = [Segment::Arc(Arc::new(c, 5.0, 0.4, PI)), Segment::Arc(Arc::new(c, 5.0, 0.4 + PI, PI))];
        assert_eq!(as_circle(&arcs).and_then(|c| c.as_circle()), Some((c, 5.0)));
        let corners = |n: u32| -> Vec<Point> {
            (0..n).map(|k| c + angle::unit(f64::from(k) * TAU / f64::from(n)) * 40.0).collect()
        };
        let found = chords(&Contour::polygon(&corners(24))).unwrap();
        assert_eq!(found.count, 24);
        // closed form of the sagitta of one of 24 chords: r (1 - cos(pi/24))
        assert!((found.off - 40.0 * (1.0 - libm::cos(PI / 24.0))).abs() < 1e-9);
        assert!(chords(&Contour::polygon(&corners(6))).is_none(), "a hexagon is a hexagon");
        assert!(chords(&Contour::rect(c, 30.0, 20.0, 3.0)).is_none());
    }
}
