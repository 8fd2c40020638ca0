//! A contour that is its own mirror image: the axis of least squares, upright or level but for a small turn, with the
//! points of both halves in one fit.

use super::Run;
use super::joined::{Joined, joined};
use crate::cut::mm;
use crate::geom::{Contour, Point, Vec2, angle, span};
use std::f64::consts::FRAC_PI_2;

/// By how much the deviation of a point may grow, as a factor and in mm, for a contour to pass as symmetric.
/// (Common practice, no source.)
const GROWS: (f64, f64) = (1.5, 0.05);
/// Steps of the differences, mm (radians: over the contour's size) and most steps of the search.
const STEP: f64 = 1e-3;
const MOST: usize = 12;

struct Axis {
    at: Point,
    /// Direction, radians.
    turn: f64,
}

impl Axis {
    fn mirror(&self, p: Point) -> Point {
        let e = angle::unit(self.turn);
        let v = p - self.at;
        self.at + e * (2.0 * v.dot(e)) - v
    }

    fn moved(&self, by: [f64; 2]) -> Axis {
        let e = angle::unit(self.turn);
        Axis { at: self.at + Vec2::new(-e.y, e.x) * by[0], turn: self.turn + by[1] }
    }
}

/// Every run with the mirror image of its partner's points.
fn both(runs: &[Run], sum: usize, axis: &Axis) -> Vec<Run> {
    let n = runs.len();
    (0..n)
        .map(|k| {
            let (own, other) = (&runs[k], &runs[(sum + n - k) % n]);
            let mut all = own.clone();
            all.points.extend(other.points.iter().rev().map(|p| axis.mirror(*p)));
            // a piece across the axis: its points once more, in order along it
            if let (Some(a), Some(b)) = (own.points.first(), own.points.last()) {
                let along = *b - *a;
                all.points.sort_by(|p, q| (*p - *a).dot(along).total_cmp(&(*q - *a).dot(along)));
            }
            all
        })
        .collect()
}

/// The symmetric contour, what to say of it, and how far a corner moves; None where the points speak against it.
pub fn mirrored(runs: &[Run], free: &Joined) -> Option<(Contour, String, f64)> {
    let n = runs.len();
    let points: usize = runs.iter().map(|r| r.points.len()).sum();
    let unknowns: usize = runs.iter().map(|r| r.on.unknowns()).sum();
    if n < 3 || points <= unknowns {
        return None;
    }
    let b = free.contour.bounds();
    let size = b.width().max(b.height());
    let mut best: Option<(f64, Axis, Joined, &str)> = None;
    for (turn, word) in [(FRAC_PI_2, "left and right"), (0.0, "above and below")] {
        for sum in 0..n {
            if (0..n).any(|k| runs[k].on != runs[(sum + n - k) % n].on) {
                continue;
            }
            let start = Axis { at: free.contour.centroid(), turn };
            let Some((axis, found)) = search(runs, sum, start, size) else { continue };
            let squares = found.squares();
            if best.as_ref().is_none_or(|b| squares < b.0) {
                best = Some((squares, axis, found, word));
            }
        }
    }
    let (squares, axis, found, word) = best?;
    // every point counts twice
    let one = |squares: f64, unknowns: f64| (squares / (points as f64 - unknowns).max(1.0)).sqrt();
    let (own, mirror) = (one(free.squares(), unknowns as f64), one(squares / 2.0, unknowns as f64 / 2.0));
    let (a, b) = (free.contour.segments(), found.contour.segments());
    if mirror > GROWS.0 * own + GROWS.1 || a.len() != b.len() {
        return None;
    }
    let off = a.iter().zip(b).map(|(s, t)| span(s.start(), t.start())).fold(0.0, f64::max);
    let tilt = (axis.turn - if axis.turn > 0.5 { FRAC_PI_2 } else { 0.0 }).to_degrees();
    let says = format!(
        "{word} look like mirror images about an axis through ({:.2}, {:.2}), turned {tilt:.3} degrees: a point would lie off by {} (deviation) instead of {}, corners would move by at most {}",
        axis.at.x,
        axis.at.y,
        mm(mirror),
        mm(own),
        mm(off)
    );
    Some((found.contour, says, off))
}

/// Newton on the sum of squares over shift and turn of the axis, by differences.
fn search(runs: &[Run], sum: usize, start: Axis, size: f64) -> Option<(Axis, Joined)> {
    let at = |axis: &Axis| joined(&both(runs, sum, axis)).ok();
    let mut axis = start;
    let mut now = at(&axis)?;
    let h = [STEP, STEP / size];
    for _ in 0..MOST {
        let f = |x: f64, y: f64| at(&axis.moved([x * h[0], y * h[1]])).map(|j| j.squares());
        let (a, b, c, d) = (f(1.0, 0.0)?, f(-1.0, 0.0)?, f(0.0, 1.0)?, f(0.0, -1.0)?);
        let (e, g) = (f(1.0, 1.0)?, f(-1.0, -1.0)?);
        let here = now.squares();
        let (gx, gy) = ((a - b) / 2.0, (c - d) / 2.0);
        let (xx, yy) = (a - 2.0 * here + b, c - 2.0 * here + d);
        let xy = (e + g - a - b - c - d + 2.0 * here) / 2.0;
        let det = xx * yy - xy * xy;
        if !(det > 0.0 && xx > 0.0) {
            break;
        }
        let by = [(gy * xy - gx * yy) / det * h[0], (gx * xy - gy * xx) / det * h[1]];
        let next = axis.moved(by);
        let Some(then) = at(&next).filter(|j| j.squares() < here) else { break };
        (axis, now) = (next, then);
    }
    Some((axis, now))
}
