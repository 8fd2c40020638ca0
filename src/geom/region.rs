//! What is left of a sheet when its openings are cut: pieces and area, by polygons (the `geo` crate).
//!
//! Arcs become chords on a chosen side. [`Bound::Within`]: the polygon lies in the shape; [`Bound::Around`]: it
//! contains the shape. Either way no point of the polygon is farther than the tolerance from the outline. Cutting
//! openings drawn around from a sheet drawn within gives metal that is certainly there; the other way round it gives
//! metal beyond which there is certainly none. The area lies between the two; both are widened by the
//! grid on which the polygons are joined (2^-28 of the extent, 1e-6 mm on a panel of a third of a metre).

use super::{Arc, Contour, Point, Rect, Segment, angle, span};
use geo::{Area, BooleanOps, Coord, LineString, MultiPolygon, Polygon};
use std::f64::consts::FRAC_PI_4;

/// On which side of the outline a polygon may stray.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    /// The polygon lies in the shape.
    Within,
    /// The polygon contains the shape.
    Around,
}

/// Metal that hangs together, as a polygon.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Its corners, counter-clockwise.
    pub outline: Vec<Point>,
    /// Corners of the gaps in it.
    pub gaps: Vec<Vec<Point>>,
    /// Its area without the gaps, mm2; not more than the true one.
    pub area: f64,
}

/// What is left of a sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Region {
    /// Area in mm2: the true one lies between these two.
    pub area: [f64; 2],
    /// Pieces, the largest first, each within the true metal. Two that hang together only by a neck thinner than
    /// four tolerances may be told as two; what is thinner than two tolerances all over is a chip and not told.
    pub pieces: Vec<Piece>,
}

/// The grid on which polygons are joined, as a part of their extent.
const GRID: f64 = 1.0 / (1u64 << 28) as f64;

/// Corners of a polygon at most `tolerance` mm off a contour, counter-clockwise, on the side asked for.
/// `tolerance` must be above zero; at least eight chords stand for a full circle.
pub fn polygon(contour: &Contour, side: Bound, tolerance: f64) -> Vec<Point> {
    let mut out = Vec::new();
    for s in contour.ccw().segments() {
        out.push(s.start());
        if let Segment::Arc(a) = s {
            // an arc that runs with the outline bulges out of the shape
            let bulges = a.sweep > 0.0;
            if bulges == (side == Bound::Within) {
                chords(a, tolerance, &mut out)
            } else {
                tangents(a, tolerance, &mut out)
            }
        }
    }
    out
}

/// Corners on the arc, its ends left out: at most r (1 - cos h) inside it, h half the angle of a chord.
fn chords(a: &Arc, tolerance: f64, out: &mut Vec<Point>) {
    let n = parts(a, tolerance);
    out.extend((1..n).map(|k| a.at(f64::from(k) / f64::from(n))));
}

/// Corners where the tangents meet: at most r (1 / cos h - 1) outside the arc.
fn tangents(a: &Arc, tolerance: f64, out: &mut Vec<Point>) {
    let n = parts(a, tolerance);
    let far = a.radius / angle::sin_cos(a.sweep / f64::from(2 * n)).1;
    out.extend(
        (0..n).map(|k| a.centre + angle::unit(a.start + a.sweep * (f64::from(k) + 0.5) / f64::from(n)) * far),
    );
}

/// Number of chords: 1 / cos h - 1 <= h^2 for h up to pi / 8, so h = sqrt(tolerance / radius) keeps both bounds.
fn parts(a: &Arc, tolerance: f64) -> u32 {
    let step = (2.0 * (tolerance / a.radius).sqrt()).min(FRAC_PI_4);
    // a million chords are below a nanometre on any sheet
    (a.sweep.abs() / step).ceil().clamp(1.0, 1e6) as u32
}

/// Cuts the openings, each whole, out of the sheet. `tolerance` in mm, above zero.
pub fn metal(sheet: &Contour, openings: &[&Contour], tolerance: f64) -> Region {
    let low = cut(sheet, openings, tolerance, [Bound::Within, Bound::Around]);
    let high = cut(sheet, openings, tolerance, [Bound::Around, Bound::Within]);
    let all = openings.iter().fold(sheet.bounds(), |all, c| all.union(c.bounds()));
    let slack = grid(&all) * (sheet.perimeter() + openings.iter().map(|c| c.perimeter()).sum::<f64>());
    let area = [(low.unsigned_area() - slack).max(0.0), high.unsigned_area() + slack];
    Region { area, pieces: pieces_of(&low, tolerance) }
}

/// The pieces alone of what [`metal`] tells, at half of its cost.
pub fn pieces(sheet: &Contour, openings: &[&Contour], tolerance: f64) -> Vec<Piece> {
    pieces_of(&cut(sheet, openings, tolerance, [Bound::Within, Bound::Around]), tolerance)
}

/// The pieces that are more than chips, the largest first.
fn pieces_of(low: &MultiPolygon<f64>, tolerance: f64) -> Vec<Piece> {
    let mut pieces: Vec<Piece> =
        low.iter().filter(|p| p.unsigned_area() > tolerance * length(p)).map(piece).collect();
    pieces.sort_by(|a, b| b.area.total_cmp(&a.area));
    pieces
}

/// Step of the grid for shapes within a box, mm.
fn grid(all: &Rect) -> f64 {
    all.width().max(all.height()) * GRID
}

fn cut(sheet: &Contour, openings: &[&Contour], tolerance: f64, [of, by]: [Bound; 2]) -> MultiPolygon<f64> {
    let sheet = ring(&polygon(sheet, of, tolerance));
    let holes: Vec<Polygon<f64>> = openings.iter().map(|c| ring(&polygon(c, by, tolerance))).collect();
    sheet.difference(&geo::unary_union(&holes))
}

fn ring(points: &[Point]) -> Polygon<f64> {
    Polygon::new(points.iter().map(|p| Coord { x: p.x, y: p.y }).collect(), Vec::new())
}

fn length(p: &Polygon<f64>) -> f64 {
    std::iter::once(p.exterior())
        .chain(p.interiors())
        .flat_map(|r| r.lines())
        .map(|l| span(at(l.start), at(l.end)))
        .sum()
}

fn at(c: Coord<f64>) -> Point {
    Point::new(c.x, c.y)
}

fn piece(p: &Polygon<f64>) -> Piece {
    // a ring of the library names its first corner again at the end
    let corners = |r: &LineString<f64>| r.0.iter().skip(1).map(|c| at(*c)).collect::<Vec<_>>();
    Piece {
        outline: corners(p.exterior()),
        gaps: p.interiors().iter().map(corners).collect(),
        area: p.unsigned_area(),
    }
}

impl Piece {
    /// Smallest upright box.
    pub fn bounds(&self) -> Rect {
        let first = self.outline.first().copied().unwrap_or(Point::ORIGIN);
        self.outline.iter().fold(Rect::from_points(first, first), |b, p| b.union_pt(*p))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    fn p(x: f64, y: f64) -> Point {
        Point::new(x, y)
    }

    fn holds(r: &Region, area: f64) -> bool {
        r.area[0] <= area && area <= r.area[1]
    }

    #[test]
    fn the_polygons_keep_their_side_and_their_tolerance() {
        let shapes = [
            Contour::circle(p(3.0, 4.0), 40.0),
            Contour::rect(p(0.0, 0.0), 60.0, 40.0, 6.0),
            Contour::slot(p(0.0, 0.0), p(9.0, 4.0), 3.0),
            Contour::d_hole(p(1.0, 1.0), 6.0, 5.0, false),
            Contour::rect(p(0.0, 0.0), 60.0, 40.0, 6.0)
                .without(&Contour::circle(p(30.0, 3.0), 9.0))
                .expect("bite")[0]
                .clone(),
        ];
        for c in shapes {
            for tolerance in [1.0, 0.1, 0.001] {
                for (side, sign) in [(Bound::Within, -1.0), (Bound::Around, 1.0)] {
                    let poly = Contour::polygon(&polygon(&c, side, tolerance));
                    assert!(sign * (poly.area() - c.area()) >= -1e-9);
                    for s in poly.segments() {
                        for t in [0.0, 0.5] {
                            let q = s.at(t);
                            let off = crate::geom::distance::point_contour(q, &c).distance;
                            assert!(off <= tolerance * 1.000_001, "{off} {tolerance}");
                            assert!(off < 1e-9 || c.holds(q) == (side == Bound::Within));
                        }
                    }
                }
            }
        }
    }

    #[test]
    fn area_between_two_sides() {
        let sheet = Contour::rect(p(0.0, 0.0), 400.0, 200.0, 24.0);
        let holes: Vec<Contour> =
            (0..12).map(|k| Contour::circle(p(-165.0 + 30.0 * f64::from(k), 20.0), 14.0)).collect();
        let refs: Vec<&Contour> = holes.iter().collect();
        let r = metal(&sheet, &refs, 0.001);
        let area = sheet.area() - 12.0 * PI * 196.0;
        assert!(holds(&r, area) && r.area[1] - r.area[0] < 4.0, "{:?} {area}", r.area);
        assert_eq!((r.pieces.len(), r.pieces[0].gaps.len()), (1, 12));
    }

    #[test]
    fn islands_slices_and_nothing() {
        let sheet = Contour::rect(p(0.0, 0.0), 100.0, 60.0, 0.0);
        let bar = |x: f64, y: f64, w: f64, h: f64| Contour::rect(p(x, y), w, h, 0.0);
        // a frame of four bars frees a square of 20
        let frame = [
            bar(0.0, 12.0, 28.0, 4.0),
            bar(0.0, -12.0, 28.0, 4.0),
            bar(12.0, 0.0, 4.0, 28.0),
            bar(-12.0, 0.0, 4.0, 28.0),
        ];
        let r = metal(&sheet, &frame.iter().collect::<Vec<_>>(), 0.01);
        assert_eq!(r.pieces.len(), 2);
        assert_eq!(pieces(&sheet, &frame.iter().collect::<Vec<_>>(), 0.01), r.pieces);
        assert!((r.pieces[1].area - 400.0).abs() < 1e-3 && holds(&r, 6000.0 - 784.0 + 400.0));
        let r = metal(&sheet, &[&bar(0.0, 0.0, 5.0, 70.0)], 0.01);
        assert_eq!(r.pieces.len(), 2);
        let r = metal(&sheet, &[&bar(0.0, 0.0, 200.0, 70.0)], 0.01);
        assert_eq!((r.pieces.len(), r.area[0]), (0, 0.0));
        assert_eq!(metal(&sheet, &[], 0.01).pieces.len(), 1);
    }
}
