//! Lines of equal room within a region: all that keeps so far from its border.
//!
//! For pictures: corners that lie within [`FINE`] of the line between their neighbours are left out first, and round ends
//! are polygons, so that a line is at most 2 % and [`FINE`] off.

use crate::geom::overlay::Area;
use crate::geom::{Contour, Point, SLACK, Vec2, angle, length};
use std::f64::consts::PI;

/// How far a border may be off, mm on the panel.
const FINE: f64 = 0.05;
/// Sides of half a turn.
const SIDES: usize = 12;

/// What of an area keeps so far from its border, mm.
pub fn inner(area: &Area, by: f64) -> Area {
    let around = area.contours(0.0).into_iter().flat_map(|c| {
        let corners = eased(&c);
        let next = corners.iter().cycle().skip(1);
        corners.iter().zip(next).map(|(a, b)| stadium(*a, *b, by)).collect::<Vec<_>>()
    });
    area.without(&Area::of(&around.collect::<Vec<_>>()))
}

/// All that is nearer to a straight than this.
fn stadium(a: Point, b: Point, by: f64) -> Vec<Point> {
    let long = length(b - a);
    let u = if long > SLACK { (b - a) / long } else { Vec2::new(1.0, 0.0) };
    let v = Vec2::new(-u.y, u.x);
    // the sides of a round end touch it, so that the straights lie just so far away
    let corner = by / angle::sin_cos(PI / (2 * SIDES) as f64).1;
    let end = |at: Point, from: f64| {
        let to = move |turn: f64, far: f64| {
            let t = angle::unit(from + turn);
            at + u * (far * t.x) + v * (far * t.y)
        };
        let corners = (0..SIDES).map(move |k| to(PI * (k as f64 + 0.5) / SIDES as f64, corner));
        std::iter::once(to(0.0, by)).chain(corners).chain([to(PI, by)])
    };
    end(b, -PI / 2.0).chain(end(a, PI / 2.0)).collect()
}

/// Corners of a ring of straights without those that hardly matter.
pub fn eased(c: &Contour) -> Vec<Point> {
    let all: Vec<Point> = c.segments().iter().map(|s| s.start()).collect();
    let far = |p: &Point| all.first().map_or(0.0, |f| length(*p - *f));
    let Some(half) = (0..all.len()).max_by(|a, b| far(&all[*a]).total_cmp(&far(&all[*b]))) else {
        return all;
    };
    let mut keep = vec![false; all.len() + 1];
    for k in [0, half, all.len()] {
        keep[k] = true;
    }
    let ring = |k: usize| all[k % all.len()];
    let mut open = vec![(0, half), (half, all.len())];
    while let Some((from, to)) = open.pop() {
        let (a, b) = (ring(from), ring(to));
        let off = |k: &usize| off(ring(*k), a, b);
        let Some(worst) = (from + 1..to).max_by(|x, y| off(x).total_cmp(&off(y))) else { continue };
        if off(&worst) > FINE {
            keep[worst] = true;
            open.extend([(from, worst), (worst, to)]);
        }
    }
    all.iter().zip(&keep).filter(|(_, k)| **k).map(|(p, _)| *p).collect()
}

/// Distance of a point from a straight between two.
fn off(p: Point, a: Point, b: Point) -> f64 {
    let d = b - a;
    let t = if d.hypot2() > 0.0 { ((p - a).dot(d) / d.hypot2()).clamp(0.0, 1.0) } else { 0.0 };
    length(p - (a + d * t))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> Vec<Point> {
        [(x0, y0), (x1, y0), (x1, y1), (x0, y1)].map(Point::from).to_vec()
    }

    /// 100 x 60 less 10 all round is 80 x 40; with a hole of 20 x 20 in the middle grown by 10, with round corners.
    #[test]
    fn keeps_from_the_border_and_from_holes() {
        let plate = Area::of(&[rect(0.0, 0.0, 100.0, 60.0)]);
        assert!((inner(&plate, 10.0).size() - 3200.0).abs() < 1.0);
        let holed = plate.without(&Area::of(&[rect(40.0, 20.0, 60.0, 40.0)]));
        let want = 3200.0 - (400.0 + 4.0 * 200.0 + PI * 100.0);
        let got = inner(&holed, 10.0).size();
        assert!((got - want).abs() < 0.01 * want, "{got} for {want}");
        assert!(inner(&plate, 30.1).size() < 1e-6);
    }

    #[test]
    fn corners_on_a_straight_are_left_out() {
        let mut corners = rect(0.0, 0.0, 100.0, 60.0);
        corners.insert(1, Point::new(50.0, 0.01));
        assert_eq!(eased(&Contour::polygon(&corners)).len(), 4);
    }
}
