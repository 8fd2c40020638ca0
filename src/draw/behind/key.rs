//! The key beside a section: the front of the panel, small, with the cutting plane, its arrows and letters.

use super::section::Cut;
use crate::draw::drawing::ordinate::Bands;
use crate::draw::template::shape::scaled;
use crate::draw::template::words::fitted;
use crate::draw::{Anchor, Dash, Ink, Item, Layer, Shape, Stroke, Text, Weight, text};
use crate::geom::{Contour, Point, Rect, Vec2};
use crate::panel::{Class, Panel};

/// Room of the key, mm.
const ROOM: (f64, f64) = (70.0, 44.0);
/// How far the cutting plane reaches beyond the panel, mm.
const OVER: f64 = 4.0;
/// Length of a section's title before it is set smaller, mm.
const TITLE: f64 = 170.0;

/// Title above a view of a size, and the key above that or beside the view; gives the room that all of it takes.
pub fn key(
    panel: &Panel,
    c: &Cut,
    head: &str,
    (size, bands, beside): ((f64, f64), Bands, bool),
    items: &mut Vec<Item>,
) -> Bands {
    let high = fitted(head, 3.5, Weight::Bold, TITLE);
    let base = size.1 + bands.above + 4.0;
    let title = Text::new(Point::new(0.0, base), high, Anchor::LEFT, head).bold();
    let wide = text::width(head, high, Weight::Bold);
    items.push(Item::text(Layer::Text, title));
    let bands = Bands { above: base + high + 2.0 - size.1, right: bands.right.max(wide - size.0), ..bands };
    let Some(all) = panel.sheets.iter().map(|s| s.outline.bounds()).reduce(|a, b| a.union(b)) else {
        return bands;
    };
    let inner = (ROOM.0 - 4.0 * OVER, ROOM.1 - 4.0 * OVER);
    let scale = (inner.0 / all.width()).min(inner.1 / all.height());
    let (width, height) = (all.width() * scale, all.height() * scale);
    let corner = match beside {
        false => Vec2::new(2.0 * OVER, size.1 + bands.above + 2.0 * OVER),
        true => Vec2::new(size.0 + bands.right + 3.0 * OVER, size.1 - height - 2.0 * OVER),
    };
    let room = match beside {
        false => Bands {
            above: bands.above + height + 4.0 * OVER,
            right: bands.right.max(width + 4.0 * OVER - size.0),
            ..bands
        },
        true => Bands {
            right: bands.right + width + 5.0 * OVER,
            below: bands.below.max(height + 4.0 * OVER - size.1),
            ..bands
        },
    };
    let shift = corner - all.origin().to_vec2() * scale;
    let line = |c: &Contour, stroke: Stroke| {
        Item::stroked(Layer::Outline, Shape::contour(&scaled(c, scale, shift)), stroke)
    };
    for s in &panel.sheets {
        items.push(line(&s.outline, Stroke::solid(0.25)).of(s.id.clone()));
    }
    for (k, s) in panel.subjects.iter().enumerate() {
        let heavy = c.subject == Some(k);
        for p in
            s.parts.iter().filter(|p| matches!(p.class, Class::Cutout | Class::OldOpening | Class::Bezel))
        {
            let stroke = if heavy { Stroke::solid(0.35) } else { Stroke::solid(0.1).ink(Ink::GREY) };
            if heavy || p.class != Class::Bezel {
                items.push(line(&p.contour, stroke).of(s.id.clone()));
            }
        }
    }
    let b = Rect::new(0.0, 0.0, width, height);
    let (p, q) = if c.upright {
        let x = c.at * scale + shift.x;
        (Point::new(x, corner.y - OVER), Point::new(x, corner.y + b.y1 + OVER))
    } else {
        let y = c.at * scale + shift.y;
        (Point::new(corner.x - OVER, y), Point::new(corner.x + b.x1 + OVER, y))
    };
    items.extend(plane(p, q, c));
    room
}

/// The cutting plane: chain, heavy ends, arrows in the direction of sight, letters.
fn plane(p: Point, q: Point, c: &Cut) -> Vec<Item> {
    let thin = Stroke::solid(0.18).dash(Dash::Chain);
    let mut items = vec![Item::stroked(Layer::Mark, Shape::line(p, q), thin)];
    // an upright plane is seen from the right, looking left; a level one from above, looking down
    let sight = if c.upright { Vec2::new(-1.0, 0.0) } else { Vec2::new(0.0, -1.0) };
    let along = (q - p) / crate::geom::length(q - p).max(1e-9);
    for (end, way) in [(p, along), (q, -along)] {
        let heavy = Shape::line(end, end + way * 3.0);
        items.push(Item::stroked(Layer::Mark, heavy, Stroke::solid(0.5)));
        let tip = end + sight * 3.6;
        let across = Vec2::new(-sight.y, sight.x) * 0.7;
        items.push(Item::stroked(Layer::Mark, Shape::line(end, tip), Stroke::solid(0.25)));
        let back = tip - sight * 2.0;
        let mut head = [tip, back + across, back - across];
        if (head[1] - head[0]).cross(head[2] - head[0]) < 0.0 {
            head.reverse();
        }
        items.push(Item::filled(Layer::Mark, Shape::Path(Contour::polygon(&head)), Ink::BLACK));
        let at = end - sight * 2.6 - way * 0.2;
        items.push(Item::text(Layer::Mark, Text::new(at, 2.5, Anchor::CENTRE, c.letter.to_string()).bold()));
    }
    items
}
