//! How far round a point contours lie, by degree. Exact to rounding: of each degree the nearest point within it, and an
//! unbroken sweep is told between whole degrees.

use super::distance::point_segment;
use super::{Arc, Contour, Point, SLACK, Segment, Vec2, angle, length};
use std::collections::VecDeque;
use std::f64::consts::PI;
use std::sync::LazyLock;

/// Degrees of the whole round.
const ROUND: usize = 360;

/// The rays between the degrees, the first to the right, counter-clockwise.
static RAYS: LazyLock<[Vec2; ROUND]> = LazyLock::new(|| {
    std::array::from_fn(|k| {
        let (s, c) = angle::sin_cos_deg(k as f64);
        Vec2::new(c, s)
    })
});

/// Distance of the nearest point within each degree round a point.
#[derive(Clone, Debug, PartialEq)]
pub struct Ahead {
    at: Point,
    near: [f64; ROUND],
}

impl Ahead {
    /// A point with nothing round it.
    pub fn of(at: Point) -> Ahead {
        Ahead { at, near: [f64::INFINITY; ROUND] }
    }

    /// Where it looks from.
    pub fn at(&self) -> Point {
        self.at
    }

    /// The nearest of all.
    pub fn nearest(&self) -> f64 {
        self.near.iter().copied().fold(f64::INFINITY, f64::min)
    }

    /// The nearest within the degree from ray `k` to the next.
    pub fn within(&self, k: usize) -> f64 {
        self.near.get(k).copied().unwrap_or(f64::INFINITY)
    }

    /// Sets that.
    pub fn set(&mut self, k: usize, distance: f64) {
        if let Some(near) = self.near.get_mut(k) {
            *near = distance;
        }
    }

    /// Takes in what another saw from the same point.
    pub fn take(&mut self, other: &Ahead) {
        for (near, o) in self.near.iter_mut().zip(&other.near) {
            *near = near.min(*o);
        }
    }

    /// Takes in a shape grown by `grow`, which is not negative.
    pub fn meet(&mut self, shape: &Contour, grow: f64) {
        let inside = shape.holds(self.at);
        if inside
            || grow > 0.0 && shape.segments().iter().any(|s| point_segment(self.at, s).distance() <= grow)
        {
            self.near = [0.0; ROUND];
            return;
        }
        for s in shape.segments() {
            if grow <= 0.0 {
                self.piece(s);
                continue;
            }
            // the grown shape is first met on one of these; what of them lies within it is met later
            let corner = s.start();
            self.piece(&Segment::Arc(Arc::new(corner, grow, 0.0, 2.0 * PI)));
            match s {
                Segment::Line(l) => {
                    let along = l.b - l.a;
                    let long = length(along);
                    if long > 0.0 {
                        let n = Vec2::new(along.y, -along.x) * (grow / long);
                        self.piece(&Segment::line(l.a + n, l.b + n));
                        self.piece(&Segment::line(l.a - n, l.b - n));
                    }
                }
                Segment::Arc(a) => {
                    for radius in [a.radius + grow, a.radius - grow] {
                        if radius > 0.0 {
                            self.piece(&Segment::Arc(Arc::new(a.centre, radius, a.start, a.sweep)));
                        }
                    }
                }
            }
        }
    }

    fn piece(&mut self, s: &Segment) {
        self.point(s.start() - self.at);
        self.point(s.end() - self.at);
        match s {
            Segment::Line(l) => {
                let (a, b) = (l.a - self.at, l.b - self.at);
                let along = b - a;
                let foot = -a.dot(along) / along.hypot2().max(f64::MIN_POSITIVE);
                if (0.0..=1.0).contains(&foot) {
                    self.point(a + along * foot);
                }
                let turn = angle::direction(Vec2::new(a.dot(b), a.cross(b)));
                let (start, sweep) = if turn < 0.0 { (b, -turn) } else { (a, turn) };
                for k in rays(angle::direction(start), sweep) {
                    let u = RAYS[k];
                    let (from, to) = (u.cross(a), u.cross(b));
                    if from * to <= 0.0 && from != to {
                        self.ray(k, u.dot(a + along * (from / (from - to))));
                    }
                }
            }
            Segment::Arc(a) => {
                let c = a.centre - self.at;
                let far = length(c);
                for v in [c, -c] {
                    if far > 0.0 && a.faces(v) {
                        self.point(c + v * (a.radius / far));
                    }
                }
                let half = if far > a.radius { libm::asin(a.radius / far) } else { PI };
                for k in rays(angle::direction(c) - half, 2.0 * half) {
                    let u = RAYS[k];
                    let (t, off) = (u.dot(c), u.cross(c));
                    let square = a.radius * a.radius - off * off;
                    if square < 0.0 {
                        continue;
                    }
                    for r in [t - square.sqrt(), t + square.sqrt()] {
                        if a.faces(u * r - c) {
                            self.ray(k, r);
                        }
                    }
                }
            }
        }
    }

    /// A point met on a ray: it is of the degrees on both sides.
    fn ray(&mut self, k: usize, r: f64) {
        if r < -SLACK {
            return;
        }
        for k in [k, (k + ROUND - 1) % ROUND] {
            self.near[k] = self.near[k].min(r.max(0.0));
        }
    }

    fn point(&mut self, v: Vec2) {
        let turn = angle::normalise(angle::direction(v)) * (180.0 / PI);
        // rounding may put it on either side of a ray
        for t in [turn - 1e-9, turn + 1e-9] {
            let k = t.rem_euclid(ROUND as f64).floor() as usize % ROUND;
            self.near[k] = self.near[k].min(length(v));
        }
    }

    /// The greatest distance up to which an unbroken sweep of so many degrees, between two whole ones, meets nothing.
    pub fn sweep(&self, degrees: usize) -> f64 {
        let wide = degrees.clamp(1, ROUND);
        let mut best = f64::NEG_INFINITY;
        // least of a moving window
        let mut least: VecDeque<usize> = VecDeque::with_capacity(wide);
        for n in 0..ROUND + wide {
            let value = self.near[n % ROUND];
            while least.back().is_some_and(|k| self.near[*k % ROUND] >= value) {
                least.pop_back();
            }
            least.push_back(n);
            if least.front().is_some_and(|k| *k + wide <= n) {
                least.pop_front();
            }
            if let Some(k) = least.front().filter(|_| n + 1 >= wide) {
                best = best.max(self.near[*k % ROUND]);
            }
        }
        best
    }
}

/// The rays of a sweep, one more on each side.
fn rays(start: f64, sweep: f64) -> impl Iterator<Item = usize> {
    let first = (start * (180.0 / PI)).floor() as i64;
    let count = ((sweep * (180.0 / PI)).ceil() as i64 + 3).min(ROUND as i64);
    (0..count).map(move |n| (first + n).rem_euclid(ROUND as i64) as usize)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Distance of a shape's outline within a degree by many points of it: not less than the truth, and hardly more.
    fn by_points(shape: &Contour, at: Point, k: usize) -> f64 {
        let mut least = f64::INFINITY;
        for s in shape.segments() {
            for n in 0..=40_000 {
                let v = s.at(f64::from(n) / 40_000.0) - at;
                let turn = angle::normalise(angle::direction(v)) * (180.0 / PI);
                if turn >= k as f64 && turn <= k as f64 + 1.0 {
                    least = least.min(length(v));
                }
            }
        }
        least
    }

    fn shapes() -> Vec<Contour> {
        let p = Point::new;
        vec![
            Contour::circle(p(40.0, 10.0), 15.0),
            Contour::rect(p(-20.0, 35.0), 60.0, 20.0, 4.0),
            Contour::slot(p(-30.0, -40.0), p(50.0, -22.0), 6.0),
            Contour::polygon(&[p(30.0, -3.0), p(90.0, -80.0), p(80.0, 60.0), p(60.0, 0.0)]),
        ]
    }

    #[test]
    fn the_nearest_within_each_degree_is_that_of_many_points() {
        let at = Point::new(1.0, -2.0);
        for shape in shapes() {
            let mut a = Ahead::of(at);
            a.meet(&shape, 0.0);
            for k in (0..ROUND).step_by(7) {
                let (told, points) = (a.within(k), by_points(&shape, at, k));
                // points of an outline of 300 mm lie less than 0.01 mm apart
                let same = told <= points + 1e-9 && (points.is_infinite() || told > points - 0.05);
                // a degree that is only touched at its edge may have no point
                let touched = points.is_infinite() && told.is_finite();
                assert!(same || touched, "{k}: {told} {points}");
            }
            assert!((a.nearest() - super::super::distance::point_contour(at, &shape).distance).abs() < 1e-9);
        }
    }

    #[test]
    fn a_grown_shape_lies_as_near_as_its_offset() {
        let at = Point::new(1.0, -2.0);
        // a rectangle grown is one with round corners; a circle grown is a circle
        let p = Point::new;
        for (small, large) in [
            (Contour::rect(p(40.0, 5.0), 20.0, 30.0, 0.0), Contour::rect(p(40.0, 5.0), 23.0, 33.0, 1.5)),
            (Contour::circle(p(-30.0, 5.0), 12.0), Contour::circle(p(-30.0, 5.0), 13.5)),
        ] {
            let (mut a, mut b) = (Ahead::of(at), Ahead::of(at));
            a.meet(&small, 1.5);
            b.meet(&large, 0.0);
            for k in 0..ROUND {
                let (a, b) = (a.within(k), b.within(k));
                assert!(a == b || (a - b).abs() < 1e-9, "{k}: {a} {b}");
            }
        }
    }

    /// A wall at 20 to the right: beyond 45 degrees off its foot it is 20 times the root of 2 away.
    #[test]
    fn a_wall_leaves_three_quarters_up_to_its_distance_on_the_slant() {
        let mut a = Ahead::of(Point::ORIGIN);
        assert!(a.sweep(270).is_infinite());
        a.meet(&Contour::rect(Point::new(70.0, 0.0), 100.0, 900.0, 0.0), 0.0);
        assert!((a.nearest() - 20.0).abs() < 1e-12);
        assert!((a.sweep(270) - 20.0 * 2.0f64.sqrt()).abs() < 1e-9, "{}", a.sweep(270));
        assert!((a.sweep(360) - 20.0).abs() < 1e-12);
        assert!(a.sweep(180) > 500.0);
        // a second one opposite stops the sweep: half a round is free between 20 and 30
        a.meet(&Contour::rect(Point::new(-80.0, 0.0), 100.0, 900.0, 0.0), 0.0);
        assert!((a.sweep(270) - 30.0).abs() < 1e-9 || a.sweep(270) < 30.0);
        a.meet(&Contour::circle(Point::new(3.0, 0.0), 5.0), 0.0);
        assert_eq!((a.sweep(270), a.nearest()), (0.0, 0.0));
    }
}
