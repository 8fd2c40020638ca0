//! No two texts meet, none leaves the sheet or crosses a line of frame or title block, and no two leaders of one
//! axis cross.

use crate::kit::{demos, draw, findings, random};
use crate::panels::crowded;
use panelwright::draw::drawing::{DrawingOptions, PageSize, SIZES, drawing};
use panelwright::draw::{Drawing, Entry, Item, Layer, Page, Shape, Text, text};
use panelwright::geom::{Line, Point, Rect, Segment, Vec2, angle};

/// The measured box of a text with its descenders.
fn area(t: &Text) -> Rect {
    let o = text::origin(t);
    let (s, c) = angle::sin_cos_deg(t.angle);
    let along = Vec2::new(c, s) * text::width(&t.text, t.height, t.weight);
    let up = Vec2::new(-s, c) * t.height;
    let low = o - up * text::DESCENT;
    Rect::from_points(low, o + up).union(Rect::from_points(low + along, o + up + along))
}

fn overlap(a: &Rect, b: &Rect) -> bool {
    a.x0 < b.x1 - 1e-6 && b.x0 < a.x1 - 1e-6 && a.y0 < b.y1 - 1e-6 && b.y0 < a.y1 - 1e-6
}

/// Whether a level or upright line passes through a box.
fn through(l: &Line, r: &Rect) -> bool {
    let b = Rect::from_points(l.a, l.b);
    let r = r.inflate(-1e-6, -1e-6);
    b.x0 < r.x1 && r.x0 < b.x1.max(b.x0 + 1e-9) && b.y0 < r.y1 && r.y0 < b.y1.max(b.y0 + 1e-9)
}

fn items(p: &Page) -> Vec<&Item> {
    p.items.iter().filter_map(|e| if let Entry::Item(i) = e { Some(i) } else { None }).collect()
}

/// Whether two straight pieces cross or touch.
fn cross(a: &Line, b: &Line) -> bool {
    let side = |l: &Line, p: Point| (l.b - l.a).cross(p - l.a);
    let (p, q) = (side(a, b.a), side(a, b.b));
    let (r, s) = (side(b, a.a), side(b, a.b));
    p * q < 0.0 && r * s < 0.0
}

/// Texts of a page that was held against all of it.
fn held(page: &Page, what: &str) -> usize {
    let all = items(page);
    let frame: Vec<Line> = all
        .iter()
        .filter(|i| i.layer == Layer::Frame)
        .flat_map(|i| match &i.shape {
            Shape::Line(l) => vec![*l],
            Shape::Path(c) => c
                .segments()
                .iter()
                .filter_map(|s| if let Segment::Line(l) = s { Some(*l) } else { None })
                .collect(),
            _ => Vec::new(),
        })
        .collect();
    let mut boxes: Vec<(Rect, &str)> = Vec::new();
    for i in &all {
        let Shape::Text(t) = &i.shape else { continue };
        let b = area(t);
        let inside = b.x0 >= 0.0 && b.y0 >= 0.0 && b.x1 <= page.width && b.y1 <= page.height;
        assert!(inside, "{what}: {:?} leaves the sheet", t.text);
        assert!(t.height >= 0.8, "{what}: {:?} is {} mm high", t.text, t.height);
        let hit = frame.iter().find(|l| through(l, &b));
        assert!(hit.is_none(), "{what}: {:?} {b:?} stands on {hit:?}", t.text);
        boxes.push((b, &t.text));
    }
    boxes.sort_by(|a, b| a.0.x0.total_cmp(&b.0.x0));
    for (k, (a, words)) in boxes.iter().enumerate() {
        for (b, others) in boxes.iter().skip(k + 1).take_while(|(b, _)| b.x0 < a.x1) {
            assert!(!overlap(a, b), "{what}: {words:?} {a:?} meets {others:?} {b:?}");
        }
    }
    for axis in ["x ", "y "] {
        let leaders: Vec<Vec<Line>> = all
            .iter()
            .filter(|i| {
                i.layer == Layer::Dimension && i.subject.as_ref().is_some_and(|s| s.starts_with(axis))
            })
            .filter_map(|i| match &i.shape {
                Shape::Chain(pieces) => Some(pieces),
                _ => None,
            })
            .map(|p| {
                p.iter().filter_map(|s| if let Segment::Line(l) = s { Some(*l) } else { None }).collect()
            })
            .collect();
        for (k, a) in leaders.iter().enumerate() {
            for b in leaders.iter().skip(k + 1) {
                let crossing = a.iter().any(|p| b.iter().any(|q| cross(p, q)));
                assert!(!crossing, "{what}: two leaders of {axis}cross");
            }
        }
    }
    boxes.len()
}

fn hold(d: &Drawing, what: &str) -> usize {
    d.pages.iter().map(|p| held(p, &format!("{what}, {}", p.name))).sum()
}

#[test]
fn nothing_meets_on_the_demo_panels() {
    for p in demos() {
        let list = findings(&p);
        for k in 0..p.sheets.len() {
            let d = drawing(&p, k, &list, &DrawingOptions::default()).unwrap();
            assert!(hold(&d, &format!("{} {k}", p.name)) > 50);
        }
    }
}

#[test]
fn nothing_meets_on_two_hundred_random_panels() {
    let mut texts = 0;
    for seed in 1000..1200 {
        let p = random(seed);
        texts += hold(&draw(&p, 0), &format!("seed {seed}"));
    }
    println!("{texts} texts");
    assert!(texts > 20_000);
}

#[test]
fn nothing_meets_on_any_page_that_is_asked_for() {
    let mut refused = 0;
    for (p, what) in [(crowded(3), "crowded"), (random(1), "small"), (demos().remove(0), "demo")] {
        for s in SIZES {
            let opts = DrawingOptions { page: PageSize::named(s.name), stale: None };
            match drawing(&p, 0, &[], &opts) {
                Ok(d) => assert!(hold(&d, &format!("{what} on {}", s.name)) > 50),
                Err(_) => refused += 1,
            }
        }
    }
    assert!(refused <= 2, "{refused} refused");
}
