//! Numbers by hand, both ways round; closed forms against the general search.

use super::super::{Pose, Swept, distance, gap as general};
use super::*;
use crate::geom::{Contour, Corner, Point};

fn v(x: f64, y: f64, d: f64) -> Vec3 {
    Vec3::new(x, y, d)
}

fn solid(shape: Shape, at: Vec3) -> Solid {
    Solid::new(shape, Pose::shift(at)).unwrap()
}

fn block(x: f64, y: f64, d: f64, at: Vec3) -> Solid {
    solid(Shape::Box(v(x, y, d)), at)
}

fn bar(radius: f64, half: f64, at: Vec3) -> Solid {
    solid(Shape::Cylinder { radius, half }, at)
}

fn ball(radius: f64, at: Vec3) -> Solid {
    solid(Shape::Sphere(radius), at)
}

/// A plate 40 x 20 with corners of radius 5, from depth 0 to 10.
fn plate(at: Vec3) -> Solid {
    let section = Contour::rect_corners(Point::ORIGIN, 40.0, 20.0, [Corner::Round(5.0); 4]);
    solid(Shape::Prism { section, from: 0.0, to: 10.0 }, at)
}

/// Both ways round, and tilted together; the points lie as far apart as told.
fn check(a: &Solid, b: &Solid, asked: f64) {
    let tilt = Pose::about(v(3.0, -2.0, 9.0), v(0.6, 0.0, 0.8), 0.7);
    for (a, b) in [(a.clone(), b.clone()), (b.clone(), a.clone()), (a.moved(&tilt), b.moved(&tilt))] {
        let c = distance(&a, &b);
        assert!((c.lower - asked).abs() < 1e-6, "{c:?}, by hand {asked}");
        assert!(asked < 0.0 || c.upper - c.lower < 1e-6, "{c:?}");
        let [p, q] = c.points;
        assert!((p - q).length() <= asked.abs() + 1e-5, "{c:?}, by hand {asked}");
        assert!(asked >= 0.0 || c.depth.is_some_and(|d| (d + asked).abs() < 1e-6), "{c:?}");
    }
}

#[test]
fn balls_against_each_shape() {
    let o = Vec3::ZERO;
    // beyond an edge: 3 and 4, less 1
    check(&ball(1.0, v(13.0, 0.0, 34.0)), &block(10.0, 20.0, 30.0, o), 4.0);
    // in the box, 2 from its nearest face, with radius 1
    check(&ball(1.0, v(8.0, 0.0, 0.0)), &block(10.0, 20.0, 30.0, o), -3.0);
    // beside a bar, before it, and beyond its rim (3, 4)
    check(&ball(1.0, v(9.0, 12.0, 5.0)), &bar(10.0, 20.0, o), 4.0);
    check(&ball(1.0, v(2.0, 3.0, 27.0)), &bar(10.0, 20.0, o), 6.0);
    check(&ball(1.0, v(0.0, 13.0, -24.0)), &bar(10.0, 20.0, o), 4.0);
    // on its axis, 4 from its end: out through the end, not the side
    check(&ball(1.0, v(0.0, 0.0, 16.0)), &bar(10.0, 20.0, o), -5.0);
    check(&ball(1.0, v(0.0, 0.0, 0.0)), &bar(10.0, 20.0, o), -11.0);
    // beyond a round corner's centre (15, 5) by 9 and 12: 15 less 5 beside, nothing before
    check(&ball(1.0, v(24.0, 17.0, 5.0)), &plate(o), 9.0);
    // the same corner, 24 deeper than the plate: 10 and 24 make 26
    check(&ball(1.0, v(24.0, 17.0, 34.0)), &plate(o), 25.0);
    // in the plate, 3 from its front, 10 from its sides
    check(&ball(1.0, v(0.0, 0.0, 3.0)), &plate(o), -4.0);
}

#[test]
fn boxes_bars_and_prisms_among_themselves() {
    let o = Vec3::ZERO;
    // (3, 4, 12) between corners
    check(&block(1.0, 2.0, 3.0, o), &block(1.0, 2.0, 3.0, v(5.0, 8.0, 18.0)), 13.0);
    // 1.5 along x, more elsewhere
    check(&block(1.0, 2.0, 3.0, o), &block(1.0, 2.0, 3.0, v(0.5, 0.2, 0.1)), -1.5);
    // bars: 3-4-5 across, radii 4; then 5 and 12
    check(&bar(2.0, 10.0, o), &bar(2.0, 10.0, v(3.0, 4.0, 3.0)), 1.0);
    check(&bar(2.0, 10.0, o), &bar(2.0, 10.0, v(9.0, 0.0, 32.0)), 13.0);
    check(&bar(2.0, 10.0, o), &bar(2.0, 10.0, v(1.0, 0.0, 5.0)), -3.0);
    check(&bar(6.0, 10.0, o), &bar(2.0, 10.0, v(1.0, 0.0, 19.0)), -1.0);
    check(&bar(6.0, 10.0, o), &bar(2.0, 10.0, v(1.0, 0.0, 27.0)), 7.0);
    // plates: corner circles (15, 5) and (24, 17): 15 less two radii beside, 12 before
    check(&plate(o), &plate(v(39.0, 22.0, 22.0)), 13.0);
    check(&plate(o), &plate(v(1.0, 2.0, 13.0)), 3.0);
    check(&plate(o), &plate(v(1.0, 2.0, 6.0)), -4.0);
    // an upright box and a plate: 3 beside, 4 before
    check(&block(5.0, 5.0, 5.0, v(28.0, 0.0, 19.0)), &plate(o), 5.0);
    check(&block(5.0, 5.0, 5.0, v(0.0, 0.0, 13.0)), &plate(o), -2.0);
}

#[test]
fn straights_that_meet_are_as_deep_as_their_radii() {
    let tube = |a, b| {
        let path = vec![crate::solid::Leg::Line(a, b)];
        Solid::new(Shape::Tube { path, radius: 3.0 }, Pose::IDENTITY).unwrap()
    };
    let one = tube(v(-20.0, 0.0, 0.0), v(20.0, 0.0, 0.0));
    check(&one, &tube(v(0.0, -20.0, 0.0), v(0.0, 20.0, 0.0)), -6.0);
    check(&one, &one, -6.0);
    check(&one, &tube(v(10.0, 0.0, 0.0), v(60.0, 0.0, 0.0)), -6.0);
    check(&one, &tube(v(0.0, -20.0, 4.0), v(0.0, 20.0, 4.0)), -2.0);
    check(&one, &tube(v(25.0, 0.0, 12.0), v(60.0, 0.0, 12.0)), 7.0);
    check(&ball(2.0, v(1.0, 2.0, 3.0)), &ball(5.0, v(1.0, 2.0, 3.0)), -7.0);
}

/// Pieces of all kinds at many attitudes and offsets, also flush and on one axis.
#[test]
fn closed_forms_agree_with_the_general_search() {
    let turns = [
        Pose::IDENTITY,
        Pose::about(v(1.0, 0.0, 0.0), v(0.6, 0.8, 0.0), 1.1),
        Pose::about(Vec3::ZERO, Vec3::FORWARD, std::f64::consts::FRAC_PI_2),
    ];
    let o = Vec3::ZERO;
    let (mut known, mut near, mut deep) = (0, 0, 0);
    for turn in turns {
        for shift in [1.0, 9.0, 17.5, 26.0, 60.0].into_iter().flat_map(|s| {
            [v(s, 0.0, 0.0), v(0.0, s, s), v(s, -s, s * 0.3), v(0.0, 0.0, -s), v(-s, 3.0, 2.0 * s)]
        }) {
            let all = |at| [block(7.0, 5.0, 9.0, at), bar(6.0, 11.0, at), ball(4.0, at), plate(at)];
            for a in all(o) {
                for b in all(shift) {
                    let (a, b) = (a.moved(&turn), b.moved(&turn));
                    let (p, q) = (&a.pieces()[0], &b.pieces()[0]);
                    let Some(closed) = solids(&a, &b).or_else(|| gap(p, q)) else { continue };
                    let found = general(&Swept::still(p), &Swept::still(q), f64::INFINITY);
                    known += 1;
                    if closed.lower > 0.0 {
                        near += 1;
                        assert!(
                            (closed.lower - found.lower).abs() < 1e-6
                                && (closed.upper - found.upper).abs() < 1e-6,
                            "{closed:?} {found:?} {:?} {:?}",
                            a.shape(),
                            b.shape()
                        );
                    } else {
                        deep += 1;
                        // the search's depth is an upper bound, close to the truth
                        assert!(
                            found.lower <= closed.lower + 1e-9 && found.lower > closed.lower - 1e-3,
                            "{closed:?} {found:?} {:?} {:?}",
                            a.shape(),
                            b.shape()
                        );
                    }
                }
            }
        }
    }
    assert!(known > 500 && near > 250 && deep > 100, "{known} {near} {deep}");
}
