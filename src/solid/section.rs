//! What a plane cuts out of a solid: its outlines in the plane, for drawings.
//!
//! Exact (to rounding) for boxes, hulls, balls, prisms and bars cut along or across; where an arc or a bar is cut
//! askew the ellipse becomes chords, and so do the sides of a tube: they lie within the true outline, at most [`BOUND`]
//! inside it.

use super::{Leg, Pose, Shape, Solid, Vec3};
use crate::geom::overlay::Area;
use crate::geom::region::{Bound, polygon};
use crate::geom::{Contour, Point, SLACK, Segment, Vec2, length, span};
use std::f64::consts::TAU;

/// How far an outline of chords may lie inside the true one, mm.
pub const BOUND: f64 = 0.01;

/// A plane with its own axes: the point `(a, b)` of it is `at + across * a + up * b`. The axes are unit vectors at
/// right angles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plane {
    /// Its origin.
    pub at: Vec3,
    /// Its first axis.
    pub across: Vec3,
    /// Its second axis.
    pub up: Vec3,
}

impl Plane {
    /// Upright, at `x`: across is depth, up is y.
    pub fn upright(x: f64) -> Plane {
        Plane { at: Vec3::new(x, 0.0, 0.0), across: Vec3::FORWARD, up: Vec3::new(0.0, 1.0, 0.0) }
    }

    /// Level, at `y`: across is x, up is depth.
    pub fn level(y: f64) -> Plane {
        Plane { at: Vec3::new(0.0, y, 0.0), across: Vec3::new(1.0, 0.0, 0.0), up: Vec3::FORWARD }
    }

    /// Parallel to the sheet, at the depth `d`: across is x, up is y.
    pub fn deep(d: f64) -> Plane {
        Plane { at: Vec3::new(0.0, 0.0, d), across: Vec3::new(1.0, 0.0, 0.0), up: Vec3::new(0.0, 1.0, 0.0) }
    }

    /// Its unit normal.
    pub fn normal(&self) -> Vec3 {
        self.across.cross(self.up)
    }

    /// How far a point lies off it, along the normal.
    pub fn off(&self, p: Vec3) -> f64 {
        self.normal().dot(p - self.at)
    }

    /// Foot of a point, in the plane's axes.
    pub fn foot(&self, p: Vec3) -> Point {
        let v = p - self.at;
        Point::new(self.across.dot(v), self.up.dot(v))
    }

    /// The same plane seen from a shape's own axes.
    fn within(&self, pose: &Pose) -> Plane {
        let back = pose.inverse();
        Plane { at: back.point(self.at), across: back.vector(self.across), up: back.vector(self.up) }
    }
}

/// The outlines of a solid in a plane, in the plane's axes; by the even-odd rule they are the cut area. Empty where the
/// plane misses it or only touches.
pub fn section(solid: &Solid, plane: &Plane) -> Vec<Contour> {
    let own = plane.within(solid.pose());
    match solid.shape() {
        Shape::Prism { section, from, to } => prism(section, *from, *to, &own),
        Shape::Cylinder { radius, half } => {
            prism(&Contour::circle(Point::ORIGIN, *radius), -half, *half, &own)
        }
        Shape::Sphere(radius) => ball(Vec3::ZERO, *radius, &own).into_iter().collect(),
        Shape::Box(h) => {
            let sign = [-1.0, 1.0];
            let corners = sign.into_iter().flat_map(|a| {
                sign.into_iter()
                    .flat_map(move |b| sign.into_iter().map(move |c| Vec3::new(a * h.x, b * h.y, c * h.d)))
            });
            hull(&corners.collect::<Vec<_>>(), &own).into_iter().collect()
        }
        Shape::Hull(points) => hull(points, &own).into_iter().collect(),
        Shape::Tube { path, radius } => tube(path, *radius, &own),
    }
}

fn ball(centre: Vec3, radius: f64, plane: &Plane) -> Option<Contour> {
    let off = plane.off(centre);
    let square = radius * radius - off * off;
    (square > SLACK * SLACK).then(|| Contour::circle(plane.foot(centre), square.sqrt()))
}

/// The straight between every point above and every point below meets the plane in a point of the section; its corners
/// are among these.
fn hull(points: &[Vec3], plane: &Plane) -> Option<Contour> {
    let (mut above, mut below, mut found) = (Vec::new(), Vec::new(), Vec::new());
    for p in points {
        let off = plane.off(*p);
        if off.abs() <= SLACK {
            found.push(plane.foot(*p));
        } else if off > 0.0 {
            above.push((*p, off));
        } else {
            below.push((*p, off));
        }
    }
    for (a, da) in &above {
        for (b, db) in &below {
            found.push(plane.foot(*a + (*b - *a) * (da / (da - db))));
        }
    }
    Contour::around(found)
}

fn prism(contour: &Contour, from: f64, to: f64, plane: &Plane) -> Vec<Contour> {
    let n = plane.normal();
    let b = contour.bounds();
    let extent = (to - from) + b.width() + b.height();
    let reach = plane.at.dot(n);
    if n.d.abs() * extent < BOUND / 2.0 {
        return along(contour, (from, to), n, reach, plane);
    }
    // where the plane stands over a point of the contour's own plane
    let lift = |p: Point| Vec3::new(p.x, p.y, (reach - n.x * p.x - n.y * p.y) / n.d);
    if Vec2::new(n.x, n.y).hypot2() < 1e-24 {
        let depth = lift(b.center()).d;
        if depth < from || depth > to {
            return Vec::new();
        }
        return vec![moved(contour, |p| plane.foot(lift(p)))];
    }
    let corners = polygon(contour, Bound::Within, (BOUND / 2.0) * n.d.abs());
    let low = cut(corners, |p| lift(p).d - from);
    let both = low.into_iter().flat_map(|piece| cut(piece, |p| to - lift(p).d));
    let flat = |piece: Vec<Point>| piece.into_iter().map(|p| plane.foot(lift(p))).collect::<Vec<_>>();
    both.filter_map(|piece| clean(flat(piece))).collect()
}

/// A contour moved rigidly, mirrored or not.
fn moved(contour: &Contour, at: impl Fn(Point) -> Point) -> Contour {
    let o = at(Point::ORIGIN);
    let (i, j) = (at(Point::new(1.0, 0.0)) - o, at(Point::new(0.0, 1.0)) - o);
    let mirror = i.cross(j) < 0.0;
    let pieces = contour.segments().iter().map(|s| match s {
        Segment::Line(l) => Segment::line(at(l.a), at(l.b)),
        Segment::Arc(a) => {
            let start = crate::geom::angle::direction(at(a.a) - at(a.centre));
            Segment::Arc(crate::geom::Arc {
                centre: at(a.centre),
                start: crate::geom::angle::normalise(start),
                sweep: if mirror { -a.sweep } else { a.sweep },
                a: at(a.a),
                b: at(a.b),
                ..*a
            })
        }
    });
    Contour::from_checked(pieces.collect()).ccw()
}

/// A plane along a prism's own depth cuts rectangles: one for each stretch of its line in the contour.
fn along(contour: &Contour, (from, to): (f64, f64), n: Vec3, reach: f64, plane: &Plane) -> Vec<Contour> {
    let across = Vec2::new(n.x, n.y);
    let wide = length(across);
    if wide <= 0.5 || to - from <= SLACK {
        return Vec::new();
    }
    let (across, level) = (across / wide, (reach - n.d * (from + to) / 2.0) / wide);
    let along = Vec2::new(-across.y, across.x);
    let mut met: Vec<f64> =
        contour.segments().iter().flat_map(|s| crossings(s, along, across, level)).collect();
    met.sort_by(f64::total_cmp);
    let rectangle = |t: &[f64]| {
        let &[a, b] = t else { return None };
        let corner = |t: f64, d: f64| {
            let p = across * level + along * t;
            plane.foot(Vec3::new(p.x, p.y, d))
        };
        (b - a > SLACK)
            .then(|| Contour::around(vec![corner(a, from), corner(b, from), corner(b, to), corner(a, to)]))?
    };
    met.chunks_exact(2).filter_map(rectangle).collect()
}

/// Where a piece crosses the line `across . p = level`, as distances along it. A piece owns the end that lies on or
/// above the line, so that a corner on it counts once or twice, never by halves; an arc is cut at its highest and lowest
/// points into parts that rise or fall.
fn crossings(piece: &Segment, along: Vec2, across: Vec2, level: f64) -> Vec<f64> {
    let height = |p: Point| across.dot(p.to_vec2()) - level;
    let (start, end) = (height(piece.start()), height(piece.end()));
    match piece {
        Segment::Line(l) => {
            if (start >= 0.0) == (end >= 0.0) {
                return Vec::new();
            }
            vec![along.dot(l.a.lerp(l.b, start / (start - end)).to_vec2())]
        }
        Segment::Arc(arc) => {
            let middle = height(arc.centre);
            let half = (arc.radius * arc.radius - middle * middle).max(0.0).sqrt();
            let centre = along.dot(arc.centre.to_vec2());
            // fractions of the sweep at which the arc turns from rising to falling
            let up = crate::geom::angle::direction(across);
            let turns = (0..4).flat_map(|k| {
                let at = up + TAU / 2.0 * f64::from(k);
                let travelled = if arc.sweep > 0.0 { at - arc.start } else { arc.start - at };
                [crate::geom::angle::normalise(travelled) / arc.sweep.abs()]
            });
            let mut cuts: Vec<f64> = turns.filter(|t| *t > 0.0 && *t < 1.0).collect();
            cuts.extend([0.0, 1.0]);
            cuts.sort_by(f64::total_cmp);
            cuts.dedup();
            let ends = |t: f64| match t {
                0.0 => start,
                1.0 => end,
                _ => height(arc.at(t)),
            };
            let mut found = Vec::new();
            for pair in cuts.windows(2) {
                let &[a, b] = pair else { continue };
                if (ends(a) >= 0.0) != (ends(b) >= 0.0) {
                    let side = along.dot(arc.at((a + b) / 2.0).to_vec2()) >= centre;
                    found.push(if side { centre + half } else { centre - half });
                }
            }
            found
        }
    }
}

/// What of a polygon lies where a linear function is not negative: the chains that stay are closed along the line,
/// crossing by crossing.
fn cut(corners: Vec<Point>, side: impl Fn(Point) -> f64) -> Vec<Vec<Point>> {
    let kept = |p: &Point| side(*p) >= 0.0;
    let Some(first) = corners.iter().position(|p| !kept(p)) else { return vec![corners] };
    let walk: Vec<Point> = corners.iter().cycle().skip(first).take(corners.len() + 1).copied().collect();
    let o = side(Point::ORIGIN);
    let slope = Vec2::new(side(Point::new(1.0, 0.0)) - o, side(Point::new(0.0, 1.0)) - o);
    let along = |p: Point| Vec2::new(-slope.y, slope.x).dot(p.to_vec2());
    let mut chains: Vec<Vec<Point>> = Vec::new();
    for pair in walk.windows(2) {
        let &[a, b] = pair else { continue };
        let (ha, hb) = (side(a), side(b));
        let met = || a.lerp(b, ha / (ha - hb));
        match (ha >= 0.0, hb >= 0.0) {
            (false, true) => chains.push(vec![met(), b]),
            (true, true) => chains.iter_mut().last().into_iter().for_each(|c| c.push(b)),
            (true, false) => {
                let p = met();
                chains.iter_mut().last().into_iter().for_each(|c| c.push(p));
            }
            (false, false) => {}
        }
    }
    // ends of chains along the line: two neighbours bound a stretch inside the polygon
    let ends = chains.iter().enumerate().flat_map(|(k, c)| {
        let (a, b) = (c.first().copied().unwrap_or_default(), c.last().copied().unwrap_or_default());
        [(along(a), k, true), (along(b), k, false)]
    });
    let mut ends: Vec<(f64, usize, bool)> = ends.collect();
    ends.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)).then(a.2.cmp(&b.2)));
    let mut next: Vec<usize> = (0..chains.len()).collect();
    for pair in ends.chunks_exact(2) {
        if let &[(_, a, a_starts), (_, b, b_starts)] = pair
            && a_starts != b_starts
        {
            let (leaves, enters) = if a_starts { (b, a) } else { (a, b) };
            if let Some(n) = next.get_mut(leaves) {
                *n = enters;
            }
        }
    }
    let mut out = Vec::new();
    for start in 0..chains.len() {
        let (mut k, mut polygon) = (start, Vec::new());
        while let Some(c) = chains.get_mut(k).filter(|c| !c.is_empty()) {
            polygon.append(c);
            k = next.get(k).copied().unwrap_or(k);
        }
        if !polygon.is_empty() {
            out.push(polygon);
        }
    }
    out
}

/// A polygon without corners that stand on one another; none where nothing is left.
fn clean(mut corners: Vec<Point>) -> Option<Contour> {
    corners.dedup_by(|a, b| span(*a, *b) <= SLACK);
    while corners.len() > 1 && corners.first().zip(corners.last()).is_some_and(|(a, b)| span(*a, *b) <= SLACK)
    {
        corners.pop();
    }
    let contour = (corners.len() >= 3).then(|| Contour::polygon(&corners))?;
    (contour.area() > SLACK).then(|| contour.ccw())
}

/// A tube is a chain of round-ended bars: each is cut on its own, and what is cut is joined.
fn tube(path: &[Leg], radius: f64, plane: &Plane) -> Vec<Contour> {
    let bars: Vec<(Vec3, Vec3)> = path.iter().flat_map(straights).collect();
    let near = bars.iter().filter(|(a, b)| {
        let (a, b) = (plane.off(*a), plane.off(*b));
        a.min(b) < radius && a.max(b) > -radius
    });
    let mut cuts: Vec<Contour> = near.filter_map(|(a, b)| capsule(*a, *b, radius, plane)).collect();
    if cuts.len() <= 1 {
        return cuts.pop().into_iter().collect();
    }
    let corners: Vec<Vec<Point>> = cuts.iter().map(|c| polygon(c, Bound::Within, BOUND / 4.0)).collect();
    Area::of(&corners).contours(SLACK)
}

/// A leg as straights; an arc's chords lie at most a quarter of the bound off it.
pub(crate) fn straights(leg: &Leg) -> Vec<(Vec3, Vec3)> {
    match *leg {
        Leg::Line(a, b) => vec![(a, b)],
        Leg::Arc { from, centre, axis, angle } => {
            let arm = (from - centre).length().max(BOUND);
            let step = (2.0 * (BOUND / 4.0 / arm).sqrt()).min(0.5);
            let n = (angle.abs() / step).ceil().clamp(1.0, 1e5) as u32;
            let at = |k: u32| Pose::about(centre, axis, angle * f64::from(k) / f64::from(n)).point(from);
            (0..n).map(|k| (at(k), at(k + 1))).collect()
        }
    }
}

/// A straight bar with round ends is convex, and so is its section: what is around the sections of its bar and its balls.
fn capsule(a: Vec3, b: Vec3, radius: f64, plane: &Plane) -> Option<Contour> {
    let half = (b - a).length() / 2.0;
    let mut parts: Vec<Contour> = [a, b].into_iter().filter_map(|p| ball(p, radius, plane)).collect();
    if let Some(u) = (b - a).unit() {
        let pose = Pose::from_forward_to(u).then(&Pose::shift((a + b) * 0.5));
        parts.extend(prism(&Contour::circle(Point::ORIGIN, radius), -half, half, &plane.within(&pose)));
    }
    if parts.len() == 1 || parts.windows(2).all(|w| matches!(w, [p, q] if alike(p, q))) {
        return parts.pop();
    }
    Contour::around(parts.iter().flat_map(|c| polygon(c, Bound::Within, BOUND / 4.0)).collect())
}

/// Whether two are one and the same circle: a bar cut square across.
fn alike(a: &Contour, b: &Contour) -> bool {
    match (a.as_circle(), b.as_circle()) {
        (Some((p, r)), Some((q, s))) => span(p, q) <= SLACK && (r - s).abs() <= SLACK,
        _ => false,
    }
}
