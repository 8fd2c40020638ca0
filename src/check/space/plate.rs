//! A sheet's metal near something that moves, as solids.
//!
//! The metal there is cut in two through the middle of what moves, and what goes through the sheet is cut out of both;
//! an opening that lies wholly within one of them is taken for metal, which is on the safe side.

use crate::geom::sweep::swept;
use crate::geom::{Contour, Rect, contains};
use crate::panel::{Classes, Panel, Play, Sheet};
use crate::solid::{Bounds, Solid};

/// How far beyond what is asked the metal is looked at, mm.
const BEYOND: f64 = 30.0;

/// Depths of a sheet's front and back.
fn depths(sheet: &Sheet) -> (f64, f64) {
    (sheet.front, sheet.front + sheet.thickness.unwrap_or(0.0).max(1e-3))
}

/// Where the metal of a sheet within reach of a box lies, seen from the seat; `None` where the box stays away from the
/// sheet. Openings that do not meet it do not matter.
pub fn looked_at(sheet: &Sheet, near: &Bounds, asked: f64) -> Option<Rect> {
    let (front, back) = depths(sheet);
    let reach = asked + BEYOND;
    let edge = sheet.outline.bounds();
    let (low, high) = (near.low, near.high);
    let around = Rect::new(
        (low.x - reach).max(edge.x0),
        (low.y - reach).max(edge.y0),
        (high.x + reach).min(edge.x1),
        (high.y + reach).min(edge.y1),
    );
    let away = low.d - reach > back || high.d + reach < front;
    let empty = around.x1 - around.x0 < 1e-6 || around.y1 - around.y0 < 1e-6;
    (!away && !empty).then_some(around)
}

/// The metal of a sheet within reach of a box, with all that it sweeps; empty where the box stays away from the sheet.
pub fn plates(panel: &Panel, k: usize, sheet: &Sheet, near: &Bounds, asked: f64, play: &Play) -> Vec<Solid> {
    let sways = (play.high - play.low).length();
    let Some(around) = looked_at(sheet, near, asked + sways) else { return Vec::new() };
    let (low, high) = (near.low, near.high);
    let middle = ((low.x + high.x) / 2.0).clamp(around.x0, around.x1);
    let halves = [Rect { x1: middle, ..around }, Rect { x0: middle, ..around }];
    let mut metal: Vec<Contour> = Vec::new();
    for half in halves.into_iter().filter(|h| h.x1 - h.x0 > 1e-6) {
        metal.extend(common(&Contour::rect(half.center(), half.width(), half.height(), 0.0), &sheet.outline));
    }
    let openings = panel.subjects.iter().filter(|s| !s.provision).flat_map(|s| &s.parts);
    for opening in openings.filter(|p| {
        p.sheet as usize == k && Classes::OPENINGS.has(p.class) && meets(p.contour.bounds(), around)
    }) {
        metal = metal.iter().flat_map(|m| without(m, &opening.contour)).collect();
    }
    let (front, back) = play.deep(depths(sheet));
    let plate = |section: Contour| Solid::prisms(&swept(&section, play.flat()), front, back).ok();
    metal.into_iter().filter_map(plate).collect()
}

fn meets(a: Rect, b: Rect) -> bool {
    a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1
}

/// What of a plate lies in an outline: the plate less what of it lies outside; all of it where that cannot be told.
fn common(plate: &Contour, outline: &Contour) -> Vec<Contour> {
    if contains(outline, plate) {
        return vec![plate.clone()];
    }
    let mut left = vec![plate.clone()];
    for outside in plate.without(outline).unwrap_or_default() {
        left = left.iter().flat_map(|l| without(l, &outside)).collect();
    }
    left
}

/// A piece of metal without an opening; where the opening lies within it, or the two cannot be told apart, the metal
/// stays whole.
fn without(metal: &Contour, opening: &Contour) -> Vec<Contour> {
    if !meets(metal.bounds(), opening.bounds()) {
        return vec![metal.clone()];
    }
    metal.without(opening).unwrap_or_else(|| vec![metal.clone()])
}
