//! The instrument where it would stand, in broken lines, and what is in its way.

use super::View;
use crate::draw::template::placer::{Label, Reach};
use crate::draw::template::shape::scaled;
use crate::draw::{Dash, Item, Layer, Shape, Stroke, Weight};
use crate::geom::{Contour, Point, Rect, Vec2};
use crate::panel::{Class, PartRef};
use std::collections::BTreeSet;

/// What of an instrument is seen from the seat or cut, and how heavy its line is.
fn weight(class: Class) -> Option<f64> {
    match class {
        Class::Bezel => Some(0.5),
        Class::Cutout | Class::Hole => Some(0.25),
        Class::Front => Some(0.18),
        _ => None,
    }
}

/// Lines of the instrument after a shift.
pub fn ghost(view: &View<'_>, shift: Vec2) -> Vec<Item> {
    let a = view.answer;
    let Some(s) = a.panel.subjects.get(a.subject) else { return Vec::new() };
    let bezel = s.parts.iter().any(|p| p.class == Class::Bezel);
    let mut out = Vec::new();
    for p in &s.parts {
        let Some(mut width) = weight(p.class) else { continue };
        if !bezel && p.class == Class::Cutout {
            width = 0.5;
        }
        let c = view.small(&p.contour, shift);
        let line = Stroke::solid(width).dash(Dash::Dashed);
        out.push(Item::stroked(Layer::Dimension, Shape::contour(&c), line));
    }
    out.extend(cross(view.point(a.at(shift))));
    out.into_iter().map(|i| i.of(a.asks.instrument.clone())).collect()
}

/// The mark of an origin.
fn cross(at: Point) -> [Item; 2] {
    [Vec2::new(2.0, 0.0), Vec2::new(0.0, 2.0)]
        .map(|v| Item::stroked(Layer::Dimension, Shape::line(at - v, at + v), Stroke::solid(0.25)))
}

/// The name of a spot beside its origin.
pub fn name(view: &View<'_>, shift: Vec2, lines: Vec<String>) -> Label {
    let a = view.answer;
    let bounds = a.panel.subjects.get(a.subject).and_then(|s| {
        let seen = s.parts.iter().filter(|p| weight(p.class).is_some());
        seen.map(|p| view.small(&p.contour, shift).bounds()).reduce(|a, b| a.union(b))
    });
    let at = view.point(a.at(shift));
    let bounds = bounds.unwrap_or(Rect::from_center_size(at, (4.0, 4.0)));
    let lines = lines.into_iter().enumerate().map(|(k, words)| {
        let weight = if k == 0 { Weight::Bold } else { Weight::Regular };
        (words, if k == 0 { 2.2 } else { 1.8 }, weight)
    });
    let inside = bounds.height() > 22.0 && bounds.width() > 26.0;
    // beside the cross, within the face where that is large enough
    let (anchor, reach) = if inside {
        (at, Reach::Box(Vec2::new(2.0, 1.2)))
    } else {
        (bounds.center(), Reach::Box(Vec2::new(bounds.width(), bounds.height()) / 2.0))
    };
    Label { lines: lines.collect(), anchor, reach, inside: false, subject: a.asks.instrument.clone() }
}

/// Heavy lines of what is in the way where it fits nowhere: the other's part that binds.
pub fn in_the_way(view: &View<'_>) -> Vec<Item> {
    let Some(short) = &view.answer.short else { return Vec::new() };
    let others: BTreeSet<PartRef> = short.binds.iter().map(|b| b.other).collect();
    let flat = |c: Class| !matches!(c, Class::Edge | Class::Moving | Class::Obstacle | Class::Line);
    let panel = &view.answer.panel;
    let parts = others.into_iter().filter(|r| flat(panel.part(*r).class));
    let line = |r: PartRef| {
        let c: Contour = scaled(&panel.part(r).contour, view.scale, view.shift);
        let item = Item::stroked(Layer::Dimension, Shape::contour(&c), Stroke::solid(0.7));
        item.of(panel.subject(r).id.clone())
    };
    parts.map(line).collect()
}
