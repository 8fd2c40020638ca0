//! Panels that float in openings of others: what is laid in where, and what is refused.

use panelwright::files::Memory;
use panelwright::geom::Point;
use panelwright::panel::{Panel, SheetRole};
use panelwright::resolve::{Catalogue, resolve};

const CENTRE: &str = r#"{ "format": 1, "panel": "Centre", "unit": "in",
  "sheet": { "outline": { "rectangle": [10, 6] }, "material": "6061-T6", "thickness": "2 mm", "new": true },
  "depth": { "default": "100 mm" },
  "limits": { "web": { "at-least": "9 mm", "because": "it shakes" } },
  "process": { "kind": "waterjet" },
  "place": [ { "id": "asi", "instrument": "round/80mm-front", "at": [-2, 0] } ],
  "labels": [ { "id": "name", "text": "ASI", "of": "asi", "at": [-2, 2] } ],
  "accepted": [ { "finding": "web/asi.cutout/name", "because": "seen", "by": "the inspector" } ] }"#;

/// A carrier with a bay, and `floating` as the list says.
fn carrier(floating: &str, more: &str) -> String {
    format!(
        r#"{{ "format": 1, "panel": "Carrier", "unit": "mm",
  "sheet": {{ "outline": "M 0 0 H 600 V 300 H 0 Z", "material": "6061-T6", "thickness": 2 }},
  "process": {{ "kind": "hand" }},
  "old-openings": [ {{ "id": "bay", "shape": {{ "rectangle": [270, 170] }}, "at": [300, 150] }} ],
  "floating": [ {floating} ]{more} }}"#
    )
}

fn with(floating: &str, more: &str, files: &[(&str, &str)]) -> Result<Panel, String> {
    let mut all = Memory::new().with("p/carrier.json", carrier(floating, more)).with("p/centre.json", CENTRE);
    for (name, text) in files {
        all = all.with(*name, text);
    }
    resolve("p/carrier.json", &all, &Catalogue::builtin()).map_err(|p| p.render(false))
}

const PLAIN: &str = r#"{ "id": "centre", "panel": "centre.json", "at": [300, 150], "stand-off": 15, "opening": "bay",
  "mounts": [ { "instrument": "mount/shock-plate", "at": [[190, 150], [410, 150]] } ],
  "sway": { "left": 3, "right": 3, "up": 2, "down": 4, "forward": 2, "aft": 5 } }"#;

#[test]
fn a_floating_panel_stands_where_the_carrier_puts_it() {
    let p = with(PLAIN, "", &[]).unwrap();
    let sheet = &p.sheets[1];
    assert_eq!((sheet.id.as_str(), sheet.role, sheet.front), ("centre:sheet", SheetRole::Floating, -15.0));
    let b = sheet.outline.bounds();
    assert_eq!((b.x0, b.x1, b.y0, b.y1), (300.0 - 127.0, 300.0 + 127.0, 150.0 - 76.2, 150.0 + 76.2));
    let asi = &p.subjects[p.find("centre:asi").unwrap()];
    assert!((asi.at - Point::new(300.0 - 50.8, 150.0)).hypot() < 1e-9);
    assert_eq!((asi.group, asi.sheet), (1, 1));
    // its bezel begins at its own face
    let bezel = asi.parts.iter().find(|q| q.name == "bezel").unwrap();
    assert_eq!(bezel.depth.unwrap().1, -15.0);
    // two mounts, on the carrier
    for (id, x) in [("centre:mount-1", 190.0), ("centre:mount-2", 410.0)] {
        let m = &p.subjects[p.find(id).unwrap()];
        assert_eq!((m.group, m.sheet, m.at), (0, 0, Point::new(x, 150.0)));
    }
    // its own limits, process and depth go with it, and its accepted finding under its new names
    assert_eq!((p.limit("web", 1).unwrap().value, p.limit("web", 0)), (9.0, None));
    assert!(p.process_of(1).unwrap().kind != p.process_of(0).unwrap().kind);
    assert_eq!(p.space.groups[1].depth.elsewhere, Some(85.0));
    assert_eq!(p.accepted[0].finding, "web/centre:asi.cutout/centre:name");
    let sway = p.space.groups[1].sway.unwrap();
    assert_eq!((sway.left, sway.down, sway.aft), (3.0, 4.0, 5.0));
}

#[test]
fn a_new_opening_is_cut_in_the_carrier() {
    let new = PLAIN.replace("\"bay\"", r#"{ "rectangle": [240, 140], "corner": 8 }"#);
    let p = with(&new, "", &[]).unwrap();
    let opening = p.space.groups[1].opening.unwrap();
    assert_eq!(p.part_name(opening), "centre:opening.cutout");
    let b = p.part(opening).contour.bounds();
    assert_eq!((b.x0, b.x1, b.y0, b.y1), (180.0, 420.0, 80.0, 220.0));
}

/// The message, and the words of the help behind it.
fn refused(floating: &str, more: &str, files: &[(&str, &str)], says: &[&str]) {
    match with(floating, more, files) {
        Ok(_) => panic!("{floating} is let pass"),
        Err(text) => {
            for s in says {
                assert!(text.contains(s), "{s:?} is not said:\n{text}");
            }
        }
    }
}

#[test]
fn what_cannot_be_laid_in_is_refused_at_its_place() {
    let at = |from: &str, to: &str| PLAIN.replace(from, to);
    refused(&at("centre.json", "middle.json"), "", &[], &["middle.json", "p/carrier.json:5:"]);
    refused(
        &at("centre.json", "carrier.json"),
        "",
        &[],
        &["floats in itself", "the floating panel's own file"],
    );
    refused(&at("\"bay\"", "\"bai\""), "", &[], &["there is no opening `bai`", "did you mean \"bay\"?"]);
    refused(&at("\"left\": 3", "\"left\": -3"), "", &[], &["-3"]);
    refused(&at("\"aft\": 5", "\"aft\": \"\""), "", &[], &["aft"]);
    refused(&at(", \"aft\": 5", ""), "", &[], &["aft"]);
    refused(&at("[410, 150]", "[710, 150]"), "", &[], &["centre:mount-2 stands beside this panel's sheet"]);
    refused(
        &at("[410, 150]", "[450, 150]"),
        "",
        &[],
        &["centre:mount-2 stands beside the floating panel's sheet"],
    );
    refused(&at("\"mount/shock-plate\"", "\"mount/shock-plait\""), "", &[], &["shock-plait"]);
    refused(
        &at("\"id\": \"centre\"", "\"id\": \"bay\""),
        "",
        &[],
        &["the id `bay` stands here a second time"],
    );
    refused(&format!("{PLAIN}, {PLAIN}"), "", &[], &["the id `centre` stands here a second time"]);
    refused(&at("\"sway\"", "\"droop\": 60, \"sway\""), "", &[], &["does not droop by 60 degrees"]);
    refused(&at("\"centre\"", "\"a:b\""), "", &[], &["a:b"]);
}

#[test]
fn rings_nests_tilts_and_controls_of_its_own_are_refused() {
    let in_itself = CENTRE.replace(
        "\"depth\"",
        r#""floating": [ { "id": "x", "panel": "carrier.json", "at": [0, 0], "stand-off": 1 } ], "depth""#,
    );
    refused(PLAIN, "", &[("p/centre.json", &in_itself)], &["`x` floats in itself", "p/centre.json:"]);
    let nest = in_itself.replace("carrier.json", "third.json");
    refused(
        PLAIN,
        "",
        &[("p/centre.json", &nest), ("p/third.json", CENTRE)],
        &["another panel floats in it"],
    );
    let leans = CENTRE.replace("\"depth\"", "\"tilt\": 5, \"depth\"");
    refused(
        PLAIN,
        ", \"tilt\": 0",
        &[("p/centre.json", &leans)],
        &["leans by 5 degrees and this panel by 0"],
    );
    let built = CENTRE.replace("\"sheet\": {", "\"builds-on\": \"carrier.json\", \"sheet\": {");
    refused(PLAIN, "", &[("p/centre.json", &built)], &["floats in itself: it builds on p/carrier.json"]);
    let moves = CENTRE.replace(
        "\"depth\"",
        r#""drivers": [ { "id": "pull", "kind": "slide", "from": 0, "to": 50 } ],
           "controls": [ { "id": "knob", "kind": "lever", "links": [ { "id": "rod", "slide": [0, 0, 1], "follows": { "pull": 1 },
             "solids": [ { "kind": "rod", "ball": "8 mm", "centre": [0, 0, -2] } ] } ] } ], "depth""#,
    );
    refused(
        PLAIN,
        "",
        &[("p/centre.json", &moves)],
        &["the control `knob` stands in the floating panel's file alone"],
    );
}

#[test]
fn problems_of_the_floating_file_are_told_in_its_own_lines() {
    let wrong = CENTRE.replace("round/80mm-front", "round/80mm-frunt");
    refused(PLAIN, "", &[("p/centre.json", &wrong)], &["p/centre.json:6:", "did you mean"]);
    refused(PLAIN, "", &[("p/centre.json", "{")], &["p/centre.json:1"]);
}
