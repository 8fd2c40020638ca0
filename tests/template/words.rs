//! No text on a template meets another, and none leaves its page.

use crate::build;
use panelwright::check::Verdict;
use panelwright::draw::front_view::front_view;
use panelwright::draw::picture::picture;
use panelwright::draw::template::{Face, Paper, Purpose, TemplateOptions, template};
use panelwright::draw::{Drawing, Entry, Item, Layer, Page, Shape, text};
use panelwright::geom::{Contour, Point, Rect};

/// Every text of a page but the stamps, with its box on the page.
pub fn texts(page: &Page) -> Vec<(String, Rect)> {
    let mut found = Vec::new();
    let mut put = |item: &Item, map: &dyn Fn(Rect) -> Option<Rect>| {
        if let Shape::Text(t) = &item.shape
            && item.layer != Layer::Notice
        {
            let mut b = text::bounds(t);
            if t.angle == 0.0 {
                b.y0 -= t.height * text::DESCENT;
            }
            if let Some(b) = map(b) {
                found.push((t.text.clone(), b));
            }
        }
    };
    for entry in &page.items {
        match entry {
            Entry::Item(item) => put(item, &Some),
            Entry::Group(g) => {
                for item in g.items.iter() {
                    put(item, &|b| {
                        let r = Rect::from_points(g.point(b.origin()), g.point((b.x1, b.y1).into()));
                        // a tile shows a part of a text: only what lies in the window whole is read
                        g.clip.is_none_or(|c| c.contains_rect(r)).then_some(r)
                    });
                }
            }
        }
    }
    found
}

fn clean(drawing: &Drawing, what: &str) {
    for page in &drawing.pages {
        let all = texts(page);
        assert!(!all.is_empty());
        let paper = Rect::new(0.0, 0.0, page.width, page.height);
        for (k, (words, b)) in all.iter().enumerate() {
            assert!(
                paper.contains_rect(*b),
                "{what} {}: {words:?} leaves the page: {b:?} {paper:?}",
                page.name
            );
            for (other, c) in all.iter().skip(k + 1) {
                let i = b.intersect(*c);
                assert!(
                    i.width() < 1e-6 || i.height() < 1e-6,
                    "{what} {}: {words:?} {b:?} meets {other:?} {c:?}",
                    page.name
                );
            }
        }
    }
}

#[test]
fn no_two_texts_meet_on_a_hundred_random_panels() {
    let findings = [build::finding(Verdict::Fail, 0)];
    for seed in 0..100 {
        let panel = build::random(seed);
        let face = if seed % 2 == 0 { Face::Front } else { Face::Back };
        let purpose = if seed % 5 == 4 { Purpose::Trial } else { Purpose::Cut };
        let paper = [Paper::Whole, Paper::A4, Paper::A3, Paper::Letter][(seed % 4) as usize];
        let opts = TemplateOptions { face, purpose, paper, ..TemplateOptions::default() };
        let drawing = template(&panel, 0, &findings, &opts).expect("template");
        clean(&drawing, &format!("seed {seed} {opts:?}"));
    }
}

#[test]
fn front_views_and_pictures_are_clean() {
    for seed in 0..60 {
        let panel = build::random(seed);
        let all: Vec<_> = (0..panel.subjects.len() as u32)
            .map(|k| {
                build::finding(
                    [Verdict::Fail, Verdict::Tight, Verdict::Withheld, Verdict::Pass][(k % 4) as usize],
                    k,
                )
            })
            .collect();
        let view = front_view(&panel, &all);
        clean(&view, &format!("front view, seed {seed}"));
        let said = super::notice::words(&view.pages[0]).join(" ");
        for caution in
            ["Isolate the battery", "magneto", "leak test", "swing the compass", "approves nothing"]
        {
            assert!(said.contains(caution), "{caution} is not in {said}");
        }
        for s in panel.subjects.iter().skip(1) {
            clean(&picture(s), &format!("picture, seed {seed}, {}", s.id));
        }
    }
}

#[test]
fn a_name_without_room_is_said_elsewhere() {
    let mut panel = build::blank(Contour::rect(Point::new(50.0, 50.0), 100.0, 100.0, 0.0));
    for k in 0..900 {
        let (x, y) = (2.0 + 3.2 * f64::from(k % 30), 2.0 + 3.2 * f64::from(k / 30));
        panel.subjects.push(build::switch(&format!("lamp-{k}"), x, y, 2.5));
    }
    let findings = [build::finding(Verdict::Fail, 1)];
    let front = front_view(&panel, &findings);
    let sheet = template(&panel, 0, &findings, &TemplateOptions::default()).expect("template");
    for (drawing, said) in [(&front, "no room for the names of:"), (&sheet, "no room beside them:")] {
        clean(drawing, "crowd");
        let all: String = drawing.pages.iter().flat_map(texts).map(|(t, _)| t + " ").collect();
        assert!(all.contains(said));
        assert!((0..900).all(|k| all.contains(&format!("lamp-{k}"))), "every name stands somewhere");
    }
    // the same on tiles, with a title field that never ends: the words take more pages
    panel.sheets[0].outline = Contour::rect(Point::new(250.0, 50.0), 500.0, 100.0, 0.0);
    panel.title.fields.push(("remark".into(), "as agreed and written down before ".repeat(400)));
    let tiles = template(&panel, 0, &findings, &TemplateOptions { paper: Paper::A4, ..Default::default() });
    let tiles = tiles.expect("tiles");
    clean(&tiles, "crowd on tiles");
    assert!(tiles.pages.iter().any(|p| p.name == "cover 3"), "{:?}", tiles.pages.len());
}

#[test]
fn the_ordinary_panel_is_clean_on_every_paper() {
    let panel = build::dunlin();
    for paper in [Paper::Whole, Paper::A4, Paper::A3, Paper::Letter, Paper::Tabloid] {
        for purpose in [Purpose::Cut, Purpose::Copy, Purpose::Trial] {
            let opts = TemplateOptions { paper, purpose, ..TemplateOptions::default() };
            let drawing = template(&panel, 0, &[build::finding(Verdict::Pass, 1)], &opts).expect("template");
            clean(&drawing, &format!("{opts:?}"));
        }
    }
}
