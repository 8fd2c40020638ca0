//! The pairs of code and value that a DXF file is made of, and the handles of what it holds.

use super::{Version, encode};
use crate::draw::Units;
use crate::export::number::fixed;
use crate::geom::Point;

/// Handles of the objects that others point at. Everything else counts up from [`FIRST_FREE`].
pub mod fixed_handle {
    /// Table heads, in the order in which they are written.
    pub const TABLES: [(&str, u32); 9] = [
        ("VPORT", 0x1),
        ("LTYPE", 0x2),
        ("LAYER", 0x3),
        ("STYLE", 0x4),
        ("VIEW", 0x5),
        ("UCS", 0x6),
        ("APPID", 0x7),
        ("DIMSTYLE", 0x8),
        ("BLOCK_RECORD", 0x9),
    ];
    /// Block record of the model space, owner of every entity.
    pub const MODEL: u32 = 0xA;
    /// Block record of the paper space.
    pub const PAPER: u32 = 0xB;
    /// Root dictionary.
    pub const ROOT: u32 = 0xC;
    /// Dictionary of groups.
    pub const GROUPS: u32 = 0xD;
    /// Dictionary of layouts.
    pub const LAYOUTS: u32 = 0xE;
    /// Layout of the model space.
    pub const MODEL_LAYOUT: u32 = 0xF;
    /// Layout of the paper space.
    pub const PAPER_LAYOUT: u32 = 0x10;
    /// Dictionary of plot styles.
    pub const PLOT_STYLES: u32 = 0x11;
    /// The only plot style.
    pub const PLOT_STYLE: u32 = 0x12;
}

/// First handle that is given out in order.
const FIRST_FREE: u32 = 0x20;
/// Stands for the next free handle until the file is finished.
const SEED: &str = "@@HANDSEED@@";

/// A DXF text under construction.
pub struct Tags {
    out: String,
    version: Version,
    units: Units,
    next: u32,
}

impl Tags {
    /// An empty file.
    pub fn new(version: Version, units: Units) -> Tags {
        Tags { out: String::new(), version, units, next: FIRST_FREE }
    }

    /// The version being written.
    pub fn version(&self) -> Version {
        self.version
    }

    fn raw(&mut self, code: u16, value: &str) {
        self.out += &format!("{code:>3}\r\n{value}\r\n");
    }

    /// A value that is plain ASCII already: names, keywords.
    pub fn text(&mut self, code: u16, value: &str) {
        self.raw(code, value);
    }

    /// Words of a reader: encoded.
    pub fn words(&mut self, code: u16, value: &str) {
        self.raw(code, &encode::text(value));
    }

    /// A whole number.
    pub fn int(&mut self, code: u16, value: i32) {
        self.raw(code, &value.to_string());
    }

    /// A plain number (factor, angle in degrees), not a length.
    pub fn number(&mut self, code: u16, value: f64) {
        // a decimal point even in whole numbers: some readers tell reals by it
        let s = fixed(value, 9);
        self.raw(code, &if s.contains('.') { s } else { s + ".0" });
    }

    /// A length in mm, written in the file's unit.
    pub fn length(&mut self, code: u16, mm: f64) {
        self.number(code, mm / self.units.millimetres());
    }

    /// A point in the plane z = 0.
    pub fn point(&mut self, code: u16, p: Point) {
        self.flat_point(code, p);
        self.number(code + 20, 0.0);
    }

    /// A point of two coordinates.
    pub fn flat_point(&mut self, code: u16, p: Point) {
        self.length(code, p.x);
        self.length(code + 10, p.y);
    }

    /// A comment line, which readers skip.
    pub fn comment(&mut self, says: &str) {
        self.words(999, says);
    }

    /// Starts a section.
    pub fn section(&mut self, name: &str) {
        self.raw(0, "SECTION");
        self.raw(2, name);
    }

    /// Ends it.
    pub fn end_section(&mut self) {
        self.raw(0, "ENDSEC");
    }

    /// Starts a header variable.
    pub fn variable(&mut self, name: &str) {
        self.raw(9, name);
    }

    /// The header's next free handle, known when the file is finished.
    pub fn hand_seed(&mut self) {
        self.raw(5, SEED);
    }

    /// A handle value.
    pub fn handle(&mut self, code: u16, handle: u32) {
        self.raw(code, &format!("{handle:X}"));
    }

    /// The next free handle as the handle of what is being written; R12 needs none.
    pub fn own_handle(&mut self, code: u16) {
        if self.version == Version::R2000 {
            let h = self.next;
            self.next += 1;
            self.handle(code, h);
        }
    }

    /// Owner and subclass marks of an object; R12 has none.
    pub fn class(&mut self, owner: Option<u32>, classes: &[&str]) {
        if self.version == Version::R2000 {
            if let Some(owner) = owner {
                self.handle(330, owner);
            }
            for c in classes {
                self.raw(100, c);
            }
        }
    }

    /// The finished file.
    pub fn finish(mut self) -> Vec<u8> {
        self.raw(0, "EOF");
        let seed = format!("{:X}", self.next);
        self.out.replacen(SEED, &seed, 1).into_bytes()
    }
}
