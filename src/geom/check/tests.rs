//! What makes a contour and what does not.

use super::*;
use crate::geom::{Arc, Corner, Transform, Vec2};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

fn p(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

fn chain(points: &[(f64, f64)]) -> Vec<Segment> {
    let n = points.len();
    (0..n)
        .map(|k| Segment::line(p(points[k].0, points[k].1), p(points[(k + 1) % n].0, points[(k + 1) % n].1)))
        .collect()
}

fn shapes() -> Vec<Contour> {
    let o = p(12.3, -45.6);
    vec![
        Contour::circle(o, 39.7),
        Contour::rect(o, 60.0, 40.0, 0.0),
        Contour::rect(o, 60.0, 40.0, 6.0),
        Contour::rect(o, 60.0, 40.0, 20.0),
        Contour::rect(o, 40.0, 40.0, 20.0),
        Contour::rect(o, 0.7, 0.1 + 0.2, 0.15),
        Contour::rect_corners(
            o,
            60.0,
            40.0,
            [Corner::Sharp, Corner::Clip(5.0, 9.0), Corner::Round(8.0), Corner::Clip(30.0, 20.0)],
        ),
        Contour::rect_corners(o, 60.0, 40.0, [Corner::Clip(30.0, 20.0); 4]),
        Contour::slot(o, o + Vec2::new(3.0, 4.0), 2.0),
        Contour::slot(o, o, 2.0),
        Contour::d_hole(o, 6.0, 5.0, false),
        Contour::d_hole(o, 6.0, 5.0, true),
        Contour::d_hole(o, 6.0, 6.0, true),
        Contour::polygon(&[p(0.0, 0.0), p(4.0, 0.0), p(0.0, 3.0)]),
    ]
}

/// Every made shape is lawful, joins bit for bit and runs counter-clockwise, however it is placed.
#[test]
fn made_shapes_are_contours() {
    for c in shapes() {
        for t in [
            Transform::IDENTITY,
            Transform::place(p(0.0, 0.0), 90.0, false),
            Transform::place(p(310.2, 77.7), 33.3, false),
            Transform::place(p(-900.0, 4.0), 12.0, true),
        ] {
            let moved = t.contour(&c);
            let s = moved.segments();
            for (k, piece) in s.iter().enumerate() {
                assert_eq!(piece.end(), s[(k + 1) % s.len()].start(), "{moved:?}");
            }
            assert!(moved.is_ccw(), "{moved:?}");
            assert!((moved.area() - c.area()).abs() < 1e-9 * c.area(), "{moved:?}");
            let again = Contour::new(s.to_vec());
            assert_eq!(again.as_ref(), Ok(&moved));
            assert!(!moved.reversed().is_ccw() && moved.reversed().ccw().is_ccw());
            assert_eq!(Contour::new(moved.reversed().segments().to_vec()), Ok(moved.reversed()));
        }
    }
}

#[test]
fn open_outlines_tell_gap_and_place() {
    let mut s = chain(&[(0.0, 0.0), (10.0, 0.0), (10.0, 5.0), (0.0, 5.0)]);
    s[2] = Segment::line(p(10.0, 5.0), p(0.0, 5.08));
    let e = Contour::new(s.clone()).expect_err("open");
    assert_eq!(
        e.to_string(),
        "the outline is open: piece 3 ends at (0, 5.08) mm, 0.08 mm from the start of the next"
    );
    // a gap below slack is closed, bit for bit
    s[2] = Segment::line(p(10.0, 5.0), p(0.0, 5.0 + 5e-7));
    let c = Contour::new(s).expect("closed");
    assert_eq!(c.segments()[2].end(), p(0.0, 5.0));
    let lone = Contour::new(vec![Segment::line(p(0.0, 0.0), p(1.0, 0.0))]);
    assert!(matches!(lone, Err(ContourError::Open { piece: 0, gap: 1.0, .. })), "{lone:?}");
}

#[test]
fn what_crosses_touches_or_folds_back_is_refused() {
    let crossing: &[&[(f64, f64)]] = &[
        &[(0.0, 0.0), (10.0, 5.0), (10.0, 0.0), (0.0, 5.0)],
        // touches its own side with a corner, and with a whole side
        &[(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (5.0, 0.0), (0.0, 10.0)],
        &[(0.0, 0.0), (10.0, 0.0), (10.0, 5.0), (7.0, 5.0), (7.0, 0.0), (3.0, 0.0), (3.0, 5.0), (0.0, 5.0)],
        // goes on and comes back on itself
        &[(0.0, 0.0), (10.0, 0.0), (6.0, 0.0), (6.0, 5.0), (0.0, 5.0)],
        &[(0.0, 0.0), (10.0, 0.0), (0.0, 0.0), (0.0, 5.0)],
        // meets itself in one corner
        &[(0.0, 0.0), (5.0, 0.0), (5.0, 5.0), (10.0, 5.0), (10.0, 10.0), (5.0, 10.0), (5.0, 5.0), (0.0, 5.0)],
    ];
    for points in crossing {
        for shift in 0..points.len() {
            let mut s = chain(points);
            s.rotate_left(shift);
            let back = s.iter().rev().map(Segment::reversed).collect();
            for s in [s, back] {
                let e = Contour::new(s).expect_err("crossing");
                assert!(matches!(e, ContourError::SelfCrossing { .. }), "{points:?} {e:?}");
            }
        }
    }
    let bow = Contour::new(chain(crossing[0])).expect_err("bow tie");
    assert_eq!(bow.to_string(), "the outline crosses or touches itself at (5, 2.5) mm (pieces 1 and 3)");
    // an arc that comes back over itself
    let a = Arc::new(p(0.0, 0.0), 5.0, 0.0, PI);
    let back = Arc::new(p(0.0, 0.0), 5.0, PI, -FRAC_PI_2);
    let s = vec![
        Segment::Arc(a),
        Segment::Arc(back),
        Segment::line(back.b, p(1.0, 1.0)),
        Segment::line(p(1.0, 1.0), a.a),
    ];
    assert!(matches!(Contour::new(s), Err(ContourError::SelfCrossing { .. })));
    // an arc bulging through the opposite side
    let arc = Arc::between(p(10.0, 0.0), p(0.0, 0.0), p(5.0, 2.0), true);
    let s = vec![Segment::line(p(0.0, 0.0), p(10.0, 0.0)), Segment::Arc(arc)];
    assert!(Contour::new(s).is_ok());
    let bulge = Arc::between(p(0.0, 0.0), p(10.0, 0.0), p(5.0, -4.0), false);
    let s = vec![
        Segment::Arc(bulge),
        Segment::line(p(10.0, 0.0), p(10.0, 2.0)),
        Segment::line(p(10.0, 2.0), p(0.0, 2.0)),
        Segment::line(p(0.0, 2.0), p(0.0, 0.0)),
    ];
    assert!(matches!(Contour::new(s), Err(ContourError::SelfCrossing { .. })));
}

#[test]
fn lawful_though_narrow() {
    // crescent: two arcs that leave their joint in nearly one direction; a cusp where they are tangent
    let (a, b) = (p(-5.0, 0.0), p(5.0, 0.0));
    let crescent = vec![
        Segment::Arc(Arc::between(a, b, p(0.0, 0.0), true)),
        Segment::Arc(Arc::between(b, a, p(0.0, 1e-3), false)),
    ];
    assert!(Contour::new(crescent).is_ok());
    let cusp = vec![
        Segment::Arc(Arc::new(p(0.0, 0.0), 5.0, 0.0, PI)),
        Segment::Arc(Arc::new(p(-2.5, 0.0), 2.5, PI, -PI)),
        Segment::Arc(Arc::new(p(2.5, 0.0), 2.5, PI, PI)),
    ];
    assert!(Contour::new(cusp).is_ok(), "a comma");
    let spike = chain(&[(0.0, 0.0), (100.0, 0.0), (0.0, 0.01)]);
    assert!(Contour::new(spike).is_ok());
    let slit =
        chain(&[(0.0, 0.0), (10.0, 0.0), (10.0, 5.0), (5.0001, 5.0), (5.0, 1.0), (4.9999, 5.0), (0.0, 5.0)]);
    assert!(Contour::new(slit).is_ok());
}

#[test]
fn empty_broken_and_flat() {
    assert_eq!(Contour::new(vec![]), Err(ContourError::Empty));
    for bad in [f64::NAN, f64::INFINITY] {
        let s = chain(&[(0.0, 0.0), (bad, 0.0), (10.0, 5.0)]);
        assert_eq!(Contour::new(s), Err(ContourError::NotFinite { piece: 0 }));
        let s = vec![Segment::Arc(Arc { radius: bad, ..Arc::new(p(0.0, 0.0), 1.0, 0.0, TAU) })];
        assert_eq!(Contour::new(s), Err(ContourError::NotFinite { piece: 0 }));
    }
    let s = chain(&[(0.0, 0.0), (10.0, 0.0), (10.0, 0.0), (0.0, 5.0)]);
    assert_eq!(Contour::new(s), Err(ContourError::ZeroLength { piece: 1, at: p(10.0, 0.0) }));
    let s = vec![Segment::Arc(Arc { radius: 1.1, ..Arc::new(p(0.0, 0.0), 1.0, 0.0, TAU) })];
    assert!(matches!(Contour::new(s), Err(ContourError::BadArc { .. })));
    let s = vec![Segment::Arc(Arc { sweep: 7.0, ..Arc::new(p(0.0, 0.0), 1.0, 0.0, TAU) })];
    assert!(matches!(Contour::new(s), Err(ContourError::BadArc { .. })));
    let (a, b) = (p(0.0, 0.0), p(10.0, 0.0));
    assert!(Contour::new(vec![Segment::line(a, b), Segment::line(b, a)]).is_err(), "there and back");
}

#[test]
fn ten_thousand_pieces_are_quick() {
    let n = 10_000;
    let ring: Vec<(f64, f64)> = (0..n)
        .map(|k| {
            let u = crate::geom::angle::unit(TAU * f64::from(k) / f64::from(n));
            let r = if k % 2 == 0 { 200.0 } else { 199.9 };
            (u.x * r, u.y * r)
        })
        .collect();
    assert!(Contour::new(chain(&ring)).is_ok());
}
