//! Chunks onto pages, and what stands around them: notice, contents, foot, numbers.

use super::chunk::{Chunk, LEADING, Set, TEXT, picture, rule};
use super::text::Measure;
use crate::draw::{Entry, Item, Page, Shape, Stroke, Text, Weight};
use crate::geom::Vec2;
use crate::report::document::Document;

/// From the paper's top to the first line, and from the last line to the paper's bottom, mm.
const TOP: f64 = 18.0;
const BOTTOM: f64 = 18.0;
/// Letter height at head and foot, mm.
const SMALL: f64 = 1.7;

/// Fills pages from the top down.
pub(super) struct Placer<'a> {
    m: &'a Measure,
    doc: &'a Document,
    /// Upright width and height, mm.
    size: (f64, f64),
    side: f64,
    pages: Vec<Page>,
    /// Whether the current page lies.
    lying: bool,
    /// Lower edge of what stands on the current page, mm above the paper's bottom.
    y: f64,
    /// Page on which each section starts.
    starts: Vec<usize>,
    /// Where the contents stand: left top corner on the first page.
    contents: f64,
}

impl<'a> Placer<'a> {
    /// An empty stack of paper.
    pub fn new(m: &'a Measure, doc: &'a Document, size: (f64, f64), side: f64) -> Placer<'a> {
        let mut p = Placer {
            m,
            doc,
            size,
            side,
            pages: Vec::new(),
            lying: false,
            y: 0.0,
            starts: Vec::new(),
            contents: 0.0,
        };
        p.new_page(false);
        p
    }

    fn paper(&self, lying: bool) -> (f64, f64) {
        if lying { (self.size.1, self.size.0) } else { self.size }
    }

    /// Width of the text.
    pub fn width(&self, lying: bool) -> f64 {
        self.paper(lying).0 - 2.0 * self.side
    }

    fn new_page(&mut self, lying: bool) {
        let (width, height) = self.paper(lying);
        let name = format!("page {}", self.pages.len() + 1);
        self.pages.push(Page { name, width, height, items: Vec::new() });
        self.lying = lying;
        self.y = height - TOP;
    }

    fn at_top(&self) -> bool {
        self.y >= self.paper(self.lying).1 - TOP
    }

    /// Title, what report this is, and room for the contents.
    pub fn title(&mut self) {
        let width = self.width(false);
        let mut chunks = Vec::new();
        super::chunk::para(
            self.m,
            &self.doc.title,
            Set { height: 4.6, ..Set::words(0.0, 0.0, width).bold() },
            0.0,
            &mut chunks,
        );
        super::chunk::para(self.m, &self.doc.running, Set::words(TEXT, 0.0, width), 1.0, &mut chunks);
        let mut line = Chunk::new(1.0);
        line.height = 1.0;
        line.items.push(rule(0.0, width, 0.5, Stroke::solid(0.7)));
        chunks.push(line);
        self.put(chunks);
        self.contents = self.y - 2.0;
        let rows = self.doc.sections.len().div_ceil(2);
        self.y -= 4.0 + rows as f64 * TEXT * LEADING;
    }

    /// One section. What lies starts a page of its own, and so does what follows it.
    pub fn section(&mut self, lying: bool, chunks: Vec<Chunk>) {
        if lying != self.lying {
            self.new_page(lying);
        }
        let first = group(&chunks, 0);
        let need: f64 = chunks.iter().take(first).map(|c| c.space + c.height).sum();
        if self.y - need < BOTTOM && !self.at_top() {
            self.new_page(lying);
        }
        self.starts.push(self.pages.len());
        self.put(chunks);
    }

    fn put(&mut self, chunks: Vec<Chunk>) {
        let room = self.paper(self.lying).1 - TOP - BOTTOM;
        let mut k = 0;
        while k < chunks.len() {
            let n = group(&chunks, k);
            let Some(list) = chunks.get(k..k + n) else { break };
            let need: f64 = list.iter().map(|c| c.space + c.height).sum();
            // what no page holds whole is broken where it must be
            let whole = need <= room;
            if whole && self.y - need < BOTTOM && !self.at_top() {
                self.new_page(self.lying);
            }
            for (j, c) in list.iter().enumerate() {
                if self.y - c.space - c.height < BOTTOM && !self.at_top() {
                    self.new_page(self.lying);
                }
                if self.at_top()
                    && let Some(head) = c.head.and_then(|back| (k + j).checked_sub(back))
                    && let Some(h) = chunks.get(head)
                {
                    self.set(h);
                }
                self.set(c);
            }
            k += n;
        }
    }

    fn set(&mut self, c: &Chunk) {
        if !self.at_top() {
            self.y -= c.space;
        }
        let by = Vec2::new(self.side, self.y);
        if let Some(page) = self.pages.last_mut() {
            page.items.extend(c.items.iter().map(|i| Entry::Item(moved(i, by))));
            page.items.extend(c.picture.as_ref().and_then(|d| picture(d, by.x, by.y)));
        }
        self.y -= c.height;
    }

    /// The pages, with contents, heads and feet.
    pub fn finish(mut self) -> Vec<Page> {
        self.list_contents();
        let count = self.pages.len();
        let mut around: Vec<Vec<Item>> = Vec::new();
        for (k, page) in self.pages.iter().enumerate() {
            let width = page.width - 2.0 * self.side;
            let number = format!("page {} of {count}", k + 1);
            let taken = self.m.width(&number, SMALL, Weight::Regular) + 6.0;
            let mut items = Vec::new();
            if let Some(notice) = &self.doc.notice {
                let set = Set::words(SMALL * 1.2, 0.0, width).bold();
                // the first page says it in full below
                let lines = self.m.wrap(notice, set.height, set.weight, set.width);
                items.extend(
                    lines.first().map(|l| moved(&set.line(0.0, l), Vec2::new(self.side, page.height - 9.0))),
                );
            }
            let foot = Vec2::new(self.side, 15.0);
            items.push(moved(&rule(0.0, width, 0.0, Stroke::solid(0.18)), foot));
            let set = Set::words(SMALL, 0.0, width - taken);
            let mut lines = self.m.wrap(&self.doc.running, set.height, set.weight, set.width - 4.0);
            // the first page says it in full
            if lines.len() > 2 {
                lines.truncate(2);
                lines.iter_mut().skip(1).for_each(|l| l.push_str(" ..."));
            }
            for (row, line) in lines.iter().enumerate() {
                items.push(moved(&set.line(0.6 + set.step() * row as f64, line), foot));
            }
            let right = Set { right: true, ..Set::words(SMALL, 0.0, width) };
            items.push(moved(&right.line(0.6, &number), foot));
            around.push(items);
        }
        for (page, items) in self.pages.iter_mut().zip(around) {
            page.items.extend(items.into_iter().map(Entry::Item));
        }
        self.pages
    }

    /// Two columns of headings with their pages.
    fn list_contents(&mut self) {
        let rows = self.doc.sections.len().div_ceil(2);
        let gap = 8.0;
        let each = (self.width(false) - gap) / 2.0;
        let mut items = Vec::new();
        for (k, (s, page)) in self.doc.sections.iter().zip(&self.starts).enumerate() {
            let left = if k < rows { 0.0 } else { each + gap };
            let row = if k < rows { k } else { k - rows };
            let set = Set::words(TEXT, left, each - 10.0);
            let at = Vec2::new(self.side, self.contents - row as f64 * set.step());
            let title = self.m.wrap(&s.title, set.height, set.weight, set.width);
            items.extend(title.first().map(|l| moved(&set.line(0.0, l), at)));
            let right = Set { right: true, ..Set::words(TEXT, left, each) };
            items.push(moved(&right.line(0.0, &page.to_string()), at));
        }
        if let Some(page) = self.pages.first_mut() {
            page.items.extend(items.into_iter().map(Entry::Item));
        }
    }
}

/// How many chunks from here must stand on one page.
fn group(chunks: &[Chunk], from: usize) -> usize {
    chunks.iter().skip(from).take_while(|c| c.keep).count() + 1
}

/// An item of a chunk, where it stands on its page.
fn moved(item: &Item, by: Vec2) -> Item {
    let mut item = item.clone();
    match &mut item.shape {
        Shape::Text(Text { at, .. }) => *at += by,
        Shape::Line(l) => (l.a, l.b) = (l.a + by, l.b + by),
        Shape::Circle { centre, .. } => *centre += by,
        Shape::Path(c) => *c = crate::geom::Transform::shift(by).contour(c),
        Shape::Hatch { contours, .. } => {
            let t = crate::geom::Transform::shift(by);
            contours.iter_mut().for_each(|c| *c = t.contour(c));
        }
        Shape::Picture { at, .. } => *at = *at + by,
        Shape::Arc(a) => (a.centre, a.a, a.b) = (a.centre + by, a.a + by, a.b + by),
        Shape::Chain(list) => {
            let t = crate::geom::Transform::shift(by);
            list.iter_mut().for_each(|s| *s = t.segment(s));
        }
    }
    item
}
