//! How far apart two solids are: the least over their pieces, each pair certified.

use super::gap::apart;
use super::{Gap, Piece, Solid, Swept, Vec3, gap, pair};
use crate::geom::SLACK;

/// Pieces that may be too large overlap where they lie deeper in each other than so many times that much.
const SURELY: f64 = 10.0;

/// How two solids lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lie {
    /// Apart.
    Apart,
    /// They touch, to arithmetic slack.
    Touching,
    /// They overlap.
    Overlap,
}

/// How far apart two solids are, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clearance {
    /// Not less than this; below zero for solids that overlap, by as much as their depth at the most.
    pub lower: f64,
    /// Not more than this; not above zero for solids that overlap.
    pub upper: f64,
    /// How they lie.
    pub relation: Lie,
    /// Of an overlap of convex solids: how far one has to move to come free, at the most.
    pub depth: Option<f64>,
    /// Nearest points, on the first and on the second.
    pub points: [Vec3; 2],
}

/// How far apart two solids are.
pub fn distance(a: &Solid, b: &Solid) -> Clearance {
    let (whole, excess) = least(a, b, f64::INFINITY);
    told(a, b, whole, excess)
}

/// The same if they may be within `reach` of each other; `None`: they are surely farther apart.
pub fn within(a: &Solid, b: &Solid, reach: f64) -> Option<Clearance> {
    if balls(a.ball(), b.ball()) > reach || a.bounds().distance(&b.bounds()) > reach {
        return None;
    }
    let (found, excess) = least(a, b, reach);
    (found.upper.is_finite() && found.lower <= reach).then(|| told(a, b, found, excess))
}

/// Whether two solids may be within `reach`, not negative, of each other: what [`within`] answers, without how far.
pub fn nearer(a: &Solid, b: &Solid, reach: f64) -> bool {
    if balls(a.ball(), b.ball()) > reach || a.bounds().distance(&b.bounds()) > reach {
        return false;
    }
    if let Some(whole) = pair::solids(a, b) {
        return whole.lower <= reach;
    }
    let far = |p: &Piece, q: &Piece| {
        balls(p.ball, q.ball) > reach
            || match pair::gap(p, q) {
                Some(gap) => gap.lower > reach,
                None => apart(&Swept::still(p), &Swept::still(q), reach),
            }
    };
    a.pieces().iter().any(|p| b.pieces().iter().any(|q| !far(p, q)))
}

/// Gap of two balls.
pub(super) fn balls((p, r): (Vec3, f64), (q, s): (Vec3, f64)) -> f64 {
    (q - p).length() - r - s
}

/// The gap, and by how much the two pieces that decide it may be too large.
fn least(a: &Solid, b: &Solid, far: f64) -> (Gap, f64) {
    if let Some(whole) = pair::solids(a, b) {
        return (whole, 0.0);
    }
    let (own, other) = (pair::box_as_prism(a, b), pair::box_as_prism(b, a));
    let (own, other) = (
        own.as_ref().map_or(a.pieces(), std::slice::from_ref),
        other.as_ref().map_or(b.pieces(), std::slice::from_ref),
    );
    let mut best = Gap { lower: f64::INFINITY, upper: f64::INFINITY, points: [Vec3::ZERO; 2] };
    let (mut lower, mut excess) = (f64::INFINITY, 0.0);
    for p in own {
        for q in other {
            let bar = far.min(best.upper);
            if balls(p.ball, q.ball) > bar {
                continue;
            }
            let found =
                pair::gap(p, q).unwrap_or_else(|| gap(&Swept::still(p), &Swept::still(q), bar.max(0.0)));
            // what a piece has too much may be missing from the truth
            let upper = found.upper + p.excess + q.excess;
            lower = lower.min(found.lower);
            if upper < best.upper {
                best = Gap { upper, ..found };
                excess = p.excess + q.excess;
            }
        }
    }
    if best.upper.is_infinite() {
        // all pairs are farther than asked, by their balls alone
        let lower = lower.min(balls(a.ball(), b.ball()).max(a.bounds().distance(&b.bounds())).max(far));
        let points = [a.ball().0, b.ball().0];
        return (Gap { lower, upper: f64::INFINITY, points }, 0.0);
    }
    (Gap { lower: lower.min(best.upper), ..best }, excess)
}

fn told(a: &Solid, b: &Solid, g: Gap, excess: f64) -> Clearance {
    let relation = if g.lower > SLACK {
        Lie::Apart
    } else if g.lower >= -SLACK {
        Lie::Touching
    } else if g.upper <= SLACK || g.upper <= excess + SLACK && g.lower < -SURELY * excess {
        // pieces that are a hair too large and overlap by much more than that
        Lie::Overlap
    } else {
        // the bound does not tell: they are as good as in contact
        Lie::Touching
    };
    let depth = (relation == Lie::Overlap && a.is_convex() && b.is_convex()).then_some(-g.lower);
    Clearance { lower: g.lower, upper: g.upper, relation, depth, points: g.points }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Contour, Point};
    use crate::solid::{Pose, Shape};

    fn solid(shape: Shape, x: f64, y: f64, d: f64) -> Solid {
        Solid::new(shape, Pose::shift(Vec3::new(x, y, d))).unwrap()
    }

    fn check(a: &Solid, b: &Solid, asked: f64) {
        for (a, b) in [(a, b), (b, a)] {
            let c = distance(a, b);
            assert!(
                c.lower <= asked + 1e-9 && c.upper >= asked - 1e-9 && c.upper - c.lower < 1e-6,
                "{c:?} {asked}"
            );
        }
    }

    #[test]
    fn distances_by_hand() {
        let ball = |r, x, y, d| solid(Shape::Sphere(r), x, y, d);
        let cube = |x, y, d| solid(Shape::Box(Vec3::new(1.0, 1.0, 1.0)), x, y, d);
        // 3-4-12: 13 less both radii
        check(&ball(1.0, 0.0, 0.0, 0.0), &ball(2.0, 3.0, 4.0, 12.0), 10.0);
        // corner to corner: (1, 1, 1) to (4, 5, 13)
        check(&cube(0.0, 0.0, 0.0), &cube(5.0, 6.0, 14.0), 13.0);
        check(&cube(0.0, 0.0, 0.0), &ball(0.5, 4.0, 0.0, 0.0), 2.5);
        // two bars side by side, and end on
        let bar = |x, d| solid(Shape::Cylinder { radius: 2.0, half: 10.0 }, x, 0.0, d);
        check(&bar(0.0, 0.0), &bar(9.0, 5.0), 5.0);
        check(&bar(0.0, 0.0), &bar(0.0, 27.0), 7.0);
        // aside and deeper: 3 and 4
        check(&bar(0.0, 0.0), &bar(7.0, 24.0), 5.0);
        let disc = |x: f64, from: f64, to: f64| {
            solid(Shape::Prism { section: Contour::circle(Point::ORIGIN, 2.0), from, to }, x, 0.0, 0.0)
        };
        check(&disc(0.0, 0.0, 10.0), &disc(7.0, 14.0, 20.0), 5.0);
    }

    #[test]
    fn overlaps_have_a_depth_and_touches_are_named() {
        let cube = |x| solid(Shape::Box(Vec3::new(1.0, 1.0, 1.0)), x, 0.0, 0.0);
        let c = distance(&cube(0.0), &cube(1.5));
        assert_eq!(c.relation, Lie::Overlap);
        assert!((c.depth.unwrap() - 0.5).abs() < 1e-9, "{c:?}");
        assert_eq!(distance(&cube(0.0), &cube(2.0)).relation, Lie::Touching);
        let c =
            distance(&solid(Shape::Sphere(3.0), 0.0, 0.0, 0.0), &solid(Shape::Sphere(2.0), 4.0, 0.0, 0.0));
        assert!((c.depth.unwrap() - 1.0).abs() < 1e-9, "{c:?}");
        assert!(
            within(&cube(0.0), &cube(9.0), 5.0).is_none() && within(&cube(0.0), &cube(9.0), 8.0).is_some()
        );
    }
}
