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
        metal.extend(common(half, &sheet.outline));
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

/// How much larger a plate is taken where it cannot be cut along the outline, mm: an edge of it may run through a corner there.
/// Of the same outline it is metal all the same.
const LARGER: [f64; 4] = [0.0, 0.37, 1.1, 2.3];

/// What of a plate lies in an outline: the plate less what of it lies outside; all of it where that cannot be told.
fn common(plate: Rect, outline: &Contour) -> Vec<Contour> {
    let larger =
        |by: f64| Contour::rect(plate.center(), plate.width() + 2.0 * by, plate.height() + 2.0 * by, 0.0);
    let exact = larger(0.0);
    if contains(outline, &exact) {
        return vec![exact];
    }
    let cut = LARGER.iter().find_map(|by| Some((larger(*by), larger(*by).without(outline)?)));
    let Some((plate, outsides)) = cut else { return vec![exact] };
    let mut left = vec![plate];
    for outside in outsides {
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_outline_that_cannot_be_cut_at_once_is_cut_a_little_larger() {
        // a cap of an arc of 50 about (0, 0) over a straight foot; the window cuts off its upper left corner region
        let outline = Contour::circle(crate::geom::Point::ORIGIN, 50.0);
        for (x0, y0) in [(-50.0, 30.0), (-50.0, 0.0), (-60.0, 10.0), (-40.0, 30.0), (-30.0, 40.0)] {
            let window = Rect { x0, y0, x1: 0.0, y1: 50.0 };
            let metal: f64 = common(window, &outline).iter().map(Contour::area).sum();
            // by strips of a hundredth of a millimetre
            let strip = |k: u32| {
                let y = y0 + 0.01 * (f64::from(k) + 0.5);
                (2500.0 - y * y).max(0.0).sqrt().min(-x0) * 0.01
            };
            let strips = ((50.0 - y0) * 100.0) as u32;
            let true_area: f64 = (0..strips).map(strip).sum();
            let most = true_area + 2.0 * LARGER[3] * (window.width() + window.height() + 2.0 * LARGER[3]);
            assert!(metal >= true_area - 0.5 && metal <= most, "{x0} {y0}: {metal}, not {true_area}");
        }
    }
}
