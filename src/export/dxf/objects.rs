//! The OBJECTS section of the 2000 version: the dictionaries and layouts without which strict readers
//! repair or refuse a file.

use super::tags::{Tags, fixed_handle as h};

/// Writes the section.
pub fn write(t: &mut Tags) {
    t.section("OBJECTS");
    let rooms =
        [("ACAD_GROUP", h::GROUPS), ("ACAD_LAYOUT", h::LAYOUTS), ("ACAD_PLOTSTYLENAME", h::PLOT_STYLES)];
    dictionary(t, "DICTIONARY", h::ROOT, 0, &rooms);
    dictionary(t, "DICTIONARY", h::GROUPS, h::ROOT, &[]);
    dictionary(
        t,
        "DICTIONARY",
        h::LAYOUTS,
        h::ROOT,
        &[("Model", h::MODEL_LAYOUT), ("Layout1", h::PAPER_LAYOUT)],
    );
    dictionary(t, "ACDBDICTIONARYWDFLT", h::PLOT_STYLES, h::ROOT, &[("Normal", h::PLOT_STYLE)]);
    t.class(None, &["AcDbDictionaryWithDefault"]);
    t.handle(340, h::PLOT_STYLE);
    t.text(0, "ACDBPLACEHOLDER");
    t.handle(5, h::PLOT_STYLE);
    t.handle(330, h::PLOT_STYLES);
    layout(t, "Model", h::MODEL_LAYOUT, h::MODEL, 0);
    layout(t, "Layout1", h::PAPER_LAYOUT, h::PAPER, 1);
    t.end_section();
}

fn dictionary(t: &mut Tags, kind: &str, own: u32, owner: u32, entries: &[(&str, u32)]) {
    t.text(0, kind);
    t.handle(5, own);
    t.class(Some(owner), &["AcDbDictionary"]);
    t.int(281, 1);
    for (name, handle) in entries {
        t.text(3, name);
        t.handle(350, *handle);
    }
}

fn layout(t: &mut Tags, name: &str, own: u32, block: u32, order: i32) {
    t.text(0, "LAYOUT");
    t.handle(5, own);
    t.class(Some(h::LAYOUTS), &["AcDbPlotSettings"]);
    for code in [1, 2, 4, 6] {
        t.text(code, "");
    }
    for code in [40, 41, 42, 43, 44, 45, 46, 47, 48, 49, 140, 141] {
        t.number(code, 0.0);
    }
    t.number(142, 1.0);
    t.number(143, 1.0);
    // in the model's own settings the flag 1024 says so; 688 are a paper layout's usual ones
    t.int(70, if order == 0 { 1712 } else { 688 });
    for (code, v) in [(72, 0), (73, 0), (74, 5)] {
        t.int(code, v);
    }
    t.text(7, "");
    t.int(75, 16);
    for (code, v) in [(147, 1.0), (148, 0.0), (149, 0.0)] {
        t.number(code, v);
    }
    t.class(None, &["AcDbLayout"]);
    t.text(1, name);
    t.int(70, 1);
    t.int(71, order);
    for (x, codes, z) in [(0.0, [10, 20], None), (420.0, [11, 21], None), (0.0, [12, 22], Some(32))] {
        t.number(codes[0], x);
        t.number(codes[1], x);
        if let Some(z) = z {
            t.number(z, 0.0);
        }
    }
    // extents, elevation, origin and axes of the coordinate system
    let vectors = [
        (14, [0.0, 0.0, 0.0]),
        (15, [0.0, 0.0, 0.0]),
        (13, [0.0, 0.0, 0.0]),
        (16, [1.0, 0.0, 0.0]),
        (17, [0.0, 1.0, 0.0]),
    ];
    for (code, [x, y, z]) in vectors {
        t.number(code, x);
        t.number(code + 10, y);
        t.number(code + 20, z);
    }
    t.number(146, 0.0);
    t.int(76, 0);
    t.handle(330, block);
}
