//! The panel as found, as a panel file: outline and old openings in the panel's own axes, to the nanometre.

use super::{Found, Piece};
use crate::geom::{Arc, Contour, Point, Segment, Vec2};
use crate::import::{CutFile, Declared, Format};
use std::f64::consts::PI;
use std::fmt::Write;

/// Longest arc that is written as one, radians: nearer to half a turn, the radius hardly says where the centre is.
const LONGEST: f64 = 0.6 * PI;

/// The text; None where a question is open.
pub fn panel_file(file: &CutFile, found: &Found, title: &str) -> Option<String> {
    if found.questions().next().is_some() {
        return None;
    }
    let outline = found.outline.as_ref()?;
    let text = |t: &str| serde_json::Value::from(t).to_string();
    let mut out = String::new();
    let unit = match &file.unit.declared {
        Declared::InFile(how) => format!("unit {} by {how}", file.unit.name),
        Declared::ByUser => format!("unit {} by the user's word", file.unit.name),
        Declared::Missing(why) => format!("unit {}: {why}", file.unit.name),
    };
    let _ = writeln!(out, "{{\n  \"format\": 1,\n  \"panel\": {},", text(title));
    let _ = writeln!(out, "  \"unit\": \"mm\",\n  \"as-found\": true,");
    let document = format!("{} ({} {}), {unit}", file.file, file.format.name(), file.version);
    let (how, what) = match file.format {
        Format::Points => ("Fitted to measured points", "such a file"),
        Format::Dxf | Format::Svg => ("Drawn, not measured", "a drawing"),
    };
    let doubted = outline.doubt.is_some() || found.openings.iter().any(|o| o.doubt.is_some());
    let doubt = if doubted {
        " \"survey\" says how far a contour may be off at 95 %, by the scatter of the points; an error that all of them share is not in it."
    } else {
        ""
    };
    let note = format!(
        "{how}: from {document}.{doubt} Hold it against the sheet before you rely on it. Material, thickness and what lies behind are not in {what}: add them."
    );
    let _ = writeln!(out, "  \"note\": {},", text(&note));
    if doubted {
        let _ = writeln!(
            out,
            "  \"sources\": {{ \"survey\": {{ \"basis\": \"measured\", \"document\": {} }} }},\n  \"source\": \"survey\",",
            text(&document)
        );
    }
    let edge = outline.doubt.map_or(String::new(), |d| format!("\"survey\": {}, ", up(d.off)));
    let _ = writeln!(
        out,
        "  \"sheet\": {{\n    {edge}\"outline\": {{ \"path\": \"{}\" }} }},",
        path(&outline.contour, found.origin.to_vec2())
    );
    let lines: Vec<String> = found.openings.iter().map(|o| opening(o, found.origin.to_vec2())).collect();
    let _ = writeln!(out, "  \"old-openings\": [\n    {}\n  ]\n}}", lines.join(",\n    "));
    Some(out)
}

/// A number to the nanometre (and a thousandth of it for radii), without trailing zeros.
fn short(v: f64) -> String {
    let s = format!("{v:.9}");
    let s = s.trim_end_matches('0').trim_end_matches('.');
    if s == "-0" { "0".into() } else { s.into() }
}

/// A length that a reader turns to whole nanometres.
fn size(v: f64) -> String {
    let s = format!("{v:.6}");
    let s = s.trim_end_matches('0').trim_end_matches('.');
    if s == "-0" { "0".into() } else { s.into() }
}

/// Hundredths of a millimetre, rounded up: what is left out of a tolerance would be a promise.
fn up(mm: f64) -> String {
    size((mm * 100.0 - 1e-9).ceil().max(0.0) / 100.0)
}

fn opening(o: &Piece, origin: Vec2) -> String {
    let survey = o.doubt.map_or(String::new(), |d| format!(", \"survey\": {}", up(d.off)));
    if let Some((c, r)) = o.contour.as_circle() {
        let at = c - origin;
        let of = size(2.0 * r);
        let of = match o.doubt.and_then(|d| d.diameter) {
            Some(give) => format!("{{ \"of\": {of}, \"plus\": {0}, \"minus\": {0} }}", up(give)),
            None => of,
        };
        return format!(
            "{{ \"id\": \"{}\", \"shape\": {{ \"circle\": {of} }}, \"at\": [{}, {}]{survey} }}",
            o.id,
            size(at.x),
            size(at.y)
        );
    }
    let middle = o.contour.bounds().center() - origin;
    let middle = Vec2::new((middle.x * 1e6).round() / 1e6, (middle.y * 1e6).round() / 1e6);
    format!(
        "{{ \"id\": \"{}\", \"shape\": {{ \"path\": \"{}\" }}, \"at\": [{}, {}]{survey} }}",
        o.id,
        path(&o.contour, origin + middle),
        size(middle.x),
        size(middle.y)
    )
}

/// Path data with the y axis up: sweep 1 is counter-clockwise.
fn path(c: &Contour, from: Vec2) -> String {
    let said = |p: Point| format!("{} {}", short(p.x - from.x), short(p.y - from.y));
    let mut d = String::new();
    for s in c.segments() {
        if d.is_empty() {
            let _ = write!(d, "M {}", said(s.start()));
        }
        match s {
            Segment::Line(l) => {
                let _ = write!(d, " L {}", said(l.b));
            }
            Segment::Arc(a) => arc(&mut d, a, &said),
        }
    }
    d.push_str(" Z");
    d
}

fn arc(d: &mut String, a: &Arc, said: &impl Fn(Point) -> String) {
    let parts = (a.sweep.abs() / LONGEST).ceil().max(1.0);
    for k in 1..=parts as usize {
        let to = if k as f64 == parts { a.b } else { a.at(k as f64 / parts) };
        let _ = write!(d, " A {0} {0} 0 0 {1} {2}", short(a.radius), u8::from(a.sweep > 0.0), said(to));
    }
}
