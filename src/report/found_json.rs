//! The report of a panel found in a drawing, for programs: every number unrounded, versioned.

use super::cut_json::{axes, corners, place, unit};
use super::found_text::FOUND_CAUTIONS;
use crate::cut::spot;
use crate::found::{Form, Found, Piece, form};
use crate::import::CutFile;
use serde_json::{Value, json};

/// Version of this JSON.
pub const FOUND_FORMAT: u32 = 1;

/// The whole report. Lengths in mm; places in the file's own axes and unit, as the text tells them.
pub fn found_json(file: &CutFile, f: &Found) -> Value {
    let ids = |list: &[usize]| -> Vec<&str> {
        list.iter().filter_map(|k| f.openings.get(*k)).map(|o| o.id.as_str()).collect()
    };
    let told: Vec<Value> = f
        .told
        .iter()
        .map(|t| {
            let spots: Vec<Value> = t.at.iter().map(|p| place(file, *p)).collect();
            let items: Vec<String> = t.items.iter().map(|k| spot(file, *k)).collect();
            json!({ "about": t.about.word(), "code": t.code, "says": t.says, "at": spots, "items": items })
        })
        .collect();
    let patterns: Vec<Value> = f
        .patterns
        .iter()
        .map(|m| {
            json!({
                "pattern": m.title, "instruments": m.names, "at": place(file, m.at), "turn": m.turn,
                "openings": ids(&m.openings), "off": m.off,
            })
        })
        .collect();
    let proposals: Vec<Value> = f
        .proposals
        .iter()
        .map(|p| {
            let of: Vec<&str> = p
                .replace
                .iter()
                .filter_map(|(t, _)| t.map_or(Some("outline"), |k| f.openings.get(k).map(|o| o.id.as_str())))
                .collect();
            json!({
                "id": p.id, "kind": p.kind.word(), "says": p.says, "off": p.off, "of": of, "accepted": p.accepted,
            })
        })
        .collect();
    let layers: Vec<Value> = f
        .layers
        .iter()
        .map(|l| json!({ "name": l.name, "read": l.cut, "why": l.why, "hidden": l.hidden, "entities": l.counts }))
        .collect();
    let fits: Vec<Value> = f
        .fits
        .iter()
        .map(|t| {
            json!({
                "contour": t.contour, "piece": t.piece, "fit": t.on.word(), "radius": t.radius,
                "radius-deviation": t.radius_deviation, "deviation": t.deviation,
                "residuals": t.residuals, "lines": t.lines,
            })
        })
        .collect();
    json!({
        "format": FOUND_FORMAT,
        "file": &*file.file,
        "file-format": file.format.name(),
        "version": file.version,
        "unit": unit(file),
        "axes": axes(file),
        "tolerances": { "join": f.options.join, "curve": f.options.curve, "round": f.options.round, "fit": f.options.fit, "grid": f.options.grid },
        "curves": { "count": f.curves.0, "off": f.curves.1 },
        "panel": f.questions().next().is_none(),
        "clean": f.clean(),
        "origin": place(file, f.origin),
        "outline": f.outline.as_ref().map(|o| piece(file, o)),
        "openings": f.openings.iter().map(|o| piece(file, o)).collect::<Vec<_>>(),
        "fits": fits,
        "patterns": patterns,
        "proposals": proposals,
        "told": told,
        "layers": layers,
        "cautions": FOUND_CAUTIONS,
    })
}

fn piece(file: &CutFile, o: &Piece) -> Value {
    let circle = o.contour.as_circle();
    let items: Vec<String> = o.items.iter().take(8).map(|k| spot(file, *k)).collect();
    json!({
        "id": o.id,
        "diameter": circle.map(|(_, r)| 2.0 * r),
        "form": form(&o.contour).map(|f| match f {
            Form::Rectangle { sides, radius } => json!({ "rectangle": sides, "corner-radius": radius }),
            Form::Slot { long, wide } => json!({ "slot": [long, wide] }),
        }),
        "at": place(file, circle.map_or(o.contour.bounds().center(), |(c, _)| c)),
        "box": corners(file, o.contour.bounds()),
        "area": o.contour.area(),
        "length": o.contour.perimeter(),
        "pieces": o.contour.segments().len(),
        "off-circle": o.rounded,
        "survey": o.doubt.map(|d| d.off),
        "diameter-survey": o.doubt.and_then(|d| d.diameter),
        "items": items,
    })
}
