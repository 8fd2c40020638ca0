//! DXF: one page as a shop file, in versions R12 (AC1009) and 2000 (AC1015).
//!
//! Circles and arcs are written as such, contours as closed polylines with bulges, each thing once. What
//! a machine must not cut stands on other layers. Coordinates have nine decimals of the file's unit. The
//! 2000 file names its unit in the header; R12 cannot: its drawing carries the unit as text and as a
//! 100 mm line, and its file name says it.

mod encode;
mod entity;
mod flat;
mod objects;
mod tables;
mod tags;

use super::{ExportError, mark, page, valid};
use crate::draw::{Drawing, Units};
use crate::geom::{Point, Rect};
use tags::Tags;

/// Which DXF to write.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Version {
    /// AC1009, what the oldest programs read.
    R12,
    /// AC1015, with handles, lightweight polylines and a unit.
    R2000,
}

impl Version {
    fn code(self) -> &'static str {
        match self {
            Version::R12 => "AC1009",
            Version::R2000 => "AC1015",
        }
    }
}

/// Writes one page. What a group's window hides is left out.
///
/// # Errors
/// What [`valid::check`] refuses; a group scaled differently in x and y (a circle would no longer be
/// one); an item that a window cuts through (a contour would no longer be closed).
pub fn write(drawing: &Drawing, index: usize, version: Version) -> Result<Vec<u8>, ExportError> {
    valid::check(drawing)?;
    let page = page(drawing, index)?;
    let placed = flat::page(page)?;
    let extent = placed.iter().filter_map(|p| p.shape.bounds()).reduce(|a, b| a.union(b));
    let extent = extent.unwrap_or(Rect::new(0.0, 0.0, page.width, page.height));

    let mut t = Tags::new(version, drawing.units);
    t.comment(&format!("{}, {}", drawing.title, page.name));
    t.comment(&format!("unit: {}", drawing.units.word()));
    for (name, value) in &drawing.meta {
        t.comment(&format!("{name}: {value}"));
    }
    t.comment(mark::FACT);
    header(&mut t, drawing.units, extent);
    tables::write(&mut t, extent);
    t.section("ENTITIES");
    for p in &placed {
        entity::write(&mut t, p);
    }
    t.end_section();
    if version == Version::R2000 {
        objects::write(&mut t);
    }
    Ok(t.finish())
}

fn header(t: &mut Tags, units: Units, extent: Rect) {
    t.section("HEADER");
    t.variable("$ACADVER");
    t.text(1, t.version().code());
    t.variable("$DWGCODEPAGE");
    t.text(3, "ANSI_1252");
    if t.version() == Version::R2000 {
        let (unit, metric) = match units {
            Units::Millimetre => (4, 1),
            Units::Inch => (1, 0),
        };
        t.variable("$INSUNITS");
        t.int(70, unit);
        t.variable("$MEASUREMENT");
        t.int(70, metric);
        t.variable("$HANDSEED");
        t.hand_seed();
    }
    t.variable("$EXTMIN");
    t.point(10, Point::new(extent.x0, extent.y0));
    t.variable("$EXTMAX");
    t.point(10, Point::new(extent.x1, extent.y1));
    t.end_section();
}
