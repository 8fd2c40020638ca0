//! The demo survey: its wrong reading is found, and the panel made of it carries the survey's doubt into the check.

use crate::make::{network, solved};
use panelwright::check::{self, Finding, Verdict};
use panelwright::define;
use panelwright::diag::Problems;
use panelwright::files::Memory;
use panelwright::panel::{Class, Panel, TermKind};
use panelwright::resolve::{self, Catalogue};
use panelwright::survey::observation::Origin;
use panelwright::survey::{behind, found, solve};
use panelwright::units::Unit;
use std::sync::Arc;

fn demo() -> String {
    std::fs::read_to_string(format!("{}/surveys/wheatear.json", env!("CARGO_MANIFEST_DIR"))).unwrap()
}

/// The panel file of a survey's text.
fn panel_file(text: &str) -> Result<String, Problems> {
    let mut problems = Problems::new();
    let shared: Arc<str> = text.into();
    let survey = define::read_survey("survey.json", &shared, &mut problems).unwrap();
    let solved = solve(network(text)?)?;
    let behind = behind::behind(&survey, &solved)?;
    found::panel_file(&survey, &solved, &behind, "survey.json")
}

fn resolved(found: &str, more: &str) -> Panel {
    let files = Memory::new().with("found.json", found).with("new.json", more);
    resolve::resolve("new.json", &files, &Catalogue::builtin()).unwrap_or_else(|p| panic!("{p}"))
}

#[test]
fn the_wrong_reading_of_the_demo_is_found() {
    let s = solved(&demo()).unwrap();
    assert_eq!(s.suspects.len(), 1);
    let x = &s.suspects[0];
    let o = &s.network.observations[x.observation];
    assert_eq!((&o.origin, o.written.as_ref()), (&Origin::Reading(89), "142.5 mm"));
    let slip = x.slip.as_ref().unwrap();
    assert_eq!((slip.written.as_str(), slip.why), ("132.5 mm", Some("one centimetre misread")));
    assert!(x.rivals.is_empty() && s.undetermined.is_empty() && s.ambiguous.is_empty() && s.scale == 1.0);
    // it was measured with a hook worn by 0.45 mm
    let zero = s.adjusted.state.zero[0];
    assert!((zero - 0.45).abs() < 0.3, "{zero}");
}

#[test]
fn the_panel_holds_what_was_found_and_how_far_it_may_be_off() {
    let text = panel_file(&demo()).unwrap();
    let panel = resolved(&text, r#"{ "format": 1, "panel": "p", "builds-on": "found.json", "unit": "mm" }"#);
    let old: Vec<_> = panel.subjects.iter().filter(|s| s.id.starts_with("old-")).collect();
    assert_eq!(old.len(), 8);
    for s in &old {
        let part = s.parts.iter().find(|p| p.class == Class::OldOpening).unwrap();
        let place = part.terms.iter().find(|t| t.kind == TermKind::Survey).unwrap();
        assert!((0.2..1.5).contains(&place.shift), "{}: {}", s.id, place.shift);
        let size = part.terms.iter().find(|t| t.kind == TermKind::Size).unwrap();
        assert!((0.02..0.2).contains(&size.grow) && size.grow == size.shrink);
        assert!(part.contour.as_circle().is_some());
    }
    let edge = panel.subjects.iter().flat_map(|s| &s.parts).find(|p| p.class == Class::Edge).unwrap();
    let survey = edge.terms.iter().find(|t| t.kind == TermKind::Survey).unwrap();
    assert!((0.3..1.5).contains(&survey.grow) && survey.grow == survey.shrink);
    let b = edge.contour.bounds();
    assert!((b.width() - 600.0).abs() < 2.0 && (b.height() - 160.0).abs() < 2.0, "{b:?}");
}

/// The web between the old voltmeter's hole and a switch beside it.
fn web(found: &str, x: f64) -> Finding {
    let more = format!(
        r#"{{ "format": 1, "panel": "p", "builds-on": "found.json", "unit": "mm", "process": {{ "kind": "waterjet" }},
          "place": [ {{ "id": "sw", "instrument": "switch/toggle", "at": [{x}, 48] }} ] }}"#
    );
    let panel = resolved(found, &more);
    let findings = check::check(&panel, &check::Options { all_pairs: true });
    let ours = |f: &&Finding| {
        let id = f.id(&panel);
        id.starts_with("web/") && id.contains("sw") && id.contains("old-voltmeter")
    };
    findings.list.iter().find(ours).unwrap_or_else(|| panic!("no web in {}", findings.list.len())).clone()
}

#[test]
fn a_verdict_is_tight_because_the_survey_is_weak() {
    // the wrong reading put right: a weak survey cannot tell it from its rivals, and then no panel is written
    let right = demo().replace("142.5", "132.5");
    let good = panel_file(&right).unwrap();
    let mut weak = right;
    for (tool, better, worse) in
        [("tape", "0.5", "2.0"), ("rule", "0.25", "1.0"), ("calipers", "0.06", "0.24")]
    {
        let said = format!("\"kind\": \"{tool}\", \"deviation\": {better}");
        assert!(weak.contains(&said));
        weak = weak.replace(&said, &format!("\"kind\": \"{tool}\", \"deviation\": {worse}"));
    }
    let weak = panel_file(&weak).unwrap();
    // first far off, then so near that 1.5 mm are left as drawn
    let far = web(&good, -220.0).margin().unwrap();
    let x = -220.0 - (far - 1.5);
    let (one, other) = (web(&good, x), web(&weak, x));
    assert!((one.margin().unwrap() - 1.5).abs() < 0.05, "{:?}", one.margin());
    assert_eq!((one.verdict, other.verdict), (Verdict::Pass, Verdict::Tight));
}

#[test]
fn what_is_open_is_not_drawn() {
    let both = r#"{ "format": 1, "survey": "s", "unit": "mm", "points": ["a", "b", "c"],
      "readings": [ {"distance":["a","b"],"reads":100}, {"distance":["b","c"],"reads":50}, {"distance":["a","c"],"reads":90} ],
      "as-found": { "outline": ["a", "b", "c"] } }"#;
    let mut problems = panel_file(both).unwrap_err().to_string();
    assert!(problems.contains("may lie on either side"), "{problems}");
    let only = r#"{ "format": 1, "survey": "s", "unit": "mm", "points": ["a", "b", "c"],
      "readings": [ {"distance":["a","b"],"reads":100}, {"distance":["b","c"],"reads":50} ],
      "as-found": { "outline": ["a", "b", "c"] } }"#;
    problems = panel_file(only).unwrap_err().to_string();
    assert!(problems.contains("`c` cannot be drawn: its place is not determined"), "{problems}");
    let round = demo().replace("{ \"to\": \"C\", \"radius\": 30 }", "{ \"to\": \"C\", \"radius\": 300 }");
    problems = panel_file(&round).unwrap_err().to_string();
    assert!(problems.contains("cannot be rounded with 300 mm"), "{problems}");
}

#[test]
fn the_right_end_of_the_demo_is_lower_than_its_left_end() {
    // it was made so: the right upper corner stands at 158.9, the left one at 160.4
    let s = solved(&demo()).unwrap();
    let (middle, all) = panelwright::survey::pairs::pairs(&s).unwrap();
    assert!(middle.abs() < 1.0 && all.len() == 7, "{middle}");
    let id = |p: usize| s.network.points[p].id.to_string();
    let top = all.iter().find(|p| id(p.left) == "D" && id(p.right) == "C").unwrap();
    assert!((top.up + 1.5).abs() < 3.0 * top.deviations.1 && top.up < -1.96 * top.deviations.1, "{top:?}");
}

#[test]
fn a_panel_that_rests_on_one_of_two_readings_that_disagree_is_not_written() {
    // a rectangle of 600 by 160 mm whose left side was read 160 and 180 mm: nothing else tells which
    let text = r#"{ "format": 1, "survey": "two", "unit": "mm",
        "points": ["a", "b", {"id":"c","above":"b"}, {"id":"d","above":"a"}], "as-found": {"outline": ["a","b","c","d"]},
        "readings": [ {"distance":["a","b"],"reads":600}, {"distance":["b","c"],"reads":160},
            {"distance":["c","d"],"reads":600}, {"distance":["a","d"],"reads":160},
            {"distance":["a","c"],"reads":620.97}, {"distance":["a","d"],"reads":180} ] }"#;
    let told = panel_file(text).unwrap_err().to_string();
    assert!(told.contains("reading 4 or reading 6 is wrong"), "{told}");
    assert!(panel_file(&text.replace("180", "160.2")).is_ok());
}

/// A rectangle of 600 by 160 mm with these corners as its outline.
fn rectangle(outline: &str) -> String {
    let text = r#"{ "format": 1, "survey": "r", "unit": "mm",
        "points": ["a", "b", {"id":"c","above":"b"}, {"id":"d","above":"a"}], "as-found": {"outline": OUTLINE},
        "readings": [ {"distance":["a","b"],"reads":600}, {"distance":["b","c"],"reads":160},
            {"distance":["c","d"],"reads":600}, {"distance":["a","d"],"reads":160},
            {"distance":["a","c"],"reads":620.97}, {"distance":["b","d"],"reads":620.97} ] }"#;
    text.replace("OUTLINE", outline)
}

#[test]
fn corners_in_the_wrong_order_or_named_twice_make_no_panel() {
    assert!(panel_file(&rectangle(r#"["a","b","c","d"]"#)).is_ok());
    let crossed = panel_file(&rectangle(r#"["a","c","b","d"]"#)).unwrap_err().to_string();
    assert!(crossed.contains("crosses or touches itself at (300.0"), "{crossed}");
    let twice = panel_file(&rectangle(r#"["a","b","c","a"]"#)).unwrap_err().to_string();
    assert!(twice.contains("`a` stands twice among the corners"), "{twice}");
}

#[test]
fn a_panel_in_any_unit_takes_the_same_edges() {
    let text = rectangle(
        r#"["a", {"to":"b","radius":25}, "c", {"to":"d","through":"top"}], "openings": [{ "id": "o", "points": ["n", "e", {"to": "g", "through": "m"}] }]"#,
    );
    let points = r#""points": [{"id":"e","at":[168,64]}, {"id":"g","at":[232,64]}, {"id":"m","at":[200,20]}, {"id":"n","at":[168,104]}, {"id":"top","at":[300,190]}, "#;
    let known = r#"{"id":"a","at":[0,0]}, {"id":"b","at":[600,0]}"#;
    let text: Arc<str> = text.replace("\"points\": [\"a\", \"b\"", &format!("{points} {known}")).into();
    let mut problems = Problems::new();
    let survey = define::read_survey("survey.json", &text, &mut problems).unwrap();
    let solved = solve(network(&text).unwrap()).unwrap();
    let panels = ["mm", "in", "cm"].map(|unit| {
        let own = Unit::named(unit);
        let (outline, off) = found::outline_in_pieces(&survey, &solved, own).unwrap();
        let openings = found::old_openings(&survey, &solved, &["o".into()], own).unwrap();
        let file = format!(
            r#"{{ "format": 1, "panel": "p", "unit": "{unit}", "sheet": {{ "material": "6061-T6", "thickness": "2 mm", "outline": {outline}, "survey": {off} }},
            "old-openings": [ {} ] }}"#,
            openings[0].1
        );
        let files = Memory::new().with("p.json", file.as_str());
        resolve::resolve("p.json", &files, &Catalogue::builtin()).unwrap_or_else(|p| panic!("{p}\n{file}"))
    });
    let of = |p: &Panel| {
        let old = p.subjects.iter().flat_map(|s| &s.parts).find(|p| p.class == Class::OldOpening).unwrap();
        let own = old.terms.iter().find(|t| t.kind == TermKind::Survey).unwrap().shift;
        (p.sheets[0].outline.clone(), old.contour.clone(), own)
    };
    let (outline, opening, off) = of(&panels[0]);
    for panel in &panels[1..] {
        let (o, h, w) = of(panel);
        // hundredths of a mm on either side, along the whole edge
        for (a, b) in [(&outline, &o), (&opening, &h)] {
            let (a, b) = (a.bounds(), b.bounds());
            assert!((a.x0 - b.x0).abs() < 0.03 && (a.y1 - b.y1).abs() < 0.03, "{a:?} {b:?}");
        }
        assert!((outline.area() - o.area()).abs() < 0.01 * 1600.0, "{} {}", outline.area(), o.area());
        assert!((opening.area() - h.area()).abs() < 0.01 * 300.0, "{} {}", opening.area(), h.area());
        assert!((w - off).abs() < 0.011, "{w} {off}");
    }
    // a file that says no unit can hold no path, and says what to do; a list of pieces has texts with theirs
    let why = found::old_openings(&survey, &solved, &["o".into()], None).unwrap_err().to_string();
    assert!(why.contains("add \"unit\" to it"), "{why}");
    assert!(found::outline_in_pieces(&survey, &solved, None).unwrap().0.contains("[\"0 mm\", \"0 mm\"]"));
}

#[test]
fn an_opening_with_an_arc_through_a_point_has_the_area_of_its_circle() {
    // a circle of radius 40 about (200, 80) cut off by the chord y = 104: half chord 32, the longer arc below
    let text = rectangle(
        r#"["a","b","c","d"], "openings": [{ "id": "d", "points": ["n", "e", {"to": "g", "through": "m"}] }]"#,
    );
    let points = r#""points": [{"id":"e","at":[168,104]}, {"id":"g","at":[232,104]}, {"id":"m","at":[200,40]}, {"id":"n","at":[200,104]}, "#;
    let file = panel_file(&text.replace(
        "\"points\": [\"a\", \"b\"",
        &format!("{points} {{\"id\":\"a\",\"at\":[0,0]}}, {{\"id\":\"b\",\"at\":[600,0]}}"),
    ))
    .unwrap();
    let panel = resolved(&file, r#"{ "format": 1, "panel": "p", "builds-on": "found.json", "unit": "mm" }"#);
    let old = panel.subjects.iter().flat_map(|s| &s.parts).find(|p| p.class == Class::OldOpening).unwrap();
    // the disc less the segment above the chord, r^2 acos(0.6) - 24 x 32 with acos(0.6) = 0.9272952
    let r: f64 = 40.0;
    let want = std::f64::consts::PI * r * r - (r * r * 0.927_295_2 - 24.0 * 32.0);
    assert!((old.contour.area() - want).abs() < 0.5, "{} {want}", old.contour.area());
}
