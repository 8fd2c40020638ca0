//! Straights that look like something else: tiny ones on one line, which are joined, and runs of them on an arc, which
//! are only proposed.

use super::proposal::{Kind, Proposal};
use super::round;
use super::sort::Sorted;
use super::{About, Options, Piece, Told, many};
use crate::cut::{Gathered, mm};
use crate::geom::{Arc, Contour, Point, SLACK, Segment, Vec2, length, span};
use crate::units::fmt_mm;

/// Fewest straights that are taken for an arc.
const FEWEST: usize = 5;
/// Least turn of a run that is taken for an arc, radians: 10 degrees.
const LEAST_TURN: f64 = 0.17;
/// Straights on one line within this are one: rounding of coordinates, mm.
const ONE_LINE: f64 = 2.0 * SLACK;

/// Joins straights that follow each other on one line.
pub fn straighten(g: &mut Gathered, told: &mut Vec<Told>) {
    let mut joined = 0;
    for c in &mut g.closed {
        let old = c.contour.segments();
        if old.len() < 8 || c.contour.as_circle().is_some() {
            continue;
        }
        let new = one_line(old);
        if new.len() < old.len()
            && let Ok(contour) = Contour::new(new)
        {
            joined += old.len() - contour.segments().len();
            c.contour = contour;
        }
    }
    if joined > 0 {
        let says = format!(
            "{} taken out: straights that follow each other on one line are one",
            many(joined, "corner without a bend was", "corners without a bend were")
        );
        told.push(Told { about: About::Changed, code: "one-line", says, at: vec![], items: vec![] });
    }
}

fn one_line(old: &[Segment]) -> Vec<Segment> {
    let n = old.len();
    // from a corner on, so that no straight is cut by the list's end
    let bends = |k: usize| match (&old[(k + n - 1) % n], &old[k]) {
        (Segment::Line(a), Segment::Line(b)) => !on_line(a.a, b.b, &[b.a]),
        _ => true,
    };
    let Some(first) = (0..n).find(|k| bends(*k)) else { return old.to_vec() };
    let mut out: Vec<Segment> = Vec::with_capacity(n);
    let mut passed: Vec<Point> = Vec::new();
    for k in 0..n {
        let s = old[(first + k) % n];
        if let (Some(Segment::Line(last)), Segment::Line(l)) = (out.last().copied(), s) {
            passed.push(l.a);
            if on_line(last.a, l.b, &passed) {
                out.pop();
                out.push(Segment::line(last.a, l.b));
                continue;
            }
        }
        passed.clear();
        out.push(s);
    }
    out
}

/// Whether points lie on the straight from `a` to `b`, in order.
fn on_line(a: Point, b: Point, points: &[Point]) -> bool {
    let long = span(a, b);
    if long <= SLACK {
        return false;
    }
    let e = (b - a) / long;
    let mut before = 0.0;
    points.iter().all(|p| {
        let v = *p - a;
        let along = v.dot(e);
        let fine = e.cross(v).abs() <= ONE_LINE && along > before && along < long;
        before = along;
        fine
    })
}

/// Proposals for the outline and every opening that is drawn in straights.
pub fn proposals(sorted: &Sorted, options: &Options) -> Vec<Proposal> {
    let own = sorted.outline.iter().map(|p| (None, p));
    own.chain(sorted.openings.iter().enumerate().map(|(k, p)| (Some(k), p)))
        .filter_map(|(target, p)| proposal(target, p, options))
        .collect()
}

fn proposal(target: Option<usize>, p: &Piece, options: &Options) -> Option<Proposal> {
    let pieces = p.contour.segments();
    if pieces.iter().filter(|s| matches!(s, Segment::Line(_))).count() < FEWEST {
        return None;
    }
    let who = if target.is_none() { "the outline" } else { p.id.as_str() };
    let make = |says: String, off: f64, contour: Contour| {
        let replace = vec![(target, contour)];
        Some(Proposal { id: String::new(), kind: Kind::Fit, says, off, replace, accepted: false })
    };
    if pieces.len() >= 12
        && let Some(f) = round::circle(&p.contour)
        && f.off <= options.fit
    {
        let says = format!(
            "{who}: {} pieces look like a circle of diameter {}, off by at most {}",
            pieces.len(),
            mm(2.0 * f.radius),
            mm(f.off)
        );
        return make(says, f.off, Contour::circle(f.centre, f.radius));
    }
    let (new, arcs, off) = with_arcs(pieces, options.fit);
    if arcs.is_empty() {
        return None;
    }
    let contour = Contour::new(new).ok()?;
    let mut radii: Vec<String> = arcs.iter().map(|r| fmt_mm((r * 1000.0).round() / 1000.0)).collect();
    radii.dedup();
    let more = radii.len().saturating_sub(6);
    radii.truncate(6);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    let gone = pieces.len() - (contour.segments().len() - arcs.len());
    let says = format!(
        "{who}: {gone} straights look like {} arcs (radius {}{more}), off by at most {}",
        arcs.len(),
        radii.join(", "),
        mm(off)
    );
    make(says, off, contour)
}

/// Runs of straights as arcs: the pieces, the radii, the largest residual.
fn with_arcs(old: &[Segment], tolerance: f64) -> (Vec<Segment>, Vec<f64>, f64) {
    let n = old.len();
    // from the longest piece on: it is no chord of a run that the list's end would cut
    let first = (0..n).max_by(|a, b| old[*a].len().total_cmp(&old[*b].len()).then(b.cmp(a))).unwrap_or(0);
    let ring: Vec<Segment> = (0..n).map(|k| old[(first + k) % n]).collect();
    let (mut out, mut radii, mut worst) = (Vec::with_capacity(n), Vec::new(), 0.0f64);
    let mut k = 0;
    while let Some(s) = ring.get(k) {
        match longest(&ring, k, tolerance) {
            Some((count, arc, off)) => {
                radii.push(arc.radius);
                worst = worst.max(off);
                out.push(Segment::Arc(arc));
                k += count;
            }
            None => {
                out.push(*s);
                k += 1;
            }
        }
    }
    (out, radii, worst)
}

/// The longest run from one piece on that looks like an arc: doubling, then halving.
fn longest(ring: &[Segment], from: usize, tolerance: f64) -> Option<(usize, Arc, f64)> {
    let lines = ring.iter().skip(from).take_while(|s| matches!(s, Segment::Line(_))).count();
    let test =
        |count: usize| if count <= lines { arc(ring.get(from..from + count)?, tolerance) } else { None };
    let mut good = FEWEST;
    let mut best = test(good)?;
    let mut step = FEWEST;
    while let Some(found) = test(good + step) {
        (good, best) = (good + step, found);
        step *= 2;
    }
    while step > 1 {
        step /= 2;
        if let Some(found) = test(good + step) {
            (good, best) = (good + step, found);
        }
    }
    let (arc, off) = best;
    (arc.sweep.abs() >= LEAST_TURN).then_some((good, arc, off))
}

/// The arc from the first to the last corner of straights, all of which turn one way.
fn arc(lines: &[Segment], tolerance: f64) -> Option<(Arc, f64)> {
    let (a, b) = (lines.first()?.start(), lines.last()?.end());
    let turn = |w: &[Segment]| match w {
        [s, t] => (s.end() - s.start()).cross(t.end() - t.start()),
        _ => 0.0,
    };
    let way = turn(lines.get(..2)?).signum();
    let mut bent = 0.0f64;
    for w in lines.windows(2) {
        let t = turn(w) * way;
        if t <= 0.0 {
            return None;
        }
        bent += t / (w[0].len() * w[1].len());
    }
    // more than three quarters round is a circle's business
    if bent > 5.0 {
        return None;
    }
    let m = lines.get(lines.len() / 2)?.start();
    let centre = through(a, m, b)?;
    let arc = Arc::between(a, b, centre, way > 0.0);
    let (least, most) = round::reach(lines, centre);
    let off = (most - arc.radius).abs().max((arc.radius - least).abs());
    let longest = lines.iter().map(Segment::len).fold(0.0, f64::max);
    (off <= tolerance && longest <= arc.radius && arc.radius < 1e5).then_some((arc, off))
}

fn through(a: Point, b: Point, c: Point) -> Option<Point> {
    let (p, q) = (b - a, c - a);
    let twice = 2.0 * p.cross(q);
    if twice.abs() <= 1e-12 * length(p) * length(q) {
        return None;
    }
    let (pp, qq) = (p.hypot2(), q.hypot2());
    Some(a + Vec2::new(q.y * pp - p.y * qq, p.x * qq - q.x * pp) / twice)
}
