//! The border of a region: how far within it a shift lies, and where it has the most room.

use crate::geom::overlay::Area;
use crate::geom::{Point, Rect, Vec2};
use std::collections::BinaryHeap;
use std::f64::consts::SQRT_2;
use std::rc::Rc;

/// How near the largest disc is found, mm.
const FINE: f64 = 0.01;

/// The straights around an area, and a box around each of its pieces.
pub struct Border {
    sides: Vec<Side>,
    /// Boxes around its pieces.
    pub pieces: Vec<Rect>,
}

/// A straight.
#[derive(Clone, Copy)]
struct Side {
    from: Point,
    along: Vec2,
    /// One through the square of its length.
    per: f64,
}

impl Side {
    fn new(from: Point, to: Point) -> Side {
        let along = to - from;
        let long = along.hypot2();
        Side { from, along, per: if long > 0.0 { 1.0 / long } else { 0.0 } }
    }

    /// The point of it nearest to another.
    fn nearest(&self, p: Point) -> Point {
        let t = ((p - self.from).dot(self.along) * self.per).clamp(0.0, 1.0);
        self.from + self.along * t
    }

    /// The square of how far a point is from it.
    fn off(&self, p: Point) -> f64 {
        (self.nearest(p) - p).hypot2()
    }

    /// Whether a ray from a point to the right meets it.
    fn meets(&self, p: Point) -> bool {
        let (low, high) = (self.from.y, self.from.y + self.along.y);
        (low > p.y) != (high > p.y) && self.from.x + (p.y - low) * (self.along.x / self.along.y) > p.x
    }
}

impl Border {
    /// The border of an area.
    pub fn of(area: &Area) -> Border {
        let contours = area.contours(0.0);
        let sides = contours.iter().flat_map(|c| c.segments()).map(|s| Side::new(s.start(), s.end()));
        let pieces = contours.iter().filter(|c| c.is_ccw()).map(|c| c.bounds());
        Border { sides: sides.collect(), pieces: pieces.collect() }
    }

    /// A box around all of it; `None` where there is nothing.
    pub fn bounds(&self) -> Option<Rect> {
        self.pieces.iter().copied().reduce(|a, b| a.union(b))
    }

    /// How far within it a point lies, below zero outside.
    pub fn room(&self, p: Point) -> f64 {
        self.signed(p, self.sides.iter().map(|s| s.off(p)).fold(f64::INFINITY, f64::min))
    }

    /// The same where the square of how far it is from the nearest side is known.
    fn signed(&self, p: Point, off: f64) -> f64 {
        let inside = self.sides.iter().filter(|s| s.meets(p)).count() % 2 == 1;
        if inside { off.sqrt() } else { -off.sqrt() }
    }

    /// Points in rows within it, of about so many over a box, each with its room.
    pub fn grid(&self, b: Rect, many: usize) -> Vec<(Point, f64)> {
        let step = (b.width() * b.height() / many as f64).sqrt().max(1.0);
        let count = |long: f64| (long / step).ceil().clamp(1.0, 400.0) as usize;
        let (n, m) = (count(b.width()), count(b.height()));
        let at = |k: usize, n: usize, low: f64, high: f64| low + (high - low) * (k as f64 + 0.5) / n as f64;
        let all = (0..n).flat_map(|i| (0..m).map(move |j| (i, j)));
        let points = all.map(|(i, j)| Point::new(at(i, n, b.x0, b.x1), at(j, m, b.y0, b.y1)));
        points.map(|p| (p, self.room(p))).filter(|(_, room)| *room > 0.0).collect()
    }

    /// The point of it nearest to another, with its room.
    pub fn nearest(&self, wish: Point) -> Option<(Point, f64)> {
        let here = self.room(wish);
        if here >= 0.0 {
            return Some((wish, here));
        }
        let nearest = self.sides.iter().min_by(|a, b| a.off(wish).total_cmp(&b.off(wish)))?;
        Some((nearest.nearest(wish), 0.0))
    }

    /// The point within a box that is farthest from it, with its room.
    pub fn roomiest(&self, b: Rect) -> Option<(Point, f64)> {
        let half = b.width().max(b.height()) / 2.0;
        let all: Rc<[u32]> = (0..self.sides.len() as u32).collect();
        let (here, first) = self.cell(b.center(), half, &all);
        let mut best = (b.center(), here);
        let mut open = BinaryHeap::from([first]);
        while let Some(c) = open.pop() {
            if c.most <= best.1 + FINE {
                break;
            }
            let h = c.half / 2.0;
            for (x, y) in [(-h, -h), (h, -h), (-h, h), (h, h)] {
                let (here, next) = self.cell(c.middle + Vec2::new(x, y), h, &c.near);
                if here > best.1 {
                    best = (next.middle, here);
                }
                if next.most > best.1 + FINE {
                    open.push(next);
                }
            }
        }
        (best.1 >= 0.0).then_some(best)
    }

    /// A cell of which no side but some can be the nearest to any point, and the room in its middle.
    fn cell(&self, middle: Point, half: f64, some: &Rc<[u32]>) -> (f64, Cell) {
        let off = |k: &u32| self.sides.get(*k as usize).map_or(f64::INFINITY, |s| s.off(middle));
        let offs: Vec<f64> = some.iter().map(off).collect();
        let least = offs.iter().copied().fold(f64::INFINITY, f64::min);
        let corner = half * SQRT_2;
        // what is nearest to a point of the cell is nearer to it than what is nearest to the middle, which it is by a
        // corner farther from at the most
        let most = (least.sqrt() + 2.0 * corner) * (1.0 + 1e-9);
        let near: Vec<u32> =
            some.iter().zip(&offs).filter(|(_, o)| **o <= most * most).map(|(k, _)| *k).collect();
        let near = if near.len() == some.len() { some.clone() } else { near.into() };
        let here = self.signed(middle, least);
        (here, Cell { most: here + corner, middle, half, near })
    }
}

/// A cell of the plane; the one that may hold the most room first.
struct Cell {
    most: f64,
    middle: Point,
    half: f64,
    near: Rc<[u32]>,
}

impl PartialEq for Cell {
    fn eq(&self, o: &Cell) -> bool {
        self.cmp(o).is_eq()
    }
}

impl Eq for Cell {}

impl PartialOrd for Cell {
    fn partial_cmp(&self, o: &Cell) -> Option<std::cmp::Ordering> {
        Some(self.cmp(o))
    }
}

impl Ord for Cell {
    fn cmp(&self, o: &Cell) -> std::cmp::Ordering {
        let at = |c: &Cell| (c.middle.x, c.middle.y);
        let ((x, y), (u, v)) = (at(self), at(o));
        self.most.total_cmp(&o.most).then(u.total_cmp(&x)).then(v.total_cmp(&y))
    }
}

#[cfg(test)]
mod tests {
    use super::super::spots::room;
    use super::*;

    /// A frame with a notch and, beside it, a triangle.
    fn area() -> Area {
        let all = |points: &[(f64, f64)]| points.iter().map(|p| Point::from(*p)).collect::<Vec<_>>();
        let outer = all(&[
            (0.0, 0.0),
            (90.0, 3.0),
            (90.0, 60.0),
            (50.0, 60.0),
            (50.0, 35.0),
            (40.0, 60.0),
            (0.0, 55.0),
        ]);
        let gap = all(&[(10.0, 10.0), (30.0, 10.0), (30.0, 40.0), (10.0, 30.0)]);
        let beside = all(&[(120.0, 0.0), (150.0, 0.0), (120.0, 40.0)]);
        Area::of(&[outer]).without(&Area::of(&[gap])).with(&Area::of(&[beside]))
    }

    #[test]
    fn the_room_is_that_of_the_exact_contours() {
        let (area, contours) = (area(), area().contours(0.0));
        let border = Border::of(&area);
        for k in 0..4000 {
            let p = Point::new(f64::from(k % 80) * 2.1 - 5.0, f64::from(k / 80) * 1.43 - 4.0);
            let off = border.room(p) - room(&contours, p);
            assert!(off.abs() < 1e-9, "{p:?}: {off}");
        }
    }

    #[test]
    fn nothing_has_more_room_than_the_roomiest_but_for_what_it_may_lack() {
        let border = Border::of(&area());
        let all = border.bounds().expect("an area");
        let (at, most) = border.roomiest(all).expect("a place");
        assert!((border.room(at) - most).abs() < 1e-9);
        let grid = border.grid(all, 40_000).into_iter().map(|(_, room)| room).fold(0.0, f64::max);
        assert!(grid > 15.0 && grid <= most + FINE, "{grid} {most}");
        // of a right-angled triangle the disc within touches all sides: (30 + 40 - 50) / 2
        let (_, most) = border.roomiest(Rect::new(120.0, 0.0, 150.0, 40.0)).expect("a place");
        assert!((most - 10.0).abs() <= FINE, "{most}");
    }
}
