//! The lines of a hatching: parallel lines cut by closed contours, by closed forms, exact to rounding.

use super::model::Shape;
use crate::geom::{Contour, Line, Point, Segment, Vec2, angle, length};

/// Most lines that one hatching may have; a finer one is spaced out to it.
const MOST_LINES: f64 = 20_000.0;

/// The hatch lines inside `contours` by the even-odd rule: direction `degrees` from x, `spacing` mm apart.
/// The lines' places depend on the page's origin alone, so that neighbouring areas match. Nothing for a
/// spacing or angle that is not a number above zero, or not finite.
pub fn lines(contours: &[Contour], spacing: f64, degrees: f64) -> Vec<Line> {
    if !(spacing > 0.0 && spacing.is_finite() && degrees.is_finite()) {
        return Vec::new();
    }
    let (s, c) = angle::sin_cos_deg(degrees);
    let (along, across) = (Vec2::new(c, s), Vec2::new(-s, c));
    let mut reach = (f64::INFINITY, f64::NEG_INFINITY);
    for contour in contours {
        let b = contour.bounds();
        for p in [(b.x0, b.y0), (b.x1, b.y0), (b.x1, b.y1), (b.x0, b.y1)] {
            let v = across.dot(Vec2::new(p.0, p.1));
            reach = (reach.0.min(v), reach.1.max(v));
        }
    }
    if !(reach.0.is_finite() && reach.1.is_finite()) {
        return Vec::new();
    }
    let spacing = spacing.max((reach.1 - reach.0) / MOST_LINES);
    let mut out = Vec::new();
    let mut k = (reach.0 / spacing).floor();
    while k * spacing <= reach.1 {
        // half a spacing off the origin, so that lines miss the round coordinates where corners sit
        let level = (k + 0.5) * spacing;
        let mut cuts: Vec<f64> = contours
            .iter()
            .flat_map(Contour::segments)
            .flat_map(|p| crossings(p, along, across, level))
            .collect();
        cuts.sort_by(f64::total_cmp);
        for pair in cuts.chunks_exact(2) {
            if let [a, b] = pair
                && b - a > crate::geom::SLACK
            {
                let at = |t: f64| (across * level + along * t).to_point();
                out.push(Line { a: at(*a), b: at(*b) });
            }
        }
        k += 1.0;
    }
    out
}

/// Where a piece crosses the line `across . p = level`, as distances along it. A piece owns the end that
/// lies above or on the level, so that a corner on the line counts once or twice, never by halves.
fn crossings(piece: &Segment, along: Vec2, across: Vec2, level: f64) -> Vec<f64> {
    let height = |p: Point| across.dot(p.to_vec2()) - level;
    match piece {
        Segment::Line(l) => {
            let (ha, hb) = (height(l.a), height(l.b));
            if (ha >= 0.0) == (hb >= 0.0) {
                return Vec::new();
            }
            vec![along.dot(l.a.lerp(l.b, ha / (ha - hb)).to_vec2())]
        }
        Segment::Arc(arc) => {
            let h = height(arc.centre);
            let middle = along.dot(arc.centre.to_vec2());
            let square = arc.radius * arc.radius - h * h;
            if square <= 0.0 {
                return Vec::new();
            }
            let half = square.sqrt();
            let ends = ((height(arc.a) >= 0.0), (height(arc.b) >= 0.0));
            let mut found: Vec<f64> = [middle - half, middle + half]
                .into_iter()
                .filter(|t| arc.covers(angle::direction(along * (t - middle) - across * h)))
                .collect();
            // parity must agree with the ends; a root at the very end of the arc may have been counted twice
            // or missed by rounding
            let odd = ends.0 != ends.1;
            if (found.len() % 2 == 1) != odd {
                let near = |t: &f64| {
                    let p = (across * level + along * *t).to_point();
                    length(p - arc.a).min(length(p - arc.b))
                };
                if odd {
                    let pick =
                        [middle - half, middle + half].into_iter().min_by(|a, b| near(a).total_cmp(&near(b)));
                    found = if found.is_empty() {
                        pick.into_iter().collect()
                    } else {
                        found.into_iter().max_by(|a, b| near(a).total_cmp(&near(b))).into_iter().collect()
                    };
                } else {
                    found.clear();
                }
            }
            found
        }
    }
}

/// The lines of a hatch shape; nothing for any other shape.
pub fn of(shape: &Shape) -> Vec<Line> {
    match shape {
        Shape::Hatch { contours, spacing, angle } => lines(contours, *spacing, *angle),
        Shape::Line(_)
        | Shape::Arc(_)
        | Shape::Circle { .. }
        | Shape::Path(_)
        | Shape::Chain(_)
        | Shape::Text(_)
        | Shape::Picture { .. } => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::span;

    fn total(contours: &[Contour], spacing: f64, degrees: f64) -> f64 {
        lines(contours, spacing, degrees).iter().map(|l| span(l.a, l.b)).sum::<f64>() * spacing
    }

    #[test]
    fn lines_times_spacing_is_the_area() {
        let rect = Contour::rect(Point::new(40.0, 30.0), 60.0, 30.0, 0.0);
        let round = Contour::rect(Point::new(40.0, 30.0), 60.0, 30.0, 8.0);
        let hole = Contour::circle(Point::new(35.0, 32.0), 9.0);
        let (r, h) = (1800.0 - (4.0 - std::f64::consts::PI) * 64.0, std::f64::consts::PI * 81.0);
        for degrees in [0.0, 30.0, 45.0, 90.0, 135.0, -17.0, 405.0] {
            assert!((total(std::slice::from_ref(&rect), 0.1, degrees) - 1800.0).abs() < 6.5, "{degrees}");
            assert!((total(&[round.clone(), hole.clone()], 0.1, degrees) - (r - h)).abs() < 6.5, "{degrees}");
        }
    }

    #[test]
    fn corners_on_the_line_do_not_leak() {
        // level 0.5 k: every corner and arc end of this shape lies on a hatch line
        let shape = Contour::rect(Point::new(0.0, 0.0), 3.0, 3.0, 1.0);
        for l in lines(std::slice::from_ref(&shape), 1.0, 0.0) {
            assert!(l.a.x >= -1.5 - 1e-9 && l.b.x <= 1.5 + 1e-9, "{l:?}");
        }
        let diamond = Contour::polygon(&[
            Point::new(0.0, -1.5),
            Point::new(1.5, 0.5),
            Point::new(0.0, 1.5),
            Point::new(-1.5, 0.5),
        ]);
        let found = lines(&[diamond], 1.0, 0.0);
        assert!(found.iter().any(|l| (span(l.a, l.b) - 3.0).abs() < 1e-9), "{found:?}");
    }

    #[test]
    fn nonsense_gives_nothing() {
        let c = [Contour::circle(Point::ZERO, 5.0)];
        for (s, a) in [(0.0, 0.0), (-1.0, 0.0), (f64::NAN, 0.0), (1.0, f64::NAN), (f64::INFINITY, 0.0)] {
            assert!(lines(&c, s, a).is_empty());
        }
        assert!(lines(&[], 1.0, 0.0).is_empty());
    }
}
