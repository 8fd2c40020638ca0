//! Large light words across a page, painted under everything else: what nobody may miss, and what must not
//! hide the numbers.

use super::standing::Standing;
use super::{Purpose, TemplateOptions};
use crate::draw::{Anchor, Ink, Item, Layer, Text, Weight, text};
use crate::geom::{Point, Vec2, angle};
use std::f64::consts::PI;

/// The words of a page's stamps, largest first; empty for a sheet that may be cut.
pub(super) fn words(standing: &Standing, opts: &TemplateOptions) -> Vec<String> {
    let mut lines = Vec::new();
    match opts.purpose {
        Purpose::Cut => {}
        Purpose::Copy => lines.push("NOT TO SCALE".to_owned()),
        Purpose::Trial => lines.push("TRIAL".to_owned()),
    }
    if standing.barred() {
        lines.push("NOT FOR CUTTING".to_owned());
        lines.push(standing.against.join(", "));
    }
    lines
}

/// The stamps along the rising diagonal of a page.
pub(super) fn across(lines: &[String], width: f64, height: f64) -> Vec<Item> {
    let diagonal = Vec2::new(width, height);
    let degrees = angle::direction(diagonal) * 180.0 / PI;
    let (s, c) = angle::sin_cos_deg(degrees);
    let room = 0.66 * crate::geom::length(diagonal);
    let most = 0.16 * width.min(height);
    let sizes: Vec<f64> = lines
        .iter()
        .map(|w| {
            // words in capitals are the stamp, the counts below them are its reason
            let share = if w.chars().any(char::is_lowercase) { 0.5 } else { 1.0 };
            (room / text::width(w, 1.0, Weight::Bold).max(1.0)).min(most) * share
        })
        .collect();
    let tall: f64 = sizes.iter().map(|h| h * 1.5).sum();
    let mut up = tall / 2.0;
    let mut items = Vec::new();
    for (line, h) in lines.iter().zip(sizes) {
        up -= h * 1.25;
        let at = Point::new(width / 2.0, height / 2.0) + Vec2::new(-s, c) * up;
        let mut t = Text::new(at, h, Anchor::MIDDLE, line.clone()).turned(degrees);
        t.weight = Weight::Bold;
        let mut item = Item::text(Layer::Notice, t);
        item.fill = Some(Ink(222));
        items.push(item);
        up -= h * 0.25;
    }
    items
}
