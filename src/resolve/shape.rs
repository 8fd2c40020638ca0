//! Flat shapes of the files to checked contours, with what their sizes may be off.

use super::outline::{self, circle_through, contour_code};
use crate::define::shape::{ArcBy, Corners, Form, Outline, Shape, Step, Way};
use crate::define::{Size, Xy};
use crate::diag::{Problem, Problems, Where, Written};
use crate::files::Files;
use crate::geom::{Arc, Contour, Corner, Point, SLACK, Segment, Transform, Vec2, angle, span};
use crate::units::Unit;
use std::sync::Arc as Shared;

/// How far a size may be off its nominal, whole sizes (diameter, width).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Off {
    /// The largest of the sizes, for a general tolerance.
    pub nominal: f64,
    /// Stated above.
    pub plus: Option<f64>,
    /// Stated below.
    pub minus: Option<f64>,
}

impl Off {
    /// One size.
    pub fn of(size: &Size) -> Off {
        Off {
            nominal: size.mm(),
            plus: size.plus.as_ref().map(|l| l.mm()),
            minus: size.minus.as_ref().map(|l| l.mm()),
        }
    }

    /// The worst of two.
    pub fn with(self, other: Off) -> Off {
        let most = |a: Option<f64>, b: Option<f64>| match (a, b) {
            (Some(a), Some(b)) => Some(a.max(b)),
            (a, b) => a.or(b),
        };
        Off {
            nominal: self.nominal.max(other.nominal),
            plus: most(self.plus, other.plus),
            minus: most(self.minus, other.minus),
        }
    }
}

/// A shape about its own origin.
#[derive(Clone, Debug)]
pub(super) struct Flat {
    /// Counter-clockwise.
    pub contour: Contour,
    /// What its sizes may be off.
    pub off: Off,
    /// Largest distance from the curve that was written, mm.
    pub error: f64,
    /// Rounded rectangle that holds it, for room around it: (width, height, corner) about its bounds'
    /// centre.
    hull: (f64, f64, f64),
}

impl Flat {
    fn new(contour: Contour, off: Off, hull: (f64, f64, f64)) -> Flat {
        Flat { contour: contour.ccw(), off, error: 0.0, hull }
    }

    /// Everything within `room` of the shape, or a little more: exact for circles, rectangles and slots;
    /// for the others it is taken around the rectangle that holds them.
    pub fn grown(&self, room: f64) -> Contour {
        let (w, h, corner) = self.hull;
        let centre = self.contour.bounds().center();
        if let Some((centre, radius)) = self.contour.as_circle() {
            return Contour::circle(centre, radius + room);
        }
        Contour::rect(centre, w + 2.0 * room, h + 2.0 * room, corner + room)
    }
}

/// Reads a shape. `unit` is the file's, for path data.
pub(super) fn flat(shape: &Shape, unit: Option<Unit>, problems: &mut Problems) -> Option<Flat> {
    match &shape.form {
        Form::Circle(d) => {
            let c = Contour::circle(Point::ORIGIN, d.mm() / 2.0);
            Some(Flat::new(c, Off::of(d), (d.mm(), d.mm(), d.mm() / 2.0)))
        }
        Form::Rectangle { width, height, corners } => rectangle(width, height, corners, problems),
        Form::DHole { diameter, flat, flats } => {
            let r = diameter.mm() / 2.0;
            if flat.mm() >= r {
                let message = format!(
                    "the flat, {} from the centre, does not cut the circle of diameter {}",
                    flat.of, diameter.of
                );
                problems.push(
                    Problem::new("bad-shape", &flat.place, message).help(
                        "`flat` is the distance from the centre to the flat, less than half the diameter",
                    ),
                );
                return None;
            }
            // geom's first flat lies below, the files' first one above
            let below = Contour::d_hole(Point::ORIGIN, r, flat.mm(), *flats == 2);
            let c = Transform::place(Point::ORIGIN, 180.0, false).contour(&below);
            let b = c.bounds();
            Some(Flat::new(c, Off::of(diameter), (b.width(), b.height(), 0.0)))
        }
        Form::Slot { length, width } => {
            let (l, w) = (length.mm(), width.mm());
            if l < w {
                let message = format!("a slot {} long is not {} wide", length.of, width.of);
                let help =
                    "`slot` is [whole length, width], the length along x; turn it for another direction";
                problems.push(Problem::new("bad-shape", &length.place, message).help(help));
                return None;
            }
            let half = Vec2::new((l - w) / 2.0, 0.0);
            let c = Contour::slot(Point::ORIGIN - half, Point::ORIGIN + half, w / 2.0);
            Some(Flat::new(c, Off::of(length).with(Off::of(width)), (l, w, w / 2.0)))
        }
        Form::Path(text) => {
            let one = single(text, unit, problems)?;
            let b = one.contour.bounds();
            let off = Off { nominal: b.width().max(b.height()), ..Off::default() };
            let mut flat = Flat::new(one.contour, off, (b.width(), b.height(), 0.0));
            flat.error = one.error;
            Some(flat)
        }
    }
}

fn rectangle(width: &Size, height: &Size, corners: &Corners, problems: &mut Problems) -> Option<Flat> {
    let (w, h) = (width.mm(), height.mm());
    let room = w.min(h) / 2.0;
    let mut fits = true;
    let mut each = |size: &Size, clip: bool| {
        let v = size.mm();
        if v > room + SLACK {
            let what = if clip { "a corner cut off by" } else { "a corner radius of" };
            let message = format!(
                "{what} {} is more than half the shorter side ({})",
                size.of,
                if w < h { &width.of } else { &height.of }
            );
            problems.push(
                Problem::new("bad-shape", &size.place, message)
                    .help("make it smaller, or the rectangle larger"),
            );
            fits = false;
        }
        match (v > 0.0, clip) {
            (false, _) => Corner::Sharp,
            (true, true) => Corner::Clip(v, v),
            (true, false) => Corner::Round(v),
        }
    };
    let four = match corners {
        Corners::Sharp => [Corner::Sharp; 4],
        Corners::Round(size) => [each(size, false); 4],
        Corners::Clipped(size) => [each(size, true); 4],
        Corners::EachRound(sizes) | Corners::EachClipped(sizes) => {
            let clip = matches!(corners, Corners::EachClipped(_));
            let mut four = [Corner::Sharp; 4];
            for (slot, size) in four.iter_mut().zip(sizes) {
                *slot = each(size, clip);
            }
            four
        }
    };
    if !fits {
        return None;
    }
    let least =
        four.iter().map(|c| if let Corner::Round(r) = c { *r } else { 0.0 }).fold(f64::INFINITY, f64::min);
    let off = Off::of(width).with(Off::of(height));
    Some(Flat::new(Contour::rect_corners(Point::ORIGIN, w, h, four), off, (w, h, least)))
}

/// The one loop of a path.
fn single(
    text: &Written<crate::define::Text>,
    unit: Option<Unit>,
    problems: &mut Problems,
) -> Option<outline::Loop> {
    let mm = unit?.nanometres() as f64 / 1e6;
    match outline::read(text, mm) {
        Err(e) => {
            let place = within(&text.place, text, e.bytes);
            problems.push(Problem::new(e.code, &place, e.message).help(e.help));
            None
        }
        Ok(mut loops) if loops.len() == 1 => loops.pop(),
        Ok(loops) => {
            let message = format!("this path draws {} loops, an outline is one", loops.len());
            problems.push(
                Problem::new("many-loops", &text.place, message)
                    .help("openings are listed on their own, under `old-openings` or as placements"),
            );
            None
        }
    }
}

/// The place of some bytes of a text within its own quotes (of the whole text, if it holds escapes).
fn within(place: &Where, text: &str, bytes: (usize, usize)) -> Where {
    if place.end.saturating_sub(place.start) != text.len() + 2 {
        return place.clone();
    }
    let before = text.get(..bytes.0).map_or(0, |t| t.chars().count());
    Where {
        file: place.file.clone(),
        start: place.start + 1 + bytes.0,
        end: place.start + 1 + bytes.1,
        line: place.line,
        column: place.column.saturating_add(1).saturating_add(u32::try_from(before).unwrap_or(u32::MAX)),
    }
}

/// Reads an outline that stands in place; with the bound of its error.
pub(super) fn outline(
    outline: &Outline,
    unit: Option<Unit>,
    files: &dyn Files,
    read: &mut Vec<(String, Shared<str>)>,
    problems: &mut Problems,
) -> Option<(Contour, f64)> {
    match outline {
        Outline::Shape(shape) => flat(shape, unit, problems).map(|f| (f.contour, f.error)),
        Outline::LinesAndArcs { steps, place } => {
            lines_and_arcs(steps, place, problems).map(|c| (c.ccw(), 0.0))
        }
        Outline::File(name) => {
            let beside = super::beside(&name.place.file, name);
            let text = match files.read(&beside) {
                Ok(text) => text,
                Err(e) => {
                    let help = "the file holds path data (M 0 0 H 400 V 120 H 0 Z) and stands beside the panel's file";
                    problems.push(
                        Problem::new(e.code, &name.place, e.message).help(e.help.unwrap_or(help.into())),
                    );
                    return None;
                }
            };
            read.push((beside.clone(), text.clone()));
            if text.trim_start().starts_with('<') || !text.trim_start().starts_with(['M', 'm']) {
                let message = format!("{beside} holds no path data");
                let help = "copy the outline's `d` attribute into a text file; a drawing as a whole is not read here";
                problems.push(Problem::new("no-path-data", &name.place, message).help(help));
                return None;
            }
            let file: Shared<str> = beside.into();
            problems.add_text(&file, &text);
            let lines = crate::diag::Lines::new(file, text.clone());
            let mm = unit?.nanometres() as f64 / 1e6;
            match outline::read(&text, mm) {
                Err(e) => {
                    let place = lines.place(e.bytes.0, e.bytes.1);
                    problems.push(Problem::new(e.code, &place, e.message).help(e.help));
                    None
                }
                Ok(loops) => match <[outline::Loop; 1]>::try_from(loops) {
                    Ok([one]) => Some((one.contour.ccw(), one.error)),
                    Err(many) => {
                        let message = format!("this path draws {} loops, an outline is one", many.len());
                        problems.push(
                            Problem::new("many-loops", &name.place, message).help("keep the outline alone"),
                        );
                        None
                    }
                },
            }
        }
    }
}

pub(super) fn point(p: &Xy) -> Point {
    Point::new(p.x.mm(), p.y.mm())
}

fn lines_and_arcs(steps: &[Step], place: &Where, problems: &mut Problems) -> Option<Contour> {
    let start = match steps.first() {
        Some(Step::Line(p)) => point(p),
        _ => {
            let problem = Problem::new("bad-outline", place, "the outline does not start with a point");
            problems.push(problem.help("the first element is a point [x, y]"));
            return None;
        }
    };
    let mut pieces: Vec<(Segment, &Where)> = Vec::new();
    let mut here = start;
    let mut fine = true;
    for step in steps.iter().skip(1) {
        match step {
            Step::Line(to) => {
                pieces.push((Segment::line(here, point(to)), &to.place));
                here = point(to);
            }
            Step::Arc { to, by, place } => {
                match arc(here, point(to), by) {
                    Ok(a) => pieces.push((Segment::Arc(a), place)),
                    Err(message) => {
                        problems
                            .push(Problem::new("bad-arc", place, message).help("correct the arc's numbers"));
                        fine = false;
                    }
                }
                here = point(to);
            }
        }
    }
    if !fine {
        return None;
    }
    if span(here, start) > SLACK {
        pieces.push((Segment::line(here, start), place));
    }
    match Contour::new(pieces.iter().map(|(s, _)| *s).collect()) {
        Ok(c) => Some(c),
        Err(e) => {
            let at = outline::piece_of(&e).and_then(|k| pieces.get(k)).map_or(place, |(_, p)| *p);
            let help = "an outline goes round once, each piece has a length, and none crosses another";
            problems.push(Problem::new(contour_code(&e), at, e.to_string()).help(help));
            None
        }
    }
}

fn arc(a: Point, b: Point, by: &ArcBy) -> Result<Arc, String> {
    let show = |p: Point| format!("({}, {})", crate::units::fmt_mm(p.x), crate::units::fmt_mm(p.y));
    match by {
        ArcBy::Radius(radius, way, long) => {
            if a == b {
                return Err(format!("the arc ends at {} where it starts", show(a)));
            }
            circle_through(a, b, radius.mm(), *long, *way == Way::CounterClockwise).map_err(|chord| {
                format!(
                    "a radius of {radius} cannot reach from {} to {}, {} away",
                    show(a),
                    show(b),
                    crate::units::fmt_mm(chord)
                )
            })
        }
        ArcBy::Centre(centre, way) => {
            let c = point(centre);
            let (ra, rb) = (span(c, a), span(c, b));
            if (ra - rb).abs() > ROUND || ra <= SLACK {
                return Err(format!(
                    "the centre {} is {} from the start and {} from the end",
                    show(c),
                    crate::units::fmt_mm(ra),
                    crate::units::fmt_mm(rb)
                ));
            }
            // written numbers are rounded: the centre is moved onto the bisector of the two ends
            let c = if a == b { c } else { onto_bisector(a, b, c) };
            Ok(Arc::between(a, b, c, *way == Way::CounterClockwise))
        }
        ArcBy::Through(p) => {
            let p = point(p);
            let (u, v) = (p - a, b - a);
            let area = u.cross(v);
            let size = u.hypot2().max(v.hypot2()).max((b - p).hypot2());
            if area.abs() <= 1e-9 * size {
                return Err(format!(
                    "{}, {} and {} lie on one line: no arc passes them",
                    show(a),
                    show(p),
                    show(b)
                ));
            }
            let c = a + Vec2::new(v.y * u.hypot2() - u.y * v.hypot2(), u.x * v.hypot2() - v.x * u.hypot2())
                / (2.0 * area);
            Ok(Arc::between(a, b, c, area > 0.0))
        }
    }
}

/// How far a written centre may be off, mm: rounding of the last digit of what people type.
const ROUND: f64 = 0.01;

fn onto_bisector(a: Point, b: Point, c: Point) -> Point {
    let u = (b - a) / span(a, b);
    c - u * u.dot(c - a.midpoint(b))
}

/// Turns and shifts a shape's contour into its instrument's frame.
pub(super) fn placed(contour: &Contour, at: Option<&Xy>, turn: Option<f64>) -> Contour {
    let to = at.map_or(Point::ORIGIN, point);
    Transform::place(to, turn.unwrap_or(0.0), false).contour(contour)
}

/// Direction in degrees to a unit vector.
pub(super) fn unit_at(degrees: f64) -> Vec2 {
    let (s, c) = angle::sin_cos_deg(degrees);
    Vec2::new(c, s)
}
