//! Areas as polygons: joined, cut out of each other, shared (the `geo` crate).
//!
//! For pictures and maps, not for verdicts: corners are moved on to a grid of 2^-28 of the extent (1e-6 mm on a panel
//! of a third of a metre), once for each halving of a long list, and what is thinner than that vanishes. Nothing else is
//! lost.

use super::{Contour, Point, SLACK, span};
use geo::{Area as _, BooleanOps, Coord, LineString, MultiLineString, MultiPolygon, Polygon};

/// So many polygons are joined at once.
const AT_ONCE: usize = 8;

/// An area: any number of polygons, with gaps.
#[derive(Clone, Debug)]
pub struct Area(MultiPolygon<f64>);

impl Default for Area {
    fn default() -> Area {
        Area(MultiPolygon::new(Vec::new()))
    }
}

impl Area {
    /// What polygons cover together; each by its corners in order, either way round, not crossing itself.
    pub fn of(polygons: &[Vec<Point>]) -> Area {
        // many that lie on one another cross in far more places than their outline has corners: halves are joined first
        if polygons.len() > AT_ONCE {
            let (first, rest) = polygons.split_at(polygons.len() / 2);
            return Area::of(first).with(&Area::of(rest));
        }
        let all: Vec<Polygon<f64>> = polygons.iter().filter(|p| p.len() >= 3).map(|p| ring(p)).collect();
        Area(geo::unary_union(&all))
    }

    /// What either covers.
    #[must_use]
    pub fn with(&self, other: &Area) -> Area {
        Area(self.0.union(&other.0))
    }

    /// What this covers and the other does not.
    #[must_use]
    pub fn without(&self, other: &Area) -> Area {
        Area(self.0.difference(&other.0))
    }

    /// What both cover.
    #[must_use]
    pub fn common(&self, other: &Area) -> Area {
        Area(self.0.intersection(&other.0))
    }

    /// Its size, mm2.
    pub fn size(&self) -> f64 {
        self.0.unsigned_area()
    }

    /// How long the outline of a polygon runs within this or along its border, mm.
    pub fn holds_of(&self, outline: &[Point]) -> f64 {
        let line = MultiLineString::new(vec![ring(outline).exterior().clone()]);
        let inside = self.0.clip(&line, false);
        let at = |c: Coord| Point::new(c.x, c.y);
        inside.iter().flat_map(LineString::lines).map(|l| span(at(l.start), at(l.end))).sum()
    }

    /// Its outlines, each piece counter-clockwise and its gaps clockwise: by the even-odd rule they are the area. What is
    /// smaller than `least` mm2 is left out.
    pub fn contours(&self, least: f64) -> Vec<Contour> {
        let piece = |p: &Polygon<f64>| {
            let outer = contour(p.exterior()).map(|c| c.ccw());
            outer
                .into_iter()
                .chain(p.interiors().iter().filter_map(contour).map(|c| c.ccw().reversed()))
                .collect()
        };
        let rings = self.0.iter().flat_map(|p| -> Vec<Contour> { piece(p) });
        rings.filter(|c| c.area() > least).collect()
    }
}

fn ring(points: &[Point]) -> Polygon<f64> {
    Polygon::new(points.iter().map(|p| Coord { x: p.x, y: p.y }).collect(), Vec::new())
}

/// A ring as a contour, without corners that stand on one another.
fn contour(r: &LineString<f64>) -> Option<Contour> {
    let mut corners: Vec<Point> = Vec::new();
    for c in r.0.iter().skip(1) {
        let p = Point::new(c.x, c.y);
        if corners.last().is_none_or(|q| span(*q, p) > SLACK) {
            corners.push(p);
        }
    }
    while corners.len() > 1 && corners.first().zip(corners.last()).is_some_and(|(a, b)| span(*a, *b) <= SLACK)
    {
        corners.pop();
    }
    (corners.len() >= 3).then(|| Contour::polygon(&corners))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(x: f64, y: f64, side: f64) -> Vec<Point> {
        let (a, b) = (side / 2.0, -side / 2.0);
        [(b, b), (a, b), (a, a), (b, a)].map(|(u, v)| Point::new(x + u, y + v)).to_vec()
    }

    #[test]
    fn joined_cut_and_shared() {
        let (a, b) = (Area::of(&[square(0.0, 0.0, 10.0)]), Area::of(&[square(5.0, 0.0, 10.0)]));
        for (area, size) in [(a.with(&b), 150.0), (a.without(&b), 50.0), (a.common(&b), 50.0)] {
            assert!((area.size() - size).abs() < 1e-4, "{}", area.size());
            assert_eq!(area.contours(1.0).len(), 1);
        }
        let frame = a.without(&Area::of(&[square(0.0, 0.0, 4.0)]));
        assert_eq!(frame.contours(1.0).iter().map(Contour::is_ccw).collect::<Vec<_>>(), [true, false]);
        assert!(
            Area::of(&[]).contours(0.0).is_empty() && Area::default().common(&a).contours(0.0).is_empty()
        );
        assert!(a.without(&Area::of(&[square(0.0, 0.0, 40.0)])).contours(0.0).is_empty());
    }

    #[test]
    fn an_outline_within_along_and_outside() {
        let a = Area::of(&[square(0.0, 0.0, 10.0)]);
        // the right half stands out: 10 of 40 across, twice 5 along the border, and nothing of what is beyond
        let along = a.holds_of(&square(5.0, 0.0, 10.0));
        assert!((along - 20.0).abs() < 1e-4, "{along}");
        assert!((a.holds_of(&square(5.0, 0.0, 4.0)) - 8.0).abs() < 1e-4);
        // beside it along one edge
        assert!((a.holds_of(&square(10.0, 0.0, 10.0)) - 10.0).abs() < 1e-4);
        assert!(a.holds_of(&square(20.0, 0.0, 4.0)) == 0.0);
    }
}
