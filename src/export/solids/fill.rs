//! Triangles that fill a ring with holes: ear clipping, with every corner kept.
//!
//! Every edge of a ring belongs to exactly one triangle and every edge inside to exactly two, whatever the
//! coordinates: the walls of a body close on them without a gap. Corners in one line may give a triangle without
//! area, which closes the mesh all the same.

use super::cells::Cells;
use crate::geom::{Point, Rect};

/// Triangles as indices into the points of all rings in their order: the first runs counter-clockwise, the others
/// (holes inside it, apart from each other) clockwise.
pub(super) fn fill(rings: &[Vec<Point>]) -> Vec<[u32; 3]> {
    let mut ring = Ring::default();
    let mut starts = Vec::new();
    for points in rings.iter().filter(|r| r.len() > 2) {
        starts.push(ring.add(points));
    }
    let Some((&outer, holes)) = starts.split_first() else { return Vec::new() };
    // rightmost hole first: the way to the ring around it crosses no hole that is still to come
    let mut holes: Vec<usize> = holes.iter().map(|h| ring.rightmost(*h)).collect();
    holes.sort_by(|a, b| ring.at(*b).x.total_cmp(&ring.at(*a).x));
    for hole in holes {
        ring.bridge(outer, hole);
    }
    ring.clip(outer)
}

/// Corners in linked rings.
#[derive(Default)]
struct Ring {
    points: Vec<Point>,
    nodes: Vec<Node>,
}

#[derive(Clone, Copy)]
struct Node {
    point: u32,
    next: usize,
    back: usize,
}

/// Twice the area of a triangle, positive counter-clockwise.
fn turn(a: Point, b: Point, c: Point) -> f64 {
    (b - a).cross(c - a)
}

impl Ring {
    fn add(&mut self, points: &[Point]) -> usize {
        let (first, n) = (self.nodes.len(), points.len());
        for (k, p) in points.iter().enumerate() {
            self.nodes.push(Node {
                point: self.points.len() as u32,
                next: first + (k + 1) % n,
                back: first + (k + n - 1) % n,
            });
            self.points.push(*p);
        }
        first
    }

    fn node(&self, k: usize) -> Node {
        self.nodes.get(k).copied().unwrap_or(Node { point: 0, next: k, back: k })
    }

    fn at(&self, k: usize) -> Point {
        self.points.get(self.node(k).point as usize).copied().unwrap_or(Point::ORIGIN)
    }

    fn link(&mut self, a: usize, b: usize) {
        if let Some(n) = self.nodes.get_mut(a) {
            n.next = b;
        }
        if let Some(n) = self.nodes.get_mut(b) {
            n.back = a;
        }
    }

    /// The nodes of the ring that starts at `first`.
    fn walk(&self, first: usize) -> Vec<usize> {
        let mut list = vec![first];
        let mut k = self.node(first).next;
        while k != first && list.len() <= self.nodes.len() {
            list.push(k);
            k = self.node(k).next;
        }
        list
    }

    fn rightmost(&self, first: usize) -> usize {
        self.walk(first)
            .into_iter()
            .max_by(|a, b| {
                self.at(*a).x.total_cmp(&self.at(*b).x).then(self.at(*b).y.total_cmp(&self.at(*a).y))
            })
            .unwrap_or(first)
    }

    /// Joins a hole to the ring around it by an edge walked both ways, from the hole's rightmost corner to the
    /// nearest corner to its right that it sees.
    fn bridge(&mut self, outer: usize, hole: usize) {
        let from = self.at(hole);
        let ring = self.walk(outer);
        let mut near: Vec<(f64, usize)> = ring
            .iter()
            .filter(|k| self.at(**k).x >= from.x)
            .map(|k| ((self.at(*k) - from).hypot2(), *k))
            .collect();
        near.sort_by(|a, b| a.0.total_cmp(&b.0));
        let sees = |k: usize| self.opens(k, from) && ring.iter().all(|e| !self.blocks(*e, from, self.at(k)));
        let seen = near.iter().map(|(_, k)| *k).find(|k| sees(*k));
        // the corner nearest to it always does for a lawful hole; a ring that is none stays closed all the same
        let Some(to) = seen.or(near.first().map(|(_, k)| *k)).or(ring.first().copied()) else { return };
        let (after, before) = (self.node(to).next, self.node(hole).back);
        let (to_again, hole_again) = (self.nodes.len(), self.nodes.len() + 1);
        self.nodes.push(Node { point: self.node(to).point, next: after, back: hole_again });
        self.nodes.push(Node { point: self.node(hole).point, next: to_again, back: before });
        self.link(to, hole);
        self.link(before, hole_again);
        self.link(hole_again, to_again);
        self.link(to_again, after);
    }

    /// Whether the inside of the ring at a corner lies towards a point.
    fn opens(&self, k: usize, p: Point) -> bool {
        let n = self.node(k);
        let (a, b, c) = (self.at(n.back), self.at(k), self.at(n.next));
        if turn(a, b, c) > 0.0 {
            turn(a, b, p) > 0.0 && turn(b, c, p) > 0.0
        } else {
            turn(a, b, p) > 0.0 || turn(b, c, p) > 0.0
        }
    }

    /// Whether the edge that leaves a node stands in the way from `a` to `b`; at the ends it may touch.
    fn blocks(&self, edge: usize, a: Point, b: Point) -> bool {
        let (c, d) = (self.at(edge), self.at(self.node(edge).next));
        if c == b || d == b {
            // an edge at the end itself blocks only where it lies on the way
            let other = if c == b { d } else { c };
            let on = turn(a, b, other) == 0.0 && (other - a).dot(b - a) > 0.0;
            return on && (other - a).hypot2() < (b - a).hypot2();
        }
        let (s, t) = (turn(a, b, c), turn(a, b, d));
        let (u, v) = (turn(c, d, a), turn(c, d, b));
        (s <= 0.0) != (t < 0.0) && (u <= 0.0) != (v < 0.0) || (s == 0.0 && between(a, b, c))
    }

    /// Clips ears until nothing is left.
    fn clip(&self, outer: usize) -> Vec<[u32; 3]> {
        let order = self.walk(outer);
        let mut ears = Ears::new(self, &order);
        ears.all()
    }
}

/// Whether a point on the straight from `a` to `b` lies between the two.
fn between(a: Point, b: Point, p: Point) -> bool {
    (p - a).dot(b - a) > 0.0 && (p - b).dot(a - b) > 0.0
}

/// How strictly a corner must be an ear.
#[derive(Clone, Copy, PartialEq)]
enum Asked {
    /// Nothing in the triangle nor on its border.
    Clear,
    /// Nothing in the triangle.
    Open,
    /// Anything: closes a ring that is none.
    Any,
}

/// The clipping of one ring.
struct Ears {
    at: Vec<Point>,
    id: Vec<u32>,
    next: Vec<usize>,
    back: Vec<usize>,
    cells: Cells,
}

impl Ears {
    fn new(ring: &Ring, order: &[usize]) -> Ears {
        let n = order.len();
        let at: Vec<Point> = order.iter().map(|k| ring.at(*k)).collect();
        let mut ears = Ears {
            id: order.iter().map(|k| ring.node(*k).point).collect(),
            next: (0..n).map(|k| (k + 1) % n).collect(),
            back: (0..n).map(|k| (k + n - 1) % n).collect(),
            cells: Cells::new(&at),
            at,
        };
        for k in 0..n {
            // only a corner that points inwards can lie in an ear
            if ears.turn(k) <= 0.0 {
                ears.cells.put(k, ears.at[k]);
            }
        }
        ears
    }

    fn turn(&self, k: usize) -> f64 {
        turn(self.at[self.back[k]], self.at[k], self.at[self.next[k]])
    }

    fn all(&mut self) -> Vec<[u32; 3]> {
        let mut left = self.at.len();
        let mut out = Vec::with_capacity(left);
        let (mut k, mut tried, mut asked) = (0, 0, Asked::Clear);
        while left > 3 {
            if self.is_ear(k, asked) {
                let (a, b) = (self.back[k], self.next[k]);
                out.push([self.id[a], self.id[k], self.id[b]]);
                (self.next[a], self.back[b]) = (b, a);
                self.cells.take(k, self.at[k]);
                for c in [a, b] {
                    if self.turn(c) > 0.0 {
                        self.cells.take(c, self.at[c]);
                    }
                }
                left -= 1;
                (tried, asked) = (0, Asked::Clear);
                // the one after next: triangles come out less pointed
                k = self.next[b];
                continue;
            }
            k = self.next[k];
            tried += 1;
            if tried > left {
                tried = 0;
                asked = if asked == Asked::Clear { Asked::Open } else { Asked::Any };
            }
        }
        if left == 3 {
            out.push([self.id[self.back[k]], self.id[k], self.id[self.next[k]]]);
        }
        out
    }

    fn is_ear(&self, k: usize, asked: Asked) -> bool {
        let (i, j) = (self.back[k], self.next[k]);
        let corners = [self.at[i], self.at[k], self.at[j]];
        let [a, b, c] = corners;
        let area = turn(a, b, c);
        match asked {
            Asked::Any => return true,
            Asked::Clear | Asked::Open if area <= 0.0 => return false,
            Asked::Clear | Asked::Open => {}
        }
        let inside = |p: Point| {
            let least = turn(a, b, p).min(turn(b, c, p)).min(turn(c, a, p));
            if asked == Asked::Clear { least >= 0.0 } else { least > 0.0 }
        };
        let bounds = Rect::from_points(a, b).union_pt(c);
        !self.cells.any(bounds, |m| {
            m != i && m != j && m != k && !corners.contains(&self.at[m]) && inside(self.at[m])
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeMap;

    fn area(points: &[Point]) -> f64 {
        let next = points.iter().cycle().skip(1);
        points.iter().zip(next).map(|(a, b)| a.to_vec2().cross(b.to_vec2())).sum::<f64>() / 2.0
    }

    /// Every edge of a ring once, every other edge once each way; the areas add up; no triangle runs backwards.
    fn holds(rings: &[Vec<Point>]) {
        let all: Vec<Point> = rings.concat();
        let triangles = fill(rings);
        let mut edges: BTreeMap<(u32, u32), i32> = BTreeMap::new();
        let mut sum = 0.0;
        for t in &triangles {
            let corners: Vec<Point> = t.iter().map(|k| all[*k as usize]).collect();
            assert!(area(&corners) >= -1e-9, "{corners:?}");
            sum += area(&corners);
            for (a, b) in [(t[0], t[1]), (t[1], t[2]), (t[2], t[0])] {
                *edges.entry((a, b)).or_default() += 1;
            }
        }
        let mut first = 0;
        for r in rings {
            for k in 0..r.len() {
                let (a, b) = (first + k as u32, first + ((k + 1) % r.len()) as u32);
                assert_eq!(edges.remove(&(a, b)), Some(1), "edge {a} {b}");
            }
            first += r.len() as u32;
        }
        for ((a, b), n) in &edges {
            assert_eq!((*n, edges.get(&(*b, *a))), (1, Some(&1)), "edge {a} {b}");
        }
        let expected: f64 = rings.iter().map(|r| area(r)).sum();
        assert!((sum - expected).abs() < 1e-6 * expected, "{sum} {expected}");
    }

    fn ring(x: f64, y: f64, r: f64, n: usize, hole: bool) -> Vec<Point> {
        let mut list: Vec<Point> = (0..n)
            .map(|k| {
                Point::new(x, y) + crate::geom::angle::unit(std::f64::consts::TAU * k as f64 / n as f64) * r
            })
            .collect();
        if hole {
            list.reverse();
        }
        list
    }

    #[test]
    fn grids_of_holes_in_line_fill_without_a_gap() {
        let sheet = [(0.0, 0.0), (50.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0)];
        let sheet: Vec<Point> = sheet.iter().map(|p| Point::from(*p)).collect();
        let mut rings = vec![sheet.clone()];
        holds(&rings);
        for x in [10.0, 30.0, 50.0, 70.0, 90.0] {
            for y in [10.0, 30.0, 50.0] {
                rings.push(ring(x, y, 8.0, 4, true));
            }
        }
        holds(&rings);
        rings.truncate(1);
        for x in [10.0, 30.0, 50.0, 70.0, 90.0] {
            rings.push(ring(x, 30.0, 9.9, 40, true));
        }
        holds(&rings);
    }

    #[test]
    fn random_holes() {
        let mut seed = 1u64;
        let mut next = || {
            seed = seed.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
            (seed >> 33) as f64 / (1u64 << 31) as f64
        };
        for _ in 0..60 {
            let mut rings = vec![ring(0.0, 0.0, 100.0, 3 + (next() * 40.0) as usize, false)];
            let inner = 100.0 * libm::cos(std::f64::consts::PI / rings[0].len() as f64);
            let mut placed: Vec<(f64, f64, f64)> = Vec::new();
            for _ in 0..25 {
                // on a grid of 5 mm, so that much lies in line
                let (x, y) = ((next() * 36.0).floor() * 5.0 - 90.0, (next() * 36.0).floor() * 5.0 - 90.0);
                let r = 1.0 + (next() * 15.0).floor();
                let far = |a: f64, b: f64| (a * a + b * b).sqrt();
                if far(x, y) + r < inner - 0.1 && placed.iter().all(|(a, b, s)| far(x - a, y - b) > r + s) {
                    placed.push((x, y, r));
                    rings.push(ring(x, y, r, 3 + (next() * 30.0) as usize, true));
                }
            }
            holds(&rings);
        }
    }
}
