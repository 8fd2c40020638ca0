//! Contours on a stated grid: corners, centres, diameters and radii rounded, counted from the panel's origin. Only
//! proposed.

use super::proposal::{Kind, Proposal};
use super::sort::Sorted;
use crate::cut::mm;
use crate::geom::{Arc, Contour, Point, SLACK, Segment, Vec2, length, span};
use crate::units::fmt_mm;

/// A tangent joint: sine of the angle at most.
const SMOOTH: f64 = 1e-4;

/// A proposal for every contour that is not on the grid and can be put there; its id names the contour.
pub fn proposals(sorted: &Sorted, origin: Point, grid: f64) -> Vec<Proposal> {
    let own = sorted.outline.iter().map(|p| (None, p));
    own.chain(sorted.openings.iter().enumerate().map(|(k, p)| (Some(k), p)))
        .filter_map(|(target, p)| {
            let who = if target.is_none() { "outline" } else { p.id.as_str() };
            let (contour, off) = rounded(&p.contour, origin, grid)?;
            let says = match contour.as_circle() {
                Some((c, r)) => {
                    let at = c - origin;
                    let (x, y, d) = (fmt(at.x), fmt(at.y), fmt_mm(2.0 * r));
                    format!("{who}: diameter {d} at ({x}, {y}), moved by at most {}", mm(off))
                }
                None => format!("{who}: corners and radii to {}, moved by at most {}", fmt_mm(grid), mm(off)),
            };
            let replace = vec![(target, contour)];
            Some(Proposal {
                id: format!("grid-{who}"),
                kind: Kind::Grid,
                says,
                off,
                replace,
                accepted: false,
            })
        })
        .collect()
}

fn fmt(v: f64) -> String {
    fmt_mm(v).trim_end_matches(" mm").to_owned()
}

/// The contour on the grid and how far a corner, an edge of the circle or a radius moved; None where it is there
/// already, or an arc is no fillet between straights.
fn rounded(c: &Contour, origin: Point, grid: f64) -> Option<(Contour, f64)> {
    let near = |v: f64| (v / grid).round() * grid;
    let onto = |p: Point| origin + Vec2::new(near(p.x - origin.x), near(p.y - origin.y));
    if let Some((p, r)) = c.as_circle() {
        let (q, d) = (onto(p), near(2.0 * r));
        let off = span(p, q) + (d / 2.0 - r).abs();
        return (d > SLACK && off > SLACK).then(|| (Contour::circle(q, d / 2.0), off));
    }
    let corners = corners(c.segments())?;
    let new: Vec<(Point, f64)> = corners.iter().map(|(p, r)| (onto(*p), near(*r))).collect();
    let moved = corners.iter().zip(&new).map(|((p, r), (q, s))| span(*p, *q).max((r - s).abs()));
    let off = moved.fold(0.0, f64::max);
    if off <= SLACK {
        return None;
    }
    Some((Contour::new(filleted(&new)?).ok()?, off))
}

/// Corners of straights with the radius of the fillet there, 0 for a sharp one.
pub fn corners(pieces: &[Segment]) -> Option<Vec<(Point, f64)>> {
    let n = pieces.len();
    let mut out = Vec::new();
    for k in 0..n {
        let (before, s, after) = (&pieces[(k + n - 1) % n], &pieces[k], &pieces[(k + 1) % n]);
        match (before, s, after) {
            (Segment::Line(_), Segment::Line(l), _) => out.push((l.a, 0.0)),
            (_, Segment::Line(_), _) => {}
            (Segment::Line(a), Segment::Arc(arc), Segment::Line(b)) => {
                let (e, f) = ((a.b - a.a) / span(a.a, a.b), (b.b - b.a) / span(b.a, b.b));
                let radial = |p: Point| (p - arc.centre) / arc.radius;
                let smooth = radial(arc.a).dot(e).abs().max(radial(arc.b).dot(f).abs()) <= SMOOTH;
                let sine = e.cross(f);
                if !smooth || sine.abs() < 1e-3 || sine * arc.sweep <= 0.0 {
                    return None;
                }
                out.push((a.b + e * ((b.a - a.b).cross(f) / sine), arc.radius));
            }
            _ => return None,
        }
    }
    (out.len() >= 3).then_some(out)
}

/// A corner: where its fillet starts and ends, its centre and whether it turns left; both ends alike where it is sharp.
type Rounded = (Point, Point, Option<(Point, bool)>);

/// Straights between corners with their fillets; None where a fillet does not fit.
fn filleted(corners: &[(Point, f64)]) -> Option<Vec<Segment>> {
    let n = corners.len();
    let mut ends: Vec<Rounded> = Vec::with_capacity(n);
    for k in 0..n {
        let ((p, _), (q, r), (s, _)) = (corners[(k + n - 1) % n], corners[k], corners[(k + 1) % n]);
        let (e, f) = ((q - p) / span(p, q), (s - q) / span(q, s));
        if r <= SLACK {
            ends.push((q, q, None));
            continue;
        }
        let half = length(f - e) / 2.0;
        let away = (1.0 - half * half).max(0.0).sqrt();
        let reach = r * half / away;
        let centre = q + (f - e) / (2.0 * half) * (r / away);
        if !centre.is_finite() || !reach.is_finite() {
            return None;
        }
        ends.push((q - e * reach, q + f * reach, Some((centre, e.cross(f) > 0.0))));
    }
    let mut out = Vec::new();
    for k in 0..n {
        let (a, b, fillet) = ends[k];
        if let Some((centre, left)) = fillet {
            out.push(Segment::Arc(Arc::between(a, b, centre, left)));
        }
        let next = ends[(k + 1) % n].0;
        let along = corners[(k + 1) % n].0 - corners[k].0;
        match (next - b).dot(along) {
            d if d < -SLACK * length(along) => return None,
            _ if span(b, next) <= SLACK => {}
            _ => out.push(Segment::line(b, next)),
        }
    }
    Some(out)
}
