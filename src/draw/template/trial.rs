//! What a trial sheet shows besides its cutouts: the room that bezels and bodies take, and how deep they go.

use super::content::Subject;
use crate::draw::{Dash, Ink, Item, Layer, Shape, Stroke};
use crate::panel::{Class, Detail, Panel};

/// Bezels dotted, bodies and plugs dashed, none of them cut.
pub(super) fn outlines(s: &Subject<'_>) -> Vec<Item> {
    let mut items = Vec::new();
    for subject in &s.panel.subjects {
        for part in subject.parts.iter().filter(|p| p.sheet as usize == s.sheet) {
            // dots need a wider pen to be seen at all
            let stroke = match part.class {
                Class::Bezel => Stroke::solid(0.35).dash(Dash::Dotted),
                Class::Body | Class::Port => Stroke::solid(0.13).dash(Dash::Dashed),
                _ => continue,
            };
            let shape = Shape::contour(&s.view.way.contour(&part.contour));
            items.push(Item::stroked(Layer::Outline, shape, stroke.ink(Ink(90))).of(subject.id.clone()));
        }
    }
    items
}

/// How deep a subject goes, in words; none for one without bodies.
pub(super) fn depth(panel: &Panel, subject: usize) -> Option<String> {
    let parts = &panel.subjects.get(subject)?.parts;
    let bodies: Vec<_> = parts.iter().filter(|p| p.class == Class::Body).collect();
    let ports: Vec<_> = parts.iter().filter(|p| p.class == Class::Port).collect();
    if bodies.is_empty() && ports.is_empty() {
        return None;
    }
    let deepest =
        |list: &[&crate::panel::Part]| list.iter().filter_map(|p| p.depth).map(|d| d.1).fold(0.0, f64::max);
    let mut words = match bodies.iter().any(|p| p.depth.is_none()) {
        true => "depth not given".to_owned(),
        false => format!("{} deep", s_mm(panel, deepest(&bodies))),
    };
    let open = |p: &&crate::panel::Part| {
        p.depth.is_none()
            || matches!(&p.detail, Detail::Port { terms, .. } if terms.iter().any(|t| t.1.is_none()))
    };
    if ports.iter().any(open) {
        words.push_str(", plugs not known");
    } else if !ports.is_empty() {
        words.push_str(&format!(", {} with plugs", s_mm(panel, deepest(&ports).max(deepest(&bodies)))));
    }
    Some(words)
}

fn s_mm(panel: &Panel, v: f64) -> String {
    super::words::length(v, panel.unit)
}
