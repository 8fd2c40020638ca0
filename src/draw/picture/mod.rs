//! A picture of one instrument: its front, its side with what stands before and behind the sheet, and in words
//! what leaves it, what the pilot touches and what is not known of it.

mod view;
mod words;

use super::template::column::flow;
use super::template::placer::Placer;
use super::template::words::fitted;
use super::{Anchor, Drawing, Entry, Item, Layer, Page, Text, Units, Weight};
use crate::geom::{Point, Rect};
use crate::panel::{Class, Part, Subject};
use view::View;
pub use words::deepest;

/// Paper left white, mm.
const MARGIN: f64 = 8.0;
/// Width of what stands on the page, mm.
const WIDE: f64 = 176.0;
/// Paper under the two views for dimensions and captions, mm.
const UNDER: f64 = 18.0;
/// Paper over them for the title, mm.
const OVER: f64 = 16.0;
/// Letter height of captions and dimensions, mm.
const LETTERS: f64 = 1.8;

/// The picture of an instrument that stands somewhere on a panel (or alone). Scaled, not to cut from.
pub fn picture(subject: &Subject) -> Drawing {
    let marks = marks(subject);
    let view = View::of(subject);
    let blocks = words::blocks(subject, &marks);
    let tall_words = flow(&blocks, 0.0, 0.0, WIDE, Layer::Text).1;
    let base = MARGIN + tall_words + UNDER;
    let (width, height) = (WIDE + 2.0 * MARGIN, base + view.height() + OVER + MARGIN);
    let mut items = Vec::new();
    let title = format!("{}, {}", subject.title, view.ratio());
    let at = Point::new(MARGIN, height - MARGIN - 3.5);
    let letters = fitted(&title, 3.5, Weight::Bold, WIDE);
    items.push(Item::text(Layer::Frame, Text::new(at, letters, Anchor::LEFT, title.clone()).bold()));
    let at = Point::new(MARGIN, height - MARGIN - 8.0);
    let standing = words::standing(subject);
    let letters = fitted(&standing, LETTERS, Weight::Regular, WIDE);
    items.push(Item::text(Layer::Frame, Text::new(at, letters, Anchor::LEFT, standing)));
    items.extend(flow(&blocks, MARGIN, MARGIN + tall_words, WIDE, Layer::Text).0);
    let front = view.front(Point::new(MARGIN, base));
    let side = view.side(Point::new(MARGIN, base));
    let area = Rect::new(MARGIN, base - 1.5, width - MARGIN, base + view.height() + 4.0);
    let mut placer = Placer::new(area);
    placer.block_items(&items);
    for (drawn, keep) in [(front, true), (side, false)] {
        placer.block_items(&drawn.texts);
        for line in drawn.lines {
            placer.line(line);
        }
        items.extend(drawn.items);
        items.extend(drawn.texts);
        for (k, (mark, _)) in marks.iter().enumerate() {
            let spot = drawn.spots.iter().find(|s| s.0 == k);
            // a mark without room is still in the list below
            if let Some(Ok(set)) = spot.map(|(_, label)| placer.place(label.named(mark, keep))) {
                items.extend(set);
            }
        }
    }
    let page =
        Page { name: "picture".into(), width, height, items: items.into_iter().map(Entry::Item).collect() };
    Drawing { title, pages: vec![page], meta: Vec::new(), units: Units::Millimetre }
}

/// The parts that are listed by a mark: what leaves it by letters, what is touched by numbers.
fn marks(subject: &Subject) -> Vec<(String, &Part)> {
    let of = |class: Class| subject.parts.iter().filter(move |p| p.class == class);
    let letter = |k: usize| match u8::try_from(k).ok().filter(|k| *k < 26) {
        Some(k) => char::from(b'A' + k).to_string(),
        None => format!("A{}", k - 24),
    };
    let ports = of(Class::Port).enumerate().map(|(k, p)| (letter(k), p));
    ports.chain(of(Class::Front).enumerate().map(|(k, p)| ((k + 1).to_string(), p))).collect()
}
