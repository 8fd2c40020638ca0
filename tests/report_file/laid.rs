//! The pages before they are a PDF: no two texts meet, none leaves the margins, nothing of the document is lost.

use crate::messy::messy;
use crate::panels::Dice;
use panelwright::check::{Options, check};
use panelwright::draw::template::Paper;
use panelwright::draw::{Drawing, Entry, Shape, text};
use panelwright::export;
use panelwright::files::Disk;
use panelwright::geom::Rect;
use panelwright::panel::{Accepted, Panel};
use panelwright::report;
use panelwright::report::document::{Block, Document};
use panelwright::resolve::{Catalogue, resolve};
use std::collections::BTreeSet;

/// Boxes of all texts of a page that are set as words (a picture is a group of its own), with their words.
fn boxes(drawing: &Drawing, page: usize) -> Vec<(Rect, String)> {
    let texts = drawing.pages[page].items.iter().filter_map(|e| match e {
        Entry::Item(i) => match &i.shape {
            Shape::Text(t) => Some(t),
            _ => None,
        },
        Entry::Group(_) => None,
    });
    texts
        .map(|t| {
            let b = text::bounds(t);
            // letters such as g reach below the line
            (Rect::new(b.x0, b.y0 - text::DESCENT * t.height, b.x1, b.y1), t.text.clone())
        })
        .collect()
}

/// Shows that the pages hold together.
fn hold(panel: &Panel, paper: Paper, what: &str) {
    let findings = check(panel, &Options::default());
    let document = report::document(panel, &findings);
    let drawing = report::pages(&document, paper);
    export::valid::check(&drawing).unwrap_or_else(|e| panic!("{what}: {e}"));
    let mut all = String::new();
    for (k, page) in drawing.pages.iter().enumerate() {
        let mut list = boxes(&drawing, k);
        all.extend(list.iter().map(|(_, t)| t.replace(' ', "")));
        let inside = Rect::new(15.99, 8.0, page.width - 15.99, page.height - 8.0);
        for (b, words) in &list {
            let fits = inside.x0 <= b.x0 && b.x1 <= inside.x1 && inside.y0 <= b.y0 && b.y1 <= inside.y1;
            assert!(fits, "{what}: page {}: {words:?} at {b:?} leaves {inside:?}", k + 1);
        }
        list.sort_by(|a, b| a.0.y0.total_cmp(&b.0.y0));
        for (i, (a, words)) in list.iter().enumerate() {
            for (b, others) in list.iter().skip(i + 1).take_while(|(b, _)| b.y0 < a.y1) {
                let meet = a.x0 < b.x1 - 1e-9 && b.x0 < a.x1 - 1e-9 && b.y0 < a.y1 - 1e-9;
                assert!(!meet, "{what}: page {}: {words:?} and {others:?} meet", k + 1);
            }
        }
    }
    // a row may be split over two pages only as whole lines: every word comes somewhere
    for word in words(&document) {
        assert!(all.contains(&word), "{what}: {word:?} is not on the pages");
    }
}

/// Every word of a document that needs no breaking, once.
fn words(d: &Document) -> BTreeSet<String> {
    let mut texts: Vec<&str> = vec![&d.title];
    for s in &d.sections {
        texts.push(&s.title);
        for b in &s.blocks {
            match b {
                Block::Words(t) | Block::Strong(t) | Block::Head(t) => texts.push(t),
                Block::List(l) => texts.extend(l.iter().map(String::as_str)),
                Block::Facts(l) => texts.extend(l.iter().flat_map(|(a, b)| [a.as_str(), b.as_str()])),
                Block::Table(t) => {
                    texts.push(&t.caption);
                    texts.extend(t.rows.iter().flatten().map(String::as_str));
                }
                Block::Entry(e) => {
                    texts.extend([e.name.as_str(), e.asks.as_str()]);
                    texts.extend(e.facts.iter().flat_map(|(a, b)| [a.as_str(), b.as_str()]));
                }
                Block::Figure(f) => texts.push(&f.title),
                Block::Sign(l) => texts.extend(l.iter().map(|s| s.who)),
            }
        }
    }
    texts.iter().flat_map(|t| t.split_whitespace()).filter(|w| w.len() < 12).map(str::to_string).collect()
}

#[test]
fn demo_panels_on_both_papers() {
    for path in [
        "panels/wheatear/as-found.json",
        "panels/wheatear/proposed.json",
        "panels/dunlin/as-found.json",
        "panels/dunlin/proposed.json",
        "panels/corncrake/fixed-proposed.json",
        "panels/corncrake/floating-as-found.json",
    ] {
        let panel = resolve(path, &Disk::new(env!("CARGO_MANIFEST_DIR")), &Catalogue::builtin())
            .unwrap_or_else(|e| panic!("{e}"));
        for paper in [Paper::A4, Paper::Letter] {
            hold(&panel, paper, path);
        }
    }
}

/// Words of all lengths, without a space and with many.
fn babble(d: &mut Dice) -> String {
    let mut s = String::new();
    for _ in 0..d.below(60) {
        let most = if d.one_in(9) { 120 } else { 12 };
        let n = 1 + d.below(most);
        s.extend((0..n).map(|k| char::from(b'a' + ((k * 7 + n) % 26) as u8)));
        s.push_str([" ", "-", "/", ". ", "  "][d.below(5)]);
    }
    s.push('.');
    s
}

/// 12 panels by default, since most of the time goes into cures; `PANELWRIGHT_LONG=1` lays out 200.
#[test]
fn random_panels_with_babble_for_words() {
    let count = if std::env::var_os("PANELWRIGHT_LONG").is_some() { 200 } else { 12 };
    for seed in 0..count {
        let mut panel = messy(seed);
        let mut d = Dice::new(seed + 9000);
        panel.name = babble(&mut d).chars().take(300).collect();
        panel.title.fields = vec![
            ("owner".into(), babble(&mut d)),
            ("revision".into(), babble(&mut d).chars().take(40).collect()),
            ("approved-by".into(), babble(&mut d)),
        ];
        panel.remarks = (0..d.below(4)).map(|_| babble(&mut d)).collect();
        let findings = check(&panel, &Options::default());
        let place = panel.sheets[0].place.clone();
        for f in findings.list.iter().take(d.below(5)) {
            let (finding, because, by) = (f.id(&panel), babble(&mut d), babble(&mut d));
            panel.accepted.push(Accepted { finding, because, by, place: place.clone() });
        }
        hold(&panel, if d.one_in(2) { Paper::A4 } else { Paper::Letter }, &format!("seed {seed}"));
    }
}
