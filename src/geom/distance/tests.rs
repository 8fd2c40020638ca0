//! Known places of two shapes, degenerate ones first. Each row is asked again with the two swapped,
//! walked backwards, begun at every piece, moved, turned, mirrored, and in inches.

use super::Relation::{self, *};
use super::*;
use crate::geom::{Arc, Transform, contains};

fn p(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

fn c(x: f64, y: f64, r: f64) -> Contour {
    Contour::circle(p(x, y), r)
}

fn sq(x: f64, y: f64, w: f64) -> Contour {
    Contour::rect(p(x, y), w, w, 0.0)
}

/// Lower half of a disc, flat side up at y.
fn bowl(x: f64, y: f64, r: f64) -> Contour {
    let (a, b) = (p(x - r, y), p(x + r, y));
    Contour::new(vec![Segment::Arc(Arc::between(a, b, p(x, y), true)), Segment::line(b, a)]).expect("bowl")
}

fn table() -> Vec<(&'static str, Contour, Contour, f64, Relation)> {
    let round = |x: f64, y: f64| Contour::rect(p(x, y), 20.0, 10.0, 3.0);
    let l =
        Contour::polygon(&[p(0.0, 0.0), p(20.0, 0.0), p(20.0, 5.0), p(5.0, 5.0), p(5.0, 20.0), p(0.0, 20.0)]);
    let ring = |gap: f64| {
        Contour::polygon(&[
            p(-10.0, -10.0),
            p(10.0, -10.0),
            p(10.0, 10.0),
            p(gap, 10.0),
            p(gap, 8.0),
            p(8.0, 8.0),
            p(8.0, -8.0),
            p(-8.0, -8.0),
            p(-8.0, 8.0),
            p(-gap, 8.0),
            p(-gap, 10.0),
            p(-10.0, 10.0),
        ])
    };
    vec![
        ("circles apart", c(0.0, 0.0, 1.0), c(3.0, 0.0, 1.0), 1.0, Apart),
        ("circles tangent", c(0.0, 0.0, 1.0), c(2.0, 0.0, 1.0), 0.0, Touching),
        ("circles tangent, odd", c(0.1, 0.2, 0.7), c(0.1 + 3.0, 0.2 + 4.0, 4.3), 0.0, Touching),
        ("circles cross", c(0.0, 0.0, 1.0), c(1.5, 0.0, 1.0), 0.0, Crossing),
        ("circles cross by 1e-5", c(0.0, 0.0, 1.0), c(1.99999, 0.0, 1.0), 0.0, Crossing),
        ("circles apart by 1e-5", c(0.0, 0.0, 1.0), c(2.00001, 0.0, 1.0), 1e-5, Apart),
        ("circle nested", c(0.0, 0.0, 1.0), c(0.5, 0.0, 3.0), 1.5, Inside),
        ("circle concentric", c(0.0, 0.0, 1.0), c(0.0, 0.0, 3.0), 2.0, Inside),
        ("circle tangent inside", c(0.0, 0.0, 1.0), c(2.0, 0.0, 3.0), 0.0, Inside),
        ("circle twice", c(0.3, 0.4, 1.0), c(0.3, 0.4, 1.0), 0.0, Coincident),
        ("circle beside square", sq(0.0, 0.0, 2.0), c(3.0, 0.0, 1.0), 1.0, Apart),
        ("circle on side", sq(0.0, 0.0, 2.0), c(2.0, 0.0, 1.0), 0.0, Touching),
        ("circle into side by 1e-5", sq(0.0, 0.0, 2.0), c(1.99999, 0.0, 1.0), 0.0, Crossing),
        ("circle inscribed", sq(0.0, 0.0, 2.0), c(0.0, 0.0, 1.0), 0.0, Outside),
        ("circle circumscribed", sq(0.0, 0.0, 2.0), c(0.0, 0.0, 2f64.sqrt()), 0.0, Inside),
        ("circle within square", sq(0.0, 0.0, 2.0), c(0.0, 0.0, 0.4), 0.6, Outside),
        ("square within circle", sq(0.0, 0.0, 2.0), c(0.0, 0.0, 2.0), 2.0 - 2f64.sqrt(), Inside),
        ("circle off corner", sq(0.0, 0.0, 2.0), c(2.0, 2.0, 0.5), 2f64.sqrt() - 0.5, Apart),
        ("corner on circle", sq(0.0, 0.0, 2.0), c(4.0, 5.0, 5.0), 0.0, Touching),
        ("squares side by side", sq(0.0, 0.0, 2.0), sq(2.0, 0.0, 2.0), 0.0, Touching),
        ("side partly shared", sq(0.0, 0.0, 2.0), sq(2.0, 0.7, 2.0), 0.0, Touching),
        ("corner to corner", sq(0.0, 0.0, 2.0), sq(2.0, 2.0, 2.0), 0.0, Touching),
        ("inside on one side", sq(0.0, 0.0, 2.0), sq(0.5, 0.0, 1.0), 0.0, Outside),
        ("inside in the corner", sq(0.0, 0.0, 2.0), sq(0.5, 0.5, 1.0), 0.0, Outside),
        ("square twice", sq(0.0, 0.0, 2.0), sq(0.0, 0.0, 2.0), 0.0, Coincident),
        ("squares half over", sq(0.0, 0.0, 2.0), sq(1.0, 0.0, 2.0), 0.0, Crossing),
        (
            "cross of bars",
            Contour::rect(p(0.0, 0.0), 9.0, 2.0, 0.0),
            Contour::rect(p(0.0, 0.0), 2.0, 9.0, 0.0),
            0.0,
            Crossing,
        ),
        (
            "turned square inscribed",
            sq(0.0, 0.0, 2.0),
            Contour::polygon(&[p(1.0, 0.0), p(0.0, 1.0), p(-1.0, 0.0), p(0.0, -1.0)]),
            0.0,
            Outside,
        ),
        ("rounded, flat to flat", round(0.0, 0.0), round(0.0, 10.0), 0.0, Touching),
        ("rounded, over by 1e-5", round(0.0, 0.0), round(0.0, 9.99999), 0.0, Crossing),
        ("rounded, corner arcs", round(0.0, 0.0), round(20.0, 10.0), 6.0 * 2f64.sqrt() - 6.0, Apart),
        ("rounded twice", round(1.0, 2.0), round(1.0, 2.0), 0.0, Coincident),
        ("circle in the fillet", round(0.0, 0.0), c(7.0, 2.0, 3.0), 0.0, Outside),
        ("inset along all sides", round(0.0, 0.0), Contour::rect(p(0.0, 0.0), 18.0, 8.0, 2.0), 1.0, Outside),
        ("in the bay of an L", l.clone(), c(9.0, 9.0, 4.0), 0.0, Touching),
        ("off the bay of an L", l.clone(), c(10.0, 11.0, 4.0), 1.0, Apart),
        ("over the knee of an L", l, c(5.0, 5.0, 1.0), 0.0, Crossing),
        ("in the hollow of a ring", ring(1.0), c(0.0, 0.0, 5.0), 3.0, Apart),
        ("in the hollow, touching", ring(1.0), c(0.0, 0.0, 8.0), 0.0, Touching),
        ("bowl on a circle", bowl(0.0, 0.0, 5.0), c(0.0, -7.0, 2.0), 0.0, Touching),
        ("circle on the flat", bowl(0.0, 0.0, 5.0), c(1.0, 2.0, 2.0), 0.0, Touching),
        ("circle of the bowl", bowl(0.0, 0.0, 5.0), c(0.0, 0.0, 5.0), 0.0, Inside),
        (
            "bowl and its complement",
            bowl(0.0, 0.0, 5.0),
            Transform::place(p(0.0, 0.0), 180.0, false).contour(&bowl(0.0, 0.0, 5.0)),
            0.0,
            Touching,
        ),
        ("bowl in a like hollow", bowl(0.0, 0.0, 5.0), c(0.0, 3.0, 4.0), 0.0, Crossing),
        ("far off", sq(0.0, 0.0, 2.0), c(3e4, 4e4, 10.0), f64::NAN, Apart),
    ]
}

/// The same shape walked otherwise.
fn walks(a: &Contour) -> Vec<Contour> {
    let n = a.segments().len();
    (0..n).map(|k| a.started_at(k)).chain((0..n).map(|k| a.reversed().started_at(k))).collect()
}

fn scaled(a: &Contour, k: f64) -> Contour {
    let f = |q: Point| (q.to_vec2() * k).to_point();
    Contour::from_checked(
        a.segments()
            .iter()
            .map(|s| match s {
                Segment::Line(l) => Segment::line(f(l.a), f(l.b)),
                Segment::Arc(a) => Segment::Arc(Arc {
                    centre: f(a.centre),
                    radius: a.radius * k,
                    a: f(a.a),
                    b: f(a.b),
                    ..*a
                }),
            })
            .collect(),
    )
}

fn check(name: &str, a: &Contour, b: &Contour, distance: f64, relation: Relation) {
    for (a, b, relation) in [(a, b, relation), (b, a, relation.flipped())] {
        let gap = contours(a, b);
        assert_eq!(gap.relation, relation, "{name}: {gap:?}");
        let size = a.bounds().union(b.bounds());
        let rounding = 1e-12 * (1.0 + size.x1.abs() + size.y1.abs() + size.x0.abs() + size.y0.abs());
        assert!((gap.distance - distance).abs() <= rounding, "{name}: {gap:?} {distance}");
        // the witnesses lie on the outlines, as far apart as told
        let off = |q: Point, c: &Contour| point_contour(q, c).distance;
        assert!(off(gap.at[0], a) <= SLACK && off(gap.at[1], b) <= SLACK, "{name}: {gap:?}");
        assert!((crate::geom::span(gap.at[0], gap.at[1]) - gap.distance).abs() <= SLACK, "{name}: {gap:?}");
        assert_eq!(contains(a, b), matches!(relation, Outside | Coincident), "{name}");
        assert_eq!(within(a, b, distance + 1.0), Some(gap), "{name}");
        if distance > 0.0 && !relation.overlaps() {
            assert_eq!(within(a, b, distance - 2.0 * SLACK), None, "{name}");
        } else {
            assert_eq!(within(a, b, 0.0).map(|g| g.relation), Some(relation), "{name}");
        }
    }
}

#[test]
fn known_places_however_they_are_put() {
    for (name, a, b, distance, relation) in table() {
        let distance = if distance.is_nan() {
            // the corner of the square that looks at the far circle
            crate::geom::span(p(1.0, 1.0), p(3e4, 4e4)) - 10.0
        } else {
            distance
        };
        for a in walks(&a) {
            check(name, &a, &b, distance, relation);
        }
        for b in walks(&b) {
            check(name, &a, &b, distance, relation);
        }
        for (shift, turn) in
            [((0.0, 0.0), 90.0), ((0.0, 0.0), 30.0), ((-410.3, 98.77), 17.3), ((2000.0, -900.0), 201.7)]
        {
            for mirror in [false, true] {
                let t = Transform::place(p(shift.0, shift.1), turn, mirror);
                check(name, &t.contour(&a), &t.contour(&b), distance, relation);
            }
        }
        check(name, &scaled(&a, 25.4), &scaled(&b, 25.4), distance * 25.4, relation);
    }
}

#[test]
fn points_and_circles() {
    let hole = c(2.0, 3.0, 5.0);
    let g = point_contour(p(2.0, 3.0), &hole);
    assert_eq!((g.distance, g.relation), (5.0, Inside));
    assert_eq!(point_contour(p(7.0, 3.0), &hole).relation, Touching);
    assert_eq!(point_contour(p(9.0, 3.0), &hole).distance, 2.0);
    let b = bowl(0.0, 0.0, 5.0);
    assert_eq!(point_contour(p(0.0, 2.0), &b).distance, 2.0);
    assert_eq!(
        (point_contour(p(0.0, -2.0), &b).relation, point_contour(p(0.0, -2.0), &b).distance),
        (Inside, 2.0)
    );
    assert_eq!(point_contour(p(8.0, 4.0), &b).distance, 5.0);
}

#[test]
fn a_limit_that_is_no_number_hides_nothing() {
    let (a, b) = (sq(0.0, 0.0, 2.0), c(30.0, 0.0, 1.0));
    assert!(within(&a, &b, f64::NAN).is_some());
    assert!(within(&c(0.0, 0.0, 1.0), &b, f64::NAN).is_some());
    assert_eq!(within(&a, &b, -100.0), None);
    assert_eq!(within(&c(0.0, 0.0, 1.0), &b, -100.0), None);
    assert!(within(&a, &c(0.0, 0.0, 30.0), -1.0).is_some(), "nested shapes are never far");
}
