//! The revision table on the title block: the newest lowest, as it grows upward. What it has no room for stands in
//! the notes, so nothing is lost.

use super::flow::{Piece, wrap};
use super::frame::line;
use crate::draw::{Anchor, Item, Layer, Text, Weight};
use crate::geom::{Point, Rect};
use crate::panel::{Revision, Title};

/// Most revisions that the table shows.
const MOST: usize = 6;
/// Most lines of one revision.
const LINES: usize = 3;
/// Letter height, mm.
const LETTERS: f64 = 2.2;
/// Distance of base lines in letter heights.
const LEADING: f64 = 1.5;
/// Paper above and below the lines of a row together, mm.
const AIR: f64 = 2.6;
/// Widths of the columns as parts of the whole.
const PARTS: [f64; 4] = [0.08, 0.17, 0.53, 0.22];

/// Rows from the lowest: the lines of each cell, and whether something was left out.
fn rows(title: &Title, width: f64) -> (Vec<[Vec<String>; 4]>, bool) {
    if title.revisions.is_empty() {
        return (Vec::new(), false);
    }
    let mut short = title.revisions.len() > MOST;
    let mut cells = |words: [&str; 4]| {
        let mut k = 0;
        words.map(|w| {
            let wide = PARTS.get(k).map_or(0.0, |p| p * width) - 2.4;
            k += 1;
            let mut lines = wrap(w, LETTERS, Weight::Regular, wide);
            if lines.len() > LINES {
                lines.truncate(LINES - 1);
                lines.push("... see the notes".into());
                short = true;
            }
            lines
        })
    };
    let newest = title.revisions.iter().rev().take(MOST);
    let mut rows: Vec<[Vec<String>; 4]> =
        newest.map(|r: &Revision| cells([&r.index, &r.date, &r.change, &r.by])).collect();
    rows.push(cells(["rev", "date", "change", "by"]));
    (rows, short)
}

fn tall(row: &[Vec<String>; 4]) -> f64 {
    let lines = row.iter().map(Vec::len).max().unwrap_or(0).max(1);
    AIR + LETTERS * (1.0 + LEADING * (lines - 1) as f64)
}

/// Height of the table on a block of a width, mm; 0 without revisions.
pub fn height(title: &Title, width: f64) -> f64 {
    rows(title, width).0.iter().map(tall).sum()
}

/// The table in its room.
pub fn table(title: &Title, room: Rect) -> Vec<Item> {
    let mut items = Vec::new();
    let mut y = room.y0;
    for (k, row) in rows(title, room.width()).0.iter().enumerate() {
        let top = y + tall(row);
        if k > 0 {
            items.push(line(Point::new(room.x0, y), Point::new(room.x1, y), 0.18));
        }
        let mut x = room.x0;
        for (lines, part) in row.iter().zip(PARTS) {
            if x > room.x0 {
                items.push(line(Point::new(x, y), Point::new(x, top), 0.18));
            }
            for (n, words) in lines.iter().enumerate() {
                let at = Point::new(x + 1.2, top - AIR / 2.0 + 0.1 - LETTERS * (1.0 + LEADING * n as f64));
                items.push(Item::text(Layer::Frame, Text::new(at, LETTERS, Anchor::LEFT, words.clone())));
            }
            x += part * room.width();
        }
        y = top;
    }
    items
}

/// All revisions in full for the notes, where the table of this width does not hold them.
pub fn notes(title: &Title, width: f64) -> Vec<Piece> {
    if !rows(title, width).1 {
        return Vec::new();
    }
    let mut block = vec![Piece::Head("Revisions".into())];
    for r in &title.revisions {
        let more: Vec<&str> =
            [&r.date, &r.by].map(String::as_str).into_iter().filter(|w| !w.is_empty()).collect();
        let more = if more.is_empty() { String::new() } else { format!(" ({})", more.join(", ")) };
        block.push(Piece::Words(format!("{}{more}: {}", r.index, r.change)));
    }
    block
}
