//! The front view as the ground of another view: the panel as it is, with something laid over it.

use super::{AROUND, LARGE, LARGE_PAGE, MARGIN, PAGE, Shows, View, bounds};
use crate::check::Verdict;
use crate::draw::template::placer::Label;
use crate::draw::{Anchor, Item, Layer, Shape, Stroke, Text};
use crate::geom::{Point, Rect, Vec2};
use crate::panel::Panel;
use std::collections::BTreeMap;

/// What another view lays over this one.
#[derive(Default)]
pub(in crate::draw) struct Over {
    /// Hatchings, under the panel's own lines.
    pub under: Vec<Item>,
    /// Lines and figures over them; names keep off the figures.
    pub lines: Vec<Item>,
    /// Names that have the first choice of a place.
    pub labels: Vec<Label>,
    /// What is written under the names of items, by their ids.
    pub notes: BTreeMap<String, String>,
}

/// Rank of names that are placed before all others, in the order given.
pub(super) const FIRST: u8 = u8::MAX;

/// Paper, room for a view, scale as 1:n and shift of it, for a page with so many mm of words below.
pub(in crate::draw) struct Fitted {
    /// Width and height of the page, mm.
    pub size: (f64, f64),
    /// Where the view stands.
    pub room: Rect,
    /// The n of 1:n.
    pub ratio: f64,
    /// Added after the scale.
    pub shift: Vec2,
}

impl Fitted {
    /// The smallest page for a panel.
    pub fn of(panel: &Panel, tall: impl Fn(f64) -> f64) -> Fitted {
        Fitted::around(bounds(panel), tall)
    }

    /// The smallest page for two panels on one another.
    pub fn both(panels: [&Panel; 2], tall: impl Fn(f64) -> f64) -> Fitted {
        Fitted::around(bounds(panels[0]).union(bounds(panels[1])), tall)
    }

    fn around(bounds: Rect, tall: impl Fn(f64) -> f64) -> Fitted {
        let size = if bounds.width().max(bounds.height()) > LARGE { LARGE_PAGE } else { PAGE };
        let tall = tall(size.0 - 2.0 * MARGIN).min(80.0);
        let room = Rect::new(MARGIN, MARGIN + tall + 12.0, size.0 - MARGIN, size.1 - MARGIN - 10.0);
        let fit = ((room.width() - 2.0 * AROUND) / bounds.width())
            .min((room.height() - 2.0 * AROUND) / bounds.height());
        // a ratio with one decimal, never above 1:1
        let ratio = ((10.0 / fit).ceil() / 10.0).max(1.0);
        let shift = room.center().to_vec2() - bounds.center().to_vec2() / ratio;
        Fitted { size, room, ratio, shift }
    }
}

/// A panel as it is, with something laid over it and no verdicts.
pub(in crate::draw) fn overlaid(panel: &Panel, fitted: &Fitted, over: Over) -> Vec<Item> {
    let worst = vec![(Verdict::Pass, 0); panel.subjects.len()];
    let shows = Shows { bands: false };
    let view = View { panel, scale: 1.0 / fitted.ratio, shift: fitted.shift, worst, shows };
    view.draw(fitted.room, over)
}

/// A bar of 100 mm at a view's scale, ending at `right`.
pub(in crate::draw) fn bar(right: f64, y: f64, scale: f64) -> Vec<Item> {
    let (from, wide) = (right - 100.0 * scale, 100.0 * scale);
    let line = |a: Point, b: Point| Item::stroked(Layer::Frame, Shape::line(a, b), Stroke::solid(0.25));
    let mut items = vec![line(Point::new(from, y), Point::new(from + wide, y))];
    for x in [from, from + wide] {
        items.push(line(Point::new(x, y - 1.0), Point::new(x, y + 1.0)));
    }
    let at = Point::new(from + wide / 2.0, y + 1.2);
    items.push(Item::text(Layer::Frame, Text::new(at, 1.8, Anchor::MIDDLE, "100 mm")));
    items
}
