//! Pictures to look at: written where `LOOK` names a folder.

use crate::kit;
use panelwright::check::{Options, check};
use panelwright::draw::Drawing;
use panelwright::draw::behind::{Asked, back, card, depth_map, depth_table, sections};
use panelwright::export;

pub fn look(stem: &str, d: &Drawing) {
    let Ok(folder) = std::env::var("LOOK") else { return };
    let png = export::format("png").expect("png");
    for f in export::files(png, d, stem, &export::Options { dpi: 80.0 }).expect("drawn") {
        std::fs::write(std::path::Path::new(&folder).join(f.name), f.bytes).expect("written");
    }
}

#[test]
fn sections_of_the_made_panel() {
    let p = kit::panel();
    let findings = check(&p, &Options::default()).list;
    let asked =
        [Asked::Item("alt".into()), Asked::Item("nav".into()), Asked::Upright(160.0), Asked::Level(110.0)];
    let d = sections(&p, &findings, &asked, &Default::default()).expect("drawn");
    look("section", &d);
}

#[test]
fn the_made_panel_from_behind() {
    let p = kit::panel();
    let findings = check(&p, &Options::default()).list;
    look("back", &back(&p, &findings, &Default::default()).expect("drawn"));
}

#[test]
fn the_map_of_depth() {
    let mut p = kit::panel();
    let findings = check(&p, &Options::default()).list;
    look("map", &depth_map(&p, &findings, &Default::default()).expect("drawn"));
    let area =
        |id: &str, x: f64, y: f64, w: f64, h: f64, available: Option<f64>| panelwright::panel::DepthArea {
            id: id.into(),
            contour: panelwright::geom::Contour::rect(panelwright::geom::Point::new(x, y), w, h, 0.0),
            available,
            place: crate::panels::nowhere(),
        };
    p.depth.elsewhere = None;
    p.depth.areas = vec![
        area("bay", 100.0, 100.0, 180.0, 180.0, Some(220.0)),
        area("corner", 350.0, 50.0, 80.0, 80.0, None),
        area("duct", 290.0, 140.0, 120.0, 60.0, Some(150.0)),
    ];
    look("map-unknown", &depth_map(&p, &findings, &Default::default()).expect("drawn"));
}

#[test]
fn the_table_and_the_card() {
    let p = kit::panel();
    let findings = check(&p, &Options::default()).list;
    look("table", &depth_table(&p, &findings, &Default::default()));
    look("card", &card(&p, &findings, &Default::default()));
    look("card-empty", &card(&crate::panels::bare(300.0, 200.0), &[], &Default::default()));
}
