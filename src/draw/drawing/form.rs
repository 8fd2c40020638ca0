//! What an outline is in a toolmaker's words: round, rectangle with its corners, slot, round with flats; what is
//! none of these is told point by point.
//!
//! A guess is made and drawn again; it counts only when it is the outline to [`SLACK`], so a form that is named
//! is exact.

use super::number::{Print, degrees};
use crate::geom::{Arc, Contour, Corner, Line, Point, SLACK, Segment, Transform, Vec2, angle, span};
use std::f64::consts::PI;

/// An outline in words; lengths in mm, as it lies when not turned.
#[derive(Clone, Debug, PartialEq)]
pub enum Form {
    /// A circle.
    Round {
        /// Its diameter.
        diameter: f64,
    },
    /// A rectangle.
    Rectangle {
        /// Along x.
        width: f64,
        /// Along y.
        height: f64,
        /// Lower left, lower right, upper right, upper left.
        corners: [Corner; 4],
    },
    /// A slot with round ends.
    Slot {
        /// Over all, along x.
        length: f64,
        /// Across.
        width: f64,
    },
    /// A circle with one flat below, or with two.
    Flat {
        /// Of the circle.
        diameter: f64,
        /// From the middle to the flat.
        flat: f64,
        /// Another flat above.
        double: bool,
    },
    /// Anything else: its pieces, seen from its centre.
    Path(Vec<Segment>),
}

/// A form with its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Seen {
    /// What it is.
    pub form: Form,
    /// Its middle.
    pub centre: Point,
    /// Turned counter-clockwise, degrees.
    pub turn: f64,
}

impl Seen {
    /// Names an outline; `centre` is its reference point where it is told point by point.
    pub fn of(contour: &Contour, centre: Point) -> Seen {
        if let Some((centre, radius)) = contour.as_circle() {
            return Seen { form: Form::Round { diameter: 2.0 * radius }, centre, turn: 0.0 };
        }
        let whole = joined(&contour.ccw());
        let guess = flat(&whole).or_else(|| slot(&whole)).or_else(|| rectangle(&whole));
        guess.unwrap_or_else(|| {
            let t = Transform::shift(-centre.to_vec2());
            Seen { form: Form::Path(whole.iter().map(|s| t.segment(s)).collect()), centre, turn: 0.0 }
        })
    }

    /// The outline that the words describe.
    pub fn contour(&self) -> Contour {
        let o = Point::ORIGIN;
        let plain = match &self.form {
            Form::Round { diameter } => Contour::circle(o, diameter / 2.0),
            Form::Rectangle { width, height, corners } => Contour::rect_corners(o, *width, *height, *corners),
            Form::Slot { length, width } => {
                let half = Vec2::new((length - width) / 2.0, 0.0);
                Contour::slot(o - half, o + half, width / 2.0)
            }
            Form::Flat { diameter, flat, double } => Contour::d_hole(o, diameter / 2.0, *flat, *double),
            Form::Path(pieces) => Contour::from_checked(pieces.clone()),
        };
        Transform::place(self.centre, self.turn, false).contour(&plain)
    }

    fn confirmed(self, whole: &[Segment]) -> Option<Seen> {
        same(&joined(&self.contour()), whole).then_some(self)
    }
}

impl Form {
    /// Its size in words; a path names only its box.
    pub fn words(&self, p: Print) -> String {
        let n = |v: f64| p.number(v);
        match self {
            Form::Round { diameter } => format!("\u{2300}{}", n(*diameter)),
            Form::Rectangle { width, height, corners } => {
                let size = format!("{} \u{d7} {}", n(*width), n(*height));
                let each = corners.map(|c| match c {
                    Corner::Sharp => "sharp".to_owned(),
                    Corner::Round(r) => format!("R{}", n(r)),
                    Corner::Clip(x, y) => format!("cut {} \u{d7} {}", n(x), n(y)),
                });
                match each.iter().all(|e| *e == each[0]) {
                    true => format!("{size}, corners {}", each[0]),
                    false => format!(
                        "{size}, corners LL {}, LR {}, UR {}, UL {}",
                        each[0], each[1], each[2], each[3]
                    ),
                }
            }
            Form::Slot { length, width } => format!("slot {} \u{d7} {}, round ends", n(*length), n(*width)),
            Form::Flat { diameter, flat, double } => {
                let count = if *double { "two flats" } else { "flat below" };
                format!("\u{2300}{}, {count} {} from centre", n(*diameter), n(*flat))
            }
            Form::Path(_) => "see contour".into(),
        }
    }

    /// Letters of a row come in this order: rounds by diameter, then the rest.
    pub fn order(&self, p: Print) -> (u8, i64) {
        match self {
            Form::Round { diameter } => (0, p.key(*diameter)),
            Form::Flat { diameter, .. } => (1, p.key(*diameter)),
            Form::Slot { length, .. } => (2, p.key(*length)),
            Form::Rectangle { width, .. } => (3, p.key(*width)),
            Form::Path(_) => (4, 0),
        }
    }

    /// Whether turning it changes it, so that its angle must be told.
    pub fn turns(&self) -> bool {
        !matches!(self, Form::Round { .. } | Form::Path(_))
    }
}

/// The words of an angle; none for one that prints as nought.
pub fn turned(seen: &Seen) -> Option<String> {
    let words = degrees(seen.turn);
    (seen.form.turns() && words != "0").then(|| format!("turned {words}\u{b0}"))
}

/// The pieces with neighbours that are one line or one arc made one.
pub fn joined(contour: &Contour) -> Vec<Segment> {
    let mut list: Vec<Segment> = Vec::new();
    for s in contour.segments() {
        match list.last().and_then(|last| join(last, s)) {
            Some(one) => {
                list.pop();
                list.push(one);
            }
            None => list.push(*s),
        }
    }
    while list.len() > 1 {
        let (Some(first), Some(last)) = (list.first().copied(), list.last().copied()) else { break };
        let Some(one) = join(&last, &first) else { break };
        list.pop();
        if let Some(s) = list.first_mut() {
            *s = one;
        }
    }
    list
}

fn join(a: &Segment, b: &Segment) -> Option<Segment> {
    match (a, b) {
        (Segment::Line(a), Segment::Line(b)) => {
            let (u, v) = (a.b - a.a, b.b - b.a);
            let off = u.cross(v).abs() / crate::geom::length(u + v).max(SLACK);
            (off <= SLACK && u.dot(v) > 0.0).then_some(Segment::line(a.a, b.b))
        }
        (Segment::Arc(a), Segment::Arc(b)) => {
            let one = span(a.centre, b.centre) <= SLACK && (a.radius - b.radius).abs() <= SLACK;
            let sweep = a.sweep + b.sweep;
            let fits = a.sweep * b.sweep > 0.0 && sweep.abs() < std::f64::consts::TAU - 1e-9;
            (one && fits).then_some(Segment::Arc(Arc { sweep, b: b.b, ..*a }))
        }
        _ => None,
    }
}

/// Whether two closed chains are one, from whichever piece they start.
fn same(a: &[Segment], b: &[Segment]) -> bool {
    let near = |p: Point, q: Point| span(p, q) <= SLACK;
    let alike = |a: &Segment, b: &Segment| match (a, b) {
        (Segment::Line(a), Segment::Line(b)) => near(a.a, b.a) && near(a.b, b.b),
        (Segment::Arc(a), Segment::Arc(b)) => {
            near(a.a, b.a)
                && near(a.b, b.b)
                && near(a.centre, b.centre)
                && (a.radius - b.radius).abs() <= SLACK
                && a.sweep * b.sweep > 0.0
        }
        _ => false,
    };
    a.len() == b.len()
        && (0..b.len()).any(|k| a.iter().zip(b.iter().cycle().skip(k)).all(|(a, b)| alike(a, b)))
}

fn lines(pieces: &[Segment]) -> impl Iterator<Item = &Line> {
    pieces.iter().filter_map(|s| match s {
        Segment::Line(l) => Some(l),
        Segment::Arc(_) => None,
    })
}

fn arcs(pieces: &[Segment]) -> impl Iterator<Item = &Arc> {
    pieces.iter().filter_map(|s| match s {
        Segment::Arc(a) => Some(a),
        Segment::Line(_) => None,
    })
}

/// Degrees of a direction, free of the noise of arithmetic, in (-half, half].
fn degrees_of(v: Vec2, half: f64) -> f64 {
    let raw = angle::direction(v) * 180.0 / PI;
    let round = (raw * 1e3).round() / 1e3;
    let a = if (raw - round).abs() < 1e-9 { round } else { raw };
    let a = a - 2.0 * half * ((a + half) / (2.0 * half)).ceil() + 2.0 * half;
    if a == 0.0 { 0.0 } else { a }
}

/// A circle with flats.
fn flat(whole: &[Segment]) -> Option<Seen> {
    let first = arcs(whole).next()?;
    let (centre, radius) = (first.centre, first.radius);
    let line = lines(whole).next()?;
    let along = line.b - line.a;
    let foot = line.a + along * ((centre - line.a).dot(along) / along.hypot2());
    let normal = foot - centre;
    let double = lines(whole).count() == 2;
    // the flat lies below an outline that is not turned
    let turn = degrees_of(Vec2::new(-normal.y, normal.x), if double { 90.0 } else { 180.0 });
    let form = Form::Flat { diameter: 2.0 * radius, flat: crate::geom::length(normal), double };
    Seen { form, centre, turn }.confirmed(whole)
}

/// A slot.
fn slot(whole: &[Segment]) -> Option<Seen> {
    let mut ends = arcs(whole);
    let (a, b) = (ends.next()?, ends.next()?);
    let turn = degrees_of(b.centre - a.centre, 90.0);
    let form = Form::Slot { length: span(a.centre, b.centre) + 2.0 * a.radius, width: 2.0 * a.radius };
    Seen { form, centre: a.centre.midpoint(b.centre), turn }.confirmed(whole)
}

/// A rectangle, upright first, then along each of its straight pieces.
fn rectangle(whole: &[Segment]) -> Option<Seen> {
    let mut tried: Vec<f64> = vec![0.0];
    for l in lines(whole) {
        let turn = degrees_of(l.b - l.a, 45.0);
        if tried.iter().all(|t| (t - turn).abs() > 1e-6) {
            tried.push(turn);
        }
    }
    tried.into_iter().take(9).find_map(|turn| along(whole, turn))
}

/// A rectangle whose sides run along a direction.
fn along(whole: &[Segment], turn: f64) -> Option<Seen> {
    let back = Transform::place(Point::ORIGIN, -turn, false);
    let flat: Vec<Segment> = whole.iter().map(|s| back.segment(s)).collect();
    let b = flat.iter().map(Segment::bounds).reduce(|a, b| a.union(b))?;
    let middle = b.center();
    let corners = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
    let found = corners.map(|(sx, sy)| {
        let at = middle + Vec2::new(sx * b.width() / 2.0, sy * b.height() / 2.0);
        // the ends of the two sides that are nearest to the corner
        let ends = || flat.iter().map(Segment::start);
        let gap =
            |on: &dyn Fn(Point) -> bool| ends().filter(|p| on(*p)).map(|p| span(p, at)).reduce(f64::min);
        let x = gap(&|p| (p.y - at.y).abs() <= SLACK)?;
        let y = gap(&|p| (p.x - at.x).abs() <= SLACK)?;
        let arc = arcs(&flat).any(|a| {
            let c = at - Vec2::new(sx * x, sy * y);
            span(a.centre, c) <= SLACK && (a.radius - x).abs() <= SLACK
        });
        Some(match (x <= SLACK && y <= SLACK, arc) {
            (true, _) => Corner::Sharp,
            (false, true) => Corner::Round(x),
            (false, false) => Corner::Clip(x, y),
        })
    });
    let [Some(a), Some(c), Some(d), Some(e)] = found else { return None };
    let form = Form::Rectangle { width: b.width(), height: b.height(), corners: [a, c, d, e] };
    let centre = Transform::place(Point::ORIGIN, turn, false).point(middle);
    Seen { form, centre, turn }.confirmed(whole)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn back(c: &Contour) -> Seen {
        let seen = Seen::of(c, c.bounds().center());
        assert!(same(&joined(&seen.contour()), &joined(&c.ccw())), "{seen:?}");
        seen
    }

    #[test]
    fn shapes_are_named_wherever_they_lie() {
        let o = Point::ORIGIN;
        let clip = [Corner::Clip(4.0, 6.0), Corner::Sharp, Corner::Round(3.0), Corner::Round(9.0)];
        let shapes = [
            (Contour::rect(o, 60.0, 40.0, 0.0), "60 \u{d7} 40, corners sharp"),
            (Contour::rect(o, 60.0, 40.0, 5.0), "60 \u{d7} 40, corners R5"),
            (
                Contour::rect_corners(o, 60.0, 40.0, [Corner::Clip(5.0, 5.0); 4]),
                "60 \u{d7} 40, corners cut 5 \u{d7} 5",
            ),
            (
                Contour::rect_corners(o, 60.0, 40.0, clip),
                "60 \u{d7} 40, corners LL cut 4 \u{d7} 6, LR sharp, UR R3, UL R9",
            ),
            (Contour::rect(o, 60.0, 40.0, 20.0), "slot 60 \u{d7} 40, round ends"),
            (Contour::slot(Point::new(-7.0, 0.0), Point::new(7.0, 0.0), 3.0), "slot 20 \u{d7} 6, round ends"),
            (Contour::d_hole(o, 6.0, 5.0, false), "\u{2300}12, flat below 5 from centre"),
            (Contour::d_hole(o, 6.0, 5.0, true), "\u{2300}12, two flats 5 from centre"),
        ];
        let print = Print { inch: false };
        for (c, words) in &shapes {
            let seen = back(c);
            assert_eq!((seen.form.words(print).as_str(), seen.turn), (*words, 0.0));
            for turn in [12.5, -33.0, 44.0, 1.0 / 3.0] {
                let t = Transform::place(Point::new(123.4, -56.7), turn, false).contour(c);
                let seen = back(&t);
                assert_eq!(seen.form.words(print).as_str(), *words);
                assert!((seen.turn - turn).abs() < 1e-7, "{} {turn}", seen.turn);
                for first in 0..t.segments().len() {
                    assert_eq!(back(&t.started_at(first)).form.words(print), *words);
                    assert_eq!(back(&t.reversed()).form.words(print), *words);
                }
            }
            for turn in [90.0, 180.0, -135.0] {
                let mirrored = Transform::place(Point::new(5.0, 6.0), turn, true).contour(c);
                assert!(!matches!(back(&mirrored).form, Form::Path(_)), "{words}");
            }
        }
    }

    #[test]
    fn what_is_none_of_them_is_told_point_by_point() {
        let bite =
            Contour::circle(Point::new(20.0, 3.0), 40.0).union(&Contour::circle(Point::new(60.0, 3.0), 6.0));
        let bite = bite.expect("two circles meet").remove(0);
        assert!(matches!(back(&bite).form, Form::Path(p) if p.len() == 2));
        let three = [Point::new(0.0, 0.0), Point::new(30.0, 2.0), Point::new(9.0, 20.0)];
        assert!(matches!(back(&Contour::polygon(&three)).form, Form::Path(p) if p.len() == 3));
    }
}
