//! Rectangles and slots among the openings, whatever way they are turned and cut up.

use super::grid::corners;
use crate::geom::{Arc, Contour, Segment, span};
use crate::units::fmt_mm;
use std::f64::consts::PI;

/// How far sides, radii and ends may differ, mm: rounding of coordinates with two decimals. (Common practice, no source.)
const ALIKE: f64 = 0.01;
/// Cosine of a right angle, and turn by which an end may miss half a circle, radians.
const SQUARE: f64 = 1e-3;

/// What an opening is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Form {
    /// Four right angles, all rounded alike; the longer side first, mm.
    Rectangle {
        /// Longer and shorter side.
        sides: [f64; 2],
        /// Radius of its corners, 0 for sharp ones.
        radius: f64,
    },
    /// Two straights and two half circles: length over all and width, mm.
    Slot {
        /// Length over all.
        long: f64,
        /// Width.
        wide: f64,
    },
}

impl Form {
    /// Its name.
    pub fn word(&self) -> &'static str {
        match self {
            Form::Rectangle { .. } => "rectangle",
            Form::Slot { .. } => "slot",
        }
    }

    /// In words, with its sizes to the micrometre.
    pub fn says(&self) -> String {
        let short = |v: f64| fmt_mm((v * 1000.0).round() / 1000.0);
        match self {
            Form::Rectangle { sides: [a, b], radius: 0.0 } => {
                format!("rectangle {} x {}", short(*a), short(*b))
            }
            Form::Rectangle { sides: [a, b], radius } => {
                format!("rectangle {} x {}, corners of radius {}", short(*a), short(*b), short(*radius))
            }
            Form::Slot { long, wide } => format!("slot {} x {}", short(*long), short(*wide)),
        }
    }
}

/// The form of a contour; None for every other.
pub fn form(c: &Contour) -> Option<Form> {
    // neither has more pieces, but for arcs that are cut up
    if c.segments().len() > 16 || c.as_circle().is_some() {
        return None;
    }
    let pieces = whole(c.segments());
    slot(&pieces).or_else(|| rectangle(&pieces))
}

/// Arcs of one circle that follow each other in one.
fn whole(pieces: &[Segment]) -> Vec<Segment> {
    let same = |a: &Segment, b: &Segment| match (a, b) {
        (Segment::Arc(a), Segment::Arc(b)) => {
            span(a.centre, b.centre) <= ALIKE
                && (a.radius - b.radius).abs() <= ALIKE
                && a.sweep * b.sweep > 0.0
        }
        _ => false,
    };
    let n = pieces.len();
    let first = (0..n).find(|k| !same(&pieces[(k + n - 1) % n], &pieces[*k])).unwrap_or(0);
    let mut out: Vec<Segment> = Vec::with_capacity(n);
    for k in 0..n {
        let s = pieces[(first + k) % n];
        match (out.last_mut(), s) {
            (Some(Segment::Arc(a)), Segment::Arc(b)) if same(&Segment::Arc(*a), &s) => {
                *a = Arc { sweep: a.sweep + b.sweep, b: b.b, ..*a };
            }
            _ => out.push(s),
        }
    }
    out
}

fn slot(pieces: &[Segment]) -> Option<Form> {
    let (a, b) = match pieces {
        [Segment::Arc(a), Segment::Line(_), Segment::Arc(b), Segment::Line(_)]
        | [Segment::Line(_), Segment::Arc(a), Segment::Line(_), Segment::Arc(b)] => (a, b),
        _ => return None,
    };
    let half = |a: &Arc| (a.sweep.abs() - PI).abs() <= SQUARE.max(2.0 * ALIKE / a.radius);
    let alike = (a.radius - b.radius).abs() <= ALIKE && a.sweep * b.sweep > 0.0 && half(a) && half(b);
    alike.then(|| Form::Slot { long: span(a.centre, b.centre) + 2.0 * a.radius, wide: 2.0 * a.radius })
}

fn rectangle(pieces: &[Segment]) -> Option<Form> {
    let corners = corners(pieces)?;
    let [(a, r), (b, _), (c, _), (d, _)] = corners.as_slice() else { return None };
    let sides = [span(*a, *b), span(*b, *c), span(*c, *d), span(*d, *a)];
    let square = |p: usize| {
        let at = |k: usize| corners[(p + k) % 4].0;
        let (e, f) = (at(1) - at(0), at(2) - at(1));
        e.dot(f).abs() <= SQUARE * span(at(0), at(1)) * span(at(1), at(2))
    };
    let alike = (0..4).all(square)
        && (sides[0] - sides[2]).abs() <= ALIKE
        && (sides[1] - sides[3]).abs() <= ALIKE
        && corners.iter().all(|(_, q)| (q - r).abs() <= ALIKE);
    let [long, short] = [sides[0].max(sides[1]), sides[0].min(sides[1])];
    alike.then_some(Form::Rectangle { sides: [long, short], radius: *r })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Point, Transform};

    #[test]
    fn turned_and_cut_up_and_what_is_neither() {
        let turned = |c: Contour| Transform::place(Point::new(400.0, -30.0), 33.0, false).contour(&c);
        let round = turned(Contour::rect(Point::new(3.0, 4.0), 60.0, 40.0, 5.0));
        let Some(f @ Form::Rectangle { sides, radius }) = form(&round) else { panic!("{round:?}") };
        assert!(
            (sides[0] - 60.0).abs() < 1e-9 && (sides[1] - 40.0).abs() < 1e-9 && (radius - 5.0).abs() < 1e-9
        );
        assert_eq!(f.says(), "rectangle 60 mm x 40 mm, corners of radius 5 mm");
        assert_eq!(
            form(&Contour::rect(Point::ORIGIN, 30.0, 30.0, 0.0)).unwrap().says(),
            "rectangle 30 mm x 30 mm"
        );
        // corners of half the width: four quarters and two straights
        let quarters: Vec<Segment> = [
            (Point::new(10.0, 0.0), -90.0f64),
            (Point::new(10.0, 0.0), 0.0),
            (Point::new(-10.0, 0.0), 90.0),
            (Point::new(-10.0, 0.0), 180.0),
        ]
        .into_iter()
        .map(|(c, from)| Segment::Arc(Arc::new(c, 4.0, from.to_radians(), PI / 2.0)))
        .collect();
        let [a, b, c, d] = quarters.as_slice() else { panic!() };
        let all = vec![*a, *b, Segment::line(b.end(), c.start()), *c, *d, Segment::line(d.end(), a.start())];
        let slot = form(&turned(Contour::new(all).unwrap())).unwrap();
        assert!(
            matches!(slot, Form::Slot { long, wide } if (long - 28.0).abs() < 1e-9 && (wide - 8.0).abs() < 1e-9)
        );
        assert_eq!(slot.says(), "slot 28 mm x 8 mm");
        let corner = |x: f64, y: f64| Point::new(x, y);
        let leaning = [corner(0.0, 0.0), corner(50.0, 0.0), corner(51.0, 20.0), corner(1.0, 20.0)];
        assert!(form(&Contour::polygon(&leaning)).is_none());
        assert!(form(&Contour::circle(Point::ORIGIN, 5.0)).is_none());
    }
}
