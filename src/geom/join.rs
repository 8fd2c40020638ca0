//! Union and difference of shapes whose outlines cross, with their arcs.
//!
//! By `cavalier_contours`. Every result is held against an identity of areas: one that misses it by more than
//! [`MISS`] of the areas joined is not given out.

use super::{Contour, bulge};
use cavalier_contours::polyline::{BooleanOp, BooleanResult, PlineSource, Polyline};

/// Part of the areas by which an identity may be missed: rounding of the library's 1e-5 mm joints.
pub const MISS: f64 = 1e-6;

/// The outer outlines and the outlines of the gaps that they enclose.
type Loops = (Vec<Contour>, Vec<Contour>);

impl Contour {
    /// What lies in either shape: its outer outlines. Gaps that the two enclose are filled. None where the
    /// result fails its check.
    pub fn union(&self, other: &Contour) -> Option<Vec<Contour>> {
        let (a, b) = (bulge::to(self), bulge::to(other));
        let (or, gaps) = loops(&a.boolean(&b, BooleanOp::Or));
        let both = areas(&loops(&a.boolean(&b, BooleanOp::And)));
        let expected = self.area() + other.area() - both;
        let got = total(&or) - total(&gaps);
        ((got - expected).abs() <= MISS * (self.area() + other.area()) && !or.is_empty()).then_some(or)
    }

    /// What lies in this shape and not in the other: its outer outlines, none where nothing is left. None
    /// where the result fails its check or has a hole (the other lies inside).
    pub fn without(&self, other: &Contour) -> Option<Vec<Contour>> {
        let (a, b) = (bulge::to(self), bulge::to(other));
        let (left, holes) = loops(&a.boolean(&b, BooleanOp::Not));
        let both = areas(&loops(&a.boolean(&b, BooleanOp::And)));
        let fine = holes.is_empty()
            && (total(&left) - (self.area() - both)).abs() <= MISS * (self.area() + other.area());
        fine.then_some(left)
    }
}

fn loops(r: &BooleanResult<Polyline<f64>>) -> Loops {
    let read = |list: &[cavalier_contours::polyline::BooleanResultPline<Polyline<f64>>]| {
        list.iter().filter_map(|p| bulge::from(&p.pline)).map(|c| c.ccw()).collect()
    };
    (read(&r.pos_plines), read(&r.neg_plines))
}

fn total(list: &[Contour]) -> f64 {
    list.iter().map(Contour::area).sum()
}

fn areas((outer, gaps): &Loops) -> f64 {
    total(outer) - total(gaps)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Point;
    use std::f64::consts::PI;

    /// Area of the lens of two circles of radius r whose centres are d apart: closed form.
    fn lens(r: f64, d: f64) -> f64 {
        2.0 * r * r * libm::acos(d / (2.0 * r)) - d / 2.0 * (4.0 * r * r - d * d).sqrt()
    }

    #[test]
    fn two_circles_by_closed_form() {
        let (a, b) =
            (Contour::circle(Point::new(1.0, 2.0), 10.0), Contour::circle(Point::new(13.0, 2.0), 10.0));
        let or = a.union(&b).expect("union");
        assert_eq!((or.len(), or[0].segments().len()), (1, 2));
        assert!((or[0].area() - (2.0 * PI * 100.0 - lens(10.0, 12.0))).abs() < 1e-7);
        let not = a.without(&b).expect("difference");
        assert_eq!(not.len(), 1);
        assert!((not[0].area() - (PI * 100.0 - lens(10.0, 12.0))).abs() < 1e-7);
    }

    #[test]
    fn a_notch_and_a_sheet_that_falls_apart() {
        let sheet = Contour::rect(Point::new(50.0, 20.0), 100.0, 40.0, 5.0);
        let notch = Contour::rect(Point::new(50.0, 40.0), 20.0, 10.0, 0.0);
        let left = sheet.without(&notch).expect("notch");
        assert_eq!(left.len(), 1);
        assert!((left[0].area() - (sheet.area() - 100.0)).abs() < 1e-7);
        let across = Contour::rect(Point::new(50.0, 20.0), 10.0, 60.0, 0.0);
        assert_eq!(sheet.without(&across).map(|l| l.len()), Some(2));
        assert_eq!(
            sheet.without(&Contour::circle(Point::new(50.0, 20.0), 5.0)),
            None,
            "a hole is no outline"
        );
        assert_eq!(notch.without(&sheet.offset(50.0).expect("large")[0]), Some(vec![]));
    }

    #[test]
    fn shared_edges_and_equal_shapes() {
        let a = Contour::rect(Point::new(5.0, 5.0), 10.0, 10.0, 0.0);
        let b = Contour::rect(Point::new(15.0, 5.0), 10.0, 10.0, 0.0);
        assert!((total(&a.union(&b).expect("shared edge")) - 200.0).abs() < 1e-9);
        assert!((total(&a.union(&a).expect("equal")) - 100.0).abs() < 1e-9);
        assert_eq!(a.without(&a), Some(vec![]));
    }
}
