//! What must not be written, and what is left out on purpose.

use crate::scene;
use panelwright::draw::{Anchor, Drawing, Entry, Group, Ink, Item, Layer, Page, Shape, Stroke, Text, Units};
use panelwright::export::{dxf, pdf, png, svg};
use panelwright::geom::{Contour, Point, Rect, Vec2};
use std::sync::Arc as Shared;

fn sheet(items: Vec<Item>) -> Drawing {
    Drawing {
        title: "t".to_owned(),
        pages: vec![Page {
            name: "sheet 1".to_owned(),
            width: 200.0,
            height: 100.0,
            items: items.into_iter().map(Entry::Item).collect(),
        }],
        meta: Vec::new(),
        units: Units::Millimetre,
    }
}

fn hole(x: f64) -> Item {
    Item::stroked(Layer::Cut, Shape::Circle { centre: Point::new(x, 50.0), radius: 10.0 }, Stroke::solid(0.3))
}

fn count(bytes: &[u8], entity: &str) -> usize {
    String::from_utf8_lossy(bytes).matches(&format!("\r\n  0\r\n{entity}\r\n")).count()
}

#[test]
fn all_faults_are_told_at_once_with_page_and_subject() {
    let p = Point::new;
    let thin = Stroke::solid(0.2);
    let bad = sheet(vec![
        Item::stroked(Layer::Cut, Shape::line(p(0.0, 0.0), p(9.0, 0.0)), thin).of("a"),
        Item::stroked(Layer::Mark, Shape::line(p(f64::NAN, 0.0), p(9.0, 0.0)), thin).of("b"),
        Item::stroked(Layer::Mark, Shape::Circle { centre: p(0.0, 0.0), radius: 0.0 }, thin).of("c"),
        Item::stroked(Layer::Mark, Shape::line(p(0.0, 0.0), p(9.0, 0.0)), Stroke::solid(0.0)).of("d"),
        Item::text(Layer::Text, Text::new(p(0.0, 0.0), 3.0, Anchor::LEFT, "字")).of("e"),
        Item::text(Layer::Cut, Text::new(p(0.0, 0.0), 3.0, Anchor::LEFT, "cut me")).of("f"),
        Item::stroked(
            Layer::Hatch,
            Shape::Hatch { contours: vec![Contour::circle(p(0.0, 0.0), 5.0)], spacing: -1.0, angle: 0.0 },
            thin,
        )
        .of("g"),
        hole(50.0),
    ]);
    let e = svg::write(&bad, 0).expect_err("refused");
    let subjects: Vec<&str> = e.faults.iter().filter_map(|f| f.subject.as_deref()).collect();
    assert_eq!(subjects, ["a", "b", "c", "d", "e", "f", "g"]);
    assert!(e.faults.iter().all(|f| f.page == "sheet 1"));
    let text = e.to_string();
    assert!(
        text.contains(
            "page sheet 1: a: a line on the layer that is cut: only closed contours may stand there"
        )
    );
    assert!(text.contains("the bundled font has no \"字\""), "{text}");
    for refused in [pdf::write(&bad), dxf::write(&bad, 0, dxf::Version::R12), png::write(&bad, 0, 100.0)] {
        assert_eq!(refused.expect_err("refused"), e);
    }
}

#[test]
fn pages_and_resolutions_that_are_not_possible() {
    let good = sheet(vec![hole(50.0)]);
    assert!(svg::write(&good, 1).expect_err("no such page").to_string().contains("page 2 was asked for"));
    assert!(png::write(&good, 0, 5.0).is_err());
    assert!(png::write(&good, 0, f64::NAN).is_err());
    let mut large = good.clone();
    large.pages[0].width = 6000.0;
    assert!(pdf::write(&large).expect_err("too large").to_string().contains("5080"));
    assert!(
        png::write(&large, 0, 1200.0).expect_err("too many pixels").to_string().contains("pixels per inch")
    );
    let mut none = good.clone();
    none.pages.clear();
    assert!(pdf::write(&none).expect_err("no page").to_string().contains("no page"));
}

#[test]
fn a_shop_file_is_never_corrected_for_a_printer_nor_cut_by_a_window() {
    let tiles = scene::plate(Units::Millimetre);
    for version in [dxf::Version::R12, dxf::Version::R2000] {
        let e = dxf::write(&tiles, 1, version).expect_err("a corrected tile");
        assert!(e.to_string().contains("uncorrected page"), "{e}");
    }
    let mut window = sheet(Vec::new());
    let items: Shared<[Item]> =
        vec![hole(50.0).of("whole"), hole(100.0).of("half"), hole(170.0).of("away")].into();
    let group = |x1: f64| {
        let clip = Some(Rect::new(0.0, 0.0, x1, 100.0));
        Entry::Group(Group {
            clip,
            scale_x: 1.0,
            scale_y: 1.0,
            shift: Vec2::ZERO,
            items: Shared::clone(&items),
        })
    };
    window.pages[0].items = vec![group(100.0)];
    let e = dxf::write(&window, 0, dxf::Version::R2000).expect_err("half a hole");
    assert_eq!(e.faults.iter().filter_map(|f| f.subject.as_deref()).collect::<Vec<_>>(), ["half"]);
    window.pages[0].items = vec![group(110.0)];
    let bytes = dxf::write(&window, 0, dxf::Version::R2000).expect("two whole holes");
    assert_eq!(count(&bytes, "CIRCLE"), 2);
}

#[test]
fn nothing_stands_twice_in_a_shop_file() {
    let c = scene::slot(Point::new(60.0, 40.0), 20.0, 8.0, 30.0);
    let again = c.reversed();
    let shifted =
        Contour::new(c.segments().iter().cycle().skip(2).take(4).copied().collect()).expect("a contour");
    let path = |c: &Contour| Item::stroked(Layer::Cut, Shape::Path(c.clone()), Stroke::solid(0.3));
    let round = Item::stroked(
        Layer::Cut,
        Shape::Path(Contour::circle(Point::new(20.0, 50.0), 10.0)),
        Stroke::solid(0.1),
    );
    let on_mark = Item { layer: Layer::Mark, ..hole(20.0) };
    let drawing = sheet(vec![path(&c), path(&again), path(&shifted), hole(20.0), hole(20.0), round, on_mark]);
    let bytes = dxf::write(&drawing, 0, dxf::Version::R2000).expect("written");
    assert_eq!(count(&bytes, "LWPOLYLINE"), 1);
    // the same circle on another layer is another thing
    assert_eq!(count(&bytes, "CIRCLE"), 2);
}

#[test]
fn paper_white_areas_and_invisible_items_are_left_out() {
    let c = Contour::rect(Point::new(60.0, 40.0), 20.0, 8.0, 0.0);
    let white = Item::filled(Layer::Text, Shape::Path(c.clone()), Ink::WHITE);
    let unseen = Item { fill: None, ..white.clone() };
    let grey = Item::filled(Layer::Outline, Shape::Path(c), Ink::LIGHT);
    let drawing = sheet(vec![white, unseen, grey]);
    assert_eq!(count(&dxf::write(&drawing, 0, dxf::Version::R12).expect("written"), "POLYLINE"), 1);
    let svg = String::from_utf8(svg::write(&drawing, 0).expect("written")).expect("UTF-8");
    assert_eq!(svg.matches("<path").count(), 2);
}

#[test]
fn layers_say_what_is_done_with_them() {
    let names: std::collections::BTreeSet<&str> = Layer::ALL.iter().map(|l| l.name()).collect();
    assert_eq!(names.len(), Layer::ALL.len());
    assert!(names.iter().all(|n| n.len() <= 31 && n.chars().all(|c| c.is_ascii_uppercase())));
    assert_eq!(Layer::ALL.iter().filter(|l| l.is_cut()).count(), 1);
    assert!(Layer::ALL.windows(2).all(|w| w[0] < w[1]), "the list is in painting order");
    for l in Layer::ALL {
        assert_eq!(l.is_cut(), l.does().starts_with("cut"), "{l:?}");
    }
    let svg =
        String::from_utf8(svg::write(&scene::plate(Units::Millimetre), 0).expect("written")).expect("UTF-8");
    assert!(svg.contains("id=\"CUT\"") && svg.contains("class=\"cut\""));
    assert_eq!(svg.matches("class=\"cut\"").count(), 1);
}
