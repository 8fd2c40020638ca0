//! A closed sequence of lines and arcs: what a shop cuts and what DXF holds.

use super::{Arc, Point, Rect, SLACK, Segment, Vec2, angle, span};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// A closed contour: at least one piece, each starting where the one before ends, no piece of zero
/// length, not crossing itself. Counter-clockwise when its area is positive.
#[derive(Clone, Debug, PartialEq)]
pub struct Contour {
    segments: Vec<Segment>,
    bounds: Rect,
}

/// Why pieces do not make a contour.
#[derive(Clone, Debug, PartialEq)]
pub enum ContourError {
    /// There are none.
    Empty,
    /// A number is not finite.
    NotFinite {
        /// Index of the piece.
        piece: usize,
    },
    /// A piece has no length.
    ZeroLength {
        /// Index of the piece.
        piece: usize,
        /// Where it stands.
        at: Point,
    },
    /// The end of one piece is not the start of the next.
    Open {
        /// Index of the piece that ends too early.
        piece: usize,
        /// Its end.
        at: Point,
        /// Millimetres to the start of the next.
        gap: f64,
    },
    /// Two pieces meet elsewhere than at their common end.
    SelfCrossing {
        /// Where they meet.
        at: Point,
        /// Indices of the two pieces.
        pieces: (usize, usize),
    },
    /// It encloses nothing.
    NoArea,
}

impl Contour {
    /// Wraps pieces already known to be closed and simple (moved or built from checked ones).
    pub(crate) fn from_checked(segments: Vec<Segment>) -> Contour {
        let mut bounds = segments[0].bounds();
        for s in &segments[1..] {
            bounds = bounds.union(s.bounds());
        }
        Contour { segments, bounds }
    }

    /// The pieces in order.
    pub fn segments(&self) -> &[Segment] {
        &self.segments
    }

    /// Smallest upright box, exact to rounding.
    pub fn bounds(&self) -> Rect {
        self.bounds
    }

    /// A full circle, counter-clockwise. `radius` must be above zero.
    pub fn circle(centre: Point, radius: f64) -> Contour {
        Contour::from_checked(vec![Segment::Arc(Arc::new(centre, radius, 0.0, TAU))])
    }

    /// An upright rectangle with corners rounded by `corner` (0 for sharp; at most half the shorter
    /// side), counter-clockwise from the lower left.
    pub fn rect(centre: Point, width: f64, height: f64, corner: f64) -> Contour {
        let r = corner.clamp(0.0, width.min(height) / 2.0);
        let (w, h) = (width / 2.0, height / 2.0);
        let mut pieces = Vec::with_capacity(8);
        // corner centres counter-clockwise from the lower right, with the start angle of their arc
        let corners = [(w, -h, -FRAC_PI_2), (w, h, 0.0), (-w, h, FRAC_PI_2), (-w, -h, PI)];
        let ends = |k: usize| {
            let (x, y, _) = corners[k];
            let c = centre + Vec2::new(x - r * x.signum(), y - r * y.signum());
            let n = [Vec2::new(0.0, -1.0), Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0), Vec2::new(-1.0, 0.0)];
            (c, c + n[k] * r, c + n[(k + 1) % 4] * r)
        };
        let mut from = ends(3).2;
        for (k, corner) in corners.iter().enumerate() {
            let (c, a, b) = ends(k);
            if span(from, a) > SLACK {
                pieces.push(Segment::line(from, a));
            }
            if r > 0.0 {
                pieces.push(Segment::Arc(Arc { centre: c, radius: r, start: angle::normalise(corner.2), sweep: FRAC_PI_2, a, b }));
            }
            from = b;
        }
        // the first straight starts bit for bit where the last piece ends
        Contour::from_checked(pieces)
    }

    /// A polygon through the points in order. The caller knows that they are three or more, distinct
    /// and simple; unchecked input goes through [`Contour::new`].
    pub fn polygon(points: &[Point]) -> Contour {
        let n = points.len();
        Contour::from_checked((0..n).map(|k| Segment::line(points[k], points[(k + 1) % n])).collect())
    }

    /// The circle this contour is, if it is one.
    pub fn as_circle(&self) -> Option<(Point, f64)> {
        let first = match self.segments[0] {
            Segment::Arc(a) => a,
            Segment::Line(_) => return None,
        };
        let all = self.segments.iter().all(|s| match s {
            Segment::Arc(a) => a.radius == first.radius && a.centre == first.centre,
            Segment::Line(_) => false,
        });
        all.then_some((first.centre, first.radius))
    }

    /// The same contour walked the other way.
    pub fn reversed(&self) -> Contour {
        Contour { segments: self.segments.iter().rev().map(Segment::reversed).collect(), bounds: self.bounds }
    }
}
