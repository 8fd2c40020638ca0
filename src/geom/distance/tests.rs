//! Distances and relations in known places.

use super::*;

fn c(x: f64, y: f64, r: f64) -> Contour {
    Contour::circle(Point::new(x, y), r)
}

fn sq(x: f64, y: f64, w: f64) -> Contour {
    Contour::rect(Point::new(x, y), w, w, 0.0)
}

#[test]
fn known_places() {
    use Relation::*;
    let table = [
        (c(0.0, 0.0, 1.0), c(3.0, 0.0, 1.0), 1.0, Apart),
        (c(0.0, 0.0, 1.0), c(2.0, 0.0, 1.0), 0.0, Touching),
        (c(0.0, 0.0, 1.0), c(1.5, 0.0, 1.0), 0.0, Crossing),
        (c(0.0, 0.0, 1.0), c(0.5, 0.0, 3.0), 1.5, Inside),
        (c(0.0, 0.0, 1.0), c(2.0, 0.0, 3.0), 0.0, Inside),
        (c(0.0, 0.0, 1.0), c(0.0, 0.0, 1.0), 0.0, Coincident),
        (sq(0.0, 0.0, 2.0), c(3.0, 0.0, 1.0), 1.0, Apart),
        (sq(0.0, 0.0, 2.0), c(2.0, 0.0, 1.0), 0.0, Touching),
        (sq(0.0, 0.0, 2.0), c(0.0, 0.0, 1.0), 0.0, Outside),
        (sq(0.0, 0.0, 2.0), c(0.0, 0.0, 0.4), 0.6, Outside),
        (sq(0.0, 0.0, 2.0), sq(2.0, 0.0, 2.0), 0.0, Touching),
        (sq(0.0, 0.0, 2.0), sq(2.0, 2.0, 2.0), 0.0, Touching),
        (sq(0.0, 0.0, 2.0), sq(0.5, 0.0, 1.0), 0.0, Outside),
        (sq(0.0, 0.0, 2.0), sq(0.0, 0.0, 2.0), 0.0, Coincident),
        (sq(0.0, 0.0, 2.0), sq(1.0, 0.0, 2.0), 0.0, Crossing),
        (sq(0.0, 0.0, 2.0), c(2.0, 2.0, 0.5), 2f64.sqrt() - 0.5, Apart),
    ];
    for (a, b, distance, relation) in table {
        let gap = contours(&a, &b);
        assert!((gap.distance - distance).abs() < 1e-12, "{a:?} {b:?} {gap:?}");
        assert_eq!(gap.relation, relation, "{a:?} {b:?}");
        let back = contours(&b, &a);
        assert_eq!(back.relation, relation.flipped());
        assert!((back.distance - distance).abs() < 1e-12);
    }
}
