//! Notes and tables set into columns: lines and rows stay whole, a table that goes on repeats its head.

use crate::draw::{Anchor, Item, Layer, Shape, Stroke, Text, Weight, text};
use crate::geom::{Point, Rect, Vec2};

/// Letter height of tables and notes, mm (ISO 3098 nominal sizes, from memory).
pub const TEXT: f64 = 2.5;
/// Letter height of headings, mm.
pub const HEAD: f64 = 3.5;
/// Distance of base lines in letter heights.
pub const LEADING: f64 = 1.6;
/// Least width of a column, mm: two stand on an upright A4; on paper wider than [`LARGE`] they may be wider.
const LEAST: (f64, f64) = (78.0, 105.0);
/// Paper on which columns are wider, mm.
const LARGE: f64 = 450.0;
/// Paper between two columns, mm.
pub const GUTTER: f64 = 6.0;
/// A row lower than this does not stand alone at a break, mm.
const LOW: f64 = 10.0;
/// Paper between two blocks, mm.
const BETWEEN: f64 = 3.0;

/// A row of a table: whose row it is, and its cells.
#[derive(Clone, Debug)]
pub struct Cells(pub String, pub Vec<String>);

/// A paragraph or table.
#[derive(Clone, Debug)]
pub enum Piece {
    /// A heading; stays with what follows.
    Head(String),
    /// Words that wrap.
    Words(String),
    /// The same in bold.
    Strong(String),
    /// A table: widths of its columns as parts of the whole, its head, its rows.
    Table(Vec<f64>, Vec<&'static str>, Vec<Cells>),
    /// Lines to write on, side by side: width as a part of the whole, and what stands below each.
    Sign(Vec<(f64, String)>),
}

/// What stays on one column.
pub struct Chunk {
    height: f64,
    /// Items below and right of (0, 0).
    items: Vec<Item>,
    /// Must be followed by the next one in the same column.
    keep: bool,
    /// Starts a block.
    first: bool,
    /// Head to repeat where this chunk opens a column: number of the chunk that is the head.
    head: Option<usize>,
}

/// How many columns a width takes, and how wide each is.
pub fn columns(width: f64) -> (usize, f64) {
    let least = if width > LARGE { LEAST.1 } else { LEAST.0 };
    let count = ((width + GUTTER) / (least + GUTTER)).floor().max(1.0);
    (count as usize, (width - GUTTER * (count - 1.0)) / count)
}

/// Sets blocks in a column of a width.
pub fn set(blocks: &[Vec<Piece>], width: f64) -> Vec<Chunk> {
    let mut chunks: Vec<Chunk> = Vec::new();
    for block in blocks {
        let start = chunks.len();
        for piece in block {
            piece.set(width, &mut chunks);
        }
        if let Some(c) = chunks.get_mut(start) {
            c.first = true;
        }
    }
    chunks
}

impl Piece {
    fn set(&self, width: f64, chunks: &mut Vec<Chunk>) {
        match self {
            Piece::Head(words) => para(words, HEAD, Weight::Bold, width, true, chunks),
            Piece::Words(words) => para(words, TEXT, Weight::Regular, width, false, chunks),
            Piece::Strong(words) => para(words, TEXT, Weight::Bold, width, false, chunks),
            Piece::Sign(fields) => chunks.push(sign(fields, width)),
            Piece::Table(parts, head, rows) => {
                let at = chunks.len();
                let names: Vec<String> = head.iter().map(|h| (*h).to_owned()).collect();
                let mut top = row("", &names, parts, width, Weight::Bold);
                top.keep = true;
                let named = head.iter().any(|h| !h.is_empty());
                if named {
                    chunks.push(top);
                }
                for (k, Cells(subject, cells)) in rows.iter().enumerate() {
                    let mut one = row(subject, cells, parts, width, Weight::Regular);
                    one.head = named.then_some(at);
                    // no low row stands alone above or below a break
                    one.keep = one.height < LOW && rows.len() > 1 && (k == 0 || k + 2 == rows.len());
                    chunks.push(one);
                }
            }
        }
    }
}

/// Room for a hand's writing above a line, mm.
const HAND: f64 = 10.0;

fn sign(fields: &[(f64, String)], width: f64) -> Chunk {
    let (mut items, mut x) = (Vec::new(), 0.0);
    for (part, words) in fields {
        let line = Shape::line(Point::new(x, -HAND), Point::new(x + part * width - 4.0, -HAND));
        items.push(Item::stroked(Layer::Text, line, Stroke::solid(0.25)));
        let at = Point::new(x, -HAND - 1.4 * SIGNED);
        items.push(Item::text(Layer::Text, Text::new(at, SIGNED, Anchor::LEFT, words.clone())));
        x += part * width;
    }
    Chunk { height: HAND + 2.2 * SIGNED, items, keep: false, first: false, head: None }
}

/// Letter height below a line to write on, mm.
const SIGNED: f64 = 2.0;

fn para(words: &str, height: f64, weight: Weight, width: f64, keep: bool, chunks: &mut Vec<Chunk>) {
    let tall = height * LEADING;
    for line in wrap(words, height, weight, width) {
        let mut t = Text::new(Point::new(0.0, -height * 1.15), height, Anchor::LEFT, line);
        t.weight = weight;
        chunks.push(Chunk {
            height: tall,
            items: vec![Item::text(Layer::Text, t)],
            keep,
            first: false,
            head: None,
        });
    }
}

fn row(subject: &str, cells: &[String], parts: &[f64], width: f64, weight: Weight) -> Chunk {
    let mut items = Vec::new();
    let (mut x, mut tall) = (0.0, 1_usize);
    for (cell, part) in cells.iter().zip(parts) {
        let lines = wrap(cell, TEXT, weight, (part * width - 1.5).max(4.0));
        tall = tall.max(lines.len());
        for (k, line) in lines.into_iter().enumerate() {
            let at = Point::new(x, -TEXT * (1.25 + LEADING * k as f64));
            let mut t = Text::new(at, TEXT, Anchor::LEFT, line);
            t.weight = weight;
            let item = Item::text(Layer::Text, t);
            items.push(if subject.is_empty() { item } else { item.of(subject) });
        }
        x += part * width;
    }
    let height = TEXT * LEADING * tall as f64 + 1.0;
    let rule = Stroke::solid(if weight == Weight::Bold { 0.35 } else { 0.13 });
    let line = Shape::line(Point::new(0.0, -height), Point::new(width, -height));
    items.push(Item::stroked(Layer::Text, line, rule));
    Chunk { height, items, keep: false, first: false, head: None }
}

/// Breaks words into lines no wider than `width` mm: at blanks, else behind a hyphen, a stroke or a full stop
/// between letters, else anywhere.
pub fn wrap(words: &str, height: f64, weight: Weight, width: f64) -> Vec<String> {
    let fits = |s: &str| text::width(s, height, weight) <= width;
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in words.split_whitespace() {
        for (k, bit) in bits(word).into_iter().enumerate() {
            let blank = if k == 0 && !line.is_empty() { " " } else { "" };
            let longer = format!("{line}{blank}{bit}");
            // a word that fits on a line of its own is not broken
            let whole = k > 0 || fits(&format!("{line}{blank}{word}")) || !fits(word);
            if whole && fits(&longer) {
                line = longer;
                continue;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            for c in bit.chars() {
                line.push(c);
                if !fits(&line) && line.chars().count() > 1 {
                    line.pop();
                    lines.push(std::mem::replace(&mut line, c.to_string()));
                }
            }
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// A word in pieces between which it may be broken.
fn bits(word: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let mut from = 0;
    let chars: Vec<(usize, char)> = word.char_indices().collect();
    for three in chars.windows(3) {
        if let &[(_, a), (_, b), (at, c)] = three
            && ((b == '-' && a.is_alphanumeric())
                || (matches!(b, '/' | '.' | ':') && a.is_alphabetic() && c.is_alphanumeric()))
        {
            found.extend(word.get(from..at));
            from = at;
        }
    }
    found.extend(word.get(from..));
    found
}

/// What is still to be set.
pub struct Pour {
    chunks: Vec<Chunk>,
    next: usize,
}

impl Pour {
    /// Everything is still to be set.
    pub fn new(chunks: Vec<Chunk>) -> Pour {
        Pour { chunks, next: 0 }
    }

    /// More to set, after all the rest.
    pub fn add(&mut self, chunks: Vec<Chunk>) {
        let before = self.chunks.len();
        self.chunks.extend(chunks.into_iter().map(|c| Chunk { head: c.head.map(|h| h + before), ..c }));
    }

    /// Whether everything is set.
    pub fn done(&self) -> bool {
        self.next >= self.chunks.len()
    }

    /// Fills columns in order. `must`: something is set even if it is taller than every column, so that an
    /// empty page never follows an empty page.
    pub fn fill(&mut self, slots: &[Rect], must: bool) -> Vec<Item> {
        let mut out = Vec::new();
        for slot in slots {
            let mut y = slot.y1;
            while let Some(chunk) = self.chunks.get(self.next) {
                let opens = y == slot.y1;
                let mut until = self.next + 1;
                while self.chunks.get(until - 1).is_some_and(|c| c.keep) && until < self.chunks.len() {
                    until += 1;
                }
                let group = self.chunks.get(self.next..until).unwrap_or_default();
                let head =
                    chunk.head.filter(|h| opens && *h + 1 < self.next).and_then(|h| self.chunks.get(h));
                let gap = if chunk.first && !opens { BETWEEN } else { 0.0 };
                let need = gap + head.map_or(0.0, |h| h.height) + group.iter().map(|c| c.height).sum::<f64>();
                if y - need < slot.y0 && !(must && out.is_empty() && opens) {
                    break;
                }
                y -= gap;
                for c in head.into_iter().chain(group) {
                    out.extend(c.items.iter().map(|i| moved(i, Vec2::new(slot.x0, y))));
                    y -= c.height;
                }
                self.next = until;
            }
        }
        out
    }
}

/// The same item elsewhere.
pub fn moved(item: &Item, by: Vec2) -> Item {
    let mut out = item.clone();
    out.shape = crate::draw::template::shape::shifted(&item.shape, by);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wrapped_lines_fit_and_lose_nothing() {
        let s = "cb-radio, sw-light and asi.screw-1, then averyveryverylongword display/3-5in-engine 1.5 end";
        for width in [5.0, 12.0, 20.0, 30.0, 500.0] {
            let lines = wrap(s, 2.5, Weight::Regular, width);
            assert!(lines.iter().all(|l| text::width(l, 2.5, Weight::Regular) <= width));
            assert_eq!(lines.concat().replace(' ', ""), s.replace(' ', ""));
        }
        assert_eq!(wrap("a cb-radio", 2.5, Weight::Regular, 14.5), ["a", "cb-radio"]);
        assert_eq!(bits("asi.screw-1"), ["asi.", "screw-", "1"]);
        assert_eq!(bits("-12.5"), ["-12.5"]);
    }

    #[test]
    fn a_table_repeats_its_head_and_nothing_is_lost() {
        let rows = (0..40).map(|k| Cells(format!("row {k}"), vec![k.to_string(), "x".into()])).collect();
        let block = vec![Piece::Head("H".into()), Piece::Table(vec![0.5, 0.5], vec!["a", "b"], rows)];
        let mut pour = Pour::new(set(&[block], 80.0));
        let mut pages = 0;
        let (mut heads, mut seen) = (0, 0);
        while !pour.done() {
            pages += 1;
            assert!(pages < 20);
            for i in pour.fill(&[Rect::new(0.0, 0.0, 80.0, 60.0), Rect::new(90.0, 0.0, 170.0, 60.0)], true) {
                if let Shape::Text(t) = &i.shape {
                    assert!(t.at.y > 0.0);
                    heads += usize::from(t.text == "a");
                    seen += usize::from(t.text == "x");
                }
            }
        }
        assert_eq!(seen, 40);
        assert!(heads >= 2 * pages - 1, "{heads} heads on {pages} pages");
    }
}
