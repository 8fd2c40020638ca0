//! One page that holds everything: content, bars, words.

use super::bars::{self, Axis};
use super::column::{Block, flow};
use super::stamp;
use crate::draw::{Entry, Group, Item, Layer, Page};
use crate::geom::{Point, Vec2};

/// Paper that printers leave white, mm.
pub(in crate::draw) const MARGIN: f64 = 10.0;
/// Least inner size of a page made to measure, so that both bars are 250 mm long, mm.
pub(super) const LEAST: (f64, f64) = (278.0, 262.0);

/// A laid-out page without its margins: lower left corner (0, 0).
pub(super) struct Laid {
    /// Inner width, mm.
    pub width: f64,
    /// Inner height, mm.
    pub height: f64,
    /// Items in inner coordinates.
    pub items: Vec<Item>,
}

/// Lays content of a size, with its words below, on an inner page at least `least` large; `bars` draws them.
pub(super) fn lay(
    content: &[Item],
    size: (f64, f64),
    blocks: &[Block],
    least: (f64, f64),
    with_bars: bool,
) -> Laid {
    let bar = if with_bars { bars::ACROSS } else { 0.0 };
    let width = (size.0 + bar).max(least.0);
    let (_, tall) = flow(blocks, 0.0, 0.0, width - bar - 4.0, Layer::Frame);
    let below = tall + 4.0 + bar;
    let height = (size.1 + below).max(least.1);
    // spare height goes between the words and the drawing's top
    let base = height - size.1;
    let mut items: Vec<Item> = content.iter().map(|i| moved(i, Vec2::new(bar, base))).collect();
    let (words, _) = flow(blocks, bar + 4.0, base - bar - 4.0, width - bar - 4.0, Layer::Frame);
    items.extend(words);
    if with_bars {
        items.extend(bars::bar(Point::new(bar, base - bar), Axis::X, width - bar));
        items.extend(bars::bar(Point::new(0.0, 0.0), Axis::Y, height));
    }
    Laid { width, height, items }
}

/// A page with margins around a laid-out inner page, drawn larger by the printer's correction.
pub(super) fn page(
    name: &str,
    laid: Laid,
    paper: Option<(f64, f64)>,
    scale: (f64, f64),
    stamps: &[String],
) -> Page {
    let (w, h) = (laid.width * scale.0, laid.height * scale.1);
    let (width, height) = paper.unwrap_or((w + 2.0 * MARGIN, h + 2.0 * MARGIN));
    // spare paper to the right and below, as on a drawing that starts at the upper left
    let shift = Vec2::new(MARGIN, height - MARGIN - h);
    let mut items: Vec<Entry> = stamp::across(stamps, width, height).into_iter().map(Entry::Item).collect();
    items.push(Entry::Group(Group {
        clip: None,
        scale_x: scale.0,
        scale_y: scale.1,
        shift,
        items: laid.items.into(),
    }));
    Page { name: name.to_owned(), width, height, items }
}

/// The same item elsewhere.
pub(super) fn moved(item: &Item, by: Vec2) -> Item {
    let mut out = item.clone();
    out.shape = super::shape::shifted(&item.shape, by);
    out
}
