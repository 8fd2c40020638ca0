//! Bézier curves and ellipses as arcs, within [`MOST_ERROR`].
//!
//! A curve is halved until a pair of arcs (tangent to it at both ends and to each other in the middle)
//! or a straight stays near enough. The bound: the distance of a circle from the curve is measured
//! at [`SAMPLES`] places, and between them it cannot leave its chord by more than h^2/8 of its second
//! derivative, which the control points bound. Ellipses are first cut into cubics of at most 1/32 turn,
//! whose own error (2.7e-4 of the radius for a quarter, falling with the sixth power) is below 2e-9 of it.

use crate::geom::{Arc, Point, Segment, Vec2, angle, length, span};

/// Largest distance of the arcs from the curve, mm.
pub const MOST_ERROR: f64 = 1e-3;
const SAMPLES: u32 = 16;
/// A curve with a control polygon shorter than this is a straight, mm.
const SHORT: f64 = 2e-4;
/// A curve that stays this close to its chord is a straight, mm.
const STRAIGHT: f64 = 1e-4;
const MOST_DEPTH: u32 = 40;

type Cubic = [Point; 4];

/// Arcs and straights along a cubic, and the bound of their distance from it.
pub(super) fn cubic(c: Cubic, out: &mut Vec<Segment>) -> f64 {
    let mut worst = 0.0f64;
    let mut todo = vec![(c, 0u32)];
    while let Some((c, depth)) = todo.pop() {
        match fit(&c, depth) {
            Some((pieces, error)) => {
                worst = worst.max(error);
                out.extend(pieces.into_iter().flatten());
            }
            None => {
                let (a, b) = halve(&c);
                todo.push((b, depth + 1));
                todo.push((a, depth + 1));
            }
        }
    }
    worst
}

/// The pieces for one stretch, if they are near enough.
fn fit(c: &Cubic, depth: u32) -> Option<([Option<Segment>; 2], f64)> {
    let [p0, p1, p2, p3] = *c;
    let polygon = span(p0, p1) + span(p1, p2) + span(p2, p3);
    let straight = |error: f64| {
        let piece = (span(p0, p3) > 0.0).then(|| Segment::line(p0, p3));
        Some(([piece, None], error))
    };
    if polygon <= SHORT || depth >= MOST_DEPTH {
        return straight(polygon);
    }
    let chord = p3 - p0;
    let along = length(chord);
    if along > 0.0 {
        let off = |p: Point| (chord.cross(p - p0) / along).abs();
        // the control points' feet must lie in order on the chord: no turning back
        let foot = |p: Point| chord.dot(p - p0) / along;
        let ordered = 0.0 <= foot(p1) && foot(p1) <= foot(p2) && foot(p2) <= along;
        let bound = off(p1).max(off(p2)) * 0.75;
        if ordered && bound <= STRAIGHT {
            return straight(bound);
        }
    }
    let (t0, t1) = (tangent(p0, [p1, p2, p3])?, tangent(p3, [p2, p1, p0])? * -1.0);
    // turning by less than 60 degrees in all: what makes the sectors below hold the curve
    let steps = [p1 - p0, p2 - p1, p3 - p2];
    if along == 0.0 || steps.iter().any(|s| s.dot(chord) < 0.87 * length(*s) * along) {
        return None;
    }
    let joint = joint(p0, t0, p3, t1)?;
    let first = arc(p0, t0, joint)?;
    let second = arc(p3, t1 * -1.0, joint)?.reversed();
    let error = error(c, &first, &second, joint)?;
    (error <= MOST_ERROR).then_some(([Some(first), Some(second)], error))
}

fn tangent(from: Point, to: [Point; 3]) -> Option<Vec2> {
    let v = to.into_iter().map(|p| p - from).find(|v| length(*v) > 1e-12)?;
    Some(v / length(v))
}

/// Where two arcs meet that leave `a` along `s` and arrive at `b` along `t` with equal tangent lengths.
fn joint(a: Point, s: Vec2, b: Point, t: Vec2) -> Option<Point> {
    let v = b - a;
    let sum = s + t;
    let (vt, open) = (v.dot(sum), 2.0 * (1.0 - s.dot(t)));
    let d = if open > 1e-12 {
        // the root of open d^2 + 2 vt d = v^2, in the form that does not cancel
        v.hypot2() / (vt + (vt * vt + open * v.hypot2()).sqrt())
    } else {
        v.hypot2() / (2.0 * vt)
    };
    let p = a + (s - t) * (d / 2.0) + v / 2.0;
    (d > 0.0 && p.is_finite()).then_some(p)
}

/// The arc from `a` along the unit direction `t` to `b`; a straight where it hardly bends.
fn arc(a: Point, t: Vec2, b: Point) -> Option<Segment> {
    let v = b - a;
    if v.hypot2() == 0.0 || v.dot(t) <= 0.0 {
        return None;
    }
    let side = t.cross(v);
    let sagitta = side.abs() / 4.0;
    if sagitta <= 1e-9 * length(v) || v.hypot2() / side.abs() > 2e6 {
        return Some(Segment::line(a, b));
    }
    let signed = v.hypot2() / (2.0 * side);
    let centre = a + Vec2::new(-t.y, t.x) * signed;
    Some(Segment::Arc(Arc::between(a, b, centre, side > 0.0)))
}

/// Bound of the distance between the curve and the two pieces.
fn error(c: &Cubic, first: &Segment, second: &Segment, joint: Point) -> Option<f64> {
    let across = first.end_direction();
    // the curve crosses the common normal of the two pieces once: its steps all go forward
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..50 {
        let t = (low + high) / 2.0;
        if (at(c, t) - joint).dot(across) < 0.0 { low = t } else { high = t }
    }
    let (left, right) = (split(c, low).0, split(c, low).1);
    Some(off(&left, first)?.max(off(&right, second)?))
}

/// Bound of the distance of a curve from one piece whose sector holds it.
fn off(c: &Cubic, s: &Segment) -> Option<f64> {
    let second = 6.0 * length((c[2] - c[1]) - (c[1] - c[0])).max(length((c[3] - c[2]) - (c[2] - c[1])));
    let speed = 3.0 * (0..3).map(|k| span(c[k], c[k + 1])).fold(0.0, f64::max);
    let place = |t: f64| match s {
        Segment::Line(l) => ((l.b - l.a).cross(at(c, t) - l.a) / span(l.a, l.b)).abs(),
        Segment::Arc(a) => (span(at(c, t), a.centre) - a.radius).abs(),
    };
    let seen = (0..=SAMPLES).map(|k| place(f64::from(k) / f64::from(SAMPLES))).fold(0.0, f64::max);
    let bend = match s {
        Segment::Line(_) => 0.0,
        Segment::Arc(a) => {
            let nearest = a.radius - seen - speed / f64::from(SAMPLES);
            if nearest <= 0.0 {
                return None;
            }
            speed * speed / nearest
        }
    };
    let h = 1.0 / f64::from(SAMPLES);
    Some(seen + h * h / 8.0 * (second + bend))
}

fn at(c: &Cubic, t: f64) -> Point {
    split(c, t).0[3]
}

fn halve(c: &Cubic) -> (Cubic, Cubic) {
    split(c, 0.5)
}

/// De Casteljau.
fn split(c: &Cubic, t: f64) -> (Cubic, Cubic) {
    let [a, b, d, e] = *c;
    let (ab, bd, de) = (a.lerp(b, t), b.lerp(d, t), d.lerp(e, t));
    let (abd, bde) = (ab.lerp(bd, t), bd.lerp(de, t));
    let m = abd.lerp(bde, t);
    ([a, ab, abd, m], [m, bde, de, e])
}

/// An elliptic arc: centre, half axes, the first axis' angle in degrees, start and sweep of the
/// parameter in radians; the end points are kept as given. Returns the bound of the error.
pub(super) fn ellipse(e: &Ellipse, a: Point, b: Point, out: &mut Vec<Segment>) -> f64 {
    let n = (e.sweep.abs() / (std::f64::consts::TAU / 32.0)).ceil().max(1.0);
    let (s, c) = angle::sin_cos_deg(e.turn);
    let frame = |v: Vec2| Vec2::new(v.x * c - v.y * s, v.x * s + v.y * c);
    let point = |t: f64| {
        let u = angle::unit(t);
        e.centre + frame(Vec2::new(e.axes.x * u.x, e.axes.y * u.y))
    };
    let slope = |t: f64| {
        let u = angle::unit(t);
        frame(Vec2::new(-e.axes.x * u.y, e.axes.y * u.x))
    };
    let step = e.sweep / n;
    let (half, _) = angle::sin_cos(step / 4.0);
    let cos = (1.0 - half * half).sqrt();
    let reach = 4.0 / 3.0 * half / cos;
    let mut worst = 0.0f64;
    let mut from = a;
    for k in 0..n as u32 {
        let (t0, t1) = (e.start + step * f64::from(k), e.start + step * f64::from(k + 1));
        let to = if k + 1 == n as u32 { b } else { point(t1) };
        let piece = [from, from + slope(t0) * reach, to - slope(t1) * reach, to];
        worst = worst.max(cubic(piece, out));
        from = to;
    }
    worst + 2e-9 * e.axes.x.max(e.axes.y)
}

/// An elliptic arc by its centre.
pub(super) struct Ellipse {
    pub centre: Point,
    pub axes: Vec2,
    pub turn: f64,
    pub start: f64,
    pub sweep: f64,
}

impl Ellipse {
    /// The arc from `a` to `b` as path data names it; `None` if the axes are too short to reach.
    /// (Scalable Vector Graphics 1.1, appendix F.6.5.)
    pub fn through(a: Point, b: Point, axes: Vec2, turn: f64, large: bool, ccw: bool) -> Option<Ellipse> {
        let (s, c) = angle::sin_cos_deg(turn);
        let half = (a - b) / 2.0;
        let x = (half.x * c + half.y * s) / axes.x;
        let y = (half.y * c - half.x * s) / axes.y;
        let reach = x * x + y * y;
        if reach > 1.0 + 1e-9 {
            return None;
        }
        let k = ((1.0 - reach).max(0.0) / reach).sqrt() * if large == ccw { -1.0 } else { 1.0 };
        let (cx, cy) = (k * y, -k * x);
        let inside = Vec2::new(cx * axes.x, cy * axes.y);
        let centre = a.midpoint(b) + Vec2::new(inside.x * c - inside.y * s, inside.x * s + inside.y * c);
        let start = angle::direction(Vec2::new(x - cx, y - cy));
        let end = angle::direction(Vec2::new(-x - cx, -y - cy));
        let mut sweep = angle::normalise(end - start);
        if !ccw {
            sweep -= std::f64::consts::TAU;
        }
        Some(Ellipse { centre, axes, turn, start, sweep })
    }
}
