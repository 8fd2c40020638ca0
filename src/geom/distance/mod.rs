//! Least distance between two contours, and how they lie to each other.
//!
//! Exact to rounding (below 1e-9 mm at panel size): every pair of pieces has a closed form, nothing
//! is tessellated. The distance is between the two *outlines*, 0 where they cross or touch; when one
//! shape lies inside the other, [`Relation`] says so and the distance is still that of the outlines.
//! Contact means within [`SLACK`]; an overlap thinner than that is contact, not crossing.

mod arc_arc;
mod circles;
mod line_arc;
mod line_line;
mod point;
mod relation;

pub use point::point_contour;
pub(crate) use point::point_segment;
pub(crate) use relation::{cuts, probes};

use super::{Contour, Point, Rect, SLACK, Segment};

/// How a first shape lies to a second one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Relation {
    /// No common point.
    Apart,
    /// The outlines meet, the insides do not.
    Touching,
    /// Each has a part inside and a part outside the other.
    Crossing,
    /// The first lies in the second; the outlines may touch (distance 0).
    Inside,
    /// The first contains the second; the outlines may touch (distance 0).
    Outside,
    /// One and the same outline.
    Coincident,
}

impl Relation {
    /// The relation of the second shape to the first.
    pub fn flipped(self) -> Relation {
        match self {
            Relation::Inside => Relation::Outside,
            Relation::Outside => Relation::Inside,
            other => other,
        }
    }

    /// Whether the insides share metal.
    pub fn overlaps(self) -> bool {
        !matches!(self, Relation::Apart | Relation::Touching)
    }
}

/// The answer about two contours, or about a point and a contour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    /// Millimetres between the outlines; 0 where they meet. NaN if an input was not finite.
    pub distance: f64,
    /// How the first lies to the second.
    pub relation: Relation,
    /// A nearest point on the first and on the second outline.
    pub at: [Point; 2],
}

impl Gap {
    /// The same answer with the two swapped.
    pub fn flipped(self) -> Gap {
        Gap { relation: self.relation.flipped(), at: [self.at[1], self.at[0]], ..self }
    }
}

/// Least distance of two outlines and how the shapes lie to each other.
pub fn contours(a: &Contour, b: &Contour) -> Gap {
    match (a.as_circle(), b.as_circle()) {
        (Some(a), Some(b)) => circles::gap(a, b),
        _ => {
            let mut near = Near::within(f64::INFINITY);
            near.search(a, b);
            related(a, b, near)
        }
    }
}

/// The same if the two *shapes* are at most `limit` (and slack) apart, None if they are farther
/// (quick). Shapes of which one contains the other are never far, whatever the distance of their outlines.
pub fn within(a: &Contour, b: &Contour, limit: f64) -> Option<Gap> {
    if let (Some(a), Some(b)) = (a.as_circle(), b.as_circle()) {
        return circles::within(a, b, limit);
    }
    let limit = usable(limit);
    if box_distance2(&a.bounds(), &b.bounds()) > limit * limit {
        return None;
    }
    let mut near = Near::within(limit);
    near.search(a, b);
    if near.found {
        return Some(related(a, b, near));
    }
    nested(a, b).then(|| contours(a, b))
}

/// Whether [`within`] would find anything; quicker, since it does not tell how the two lie.
pub(crate) fn near(a: &Contour, b: &Contour, limit: f64) -> bool {
    if let (Some(a), Some(b)) = (a.as_circle(), b.as_circle()) {
        return circles::within(a, b, limit).is_some();
    }
    let limit = usable(limit);
    if box_distance2(&a.bounds(), &b.bounds()) > limit * limit {
        return false;
    }
    // the inside is asked first: what lies deep in the other is met oftener than its rim
    nested(a, b) || {
        let mut near = Near::within(limit);
        near.search(a, b);
        near.found
    }
}

/// Whether one shape has a corner in the other: of two outlines that are apart, whether one lies in the other.
fn nested(a: &Contour, b: &Contour) -> bool {
    a.segments().first().is_some_and(|s| b.holds(s.start()))
        || b.segments().first().is_some_and(|s| a.holds(s.start()))
}

/// The same if the two *outlines* are at most `limit` apart, None if they are farther, whichever way
/// the shapes lie (quicker than [`within`] for a shape inside a large outline).
pub(crate) fn outlines_within(a: &Contour, b: &Contour, limit: f64) -> Option<Gap> {
    if let (Some(a), Some(b)) = (a.as_circle(), b.as_circle()) {
        let near = |gap: &Gap| gap.distance <= usable(limit) || gap.distance.is_nan();
        return circles::within(a, b, limit).filter(near);
    }
    // a circle whose centre is far from the other outline is far from it: cheaper than the circle itself
    if let (Some((centre, radius)), None) | (None, Some((centre, radius))) = (a.as_circle(), b.as_circle()) {
        let other = if a.as_circle().is_some() { b } else { a };
        if point::point_outline(centre, other).distance() - radius > usable(limit) + SLACK {
            return None;
        }
    }
    let mut near = Near::within(usable(limit));
    near.search(a, b);
    near.found.then(|| related(a, b, near))
}

/// The limit with slack, so that contact is found at limit 0. One below zero asks for contact; one
/// that is no number must not hide anything.
#[inline]
fn usable(limit: f64) -> f64 {
    if limit.is_nan() { f64::INFINITY } else { limit.max(0.0) + SLACK }
}

fn related(a: &Contour, b: &Contour, near: Near) -> Gap {
    if !near.found {
        // only numbers that are not finite compare as nothing
        return Gap { distance: f64::NAN, relation: Relation::Crossing, at: near.at };
    }
    let distance = near.distance();
    if distance <= SLACK {
        return Gap { distance: 0.0, relation: relation::in_contact(a, b), at: near.at };
    }
    let relation = if b.holds(near.at[0]) {
        Relation::Inside
    } else if a.holds(near.at[1]) {
        Relation::Outside
    } else {
        Relation::Apart
    };
    Gap { distance, relation, at: near.at }
}

/// Square of the distance between two boxes.
#[inline]
pub(crate) fn box_distance2(a: &Rect, b: &Rect) -> f64 {
    let dx = (a.x0 - b.x1).max(b.x0 - a.x1).max(0.0);
    let dy = (a.y0 - b.y1).max(b.y0 - a.y1).max(0.0);
    dx * dx + dy * dy
}

/// The nearest pair of points so far.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Near {
    /// Square of their distance, or of the limit below which pairs count.
    d2: f64,
    /// Whether a pair was found.
    pub found: bool,
    /// The pair.
    pub at: [Point; 2],
}

impl Near {
    /// Nothing yet; pairs farther than `limit` do not count.
    pub fn within(limit: f64) -> Near {
        // a hair more than the limit, so that a pair at exactly the limit is found
        Near { d2: limit * limit * (1.0 + 1e-12) + f64::MIN_POSITIVE, found: false, at: [Point::ORIGIN; 2] }
    }

    /// Distance of the pair, or the limit.
    pub fn distance(&self) -> f64 {
        self.d2.sqrt()
    }

    #[inline]
    fn offer(&mut self, p: Point, q: Point) {
        let d2 = (q - p).hypot2();
        if d2 < self.d2 {
            *self = Near { d2, found: true, at: [p, q] };
        }
    }

    /// A common point.
    #[inline]
    fn meet(&mut self, p: Point) {
        self.offer(p, p);
    }

    fn flip(&mut self) {
        self.at.swap(0, 1);
    }

    /// Takes in two pieces.
    #[inline]
    fn pair(&mut self, a: &Segment, b: &Segment) {
        match (a, b) {
            (Segment::Line(a), Segment::Line(b)) => line_line::nearest(a, b, self),
            (Segment::Line(a), Segment::Arc(b)) => line_arc::nearest(a, b, self),
            (Segment::Arc(a), Segment::Line(b)) => {
                self.flip();
                line_arc::nearest(b, a, self);
                self.flip();
            }
            (Segment::Arc(a), Segment::Arc(b)) => arc_arc::nearest(a, b, self),
        }
    }

    /// Takes in all pieces of two contours. The pair with the nearest boxes goes first, so that most
    /// of the others are passed over by their boxes alone.
    fn search(&mut self, a: &Contour, b: &Contour) {
        let (box_a, box_b) = (a.bounds(), b.bounds());
        // a shape well within a plate's outline is near none of its pieces
        if a.segments().len() > 1 && !b.boxed().any(|(_, tb)| box_distance2(tb, &box_a) < self.d2) {
            return;
        }
        let mut best = (self.d2, None);
        for (s, sb) in a.boxed() {
            if box_distance2(sb, &box_b) > best.0 {
                continue;
            }
            for (t, tb) in b.boxed() {
                let d2 = box_distance2(sb, tb);
                if d2 < best.0 {
                    best = (d2, Some((s, t)));
                }
            }
        }
        // no two boxes are near enough to count
        let Some((s, t)) = best.1 else { return };
        self.pair(s, t);
        for (s, sb) in a.boxed() {
            if box_distance2(sb, &box_b) >= self.d2 {
                continue;
            }
            for (t, tb) in b.boxed() {
                if box_distance2(tb, &box_a) < self.d2 && box_distance2(sb, tb) < self.d2 {
                    self.pair(s, t);
                }
            }
        }
    }
}

/// Nearest points of two pieces.
pub(crate) fn pair(a: &Segment, b: &Segment) -> Near {
    let mut near = Near::within(f64::INFINITY);
    near.pair(a, b);
    near
}

#[cfg(test)]
mod tests;
