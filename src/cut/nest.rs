//! Which contour lies in which.

use crate::geom::{Contour, Segment};
use rstar::primitives::{GeomWithData, Rectangle};
use rstar::{AABB, RTree};

/// Most pieces that are looked at; a file that asks for more is not sorted.
const MOST: usize = 200_000_000;

/// Depth of a contour (0 outermost) and the contour around it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Place {
    /// How many contours hold it.
    pub depth: usize,
    /// The nearest of them.
    pub parent: Option<usize>,
}

/// The place of every contour; None where there is too much to look at. Of contours that cross, either may
/// count as the outer one.
pub fn nest(list: &[Contour]) -> Option<Vec<Place>> {
    let areas: Vec<f64> = list.iter().map(Contour::area).collect();
    let boxes = list.iter().enumerate().map(|(k, c)| {
        let r = c.bounds();
        GeomWithData::new(Rectangle::from_corners([r.x0, r.y0], [r.x1, r.y1]), k)
    });
    let tree: RTree<_> = RTree::bulk_load(boxes.collect());
    let mut left = MOST;
    let mut out = Vec::with_capacity(list.len());
    for (k, c) in list.iter().enumerate() {
        let mut place = Place::default();
        let Some(p) = c.segments().first().map(Segment::start) else { continue };
        let here = areas.get(k).copied().unwrap_or(0.0);
        for o in tree.locate_in_envelope_intersecting(&AABB::from_point([p.x, p.y])).map(|g| g.data) {
            let (Some(other), Some(area)) = (list.get(o), areas.get(o)) else { continue };
            // of two that are alike the earlier one is the outer
            let larger = *area > here || *area == here && o < k;
            if o == k || !larger {
                continue;
            }
            left = left.checked_sub(other.segments().len())?;
            if other.holds(p) {
                place.depth += 1;
                let nearer = place.parent.and_then(|q| areas.get(q)).is_none_or(|a| area < a);
                if nearer {
                    place.parent = Some(o);
                }
            }
        }
        out.push(place);
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Point;

    #[test]
    fn a_sheet_with_a_hole_that_holds_a_disc() {
        let at = Point::new(50.0, 50.0);
        let list = [
            Contour::circle(at, 5.0),
            Contour::rect(at, 100.0, 100.0, 3.0),
            Contour::circle(at, 20.0),
            Contour::circle(Point::new(90.0, 90.0), 2.0),
            Contour::circle(Point::new(300.0, 0.0), 2.0),
        ];
        let places = nest(&list).unwrap();
        let plain: Vec<(usize, Option<usize>)> = places.iter().map(|p| (p.depth, p.parent)).collect();
        assert_eq!(plain, [(2, Some(2)), (0, None), (1, Some(1)), (1, Some(1)), (0, None)]);
    }
}
