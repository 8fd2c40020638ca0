//! True scale: bars, printer correction, tiles.

use crate::build::{self, dunlin};
use crate::cuts::cut;
use panelwright::check::Verdict;
use panelwright::draw::template::{Measured, Paper, Purpose, TemplateError, TemplateOptions, shop, template};
use panelwright::draw::{Drawing, Entry, Group, Layer, Page, Shape, Units};
use panelwright::geom::{Point, Rect, Segment, span};
use panelwright::panel::Panel;
use panelwright::units::Unit;

fn drawn(p: &Panel, opts: &TemplateOptions) -> Drawing {
    template(p, 0, &[build::finding(Verdict::Pass, 0)], opts).expect("template")
}

fn groups(page: &Page) -> impl Iterator<Item = &Group> {
    page.items.iter().filter_map(|e| if let Entry::Group(g) = e { Some(g) } else { None })
}

/// Lengths on paper of the level and of the upright lines on the scale layer, longest first.
fn bars(page: &Page) -> (Vec<f64>, Vec<f64>) {
    let (mut level, mut upright) = (Vec::new(), Vec::new());
    for g in groups(page) {
        for i in g.items.iter().filter(|i| i.layer == Layer::Scale) {
            if let Shape::Line(l) = &i.shape {
                let d = g.point(l.b) - g.point(l.a);
                if d.y.abs() < 1e-12 { level.push(d.x.abs()) } else { upright.push(d.y.abs()) }
            }
        }
    }
    for v in [&mut level, &mut upright] {
        v.sort_by(|a, b| b.total_cmp(a));
    }
    (level, upright)
}

#[test]
fn a_whole_page_has_bars_of_250_mm_and_10_in_on_both_axes() {
    for seed in 0..40 {
        let d = drawn(&build::random(seed), &TemplateOptions::default());
        let (x, y) = bars(&d.pages[0]);
        for bar in [x, y] {
            assert!((bar[0] - 254.0).abs() < 1e-9 && (bar[1] - 250.0).abs() < 1e-9, "{bar:?}");
        }
    }
}

#[test]
fn every_tile_has_both_bars() {
    for paper in [Paper::A4, Paper::A3, Paper::Letter, Paper::Tabloid] {
        let d = drawn(&dunlin(), &TemplateOptions { paper, ..Default::default() });
        for page in d.pages.iter().filter(|p| p.name.starts_with("tile")) {
            let (x, y) = bars(page);
            assert!(x[0] >= 150.0 && y[0] >= 150.0 && x[0].max(y[0]) >= 250.0, "{paper:?} {}", page.name);
        }
    }
}

/// A printer that shrinks x to 97 % and stretches y to 101 %: its bars are measured, the next print is
/// corrected, and on that printer its bars and contours then read true.
#[test]
fn a_corrected_print_reads_true() {
    let printer = (0.97, 1.01);
    for paper in [Paper::Whole, Paper::A4, Paper::Tabloid] {
        let first = drawn(&dunlin(), &TemplateOptions { paper, ..Default::default() });
        let page = first.pages.last().expect("page");
        let (x, y) = bars(page);
        let opts = TemplateOptions {
            paper,
            measured_x: Some(Measured { nominal: x[0], read: x[0] * printer.0 }),
            measured_y: Some(Measured { nominal: y[0], read: y[0] * printer.1 }),
            ..Default::default()
        };
        let second = drawn(&dunlin(), &opts);
        for page in second.pages.iter().filter(|p| p.name != "cover") {
            for g in groups(page) {
                assert!(
                    (g.scale_x * printer.0 - 1.0).abs() < 1e-12
                        && (g.scale_y * printer.1 - 1.0).abs() < 1e-12
                );
            }
            let (x, y) = bars(page);
            for (bar, factor) in [(x, printer.0), (y, printer.1)] {
                let Some(longest) = bar.first() else { continue };
                let read = longest * factor;
                let nominal = [254.0, 250.0, 203.2, 200.0, 152.4, 150.0];
                assert!(nominal.iter().any(|n| (read - n).abs() < 1e-9), "{read}");
            }
        }
    }
}

#[test]
fn absurd_corrections_are_refused() {
    for read in [200.0, 300.0, 0.0, -250.0, f64::NAN, f64::INFINITY] {
        for axis in ['x', 'y'] {
            let m = Some(Measured { nominal: 250.0, read });
            let (measured_x, measured_y) = if axis == 'x' { (m, None) } else { (None, m) };
            let opts = TemplateOptions { measured_x, measured_y, ..Default::default() };
            let answer = template(&dunlin(), 0, &[], &opts);
            assert!(matches!(answer, Err(TemplateError::Correction { axis: a, .. }) if a == axis), "{read}");
        }
    }
    let edge = TemplateOptions {
        measured_x: Some(Measured { nominal: 250.0, read: 250.0 / 1.1 }),
        ..Default::default()
    };
    assert!(template(&dunlin(), 0, &[], &edge).is_ok());
    let opts = TemplateOptions { paper: Paper::A4, overlap: 400.0, ..Default::default() };
    assert!(matches!(template(&dunlin(), 0, &[], &opts), Err(TemplateError::Overlap { .. })));
}

/// Every point of every cut line lies in the window of a tile, at its true place, and every register mark in
/// at least two.
#[test]
fn tiles_show_everything_and_share_their_marks() {
    for seed in 0..20 {
        let p = build::random(seed);
        let d = drawn(&p, &TemplateOptions { paper: Paper::A4, overlap: 12.0, ..Default::default() });
        let tiles: Vec<&Group> = d
            .pages
            .iter()
            .filter(|p| p.name.starts_with("tile"))
            .filter_map(|p| groups(p).find(|g| g.clip.is_some()))
            .collect();
        let Some(first) = tiles.first() else { continue };
        let seen = |q: Point| {
            tiles
                .iter()
                .filter(|g| g.clip.is_some_and(|c: Rect| c.inflate(1e-9, 1e-9).contains(g.point(q))))
                .count()
        };
        for i in first.items.iter() {
            match (&i.shape, i.layer) {
                (Shape::Circle { centre, radius }, Layer::Cut) => {
                    for v in [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)] {
                        assert!(seen(Point::new(centre.x + v.0 * radius, centre.y + v.1 * radius)) > 0);
                    }
                }
                (Shape::Path(c), Layer::Cut) => {
                    for s in c.segments() {
                        assert!((0..=10).all(|k| seen(Segment::at(s, f64::from(k) / 10.0)) > 0));
                    }
                }
                (Shape::Circle { centre, radius }, Layer::Register) if *radius == 2.0 => {
                    assert!(seen(*centre) >= 2, "seed {seed}: mark at {centre:?}");
                }
                _ => {}
            }
        }
    }
}

#[test]
fn pages_are_their_paper() {
    for (paper, w, h) in [(Paper::A4, 210.0, 297.0), (Paper::A3, 297.0, 420.0), (Paper::Letter, 215.9, 279.4)]
    {
        for purpose in [Purpose::Cut, Purpose::Copy] {
            let d = drawn(&dunlin(), &TemplateOptions { paper, purpose, ..Default::default() });
            for p in &d.pages {
                assert!(
                    (p.width, p.height) == (w, h) || (p.height, p.width) == (w, h),
                    "{} {}",
                    p.width,
                    p.height
                );
            }
        }
    }
}

#[test]
fn a_shop_file_carries_a_line_of_100_mm_and_its_unit() {
    let mut p = dunlin();
    for unit in [Unit::Millimetre, Unit::Inch] {
        p.unit = unit;
        let d =
            shop(&p, 0, &[build::finding(Verdict::Pass, 0)], &TemplateOptions::default()).expect("shop file");
        assert_eq!(d.units, if unit.is_inch() { Units::Inch } else { Units::Millimetre });
        let items: Vec<_> = d.pages[0]
            .items
            .iter()
            .filter_map(|e| if let Entry::Item(i) = e { Some(i) } else { None })
            .collect();
        assert_eq!(items.len(), d.pages[0].items.len(), "no scaled group in a shop file");
        let long = items
            .iter()
            .filter(|i| i.layer == Layer::Scale)
            .filter_map(|i| if let Shape::Line(l) = &i.shape { Some(span(l.a, l.b)) } else { None })
            .fold(0.0, f64::max);
        assert!((long - 100.0).abs() < 1e-12);
        let said = format!("unit of this file: {}", d.units.word());
        assert!(items.iter().any(|i| matches!(&i.shape, Shape::Text(t) if t.text.contains(&said))));
        assert_eq!(cut(&d).len(), 24);
        assert!(items.iter().all(|i| !matches!(i.layer, Layer::Outline | Layer::Hatch)));
    }
}
