//! Convex polygons and their sums. A sum of two sets is all sums of a point of each: where two shapes meet for a shift
//! of one of them is the sum of the other and of its own mirror image through the origin.
//!
//! Exact to rounding for polygons; curved shapes come as polygons around them, at most [`CHORD`] off.

use crate::geom::region::{Bound, polygon};
use crate::geom::{Contour, Point, Rect, Vec2, angle};
use crate::solid::convex_cover;
use std::cell::RefCell;
use std::cmp::Ordering;
use std::collections::BTreeMap;
use std::f64::consts::PI;
use std::rc::Rc;

/// How far a polygon may lie off its shape, mm.
pub const CHORD: f64 = 0.01;

/// Corners of a convex polygon, counter-clockwise, the lowest first (of several the leftmost); one or two corners make
/// a point or a straight.
pub type Convex = Vec<Point>;

/// Convex polygons that together contain a shape, none farther than [`CHORD`] outside it.
pub fn around(c: &Contour) -> Vec<Convex> {
    if let Some((centre, radius)) = c.as_circle() {
        return vec![moved(&disc(radius), centre.to_vec2())];
    }
    convex_cover(c).iter().map(|piece| ordered(polygon(piece, Bound::Around, CHORD))).collect()
}

/// A polygon around the disc of a radius about the origin; the origin where the radius is not above zero.
pub fn disc(radius: f64) -> Convex {
    if radius <= 0.0 {
        return vec![Point::ORIGIN];
    }
    // 1 / cos h - 1 <= h^2 for h up to pi / 8
    let half = (CHORD / radius).sqrt().min(PI / 8.0);
    // sides touch the disc straight above, below and beside: there it is exact
    let n = 4.0 * (PI / half / 4.0).ceil().clamp(2.0, 1024.0);
    let (corners, within) =
        ROUND.with_borrow_mut(|known| known.entry(n as usize).or_insert_with(|| round(n)).clone());
    let far = radius / within;
    ordered(corners.iter().map(|u| Point::ORIGIN + *u * far).collect())
}

/// Directions of the corners of a regular polygon, and how far its sides are from the middle of one whose corners are
/// at one.
type Round = (Rc<[Vec2]>, f64);

thread_local! {
    /// By the number of sides: a region asks for the same few over and over, and a sine is dear.
    static ROUND: RefCell<BTreeMap<usize, Round>> = const { RefCell::new(BTreeMap::new()) };
}

fn round(n: f64) -> Round {
    let corner = |k: usize| angle::unit(2.0 * PI * (k as f64 + 0.5) / n);
    ((0..n as usize).map(corner).collect(), angle::sin_cos(PI / n).1)
}

/// A polygon moved.
fn moved(c: &[Point], by: Vec2) -> Convex {
    c.iter().map(|p| *p + by).collect()
}

/// The mirror image through the origin.
pub fn opposite(c: &[Point]) -> Convex {
    ordered(c.iter().map(|p| Point::new(-p.x, -p.y)).collect())
}

/// All sums of a point of each.
pub fn sum(a: &[Point], b: &[Point]) -> Convex {
    let (Some(p), Some(q)) = (a.first(), b.first()) else { return Vec::new() };
    // the side from a corner and its half of the directions; a polygon of one corner has none, of two it has one there and
    // one back
    let side = |c: &[Point], k: usize| -> Option<(Vec2, u8)> {
        let from = c.get(k).filter(|_| c.len() > 1)?;
        let to = c.get(k + 1).or(c.first())?;
        let v = *to - *from;
        Some((v, half(v)))
    };
    let mut at = *p + q.to_vec2();
    let mut out = Vec::with_capacity(a.len() + b.len());
    let (mut i, mut j) = (0, 0);
    let (mut of_a, mut of_b) = (side(a, 0), side(b, 0));
    loop {
        // both run round once from the lowest corner: the side that has turned less comes first
        let order = match (of_a, of_b) {
            (None, None) => break,
            (Some(_), None) => Ordering::Less,
            (None, Some(_)) => Ordering::Greater,
            (Some((u, h)), Some((v, k))) => h.cmp(&k).then_with(|| v.cross(u).total_cmp(&0.0)),
        };
        out.push(at);
        if let Some((u, _)) = of_a.filter(|_| order != Ordering::Greater) {
            at += u;
            i += 1;
            of_a = side(a, i);
        }
        if let Some((v, _)) = of_b.filter(|_| order != Ordering::Less) {
            at += v;
            j += 1;
            of_b = side(b, j);
        }
    }
    if out.is_empty() {
        out.push(at);
    }
    out
}

/// Upper or lower half of the directions, from the one along x round.
fn half(v: Vec2) -> u8 {
    u8::from(v.y < -LEVEL || v.y <= LEVEL && v.x < 0.0)
}

/// What rises by no more than this is level, mm: the side along x comes first whatever rounding makes of it.
const LEVEL: f64 = 1e-10;

/// Corners nearer to each other than this are one, mm; far below the grid on which areas are joined.
const ONE: f64 = 1e-6;

/// Turned so that the lowest corner, of several the leftmost, comes first.
///
/// Corners that all but stand on one another are one: a side without length has no direction to be sorted by.
pub fn ordered(mut c: Vec<Point>) -> Convex {
    c.dedup_by(|a, b| (*a - *b).hypot2() < ONE * ONE);
    while c.len() > 1 && c.first().zip(c.last()).is_some_and(|(a, b)| (*a - *b).hypot2() < ONE * ONE) {
        c.pop();
    }
    let least = c.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
    let lowest = c.iter().enumerate().filter(|(_, p)| p.y <= least + LEVEL);
    if let Some((k, _)) = lowest.min_by(|(_, a), (_, b)| a.x.total_cmp(&b.x)) {
        c.rotate_left(k);
    }
    c
}

/// Whether a convex polygon holds a point, its border included; one without corners holds none.
pub fn holds(c: &[Point], p: Point) -> bool {
    let [first, .., last] = c else { return c.first() == Some(&p) };
    let side = |a: &Point, b: &Point| (*b - *a).cross(p - *a);
    if c.len() < 3 {
        let along = *last - *first;
        let far = along.dot(p - *first);
        return side(first, last) == 0.0 && (0.0..=along.hypot2()).contains(&far);
    }
    // seen from the first corner the others stand in order
    let after = c.get(1..).unwrap_or_default().partition_point(|q| side(first, q) >= 0.0);
    match (after.checked_sub(1).and_then(|k| c.get(k + 1)), c.get(after + 1)) {
        (Some(a), Some(b)) => side(a, b) >= 0.0,
        // on the side that leads back to the first
        (Some(a), None) => {
            side(first, a) == 0.0
                && (*a - *first).dot(p - *first) >= 0.0
                && side(a, first) >= 0.0
                && (p - *first).hypot2() <= (*a - *first).hypot2()
        }
        _ => false,
    }
}

/// Whether a convex polygon holds another one whole.
pub fn holds_all(c: &[Point], of: &[Point]) -> bool {
    of.iter().all(|p| holds(c, *p))
}

/// The smallest upright box.
pub fn boxed(c: &[Point]) -> Option<Rect> {
    c.iter().map(|p| Rect::from_points(*p, *p)).reduce(|a, b| a.union(b))
}

/// The straights that a polygon, counter-clockwise, lies behind: outward unit vectors, and how far they are from the origin.
pub fn straights(c: &[Point]) -> impl Iterator<Item = (Vec2, f64)> {
    c.iter().zip(c.iter().cycle().skip(1)).filter_map(|(a, b)| {
        let v = *b - *a;
        let long = v.hypot2().sqrt();
        (long > 1e-9).then(|| {
            let n = Vec2::new(v.y, -v.x) / long;
            (n, n.dot(a.to_vec2()))
        })
    })
}

/// What of a convex polygon lies on the side of a straight where `n` times a point is at most `most`.
fn clipped(c: &[Point], n: Vec2, most: f64) -> Convex {
    let mut out = Vec::with_capacity(c.len() + 1);
    let past = |p: &Point| n.dot(p.to_vec2()) - most;
    let mut next = c.first().map_or(0.0, past);
    for (p, q) in c.iter().zip(c.iter().cycle().skip(1)) {
        let (a, b) = (next, past(q));
        next = b;
        if a <= 0.0 {
            out.push(*p);
        }
        if a < 0.0 && b > 0.0 || a > 0.0 && b < 0.0 {
            out.push(*p + (*q - *p) * (a / (a - b)));
        }
    }
    out
}

/// The same in place. What lies behind the straight whole is left as it is: of many straights few cut anything.
pub fn clip(c: &mut Convex, n: Vec2, most: f64) {
    let behind = support(c, n) <= most;
    if !behind {
        *c = clipped(c, n, most);
    }
}

/// A polygon grown all round by a number, or inset by it below zero.
pub fn grown(c: &[Point], by: f64) -> Convex {
    if by < 0.0 { super::inset::inset(c, -by) } else { sum(c, &disc(by)) }
}

/// The smallest convex polygon around points.
pub fn hull(mut points: Vec<Point>) -> Convex {
    points.sort_by(|a, b| a.y.total_cmp(&b.y).then(a.x.total_cmp(&b.x)));
    points.dedup_by(|a, b| (*a - *b).hypot2() < ONE * ONE);
    let chain = |points: &mut dyn Iterator<Item = Point>| {
        let mut out: Vec<Point> = Vec::new();
        for p in points {
            while let [.., a, b] = out.as_slice()
                && (*b - *a).cross(p - *b) <= 0.0
            {
                out.pop();
            }
            out.push(p);
        }
        out
    };
    let mut right = chain(&mut points.iter().copied());
    let left = chain(&mut points.iter().rev().copied());
    right.pop();
    right.extend(left.iter().take(left.len().saturating_sub(1)));
    if right.is_empty() { points } else { ordered(right) }
}

/// The corners of an upright box.
pub fn corners(r: &Rect) -> Convex {
    let all = [(r.x0, r.y0), (r.x1, r.y0), (r.x1, r.y1), (r.x0, r.y1)];
    ordered(all.map(Point::from).to_vec())
}

/// How far a convex polygon reaches along a vector of length one.
pub fn support(c: &[Point], n: Vec2) -> f64 {
    let farther = |most: f64, p: &Point| {
        let far = p.to_vec2().dot(n);
        if far > most { far } else { most }
    };
    c.iter().fold(f64::NEG_INFINITY, farther)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(c: &[Point]) -> f64 {
        let next = c.iter().cycle().skip(1);
        c.iter().zip(next).map(|(a, b)| a.to_vec2().cross(b.to_vec2())).sum::<f64>() / 2.0
    }

    fn square(x: f64, y: f64, side: f64) -> Convex {
        let at = |a: f64, b: f64| Point::new(x + a * side, y + b * side);
        vec![at(0.0, 0.0), at(1.0, 0.0), at(1.0, 1.0), at(0.0, 1.0)]
    }

    #[test]
    fn sums_by_hand() {
        // two squares: a square of the sum of their sides; a square and a straight: the square drawn along it
        assert_eq!(sum(&square(1.0, 2.0, 3.0), &square(4.0, 5.0, 6.0)), square(5.0, 7.0, 9.0));
        let along = [Point::ORIGIN, Point::new(4.0, 3.0)];
        let drawn = sum(&square(0.0, 0.0, 2.0), &along);
        // side 2, and per unit of length across: 4 * 2 + 3 * 2
        assert!((area(&drawn) - (4.0 + 14.0)).abs() < 1e-12, "{drawn:?}");
        let backwards = [Point::new(0.0, -1.0), Point::new(-4.0, 2.0)];
        assert!((area(&sum(&square(0.0, 0.0, 2.0), &backwards)) - 18.0).abs() < 1e-12);
        assert_eq!(sum(&[Point::new(1.0, 1.0)], &square(0.0, 0.0, 2.0)), square(1.0, 1.0, 2.0));
        assert_eq!(sum(&[Point::new(1.0, 1.0)], &[Point::new(2.0, 3.0)]), [Point::new(3.0, 4.0)]);
        assert!(sum(&[], &square(0.0, 0.0, 1.0)).is_empty());
    }

    #[test]
    fn a_sum_holds_all_sums_and_no_more_than_its_area_says() {
        // area of a sum with a disc: area + perimeter * r + pi r^2 (Steiner)
        let tri = ordered(vec![Point::new(0.0, 0.0), Point::new(30.0, 5.0), Point::new(8.0, 20.0)]);
        let perimeter: f64 = tri.iter().zip(tri.iter().cycle().skip(1)).map(|(a, b)| (*b - *a).hypot()).sum();
        let grown = sum(&tri, &disc(7.0));
        let true_area = area(&tri) + 7.0 * perimeter + PI * 49.0;
        let most = CHORD * (perimeter + 2.0 * PI * 7.0) * 1.01;
        assert!(
            area(&grown) >= true_area && area(&grown) <= true_area + most,
            "{} {true_area}",
            area(&grown)
        );
        for (a, b) in [(0.3, 0.2), (0.0, 1.0), (0.7, 0.1)] {
            let p = Point::ORIGIN
                + tri[0].to_vec2() * (1.0 - a - b)
                + tri[1].to_vec2() * a
                + tri[2].to_vec2() * b;
            for k in 0..64 {
                assert!(holds(&grown, p + angle::unit(f64::from(k) * 0.1) * 7.0));
            }
        }
    }

    #[test]
    fn rounding_of_level_sides_changes_no_sum() {
        // sides along x that rise and fall by rounding, in one and in two pieces
        let tilts = [0.0, 1e-14, -1e-14, 3e-13];
        for a in tilts {
            for b in tilts {
                let at = [(0.0, 0.0), (5.0, a), (10.0, b), (10.0, 4.0), (5.0, 4.0 + b), (0.0, 4.0 + a)];
                let own = ordered(at.map(|(x, y)| Point::new(x, y)).to_vec());
                for other in [square(1.0, 1.0, 3.0), disc(2.0)] {
                    let whole = sum(&own, &other);
                    let level =
                        sum(&[(0.0, 0.0), (10.0, 0.0), (10.0, 4.0), (0.0, 4.0)].map(Point::from), &other);
                    assert!((area(&whole) - area(&level)).abs() < 1e-9, "{a} {b}: {}", area(&whole));
                }
            }
        }
    }

    #[test]
    fn what_a_polygon_holds() {
        let c = disc(10.0);
        for k in 0..500 {
            let u = angle::unit(f64::from(k) * 0.0377);
            assert!(holds(&c, Point::ORIGIN + u * 9.99) && !holds(&c, Point::ORIGIN + u * 10.03), "{k}");
        }
        assert!(c.iter().all(|p| holds(&c, *p - p.to_vec2() * 1e-12)));
        let s = square(0.0, 0.0, 2.0);
        for (x, y, inside) in [
            (0.0, 0.0, true),
            (2.0, 2.0, true),
            (0.0, 1.0, true),
            (0.0, 2.1, false),
            (-0.1, 0.0, false),
            (1.0, 2.0, true),
            (0.0, -0.1, false),
        ] {
            assert_eq!(holds(&s, Point::new(x, y)), inside, "{x} {y}");
        }
    }

    #[test]
    fn the_reach_of_a_sum_is_the_sum_of_the_reaches() {
        let reach =
            |c: &[Point], u: Vec2| c.iter().map(|p| p.to_vec2().dot(u)).fold(f64::NEG_INFINITY, f64::max);
        let o = Point::new(3.0, -7.0);
        let mut shapes: Vec<Convex> = vec![disc(6.46), disc(1.5), disc(20.7)];
        for (w, h, r) in [(115.8, 72.5, 3.0), (80.0, 80.0, 24.0), (53.0, 41.6, 5.0)] {
            for turn in [0.0, 90.0, 180.0, 33.0] {
                let t = crate::geom::Transform::place(o, turn, false);
                shapes.extend(around(&t.contour(&Contour::rect(Point::ORIGIN, w, h, r))));
            }
        }
        shapes.extend(around(&Contour::circle(Point::new(-13.26, -1.05), 14.34)));
        for a in &shapes {
            for b in &shapes {
                for c in [sum(a, b), sum(&opposite(a), b), sum(b, &sum(&opposite(a), &disc(6.46)))] {
                    let next = c.iter().cycle().skip(1);
                    let third = c.iter().cycle().skip(2);
                    let turns = c.iter().zip(next).zip(third).map(|((p, q), r)| (*q - *p).cross(*r - *q));
                    assert!(turns.fold(f64::INFINITY, f64::min) > -1e-9, "not convex: {a:?} {b:?}");
                }
                for k in 0..90 {
                    let u = angle::unit(f64::from(k) * 0.07);
                    let off = reach(&sum(a, b), u) - reach(a, u) - reach(b, u);
                    assert!(off.abs() < 1e-6, "{off} {a:?} {b:?}");
                }
            }
        }
    }

    #[test]
    fn covers_hold_their_shape() {
        let l = Contour::polygon(
            &[(0.0, 0.0), (30.0, 0.0), (30.0, 10.0), (10.0, 10.0), (10.0, 40.0), (0.0, 40.0)]
                .map(Point::from),
        );
        let pieces = around(&l);
        assert!(pieces.len() >= 2);
        for (x, y) in [(1.0, 39.0), (29.0, 9.0), (5.0, 5.0)] {
            assert!(pieces.iter().any(|c| holds(c, Point::new(x, y))));
        }
        assert!(!pieces.iter().any(|c| holds(c, Point::new(20.0, 20.0))));
    }
}
