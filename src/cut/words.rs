//! Numbers and places as the messages tell them.

use crate::geom::{Point, Rect};
use crate::import::{Axes, CutFile};

/// A number with at most `digits` decimals, without trailing zeros; never "-0".
pub fn trim(v: f64, digits: usize) -> String {
    let s = format!("{v:.digits$}");
    let s = if s.contains('.') { s.trim_end_matches('0').trim_end_matches('.') } else { &s };
    if s == "-0" { "0".into() } else { s.into() }
}

/// Millimetres; small ones with more digits, so that nothing reads 0 that is not.
pub fn mm(v: f64) -> String {
    let digits = if v.abs() < 0.1 { 4 } else { 2 };
    let s = trim(v, digits);
    if s == "0" && v != 0.0 { format!("{v:.1e} mm") } else { format!("{s} mm") }
}

/// "610 x 235 mm = 24.02 x 9.25 in".
pub fn size(b: Rect) -> String {
    let (w, h) = (b.width(), b.height());
    format!("{} x {} mm = {} x {} in", trim(w, 2), trim(h, 2), trim(w / 25.4, 2), trim(h / 25.4, 2))
}

/// Coordinates of a point in the file's own axes and unit.
pub fn own(file: &CutFile, p: Point) -> Point {
    match file.axes {
        Axes::File => Point::new(p.x / file.unit.mm, p.y / file.unit.mm),
        Axes::Page => Point::new(p.x, -p.y),
    }
}

/// The point that has these coordinates in the file's own axes and unit.
pub fn from_own(file: &CutFile, p: Point) -> Point {
    match file.axes {
        Axes::File => Point::new(p.x * file.unit.mm, p.y * file.unit.mm),
        Axes::Page => Point::new(p.x, -p.y),
    }
}

/// "(120.5, 40)", with the unit where it is not mm.
pub fn at(file: &CutFile, p: Point) -> String {
    let q = own(file, p);
    let (digits, unit) = match file.axes {
        Axes::File if file.unit.mm != 1.0 => (4, format!(" {}", file.unit.name)),
        _ => (3, String::new()),
    };
    format!("({}, {}){unit}", trim(q.x, digits), trim(q.y, digits))
}

/// "LINE at line 120 (handle 2F)" or "path at 12:5 (id a)".
pub fn item(file: &CutFile, k: usize) -> String {
    let Some(i) = file.items.get(k) else { return String::new() };
    format!("{} {}", i.kind, spot(file, k))
}

/// "at line 120 (handle 2F)".
pub fn spot(file: &CutFile, k: usize) -> String {
    let Some(i) = file.items.get(k) else { return String::new() };
    let word = if file.axes == Axes::File { "handle" } else { "id" };
    let mut s = match file.axes {
        Axes::File => format!("at line {}", i.spot.line),
        Axes::Page => format!("at {}:{}", i.spot.line, i.spot.column),
    };
    if let Some(id) = &i.spot.id {
        s += &format!(" ({word} {id})");
    }
    if let Some((name, line)) = &i.spot.via {
        s += &format!(", through {name} at line {line}");
    }
    s
}
