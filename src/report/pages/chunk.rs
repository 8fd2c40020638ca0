//! The smallest things that stay on one page: a line or a few, a row of a table, a picture.

use super::table;
use super::text::Measure;
use crate::draw::{Across, Anchor, Drawing, Entry, Group, Ink, Item, Layer, Shape, Stroke, Text, Up, Weight};
use crate::geom::{Contour, Point, Rect, Vec2};
use crate::report::document::{Block, Entry as Finding, Sign};
use std::sync::Arc;

/// Letter height of ordinary words, mm.
pub(super) const TEXT: f64 = 2.0;
/// Distance of base lines in letter heights.
pub(super) const LEADING: f64 = 1.75;
/// Width of the names beside values, mm.
const NAMES: f64 = 30.0;
/// Room of a finding's bar, mm.
const BAR: f64 = 5.0;

/// What stays on one page.
pub(super) struct Chunk {
    /// Paper above it, mm; not at the top of a page.
    pub space: f64,
    /// Its height, mm.
    pub height: f64,
    /// Items right of and below (0, 0).
    pub items: Vec<Item>,
    /// A picture, moved down from (0, 0) by its own height.
    pub picture: Option<Drawing>,
    /// Must be followed by the next one on the same page.
    pub keep: bool,
    /// Head that is set again where this chunk opens a page: how many chunks before this one it stands.
    pub head: Option<usize>,
}

impl Chunk {
    /// Nothing yet.
    pub fn new(space: f64) -> Chunk {
        Chunk { space, height: 0.0, items: Vec::new(), picture: None, keep: false, head: None }
    }
}

/// How words are set.
#[derive(Clone, Copy)]
pub(super) struct Set {
    /// Letter height, mm.
    pub height: f64,
    /// Weight.
    pub weight: Weight,
    /// Left edge, mm.
    pub left: f64,
    /// Width, mm.
    pub width: f64,
    /// Set to the right edge.
    pub right: bool,
}

impl Set {
    /// Regular words of a height between two edges.
    pub fn words(height: f64, left: f64, width: f64) -> Set {
        Set { height, weight: Weight::Regular, left, width, right: false }
    }

    /// The same in bold.
    pub fn bold(self) -> Set {
        Set { weight: Weight::Bold, ..self }
    }

    /// A line of text whose box begins `down` mm below the top.
    pub fn line(self, down: f64, words: &str) -> Item {
        let across = if self.right { Across::Right } else { Across::Left };
        let x = if self.right { self.left + self.width } else { self.left };
        // half of the leading stands above the letters
        let y = -down - self.height * (LEADING - 1.0) / 2.0;
        let mut t = Text::new(Point::new(x, y), self.height, Anchor { across, up: Up::Top }, words);
        t.weight = self.weight;
        Item::text(Layer::Text, t)
    }

    /// Distance of base lines, mm.
    pub fn step(self) -> f64 {
        self.height * LEADING
    }
}

/// The chunks of a block in a column of this width.
pub(super) fn block(m: &Measure, block: &Block, width: f64, out: &mut Vec<Chunk>) {
    let words = Set::words(TEXT, 0.0, width);
    match block {
        Block::Words(s) => para(m, s, words, 1.6, out),
        Block::Strong(s) => strong(m, s, width, out),
        Block::Head(s) => head(m, s, Set { height: 2.4, ..words.bold() }, 4.5, out),
        Block::List(lines) => {
            for l in lines {
                let start = out.len();
                para(m, l, Set { left: 3.5, width: width - 3.5, ..words }, 0.8, out);
                if let Some(c) = out.get_mut(start) {
                    let dot = Contour::circle(Point::new(1.2, -TEXT * LEADING / 2.0), 0.45);
                    c.items.push(Item::filled(Layer::Text, Shape::contour(&dot), Ink::BLACK));
                }
            }
        }
        Block::Facts(list) => facts(m, list, 0.0, width, out),
        Block::Table(t) => table::set(m, t, width, out),
        Block::Entry(e) => finding(m, e, width, out),
        Block::Figure(f) => {
            let mut c = Chunk::new(2.0);
            c.height = f.drawing.pages.first().map_or(0.0, |p| p.height);
            c.picture = Some(f.drawing.clone());
            out.push(c);
            para(m, &f.title, words, 1.2, out);
        }
        Block::Sign(list) => list.iter().for_each(|s| out.push(sign(s, width))),
    }
}

/// A heading: stays with what follows.
pub(super) fn head(m: &Measure, words: &str, set: Set, space: f64, out: &mut Vec<Chunk>) {
    let start = out.len();
    para(m, words, set, space, out);
    for c in out.iter_mut().skip(start) {
        c.keep = true;
    }
}

/// A paragraph: its lines, the first two and the last two together.
pub(super) fn para(m: &Measure, words: &str, set: Set, space: f64, out: &mut Vec<Chunk>) {
    let lines = m.wrap(words, set.height, set.weight, set.width);
    let n = lines.len();
    for (k, line) in lines.iter().enumerate() {
        let mut c = Chunk::new(if k == 0 { space } else { 0.0 });
        c.height = set.step();
        c.items.push(set.line(0.0, line));
        c.keep = n > 1 && (k == 0 || k + 2 == n);
        out.push(c);
    }
}

/// Words in a box.
fn strong(m: &Measure, words: &str, width: f64, out: &mut Vec<Chunk>) {
    let set = Set::words(2.4, 3.0, width - 6.0).bold();
    let mut c = Chunk::new(2.5);
    let lines = m.wrap(words, set.height, set.weight, set.width);
    for (k, line) in lines.iter().enumerate() {
        c.items.push(set.line(1.6 + set.step() * k as f64, line));
    }
    c.height = 3.2 + set.step() * lines.len() as f64;
    let frame = Contour::rect(Point::new(width / 2.0, -c.height / 2.0), width - 0.7, c.height - 0.7, 0.0);
    c.items.push(Item::stroked(Layer::Frame, Shape::Path(frame), Stroke::solid(0.7)));
    out.push(c);
}

/// Names and values side by side, a thin line below each.
fn facts(m: &Measure, list: &[(String, String)], left: f64, width: f64, out: &mut Vec<Chunk>) {
    let name = Set::words(TEXT, left, NAMES - 2.0);
    let value = Set::words(TEXT, left + NAMES, width - left - NAMES);
    for (k, (n, v)) in list.iter().enumerate() {
        let names = m.wrap(n, name.height, name.weight, name.width);
        let values = m.wrap(v, value.height, value.weight, value.width);
        let lines = names.len().max(values.len()).max(1);
        for row in 0..lines {
            let mut c = Chunk::new(if k == 0 && row == 0 { 1.4 } else { 0.0 });
            c.height = name.step();
            c.items.extend(names.get(row).map(|l| grey(name.line(0.0, l))));
            c.items.extend(values.get(row).map(|l| value.line(0.0, l)));
            c.keep = lines > 1 && row + 1 < lines && lines < 12;
            if row + 1 == lines {
                c.height += 0.5;
                c.items.push(rule(left, width, c.height - 0.15, Stroke::solid(0.1).ink(Ink::LIGHT)));
            }
            out.push(c);
        }
    }
}

/// A level line `down` mm below the top.
pub(super) fn rule(from: f64, to: f64, down: f64, stroke: Stroke) -> Item {
    Item::stroked(Layer::Frame, Shape::line(Point::new(from, -down), Point::new(to, -down)), stroke)
}

fn grey(mut item: Item) -> Item {
    item.fill = Some(Ink(70));
    item
}

/// One finding: verdict and name, what is asked, everything known; a bar beside all of it.
fn finding(m: &Measure, e: &Finding, width: f64, out: &mut Vec<Chunk>) {
    let start = out.len();
    let set = Set::words(2.3, BAR, width - BAR).bold();
    let word = e.verdict.to_uppercase();
    let wide = m.width(&word, 1.9, Weight::Bold) + 3.0;
    let title = Set { left: BAR + wide + 2.0, width: width - BAR - wide - 2.0, ..set };
    for (k, line) in m.wrap(&e.name, title.height, title.weight, title.width).iter().enumerate() {
        let mut c = Chunk::new(if k == 0 { 4.0 } else { 0.0 });
        c.height = set.step() + 0.6;
        c.items.push(title.line(0.3, line));
        if k == 0 {
            let b = Rect::new(BAR, -c.height + 0.4, BAR + wide, -0.4);
            let frame = Shape::Path(Contour::rect(b.center(), b.width(), b.height(), 0.0));
            c.items.push(Item::stroked(Layer::Frame, frame, Stroke::solid(0.35)));
            let mut t = Text::new(b.center(), 1.9, Anchor::CENTRE, word.clone());
            t.weight = Weight::Bold;
            c.items.push(Item::text(Layer::Text, t));
        }
        out.push(c);
    }
    para(m, &e.asks, Set::words(TEXT, BAR, width - BAR), 0.3, out);
    facts(m, &e.facts, BAR, width, out);
    let end = out.len();
    for (k, c) in out.iter_mut().enumerate().skip(start) {
        c.keep = k + 1 < end;
        let above = if k == start { 0.0 } else { c.space };
        c.items.extend(bar(e.verdict, c.height + above, above));
    }
}

/// The bar of a verdict, as the front view draws it: black, slanted lines, level lines, a thin line.
fn bar(verdict: &str, tall: f64, above: f64) -> Vec<Item> {
    let b = Contour::rect(Point::new(1.25, above - tall / 2.0), 2.5, tall, 0.0);
    let hatch = |spacing: f64, angle: f64| {
        let shape = Shape::Hatch { contours: vec![b.clone()], spacing, angle };
        vec![Item::stroked(Layer::Hatch, shape, Stroke::solid(0.25))]
    };
    match verdict {
        "fail" => vec![Item::filled(Layer::Hatch, Shape::Path(b.clone()), Ink::BLACK)],
        "tight" => hatch(1.1, 45.0),
        "withheld" => hatch(1.3, 0.0),
        _ => vec![Item::stroked(
            Layer::Hatch,
            Shape::line(Point::new(2.0, above), Point::new(2.0, above - tall)),
            Stroke::solid(0.35),
        )],
    }
}

/// Who, and three lines to write on.
fn sign(s: &Sign, width: f64) -> Chunk {
    let mut c = Chunk::new(6.0);
    c.height = 15.0;
    c.items.push(Set::words(2.2, 0.0, width).bold().line(0.0, s.who));
    let mut x = 0.0;
    for (words, part) in [(s.means, 0.42), ("signature", 0.36), ("date", 0.22)] {
        let to = x + part * width - 4.0;
        c.items.push(rule(x, to, 11.0, Stroke::solid(0.18)));
        c.items.push(grey(Set::words(1.6, x, to - x).line(11.4, words)));
        x += part * width;
    }
    c
}

/// A picture as a group of a page.
pub(super) fn picture(drawing: &Drawing, left: f64, top: f64) -> Option<Entry> {
    let page = drawing.pages.first()?;
    let items: Vec<Item> = page
        .items
        .iter()
        .flat_map(|e| match e {
            Entry::Item(i) => vec![i.clone()],
            Entry::Group(g) => g.items.to_vec(),
        })
        .collect();
    let shift = Vec2::new(left, top - page.height);
    Some(Entry::Group(Group { clip: None, scale_x: 1.0, scale_y: 1.0, shift, items: Arc::from(items) }))
}
