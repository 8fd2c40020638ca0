//! Words under a drawing: blocks of paragraphs and tables that flow into columns, never over each other.

use super::placer::LEADING;
use super::words::wrap;
use crate::draw::{Anchor, Item, Layer, Shape, Stroke, Text, Weight};
use crate::geom::Point;

/// Least width of a column, mm.
pub(in crate::draw) const LEAST: f64 = 84.0;
/// Paper between two columns, mm.
const GUTTER: f64 = 6.0;
/// Letter height of ordinary words, mm.
pub(in crate::draw) const SMALL: f64 = 2.0;

/// One paragraph or table.
#[derive(Clone, Debug)]
pub(in crate::draw) enum Piece {
    /// Words that wrap.
    Words(String, f64, Weight),
    /// Rows whose cells wrap within their column; widths as parts of the whole. The first row is bold.
    Table(Vec<f64>, Vec<Vec<String>>),
}

impl Piece {
    /// A heading.
    pub fn head(s: impl Into<String>) -> Piece {
        Piece::Words(s.into(), 2.5, Weight::Bold)
    }

    /// Ordinary words.
    pub fn words(s: impl Into<String>) -> Piece {
        Piece::Words(s.into(), SMALL, Weight::Regular)
    }
}

impl Piece {
    /// Words taller than `most` mm in several pieces of whole lines.
    fn divided(&self, width: f64, most: f64) -> Vec<Piece> {
        let Piece::Words(words, height, weight) = self else { return vec![self.clone()] };
        let lines = wrap(words, *height, *weight, width);
        let fit = ((most / (height * LEADING)).floor() as usize).max(1);
        lines.chunks(fit).map(|some| Piece::Words(some.join(" "), *height, *weight)).collect()
    }
}

/// Pieces that stay together.
pub(in crate::draw) type Block = Vec<Piece>;

/// How many columns a width takes, and how wide each is.
fn columns(width: f64) -> (f64, f64) {
    let count = ((width + GUTTER) / (LEAST + GUTTER)).floor().max(1.0);
    (count, (width - GUTTER * (count - 1.0)) / count)
}

/// The same words in blocks none of which is taller than `most` mm in a column of a page of this width. Tables
/// stay whole.
pub(in crate::draw) fn divided(blocks: &[Block], width: f64, most: f64) -> Vec<Block> {
    let (_, each) = columns(width);
    let mut out: Vec<Block> = Vec::new();
    for block in blocks {
        let mut now: Block = Vec::new();
        let mut tall = 0.0;
        for piece in block.iter().flat_map(|p| p.divided(each, most)) {
            let more = set(&piece, 0.0, 0.0, each, Layer::Text, &mut Vec::new());
            if tall + more > most && !now.is_empty() {
                out.push(std::mem::take(&mut now));
                tall = 0.0;
            }
            tall += more;
            now.push(piece);
        }
        out.push(now);
    }
    out
}

/// Sets blocks into columns below `top`, between `left` and `left + width`; each block goes into the column
/// that is shortest so far. Gives the items and the height used.
pub(in crate::draw) fn flow(
    blocks: &[Block],
    left: f64,
    top: f64,
    width: f64,
    layer: Layer,
) -> (Vec<Item>, f64) {
    let (count, each) = columns(width);
    let mut used = vec![0.0_f64; count as usize];
    let mut items = Vec::new();
    for block in blocks.iter().filter(|b| !b.is_empty()) {
        let Some((k, so_far)) = used.iter_mut().enumerate().min_by(|a, b| a.1.total_cmp(b.1)) else { break };
        let x = left + (each + GUTTER) * k as f64;
        if *so_far > 0.0 {
            *so_far += 3.0;
        }
        for piece in block {
            *so_far += set(piece, x, top - *so_far, each, layer, &mut items);
        }
    }
    (items, used.into_iter().fold(0.0, f64::max))
}

/// Sets one piece; gives its height.
fn set(piece: &Piece, x: f64, top: f64, width: f64, layer: Layer, items: &mut Vec<Item>) -> f64 {
    match piece {
        Piece::Words(words, height, weight) => {
            para(words, (*height, *weight), Point::new(x, top), width, layer, items)
        }
        Piece::Table(widths, rows) => {
            let mut y = top;
            for (k, row) in rows.iter().enumerate() {
                let weight = if k == 0 { Weight::Bold } else { Weight::Regular };
                let (mut at, mut tall) = (x, 0.0_f64);
                for (cell, part) in row.iter().zip(widths) {
                    let room = (part * width - 1.5).max(3.0);
                    tall = tall.max(para(cell, (SMALL, weight), Point::new(at, y), room, layer, items));
                    at += part * width;
                }
                y -= tall;
                if k == 0 {
                    let line = Shape::line(Point::new(x, y + 0.4), Point::new(x + width, y + 0.4));
                    items.push(Item::stroked(layer, line, Stroke::solid(0.13)));
                    y -= 0.6;
                }
            }
            top - y
        }
    }
}

fn para(
    words: &str,
    (height, weight): (f64, Weight),
    top_left: Point,
    width: f64,
    layer: Layer,
    items: &mut Vec<Item>,
) -> f64 {
    let lines = wrap(words, height, weight, width);
    for (k, line) in lines.iter().enumerate() {
        let at = Point::new(top_left.x, top_left.y - height * LEADING * k as f64);
        let mut t = Text::new(at, height, Anchor::TOP_LEFT, line.clone());
        t.weight = weight;
        items.push(Item::text(layer, t));
    }
    height * LEADING * lines.len() as f64
}
