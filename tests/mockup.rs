//! The mock-up kit: nets read back from the pages as paths, and held against the bodies that they fold to.

#[allow(dead_code)]
#[path = "support/oracle.rs"]
mod oracle;
#[path = "support/panels.rs"]
mod panels;
#[allow(dead_code)]
#[path = "support/small.rs"]
mod small;

use panelwright::draw::mockup::{MockupError, SMALLEST, mockup};
use panelwright::draw::template::Paper;
use panelwright::export;
use panelwright::geom::{Contour, Point};
use panelwright::panel::{Class, Panel};
use serde_json::{Value, json};
use small::{Small, oblong, round};
use std::path::{Path, PathBuf};
use std::process::Command;

/// Writes the kit as SVG and PDF; gives the pages of the SVG.
fn pages(name: &str, panel: &Panel, paper: Paper) -> Vec<PathBuf> {
    let kit = mockup(panel, paper).expect("a kit");
    let mut names = Vec::new();
    for format in ["svg", "pdf"] {
        let format = export::format(format).expect("a format");
        for made in export::files(format, &kit.drawing, name, &export::Options::default()).expect("written") {
            let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(&made.name);
            std::fs::write(&path, &made.bytes).expect("a file in the target folder");
            if format.name == "svg" {
                names.push(path);
            }
        }
    }
    names
}

fn case(name: &str, paper: Paper, size: [f64; 2], panel: &Panel, bodies: Value) -> Value {
    json!({ "name": name, "paper": size, "pages": pages(name, panel, paper), "bodies": bodies })
}

/// One item with one body.
fn one(section: Contour, from: f64, to: f64) -> Panel {
    Small::new().item("box").solid("body", Class::Body, section, from, to).panel
}

#[test]
fn nets_fold_to_the_bodies_own_size() {
    let a4 = [297.0, 210.0];
    let letter = [279.4, 215.9];
    let l = [(50.0, 50.0), (110.0, 50.0), (110.0, 80.0), (80.0, 80.0), (80.0, 95.0), (50.0, 95.0)];
    let mut cases = vec![
        // sides, back and front in one piece; the connector is to the right of the middle and above it
        case(
            "net-box",
            Paper::A4,
            a4,
            &Small::new()
                .item("box")
                .solid("body", Class::Body, oblong(100.0, 100.0, 60.0, 40.0), 2.0, 52.0)
                .solid("plug", Class::Port, round(115.0, 108.0, 10.0), 52.0, 70.0)
                .panel,
            json!([
                { "id": "box.body", "is": "box", "wide": 60.0, "high": 40.0, "depth": 50.0, "plug": [15.0, 8.0, 5.0] },
                { "id": "box.plug", "is": "round", "diameter": 10.0, "depth": 18.0 }
            ]),
        ),
        case(
            "net-round",
            Paper::A4,
            a4,
            &one(round(100.0, 100.0, 79.4), 0.0, 130.0),
            json!([{ "id": "box.body", "is": "round", "diameter": 79.4, "depth": 130.0 }]),
        ),
        // deeper than the paper either way round: two rings
        case(
            "net-deep",
            Paper::A4,
            a4,
            &one(round(100.0, 100.0, 45.0), 0.0, 420.0),
            json!([{ "id": "box.body", "is": "rings", "around": std::f64::consts::PI * 45.0, "depth": 420.0 }]),
        ),
        // wider than the paper: the back lies on several pages
        case(
            "net-wide",
            Paper::A4,
            a4,
            &one(oblong(200.0, 100.0, 330.0, 190.0), 0.0, 60.0),
            json!([{ "id": "box.body", "is": "rings", "around": 2.0 * (330.0 + 190.0), "depth": 60.0 }]),
        ),
        case(
            "net-l",
            Paper::A3,
            [420.0, 297.0],
            &one(Contour::polygon(&l.map(Point::from)), 2.0, 42.0),
            json!([{ "id": "box.body", "is": "sides", "sides": [60.0, 30.0, 30.0, 15.0, 30.0, 45.0], "depth": 40.0 }]),
        ),
        case(
            "net-slot",
            Paper::Letter,
            letter,
            &one(Contour::slot(Point::new(80.0, 90.0), Point::new(120.0, 90.0), 14.0), 0.0, 45.0),
            json!([{ "id": "box.body", "is": "rings", "around": 80.0 + std::f64::consts::TAU * 14.0, "depth": 45.0 }]),
        ),
    ];
    for panel in ["wheatear/proposed", "corncrake/floating-proposed", "dunlin/proposed"] {
        cases.push(demo(panel));
    }
    oracle::agrees("mockup_read.py", cases.into_iter());
}

/// A demo panel by the program itself: nothing off the page, nothing over another.
fn demo(panel: &str) -> Value {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("mockup-{}", panel.replace('/', "-")));
    let _ = std::fs::remove_dir_all(&folder);
    let out = Command::new(env!("CARGO_BIN_EXE_panelwright"))
        .args(["mockup", &format!("panels/{panel}.json"), "--paper", "a4", "--formats", "svg", "--out"])
        .arg(&folder)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("the program runs");
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    let mut pages: Vec<PathBuf> =
        std::fs::read_dir(&folder).expect("written").map(|e| e.expect("a file").path()).collect();
    pages.sort();
    assert!(pages.len() > 5);
    json!({ "name": panel, "paper": [297.0, 210.0], "pages": pages, "bodies": [] })
}

#[test]
fn what_is_missing_or_too_small_is_listed() {
    let panel = Small::new()
        .item("a")
        .solid("body", Class::Body, oblong(100.0, 100.0, 60.0, 40.0), 0.0, 50.0)
        .solid("pin", Class::Port, round(100.0, 100.0, SMALLEST - 0.1), 50.0, 70.0)
        .part("open", Class::Port, round(120.0, 100.0, 20.0))
        .lacks("port-static", "its diameter")
        .panel;
    let kit = mockup(&panel, Paper::A4).expect("a kit");
    assert_eq!(kit.bodies, 1);
    let starts = ["a.pin: 5.9 x 5.9 mm", "a.open: how deep", "a.port-static: its diameter is missing"];
    assert_eq!(kit.without.len(), 3, "{:?}", kit.without);
    assert!(kit.without.iter().zip(starts).all(|(w, s)| w.starts_with(s)), "{:?}", kit.without);
    // a kit of nothing, or for no paper
    let none = mockup(&Small::new().panel, Paper::A4);
    assert_eq!(none, Err(MockupError::Nothing { without: Vec::new() }));
    assert_eq!(mockup(&panel, Paper::Whole), Err(MockupError::NoPaper));
    // what stands in front of the sheet alone is not stuck behind the card
    let front =
        Small::new().item("a").solid("body", Class::Body, round(100.0, 100.0, 40.0), -30.0, 0.0).panel;
    assert!(mockup(&front, Paper::A4).is_err());
}
