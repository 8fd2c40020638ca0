//! What is done to several items is one step, and all text but the numbers it is about stays byte for byte.

use crate::{Desk, PANEL, at};
use panelwright::edit::{Edit, Refusal};
use panelwright::geom::Vec2;
use std::fs;

fn ids(all: &[&str]) -> Vec<String> {
    all.iter().map(|s| s.to_string()).collect()
}

#[test]
fn each_goes_a_way_of_its_own_in_one_step() {
    let desk = Desk::new("each");
    let mut s = desk.open();
    let each = [("one".to_string(), Vec2::new(0.0, 5.0)), ("two".to_string(), Vec2::new(10.0, 5.0))];
    s.shift_each(&each, false).unwrap();
    assert_eq!((at(&s, "one"), at(&s, "two")), ((60.0, 80.0), (171.6, 80.0)));
    assert_eq!(s.steps(), (1, 0));
    s.undo().unwrap();
    assert_eq!(s.text(), PANEL);
}

#[test]
fn a_mirror_image_keeps_the_relation_and_tells_it_from_the_other_side() {
    let desk = Desk::new("mirror");
    let mut s = desk.open();
    s.mirror(&ids(&["one", "two"]), 150.0, false).unwrap();
    // 2 * 150 - 60 and 2 * 150 - 161.6
    assert_eq!((at(&s, "one"), at(&s, "two")), ((240.0, 75.0), (138.4, 75.0)));
    let want = PANEL.replace("[60,  75]", "[240, 75]").replace("right-of", "left-of");
    assert_eq!((s.text(), s.steps()), (want.as_str(), (1, 0)));
}

#[test]
fn copies_keep_their_relations_among_themselves() {
    let desk = Desk::new("copies");
    let mut s = desk.open();
    s.edit(&Edit::Flag { id: "one".into(), key: "locked", is: true }).unwrap();
    let before = s.text().to_string();
    assert_eq!(s.copies(&ids(&["one", "two"])).unwrap(), ["one-2", "two-2"]);
    assert_eq!(s.steps(), (2, 0));
    let by = Vec2::new(at(&s, "one-2").0 - at(&s, "one").0, at(&s, "one-2").1 - at(&s, "one").1);
    assert!(by.hypot() > 60.0, "{by:?}");
    let pitch = at(&s, "two-2").0 - at(&s, "one-2").0;
    assert!((pitch - 101.6).abs() < 1e-9, "{pitch}");
    let text = s.text();
    assert!(
        text.contains(r#""id": "two-2", "instrument": "vent/60mm", "right-of": "one-2", "pitch": "4 in" }"#),
        "{text}"
    );
    assert!(
        !text.contains("\"id\": \"one-2\", \"instrument\": \"vent/60mm\", \"at\": [60")
            && text.matches("locked").count() == 1
    );
    assert!(
        text.starts_with(before.trim_end().trim_end_matches(['}', '\n', ' ', ']'])),
        "what was there stays as it was"
    );
    // alone, what stood by a relation to one that is not copied stands by coordinates
    assert_eq!(s.copies(&ids(&["two"])).unwrap(), ["two-3"]);
    assert!(s.text().contains("\"id\": \"two-3\", \"instrument\": \"vent/60mm\", \"at\": ["), "{}", s.text());
    s.undo().unwrap();
    s.undo().unwrap();
    assert_eq!(s.text(), before);
}

#[test]
fn what_is_kept_together_survives_and_goes_with_its_items() {
    let desk = Desk::new("together");
    let mut s = desk.open();
    s.together(&ids(&["one", "far"]), true).unwrap();
    assert!(s.text().contains("\"together\": [[\"one\", \"far\"]]"), "{}", s.text());
    assert_eq!(s.panel.together.len(), 1);
    s.save(false).unwrap();
    drop(s);
    let mut s = desk.open();
    assert_eq!(s.panel.together, [vec![s.panel.find("one").unwrap(), s.panel.find("far").unwrap()]]);
    s.edits(&[Edit::Delete { id: "far".into() }]).unwrap();
    assert_eq!((s.panel.together.len(), s.text().contains("together")), (0, false));
    s.undo().unwrap();
    s.together(&ids(&["one"]), false).unwrap();
    assert_eq!(s.text(), PANEL);
    fs::write(desk.path(), PANEL.replace("\"place\"", "\"together\": [[\"one\", \"tow\"]],\n  \"place\""))
        .unwrap();
    let Err(Refusal::Words(why)) = s.reload() else { panic!("an id that is none was read") };
    assert!(why.contains("did you mean \"two\"?"), "{why}");
}

#[test]
fn several_go_in_one_step_and_one_of_another_file_is_removed_here() {
    let desk = Desk::new("gone");
    let mut s = desk.open();
    let all = ids(&["one", "two", "far"]).into_iter().take(2);
    let mut gone: Vec<Edit> = vec![Edit::Delete { id: "far".into() }];
    gone.extend(all.skip(1).map(|id| Edit::Delete { id }));
    s.edits(&gone).unwrap();
    assert_eq!((s.steps(), s.panel.find("two"), s.panel.find("far")), ((1, 0), None, None));
    drop(s);
    fs::write(desk.0.join("found.json"), PANEL).unwrap();
    let built = "{\n  \"format\": 1, \"panel\": \"Built on it\", \"unit\": \"mm\",\n  \"builds-on\": \"found.json\",\n  \"change\": { \"two\": { \"locked\": true } }\n}\n";
    fs::write(desk.path(), built).unwrap();
    let mut s = Desk::open(&desk);
    s.answer_offer(false).unwrap();
    s.edits(&[Edit::Delete { id: "two".into() }]).unwrap();
    let want =
        built.replace(",\n  \"change\": { \"two\": { \"locked\": true } }", ",\n  \"remove\": [\"two\"]");
    assert_eq!((s.text(), s.panel.find("two")), (want.as_str(), None));
    assert_eq!(s.copies(&ids(&["one"])).unwrap(), ["one-2"]);
    assert!(
        s.text().contains("\"place\": [\n    { \"id\": \"one-2\", \"instrument\": \"vent/60mm\", \"at\": ["),
        "{}",
        s.text()
    );
}
