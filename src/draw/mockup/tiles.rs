//! Pieces on pages: as many as a page holds, none over another; a piece larger than a page on several that overlap.
//! Every page carries its scale bars.

use super::piece::Piece;
use crate::draw::template::bars::{self, ACROSS, Axis};
use crate::draw::template::page::MARGIN;
use crate::draw::template::shape::shifted;
use crate::draw::template::words::{fitted, short_hash};
use crate::draw::{Anchor, Dash, Entry, Group, Ink, Item, Layer, Page, Shape, Stroke, Text, Weight};
use crate::geom::{Contour, Point, Rect, Vec2};
use crate::panel::Panel;
use std::sync::Arc;

/// Room for the words under the bars, mm.
const WORDS: f64 = 5.0;
/// Paper between two pieces, mm.
const GAP: f64 = 4.0;
/// How far the pages of one piece overlap, mm.
const OVERLAP: f64 = 10.0;

/// Where pieces lie on a page of a size.
fn window(size: (f64, f64)) -> Rect {
    Rect::new(MARGIN + ACROSS, MARGIN + WORDS + ACROSS, size.0 - MARGIN, size.1 - MARGIN)
}

/// Width and height that a page of a size has for pieces, mm.
pub(super) fn room(size: (f64, f64)) -> (f64, f64) {
    let w = window(size);
    (w.width(), w.height())
}

/// Pages with pieces, and on which each lies.
pub(super) struct Placed {
    /// The pages.
    pub pages: Vec<Page>,
    /// Where each piece is found.
    pub list: Vec<Found>,
}

/// Where a piece is found.
pub(super) struct Found {
    /// Its name.
    pub name: String,
    /// Id of what it belongs to.
    pub of: String,
    /// First and last page.
    pub pages: (usize, usize),
}

/// A row of pieces on a page.
struct Shelf {
    page: usize,
    bottom: f64,
    height: f64,
    used: f64,
}

/// Lays the pieces on pages: higher ones first, each on the first row that has room.
pub(super) fn pages(panel: &Panel, size: (f64, f64), pieces: &[Piece]) -> Placed {
    let room = room(size);
    let mut order: Vec<usize> = (0..pieces.len()).collect();
    let high = |k: usize| pieces.get(k).map_or(0.0, |p| p.size.1);
    order.sort_by(|a, b| high(*b).total_cmp(&high(*a)).then(a.cmp(b)));
    let mut shelves: Vec<Shelf> = Vec::new();
    // height used of each page
    let mut filled: Vec<f64> = Vec::new();
    let mut at: Vec<Option<(usize, Point)>> = vec![None; pieces.len()];
    for k in order {
        let Some(p) = pieces.get(k).filter(|p| p.fits(room)) else { continue };
        let fits = |s: &&mut Shelf| s.used + p.size.0 <= room.0 + 1e-6 && p.size.1 <= s.height + 1e-6;
        let place = match shelves.iter_mut().find(fits) {
            Some(s) => {
                let place = (s.page, Point::new(s.used, s.bottom));
                s.used += p.size.0 + GAP;
                place
            }
            None => {
                let page = filled.iter().position(|f| f + p.size.1 <= room.1 + 1e-6).unwrap_or_else(|| {
                    filled.push(0.0);
                    filled.len() - 1
                });
                let bottom = filled.get(page).copied().unwrap_or(0.0);
                if let Some(f) = filled.get_mut(page) {
                    *f += p.size.1 + GAP;
                }
                shelves.push(Shelf { page, bottom, height: p.size.1, used: p.size.0 + GAP });
                (page, Point::new(0.0, bottom))
            }
        };
        if let Some(slot) = at.get_mut(k) {
            *slot = Some(place);
        }
    }
    let window = window(size);
    let corner = window.origin().to_vec2();
    let mut contents: Vec<Vec<Entry>> = filled.iter().map(|_| Vec::new()).collect();
    let mut list = Vec::new();
    for (p, place) in pieces.iter().zip(at) {
        let pages = match place {
            Some((page, lower_left)) => {
                let by = lower_left.to_vec2() + corner;
                if let Some(content) = contents.get_mut(page) {
                    content.extend(p.items.iter().map(|i| Entry::Item(moved(i, by))));
                }
                (page + 1, page + 1)
            }
            None => {
                let first = contents.len() + 1;
                contents.extend(divided(p, window));
                (first, contents.len())
            }
        };
        list.push(Found { name: p.name.clone(), of: p.of.clone(), pages });
    }
    let count = contents.len();
    let page = |(k, items): (usize, Vec<Entry>)| finished(panel, size, k + 1, count, items);
    Placed { pages: contents.into_iter().enumerate().map(page).collect(), list }
}

fn moved(item: &Item, by: Vec2) -> Item {
    Item { shape: shifted(&item.shape, by), ..item.clone() }
}

/// A piece larger than a page, in windows that overlap.
fn divided(p: &Piece, window: Rect) -> Vec<Vec<Entry>> {
    let count =
        |long: f64, room: f64| ((long - OVERLAP) / (room - OVERLAP) - 1e-9).ceil().clamp(1.0, 1e3) as u32;
    let (columns, rows) = (count(p.size.0, window.width()), count(p.size.1, window.height()));
    let items: Arc<[Item]> = p.items.clone().into();
    let mut pages = Vec::new();
    for row in 0..rows {
        for column in 0..columns {
            let step = Vec2::new(
                f64::from(column) * (window.width() - OVERLAP),
                f64::from(row) * (window.height() - OVERLAP),
            );
            let shift = window.origin().to_vec2() - step;
            let group = Group { clip: Some(window), scale_x: 1.0, scale_y: 1.0, shift, items: items.clone() };
            let mut page = vec![Entry::Group(group)];
            let grey = Stroke::solid(0.13).ink(Ink::GREY);
            let frame = Contour::rect(window.center(), window.width(), window.height(), 0.0);
            page.push(Entry::Item(Item::stroked(Layer::Register, Shape::Path(frame), grey)));
            let mut line = |a: Point, b: Point| {
                let shape = Shape::line(a, b);
                page.push(Entry::Item(Item::stroked(Layer::Register, shape, grey.dash(Dash::Chain))));
            };
            if column > 0 {
                let x = window.x0 + OVERLAP;
                line(Point::new(x, window.y0), Point::new(x, window.y1));
            }
            if column + 1 < columns {
                let x = window.x1 - OVERLAP;
                line(Point::new(x, window.y0), Point::new(x, window.y1));
            }
            if row > 0 {
                let y = window.y0 + OVERLAP;
                line(Point::new(window.x0, y), Point::new(window.x1, y));
            }
            if row + 1 < rows {
                let y = window.y1 - OVERLAP;
                line(Point::new(window.x0, y), Point::new(window.x1, y));
            }
            let words = format!(
                "{}: column {} of {columns} from the left, row {} of {rows} from below; overlaps to the chain lines",
                p.name,
                column + 1,
                row + 1
            );
            let at = Point::new(window.x0 + OVERLAP + 2.0, window.y1 - 2.0);
            let height = fitted(&words, 2.0, Weight::Bold, window.width() - 2.0 * OVERLAP - 4.0);
            page.push(Entry::Item(Item::text(
                Layer::Register,
                Text::new(at, height, Anchor::TOP_LEFT, words).bold(),
            )));
            pages.push(page);
        }
    }
    pages
}

/// A page with its bars and its line of words.
fn finished(panel: &Panel, size: (f64, f64), number: usize, count: usize, items: Vec<Entry>) -> Page {
    let (w, h) = size;
    let mut entries = items;
    let mut rules =
        bars::bar(Point::new(MARGIN + ACROSS, MARGIN + WORDS), Axis::X, w - 2.0 * MARGIN - ACROSS);
    rules.extend(bars::bar(Point::new(MARGIN, MARGIN + WORDS), Axis::Y, h - 2.0 * MARGIN - WORDS));
    let words = format!(
        "{}, mock-up kit, page {number} of {count}. Print at 100 %. Solid: cut. Dashed: fold. Dash-dot: glue up to here. Dotted: rolled from here. Revision {}, inputs {}",
        panel.name,
        panel.title.get("revision").unwrap_or("not given"),
        short_hash(panel)
    );
    let height = fitted(&words, 2.2, Weight::Regular, w - 2.0 * MARGIN);
    rules.push(Item::text(Layer::Text, Text::new(Point::new(MARGIN, MARGIN), height, Anchor::LEFT, words)));
    entries.extend(rules.into_iter().map(Entry::Item));
    Page { name: format!("page {number}"), width: w, height: h, items: entries }
}
