//! Polygons of random shapes keep their side and close in; what is cut out adds up.

use crate::shapes::{Dice, pair, shape};
use panelwright::geom::region::{Bound, metal, polygon};
use panelwright::geom::{Contour, Point, Relation, distance};
use proptest::prelude::*;

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    /// Area between the polygon within and the polygon around, and no farther from either than the tolerance allows.
    #[test]
    fn area_is_the_limit_of_polygons(seed in any::<u64>()) {
        let c = shape(&mut Dice(seed), 80.0, false);
        for tolerance in [0.05, 0.005] {
            let [low, high] =
                [Bound::Within, Bound::Around].map(|b| Contour::polygon(&polygon(&c, b, tolerance)).area());
            prop_assert!(low <= c.area() + 1e-9 && c.area() <= high + 1e-9, "{low} {} {high}", c.area());
            prop_assert!(high - low <= 2.0 * tolerance * c.perimeter() + 1e-9);
        }
    }

    /// Two shapes cut from a large sheet: the area by what the two have in common where that is known exactly.
    #[test]
    fn what_is_left_of_a_sheet(seed in any::<u64>()) {
        let (a, b) = pair(seed);
        let sheet = Contour::rect(Point::ORIGIN, 2000.0, 2000.0, 50.0);
        let left = metal(&sheet, &[&a, &b], 0.01);
        let common = match distance::contours(&a, &b).relation {
            Relation::Apart | Relation::Touching => 0.0,
            Relation::Inside | Relation::Coincident => a.area(),
            Relation::Outside => b.area(),
            Relation::Crossing => return Ok(()),
        };
        let area = sheet.area() - a.area() - b.area() + common;
        prop_assert!(left.area[0] <= area && area <= left.area[1], "{:?} {area}", left.area);
        let rims = sheet.perimeter() + a.perimeter() + b.perimeter();
        prop_assert!(left.area[1] - left.area[0] <= 0.021 * rims, "{:?}", left.area);
    }
}
