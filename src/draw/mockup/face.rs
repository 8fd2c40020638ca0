//! A back: the section as it is seen from behind, with tabs all round and the places of what stands on it.

use super::body::Case;
use super::piece::{self, Piece, Sheet};
use super::tab;
use crate::draw::{Anchor, Item, Layer, Text, Weight, text};
use crate::geom::{Contour, Point, Rect, Segment, Transform, contains};

/// The back of a body by itself.
pub(super) fn back(case: &Case, name: String, tall: f64) -> Piece {
    let behind = Transform::place(Point::ORIGIN, 0.0, true);
    let contour = behind.contour(&case.section);
    let mut sheet = Sheet::new();
    let mut outline: Vec<Point> = contour.segments().first().map(Segment::start).into_iter().collect();
    with_tabs(contour.segments(), tall, &mut outline, &mut sheet);
    // the last corner is the first again
    outline.pop();
    for (id, c) in &case.on_back {
        sheet.place(id, behind.contour(c));
    }
    sheet.cut(outline);
    words(&mut sheet, case, &name, &contour, "back");
    sheet.piece(case, name)
}

/// Adds edges with tabs to an outline that stands at the start of the first, and their folds; it then stands at the end
/// of the last.
pub(super) fn with_tabs(edges: &[Segment], tall: f64, outline: &mut Vec<Point>, sheet: &mut Sheet) {
    for edge in edges {
        outline.extend(tab::along(edge, tall, false));
        outline.push(edge.end());
        if !matches!(edge, Segment::Arc(a) if !tab::has_teeth(a)) {
            sheet.fold_along(edge);
        }
    }
}

/// Words on a face, where nothing stands; its number alone where there is no room.
pub(super) fn words(sheet: &mut Sheet, case: &Case, name: &str, contour: &Contour, what: &str) {
    let lines = [format!("{name}  {}", case.id), format!("{what}, seen from behind, at {:.1} mm", case.to)];
    for (lines, height) in
        [(&lines[..], 2.5), (&lines[..], 1.6), (&[name.to_owned()], 2.5), (&[name.to_owned()], 1.4)]
    {
        if let Some(at) = free(sheet, contour, lines, height) {
            write(sheet, lines, height, at);
            return;
        }
    }
}

/// Upper left corner of a place inside the contour where lines of a height meet no place of a connector.
fn free(sheet: &Sheet, contour: &Contour, lines: &[String], height: f64) -> Option<Point> {
    let wide = lines.iter().map(|l| text::width(l, height, Weight::Regular)).fold(0.0, f64::max) + 2.0;
    let tall = piece::LEADING * height * lines.len() as f64 + 1.0;
    let b = contour.bounds();
    // middle first, then outwards
    let steps = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9];
    let centres = steps
        .iter()
        .flat_map(|v| steps.iter().map(move |u| Point::new(b.x0 + u * b.width(), b.y0 + v * b.height())));
    centres
        .map(|c| Rect::from_center_size(c, (wide, tall)))
        .find(|r| {
            let clear = |o: &Rect| r.x1 < o.x0 || o.x1 < r.x0 || r.y1 < o.y0 || o.y1 < r.y0;
            contains(contour, &Contour::rect(r.center(), wide, tall, 0.0)) && sheet.taken().iter().all(clear)
        })
        .map(|r| Point::new(r.x0 + 1.0, r.y1 - 0.5))
}

fn write(sheet: &mut Sheet, lines: &[String], height: f64, at: Point) {
    for (k, line) in lines.iter().enumerate() {
        let at = Point::new(at.x, at.y - piece::LEADING * height * k as f64);
        let mut t = Text::new(at, height, Anchor::TOP_LEFT, line.clone());
        t.weight = if k == 0 { Weight::Bold } else { Weight::Regular };
        sheet.item(Item::text(Layer::Text, t));
    }
}
