//! A report as a document: sections of words, lists, tables and findings that know no file format.
//!
//! One builder (`content`) fills it, every writer (`html`, `pages`) prints all of it: what one reader is told, the
//! other is told too.

use crate::draw::Drawing;

/// A whole report.
#[derive(Clone, Debug)]
pub struct Document {
    /// Title, the first heading.
    pub title: String,
    /// What stands at the foot of every page: panel, revision, short hash.
    pub running: String,
    /// What nobody may miss (`NOT FOR CUTTING: ...`); stands under the title and on every page.
    pub notice: Option<String>,
    /// Facts for the file's own properties: name and value.
    pub meta: Vec<(String, String)>,
    /// Its parts in reading order.
    pub sections: Vec<Section>,
}

/// One part with a heading.
#[derive(Clone, Debug)]
pub struct Section {
    /// Name for links: lower-case words joined by hyphens, once in a document.
    pub id: &'static str,
    /// Heading.
    pub title: String,
    /// Whether a screen may fold it away; paper never does.
    pub folds: bool,
    /// Content in reading order.
    pub blocks: Vec<Block>,
}

/// A piece of a section.
#[derive(Clone, Debug)]
pub enum Block {
    /// A paragraph.
    Words(String),
    /// A paragraph that must be seen.
    Strong(String),
    /// A heading below the section's.
    Head(String),
    /// Separate lines.
    List(Vec<String>),
    /// Names with their values.
    Facts(Vec<(String, String)>),
    /// Rows and columns.
    Table(Table),
    /// One finding.
    Entry(Entry),
    /// A picture.
    Figure(Figure),
    /// Lines to write on.
    Sign(Vec<Sign>),
}

/// Rows under heads. Every row has as many cells as there are columns; the first cell names the row.
#[derive(Clone, Debug)]
pub struct Table {
    /// What it shows.
    pub caption: String,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows.
    pub rows: Vec<Vec<String>>,
}

/// A column: its head and its share of the width.
#[derive(Clone, Copy, Debug)]
pub struct Column {
    /// Head.
    pub head: &'static str,
    /// Parts of the table's width; the shares of a table need not add up to anything.
    pub share: f64,
    /// Numbers: set to the right.
    pub number: bool,
}

impl Column {
    /// A column of words.
    pub const fn words(head: &'static str, share: f64) -> Column {
        Column { head, share, number: false }
    }

    /// A column of numbers.
    pub const fn number(head: &'static str, share: f64) -> Column {
        Column { head, share, number: true }
    }
}

/// One finding with everything that is known of it.
#[derive(Clone, Debug)]
pub struct Entry {
    /// The verdict's word.
    pub verdict: &'static str,
    /// The finding's id.
    pub name: String,
    /// What the rule asks.
    pub asks: String,
    /// Names with their values.
    pub facts: Vec<(String, String)>,
}

/// A picture of one page, in mm.
#[derive(Clone, Debug)]
pub struct Figure {
    /// What it is, a few words.
    pub title: String,
    /// What it shows, for those who do not see it.
    pub says: String,
    /// Its one page; no more than [`FIGURE`] wide and high.
    pub drawing: Drawing,
}

/// Widest and highest picture, mm: what A4 and Letter hold lying, within their margins and under a heading.
pub const FIGURE: (f64, f64) = (245.0, 158.0);

/// A line to be signed.
#[derive(Clone, Debug)]
pub struct Sign {
    /// Who.
    pub who: &'static str,
    /// What the name on it means.
    pub means: &'static str,
}

impl Table {
    /// A table without rows.
    pub fn new(caption: impl Into<String>, columns: &[Column]) -> Table {
        Table { caption: caption.into(), columns: columns.to_vec(), rows: Vec::new() }
    }
}

impl Section {
    /// A section without content.
    pub fn new(id: &'static str, title: impl Into<String>) -> Section {
        Section { id, title: title.into(), folds: false, blocks: Vec::new() }
    }

    /// Adds a paragraph.
    pub fn words(&mut self, s: impl Into<String>) {
        self.blocks.push(Block::Words(s.into()));
    }

    /// Adds a table, or a sentence in its place where it has no rows.
    pub fn table(&mut self, table: Table, none: &str) {
        if table.rows.is_empty() { self.words(none) } else { self.blocks.push(Block::Table(table)) }
    }
}
