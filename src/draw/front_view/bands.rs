//! Keep-out bands on the front view: where the airframe and the sweeps of controls begin behind the sheet.
//!
//! A control's band is all the room that it takes over its whole travel, overtravel and play included, at most
//! [`TOLERANCE`] too large (or by what the sweep says of itself); an obstacle's is its silhouette. What
//! begins far behind everything is left out.

use crate::draw::behind::{beyond, inside_window};
use crate::draw::drawing::number::Print;
use crate::draw::template::placer::{Label, Reach};
use crate::draw::template::shape::scaled;
use crate::draw::{Dash, Ink, Item, Layer, Shape, Stroke, Weight};
use crate::geom::{Contour, Rect, Vec2};
use crate::panel::{Detail, Panel, SubjectKind};
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
    let limit = beyond(panel);
    let print = Print::of(panel.unit);
    for s in &panel.subjects {
        if !matches!(s.kind, SubjectKind::Obstacle | SubjectKind::Control) {
            continue;
        }
        // one name a subject, at its largest band, with where the nearest of its bands begins
        let mut named: Option<(f64, Contour)> = None;
        let (mut first, mut last) = (f64::INFINITY, f64::NEG_INFINITY);
        for p in &s.parts {
            let Some((contours, near, far)) = band(panel, &p.detail).filter(|(_, near, _)| *near <= limit)
            else {
                continue;
            };
            let mut small: Vec<Contour> = contours.iter().map(|c| scaled(c, scale, shift)).collect();
            inside_window(&mut small, room);
            small.retain(|c| c.area() > LEAST);
            if small.is_empty() {
                continue;
            }
            (first, last) = (first.min(near), last.max(far));
            let stroke = Stroke::solid(0.13).dash(Dash::Dashed).ink(Ink(110));
            for c in small {
                let line = Item::stroked(Layer::Existing, Shape::contour(&c), stroke);
                items.push(line.of(s.id.clone()));
                if named.as_ref().is_none_or(|(a, _)| c.area() > *a) {
                    named = Some((c.area(), c));
                }
            }
        }
        let Some((_, largest)) = named else { continue };
        let depth = if last <= 0.0 {
            "in front".to_owned()
        } else {
            format!("from {} {}", print.number(first), print.unit())
        };
        labels.push(label(s.id.clone(), depth, &largest));
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
