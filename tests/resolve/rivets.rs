//! Rivets of nutplates: holes of their own about each screw, in the sheet that carries the nutplate; checked,
//! drawn and cut like any other.

use crate::kit::*;
use panelwright::check::{self, Findings, Options, Verdict};
use panelwright::draw::drawing::{DrawingOptions, drawing};
use panelwright::draw::template::{Paper, TemplateOptions, cut_sheet, shop, template};
use panelwright::draw::{Drawing, Entry, Item, Layer, Shape};
use panelwright::panel::{Class, HeadKind, Panel};

/// An insert on two M4 screws 160 mm apart, each in a nutplate with two rivets 17.4 mm apart.
fn insert(rivets: &str, more: &str) -> Panel {
    panel(&format!(
        r#""tolerances": {{ "position": 0, "size": 0 }}, "process": {{ "kind": "hand", "tolerance": 0 }},
        "inserts": [ {{ "id": "sub", "outline": {{ "rectangle": [180, 80], "corner": 5 }}, "at": [200, 100],
          "thickness": 2, "opening": {{ "rectangle": [120, 60], "corner": 3 }},
          "screws": [ {{ "id": "screw", "at": [[-80, 0], [80, 0]], "diameter": 4.5, "fastener": "M4",
            "head": {{ "kind": "countersunk", "diameter": 8, "angle": 90 }},
            "nutplate": {{ "across": 9, "height": 6, "rivets": {{ "diameter": 2.5, "fastener": "rivet 3/32",
              "head": {{ "kind": "countersunk", "diameter": 4.5, "height": 0.9, "angle": 100 }}, {rivets} }} }} }} ] }} ]{more}"#
    ))
}

fn found(p: &Panel) -> Findings {
    check::check(p, &Options { all_pairs: true })
}

/// The findings of a rule whose id speaks of a rivet, without its passes.
fn against(p: &Panel, rule: &str) -> Vec<String> {
    let all = found(p);
    let of = |f: &&check::Finding| f.rule.id == rule && f.verdict != Verdict::Pass;
    all.list
        .iter()
        .filter(of)
        .map(|f| format!("{} {}", f.verdict.word(), f.id(p)))
        .filter(|line| line.contains("rivet"))
        .collect()
}

#[test]
fn each_screw_has_its_rivets_in_the_sheet_behind() {
    let p = insert(r#""pitch": 17.4, "turn": [90, 0]"#, "");
    for (name, x, y) in [
        // turned by 90 degrees the first rivet, left of the screw, comes to stand below it
        ("screw-1-rivet-1", 120.0, 91.3),
        ("screw-1-rivet-2", 120.0, 108.7),
        ("screw-2-rivet-1", 271.3, 100.0),
        ("screw-2-rivet-2", 288.7, 100.0),
    ] {
        let hole = part(&p, "sub-seat", name);
        near(hole.centre.x, x);
        near(hole.centre.y, y);
        assert_eq!((hole.class, hole.sheet), (Class::Hole, 0), "{name}");
        let (_, r) = hole.contour.as_circle().expect("round");
        near(r, 1.25);
        let rivet = hole.fastening().expect("a rivet");
        // 3/32 in is 2.38125 mm
        near(rivet.diameter.expect("known"), 2.381_25);
        // flush in the carrier, under the insert
        assert_eq!(part(&p, "sub-seat", &format!("head-{name}")).depth, Some((0.0, 0.0)), "{name}");
    }
    let holes = |sheet: u32| {
        let parts = &subject(&p, "sub-seat").parts;
        parts.iter().filter(|q| q.class == Class::Hole && q.sheet == sheet).count()
    };
    assert_eq!((holes(0), holes(1)), (6, 2), "two screws and four rivets; the insert has its screws alone");
    assert!(subject(&p, "sub-seat").missing.is_empty(), "{:?}", subject(&p, "sub-seat").missing);
}

#[test]
fn the_screw_sinks_into_the_insert_alone() {
    let p = insert(r#""pitch": 17.4"#, "");
    let sunk = |name: &str| {
        let head = part(&p, "sub-seat", name).fastening().and_then(|f| f.head);
        head.is_some_and(|h| h.kind == HeadKind::Countersunk)
    };
    assert!(sunk("insert-screw-1") && !sunk("screw-1") && sunk("screw-1-rivet-1"));
}

#[test]
fn an_insert_behind_carries_its_nutplates_itself() {
    let p = insert(r#""pitch": 17.4"#, "");
    let front = part(&p, "sub-seat", "screw-1-rivet-1").sheet;
    let p = panel(
        r#""inserts": [ { "id": "sub", "outline": { "rectangle": [180, 80] }, "at": [200, 100], "thickness": 2, "lies": "behind",
          "opening": { "rectangle": [120, 60] }, "screws": [ { "id": "screw", "at": [[-80, 0]], "diameter": 4.5, "fastener": "M4",
            "head": { "kind": "countersunk" }, "nutplate": { "across": 9, "height": 6,
              "rivets": { "at": [[0, 8.7]], "diameter": 2.5, "fastener": "rivet 3/32", "head": { "kind": "none" } } } } ] } ]"#,
    );
    assert_eq!((front, part(&p, "sub-seat", "screw-rivet-1").sheet), (0, 1));
    let sunk = |name: &str| part(&p, "sub-seat", name).fastening().is_some_and(|f| f.head.is_some());
    assert!(sunk("screw") && !sunk("insert-screw"), "the head sinks into the sheet in front");
    assert!(subject(&p, "sub-seat").parts.iter().all(|q| q.name != "head-screw-rivet-1"));
}

#[test]
fn a_direction_for_each_screw_or_withheld() {
    let p = insert(r#""pitch": 17.4, "turn": [90, 0, 45]"#, "");
    let said = &subject(&p, "sub-seat").missing;
    assert!(
        said.iter().any(|(part, what)| part == "hole screw rivets"
            && what == "the way that each nutplate is turned: `turn` lists 3 for 2 screws"),
        "{said:?}"
    );
    let edge = found(&p).list.iter().any(|f| f.rule.id == "edge-distance" && f.verdict == Verdict::Withheld);
    assert!(edge, "rivets that lie nobody knows where are no pass");
}

/// 2 D from hole centre to edge and 3 D pitch: avionics installation manual (type-certificate data), extra
/// fastener holes; AC 43.13-1B as quoted says the same. 3/32 in: 2 D is 4.7625 mm, 3 D 7.14375 mm.
#[test]
fn rivets_keep_edge_distance_and_pitch() {
    // in a row with the screw: 17.4 / 2 = 8.7 beyond it, towards the seat's opening (its edge 20 mm from the screw)
    let clear = insert(r#""pitch": 17.4"#, "");
    for rule in ["edge-distance", "pitch", "web"] {
        assert_eq!(against(&clear, rule), Vec::<String>::new(), "{rule}");
    }
    // 16 mm off the screw: 4 mm from rivet to edge, less than 2 D
    let near = insert(r#""pitch": 32"#, "");
    assert_eq!(
        against(&near, "edge-distance"),
        [
            "fail edge-distance/sub-seat.screw-1-rivet-2/sub-seat.cutout",
            "fail edge-distance/sub-seat.screw-2-rivet-1/sub-seat.cutout"
        ]
    );
    assert_eq!(against(&near, "web").len(), 2, "4 - 1.25 mm of metal is less than 6.35");
    // a builder's own rivet row, 6 mm off the nutplate's rivet
    let row = r#", "holes": [ { "id": "row", "at": [[128.7, 106]], "diameter": 2.5, "fastener": "rivet 3/32", "head": { "kind": "none" } } ]"#;
    let pitch = against(&insert(r#""pitch": 17.4"#, row), "pitch");
    assert_eq!(pitch, ["fail pitch/row.row/sub-seat.screw-1-rivet-2"]);
}

/// The maker's own pattern is exempt: 8 mm from the screw is less than its 3 D of 12 mm.
#[test]
fn a_nutplates_own_rivets_are_its_makers() {
    let p = insert(r#""pitch": 16"#, "");
    for rule in ["pitch", "web"] {
        assert_eq!(against(&p, rule), Vec::<String>::new(), "{rule}");
    }
    // the rivets of the next nutplate are not
    let two = panel(
        r#""tolerances": { "position": 0, "size": 0 }, "inserts": [ { "id": "sub", "outline": { "rectangle": [180, 80] }, "at": [200, 100],
          "thickness": 2, "opening": { "rectangle": [120, 60] }, "screws": [ { "id": "screw", "at": [[-80, 0], [-80, 22]],
            "diameter": 4.5, "fastener": "M4", "head": { "kind": "raised" }, "nutplate": { "across": 9, "height": 6,
              "rivets": { "pitch": 17.4, "turn": 90, "diameter": 2.5, "fastener": "rivet 3/32", "head": { "kind": "none" } } } } ] } ]"#,
    );
    assert_eq!(
        against(&two, "pitch"),
        ["fail pitch/sub-seat.screw-1-rivet-2/sub-seat.screw-2-rivet-1"],
        "22 - 17.4 = 4.6 mm apart"
    );
}

#[test]
fn rivets_are_on_the_cut_layer() {
    let p = insert(r#""pitch": 17.4"#, "");
    let drawing = shop(&p, 0, &found(&p).list, &TemplateOptions::default()).expect("a shop file");
    let items = drawing.pages[0].items.iter().flat_map(|e| match e {
        Entry::Item(i) => std::slice::from_ref(i),
        Entry::Group(g) => &g.items,
    });
    let small = |i: &&Item| {
        let radius = match &i.shape {
            Shape::Circle { radius, .. } => *radius,
            Shape::Path(c) => c.as_circle().map_or(0.0, |(_, r)| r),
            _ => 0.0,
        };
        i.layer == Layer::Cut && (radius - 1.25).abs() < 1e-9
    };
    assert_eq!(items.filter(small).count(), 4);
}

/// Every word of a drawing, a line each.
fn words(d: &Drawing) -> String {
    let pages = d.pages.iter().flat_map(|page| &page.items);
    let items = pages.flat_map(|e| match e {
        Entry::Item(i) => std::slice::from_ref(i),
        Entry::Group(g) => &g.items,
    });
    let texts =
        items.filter_map(|i| if let Shape::Text(t) = &i.shape { Some(t.text.as_str()) } else { None });
    texts.collect::<Vec<_>>().join("\n")
}

#[test]
fn countersinks_stand_in_the_schedules_with_their_angle() {
    let p = insert(r#""pitch": 17.4"#, "");
    let all = found(&p).list;
    let options = TemplateOptions { paper: Paper::Whole, ..TemplateOptions::default() };
    // the words may be broken over lines
    let on =
        |sheet: usize| words(&template(&p, sheet, &all, &options).expect("a template")).replace('\n', " ");
    let (carrier, own) = (on(0), on(1));
    let rivet = "A: countersink to diameter 4.5 mm, 100 degrees, for rivet 3/32, on the pilot's side";
    let screw = "A: countersink to diameter 8 mm, 90 degrees, for M4, on the pilot's side";
    assert!(carrier.contains(rivet), "{carrier}");
    assert!(own.contains(screw), "{own}");
    assert!(!carrier.contains("for M4, on"), "the screw's head does not reach the carrier");
    let cut = cut_sheet(&p, 0).expect("the sheet");
    assert!(cut.remarks.iter().any(|r| r == rivet), "{:?}", cut.remarks);
    let drawn = words(&drawing(&p, 0, &all, &DrawingOptions::default()).expect("a drawing"));
    assert!(drawn.replace('\n', " ").contains("csk \u{2300}4.5 \u{d7} 100\u{b0}"), "{drawn}");
}

#[test]
fn a_countersink_of_180_degrees_is_refused() {
    for (angle, taken) in [("82", true), ("100", true), ("0", false), ("180", false), ("-90", false)] {
        let text = text(&format!(
            r#""holes": [ {{ "id": "row", "at": [[50, 50]], "diameter": 4.5, "fastener": "M4", "nut": {{}},
              "head": {{ "kind": "countersunk", "angle": {angle} }} }} ]"#
        ));
        assert_eq!(try_files("p.json", &[("p.json", &text)]).is_ok(), taken, "{angle}");
    }
}

#[test]
fn what_a_rivet_needs_is_asked_for() {
    let rivets = |inner: &str| {
        refused(&format!(
            r#""holes": [ {{ "id": "row", "at": [[50, 50]], "diameter": 4.5, "fastener": "M4", "head": {{ "kind": "raised" }},
              "nutplate": {{ "rivets": {{ {inner} }} }} }} ]"#
        ))
    };
    for (inner, what) in [
        (r#""pitch": 17.4, "fastener": "rivet 3/32""#, "diameter"),
        (r#""pitch": 17.4, "diameter": 2.5"#, "fastener"),
        (r#""diameter": 2.5, "fastener": "rivet 3/32""#, "pitch"),
        (r#""pitch": 17.4, "at": [[1, 2]], "diameter": 2.5, "fastener": "rivet 3/32""#, "at"),
    ] {
        let said = rivets(inner);
        assert!(said.iter().any(|(_, _, words)| words.contains(what)), "{inner}: {said:?}");
    }
}

/// A countersunk screw through a bezel sinks into the bezel: the sheet keeps a plain hole.
#[test]
fn heads_sink_into_the_bezel_where_there_is_one() {
    let plate = |mounting: &str, face: &str| {
        format!(
            r#"{{ "format": 1, "instrument": "Plate", "kind": "blank", "unit": "mm", "mounting": "{mounting}",
              "holes": [ {{ "id": "screw", "at": [[0, 0], [40, 0]], "diameter": 4.5, "fastener": "M4",
                "head": {{ "kind": "countersunk", "angle": 90 }}, "nut": {{}} }} ],
              "{face}": {{ "shape": {{ "circle": 20 }}, "thickness": 3 }} }}"#
        )
    };
    for (mounting, face, sunk) in [
        ("front", "bezel", [false, true]), // the second screw lies beside the bezel
        ("rear", "bezel", [true, true]),
        ("rear", "flange", [true, true]),
    ] {
        let files = files(&[(
            "p.json",
            &text(r#""place": [ { "id": "a", "instrument": "plate.json", "at": [100, 100] } ]"#),
        )])
        .with("plate.json", plate(mounting, face));
        let p = panelwright::resolve::resolve("p.json", &files, &panelwright::resolve::Catalogue::builtin())
            .unwrap_or_else(|p| panic!("{}", p.render(false)));
        let head = |name: &str| part(&p, "a", name).fastening().is_some_and(|f| f.head.is_some());
        assert_eq!(["screw-1", "screw-2"].map(head), sunk, "{mounting} {face}");
    }
}
