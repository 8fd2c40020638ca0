//! What a drawing says beside its numbers: notice, title block, revisions, notes, legend.

use crate::kit::{demos, draw, findings};
use crate::panels::{bare, screw_hole, subject};
use crate::read::{items, text};
use panelwright::draw::drawing::{DrawingOptions, drawing};
use panelwright::draw::{Drawing, Layer, Shape, Weight};
use panelwright::geom::Point;
use panelwright::panel::*;
use panelwright::units::Unit;
use std::collections::BTreeSet;

fn words(d: &Drawing) -> Vec<String> {
    items(d).into_iter().filter_map(text).map(|t| t.text.clone()).collect()
}

fn said(d: &Drawing) -> String {
    words(d).join(" ")
}

#[test]
fn a_panel_that_may_not_be_cut_says_so_on_every_page() {
    let p = bare(200.0, 100.0);
    let d = draw(&p, 0);
    for page in &d.pages {
        let notices = page.items.iter().filter(|e| match e {
            panelwright::draw::Entry::Item(i) => {
                matches!(&i.shape, Shape::Text(t) if t.text == "NOT FOR CUTTING: nothing was checked")
            }
            panelwright::draw::Entry::Group(_) => false,
        });
        assert!(notices.count() >= 2, "at the top and in the title block of {}", page.name);
    }
    let mut lifted = p.clone();
    lifted.cut_anyway = Some(("a trial in card".into(), "the builder".into()));
    let said = said(&draw(&lifted, 0));
    assert!(!said.contains("NOT FOR CUTTING"));
    assert!(said.contains("cut in spite of nothing was checked: a trial in card (the builder)"));
}

#[test]
fn a_panel_that_passes_says_no_such_thing() {
    let p = demos().into_iter().find(|p| p.slug == "proposed" && p.name.contains("Wheatear"));
    let p = p.or_else(|| demos().into_iter().find(|p| p.name == "Wheatear strip panel, proposed")).unwrap();
    let d = drawing(&p, 0, &findings(&p), &DrawingOptions::default()).unwrap();
    let said = said(&d);
    assert!(!said.contains("NOT FOR CUTTING"));
    for words in
        ["WH-31", "6061-T6", "ISO 2768-1 m", "Hole schedule", "Equipment", "Do not scale.", "Cautions"]
    {
        assert!(said.contains(words), "{words}");
    }
}

#[test]
fn title_block_and_revisions_say_what_the_file_says_and_nothing_else() {
    let mut p = bare(200.0, 100.0);
    let bold = |d: &Drawing| -> Vec<String> {
        let frame = items(d).into_iter().filter(|i| i.layer == Layer::Frame).filter_map(text);
        frame.filter(|t| t.weight == Weight::Bold).map(|t| t.text.clone()).collect()
    };
    let filled = bold(&draw(&p, 0));
    let expected = [
        "Made",
        "sheet, main sheet",
        "1:2",
        "mm",
        "A4",
        "1 / 1",
        "fabrication drawing",
        "6061-T6",
        "2 mm",
        "not given",
        "ISO 2768-1 m",
        "NOT FOR CUTTING: nothing was checked",
    ];
    assert_eq!(
        filled.iter().collect::<BTreeSet<_>>(),
        expected.map(String::from).iter().collect(),
        "no more"
    );
    p.title.fields =
        vec![("number".into(), "D-7".into()), ("general-tolerance".into(), "ISO 2768-1 f".into())];
    let one = |index: &str, change: &str| Revision {
        index: index.into(),
        date: "1 May".into(),
        change: change.into(),
        by: "the builder".into(),
    };
    p.title.revisions = (0..9).map(|k| one(&format!("r{k}"), &format!("change number {k}"))).collect();
    let list = words(&draw(&p, 0));
    assert!(list.contains(&"D-7".into()) && list.contains(&"ISO 2768-1 f".into()));
    assert!(list.contains(&"change number 8".into()) && list.contains(&"change number 3".into()));
    assert!(!list.contains(&"change number 2".into()), "the six newest");
    let all = list.join(" ");
    assert!(all.contains("r2 (1 May, the builder): change number 2"), "the rest in the notes");
    p.title.revisions = vec![one("A", &"moved the whole left row by half a finger ".repeat(9))];
    let all = words(&draw(&p, 0)).join(" ");
    assert!(all.contains("... see the notes") && all.matches("moved the whole").count() > 9);
}

#[test]
fn the_schedule_names_drill_countersink_screw_and_spelling() {
    let mut p = bare(200.0, 100.0);
    let mut s = subject("vent", SubjectKind::Placement, Point::new(60.0, 50.0));
    let mut hole = screw_hole("screw-1", Point::new(60.0, 50.0), 4.0, HeadKind::Countersunk);
    hole.written = Some("11/64 in".into());
    hole.contour = panelwright::geom::Contour::circle(Point::new(60.0, 50.0), 4.365_625 / 2.0);
    s.parts.push(hole);
    p.subjects.push(s);
    let all = said(&draw(&p, 0));
    for part in [
        "\u{2300}4.37 (11/64 in)",
        "drill 4.4 mm",
        "11/64 in;",
        "csk \u{2300}8 angle as the screw's",
        "M4: vent",
    ] {
        assert!(all.contains(part), "{part}: {all}");
    }
    p.unit = Unit::Inch;
    let all = said(&draw(&p, 0));
    assert!(all.contains("\u{2300}.172 (11/64 in; 4.37 mm)"), "{all}");
}

#[test]
fn revisions_are_read_from_the_outermost_file_that_lists_any() {
    let below = r#"{ "format": 1, "panel": "P", "unit": "mm", "sheet": { "thickness": 2, "outline": "M 0 0 H 90 V 60 H 0 Z" },
        "holes": [ { "id": "frame", "at": [[9, 9]], "diameter": 4 } ],
        "title": { "number": "P-1", "revisions": [ { "index": "A", "change": "first" } ] } }"#;
    let above = r#"{ "format": 1, "panel": "Q", "builds-on": "p.json", "title": { "revisions": [
        { "index": "A", "change": "as found", "date": "May", "by": "me" }, { "index": "B", "change": "one more hole" } ] } }"#;
    let files = panelwright::files::Memory::new().with("p.json", below).with("q.json", above);
    let read = |path: &str| {
        let panel = panelwright::resolve::resolve(path, &files, &panelwright::resolve::Catalogue::builtin());
        panel.unwrap_or_else(|p| panic!("{}", p.render(false))).title
    };
    let (p, q) = (read("p.json"), read("q.json"));
    assert_eq!(p.revisions.len(), 1);
    let told: Vec<_> =
        q.revisions.iter().map(|r| [&r.index, &r.change, &r.date, &r.by].map(String::as_str)).collect();
    assert_eq!(told, [["A", "as found", "May", "me"], ["B", "one more hole", "", ""]]);
    assert_eq!(q.get("number"), Some("P-1"));
}

#[test]
fn what_exists_twice_in_one_place_is_counted_once() {
    let mut p = bare(200.0, 100.0);
    p.sheets[0].new = false;
    for (id, kind) in [("old", SubjectKind::OldOpening), ("vent", SubjectKind::Placement)] {
        let mut s = subject(id, kind, Point::new(60.0, 50.0));
        s.state = State::Existing;
        s.parts.push(screw_hole("screw", Point::new(60.0, 50.0), 4.0, HeadKind::Raised));
        p.subjects.push(s);
    }
    let read = crate::read::Read::of(&draw(&p, 0));
    assert_eq!(read.rows["A"].0, 1);
    assert!(read.tags.contains_key("vent.screw"), "the item's name, not what an older one left");
    assert!(read.notes.contains("lies in another that exists: old.screw"));
}

#[test]
fn long_titles_are_broken_before_they_are_shrunk() {
    let mut p = bare(200.0, 100.0);
    p.name = "A panel with a title as long as the committee of the flying club could agree upon in one evening, and more of it"
        .into();
    let d = draw(&p, 0);
    let lines: Vec<_> = items(&d)
        .into_iter()
        .filter_map(text)
        .filter(|t| p.name.contains(&t.text) && t.text.len() > 20)
        .collect();
    assert!(lines.len() >= 2 && lines.iter().all(|t| t.height >= 1.8), "{lines:?}");
}

#[test]
fn a_schedule_names_no_drill_outside_the_tolerance_that_stands_beside_it() {
    use panelwright::calc::drill;
    let mut seen = 0;
    for p in demos() {
        let scale = if p.unit.is_inch() { 25.4 } else { 1.0 };
        for sheet in 0..p.sheets.len() {
            let words = words(&draw(&p, sheet));
            // holes of 12.7 and 11.91 mm, cut to 0.2 mm or less, do not become 13 mm; where no tolerance
            // stands it is told how much larger the drill is
            let all = words.join(" ").replace("13.0 mm (+", "");
            assert!(!all.contains("13.0 mm or 1/2 in") && !all.contains("1/2 in or 13.0 mm"), "{}", p.name);
            for (k, tool) in words.iter().enumerate() {
                let Some(names) = tool.strip_prefix("drill ").filter(|n| !n.starts_with("from")) else {
                    continue;
                };
                // the cells of a row follow each other: size, tolerance, tool
                let (Some(tolerance), Some(size)) =
                    (k.checked_sub(1).map(|k| &words[k]), k.checked_sub(2).map(|k| &words[k]))
                else {
                    continue;
                };
                let Some(within) = tolerance.strip_prefix('\u{b1}').and_then(|t| t.parse::<f64>().ok())
                else {
                    continue;
                };
                // a long size stands on two lines: the last of them has no diameter
                let Some(size) = size.strip_prefix('\u{2300}') else { continue };
                let Ok(size) = size.split(' ').next().unwrap_or_default().parse::<f64>() else { continue };
                // the printed size and tolerance are rounded: half a unit of the last place each
                let slack = if scale > 1.0 { 0.0011 } else { 0.011 };
                for name in names.split(';').next().unwrap().split(" or ") {
                    // a name whose end stands on the next line is read nowhere
                    let Some(drill) = drill::named(name) else { continue };
                    let made = drill.diameter;
                    let off = (made / scale - size).abs();
                    assert!(off <= within + slack, "{}: {size} {tolerance}: {name} is {off} off", p.name);
                    seen += 1;
                }
            }
        }
    }
    assert!(seen >= 4, "{seen} drills");
}
