//! The title block with the revisions above it.
//!
//! Metric: the fields of ISO 7200:2004, 180 mm wide (names and width from memory): legal owner, identification
//! number, revision index, date of issue, sheet, language, title, supplementary title, responsible department,
//! technical reference, approval person, creator, document type, document status. Inch: the names that ASME Y14.1
//! uses (from memory), 6 1/4 in wide. What the panel's file does not say stays empty: the program fills in no
//! person, date or number.

use super::flow::wrap;
use super::frame::{line, rect};
use super::paper::{Family, PageSize};
use super::revisions;
use crate::draw::template::words::fitted;
use crate::draw::{Anchor, Item, Layer, Text, Weight};
use crate::geom::{Point, Rect};
use crate::panel::Title;

/// Distance of base lines in letter heights.
const LEADING: f64 = 1.5;
/// Letters of a cell's words that are smaller stand on two lines where there is room, mm.
const LEAST: f64 = 1.8;
/// Letter height of a cell's name, mm.
const SMALL: f64 = 1.8;

/// What the block says beside the panel's own title fields.
#[derive(Clone, Debug)]
pub struct Says<'a> {
    /// The panel's title fields.
    pub title: &'a Title,
    /// Kind of document.
    pub kind: String,
    /// Title where the fields give none.
    pub name: String,
    /// Which sheet of metal, and what of it.
    pub part: String,
    /// Scale in words.
    pub scale: String,
    /// Material.
    pub material: String,
    /// Thickness.
    pub thickness: String,
    /// Coat.
    pub coat: String,
    /// General tolerance.
    pub tolerance: String,
    /// Unit of the numbers.
    pub unit: &'static str,
    /// Verdict counts, or that it is not for cutting.
    pub status: String,
    /// Number of the sheet of paper.
    pub sheet: usize,
    /// How many there are.
    pub sheets: usize,
}

/// A cell: left, width, its name, its words, their height.
struct Cell(f64, f64, &'static str, String, f64);

/// Width of the block.
pub fn width(size: &PageSize) -> f64 {
    match size.family {
        Family::Iso => 180.0,
        Family::Asme => 6.25 * 25.4,
    }
}

/// Room of the block and its revisions, from the frame's corner.
pub fn room(size: &PageSize, says: &Says<'_>) -> Rect {
    let f = size.frame();
    let rows: f64 = rows(size, says).iter().map(|(h, _)| h).sum();
    let revisions = revisions::height(says.title, width(size));
    Rect::new(f.x1 - width(size), f.y0, f.x1, f.y0 + rows + revisions)
}

/// The block in the lower right corner of the frame.
pub fn block(size: &PageSize, says: &Says<'_>) -> Vec<Item> {
    let all = room(size, says);
    let mut items = vec![rect(all, 0.7)];
    let mut y = all.y0;
    for (height, cells) in rows(size, says).into_iter().rev() {
        let top = y + height;
        if y > all.y0 {
            items.push(line(Point::new(all.x0, y), Point::new(all.x1, y), 0.35));
        }
        for Cell(left, wide, name, words, letters) in cells {
            let x = all.x0 + left;
            if left > 0.0 {
                items.push(line(Point::new(x, y), Point::new(x, top), 0.35));
            }
            let room = wide - 2.4;
            let named = fitted(name, SMALL, Weight::Regular, room);
            let at = Point::new(x + 1.2, top - 0.9 - SMALL);
            items.push(Item::text(Layer::Frame, Text::new(at, named, Anchor::LEFT, name)));
            if !words.is_empty() {
                let (lines, letters) = lines(words, letters, room, height - 2.9 - SMALL);
                for (k, line) in lines.into_iter().rev().enumerate() {
                    let at = Point::new(x + 1.2, y + 1.4 + LEADING * letters * k as f64);
                    items.push(Item::text(Layer::Frame, Text::new(at, letters, Anchor::LEFT, line).bold()));
                }
            }
        }
        y = top;
    }
    if !says.title.revisions.is_empty() {
        items.push(line(Point::new(all.x0, y), Point::new(all.x1, y), 0.7));
        items.extend(revisions::table(says.title, Rect::new(all.x0, y, all.x1, all.y1)));
    }
    items
}

/// Words in a cell: lines and their letter height. On one line where it stays readable, else on as many as the
/// room takes, else as small as it must be.
fn lines(words: String, letters: f64, wide: f64, tall: f64) -> (Vec<String>, f64) {
    let one = fitted(&words, letters, Weight::Bold, wide);
    if one >= LEAST {
        return (vec![words], one);
    }
    for height in [2.5, 2.2, 2.0, LEAST] {
        let lines = wrap(&words, height, Weight::Bold, wide);
        if height * (1.0 + LEADING * (lines.len() - 1) as f64) <= tall {
            return (lines, height);
        }
    }
    (vec![words], one)
}

/// Rows of cells from the top: height, cells.
fn rows(size: &PageSize, says: &Says<'_>) -> Vec<(f64, Vec<Cell>)> {
    let get = |key: &str| says.title.get(key).unwrap_or_default().to_owned();
    let title = says.title.get("title").map_or_else(|| says.name.clone(), str::to_owned);
    let second = match says.title.get("supplementary-title") {
        Some(s) => format!("{s}; {}", says.part),
        None => says.part.clone(),
    };
    let kind = says.kind.clone();
    let sheet = format!("{} / {}", says.sheet, says.sheets);
    let format = size.name.to_uppercase();
    let metal = vec![
        Cell(0.0, 58.0, "material", says.material.clone(), 2.5),
        Cell(58.0, 34.0, "thickness", says.thickness.clone(), 2.5),
        Cell(92.0, 26.0, "coat per face", says.coat.clone(), 2.5),
        Cell(118.0, width(size) - 118.0, "general tolerance", says.tolerance.clone(), 2.5),
    ];
    let status = vec![Cell(0.0, width(size), "verdicts of the fit check", says.status.clone(), 3.5)];
    match size.family {
        Family::Iso => vec![
            (10.0, status),
            (8.5, metal),
            (
                8.5,
                vec![
                    Cell(0.0, 40.0, "responsible department", get("department"), 2.5),
                    Cell(40.0, 45.0, "technical reference", get("reference"), 2.5),
                    Cell(85.0, 45.0, "creator", get("drawn-by"), 2.5),
                    Cell(130.0, 50.0, "approval person", get("approved-by"), 2.5),
                ],
            ),
            (
                9.0,
                vec![
                    Cell(0.0, 60.0, "legal owner", get("owner"), 2.5),
                    Cell(60.0, 70.0, "document type", kind, 2.5),
                    Cell(130.0, 50.0, "document status", get("status"), 2.5),
                ],
            ),
            (
                11.0,
                vec![
                    Cell(0.0, 130.0, "title", title, 4.0),
                    Cell(130.0, 50.0, "identification number", get("number"), 4.0),
                ],
            ),
            (
                9.0,
                vec![
                    Cell(0.0, 76.0, "supplementary title", second, 2.5),
                    Cell(76.0, 14.0, "revision", get("revision"), 2.5),
                    Cell(90.0, 25.0, "date of issue", get("date"), 2.5),
                    Cell(115.0, 11.0, "language", get("language"), 2.5),
                    Cell(126.0, 14.0, "scale", says.scale.clone(), 3.5),
                    Cell(140.0, 10.0, "unit", says.unit.into(), 2.5),
                    Cell(150.0, 12.0, "format", format, 2.5),
                    Cell(162.0, 18.0, "sheet", sheet, 3.5),
                ],
            ),
        ],
        Family::Asme => vec![
            (10.0, status),
            (8.5, metal),
            (
                8.5,
                vec![
                    Cell(0.0, 40.0, "DRAWN", get("drawn-by"), 2.5),
                    Cell(40.0, 40.0, "APPROVED", get("approved-by"), 2.5),
                    Cell(80.0, 30.0, "DATE", get("date"), 2.5),
                    Cell(110.0, 48.75, "STATUS", get("status"), 2.5),
                ],
            ),
            (
                9.0,
                vec![
                    Cell(0.0, 80.0, "COMPANY OR OWNER", get("owner"), 2.5),
                    Cell(80.0, 78.75, "DOCUMENT", kind, 2.5),
                ],
            ),
            (
                11.0,
                vec![Cell(0.0, 110.0, "TITLE", title, 4.0), Cell(110.0, 48.75, "DWG NO", get("number"), 4.0)],
            ),
            (
                9.0,
                vec![
                    Cell(0.0, 74.0, "PART", second, 2.5),
                    Cell(74.0, 14.0, "REV", get("revision"), 2.5),
                    Cell(88.0, 14.0, "SIZE", format, 3.5),
                    Cell(102.0, 20.0, "SCALE", says.scale.clone(), 3.5),
                    Cell(122.0, 14.0, "UNIT", says.unit.into(), 2.5),
                    Cell(136.0, 22.75, "SHEET", sheet, 3.5),
                ],
            ),
        ],
    }
}
