//! The shop file: closed contours on the cut layer, and on layers that no machine cuts only what the shop
//! must read: unit, a line to measure, sheet, thickness, kerf, revision, notice, cautions.
//!
//! Coordinates: the box of the contours starts at (`MARGIN`, `MARGIN` + the words below it); the datum is
//! marked and told in words.

use super::content::{self, Subject};
use super::kerf;
use super::standing::count_words;
use super::strip::{Said, role};
use super::words::{both, inch, mm, short_hash, thickness};
use crate::draw::{Anchor, Entry, Item, Layer, Page, Shape, Stroke, Text};
use crate::geom::{Point, Rect, Vec2};

/// Paper around, mm.
const MARGIN: f64 = 10.0;
/// Letter height of the words, mm.
const LETTERS: f64 = 3.0;
/// Length of the line that is measured, mm.
const UNIT_LINE: f64 = 100.0;

/// The page of a shop file.
pub(super) fn page(s: &Subject<'_>, said: &Said<'_>) -> Result<Page, super::TemplateError> {
    let kept = |i: &Item| matches!(i.layer, Layer::Cut | Layer::Mark | Layer::Existing | Layer::Engrave);
    let drawn: Vec<Item> = content::lines(s)?.into_iter().filter(kept).collect();
    let cut: Vec<Rect> = drawn.iter().filter(|i| i.layer.is_cut()).filter_map(|i| i.shape.bounds()).collect();
    let all = drawn.iter().filter_map(|i| i.shape.bounds()).reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO);
    let mut lines = words(s, said, &cut);
    // one more line tells the datum, whose place depends on the room that the words take
    let tall = LETTERS * 1.7 * (lines.len() + 1) as f64 + 16.0;
    let shift = Vec2::new(MARGIN - all.x0, MARGIN + tall - all.y0);
    let mut items: Vec<Item> = drawn.iter().map(|i| super::page::moved(i, shift)).collect();
    let datum = s.view.way.point(Point::ORIGIN) + shift;
    lines.push(format!(
        "the panel's datum (0, 0) stands at x {}, y {} of this file",
        both(datum.x),
        both(datum.y)
    ));
    let width = lines
        .iter()
        .map(|l| crate::draw::text::width(l, LETTERS, crate::draw::Weight::Regular))
        .fold(all.width().max(UNIT_LINE), f64::max)
        + 2.0 * MARGIN;
    let height = all.height() + tall + 2.0 * MARGIN;
    if Rect::new(0.0, 0.0, width, height).contains(datum) {
        for d in [Vec2::new(4.0, 0.0), Vec2::new(0.0, 4.0)] {
            items.push(Item::stroked(
                Layer::Register,
                Shape::line(datum - d, datum + d),
                Stroke::solid(0.13),
            ));
        }
    }
    let mut y = MARGIN + tall - 6.0 - LETTERS;
    for line in lines {
        let layer = if line.starts_with("NOT FOR") { Layer::Notice } else { Layer::Text };
        items.push(Item::text(layer, Text::new(Point::new(MARGIN, y), LETTERS, Anchor::LEFT, line)));
        y -= LETTERS * 1.7;
    }
    unit_line(Point::new(MARGIN, y - 1.0), &mut items);
    let items = items.into_iter().map(Entry::Item).collect();
    Ok(Page { name: said.sheet.id.clone(), width, height, items })
}

/// A line of stated length with end ticks.
fn unit_line(at: Point, items: &mut Vec<Item>) {
    let end = at + Vec2::new(UNIT_LINE, 0.0);
    let thin = Stroke::solid(0.18);
    items.push(Item::stroked(Layer::Scale, Shape::line(at, end), thin));
    for p in [at, end] {
        let d = Vec2::new(0.0, 1.5);
        items.push(Item::stroked(Layer::Scale, Shape::line(p - d, p + d), thin));
    }
}

/// What the shop reads.
fn words(s: &Subject<'_>, said: &Said<'_>, cut: &[Rect]) -> Vec<String> {
    let (p, sheet) = (said.panel, said.sheet);
    let material = sheet.material.as_deref().unwrap_or("material not given");
    let revision = p.title.get("revision").unwrap_or("not given");
    let mut lines = Vec::new();
    if let Some(n) = said.standing.notice() {
        lines.push(n);
    } else if let Some((because, by)) = &said.standing.lifted {
        lines.push(format!("cut in spite of {}: {because} ({by})", said.standing.against.join(", ")));
    }
    lines.push(format!("{}, {} ({}), {}", p.name, sheet.id, role(sheet.role), s.view.face.words()));
    lines.push(format!(
        "{material}, {}; {}",
        thickness(sheet),
        kerf::statement(p.subject_process(sheet.subject), s.offset)
    ));
    lines.push(format!(
        "revision {revision}; inputs {}; verdicts: {}",
        short_hash(p),
        count_words(&said.standing.counts)
    ));
    let size = cut.iter().copied().reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO);
    lines.push(format!(
        "cut layer: {} closed contours within {} x {} mm ({} x {} in)",
        cut.len(),
        mm(size.width()),
        mm(size.height()),
        inch(size.width()),
        inch(size.height())
    ));
    let unit = super::units(p);
    lines.push(format!(
        "unit of this file: {}; the line below is {} mm = {} in long: measure it",
        unit.word(),
        mm(UNIT_LINE),
        inch(UNIT_LINE)
    ));
    lines.push("check every number against your own instruments and airframe before cutting".into());
    lines.push("this file advises, it approves nothing: the licensed person who signs decides".into());
    lines
}
