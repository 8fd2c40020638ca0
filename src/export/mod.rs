//! From a drawing to bytes: one file a format. A back end translates and decides nothing; it reads no
//! file, writes none and knows no panel.

pub mod arcs;
mod base64;
pub mod dxf;
pub mod mark;
pub mod number;
pub mod order;
pub mod pdf;
pub mod png;
pub mod solids;
pub mod svg;
pub mod valid;

use crate::draw::Drawing;
use std::fmt;

/// What the caller may choose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Options {
    /// Pixels per inch of a picture, 10 to 1200.
    pub dpi: f64,
}

impl Default for Options {
    fn default() -> Options {
        Options { dpi: 150.0 }
    }
}

/// Whether a format holds all pages in one file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pages {
    /// One file a page.
    Each,
    /// One file for all.
    Together,
}

/// A way to write a drawing.
pub struct Format {
    /// Name on the command line.
    pub name: &'static str,
    /// End of the file's name, without the dot.
    pub extension: &'static str,
    /// What it is for, in a few words.
    pub says: &'static str,
    /// One file a page or one for all.
    pub pages: Pages,
    /// Writes one page by its index (formats that hold all pages ignore the index).
    pub write: fn(&Drawing, usize, &Options) -> Result<Vec<u8>, ExportError>,
}

/// Every format, in the order in which help lists them.
pub const FORMATS: [Format; 5] = [
    Format {
        name: "svg",
        extension: "svg",
        says: "true-size drawing for screens and editors",
        pages: Pages::Each,
        write: |d, page, _| svg::write(d, page),
    },
    Format {
        name: "pdf",
        extension: "pdf",
        says: "true-size pages to print",
        pages: Pages::Together,
        write: |d, _, _| pdf::write(d),
    },
    Format {
        name: "dxf",
        extension: "dxf",
        says: "shop file, version 2000, with its unit in the header",
        pages: Pages::Each,
        write: |d, page, _| dxf::write(d, page, dxf::Version::R2000),
    },
    Format {
        name: "dxf-r12",
        extension: "dxf",
        says: "shop file, version R12, which holds no unit: it stands in the file's name",
        pages: Pages::Each,
        write: |d, page, _| dxf::write(d, page, dxf::Version::R12),
    },
    Format {
        name: "png",
        extension: "png",
        says: "picture",
        pages: Pages::Each,
        write: |d, page, o| png::write(d, page, o.dpi),
    },
];

/// A format by its name.
pub fn format(name: &str) -> Option<&'static Format> {
    FORMATS.iter().find(|f| f.name == name)
}

/// A file to write: its name (no folder) and its bytes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Made {
    /// File name.
    pub name: String,
    /// Content.
    pub bytes: Vec<u8>,
}

/// Every file of a drawing in one format. `stem` starts the names; several pages add their own names, and
/// R12, which cannot hold a unit, adds it: `wing-r12-mm.dxf`.
///
/// # Errors
/// What [`valid::check`] or the back end refuses.
pub fn files(
    format: &Format,
    drawing: &Drawing,
    stem: &str,
    options: &Options,
) -> Result<Vec<Made>, ExportError> {
    let stem = match format.name {
        "dxf-r12" => format!("{stem}-r12-{}", drawing.units.word()),
        _ => stem.to_owned(),
    };
    let count = match format.pages {
        Pages::Each => drawing.pages.len(),
        Pages::Together => drawing.pages.len().min(1),
    };
    valid::check(drawing)?;
    let mut made: Vec<Made> = Vec::with_capacity(count);
    for (k, page) in drawing.pages.iter().enumerate().take(count) {
        let mut name = if count > 1 { format!("{stem}-{}", plain(&page.name)) } else { stem.clone() };
        name = format!("{name}.{}", format.extension);
        if made.iter().any(|m| m.name == name) {
            name = format!("{stem}-{}-{}.{}", plain(&page.name), k + 1, format.extension);
        }
        made.push(Made { name, bytes: (format.write)(drawing, k, options)? });
    }
    Ok(made)
}

/// A name made of lower-case letters, digits and single hyphens.
fn plain(name: &str) -> String {
    let mut out = String::new();
    for c in name.chars() {
        if c.is_ascii_alphanumeric() {
            out.push(c.to_ascii_lowercase());
        } else if !out.is_empty() && !out.ends_with('-') {
            out.push('-');
        }
    }
    let out = out.trim_end_matches('-');
    if out.is_empty() { "page".to_owned() } else { out.to_owned() }
}

/// One reason why a drawing cannot be written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The page's name; empty when it is about the whole drawing.
    pub page: String,
    /// Id of what the item shows.
    pub subject: Option<String>,
    /// What is wrong and what to do.
    pub says: String,
}

/// Why a drawing cannot be written: every reason found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ExportError {
    /// At least one.
    pub faults: Vec<Fault>,
}

impl ExportError {
    /// A single reason about a page.
    pub fn one(page: &str, says: impl Into<String>) -> ExportError {
        ExportError { faults: vec![Fault { page: page.to_owned(), subject: None, says: says.into() }] }
    }
}

impl fmt::Display for ExportError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (k, fault) in self.faults.iter().enumerate() {
            if k > 0 {
                writeln!(f)?;
            }
            if !fault.page.is_empty() {
                write!(f, "page {}: ", fault.page)?;
            }
            if let Some(subject) = &fault.subject {
                write!(f, "{subject}: ")?;
            }
            write!(f, "{}", fault.says)?;
        }
        Ok(())
    }
}

impl std::error::Error for ExportError {}

/// The page with this index.
///
/// # Errors
/// There is none.
fn page(drawing: &Drawing, index: usize) -> Result<&crate::draw::Page, ExportError> {
    drawing.pages.get(index).ok_or_else(|| {
        ExportError::one(
            "",
            format!("page {} was asked for, the drawing has {}", index + 1, drawing.pages.len()),
        )
    })
}
