//! The pages of a tiled template: a cover with map and words, then every tile with its own bars.

use super::bars::{self, ACROSS, Axis};
use super::column::{Block, divided, flow};
use super::grid::{Grid, WORDS};
use super::map::map;
use super::page::MARGIN;
use super::stamp;
use super::strip::Said;
use super::words::{fitted, trimmed};
use crate::draw::{Anchor, Dash, Entry, Group, Ink, Item, Layer, Page, Shape, Stroke, Text, Weight};
use crate::geom::{Contour, Point, Rect, Vec2};
use std::sync::Arc;

/// Greatest height of the map on the cover, mm.
const MAP: f64 = 70.0;

/// All pages. `content` is shared by the tiles.
pub(super) fn pages(
    said: &Said<'_>,
    grid: &Grid,
    content: Vec<Item>,
    marks: &[Point],
    blocks: &[Block],
    stamps: &[String],
) -> Vec<Page> {
    let contours: Vec<Contour> = std::iter::once(&said.plan.outline)
        .chain(said.plan.contours.iter().map(|(_, c, _)| c))
        .map(|c| said.view.way.contour(c))
        .collect();
    let mut items = content;
    for p in marks {
        items.extend(register(*p, grid.overlap));
    }
    let content: Arc<[Item]> = items.into();
    let mut pages = covers(said, grid, &contours, blocks, stamps);
    for tile in grid.tiles() {
        pages.push(page(said, grid, tile, &content, &contours, stamps));
    }
    pages
}

/// A register mark: a cross in a ring, the same on both tiles of a seam.
fn register(at: Point, overlap: f64) -> Vec<Item> {
    let r = (overlap / 5.0).clamp(1.0, 2.0);
    let thin = Stroke::solid(0.13);
    let line = |d: Vec2| Item::stroked(Layer::Register, Shape::line(at - d, at + d), thin);
    vec![
        Item::stroked(Layer::Register, Shape::Circle { centre: at, radius: r }, thin),
        line(Vec2::new(2.0 * r, 0.0)),
        line(Vec2::new(0.0, 2.0 * r)),
    ]
}

/// Cover pages: the map once, the words on as many pages as they need.
fn covers(
    said: &Said<'_>,
    grid: &Grid,
    contours: &[Contour],
    blocks: &[Block],
    stamps: &[String],
) -> Vec<Page> {
    let (w, h) = grid.paper;
    let inner = w - 2.0 * MARGIN;
    let mut pages = Vec::new();
    let blocks = divided(blocks, inner, h / 2.0);
    let mut rest = blocks.as_slice();
    while !rest.is_empty() || pages.is_empty() {
        let first = pages.is_empty();
        let mut items = Vec::new();
        let mut top = h - MARGIN;
        if first {
            let tiles = grid.count.0 * grid.count.1;
            let words = format!(
                "{tiles} pages of {}, {} across and {} down; overlap {} mm. Tape them so that the ringed crosses lie on \
                 each other",
                said.opts.paper.name(),
                grid.count.0,
                grid.count.1,
                trimmed(grid.overlap, 1)
            );
            let height = fitted(&words, 2.5, Weight::Bold, inner);
            let at = Point::new(MARGIN, top - height);
            items.push(Item::text(Layer::Register, Text::new(at, height, Anchor::LEFT, words).bold()));
            top -= height + 4.0;
            let tall = MAP.min(h / 3.0);
            items.extend(map(grid, contours, Rect::new(MARGIN, top - tall, w - MARGIN, top), None));
            top -= tall + 5.0;
        }
        let fits =
            |n: usize| flow(rest.get(..n).unwrap_or(rest), 0.0, 0.0, inner, Layer::Frame).1 <= top - MARGIN;
        let n = (1..=rest.len()).rev().find(|n| fits(*n)).unwrap_or(1).min(rest.len());
        let (now, later) = rest.split_at(n);
        items.extend(flow(now, MARGIN, top, inner, Layer::Frame).0);
        rest = later;
        let name = if first { "cover".to_owned() } else { format!("cover {}", pages.len() + 1) };
        // a group is painted after what stands loose before it: the stamps stay under the words
        let over = Group { clip: None, scale_x: 1.0, scale_y: 1.0, shift: Vec2::ZERO, items: items.into() };
        let under = stamp::across(stamps, w, h).into_iter().map(Entry::Item);
        let items = under.chain(std::iter::once(Entry::Group(over))).collect();
        pages.push(Page { name, width: w, height: h, items });
    }
    pages
}

/// One tile.
fn page(
    said: &Said<'_>,
    grid: &Grid,
    tile: (u32, u32),
    content: &Arc<[Item]>,
    contours: &[Contour],
    stamps: &[String],
) -> Page {
    let (w, h) = grid.paper;
    let (sx, sy) = grid.scale;
    let window = grid.on_page();
    let shown = grid.shown(tile.0, tile.1);
    let mut items: Vec<Entry> = stamp::across(stamps, w, h).into_iter().map(Entry::Item).collect();
    items.push(Entry::Group(Group {
        clip: Some(window),
        scale_x: sx,
        scale_y: sy,
        shift: Vec2::new(window.x0 - shown.x0 * sx, window.y0 - shown.y0 * sy),
        items: content.clone(),
    }));
    // the bars stand in a group of the same scale as the contours: what is wrong with one is with both
    let corner = Vec2::new(MARGIN, MARGIN + WORDS);
    let mut rules = bars::bar(Point::new(ACROSS, 0.0), Axis::X, window.width() / sx);
    let down = WORDS / sy;
    rules.extend(bars::bar(Point::new(0.0, -down), Axis::Y, (h - 2.0 * MARGIN) / sy));
    items.push(Entry::Group(Group {
        clip: None,
        scale_x: sx,
        scale_y: sy,
        shift: corner,
        items: rules.into(),
    }));
    items.extend(edges(grid, tile, window).into_iter().map(Entry::Item));
    items.extend(words(said, grid, tile, contours).into_iter().map(Entry::Item));
    Page { name: format!("tile {}", grid.name(tile.0, tile.1)), width: w, height: h, items }
}

/// Trim line around the window, and where the neighbour's begins.
fn edges(grid: &Grid, tile: (u32, u32), window: Rect) -> Vec<Item> {
    let grey = Stroke::solid(0.13).ink(Ink::GREY);
    let edge = Shape::Path(Contour::rect(window.center(), window.width(), window.height(), 0.0));
    let mut items = vec![Item::stroked(Layer::Register, edge, grey)];
    let (ox, oy) = (grid.overlap * grid.scale.0, grid.overlap * grid.scale.1);
    let mut line = |a: (f64, f64), b: (f64, f64)| {
        items.push(Item::stroked(Layer::Register, Shape::line(a.into(), b.into()), grey.dash(Dash::Chain)));
    };
    if grid.overlap > 0.0 {
        if tile.0 > 0 {
            line((window.x0 + ox, window.y0), (window.x0 + ox, window.y1));
        }
        if tile.0 + 1 < grid.count.0 {
            line((window.x1 - ox, window.y0), (window.x1 - ox, window.y1));
        }
        if tile.1 > 0 {
            line((window.x0, window.y1 - oy), (window.x1, window.y1 - oy));
        }
        if tile.1 + 1 < grid.count.1 {
            line((window.x0, window.y0 + oy), (window.x1, window.y0 + oy));
        }
    }
    items
}

/// Name of the tile, what it belongs to, and the map, below the window.
fn words(said: &Said<'_>, grid: &Grid, tile: (u32, u32), contours: &[Contour]) -> Vec<Item> {
    let x = MARGIN + ACROSS * grid.scale.0 + 2.0;
    let top = MARGIN + WORDS - 2.0;
    let right = grid.paper.0 - MARGIN;
    let mut items = Vec::new();
    let name = grid.name(tile.0, tile.1);
    let big = fitted(&name, 9.0, Weight::Bold, 22.0);
    items.push(Item::text(
        Layer::Register,
        Text::new(Point::new(x, top - 9.0), big, Anchor::LEFT, name).bold(),
    ));
    let count = format!("of {}", grid.count.0 * grid.count.1);
    items.push(Item::text(Layer::Register, Text::new(Point::new(x, top - 14.5), 2.0, Anchor::LEFT, count)));
    let chart = Rect::new(right - 38.0, MARGIN, right, top);
    items.extend(map(grid, contours, chart, Some(tile)));
    let (from, to) = (x + 25.0, chart.x0 - 3.0);
    let mut lines = vec![
        (format!("{}, {}", said.panel.name, said.sheet.id), 2.5, Weight::Bold),
        (said.kind(), 2.2, Weight::Bold),
        (said.line(), 1.8, Weight::Regular),
    ];
    match (said.standing.notice(), &said.standing.lifted) {
        (Some(n), _) => lines.push((n, 2.2, Weight::Bold)),
        (None, Some((because, by))) => {
            let words = format!("cut in spite of {}: {because} ({by})", said.standing.against.join(", "));
            lines.push((words, 1.8, Weight::Regular));
        }
        (None, None) => {}
    }
    let caution = "measure both bars first; check every number against your own parts; cautions on the cover";
    lines.push((caution.to_owned(), 1.8, Weight::Regular));
    let mut y = top;
    for (words, height, weight) in lines {
        let height = fitted(&words, height, weight, to - from);
        let mut t = Text::new(Point::new(from, y), height, Anchor::TOP_LEFT, words);
        t.weight = weight;
        items.push(Item::text(Layer::Register, t));
        y -= 3.5;
    }
    items
}
