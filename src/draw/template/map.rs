//! The small picture that shows which tile is which.

use super::grid::Grid;
use super::shape::scaled;
use crate::draw::{Anchor, Ink, Item, Layer, Shape, Stroke, Text, Weight, text};
use crate::geom::{Contour, Point, Rect, Vec2};

/// Draws the tiles and the contours at the upper left of a box; the tile in hand is shaded.
pub(super) fn map(grid: &Grid, contours: &[Contour], room: Rect, current: Option<(u32, u32)>) -> Vec<Item> {
    let last = grid.shown(grid.count.0 - 1, grid.count.1 - 1);
    let first = grid.shown(0, 0);
    let all = Rect::new(first.x0, last.y0, last.x1, first.y1);
    let scale = (room.width() / all.width()).min(room.height() / all.height());
    let size = Vec2::new(all.width(), all.height()) * scale;
    let shift = Vec2::new(room.x0, room.y1 - size.y) - all.origin().to_vec2() * scale;
    let at = |p: Point| (p.to_vec2() * scale + shift).to_point();
    let half = grid.overlap / 2.0;
    let cell = |(column, row): (u32, u32)| {
        let r = grid.shown(column, row);
        let inner = |k: u32, of: u32| if k > 0 && k < of { half } else { 0.0 };
        Rect::from_points(
            at(Point::new(r.x0 + inner(column, grid.count.0), r.y0 + inner(row + 1, grid.count.1))),
            at(Point::new(r.x1 - inner(column + 1, grid.count.0), r.y1 - inner(row, grid.count.1))),
        )
    };
    let mut items = Vec::new();
    if let Some(tile) = current {
        let r = cell(tile);
        let shade = Contour::rect(r.center(), r.width(), r.height(), 0.0);
        items.push(Item::filled(Layer::Register, Shape::Path(shade), Ink(205)));
    }
    for c in contours {
        let small = Shape::contour(&scaled(c, scale, shift));
        items.push(Item::stroked(Layer::Register, small, Stroke::solid(0.1).ink(Ink(110))));
    }
    for tile in grid.tiles() {
        let r = cell(tile);
        let edge = Shape::Path(Contour::rect(r.center(), r.width(), r.height(), 0.0));
        items.push(Item::stroked(Layer::Register, edge, Stroke::solid(0.13)));
        let name = grid.name(tile.0, tile.1);
        let wide = text::width(&name, 1.0, Weight::Bold);
        let height = (0.8 * r.width() / wide).min(0.5 * r.height()).min(4.0);
        if height >= 0.9 {
            let name = Text::new(r.center(), height, Anchor::CENTRE, name).bold();
            items.push(Item::text(Layer::Register, name));
        }
    }
    items
}
