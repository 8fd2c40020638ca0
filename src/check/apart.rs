//! The relation *apart*: how far two parts are from each other. Exact to rounding.
//!
//! Overlap is told below zero: the least shift along the sheet that parts the two. Exact for convex shapes; for
//! others the true one lies between that of their hulls and nothing. Nothing is told of solids whose depths are
//! not known.
//!
//! Solids are prisms along the depth: with a flat gap g and a gap h between their depth ranges they
//! are sqrt(g² + h²) apart. A depth that is missing counts as the whole depth.

use super::From;
use super::Touch;
use super::judge::{Measure, Stack, loss};
use crate::geom::distance::{self, Relation};
use crate::geom::penetration::penetration;
use crate::geom::sweep::swept;
use crate::geom::{Gap, Point, Rect, SLACK, span};
use crate::panel::{Part, Play};

/// How a pair is measured.
#[derive(Clone, Copy, Debug)]
pub(super) struct How {
    pub measure: From,
    pub depth: bool,
    pub touch: Touch,
}

/// A value that the measure is certainly not below; cheap.
#[inline]
pub(super) fn at_least(a: &Part, b: &Part, how: How) -> f64 {
    let (box_a, box_b) = (a.contour.bounds(), b.contour.bounds());
    match how.measure {
        From::Boundary => {
            // a disc is nearer to its centre than its box
            let flat = match (a.contour.as_circle(), b.contour.as_circle()) {
                (Some((ca, ra)), Some((cb, rb))) => span(ca, cb) - ra - rb,
                (Some((c, r)), None) => to_box(c, &box_b) - r,
                (None, Some((c, r))) => to_box(c, &box_a) - r,
                (None, None) => distance::box_distance2(&box_a, &box_b).sqrt(),
            };
            if how.depth { (flat.max(0.0).powi(2) + depth_gap(a, b).powi(2)).sqrt() } else { flat }
        }
        From::Centre => to_box(a.centre, &box_b),
        From::Centres => span(a.centre, b.centre),
        From::Outlines => differ(&box_a, &box_b),
    }
}

fn to_box(p: Point, b: &Rect) -> f64 {
    distance::box_distance2(&Rect::from_points(p, p), b).sqrt()
}

/// Measures a pair; `None` if the parts are certainly farther than `limit`.
pub(super) fn measure(a: &Part, b: &Part, how: How, limit: f64) -> Option<Measure> {
    let stack = match how.measure {
        From::Boundary => Stack::Boundaries,
        From::Centre => Stack::PointBoundary,
        From::Centres => Stack::Points,
        From::Outlines => {
            let value = differ(&a.contour.bounds(), &b.contour.bounds());
            return Some(Measure {
                value,
                upper: value,
                worst: value,
                contact: false,
                at: [a.centre, b.centre],
            });
        }
    };
    let gap = match how.measure {
        From::Boundary | From::Outlines => distance::within(&a.contour, &b.contour, limit)?,
        From::Centre => {
            let gap = distance::point_contour(a.centre, &b.contour);
            // a centre on the other's rim is in it
            let inside = gap.relation != Relation::Apart;
            Gap { relation: if inside { Relation::Inside } else { Relation::Apart }, ..gap }
        }
        From::Centres => {
            let distance = span(a.centre, b.centre);
            let relation = if distance <= SLACK { Relation::Coincident } else { Relation::Apart };
            Gap { distance, relation, at: [a.centre, b.centre] }
        }
    };
    let flat = if gap.relation.overlaps() { 0.0 } else { gap.distance };
    let loss = loss(a, b, stack);
    let h = if how.depth { depth_gap(a, b) } else { 0.0 };
    let touches = gap.relation.overlaps() || (flat <= SLACK && how.touch == Touch::Fails);
    if h > SLACK {
        // the depths do not move with the tolerances of the outlines
        let worst = (flat - loss).max(0.0);
        let whole = |flat: f64| (flat * flat + h * h).sqrt();
        let value = whole(flat);
        return Some(Measure { value, upper: value, worst: whole(worst), contact: false, at: gap.at });
    }
    // two solids, one of which begins where the other ends, are in contact if they overlap flat
    let known = !how.depth || a.depth.is_some() && b.depth.is_some();
    let (value, upper) =
        if gap.relation.overlaps() && known { overlap(a, b, how.measure, &gap) } else { (flat, flat) };
    Some(Measure { value, upper, worst: value - loss, contact: touches, at: gap.at })
}

/// The same for a first part that may move against the second: over all that it sweeps.
pub(super) fn measure_moving(a: &Part, b: &Part, how: How, limit: f64, play: &Play) -> Option<Measure> {
    let mut nearest: Option<Measure> = None;
    let depth = a.depth.map(|range| play.deep(range));
    for contour in swept(&a.contour, play.flat()) {
        let there = Part { contour, depth, ..a.clone() };
        if at_least(&there, b, how) > limit {
            continue;
        }
        let Some(m) = measure(&there, b, how, limit) else { continue };
        let worse = |n: &Measure| (m.contact, -m.value) > (n.contact, -n.value);
        if nearest.as_ref().is_none_or(worse) {
            nearest = Some(m);
        }
    }
    nearest
}

/// The depth of an overlap, below zero: at least and at most.
fn overlap(a: &Part, b: &Part, measure: From, gap: &Gap) -> (f64, f64) {
    match measure {
        // a centre comes out at the nearest point of the rim
        From::Centre => (-gap.distance, -gap.distance),
        From::Boundary => match penetration(&a.contour, &b.contour) {
            Some(d) => (-d.depth, if d.exact { -d.depth } else { 0.0 }),
            None => (0.0, 0.0),
        },
        From::Centres | From::Outlines => (0.0, 0.0),
    }
}

/// Gap between two depth ranges; 0 where they overlap, touch, or one is missing.
pub(super) fn depth_gap(a: &Part, b: &Part) -> f64 {
    match (a.depth, b.depth) {
        (Some((a0, a1)), Some((b0, b1))) => (a0 - b1).max(b0 - a1).max(0.0),
        _ => 0.0,
    }
}

/// How much two outlines differ: the greatest difference of the sides of their upright boxes.
fn differ(a: &Rect, b: &Rect) -> f64 {
    let x = (a.x0 - b.x0).abs().max((a.x1 - b.x1).abs());
    x.max((a.y0 - b.y0).abs()).max((a.y1 - b.y1).abs())
}
