//! Tables and blocks: line types, layers, text style, and the two spaces.

use super::Version;
use super::tags::{Tags, fixed_handle};
use crate::draw::{Dash, Layer};
use crate::geom::{Point, Rect};

/// Line width that the dash patterns are made for, mm.
const PEN: f64 = 0.25;
/// Font of the text style: R12 knows only shape fonts, later ones take a font that most systems have.
const fn font(version: Version) -> &'static str {
    match version {
        Version::R12 => "txt",
        Version::R2000 => "arial.ttf",
    }
}

/// Name of the line type of a pattern.
pub fn linetype(dash: Dash) -> &'static str {
    match dash {
        Dash::Solid => "CONTINUOUS",
        Dash::Dashed => "DASHED",
        Dash::Chain => "CENTER",
        Dash::DoubleChain => "PHANTOM",
        Dash::Dotted => "DOT",
    }
}

/// Number of a layer's colour in the format's palette. Colour helps a shop to tell layers apart on its
/// screen; it means nothing else.
fn colour(layer: Layer) -> i32 {
    match layer {
        Layer::Cut => 7,
        Layer::Mark => 5,
        Layer::Engrave => 6,
        Layer::Scale | Layer::Register => 4,
        Layer::Existing | Layer::Outline | Layer::Hatch => 8,
        Layer::Dimension | Layer::Text | Layer::Frame | Layer::Notice => 9,
    }
}

/// Writes CLASSES, TABLES and BLOCKS.
pub fn write(t: &mut Tags, extent: Rect) {
    if t.version() == Version::R2000 {
        classes(t);
    }
    t.section("TABLES");
    for (name, handle) in fixed_handle::TABLES {
        match name {
            "VPORT" => table(t, name, handle, 1, |t| viewport(t, handle, extent)),
            "LTYPE" => linetypes(t, name, handle),
            "LAYER" => layers(t, name, handle),
            "STYLE" => table(t, name, handle, 1, |t| style(t, handle)),
            "APPID" => table(t, name, handle, 1, |t| {
                record(t, "APPID", 5, handle, "AcDbRegAppTableRecord", "ACAD");
            }),
            // what only the later version asks for
            _ if t.version() == Version::R12 => {}
            "DIMSTYLE" => table(t, name, handle, 1, |t| {
                record(t, "DIMSTYLE", 105, handle, "AcDbDimStyleTableRecord", "STANDARD");
            }),
            "BLOCK_RECORD" => table(t, name, handle, 2, |t| block_records(t, handle)),
            _ => table(t, name, handle, 0, |_| {}),
        }
    }
    t.end_section();
    t.section("BLOCKS");
    if t.version() == Version::R2000 {
        block(t, "*Model_Space", fixed_handle::MODEL, false);
        block(t, "*Paper_Space", fixed_handle::PAPER, true);
    }
    t.end_section();
}

fn classes(t: &mut Tags) {
    t.section("CLASSES");
    for (name, class) in [
        ("ACDBDICTIONARYWDFLT", "AcDbDictionaryWithDefault"),
        ("ACDBPLACEHOLDER", "AcDbPlaceHolder"),
        ("LAYOUT", "AcDbLayout"),
    ] {
        t.text(0, "CLASS");
        t.text(1, name);
        t.text(2, class);
        t.text(3, "ObjectDBX Classes");
        t.int(90, 0);
        t.int(280, 0);
        t.int(281, 0);
    }
    t.end_section();
}

fn table(t: &mut Tags, name: &str, handle: u32, count: i32, entries: impl FnOnce(&mut Tags)) {
    t.text(0, "TABLE");
    t.text(2, name);
    if t.version() == Version::R2000 {
        t.handle(5, handle);
    }
    t.class(Some(0), &["AcDbSymbolTable"]);
    t.int(70, count);
    if name == "DIMSTYLE" {
        t.class(None, &["AcDbDimStyleTable"]);
        t.int(71, 0);
    }
    entries(t);
    t.text(0, "ENDTAB");
}

/// What every table entry starts with.
fn record(t: &mut Tags, kind: &str, code: u16, table: u32, class: &str, name: &str) {
    t.text(0, kind);
    t.own_handle(code);
    t.class(Some(table), &["AcDbSymbolTableRecord", class]);
    t.text(2, name);
    t.int(70, 0);
}

fn viewport(t: &mut Tags, table: u32, extent: Rect) {
    record(t, "VPORT", 5, table, "AcDbViewportTableRecord", "*ACTIVE");
    for (code, x, y) in [(10, 0.0, 0.0), (11, 1.0, 1.0)] {
        t.number(code, x);
        t.number(code + 10, y);
    }
    t.flat_point(12, extent.center());
    for (code, v) in [(13, 0.0), (14, 10.0), (15, 10.0)] {
        t.flat_point(code, Point::new(v, v));
    }
    for (code, z) in [(16, 1.0), (17, 0.0)] {
        t.number(code, 0.0);
        t.number(code + 10, 0.0);
        t.number(code + 20, z);
    }
    t.length(40, extent.height().max(1.0) * 1.05);
    t.number(41, (extent.width() / extent.height().max(1.0)).clamp(0.1, 10.0));
    for (code, v) in [(42, 50.0), (43, 0.0), (44, 0.0), (50, 0.0), (51, 0.0)] {
        t.number(code, v);
    }
    for (code, v) in [(71, 0), (72, 1000), (73, 1), (74, 3), (75, 0), (76, 0), (77, 0), (78, 0)] {
        t.int(code, v);
    }
}

fn linetypes(t: &mut Tags, name: &str, table_handle: u32) {
    let named = [Dash::Solid, Dash::Dashed, Dash::Chain, Dash::DoubleChain, Dash::Dotted];
    let by: &[&str] = match t.version() {
        Version::R12 => &[],
        Version::R2000 => &["ByBlock", "ByLayer"],
    };
    let count = named.len() + by.len();
    table(t, name, table_handle, i32::try_from(count).unwrap_or(i32::MAX), |t| {
        for name in by {
            line_record(t, table_handle, name, &[]);
        }
        for dash in named {
            line_record(t, table_handle, linetype(dash), dash.pattern());
        }
    });
}

fn line_record(t: &mut Tags, table: u32, name: &str, pattern: &[f64]) {
    record(t, "LTYPE", 5, table, "AcDbLinetypeTableRecord", name);
    t.text(3, "");
    t.int(72, 65);
    t.int(73, i32::try_from(pattern.len()).unwrap_or(i32::MAX));
    t.length(40, pattern.iter().sum::<f64>() * PEN);
    for (k, widths) in pattern.iter().enumerate() {
        // a gap is a negative length
        t.length(49, if k % 2 == 0 { widths * PEN } else { -widths * PEN });
        if t.version() == Version::R2000 {
            t.int(74, 0);
        }
    }
}

fn layers(t: &mut Tags, name: &str, table_handle: u32) {
    let count = i32::try_from(Layer::ALL.len() + 1).unwrap_or(i32::MAX);
    table(t, name, table_handle, count, |t| {
        let names = std::iter::once(("0", 7)).chain(Layer::ALL.iter().map(|l| (l.name(), colour(*l))));
        for (name, colour) in names {
            record(t, "LAYER", 5, table_handle, "AcDbLayerTableRecord", name);
            t.int(62, colour);
            t.text(6, linetype(Dash::Solid));
            if t.version() == Version::R2000 {
                t.int(370, -3);
                t.handle(390, fixed_handle::PLOT_STYLE);
            }
        }
    });
}

fn style(t: &mut Tags, table: u32) {
    record(t, "STYLE", 5, table, "AcDbTextStyleTableRecord", "STANDARD");
    t.number(40, 0.0);
    t.number(41, 1.0);
    t.number(50, 0.0);
    t.int(71, 0);
    t.length(42, 2.5);
    t.text(3, font(t.version()));
    t.text(4, "");
}

fn block_records(t: &mut Tags, table: u32) {
    for (name, own, layout) in [
        ("*Model_Space", fixed_handle::MODEL, fixed_handle::MODEL_LAYOUT),
        ("*Paper_Space", fixed_handle::PAPER, fixed_handle::PAPER_LAYOUT),
    ] {
        t.text(0, "BLOCK_RECORD");
        t.handle(5, own);
        t.class(Some(table), &["AcDbSymbolTableRecord", "AcDbBlockTableRecord"]);
        t.text(2, name);
        t.handle(340, layout);
    }
}

fn block(t: &mut Tags, name: &str, owner: u32, paper: bool) {
    for (kind, class) in [("BLOCK", "AcDbBlockBegin"), ("ENDBLK", "AcDbBlockEnd")] {
        t.text(0, kind);
        t.own_handle(5);
        t.class(Some(owner), &["AcDbEntity"]);
        if paper {
            t.int(67, 1);
        }
        t.text(8, "0");
        t.class(None, &[class]);
        if kind == "BLOCK" {
            t.text(2, name);
            t.int(70, 0);
            t.point(10, Point::ZERO);
            t.text(3, name);
            t.text(1, "");
        }
    }
}
