//! Read back by ourselves: the same bytes twice, the model's numbers in SVG and DXF, on any seed.

use crate::scene;
use panelwright::draw::{Drawing, Entry, Item, Shape, Units};
use panelwright::export::{self, FORMATS, Options, Pages, dxf};
use proptest::prelude::{ProptestConfig, any, proptest};
use usvg::roxmltree::Document;

/// Items of a page that holds no group.
fn items(drawing: &Drawing) -> Vec<&Item> {
    drawing.pages[0]
        .items
        .iter()
        .filter_map(|e| match e {
            Entry::Item(i) => Some(i),
            Entry::Group(_) => None,
        })
        .collect()
}

#[test]
fn the_same_drawing_gives_the_same_bytes() {
    let make = || -> Vec<Drawing> {
        let mut all = vec![scene::plate(Units::Millimetre), scene::plate(Units::Inch)];
        all.extend((100..106).map(scene::random));
        all
    };
    for (first, second) in make().iter().zip(make().iter()) {
        for f in &FORMATS {
            let options = Options { dpi: 40.0 };
            let pages =
                if f.pages == Pages::Together || f.name.starts_with("dxf") { 1 } else { first.pages.len() };
            for k in 0..pages {
                let (a, b) = ((f.write)(first, k, &options), (f.write)(second, k, &options));
                assert!(a.is_ok() && a == b, "{} page {k} of {}", f.name, first.title);
            }
        }
    }
}

#[test]
fn no_machine_and_no_time_in_any_file() {
    let plate = scene::plate(Units::Millimetre);
    let folder = env!("CARGO_MANIFEST_DIR");
    for f in &FORMATS {
        let bytes = (f.write)(&plate, 0, &Options { dpi: 40.0 }).expect("written");
        let text = String::from_utf8_lossy(&bytes);
        for word in [folder, "CreationDate", "ModDate", "$TDCREATE", "tIME"] {
            assert!(!text.contains(word), "{word} in {}", f.name);
        }
    }
}

/// Circles, and areas of the other closed contours, of a drawing's first page, in the file's unit.
fn wanted(drawing: &Drawing) -> (Vec<[f64; 3]>, Vec<f64>) {
    let k = drawing.units.millimetres();
    let (mut circles, mut areas) = (Vec::new(), Vec::new());
    for item in items(drawing) {
        match &item.shape {
            Shape::Circle { centre, radius } => circles.push([centre.x / k, centre.y / k, radius / k]),
            Shape::Path(c) => areas.push(c.area().abs() / (k * k)),
            Shape::Line(_)
            | Shape::Arc(_)
            | Shape::Chain(_)
            | Shape::Text(_)
            | Shape::Hatch { .. }
            | Shape::Picture { .. } => {}
        }
    }
    (circles, areas)
}

/// The same two lists from the bytes of a DXF, by a reader of our own.
fn found(bytes: &[u8]) -> (Vec<[f64; 3]>, Vec<f64>) {
    let text = std::str::from_utf8(bytes).expect("UTF-8");
    assert!(text.is_ascii());
    let lines: Vec<&str> = text.split("\r\n").collect();
    let pairs: Vec<(u16, &str)> =
        lines.chunks_exact(2).map(|p| (p[0].trim().parse().expect("a code"), p[1])).collect();
    let start = pairs.iter().position(|p| *p == (2, "ENTITIES")).expect("entities") + 1;
    let (mut circles, mut areas) = (Vec::new(), Vec::new());
    let (mut kind, mut corners, mut closed) = ("", Vec::<[f64; 3]>::new(), false);
    for (code, value) in &pairs[start..] {
        let number = || value.parse::<f64>().expect("a number");
        match (*code, kind) {
            (0, _) => {
                let goes_on = matches!(*value, "VERTEX" | "SEQEND");
                if !goes_on {
                    match kind {
                        "CIRCLE" => circles.extend(corners.iter().copied()),
                        _ if closed => areas.push(loop_area(&corners)),
                        _ => {}
                    }
                    closed = false;
                }
                // an R12 polyline starts with a point that is none of its corners
                if !goes_on || kind == "POLYLINE" {
                    corners.clear();
                }
                kind = value;
            }
            (70, "LWPOLYLINE" | "POLYLINE") => closed = *value == "1",
            (10, "CIRCLE" | "LWPOLYLINE" | "POLYLINE" | "VERTEX") => corners.push([number(), 0.0, 0.0]),
            (20, "CIRCLE" | "LWPOLYLINE" | "POLYLINE" | "VERTEX") => {
                corners.last_mut().expect("after x")[1] = number()
            }
            (40, "CIRCLE") | (42, "LWPOLYLINE" | "VERTEX") => {
                corners.last_mut().expect("after x")[2] = number()
            }
            _ => {}
        }
    }
    (circles, areas)
}

/// Area inside a loop of corners with bulges (tangents of a quarter of each arc's sweep).
fn loop_area(corners: &[[f64; 3]]) -> f64 {
    let n = corners.len();
    let sum: f64 = (0..n)
        .map(|k| {
            let ([x, y, bulge], [u, v, _]) = (corners[k], corners[(k + 1) % n]);
            let chord = ((u - x) * (u - x) + (v - y) * (v - y)).sqrt();
            let sweep = 4.0 * libm::atan(bulge);
            let r = chord * (1.0 + bulge * bulge) / (4.0 * bulge);
            let cap = if bulge == 0.0 { 0.0 } else { r * r * (sweep - libm::sin(sweep)) / 2.0 };
            (x * v - y * u) / 2.0 + cap
        })
        .sum();
    sum.abs()
}

fn same_plate(drawing: &Drawing, version: dxf::Version) {
    let (mut circles, mut areas) = found(&dxf::write(drawing, 0, version).expect("written"));
    let (mut want_circles, mut want_areas) = wanted(drawing);
    circles.sort_by(|a, b| a[0].total_cmp(&b[0]));
    want_circles.sort_by(|a, b| a[0].total_cmp(&b[0]));
    areas.sort_by(f64::total_cmp);
    want_areas.sort_by(f64::total_cmp);
    assert_eq!((circles.len(), areas.len()), (want_circles.len(), want_areas.len()), "{}", drawing.title);
    for (a, b) in circles.iter().zip(&want_circles) {
        assert!(a.iter().zip(b).all(|(x, y)| (x - y).abs() <= 1e-9), "{a:?} {b:?}");
    }
    for (a, b) in areas.iter().zip(&want_areas) {
        // nine decimals at each end of pieces under 1 m in all
        assert!((a - b).abs() <= 1e-5, "{a} {b}");
    }
}

fn same_svg(drawing: &Drawing) {
    let bytes = export::svg::write(drawing, 0).expect("written");
    let text = String::from_utf8(bytes).expect("UTF-8");
    let doc = Document::parse(&text).expect("well-formed");
    let height = drawing.pages[0].height;
    let value = |n: &usvg::roxmltree::Node<'_, '_>, name: &str| -> f64 {
        n.attribute(name).expect("an attribute").parse().expect("a number")
    };
    let mut circles: Vec<[f64; 3]> = doc
        .descendants()
        .filter(|n| n.has_tag_name("circle"))
        .map(|n| [value(&n, "cx"), height - value(&n, "cy"), value(&n, "r")])
        .collect();
    let k = drawing.units.millimetres();
    let mut want: Vec<[f64; 3]> = wanted(drawing).0.iter().map(|c| c.map(|v| v * k)).collect();
    circles.sort_by(|a, b| a[0].total_cmp(&b[0]));
    want.sort_by(|a, b| a[0].total_cmp(&b[0]));
    assert_eq!(circles.len(), want.len());
    for (a, b) in circles.iter().zip(&want) {
        assert!(a.iter().zip(b).all(|(x, y)| (x - y).abs() <= 6e-7), "{a:?} {b:?}");
    }
    let words: Vec<&str> =
        doc.descendants().filter(|n| n.has_tag_name("text")).filter_map(|n| n.text()).collect();
    for item in items(drawing) {
        if let Shape::Text(t) = &item.shape {
            assert!(words.contains(&t.text.as_str()), "{:?} in {words:?}", t.text);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_plate_comes_back(seed in any::<u64>()) {
        let drawing = scene::random(seed);
        same_plate(&drawing, dxf::Version::R2000);
        same_plate(&drawing, dxf::Version::R12);
        same_svg(&drawing);
    }
}
