//! Closed forms of known shapes (textbook formulas of plane areas), and the polygon limit.

use super::*;
use crate::geom::{Corner, Transform};
use std::f64::consts::PI;

fn p(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

fn near(a: f64, b: f64, scale: f64) -> bool {
    (a - b).abs() <= 1e-12 * scale.abs().max(1e-300)
}

#[test]
fn circle_rectangle_half_disc_slot() {
    let o = p(310.0, -77.0);
    let m = Contour::circle(o, 40.0).moments();
    let i = PI * 40f64.powi(4) / 4.0;
    assert!(
        near(m.area, PI * 1600.0, m.area)
            && near(m.ixx, i, i)
            && near(m.iyy, i, i)
            && m.ixy.abs() < 1e-12 * i
    );
    let m = Contour::rect(o, 60.0, 20.0, 0.0).moments();
    assert!(near(m.ixx, 60.0 * 8000.0 / 12.0, m.ixx) && near(m.iyy, 20.0 * 216_000.0 / 12.0, m.iyy));
    assert!(near(m.centroid.x, o.x, o.x) && near(m.centroid.y, o.y, o.y));
    // half disc of radius r on its flat: centroid 4r/3pi up, ixx = (pi/8 - 8/9pi) r^4
    let r = 12.0;
    let half = Contour::new(vec![
        Segment::line(p(-r, 0.0), p(r, 0.0)),
        Segment::Arc(Arc::between(p(r, 0.0), p(-r, 0.0), p(0.0, 0.0), true)),
    ])
    .expect("half disc");
    let m = half.moments();
    assert!(near(m.centroid.y, 4.0 * r / (3.0 * PI), r));
    assert!(near(m.ixx, (PI / 8.0 - 8.0 / (9.0 * PI)) * r.powi(4), m.ixx));
    assert!(near(m.iyy, PI / 8.0 * r.powi(4), m.iyy));
    let slot = Contour::slot(p(-5.0, 0.0), p(5.0, 0.0), 3.0);
    assert!(near(slot.area(), PI * 9.0 + 60.0, 88.0) && near(slot.perimeter(), 6.0 * PI + 20.0, 39.0));
}

#[test]
fn turning_and_walking_change_nothing_that_they_should_not() {
    let c = Contour::rect_corners(
        p(20.0, 8.0),
        50.0,
        30.0,
        [Corner::Round(9.0), Corner::Clip(4.0, 11.0), Corner::Sharp, Corner::Round(2.0)],
    );
    let m = c.moments();
    let r = c.reversed().moments();
    assert!(
        near(m.ixy, r.ixy, m.ixx)
            && near(m.area, r.area, m.area)
            && c.signed_area() == -c.reversed().signed_area()
    );
    for (turn, mirror) in [(90.0, false), (37.0, false), (37.0, true)] {
        let t = Transform::place(p(1000.0, -500.0), turn, mirror);
        let n = t.contour(&c).moments();
        let scale = m.ixx + m.iyy;
        // area, the sum and the determinant of the second moments are invariants of a rigid move
        assert!((n.area - m.area).abs() < 1e-10 * m.area);
        assert!((n.ixx + n.iyy - scale).abs() < 1e-9 * scale);
        let det = |m: &Moments| m.ixx * m.iyy - m.ixy * m.ixy;
        assert!((det(&n) - det(&m)).abs() < 1e-9 * scale * scale);
        let moved = t.point(m.centroid);
        assert!(crate::geom::span(n.centroid, moved) < 1e-10 * 1000.0);
    }
    // known quarter turn: the axes change places
    let q = Transform::place(p(0.0, 0.0), 90.0, false).contour(&c).moments();
    assert!((q.ixx - m.iyy).abs() < 1e-10 * m.iyy && (q.ixy + m.ixy).abs() < 1e-10 * m.iyy);
}

/// Against the polygon of 20,000 chords: the difference falls with the square of their number.
#[test]
fn arcs_against_many_chords() {
    let arc = |r: f64, from: Point, to: Point, ccw: bool| {
        let mid = from.midpoint(to);
        let h = (r * r - (to - from).hypot2() / 4.0).sqrt();
        let n = Vec2::new(-(to - from).y, (to - from).x) / crate::geom::span(from, to);
        Segment::Arc(Arc::between(from, to, mid + n * if ccw { h } else { -h }, ccw))
    };
    // one side bowed in, one bowed out, one nearly straight (radius 1 km)
    let corners = [p(0.0, 0.0), p(40.0, 0.0), p(40.0, 30.0), p(0.0, 30.0)];
    let c = Contour::new(vec![
        arc(60.0, corners[0], corners[1], true),
        arc(25.0, corners[1], corners[2], false),
        arc(1e6, corners[2], corners[3], true),
        Segment::line(corners[3], corners[0]),
    ])
    .expect("bowed");
    let n = 20_000;
    let points: Vec<Point> =
        c.segments().iter().flat_map(|s| (0..n).map(|k| s.at(f64::from(k) / f64::from(n)))).collect();
    let (m, q) = (c.moments(), Contour::polygon(&points).moments());
    for (a, b) in [(m.area, q.area), (m.ixx, q.ixx), (m.iyy, q.iyy), (m.ixy, q.ixy)] {
        assert!((a - b).abs() < 1e-8 * m.iyy.max(a.abs()), "{a} {b}");
    }
    assert!(crate::geom::span(m.centroid, q.centroid) < 1e-7);
}
