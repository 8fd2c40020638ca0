//! A closed sequence of lines and arcs: what a shop cuts and what DXF holds.

use super::{Point, Rect, SLACK, Segment, span};

/// A closed contour: at least one piece, each starting where the one before ends, no piece of zero
/// length, not crossing itself. Counter-clockwise when its area is positive.
#[derive(Clone, Debug, PartialEq)]
pub struct Contour {
    segments: Vec<Segment>,
    /// One box a piece; empty where a single piece makes `bounds` the only one.
    boxes: Vec<Rect>,
    bounds: Rect,
    circle: Option<(Point, f64)>,
}

impl Contour {
    /// Wraps pieces already known to be closed and simple (moved or built from checked ones).
    pub(crate) fn from_checked(segments: Vec<Segment>) -> Contour {
        let circle = match segments.first() {
            Some(Segment::Arc(first)) => segments
                .iter()
                .all(|s| matches!(s, Segment::Arc(a) if a.radius == first.radius && a.centre == first.centre))
                .then_some((first.centre, first.radius)),
            _ => None,
        };
        let boxes: Vec<Rect> =
            if segments.len() > 1 { segments.iter().map(Segment::bounds).collect() } else { Vec::new() };
        let bounds = match boxes.split_first() {
            Some((first, rest)) => rest.iter().fold(*first, |all, b| all.union(*b)),
            None => segments.first().map_or(Rect::ZERO, Segment::bounds),
        };
        Contour { segments, boxes, bounds, circle }
    }

    /// The pieces in order.
    pub fn segments(&self) -> &[Segment] {
        &self.segments
    }

    /// The pieces, each with its smallest upright box.
    pub(crate) fn boxed(&self) -> impl Iterator<Item = (&Segment, &Rect)> + Clone {
        let boxes = if self.boxes.is_empty() { std::slice::from_ref(&self.bounds) } else { &self.boxes[..] };
        self.segments.iter().zip(boxes)
    }

    /// Smallest upright box, exact to rounding.
    pub fn bounds(&self) -> Rect {
        self.bounds
    }

    /// The circle this contour is, if it is one (one full circle, or arcs of one and the same).
    #[inline]
    pub fn as_circle(&self) -> Option<(Point, f64)> {
        self.circle
    }

    /// The same contour walked the other way.
    pub fn reversed(&self) -> Contour {
        Contour {
            segments: self.segments.iter().rev().map(Segment::reversed).collect(),
            boxes: self.boxes.iter().rev().copied().collect(),
            bounds: self.bounds,
            circle: self.circle,
        }
    }

    /// Whether it runs counter-clockwise.
    pub fn is_ccw(&self) -> bool {
        self.signed_area() > 0.0
    }

    /// The same outline, walked counter-clockwise.
    pub fn ccw(&self) -> Contour {
        if self.is_ccw() { self.clone() } else { self.reversed() }
    }

    /// The same contour started at its piece number `first` (modulo their number).
    pub fn started_at(&self, first: usize) -> Contour {
        let n = self.segments.len().max(1);
        let mut turned = self.clone();
        turned.segments.rotate_left(first % n);
        if !turned.boxes.is_empty() {
            turned.boxes.rotate_left(first % n);
        }
        turned
    }

    /// The circle of which this contour follows more than half: a round cutout with a relief or a flat.
    /// Centre and radius; arcs count as one circle when both agree within [`SLACK`].
    pub fn main_circle(&self) -> Option<(Point, f64)> {
        let arcs = || {
            self.segments.iter().filter_map(|s| match s {
                Segment::Arc(a) => Some(a),
                Segment::Line(_) => None,
            })
        };
        arcs().find_map(|a| {
            let same = arcs().filter(|b| {
                span(a.centre, b.centre) <= SLACK
                    && (a.radius - b.radius).abs() <= SLACK
                    && a.sweep * b.sweep > 0.0
            });
            (same.map(|b| b.sweep.abs()).sum::<f64>() > std::f64::consts::PI).then_some((a.centre, a.radius))
        })
    }
}
