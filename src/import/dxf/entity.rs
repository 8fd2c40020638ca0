//! What one entity is: pieces, a mark, or something that is not read.

use super::record::{Desk, Record};
use crate::geom::{Arc, Point, Rational, Rect, Segment, angle, length};
use crate::import::affine::bulge;
use crate::import::{Curve, Mark, Shape};
use kurbo::Affine;
use std::f64::consts::{PI, TAU};

/// An entity in the coordinates of the block or space it stands in.
pub struct Read {
    /// What it is.
    pub shape: Shape,
    /// Least and greatest height.
    pub z: [f64; 2],
    /// Whether its extrusion turned it over.
    pub mirrored: bool,
}

/// How an entity's plane lies.
enum Plane {
    Up,
    Over,
    Tilted,
}

fn plane(r: &Record<'_, '_>, desk: &mut Desk<'_, '_>) -> Plane {
    let x = r.number(210, desk).unwrap_or(0.0);
    let y = r.number(220, desk).unwrap_or(0.0);
    let z = r.number(230, desk).unwrap_or(1.0);
    // the published rule for the arbitrary axis turns only directions off z; within rounding it is z itself
    match x.abs() <= 1e-9 && y.abs() <= 1e-9 && z != 0.0 {
        true if z > 0.0 => Plane::Up,
        true => Plane::Over,
        false => Plane::Tilted,
    }
}

/// Reads an entity; `vertices` are those that follow a POLYLINE. None after a fault.
pub fn read(r: &Record<'_, '_>, vertices: &[Record<'_, '_>], desk: &mut Desk<'_, '_>) -> Option<Read> {
    let flat = |shape| Read { shape, z: [0.0; 2], mirrored: false };
    let mark = |what, desk: &mut Desk<'_, '_>| {
        let at = r.number(10, desk).zip(r.number(20, desk)).map(|(x, y)| Point::new(x, y));
        let words = if what == Mark::Words { words(r) } else { String::new() };
        Some(flat(Shape::Mark { what, at, words }))
    };
    match r.kind {
        // its ends are in the drawing's own axes whatever the extrusion says
        "LINE" => {
            let (a, b) = (r.point(10, "start", desk), r.point(11, "end", desk));
            let (za, zb) = (r.z(30, desk), r.z(31, desk));
            let pieces = vec![Segment::line(a?, b?)];
            let shape = Shape::Chain { pieces, closed: false, curves: vec![] };
            Some(Read { shape, z: [za.min(zb), za.max(zb)], mirrored: false })
        }
        "CIRCLE" => in_plane(r, desk, |r, desk| {
            let (c, radius) = (r.point(10, "centre", desk), radius(r, desk));
            let pieces = vec![Segment::Arc(Arc::new(c?, radius?, 0.0, TAU))];
            Some((Shape::Chain { pieces, closed: true, curves: vec![] }, r.z(30, desk)))
        }),
        "ARC" => in_plane(r, desk, |r, desk| {
            let (c, radius) = (r.point(10, "centre", desk), radius(r, desk));
            let (from, to) = (r.needed(50, "start angle", desk), r.needed(51, "end angle", desk));
            let piece = arc(c?, radius?, from?, to?);
            Some((Shape::Chain { pieces: vec![piece], closed: false, curves: vec![] }, r.z(30, desk)))
        }),
        "LWPOLYLINE" => in_plane(r, desk, |r, desk| {
            let corners = light_corners(r, desk)?;
            let closed = r.int(70, desk) & 1 != 0;
            Some((chain(corners, closed), r.z(38, desk)))
        }),
        "POLYLINE" => polyline(r, vertices, desk),
        "ELLIPSE" => ellipse(r, desk),
        "SPLINE" => Some(flat(spline(r, desk))),
        "TEXT" | "MTEXT" | "ATTRIB" | "ATTDEF" | "RTEXT" => mark(Mark::Words, desk),
        "POINT" => mark(Mark::Point, desk),
        "DIMENSION"
        | "ARC_DIMENSION"
        | "LARGE_RADIAL_DIMENSION"
        | "LEADER"
        | "MULTILEADER"
        | "MLEADER"
        | "TOLERANCE" => mark(Mark::Dimension, desk),
        "HATCH" | "MPOLYGON" | "SOLID" | "TRACE" | "WIPEOUT" | "IMAGE" | "PDFUNDERLAY" | "OLE2FRAME" => {
            mark(Mark::Fill, desk)
        }
        "XLINE" | "RAY" => Some(flat(Shape::NotRead("a construction line without end"))),
        "3DFACE" | "3DSOLID" | "BODY" | "REGION" | "SURFACE" | "MESH" => {
            Some(flat(Shape::NotRead("a solid or a face")))
        }
        _ => Some(flat(Shape::NotRead("an entity of a kind that this version does not read"))),
    }
}

/// An entity given in its own plane: turned over if the extrusion says so, not read if it is tilted.
fn in_plane(
    r: &Record<'_, '_>,
    desk: &mut Desk<'_, '_>,
    read: impl FnOnce(&Record<'_, '_>, &mut Desk<'_, '_>) -> Option<(Shape, f64)>,
) -> Option<Read> {
    let plane = plane(r, desk);
    let (shape, z) = read(r, desk)?;
    Some(match plane {
        Plane::Up => Read { shape, z: [z; 2], mirrored: false },
        Plane::Over => {
            let over = Affine::new([-1.0, 0.0, 0.0, 1.0, 0.0, 0.0]);
            Read { shape: crate::import::affine::shape(&over, shape), z: [-z; 2], mirrored: true }
        }
        Plane::Tilted => {
            Read { shape: Shape::NotRead("not in the plane of the drawing"), z: [0.0; 2], mirrored: false }
        }
    })
}

fn radius(r: &Record<'_, '_>, desk: &mut Desk<'_, '_>) -> Option<f64> {
    let v = r.needed(40, "radius", desk)?;
    if v > 0.0 {
        return Some(v);
    }
    let place = r.own().find(|t| t.code == 40).unwrap_or(&r.head).place(desk.lines);
    desk.fault(
        "bad-radius",
        &place,
        format!("{}: the radius {v} is not above zero", r.kind),
        "delete or correct it",
    );
    None
}

/// An arc from one angle to another in degrees, counter-clockwise; exact at multiples of 90 degrees.
fn arc(centre: Point, radius: f64, from: f64, to: f64) -> Segment {
    let turn = |d: f64| d - 360.0 * (d / 360.0).floor();
    let mut sweep = turn(to - from);
    if sweep == 0.0 {
        sweep = 360.0;
    }
    let at = |d: f64| {
        let (s, c) = angle::sin_cos_deg(d);
        centre + crate::geom::Vec2::new(c, s) * radius
    };
    let (a, b) = (at(from), if sweep == 360.0 { at(from) } else { at(to) });
    Segment::Arc(Arc {
        centre,
        radius,
        start: angle::normalise(turn(from) * (PI / 180.0)),
        sweep: sweep * (PI / 180.0),
        a,
        b,
    })
}

/// Corners with their bulges.
type Corners = Vec<(Point, f64)>;

fn light_corners(r: &Record<'_, '_>, desk: &mut Desk<'_, '_>) -> Option<Corners> {
    let mut out: Corners = Vec::new();
    let mut x = None;
    let mut whole = true;
    for t in r.own().filter(|t| matches!(t.code, 10 | 20 | 42)) {
        let value = desk.number(t, r.kind);
        whole &= value.is_some();
        match t.code {
            10 => x = value,
            20 => {
                if let (Some(x), Some(y)) = (x.take(), value) {
                    out.push((Point::new(x, y), 0.0));
                }
            }
            _ => {
                if let (Some(last), Some(b)) = (out.last_mut(), value) {
                    last.1 = b;
                }
            }
        }
    }
    whole.then_some(out)
}

/// The chain through corners. Repeated corners make no piece; a single one makes a piece without length.
fn chain(corners: Corners, closed: bool) -> Shape {
    let mut pieces = Vec::with_capacity(corners.len());
    let next = corners.iter().cycle().skip(1);
    let count = if closed { corners.len() } else { corners.len().saturating_sub(1) };
    for ((a, b), (to, _)) in corners.iter().zip(next).take(count) {
        if a != to {
            pieces.push(bulge(*a, *to, *b));
        }
    }
    if pieces.is_empty()
        && let Some((p, _)) = corners.first()
    {
        pieces.push(Segment::line(*p, *p));
        return Shape::Chain { pieces, closed: false, curves: vec![] };
    }
    Shape::Chain { pieces, closed, curves: vec![] }
}

fn polyline(r: &Record<'_, '_>, vertices: &[Record<'_, '_>], desk: &mut Desk<'_, '_>) -> Option<Read> {
    let flags = r.int(70, desk);
    if flags & (16 | 64) != 0 {
        return Some(Read { shape: Shape::NotRead("a mesh"), z: [0.0; 2], mirrored: false });
    }
    let space = flags & 8 != 0;
    let mut corners = Vec::with_capacity(vertices.len());
    let mut z = [f64::INFINITY, f64::NEG_INFINITY];
    let mut whole = true;
    for v in vertices {
        // 16: a control point of the frame, through which the line does not run
        if v.int(70, desk) & 16 != 0 {
            continue;
        }
        let at = v.point(10, "position", desk);
        let bend = if space { Some(0.0) } else { v.number(42, desk).or(Some(0.0)) };
        let height = v.z(30, desk);
        z = [z[0].min(height), z[1].max(height)];
        match (at, bend) {
            (Some(at), Some(bend)) => corners.push((at, bend)),
            _ => whole = false,
        }
    }
    if !whole {
        return None;
    }
    let z = if space && z[0] <= z[1] { z } else { [r.z(30, desk); 2] };
    let shape = chain(corners, flags & 1 != 0);
    if space {
        return Some(Read { shape, z, mirrored: false });
    }
    in_plane(r, desk, |_, _| Some((shape, z[0])))
}

/// An ellipse with equal axes is a circle or an arc; another is a curve.
fn ellipse(r: &Record<'_, '_>, desk: &mut Desk<'_, '_>) -> Option<Read> {
    let plane = plane(r, desk);
    let (centre, major) = (r.point(10, "centre", desk), r.point(11, "major axis", desk));
    let ratio = r.needed(40, "ratio of its axes", desk);
    let (from, to) = (r.number(41, desk).unwrap_or(0.0), r.number(42, desk).unwrap_or(TAU));
    let (centre, major, ratio) = (centre?, major?.to_vec2(), ratio?);
    let z = r.z(30, desk);
    let sign = match plane {
        Plane::Up => 1.0,
        Plane::Over => -1.0,
        Plane::Tilted => {
            return Some(Read {
                shape: Shape::NotRead("not in the plane of the drawing"),
                z: [z; 2],
                mirrored: false,
            });
        }
    };
    let long = length(major);
    let minor = crate::geom::Vec2::new(-major.y, major.x) * (ratio * sign);
    let at = |t: f64| {
        let (s, c) = angle::sin_cos(t);
        centre + major * c + minor * s
    };
    let mut sweep = angle::normalise(to - from);
    if sweep <= 1e-9 || TAU - sweep <= 1e-9 {
        sweep = TAU;
    }
    let closed = sweep == TAU;
    let (a, b) = (at(from), if closed { at(from) } else { at(from + sweep) });
    let (piece, curves) = if (ratio.abs() - 1.0).abs() <= 1e-9 && long > 0.0 {
        let way = sign * ratio.signum();
        let start = angle::normalise(angle::direction(a - centre));
        (Segment::Arc(Arc { centre, radius: long, start, sweep: way * sweep, a, b }), vec![])
    } else {
        let reach = long.max(long * ratio.abs());
        let bounds = Rect::from_center_size(centre, (2.0 * reach, 2.0 * reach));
        let parts = Rational::ellipse(centre, major, minor, from, sweep);
        (Segment::line(a, b), vec![Curve { piece: 0, bounds, exact: Ok(parts.into()) }])
    };
    let shape = Shape::Chain { pieces: vec![piece], closed, curves };
    Some(Read { shape, z: [z; 2], mirrored: sign < 0.0 })
}

/// What to do about a spline without control points.
const FIT_POINTS: &str = "a spline by fit points alone, through which programs draw different curves: write the file again with control points, or turn the spline into a polyline or arcs";

/// A spline by its knots and control points. One with fit points alone is not read: the published reference names the
/// points (code 11) and no rule for the curve between them, and programs differ in what they draw there. Of it, and of one whose numbers do not fit, ends and box are known.
fn spline(r: &Record<'_, '_>, desk: &mut Desk<'_, '_>) -> Shape {
    let closed = r.int(70, desk) & 1 != 0;
    let (control, fit) = (r.points(10, desk), r.points(11, desk));
    let ends = if fit.len() > 1 { &fit } else { &control };
    let (Some(&a), Some(&b)) = (ends.first(), ends.last()) else {
        return Shape::NotRead("a spline without points");
    };
    let all = control.iter().chain(&fit);
    let bounds = all.fold(Rect::from_points(a, b), |r, p| r.union_pt(*p));
    let degree = usize::try_from(r.int(71, desk)).unwrap_or(0);
    let (knots, weights) = (r.numbers(40, desk), r.numbers(41, desk));
    let exact = Rational::spline(degree, &knots, &control, &weights);
    let curve = |exact| vec![Curve { piece: 0, bounds, exact }];
    let why = match control.is_empty() {
        true => FIT_POINTS,
        false => "a curve of which the file gives no control points and knots that fit",
    };
    match exact {
        Some(parts) => {
            let (a, b) = (parts.first().map_or(a, Rational::start), parts.last().map_or(b, Rational::end));
            let closed = closed || a == b;
            let pieces = vec![Segment::line(a, if closed { a } else { b })];
            Shape::Chain { pieces, closed, curves: curve(Ok(parts.into())) }
        }
        None => {
            let b = if closed { a } else { b };
            Shape::Chain { pieces: vec![Segment::line(a, b)], closed, curves: curve(Err(why)) }
        }
    }
}

/// The words of a text, shortened.
fn words(r: &Record<'_, '_>) -> String {
    let all: String = r.own().filter(|t| matches!(t.code, 3 | 1)).map(|t| t.value).collect();
    let plain: String = all.chars().filter(|c| !c.is_control()).collect();
    plain.chars().take(200).collect()
}
