//! A convex polygon inset by a number: what is left where its sides move inwards.
//!
//! One walk round the sides, which stand in the order of their directions: a side that moved beyond the corner of those
//! before it takes their place. Exact to rounding.

use super::convex::{Convex, clip, ordered, straights, support};
use crate::geom::{Point, Vec2};
use std::collections::VecDeque;

/// A straight that all lies behind: its outward unit vector, and how far it is from the origin.
type Side = (Vec2, f64);

/// So many sides are looked at first.
const FEW: usize = 6;

/// Corners may lie so far outside of a side by rounding, mm.
const OFF: f64 = 1e-7;

/// What of a convex polygon lies at least so far within its sides; less than three corners where nothing does.
pub fn inset(c: &[Point], by: f64) -> Convex {
    let sides: Vec<Side> = straights(c).map(|(n, far)| (n, far - by)).collect();
    // opposite sides that have passed each other leave nothing: a few tell it of most
    let passed = |(n, far): &Side| -support(c, -*n) > *far;
    if sides.iter().step_by(sides.len().div_ceil(FEW).max(1)).any(passed) {
        return Vec::new();
    }
    match walked(&sides) {
        Some(c) if c.iter().all(|p| p.is_finite()) && within(&c, &sides) => ordered(c),
        _ => one_by_one(c, &sides),
    }
}

/// Corners behind all sides by one walk round; `None` where rounding, or that nothing is left, has to be looked into.
fn walked(sides: &[Side]) -> Option<Vec<Point>> {
    let mut kept: VecDeque<Side> = VecDeque::with_capacity(sides.len());
    // corners between neighbours of those that are kept
    let mut corners: VecDeque<Point> = VecDeque::with_capacity(sides.len());
    let beyond = |(n, far): &Side, p: Option<&Point>| p.is_some_and(|p| n.dot(p.to_vec2()) > *far);
    for side in sides {
        while beyond(side, corners.back()) {
            corners.pop_back();
            kept.pop_back();
        }
        while beyond(side, corners.front()) {
            corners.pop_front();
            kept.pop_front();
        }
        if let Some(last) = kept.back() {
            corners.push_back(meet(last, side)?);
        }
        kept.push_back(*side);
    }
    while kept.len() > 2 && beyond(kept.front()?, corners.back()) {
        corners.pop_back();
        kept.pop_back();
    }
    while kept.len() > 2 && beyond(kept.back()?, corners.front()) {
        corners.pop_front();
        kept.pop_front();
    }
    if kept.len() < 3 {
        return None;
    }
    corners.push_back(meet(kept.back()?, kept.front()?)?);
    Some(corners.into())
}

/// Where two sides meet of which the second turns left from the first; `None`: they do not.
fn meet((n, a): &Side, (m, b): &Side) -> Option<Point> {
    let turn = n.cross(*m);
    (turn > 1e-9).then(|| Point::new((a * m.y - b * n.y) / turn, (b * n.x - a * m.x) / turn))
}

/// Whether no corner lies outside of a side. The corner farthest along a side's direction follows that of the side before.
fn within(c: &[Point], sides: &[Side]) -> bool {
    let at = |k: usize| c.get(k % c.len()).map_or(Vec2::ZERO, |p| p.to_vec2());
    let Some((first, _)) = sides.first() else { return false };
    let far = |k: &usize| first.dot(at(*k));
    let mut k = (0..c.len()).max_by(|a, b| far(a).total_cmp(&far(b))).unwrap_or(0);
    sides.iter().all(|(n, far)| {
        for _ in 0..c.len() {
            if n.dot(at(k + 1)) <= n.dot(at(k)) {
                break;
            }
            k += 1;
        }
        n.dot(at(k)) <= far + OFF
    })
}

/// The same side by side.
fn one_by_one(c: &[Point], sides: &[Side]) -> Convex {
    let mut out = c.to_vec();
    for (n, far) in sides {
        clip(&mut out, *n, *far);
        if out.len() < 3 {
            return Vec::new();
        }
    }
    ordered(out)
}

#[cfg(test)]
mod tests {
    use super::super::convex::{corners, disc, sum};
    use super::*;
    use crate::geom::{Rect, angle};

    fn area(c: &[Point]) -> f64 {
        let next = c.iter().cycle().skip(1);
        c.iter().zip(next).map(|(a, b)| a.to_vec2().cross(b.to_vec2())).sum::<f64>() / 2.0
    }

    fn plain(c: &[Point], by: f64) -> Convex {
        let sides: Vec<Side> = straights(c).map(|(n, far)| (n, far - by)).collect();
        one_by_one(c, &sides)
    }

    #[test]
    fn by_hand() {
        let r = corners(&Rect::new(0.0, 0.0, 40.0, 10.0));
        assert_eq!(inset(&r, 3.0), corners(&Rect::new(3.0, 3.0, 37.0, 7.0)));
        assert!(inset(&r, 5.5).len() < 3);
        // a right-angled triangle of 30, 40 and 50: its inner disc has a radius of 10; by 4 it is 6 tenths of itself
        let t = ordered([(0.0, 0.0), (30.0, 0.0), (0.0, 40.0)].map(Point::from).to_vec());
        assert!((area(&inset(&t, 4.0)) - 600.0 * 0.36).abs() < 1e-9);
        assert!(inset(&t, 10.1).len() < 3);
    }

    #[test]
    fn one_walk_round_leaves_what_side_by_side_leaves() {
        let mut shapes: Vec<Convex> = vec![disc(3.0), disc(40.0)];
        for k in 0..40 {
            let wide = 5.0 + 3.0 * f64::from(k);
            let boxed = corners(&Rect::new(-wide, 2.0, 10.0, 4.0 + 1.7 * f64::from(k % 7)));
            let u = angle::unit(f64::from(k) * 0.37) * 30.0;
            let line = ordered(vec![Point::ORIGIN, u.to_point()]);
            shapes.push(sum(&boxed, &disc(0.4 + f64::from(k % 5))));
            shapes.push(sum(&boxed, &line));
            shapes.push(sum(&sum(&boxed, &line), &disc(1.0)));
            shapes.push(boxed);
        }
        let mut some = 0;
        for c in &shapes {
            for k in 0..60 {
                let by = 0.01 + 0.4 * f64::from(k);
                let (a, b) = (inset(c, by), plain(c, by));
                let (a, b) =
                    (if a.len() < 3 { 0.0 } else { area(&a) }, if b.len() < 3 { 0.0 } else { area(&b) });
                assert!((a - b).abs() < 1e-6, "{c:?} by {by}: {a} {b}");
                some += usize::from(a > 0.0);
            }
        }
        assert!(some > 1000, "{some}");
    }
}
