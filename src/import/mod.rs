//! Drawings of other programs, and our own again: what stands on which layer, in millimetres, y up.
//!
//! A reader takes what it knows exactly (straights, circular arcs; Béziers, splines and ellipses beside their
//! chord) and names the rest: an entity that is not read stays in the list as such, so that nobody who counts
//! or judges can pass over it.
//! A file that contradicts its own format is refused, with line, column and value of every fault.

mod affine;
mod dxf;
mod picture;
mod svg;

use crate::diag::{Lines, Problem, Problems, Where};
use crate::geom::{Point, Rational, Rect, Segment};
use std::sync::Arc;

pub use picture::{Picture, PictureFault, picture};

/// Most pieces that are read from one file, repeated blocks included.
pub const MOST_PIECES: usize = 400_000;
/// Largest coordinate, mm from the origin: 10 km. What lies farther out is a fault, and f64 would still
/// hold its nanometres.
pub const MOST_MM: f64 = 1e7;

/// Format of the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// Drawing exchange format, ASCII.
    Dxf,
    /// Scalable vector graphics.
    Svg,
    /// A table of measured points.
    Points,
}

impl Format {
    /// Its name.
    pub fn name(self) -> &'static str {
        match self {
            Format::Dxf => "DXF",
            Format::Svg => "SVG",
            Format::Points => "points",
        }
    }
}

/// How the unit of the file became known.
#[derive(Clone, Debug, PartialEq)]
pub enum Declared {
    /// In the place that the format has for it, named in words.
    InFile(String),
    /// By the user beside the file.
    ByUser,
    /// Nowhere: millimetres are assumed, for the reason named.
    Missing(String),
}

/// One unit of the file.
#[derive(Clone, Debug, PartialEq)]
pub struct FileUnit {
    /// Its name as read: "mm", "in", "96 to the inch".
    pub name: String,
    /// Millimetres in one of it, above zero.
    pub mm: f64,
    /// How it became known.
    pub declared: Declared,
}

/// A layer: a named one of DXF; in SVG a named group.
#[derive(Clone, Debug, PartialEq)]
pub struct Layer {
    /// Name as written.
    pub name: String,
    /// "off", "frozen" or "not printed": hidden in the program that drew it, yet in the file.
    pub hidden: Option<&'static str>,
    /// What the file itself says of it beyond its name: cut, or not.
    pub says_cut: Option<bool>,
}

/// Where an item stands in the file.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Spot {
    /// Line, from 1.
    pub line: u32,
    /// Column, from 1.
    pub column: u32,
    /// Handle (DXF) or id (SVG).
    pub id: Option<Arc<str>>,
    /// Through which block or reference it is drawn, with the line of the reference.
    pub via: Option<(Arc<str>, u32)>,
}

/// What a mark is, that no machine should cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mark {
    /// Text in any form.
    Words,
    /// A point.
    Point,
    /// A dimension, leader or tolerance frame.
    Dimension,
    /// A filled or hatched area, a picture.
    Fill,
}

/// A curve that is neither straight nor a circular arc: a chord stands for it in the chain.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// The piece of the chain for which its chord stands.
    pub piece: usize,
    /// A box that holds it.
    pub bounds: Rect,
    /// Its pieces one after the other, exact; why not, where only ends and box are known.
    pub exact: Result<Arc<[Rational]>, &'static str>,
}

/// What an item is.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// Pieces that follow each other bit for bit.
    Chain {
        /// The pieces; for a curve its chord.
        pieces: Vec<Segment>,
        /// Whether the file says that it is closed. The last piece ends where the first starts.
        closed: bool,
        /// Curves that are neither straights nor circular arcs.
        curves: Vec<Curve>,
    },
    /// Text, points, dimensions, fills.
    Mark {
        /// What.
        what: Mark,
        /// Where, if the file says so plainly.
        at: Option<Point>,
        /// Its words, shortened; empty for the others.
        words: String,
    },
    /// An entity that was not read, and why.
    NotRead(&'static str),
}

/// One entity of the file.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// What the file calls it: LINE, circle, ...
    pub kind: Arc<str>,
    /// Index of its layer.
    pub layer: usize,
    /// Where it stands in the file.
    pub spot: Spot,
    /// What it is.
    pub shape: Shape,
    /// Why it is not in the picture, if it is not: "paper space", "display none".
    pub hidden: Option<&'static str>,
    /// Whether a negative scale or an extrusion turned it over.
    pub mirrored: bool,
    /// Least and greatest height above the plane, mm.
    pub z: [f64; 2],
}

/// Where positions are counted from when they are told.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Axes {
    /// The file's own coordinates in its unit, y up.
    File,
    /// Millimetres from the top left corner, y down.
    Page,
}

/// A file that was read.
#[derive(Clone, Debug, PartialEq)]
pub struct CutFile {
    /// Name as shown.
    pub file: Arc<str>,
    /// Format.
    pub format: Format,
    /// Version in words.
    pub version: String,
    /// Unit.
    pub unit: FileUnit,
    /// How positions are told.
    pub axes: Axes,
    /// Layers in the order of the file.
    pub layers: Vec<Layer>,
    /// Entities in the order of the file, blocks laid out.
    pub items: Vec<Item>,
    /// What is there and was not looked at, one sentence each: each makes a verdict withheld.
    pub not_read: Vec<String>,
    /// What the reader noticed beside, one sentence each.
    pub remarks: Vec<String>,
}

/// What the user says beside the file.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ReadOptions {
    /// Millimetres in one unit of the file; beats what the file says.
    pub unit_mm: Option<f64>,
}

/// Reads a DXF (ASCII) or SVG file; the bytes tell which.
///
/// # Errors
/// A format that is not read (binary DXF, packed SVG, ...), or every fault found in one that is.
pub fn read(name: &str, bytes: &[u8], options: &ReadOptions) -> Result<CutFile, Problems> {
    let text = decode(name, bytes)?;
    let lines = Lines::new(name.into(), text.into());
    let mut problems = Problems::new();
    problems.add_text(lines.file(), lines.text());
    let start = lines.text().trim_start();
    let found = if start.starts_with('<') {
        svg::read(&lines, options, &mut problems)
    } else if start.chars().next().is_some_and(|c| c.is_ascii_digit()) {
        dxf::read(&lines, options, &mut problems)
    } else {
        let place = lines.place(0, 0);
        problems.push(
            Problem::new("unknown-format", &place, "this is neither a DXF nor an SVG file")
                .help("a DXF starts with a group code such as 0 or 999, an SVG with <"),
        );
        None
    };
    match found {
        Some(file) => problems.or(file),
        None => Err(problems),
    }
}

/// Looks at an SVG with a second reader, which knows style sheets: what it shows and was not read is added to `not_read`,
/// what it does not show to `remarks`. Where both see the same, a style sheet changes nothing.
pub fn look_again(file: &mut CutFile, bytes: &[u8]) {
    if file.format != Format::Svg {
        return;
    }
    let Ok(text) = decode(&file.file, bytes) else { return };
    let Some(found) = svg::second::compare(&text) else {
        file.remarks.push("A second reader could not be asked what this file shows.".to_owned());
        return;
    };
    let tell = |list: &[Rect]| {
        let spots: Vec<String> = list
            .iter()
            .take(5)
            .map(|b| {
                format!(
                    "{:.1} x {:.1} mm about ({:.1}, {:.1})",
                    b.width(),
                    b.height(),
                    b.center().x,
                    -b.center().y
                )
            })
            .collect();
        let more = list.len().saturating_sub(5);
        if more > 0 { format!("{} and {more} more", spots.join("; ")) } else { spots.join("; ") }
    };
    if !found.unread.is_empty() {
        let n = found.unread.len();
        let says =
            format!("A second reader shows {n} shapes that were not read so: {}.", tell(&found.unread));
        file.not_read.push(says);
    }
    if !found.unseen.is_empty() {
        let n = found.unseen.len();
        let says =
            format!("A second reader does not show {n} shapes that were read: {}.", tell(&found.unseen));
        file.remarks.push(says);
    }
    if svg::second::obeyed(&text)
        && found.unread.is_empty()
        && found.unseen.is_empty()
        && file.not_read.iter().any(|t| t == svg::STYLE_SHEET)
    {
        file.not_read.retain(|t| t != svg::STYLE_SHEET);
        file.remarks.push(
            "A style sheet is in the file; a second reader, which knows it, shows the same shapes."
                .to_owned(),
        );
    }
}

/// Bytes to text: UTF-8, else one character a byte (the code page of western Europe, nearly).
pub(crate) fn decode(name: &str, bytes: &[u8]) -> Result<String, Problem> {
    let refuse = |what: &str, help: &str| {
        Err(Problem::nowhere("unknown-format", format!("{name} is {what}")).help(help))
    };
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    let head = bytes.get(..64).unwrap_or(bytes);
    let ascii = "save it as DXF in ASCII, version R12 or 2000 or later";
    if head.windows(12).any(|w| w == b"Binary DXF\r\n") {
        return refuse("a binary DXF, which is not read", ascii);
    }
    if head.starts_with(b"AC10") {
        return refuse("a drawing in a program's own format, not a DXF", ascii);
    }
    if head.starts_with(b"%PDF") {
        return refuse("a PDF", "ask for DXF or SVG: a PDF has no layers that say what is cut");
    }
    if head.starts_with(&[0x1F, 0x8B]) || head.starts_with(b"PK") {
        return refuse("packed", "unpack it first (an .svgz is an .svg in gzip)");
    }
    if head.starts_with(&[0xFF, 0xFE]) || head.starts_with(&[0xFE, 0xFF]) {
        return refuse("in UTF-16", "save it as UTF-8");
    }
    if bytes.is_empty() {
        return refuse("empty", "is this the right file?");
    }
    Ok(match std::str::from_utf8(bytes) {
        Ok(text) => text.to_owned(),
        Err(_) => bytes.iter().map(|b| char::from(*b)).collect(),
    })
}

/// A spot without an id.
fn spot(place: &Where) -> Spot {
    Spot { line: place.line, column: place.column, id: None, via: None }
}

/// Reads a number: finite, in reach. What is wrong with it otherwise.
pub(crate) fn number(text: &str) -> Result<f64, &'static str> {
    let t = text.trim();
    match t.parse::<f64>() {
        Ok(v) if v.is_nan() || v.is_infinite() => Err("is no finite number"),
        // "inf" and "nan" parse; so does nothing else that is not a plain number
        Ok(v) if v.abs() > 1e12 => Err("is farther out than any drawing"),
        Ok(v) => Ok(v),
        Err(_) if t.contains(',') && t.replace(',', ".").parse::<f64>().is_ok() => {
            Err("has a decimal comma: numbers in this format have a point")
        }
        Err(_) if t.is_empty() => Err("is empty: a number is expected"),
        Err(_) => Err("is no number"),
    }
}
