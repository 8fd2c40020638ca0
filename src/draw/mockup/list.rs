//! The first pages of a kit: how it is used, every body with its pieces and pages, what has no net, cautions.

use super::body::Case;
use super::tiles::Placed;
use crate::draw::template::Paper;
use crate::draw::template::column::{Block, Piece, divided, flow};
use crate::draw::template::page::MARGIN;
use crate::draw::template::strip::CAUTIONS;
use crate::draw::template::words::mm;
use crate::draw::{Entry, Layer, Page};
use crate::panel::Panel;

/// What a person must know, in the order of the work.
const HOW: [&str; 9] = [
    "Print at 100 % and measure both scale bars of a page with a steel rule before cutting.",
    "Cut along the solid outlines. Score the dashed lines and fold them back, so that the printed side is outside.",
    "Tabs along the front edge of a strip fold outwards: they are stuck on the back of the card. All others fold \
     inwards and are glued inside.",
    "Dash-dot lines: no fold; the neighbouring piece is glued on up to there. Dotted lines: between them the paper is \
     rolled. A round case is one strip, rolled until its edge meets the dash-dot line, and a disc.",
    "A strip is walked clockwise as seen from the seat; its front edge is the one with the tabs for the card, or the \
     one on which the front hangs. A back is drawn as it is seen from behind.",
    "Connectors have nets of their own: stick each on its place, drawn on the back that it leaves.",
    "Depths count from the panel's front face. A card is thinner or thicker than the sheet: what matters is that the \
     back ends at its depth, measured from the card's front.",
    "Stand the card in the aeroplane and look for ribs, hoses and the controls over their whole travel, with the seats \
     occupied and the doors shut.",
    "Paper bends: it shows what is in the way, it proves no clearance. panelwright check works those out.",
];

/// The pages.
pub(super) fn pages(
    panel: &Panel,
    size: (f64, f64),
    paper: Paper,
    cases: &[Case],
    placed: &Placed,
    without: &[String],
) -> Vec<Page> {
    let (w, h) = size;
    let inner = w - 2.0 * MARGIN;
    let mut blocks: Vec<Block> = Vec::new();
    let title = format!(
        "{}: mock-up kit, 1:1, {} pages of pieces on {}",
        panel.name,
        placed.pages.len(),
        paper.name()
    );
    let how = HOW.iter().enumerate().map(|(k, w)| Piece::words(format!("{}. {w}", k + 1)));
    blocks.push(std::iter::once(Piece::head(title)).chain(how).collect());
    blocks.push(std::iter::once(Piece::head("Cautions")).chain(CAUTIONS.map(Piece::words)).collect());
    let head = ["no", "what", "size", "depth from - to", "pieces (pages)"].map(str::to_owned).to_vec();
    let room = h - 2.0 * MARGIN;
    let mut table = vec![head.clone()];
    for (k, c) in cases.iter().enumerate() {
        let mut longer = table.clone();
        longer.push(row(k + 1, c, placed));
        let tall = flow(&[block(&longer)], 0.0, 0.0, inner, Layer::Frame).1;
        if tall > room && table.len() > 1 {
            blocks.push(block(&table));
            longer = vec![head.clone(), row(k + 1, c, placed)];
        }
        table = longer;
    }
    blocks.push(block(&table));
    if !without.is_empty() {
        let head = Piece::head("No net (an empty place behind the card is no free room)");
        blocks.push(std::iter::once(head).chain(without.iter().map(Piece::words)).collect());
    }
    let blocks = divided(&blocks, inner, room);
    let mut pages: Vec<Page> = Vec::new();
    let mut rest = blocks.as_slice();
    while !rest.is_empty() {
        let fits = |n: usize| flow(rest.get(..n).unwrap_or(rest), 0.0, 0.0, inner, Layer::Frame).1 <= room;
        let n = (1..=rest.len()).rev().find(|n| fits(*n)).unwrap_or(1);
        let (now, later) = rest.split_at(n);
        let (items, _) = flow(now, MARGIN, h - MARGIN, inner, Layer::Frame);
        let name = if pages.is_empty() { "list".to_owned() } else { format!("list {}", pages.len() + 1) };
        pages.push(Page { name, width: w, height: h, items: items.into_iter().map(Entry::Item).collect() });
        rest = later;
    }
    pages
}

fn block(table: &[Vec<String>]) -> Block {
    vec![Piece::Table(vec![0.08, 0.4, 0.18, 0.16, 0.18], table.to_vec())]
}

fn row(number: usize, c: &Case, placed: &Placed) -> Vec<String> {
    let b = c.section.bounds();
    let size = match c.section.as_circle() {
        Some((_, r)) => format!("round {}", mm(2.0 * r)),
        None => format!("{} x {}", mm(b.width()), mm(b.height())),
    };
    let own: Vec<_> = placed.list.iter().filter(|p| p.of == c.id).collect();
    let names = match (own.first(), own.last()) {
        (Some(a), Some(b)) if own.len() > 1 => format!("{} to {}", a.name, b.name),
        (Some(a), _) => a.name.clone(),
        _ => String::new(),
    };
    let mut pages: Vec<usize> = own.iter().flat_map(|p| p.pages.0..=p.pages.1).collect();
    pages.sort();
    pages.dedup();
    let pages: Vec<String> = pages.iter().map(usize::to_string).collect();
    let kind = if c.connector { "connector" } else { "body" };
    vec![
        number.to_string(),
        format!("{} ({kind})", c.id),
        size,
        format!("{} - {}", mm(c.from), mm(c.to)),
        format!("{names} ({})", pages.join(", ")),
    ]
}
