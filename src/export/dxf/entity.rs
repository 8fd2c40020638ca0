//! Entities: what each shape becomes.

use super::Version;
use super::flat::Placed;
use super::tables::linetype;
use super::tags::{Tags, fixed_handle};
use crate::draw::{Across, Dash, Shape, Text, Up, text};
use crate::export::arcs;
use crate::geom::{Arc, Point, Segment};
use std::f64::consts::{PI, TAU};

/// Line widths that the format knows, in hundredths of a millimetre.
const WIDTHS: [i32; 24] =
    [0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211];

/// Writes one shape.
pub fn write(t: &mut Tags, p: &Placed) {
    match &p.shape {
        Shape::Line(l) => {
            head(t, "LINE", p, "AcDbLine");
            t.point(10, l.a);
            t.point(11, l.b);
        }
        Shape::Arc(a) => arc(t, p, a),
        Shape::Circle { centre, radius } => circle(t, p, *centre, *radius),
        Shape::Path(c) => match c.as_circle() {
            Some((centre, radius)) => circle(t, p, centre, radius),
            None => polyline(t, p, c.segments(), true),
        },
        Shape::Chain(pieces) => match pieces.as_slice() {
            [] => {}
            [Segment::Arc(a)] => arc(t, p, a),
            _ => polyline(t, p, pieces, false),
        },
        Shape::Text(text) => letters(t, p, text),
        // a hatch has become lines before, a picture was left out
        Shape::Hatch { .. } | Shape::Picture { .. } => {}
    }
}

/// What every entity starts with.
fn head(t: &mut Tags, kind: &str, p: &Placed, class: &str) {
    t.text(0, kind);
    t.own_handle(5);
    t.class(Some(fixed_handle::MODEL), &["AcDbEntity"]);
    t.text(8, p.layer.name());
    if p.dash != Dash::Solid {
        t.text(6, linetype(p.dash));
    }
    if t.version() == Version::R2000 {
        let wanted = p.width * 100.0;
        let near = WIDTHS
            .iter()
            .min_by(|a, b| (f64::from(**a) - wanted).abs().total_cmp(&(f64::from(**b) - wanted).abs()));
        t.int(370, near.copied().unwrap_or(0));
    }
    t.class(None, &[class]);
}

fn circle(t: &mut Tags, p: &Placed, centre: Point, radius: f64) {
    head(t, "CIRCLE", p, "AcDbCircle");
    t.point(10, centre);
    t.length(40, radius);
}

fn arc(t: &mut Tags, p: &Placed, a: &Arc) {
    if a.sweep.abs() >= TAU {
        return circle(t, p, a.centre, a.radius);
    }
    head(t, "ARC", p, "AcDbCircle");
    t.point(10, a.centre);
    t.length(40, a.radius);
    t.class(None, &["AcDbArc"]);
    // always counter-clockwise from the first angle to the second
    let (from, to) = if a.sweep >= 0.0 { (a.start, a.start + a.sweep) } else { (a.start + a.sweep, a.start) };
    for (code, angle) in [(50, from), (51, to)] {
        let degrees = angle * (180.0 / PI);
        t.number(code, degrees - 360.0 * (degrees / 360.0).floor());
    }
}

/// Start and bulge (tangent of a quarter of the sweep) of each piece; arcs over half a circle are cut,
/// since a bulge loses its digits there.
fn vertices(pieces: &[Segment]) -> Vec<(Point, f64)> {
    let mut out = Vec::with_capacity(pieces.len());
    for piece in pieces {
        match piece {
            Segment::Line(l) => out.push((l.a, 0.0)),
            Segment::Arc(a) => out.extend(arcs::split(a, PI).iter().map(|p| (p.a, libm::tan(p.sweep / 4.0)))),
        }
    }
    out
}

fn polyline(t: &mut Tags, p: &Placed, pieces: &[Segment], closed: bool) {
    let mut points = vertices(pieces);
    if !closed && let Some(last) = pieces.last() {
        points.push((last.end(), 0.0));
    }
    let flag = i32::from(closed);
    match t.version() {
        Version::R2000 => {
            head(t, "LWPOLYLINE", p, "AcDbPolyline");
            t.int(90, i32::try_from(points.len()).unwrap_or(i32::MAX));
            t.int(70, flag);
            for (at, bulge) in points {
                t.flat_point(10, at);
                if bulge != 0.0 {
                    t.number(42, bulge);
                }
            }
        }
        Version::R12 => {
            head(t, "POLYLINE", p, "");
            t.int(66, 1);
            t.point(10, Point::ZERO);
            t.int(70, flag);
            for (at, bulge) in points {
                t.text(0, "VERTEX");
                t.text(8, p.layer.name());
                t.point(10, at);
                if bulge != 0.0 {
                    t.number(42, bulge);
                }
            }
            t.text(0, "SEQEND");
            t.text(8, p.layer.name());
        }
    }
}

fn letters(t: &mut Tags, p: &Placed, words: &Text) {
    head(t, "TEXT", p, "AcDbText");
    t.point(10, text::origin(words));
    t.length(40, words.height);
    t.words(1, &words.text);
    t.number(50, words.angle);
    t.text(7, "STANDARD");
    let across = match words.anchor.across {
        Across::Left => 0,
        Across::Middle => 1,
        Across::Right => 2,
    };
    let up = match words.anchor.up {
        Up::Baseline => 0,
        Up::Middle => 2,
        Up::Top => 3,
    };
    t.int(72, across);
    if (across, up) != (0, 0) {
        t.point(11, words.at);
    }
    t.class(None, &["AcDbText"]);
    t.int(73, up);
}
