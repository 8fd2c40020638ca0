//! Drawing sheets and scales.
//!
//! Metric: trimmed sizes of ISO 216 as ISO 5457 uses them, A4 upright, the others lying; 20 mm margin on the
//! left, 10 mm elsewhere, fields of 50 mm counted from the middle (ISO 5457:1999, margins and fields from
//! memory). Scales of ISO 5455 (from memory). Inch: flat sizes A to E of ASME Y14.1 lying; margins and fields from
//! memory, the wider of the standard's two on all sides.

use crate::geom::Rect;

/// Whose rules a sheet follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Family {
    /// ISO 5457, ISO 7200, ISO 5455.
    Iso,
    /// ASME Y14.1.
    Asme,
}

/// A sheet of paper for a drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PageSize {
    /// Its name on the command line and in the title block.
    pub name: &'static str,
    /// Whose it is.
    pub family: Family,
    /// Trimmed width, mm.
    pub width: f64,
    /// Trimmed height, mm.
    pub height: f64,
    /// Margin on the left (the filing side), mm.
    left: f64,
    /// Margin on the other sides, mm.
    margin: f64,
}

const INCH: f64 = 25.4;

const fn iso(name: &'static str, width: f64, height: f64) -> PageSize {
    PageSize { name, family: Family::Iso, width, height, left: 20.0, margin: 10.0 }
}

const fn asme(name: &'static str, width: f64, height: f64, margin: f64) -> PageSize {
    PageSize {
        name,
        family: Family::Asme,
        width: width * INCH,
        height: height * INCH,
        left: margin * INCH,
        margin: margin * INCH,
    }
}

/// All sheets, smallest first within each family.
pub const SIZES: [PageSize; 10] = [
    iso("a4", 210.0, 297.0),
    iso("a3", 420.0, 297.0),
    iso("a2", 594.0, 420.0),
    iso("a1", 841.0, 594.0),
    iso("a0", 1189.0, 841.0),
    asme("a", 11.0, 8.5, 0.38),
    asme("b", 17.0, 11.0, 0.62),
    asme("c", 22.0, 17.0, 0.75),
    asme("d", 34.0, 22.0, 1.0),
    asme("e", 44.0, 34.0, 1.0),
];

impl PageSize {
    /// The sheet of a name.
    pub fn named(name: &str) -> Option<PageSize> {
        SIZES.iter().find(|s| s.name == name).copied()
    }

    /// The frame around the drawing space.
    pub fn frame(&self) -> Rect {
        Rect::new(self.left, self.margin, self.width - self.margin, self.height - self.margin)
    }

    /// Fields of the reference grid along the width and the height: their borders, low to high, both ends
    /// among them.
    pub fn fields(&self) -> (Vec<f64>, Vec<f64>) {
        let f = self.frame();
        match self.family {
            Family::Iso => (fifties(f.x0, f.x1, self.width), fifties(f.y0, f.y1, self.height)),
            Family::Asme => (evenly(f.x0, f.x1), evenly(f.y0, f.y1)),
        }
    }
}

/// Borders 50 mm apart, counted from the middle of the trimmed sheet; what is left over goes to the ends.
fn fifties(from: f64, to: f64, whole: f64) -> Vec<f64> {
    let middle = whole / 2.0;
    let each = ((to - middle) / 50.0).round() as i32 - 1;
    let inner = (-each..=each).map(|k| middle + 50.0 * f64::from(k));
    std::iter::once(from).chain(inner).chain(std::iter::once(to)).collect()
}

/// An even number of fields about 4 1/4 in long.
fn evenly(from: f64, to: f64) -> Vec<f64> {
    let count = ((to - from) / (8.5 * INCH)).round().max(1.0) * 2.0;
    (0..=count as u32).map(|k| from + (to - from) * f64::from(k) / count).collect()
}

/// A scale: paper to part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Scale {
    /// Paper.
    pub paper: u32,
    /// Part.
    pub part: u32,
}

const fn scale(paper: u32, part: u32) -> Scale {
    Scale { paper, part }
}

/// Scales of ISO 5455, largest first, as far as a panel needs them.
const ISO: [Scale; 5] = [scale(2, 1), scale(1, 1), scale(1, 2), scale(1, 5), scale(1, 10)];
/// Scales of inch drawings (full, half, quarter, eighth; from memory).
const ASME: [Scale; 5] = [scale(2, 1), scale(1, 1), scale(1, 2), scale(1, 4), scale(1, 8)];

impl Scale {
    /// The scales of a family, largest first.
    pub fn all(family: Family) -> &'static [Scale] {
        match family {
            Family::Iso => &ISO,
            Family::Asme => &ASME,
        }
    }

    /// Paper millimetres for one of the part.
    pub fn factor(self) -> f64 {
        f64::from(self.paper) / f64::from(self.part)
    }

    /// `1:2`.
    pub fn words(self) -> String {
        format!("{}:{}", self.paper, self.part)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn drawing_spaces_of_the_standard() {
        // ISO 5457, drawing space A4 to A0 (from memory; the arithmetic agrees)
        let spaces =
            [("a4", 180, 277), ("a3", 390, 277), ("a2", 564, 400), ("a1", 811, 574), ("a0", 1159, 821)];
        for (name, w, h) in spaces {
            let f = PageSize::named(name).map(|s| s.frame());
            assert_eq!(f.map(|f| (f.width() as i32, f.height() as i32)), Some((w, h)), "{name}");
        }
    }

    #[test]
    fn fields_of_the_standard() {
        // ISO 5457, number of fields (from memory): A4 4 x 6, A3 8 x 6, A2 12 x 8, A1 16 x 12, A0 24 x 16
        for (name, across, up) in [("a4", 4, 6), ("a3", 8, 6), ("a2", 12, 8), ("a1", 16, 12), ("a0", 24, 16)]
        {
            let (x, y) = PageSize::named(name).map(|s| s.fields()).unwrap_or_default();
            assert_eq!((x.len() - 1, y.len() - 1), (across, up), "{name}");
        }
        for s in SIZES {
            let (x, y) = s.fields();
            for list in [x, y] {
                assert!(list.len() % 2 == 1 && list.windows(2).all(|w| w[0] < w[1]), "{}", s.name);
            }
        }
    }
}
