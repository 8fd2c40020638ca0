//! The report of a cutting file, for programs: every number unrounded, versioned.

use crate::cut::{Facts, Finding, Report, own};
use crate::geom::{Point, Rect};
use crate::import::{Axes, CutFile, Declared};
use crate::report::cut_text::NOT_LOOKED_AT;
use serde_json::{Value, json};

/// Version of this JSON.
pub const CUT_FORMAT: u32 = 1;

/// The whole report. Lengths in mm; places in the file's own axes and unit, as the text tells them.
pub fn cut_json(file: &CutFile, r: &Report) -> Value {
    let c = r.counts();
    let layers: Vec<Value> = r
        .layers
        .iter()
        .map(|l| json!({ "name": l.name, "cut": l.cut, "why": l.why, "hidden": l.hidden, "entities": l.counts }))
        .collect();
    let findings: Vec<Value> = r.findings.iter().map(|f| finding(file, f)).collect();
    json!({
        "format": CUT_FORMAT,
        "file": &*file.file,
        "file-format": file.format.name(),
        "version": file.version,
        "unit": unit(file),
        "axes": axes(file),
        "counts": { "fail": c.fail, "tight": c.tight, "withheld": c.withheld, "pass": c.pass },
        "layers": layers,
        "facts": facts(file, &r.facts),
        "findings": findings,
        "remarks": r.remarks,
        "not-checked": NOT_LOOKED_AT,
        "cautions": super::CUT_CAUTIONS,
    })
}

/// The unit, and how it became known.
pub(super) fn unit(file: &CutFile) -> Value {
    let (declared, how) = match &file.unit.declared {
        Declared::InFile(how) => ("in-file", Some(how.as_str())),
        Declared::ByUser => ("by-user", None),
        Declared::Missing(why) => ("missing", Some(why.as_str())),
    };
    json!({ "name": file.unit.name, "mm": file.unit.mm, "declared": declared, "how": how })
}

/// How places are told.
pub(super) fn axes(file: &CutFile) -> &'static str {
    match file.axes {
        Axes::File => "file, y up",
        Axes::Page => "mm from the top left, y down",
    }
}

/// A place in the file's own axes and unit.
pub(super) fn place(file: &CutFile, p: Point) -> Value {
    let q = own(file, p);
    json!([q.x, q.y])
}

/// Lower left and upper right corner as the file's axes have them (for SVG the y of the first is the larger).
pub(super) fn corners(file: &CutFile, b: Rect) -> Value {
    json!([place(file, Point::new(b.x0, b.y0)), place(file, Point::new(b.x1, b.y1))])
}

fn facts(file: &CutFile, f: &Facts) -> Value {
    let contours: Vec<Value> = f
        .list
        .iter()
        .map(|c| {
            json!({
                "depth": c.depth,
                "opening": c.opening,
                "diameter": c.diameter,
                "area": c.area,
                "length": c.length,
                "box": corners(file, c.bounds),
                "copies": c.copies,
                "spot": where_is(file, c.item),
            })
        })
        .collect();
    let size = f.bounds.map(|b| {
        json!({ "mm": [b.width(), b.height()], "in": [b.width() / 25.4, b.height() / 25.4], "box": corners(file, b) })
    });
    json!({
        "size": size,
        "closed": f.contours,
        "outer": f.outer,
        "inner": f.inner,
        "levels": f.levels,
        "openings-only": f.openings_only,
        "open": f.open,
        "cut-length": f.cut_length,
        "pierces": f.pierces,
        "metal-area": f.metal,
        "least-hole": f.least_hole.map(|(w, p)| json!({ "width": w, "at": place(file, p) })),
        "least-web": f.least_web.map(|(w, [p, q])| json!({ "width": w, "at": [place(file, p), place(file, q)] })),
        "least-corner": f.least_corner.map(|(w, p)| json!({ "radius": w, "at": place(file, p) })),
        "contours": contours,
    })
}

fn where_is(file: &CutFile, k: usize) -> Value {
    let Some(i) = file.items.get(k) else { return Value::Null };
    json!({
        "entity": &*i.kind,
        "layer": file.layers.get(i.layer).map(|l| l.name.as_str()),
        "line": i.spot.line,
        "column": i.spot.column,
        "id": i.spot.id.as_deref(),
        "via": i.spot.via.as_ref().map(|(name, line)| json!({ "name": &**name, "line": line })),
    })
}

fn finding(file: &CutFile, f: &Finding) -> Value {
    json!({
        "rule": f.rule.id,
        "asks": f.rule.asks,
        "verdict": f.verdict.word(),
        "says": f.says,
        "measured": f.measured,
        "asked": f.asked,
        "at": f.at.iter().map(|p| place(file, *p)).collect::<Vec<_>>(),
        "source": { "standing": f.rule.source.standing.words(), "title": f.rule.source.title },
        "spots": f.items.iter().map(|k| where_is(file, *k)).collect::<Vec<_>>(),
    })
}
