//! The drawing of what changes: areas of its hatchings, marks and words, and the command that writes it.

use crate::{difference, read, round, run, with};
use panelwright::check::{Options, check};
use panelwright::compare::Difference;
use panelwright::draw::compared::compared;
use panelwright::draw::{Dash, Drawing, Entry, Item, Shape};
use panelwright::geom::{Contour, Point};
use panelwright::panel::{Class, Panel};
use std::f64::consts::PI;

fn drawn(old: &Panel, new: &Panel) -> (Drawing, Difference) {
    let d = difference(old, new);
    let findings = check(new, &Options { all_pairs: false });
    (compared(old, new, &findings.list, &d), d)
}

fn items(d: &Drawing) -> Vec<&Item> {
    let of = |e: &'_ Entry| matches!(e, Entry::Item(_));
    let all = d.pages.iter().flat_map(|p| &p.items).filter(|e| of(e));
    all.filter_map(|e| if let Entry::Item(i) = e { Some(i) } else { None }).collect()
}

/// Area within outlines by the even-odd rule, where gaps run clockwise.
fn area(all: &[Contour]) -> f64 {
    all.iter().map(|c| if c.is_ccw() { c.area() } else { -c.area() }).sum()
}

/// The n of the scale 1:n, from the title.
fn ratio(d: &Drawing) -> f64 {
    let after = d.title.split("scale 1:").nth(1).expect("a scale");
    after.split(',').next().and_then(|n| n.parse().ok()).expect("a number")
}

/// Area hatched in a direction, mm2 of the panel, the key's own samples left out.
fn hatched(d: &Drawing, direction: f64) -> f64 {
    let of = |i: &&Item| match &i.shape {
        Shape::Hatch { contours, angle, .. } if *angle == direction => area(contours),
        _ => 0.0,
    };
    let key = 10.0 * 4.5;
    (items(d).iter().map(of).sum::<f64>() - key) * ratio(d).powi(2)
}

fn words(d: &Drawing) -> Vec<String> {
    let of = |i: &&Item| if let Shape::Text(t) = &i.shape { Some(t.text.clone()) } else { None };
    items(d).iter().filter_map(of).collect()
}

#[test]
fn hatchings_are_the_metal_that_changes() {
    let old = with(&[
        ("same", Class::OldOpening, round(50.0, 79.375)),
        ("beside", Class::OldOpening, round(250.0, 40.0)),
        ("left", Class::OldOpening, round(350.0, 40.0)),
    ]);
    let new = with(&[("a", Class::Cutout, round(50.0, 79.4)), ("c", Class::Cutout, round(270.0, 40.0))]);
    let (drawing, d) = drawn(&old, &new);
    // two circles of radius 20 whose centres are 20 apart share r2 (2 pi / 3 - sqrt 3 / 2)
    let shared = 400.0 * (2.0 * PI / 3.0 - 3f64.sqrt() / 2.0);
    let disc = 400.0 * PI;
    assert!((hatched(&drawing, 45.0) - (disc - shared)).abs() < 0.2, "{}", hatched(&drawing, 45.0));
    // one opening is left whole, of the other what is not taken
    for way in [0.0, 90.0] {
        assert!((hatched(&drawing, way) - (2.0 * disc - shared)).abs() < 0.2, "{}", hatched(&drawing, way));
    }
    for c in &d.openings.cut {
        assert!((area(&c.metal) - c.area).abs() < 0.1, "{c:?}");
    }
    for w in &d.openings.old {
        assert!((area(&w.gap) - w.open).abs() < 0.1, "{w:?}");
    }
    let told = words(&drawing);
    let key = |start: &str| told.iter().any(|w| w.starts_with(start));
    assert!(key("1 to cut, ") && key("2 to fill or cover, ") && key("1 kept"), "{told:?}");
}

#[test]
fn what_comes_goes_and_moves_is_marked() {
    let old = with(&[("a", Class::Cutout, round(60.0, 40.0)), ("gone", Class::Cutout, round(160.0, 40.0))]);
    let mut new =
        with(&[("a", Class::Cutout, round(60.0, 40.0)), ("fresh", Class::Cutout, round(330.0, 40.0))]);
    let k = new.find("a").expect("an item");
    new.shift(k, Point::new(12.0, -5.5).to_vec2());
    let (drawing, _) = drawn(&old, &new);
    let told = words(&drawing);
    for word in ["comes", "goes", "moved 12, -5.5"] {
        assert_eq!(told.iter().filter(|w| *w == word).count(), 1, "{word}: {told:?}");
    }
    // where the two were: the item that goes and the one that moved
    let scale = 1.0 / ratio(&drawing);
    let was = |i: &&Item| i.stroke.is_some_and(|s| s.dash == Dash::DoubleChain && s.width == 0.25);
    let circles = items(&drawing).into_iter().filter(was).filter(|i| match i.shape {
        Shape::Circle { radius, .. } => (radius - 20.0 * scale).abs() < 1e-9,
        _ => false,
    });
    assert_eq!(circles.count(), 2);
    // from a panel to itself there is nothing to hatch and no mark
    let (same, _) = drawn(&new, &new);
    assert!(hatched(&same, 45.0).abs() < 1e-9 && hatched(&same, 0.0).abs() < 1e-9);
    assert!(!words(&same).iter().any(|w| w == "comes" || w == "goes" || w.starts_with("moved ")));
}

#[test]
fn another_outline_is_metal_too() {
    let (mut old, mut new) = (with(&[]), with(&[]));
    // 400 by 200 becomes 360 by 230 about the same lower left corner: 40 by 200 go, 360 by 30 come
    let outline = new.sheets[0].outline.bounds();
    old.sheets[0].outline = Contour::rect(outline.center(), 400.0, 200.0, 0.0);
    let at = Point::new(outline.x0 + 180.0, outline.y0 + 115.0);
    new.sheets[0].outline = Contour::rect(at, 360.0, 230.0, 0.0);
    let (drawing, d) = drawn(&old, &new);
    assert_eq!(d.sheets.len(), 1);
    assert!((hatched(&drawing, 45.0) - 40.0 * 200.0).abs() < 1.0, "{}", hatched(&drawing, 45.0));
    assert!((hatched(&drawing, 0.0) - 360.0 * 30.0).abs() < 1.0, "{}", hatched(&drawing, 0.0));
}

#[test]
fn the_command_draws_it_where_it_is_asked_for() {
    let folder = std::env::temp_dir().join(format!("panelwright-compared-{}", std::process::id()));
    let out = folder.to_str().expect("a path");
    let [old, new] = ["panels/wheatear/as-found.json", "panels/wheatear/proposed.json"];
    let o = run(&["compare", old, new, "--out", out, "--formats", "svg,pdf,dxf"]);
    assert!(o.status.code().is_some_and(|c| c < 2), "{}", String::from_utf8_lossy(&o.stderr));
    let stem = "wheatear-proposed-changes-from-wheatear-as-found";
    let svg = std::fs::read_to_string(folder.join(format!("{stem}.svg"))).expect("an svg");
    let page = &drawn(&read(old), &read(new)).0;
    assert!(svg.contains("not to cut from") && page.pages.len() == 1);
    for ending in ["pdf", "dxf"] {
        let bytes = std::fs::read(folder.join(format!("{stem}.{ending}"))).expect("a file");
        assert!(bytes.len() > 1000, "{ending}");
    }
    std::fs::remove_dir_all(&folder).ok();
    // nothing is drawn that is not asked for
    let plain = run(&["compare", old, new]);
    assert!(!String::from_utf8_lossy(&plain.stderr).contains("drawn"));
}
