//! The point of a convex set nearest to the origin, the set known by its support alone (Gilbert, Johnson and
//! Keerthi, "A fast procedure for computing the distance between complex objects in three-dimensional space", IEEE
//! Journal of Robotics and Automation 4, 1988; the nearest point of a triangle after Ericson, "Real-Time Collision
//! Detection", 2005, 5.1).
//!
//! Certified, whatever the rounding inside: the upper end is the length of a point of the set, the lower end the
//! distance of a plane that has the whole set on its far side, less what points may stray across that plane; both to
//! [`ROUNDING`].

use crate::solid::Vec3;

/// Rounding of a support value, mm: some ten roundings of coordinates below ten metres come to 2e-11; ample.
pub(in crate::solid) const ROUNDING: f64 = 1e-9;

/// A tetrahedron lower than this, mm, has no inside that could be told from rounding.
const FLAT: f64 = 1e-8;

/// Steps before it settles for what it has; ten are usual.
const STEPS: usize = 60;

/// A point of a difference of two sets.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::solid) struct Vertex {
    /// Where it lies.
    pub w: Vec3,
    /// Which corner of a box of drivers it stands at.
    pub corner: usize,
}

/// What was found.
#[derive(Clone, Copy, Debug)]
pub(in crate::solid) struct Nearest {
    /// The set, and all that strays from it as was said, is at least so far along some direction.
    pub lower: f64,
    /// A point of it is so far; 0 where the origin lies in it.
    pub upper: f64,
    /// From the origin to that point; where it was last of some length, if that is none.
    pub to: Vec3,
    vertices: [Vertex; 4],
    weights: [f64; 4],
    count: usize,
}

impl Nearest {
    /// The vertices of which the nearest point is made, with their weights.
    pub fn made_of(&self) -> impl Iterator<Item = (&Vertex, f64)> {
        self.vertices.iter().zip(self.weights).take(self.count)
    }
}

/// The nearest point of the set whose farthest point against a direction `support` gives. Points may stray from the
/// set along a unit vector by what `stray` says, which the lower end takes off. Stops as soon as that end reaches
/// `enough`, or the search is within `tolerance` of the nearest point. `start`: a guess from the origin to the set.
pub(in crate::solid) fn nearest(
    mut support: impl FnMut(Vec3) -> Vertex,
    stray: impl Fn(Vec3) -> f64,
    start: Vec3,
    enough: f64,
    tolerance: f64,
) -> Nearest {
    let first = support(if start.dot(start) > 1e-12 { start } else { Vec3::FORWARD });
    let mut simplex = Simplex { vertices: [first; 4], weights: [1.0, 0.0, 0.0, 0.0], count: 1 };
    let mut v = first.w;
    let (mut lower, mut plane) = (f64::NEG_INFINITY, f64::NEG_INFINITY);
    let mut to = if start.dot(start) > 1e-12 { start } else { Vec3::FORWARD };
    for _ in 0..STEPS {
        let length = v.length();
        if length <= ROUNDING {
            return simplex.found(lower, 0.0, to);
        }
        to = v;
        let next = support(v);
        let reach = v.dot(next.w) / length;
        plane = plane.max(reach);
        lower = lower.max(reach - ROUNDING - stray(v * (1.0 / length)));
        if lower >= enough || length - plane <= tolerance {
            break;
        }
        // a vertex that is there already: as near as rounding lets it come
        if simplex.vertices.iter().take(simplex.count).any(|s| s.w == next.w) {
            break;
        }
        let mut grown = simplex;
        grown.push(next);
        let Some(nearer) = grown.reduce() else {
            return grown.found(lower, 0.0, to);
        };
        if nearer.dot(nearer) >= v.dot(v) {
            break;
        }
        (simplex, v) = (grown, nearer);
    }
    simplex.found(lower, v.length(), to)
}

/// Up to four vertices, and the weights of the point of their hull that is nearest to the origin.
#[derive(Clone, Copy)]
struct Simplex {
    vertices: [Vertex; 4],
    weights: [f64; 4],
    count: usize,
}

impl Simplex {
    fn found(&self, lower: f64, upper: f64, to: Vec3) -> Nearest {
        let Simplex { vertices, weights, count } = *self;
        Nearest { lower, upper, to, vertices, weights, count }
    }

    fn push(&mut self, vertex: Vertex) {
        if let Some(free) = self.vertices.get_mut(self.count) {
            *free = vertex;
            self.count += 1;
        }
    }

    /// Keeps the vertices that the nearest point needs and gives it; `None` where the origin lies within.
    fn reduce(&mut self) -> Option<Vec3> {
        let [p, q, r, s] = self.vertices.map(|v| v.w);
        self.weights = match self.count {
            1 => [1.0, 0.0, 0.0, 0.0],
            2 => {
                let [a, b] = on_line(p, q);
                [a, b, 0.0, 0.0]
            }
            3 => {
                let [a, b, c] = on_triangle(p, q, r);
                [a, b, c, 0.0]
            }
            _ => match on_solid([p, q, r, s]) {
                Some(weights) => weights,
                None => {
                    // the origin itself, by the volumes that it makes with the faces
                    let volume = |a: Vec3, b: Vec3, c: Vec3| a.dot(b.cross(c)).abs();
                    let parts = [volume(q, r, s), volume(p, r, s), volume(p, q, s), volume(p, q, r)];
                    let whole: f64 = parts.iter().sum();
                    self.weights = parts.map(|v| if whole > 0.0 { v / whole } else { 0.25 });
                    return None;
                }
            },
        };
        let (mut kept, mut v) = (0, Vec3::ZERO);
        for n in 0..self.count {
            if self.weights[n] > 0.0 {
                (self.vertices[kept], self.weights[kept]) = (self.vertices[n], self.weights[n]);
                v += self.vertices[kept].w * self.weights[kept];
                kept += 1;
            }
        }
        self.count = kept;
        Some(v)
    }
}

/// Weights of the point of a segment nearest to the origin.
fn on_line(p: Vec3, q: Vec3) -> [f64; 2] {
    let along = q - p;
    let (t, length2) = (-p.dot(along), along.dot(along));
    if t <= 0.0 || length2 <= 0.0 {
        [1.0, 0.0]
    } else if t >= length2 {
        [0.0, 1.0]
    } else {
        [1.0 - t / length2, t / length2]
    }
}

/// Weights of the point of a triangle nearest to the origin.
fn on_triangle(p: Vec3, q: Vec3, r: Vec3) -> [f64; 3] {
    let (pq, pr) = (q - p, r - p);
    let (d1, d2) = (-pq.dot(p), -pr.dot(p));
    if d1 <= 0.0 && d2 <= 0.0 {
        return [1.0, 0.0, 0.0];
    }
    let (d3, d4) = (-pq.dot(q), -pr.dot(q));
    if d3 >= 0.0 && d4 <= d3 {
        return [0.0, 1.0, 0.0];
    }
    let (d5, d6) = (-pq.dot(r), -pr.dot(r));
    if d6 >= 0.0 && d5 <= d6 {
        return [0.0, 0.0, 1.0];
    }
    // areas by the normal, which loses less to rounding than differences of the products above
    let n = pq.cross(pr);
    let (a, b, c) = (n.dot(q.cross(r)), n.dot(r.cross(p)), n.dot(p.cross(q)));
    let whole = a + b + c;
    if a > 0.0 && b > 0.0 && c > 0.0 && whole > 0.0 {
        return [a / whole, b / whole, c / whole];
    }
    // on an edge: the nearest of the three, which also serves a triangle without area
    let edges = [(on_line(p, q), [0, 1]), (on_line(q, r), [1, 2]), (on_line(r, p), [2, 0])];
    let points = [p, q, r];
    let mut best = ([1.0, 0.0, 0.0], p.dot(p));
    for (weights, [i, j]) in edges {
        let v = points[i] * weights[0] + points[j] * weights[1];
        if v.dot(v) < best.1 {
            let mut all = [0.0; 3];
            (all[i], all[j]) = (weights[0], weights[1]);
            best = (all, v.dot(v));
        }
    }
    best.0
}

/// Weights of the point of a tetrahedron nearest to the origin; `None` where the origin lies in it.
fn on_solid(points: [Vec3; 4]) -> Option<[f64; 4]> {
    const FACES: [[usize; 4]; 4] = [[0, 1, 2, 3], [0, 2, 3, 1], [0, 3, 1, 2], [1, 3, 2, 0]];
    let mut best: Option<([f64; 4], f64)> = None;
    for [i, j, k, other] in FACES {
        let (p, q, r) = (points[i], points[j], points[k]);
        let n = (q - p).cross(r - p);
        let (origin, fourth) = (-n.dot(p), n.dot(points[other] - p));
        // on the far side of this face, or the tetrahedron is flat as far as rounding can tell
        if origin * fourth <= 0.0 || fourth.abs() <= FLAT * n.length() {
            let [a, b, c] = on_triangle(p, q, r);
            let v = p * a + q * b + r * c;
            if best.is_none_or(|(_, least)| v.dot(v) < least) {
                let mut all = [0.0; 4];
                (all[i], all[j], all[k]) = (a, b, c);
                best = Some((all, v.dot(v)));
            }
        }
    }
    best.map(|(weights, _)| weights)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Farthest point against a direction, of the hull of points.
    fn hull(points: &[Vec3]) -> impl FnMut(Vec3) -> Vertex + '_ {
        |v| {
            let w = points.iter().copied().min_by(|a, b| a.dot(v).total_cmp(&b.dot(v))).unwrap_or_default();
            Vertex { w, corner: 0 }
        }
    }

    fn found(points: &[Vec3]) -> Nearest {
        nearest(hull(points), |_| 0.0, Vec3::new(0.3, 0.2, 0.1), f64::INFINITY, 1e-9)
    }

    #[test]
    fn corner_edge_face_and_within() {
        let cube = |x: f64, y: f64, d: f64| -> Vec<Vec3> {
            (0..8)
                .map(|n| Vec3::new(x + f64::from(n & 1), y + f64::from(n >> 1 & 1), d + f64::from(n >> 2)))
                .collect()
        };
        for (points, truth) in [
            (cube(2.0, 3.0, 6.0), 7.0),    // corner: 4 + 9 + 36 = 49
            (cube(3.0, -0.3, 4.0), 5.0),   // edge: 9 + 16 = 25
            (cube(-0.4, -0.3, -6.0), 5.0), // face
            (cube(-0.4, -0.3, -0.7), 0.0),
            (vec![Vec3::new(0.0, 0.0, 3.0); 5], 3.0),
            (vec![Vec3::new(-9.0, 0.0, 3.0), Vec3::new(1.0, 0.0, 3.0), Vec3::new(5.0, 0.0, 3.0)], 3.0),
        ] {
            let n = found(&points);
            assert!(n.lower <= truth && truth <= n.upper + 1e-12, "{n:?} {truth}");
            assert!(n.upper - n.lower < 1e-8 || truth == 0.0, "{n:?}");
            let w = n.made_of().fold(Vec3::ZERO, |s, (v, k)| s + v.w * k);
            assert!((w.length() - n.upper).abs() < 1e-9);
        }
    }

    #[test]
    fn it_stops_when_it_has_enough() {
        let far = [Vec3::new(50.0, 1.0, 0.0), Vec3::new(50.0, -1.0, 0.0), Vec3::new(60.0, 0.0, 1.0)];
        let n = nearest(hull(&far), |_| 0.0, Vec3::new(1.0, 0.0, 0.0), 40.0, 1e-9);
        assert!(n.lower >= 40.0 && n.lower <= 50.0);
        // what strays along x only costs nothing along d
        let slab = [Vec3::new(-9.0, -9.0, 5.0), Vec3::new(9.0, -9.0, 5.0), Vec3::new(0.0, 9.0, 5.0)];
        let n = nearest(hull(&slab), |v| 3.0 * v.x.abs(), Vec3::new(0.1, 0.0, 1.0), f64::INFINITY, 1e-9);
        assert!((n.lower - 5.0).abs() < 1e-6, "{n:?}");
    }
}
