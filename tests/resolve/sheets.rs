//! Sheets: outlines in every spelling, layers, inserts, faces and depths; zones, old openings, depth map.

use crate::kit::*;
use panelwright::panel::{Class, Detail, SheetRole, State, Structure};

fn with_outline(outline: &str) -> panelwright::panel::Panel {
    whole(&format!(
        r#"{{ "format": 1, "panel": "T", "unit": "mm", "sheet": {{ "outline": {outline} }},
        "place": [ {{ "id": "s", "instrument": "switch.json", "at": [50, 30] }} ] }}"#
    ))
}

#[test]
fn an_outline_may_be_written_in_many_ways() {
    // 100 x 60 with one corner of radius 10 rounded: 6000 - 100 (1 - pi / 4)
    let area = 6000.0 - 100.0 * (1.0 - std::f64::consts::FRAC_PI_4);
    for outline in [
        r#""M 0 0 H 100 V 50 A 10 10 0 0 1 90 60 H 0 Z""#,
        r#""M 0 0 V 60 H 90 A 10 10 0 0 0 100 50 V 0 Z""#,
        r#"{ "path": "M 0 0 H 100 V 50 A 10 10 0 0 1 90 60 H 0 Z" }"#,
        r#"{ "lines-and-arcs": [[0, 0], [100, 0], [100, 50], { "to": [90, 60], "radius": 10, "turn": "counter-clockwise" }, [0, 60]] }"#,
        r#"{ "lines-and-arcs": [[0, 0], [100, 0], [100, 50], { "to": [90, 60], "centre": [90, 50], "turn": "counter-clockwise" }, [0, 60]] }"#,
        r#"{ "lines-and-arcs": [[0, 0], [100, 0], [100, 50], { "to": [90, 60], "through": [96, 58] }, [0, 60], [0, 0]] }"#,
    ] {
        let p = with_outline(outline);
        near(p.sheets[0].outline.signed_area(), area);
    }
    near(
        with_outline(r#"{ "rectangle": [200, 100], "corner": 10 }"#).sheets[0].outline.area(),
        20000.0 - 400.0 * (1.0 - std::f64::consts::FRAC_PI_4),
    );
    let p = chain(
        "d/p.json",
        &[
            (
                "d/p.json",
                r#"{ "format": 1, "panel": "T", "unit": "mm", "sheet": { "outline": { "file": "o.txt" } },
              "holes": [ { "at": [[10, 10]], "diameter": 4 } ] }"#,
            ),
            ("d/o.txt", "M 0 0 H 100 V 50 A 10 10 0 0 1 90 60 H 0 Z\n"),
        ],
    );
    near(p.sheets[0].outline.area(), area);
    assert_eq!(p.slug, "d-p");
}

#[test]
fn a_curved_outline_keeps_its_error_on_record() {
    let p = with_outline(r#""M 0 0 H 100 V 40 C 100 60 60 60 50 60 H 0 Z""#);
    assert!(
        p.remarks.iter().any(|r| r.contains("turned into arcs") && r.contains("micrometres")),
        "{:?}",
        p.remarks
    );
}

const LAYERS: &str = r#""layers": [
  { "id": "cover", "role": "overlay", "thickness": 0.5 },
  { "id": "plate", "role": "doubler", "thickness": 3, "outline": "M 50 80 H 150 V 180 H 50 Z" },
  { "id": "skin", "role": "structural", "thickness": 1, "exists": true, "outline": { "rectangle": [100, 100] }, "at": [300, 100],
    "openings": [ { "id": "big", "shape": { "circle": 70 }, "at": [300, 60] } ] } ],
"place": [ { "id": "a", "instrument": "odd.json", "at": [100, 120] },
  { "id": "b", "instrument": "odd.json", "at": [200, 30] },
  { "id": "c", "instrument": "dial.json", "at": [300, 120] } ]"#;

#[test]
fn layers_lie_in_front_and_behind_and_depths_follow() {
    let p = panel(LAYERS);
    let roles: Vec<SheetRole> = p.sheets.iter().map(|s| s.role).collect();
    assert_eq!(roles, [SheetRole::Main, SheetRole::Overlay, SheetRole::Doubler, SheetRole::Structural]);
    let fronts: Vec<f64> = p.sheets.iter().map(|s| s.front).collect();
    assert_eq!(fronts, [0.0, -0.5, 2.0, 5.0]);
    // seats behind sheet and doubler; its knob stands on the overlay
    assert_eq!(part(&p, "a", "body").depth, Some((5.0, 30.0)));
    assert_eq!(part(&p, "a", "front-knob").depth, Some((-12.5, -0.5)));
    assert_eq!(part(&p, "b", "body").depth, Some((2.0, 27.0)));
    // put in from the front: counted from the overlay's face; its nuts stand behind the old skin
    assert_eq!(part(&p, "c", "body").depth, Some((-0.5, 79.5)));
    assert_eq!(part(&p, "c", "nut-screw-1").depth, Some((3.0, 6.0)));
    let big = part(&p, "big", "");
    assert_eq!((big.class, big.sheet), (Class::OldOpening, 3));
    assert_eq!(subject(&p, "skin").state, State::Existing);
    assert_eq!(subject(&p, "plate").state, State::New);
}

#[test]
fn an_insert_is_a_sheet_of_its_own_with_screws_through_both() {
    let p = panel(
        r#""inserts": [ { "id": "sub", "outline": { "rectangle": [120, 80], "corner": 5 }, "at": [200, 100], "turn": 90, "thickness": 1.6,
          "opening": { "rectangle": [100, 60] },
          "screws": [ { "id": "screw", "rectangle": [110, 70], "diameter": 3.4, "fastener": "M3",
            "head": { "kind": "raised" }, "nutplate": { "across": 12, "height": 4 } } ] } ],
        "place": [ { "id": "s", "instrument": "switch.json", "at": [205, 100], "on": "sub" },
          { "id": "t", "instrument": "switch.json", "right-of": "sub", "gap": 10 } ]"#,
    );
    let sheet = &p.sheets[1];
    assert_eq!((sheet.role, sheet.front, sheet.id.as_str()), (SheetRole::Insert, -1.6, "sub"));
    let b = sheet.outline.bounds();
    assert_eq!([b.x0, b.y0, b.x1, b.y1].map(|v| (v * 1e9).round() / 1e9), [160.0, 40.0, 240.0, 160.0]);
    let seat = subject(&p, "sub-seat");
    boxed(&p, "sub-seat", "cutout", [170.0, 50.0, 230.0, 150.0]);
    // turned by 90 degrees: the first hole of the pattern (-55, -35) stands at (35, -55) from the centre
    for (name, on) in [("screw-1", 0), ("insert-screw-1", 1)] {
        let hole = part(&p, "sub-seat", name);
        near(hole.centre.x, 235.0);
        near(hole.centre.y, 45.0);
        assert_eq!(hole.sheet, on);
    }
    assert_eq!(seat.parts.iter().filter(|q| q.class == Class::Hole).count(), 8);
    // nutplates behind the carrying sheet, heads on the insert
    assert_eq!(part(&p, "sub-seat", "nut-screw-1").depth, Some((2.0, 6.0)));
    assert_eq!(part(&p, "sub-seat", "head-screw-1").depth, Some((-1.6 - 2.4, -1.6)));
    // what it carries belongs to it: the switch seats behind the insert
    assert_eq!(part(&p, "s", "cutout").sheet, 1);
    assert_eq!(part(&p, "s", "body-case").depth, Some((0.0, 25.0)));
    at(&p, "t", 240.0 + 10.0 + 8.0, 100.0);
}

#[test]
fn an_insert_behind_lies_on_the_back() {
    let p = panel(
        r#""inserts": [ { "id": "sub", "outline": { "rectangle": [120, 80] }, "at": [200, 100], "thickness": 1.6, "lies": "behind" } ],
        "place": [ { "id": "s", "instrument": "switch.json", "at": [205, 100], "on": "sub" } ]"#,
    );
    assert_eq!(p.sheets[1].front, 2.0);
    assert_eq!(part(&p, "s", "body-case").depth, Some((3.6, 28.6)));
    assert!(subject(&p, "sub-seat").missing.iter().any(|(n, _)| n == "cutout"));
}

#[test]
fn zones_old_openings_holes_and_depth() {
    let p = panel(
        r##""zones": [ { "id": "rib", "shape": { "rectangle": [4, 200] }, "at": [150, 100], "forbids": ["cut", "behind"], "because": "rib" } ],
        "flanges": [ { "id": "lip", "shape": { "path": "M 0 190 H 400 V 200 H 0 Z" } } ],
        "old-openings": [ { "id": "hole", "shape": { "slot": [30, 10] }, "at": [60, 40], "turn": 90 } ],
        "holes": [ { "id": "attach", "row": [100, 0], "count": 3, "centre": [50, 8], "diameter": 4.8, "fastener": "#8-32", "exists": true } ],
        "depth": { "default": 190, "areas": [ { "id": "tank", "shape": { "rectangle": [100, 50] }, "at": [200, 25], "available": 95 },
          { "shape": { "circle": 10 }, "at": [20, 20] } ] },
        "place": [ { "id": "a", "instrument": "dial.json", "centred-on": "hole" } ]"##,
    );
    let Detail::Zone { forbids, because } = &part(&p, "rib", "").detail else { panic!() };
    assert!(forbids.cut && forbids.behind && !forbids.front && because == "rib");
    let Detail::Zone { forbids, because } = &part(&p, "lip", "").detail else { panic!() };
    assert!(forbids.cut && !forbids.behind && because == "the sheet is bent here");
    boxed(&p, "hole", "", [55.0, 25.0, 65.0, 55.0]);
    at(&p, "a", 60.0, 40.0);
    let holes = subject(&p, "attach");
    assert_eq!(holes.state, State::Existing);
    near(part(&p, "attach", "attach-3").centre.x, 250.0);
    near(part(&p, "attach", "attach-3").fastening().unwrap().diameter.unwrap(), 0.164 * 25.4);
    assert_eq!(p.depth.elsewhere, Some(190.0));
    assert_eq!(
        p.depth.areas.iter().map(|a| (a.id.as_str(), a.available)).collect::<Vec<_>>(),
        [("tank", Some(95.0)), ("area-2", None)]
    );
}

#[test]
fn structure_title_and_the_rest_are_taken_over() {
    let p = whole(
        r#"{ "format": 1, "panel": "T", "unit": "in", "tilt": 8, "eye": "700 mm",
        "sheet": { "outline": { "rectangle": [10, 6] }, "material": "2024-T3", "thickness": 0.063, "coat": "0.08 mm",
          "structure": { "is": "no", "by": "the manual" } },
        "holes": [ { "at": [[1, 1]], "diameter": 0.17 } ],
        "process": { "kind": "router", "tool-radius": "1.5 mm", "compensates": "file", "tolerance": "0.2 mm" },
        "title": { "number": "T-1", "owner": "the builder" },
        "accepted": [ { "finding": "web/a/b", "because": "old", "by": "me" } ],
        "reasons": { "cut-anyway": { "because": "trial in card", "by": "me" } } }"#,
    );
    let sheet = &p.sheets[0];
    assert_eq!(sheet.thickness_written.as_deref(), Some("0.063 in"));
    assert_eq!(sheet.structure, (Structure::No, Some("the manual".into())));
    assert_eq!((p.tilt, p.eye_distance, sheet.coat), (Some(8.0), Some(700.0), Some(0.08)));
    assert_eq!(p.title.get("number"), Some("T-1"));
    assert_eq!(p.accepted[0].by, "me");
    assert_eq!(p.cut_anyway, Some(("trial in card".into(), "me".into())));
    let process = p.process.unwrap();
    assert_eq!((process.tool_radius, process.tolerance.0), (Some(1.5), 0.2));
}

#[test]
fn what_stands_in_a_layers_own_opening_does_not_lie_on_that_layer() {
    let p = panel(
        r#""layers": [ { "id": "skin", "role": "structural", "thickness": 1, "exists": true,
          "openings": [ { "id": "big", "shape": { "circle": 100 }, "at": [300, 100] } ] } ],
        "place": [ { "id": "a", "instrument": "odd.json", "at": [290, 95] }, { "id": "b", "instrument": "odd.json", "at": [100, 95] } ]"#,
    );
    assert_eq!(part(&p, "a", "flange").depth, Some((2.0, 4.0)));
    assert_eq!(part(&p, "b", "flange").depth, Some((3.0, 5.0)));
    assert_eq!(p.thickness_at(0, &part(&p, "a", "flange").contour), Some((2.0, true)));
    assert_eq!(p.thickness_at(0, &part(&p, "b", "flange").contour), Some((3.0, true)));
}

#[test]
fn the_room_of_a_label_holds_its_lettering() {
    // the widest line of the bundled font, in both weights, for every printable character and some words
    use panelwright::draw::{Weight, text::width};
    let mut words: Vec<String> =
        (' '..='~').filter(|c| *c != '"' && *c != '\\').map(|c| format!("{c}{c}{c}")).collect();
    words.extend(
        ["AIRSPEED", "12 V  5 A", "Flaps down", "WMWM", "pitot heat", "ALT ÉTÉ °C"].map(String::from),
    );
    for word in words.iter().filter(|w| !w.trim().is_empty()) {
        let p = panel(&format!(
            r#""labels": [ {{ "id": "l", "text": "{word}", "height": 4, "at": [100, 100] }} ]"#
        ));
        let room = part(&p, "l", "").contour.bounds().width();
        for weight in [Weight::Regular, Weight::Bold] {
            let drawn = width(word, 4.0, weight);
            assert!(room >= drawn, "{word}: room {room}, drawn {drawn}");
            assert!(room <= 2.6 * drawn + 4.0, "{word}: room {room}, drawn {drawn}");
        }
    }
}
