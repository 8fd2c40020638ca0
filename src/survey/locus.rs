//! Where a point may lie by one observation: on a circle or on a line; and where two such cross.

use crate::geom::{Point, Vec2};

/// A circle or a line.
#[derive(Clone, Copy, Debug)]
pub enum Locus {
    /// At a distance from a point.
    Circle {
        /// The point.
        centre: Point,
        /// The distance, mm.
        radius: f64,
    },
    /// On a line.
    Line {
        /// Through this point.
        through: Point,
        /// In this direction, of length 1.
        along: Vec2,
    },
    /// At a distance from a line, on either side.
    Beside {
        /// Through this point.
        through: Point,
        /// In this direction, of length 1.
        along: Vec2,
        /// The distance, mm.
        off: f64,
    },
}

impl Locus {
    /// How far a point is off it, mm.
    pub fn off(&self, p: Point) -> f64 {
        match *self {
            Locus::Circle { centre, radius } => ((p - centre).hypot2().sqrt() - radius).abs(),
            Locus::Line { through, along } => (p - through).cross(along).abs(),
            Locus::Beside { through, along, off } => ((p - through).cross(along).abs() - off).abs(),
        }
    }

    /// Where two cross; where they miss each other, the point between them, so that a small error does not lose it.
    pub fn meet(&self, other: &Locus) -> Vec<Point> {
        match (*self, *other) {
            (Locus::Beside { through, along, off }, _) => {
                let side = Vec2::new(-along.y, along.x) * off;
                let line = |by: Vec2| Locus::Line { through: through + by, along };
                [line(side), line(-side)].iter().flat_map(|l| l.meet(other)).collect()
            }
            (_, Locus::Beside { .. }) => other.meet(self),
            (Locus::Circle { centre: a, radius: ra }, Locus::Circle { centre: b, radius: rb }) => {
                circles(a, ra, b, rb)
            }
            (Locus::Circle { centre, radius }, Locus::Line { through, along })
            | (Locus::Line { through, along }, Locus::Circle { centre, radius }) => {
                let foot = through + along * (centre - through).dot(along);
                let off = (centre - foot).hypot2();
                let half = (radius * radius - off).max(0.0).sqrt();
                pair(foot, along * half)
            }
            (Locus::Line { through: p, along: u }, Locus::Line { through: q, along: v }) => {
                let cross = u.cross(v);
                if cross.abs() < 1e-6 { Vec::new() } else { vec![p + u * ((q - p).cross(v) / cross)] }
            }
        }
    }
}

fn circles(a: Point, ra: f64, b: Point, rb: f64) -> Vec<Point> {
    let between = b - a;
    let long = between.hypot2().sqrt();
    if long < 1e-6 {
        return Vec::new();
    }
    let e = between / long;
    if ra + rb <= long {
        return vec![a + e * (ra + 0.5 * (long - ra - rb))];
    }
    if (ra - rb).abs() >= long {
        // one within the other: beyond the smaller one's centre
        let (from, way, small, large) = if ra > rb { (b, e, rb, ra) } else { (a, -e, ra, rb) };
        return vec![from + way * (small + 0.5 * (large - long - small))];
    }
    let along = (long * long + ra * ra - rb * rb) / (2.0 * long);
    let up = (ra * ra - along * along).max(0.0).sqrt();
    pair(a + e * along, Vec2::new(-e.y, e.x) * up)
}

fn pair(middle: Point, half: Vec2) -> Vec<Point> {
    if half.hypot2() == 0.0 { vec![middle] } else { vec![middle + half, middle - half] }
}

/// Centre and radius of the circle through three points.
pub fn through(a: Point, b: Point, c: Point) -> Option<(Point, f64)> {
    let (u, v) = (b - a, c - a);
    let cross = 2.0 * u.cross(v);
    if cross.abs() < 1e-9 {
        return None;
    }
    let (uu, vv) = (u.hypot2(), v.hypot2());
    let to = Vec2::new((v.y * uu - u.y * vv) / cross, (u.x * vv - v.x * uu) / cross);
    Some((a + to, to.hypot2().sqrt()))
}
