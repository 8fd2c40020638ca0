//! The frame of a drawing sheet: border, centring marks, reference grid.

use super::paper::{Family, PageSize};
use crate::draw::{Anchor, Item, Layer, Shape, Stroke, Text};
use crate::geom::{Contour, Point, Rect};

/// Width of the border that carries the reference grid, mm (ISO 5457, from memory).
const BORDER: f64 = 5.0;
/// How far a centring mark reaches into the drawing space, mm (from memory).
const INTO: f64 = 5.0;
/// Letters of the reference grid, mm (ISO 5457 has 3.5, from memory; so high they would touch the border's lines).
const LETTERS: f64 = 2.5;

/// Border, centring marks and grid of a sheet; marks keep out of the title block.
pub fn frame(size: &PageSize, title: Rect) -> Vec<Item> {
    let f = size.frame();
    let mut items = vec![rect(f, 0.7), rect(f.inflate(BORDER, BORDER), 0.35)];
    let (cx, cy) = (size.width / 2.0, size.height / 2.0);
    let marks = [
        ((f.x0 - BORDER, cy), (f.x0 + INTO, cy)),
        ((f.x1 + BORDER, cy), (f.x1 - if cy < title.y1 { 0.0 } else { INTO }, cy)),
        ((cx, f.y0 - BORDER), (cx, f.y0 + if cx > title.x0 { 0.0 } else { INTO })),
        ((cx, f.y1 + BORDER), (cx, f.y1 - INTO)),
    ];
    items.extend(marks.map(|(a, b)| line(a.into(), b.into(), 0.7)));
    let (across, up) = size.fields();
    let (columns, rows) = (across.len() - 1, up.len() - 1);
    for (k, pair) in across.windows(2).enumerate() {
        let &[a, b] = pair else { continue };
        // ISO counts from the left, ASME from the right (from memory)
        let name = match size.family {
            Family::Iso => k + 1,
            Family::Asme => columns - k,
        };
        let lower = size.name != "a4";
        for (y, out, shown) in [(f.y1, BORDER, true), (f.y0, -BORDER, lower)] {
            if !shown {
                continue;
            }
            items.push(letter(Point::new((a + b) / 2.0, y + out / 2.0), name.to_string()));
            if k > 0 {
                items.push(line(Point::new(a, y), Point::new(a, y + out), 0.35));
            }
        }
    }
    for (k, pair) in up.windows(2).enumerate() {
        let &[a, b] = pair else { continue };
        let name = match size.family {
            Family::Iso => super::feature::letter(rows - 1 - k),
            Family::Asme => super::feature::letter(k),
        };
        let left = size.name != "a4";
        for (x, out, shown) in [(f.x1, BORDER, true), (f.x0, -BORDER, left)] {
            if !shown {
                continue;
            }
            items.push(letter(Point::new(x + out / 2.0, (a + b) / 2.0), name.clone()));
            if k > 0 {
                items.push(line(Point::new(x, a), Point::new(x + out, a), 0.35));
            }
        }
    }
    items
}

fn letter(at: Point, words: String) -> Item {
    Item::text(Layer::Frame, Text::new(at, LETTERS, Anchor::CENTRE, words))
}

/// A rectangle's line.
pub fn rect(r: Rect, width: f64) -> Item {
    let shape = Shape::Path(Contour::rect(r.center(), r.width(), r.height(), 0.0));
    Item::stroked(Layer::Frame, shape, Stroke::solid(width))
}

/// A line of the frame.
pub fn line(a: Point, b: Point, width: f64) -> Item {
    Item::stroked(Layer::Frame, Shape::line(a, b), Stroke::solid(width))
}
