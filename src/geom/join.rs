//! Union and difference of shapes whose outlines cross, with their arcs.
//!
//! By `cavalier_contours`. Every result is held against an identity of areas: one that misses it by more than
//! [`MISS`] of the areas joined is not given out.

use super::distance::{self, Relation};
use super::{Contour, bulge};
use cavalier_contours::polyline::{BooleanOp, BooleanResult, PlineSource, Polyline};

/// Part of the areas by which an identity may be missed: rounding of the library's 1e-5 mm joints.
pub const MISS: f64 = 1e-6;

/// The outer outlines and the outlines of the gaps that they enclose.
type Loops = (Vec<Contour>, Vec<Contour>);

impl Contour {
    /// What lies in either shape: its outer outlines. Gaps that the two enclose are filled. Two that only touch
    /// are told as one outline or as two. None where the outlines cross and the result fails its check.
    pub fn union(&self, other: &Contour) -> Option<Vec<Contour>> {
        self.joined(other).or_else(|| match distance::contours(self, other).relation {
            Relation::Apart | Relation::Touching => Some(vec![self.ccw(), other.ccw()]),
            Relation::Inside | Relation::Coincident => Some(vec![other.ccw()]),
            Relation::Outside => Some(vec![self.ccw()]),
            Relation::Crossing => None,
        })
    }

    /// The same by the library alone.
    fn joined(&self, other: &Contour) -> Option<Vec<Contour>> {
        let (a, b) = (bulge::to(self), bulge::to(other));
        let (or, gaps) = loops(&a.boolean(&b, BooleanOp::Or));
        let both = areas(&loops(&a.boolean(&b, BooleanOp::And)));
        let expected = self.area() + other.area() - both;
        let got = total(&or) - total(&gaps);
        ((got - expected).abs() <= MISS * (self.area() + other.area()) && !or.is_empty()).then_some(or)
    }

    /// What lies in this shape and not in the other: its outer outlines, none where nothing is left. None
    /// where the outlines cross and the result fails its check, or where it has a hole (the other lies inside).
    pub fn without(&self, other: &Contour) -> Option<Vec<Contour>> {
        self.cut(other).or_else(|| match distance::contours(self, other).relation {
            Relation::Apart | Relation::Touching => Some(vec![self.ccw()]),
            Relation::Inside | Relation::Coincident => Some(Vec::new()),
            Relation::Outside | Relation::Crossing => None,
        })
    }

    /// The same by the library alone.
    fn cut(&self, other: &Contour) -> Option<Vec<Contour>> {
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
    use crate::geom::{Point, Transform, angle};
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
    fn what_only_touches_or_nests_always_has_an_answer() {
        for k in 0..2000 {
            let turn = f64::from(k) * 0.37;
            let at = |d: f64| (angle::unit(turn) * d).to_point();
            let (r, s) = (5.0 + f64::from(k % 7), 3.0 + f64::from(k % 11));
            let a = Contour::circle(Point::ORIGIN, r);
            let square = Transform::place(at(r + s / 2.0), turn.to_degrees(), false);
            let square = square.contour(&Contour::rect(Point::ORIGIN, s, 2.0 * s, 0.0));
            let touching = [Contour::circle(at(r + s), s), square];
            for b in &touching {
                let whole = total(&a.union(b).expect("union"));
                assert!((whole - a.area() - b.area()).abs() <= MISS * whole, "{k}");
                let left = total(&a.without(b).expect("difference"));
                assert!((left - a.area()).abs() <= MISS * whole, "{k}");
            }
            let inner = Contour::circle(at(r / 3.0), 2.0 * r / 3.0);
            assert!((total(&a.union(&inner).expect("nested")) - a.area()).abs() <= MISS * a.area(), "{k}");
            assert_eq!(inner.without(&a).map(|l| total(&l) < 1e-3), Some(true), "{k}");
        }
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
