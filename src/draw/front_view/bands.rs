//! Keep-out bands on the front view: where the airframe and the sweeps of controls begin behind the sheet.
//!
//! A control's band is all the room that it takes over its whole travel, overtravel and play included, at most
//! [`TOLERANCE`] too large (or by what the sweep says of itself); an obstacle's is its silhouette.

use crate::draw::behind::inside_window;
use crate::draw::drawing::number::Print;
use crate::draw::template::placer::{Label, Reach};
use crate::draw::template::shape::scaled;
use crate::draw::{Dash, Ink, Item, Layer, Shape, Stroke, Weight};
use crate::geom::{Contour, Rect, Vec2};
use crate::panel::{Detail, Panel, PartRef, SubjectKind};
use crate::solid::travel::{self, Moved};

/// How much too large a sweep may be drawn, mm.
const TOLERANCE: f64 = 3.0;
/// What is smaller than this on paper is not shown, mm2.
const LEAST: f64 = 4.0;
/// Letter height, mm.
const HEIGHT: f64 = 1.4;

/// The lines of all bands inside a room on paper, and a label for each.
pub fn bands(panel: &Panel, scale: f64, shift: Vec2, room: Rect) -> (Vec<Item>, Vec<Label>) {
    let (mut items, mut labels) = (Vec::new(), Vec::new());
    for (k, s) in panel.subjects.iter().enumerate() {
        if !matches!(s.kind, SubjectKind::Obstacle | SubjectKind::Control) {
            continue;
        }
        for (n, p) in s.parts.iter().enumerate() {
            let Some((contours, near, far)) = band(panel, &p.detail) else { continue };
            let mut small: Vec<Contour> = contours.iter().map(|c| scaled(c, scale, shift)).collect();
            inside_window(&mut small, room);
            small.retain(|c| c.area() > LEAST);
            let stroke = Stroke::solid(0.13).dash(Dash::Dashed).ink(Ink(110));
            items.extend(
                small
                    .iter()
                    .map(|c| Item::stroked(Layer::Existing, Shape::contour(c), stroke).of(s.id.clone())),
            );
            let Some(largest) = small.iter().max_by(|a, b| a.area().total_cmp(&b.area())) else { continue };
            let name = panel.part_name(PartRef { subject: k as u32, part: n as u32 });
            let print = Print::of(panel.unit);
            let depth = if far <= 0.0 {
                "in front".to_owned()
            } else {
                format!("from {} {}", print.number(near.max(0.0)), print.unit())
            };
            labels.push(label(name, depth, largest));
        }
    }
    (items, labels)
}

/// Outlines, least and greatest depth.
fn band(panel: &Panel, detail: &Detail) -> Option<(Vec<Contour>, f64, f64)> {
    match detail {
        Detail::Obstacle { solid, .. } => {
            let b = solid.bounds();
            Some((vec![solid.silhouette()], b.low.d, b.high.d))
        }
        Detail::Moving { solid, link, .. } => {
            let m = &panel.space.mechanism;
            let grow = m.allowance(*link).unwrap_or(0.0);
            let moved = Moved { solid, link: Some(*link), grow };
            let b = travel::bounds(m, moved);
            Some((travel::sweep_outline(m, moved, TOLERANCE).contours, b.low.d, b.high.d))
        }
        _ => None,
    }
}

fn label(name: String, depth: String, c: &Contour) -> Label {
    let b = c.bounds();
    let (anchor, reach) = match (c.holds(b.center()), c.segments().first()) {
        (false, Some(s)) => (s.start(), Reach::Round(0.3)),
        _ => (b.center(), Reach::Box(Vec2::new(b.width(), b.height()) / 2.0)),
    };
    Label {
        lines: vec![(name.clone(), HEIGHT, Weight::Regular), (depth, HEIGHT, Weight::Regular)],
        anchor,
        reach,
        inside: b.width() > 14.0 && b.height() > 6.0,
        subject: name,
    }
}
