//! What others stand beside is taken out in one step: they are put at coordinates where they stand, once that is agreed to.

use crate::{Desk, PANEL, at};
use panelwright::edit::{Edit, Refusal};
use std::fs;

fn ids(all: &[&str]) -> Vec<String> {
    all.iter().map(|s| s.to_string()).collect()
}

#[test]
fn relations_to_what_is_taken_out_become_coordinates() {
    let desk = Desk::new("taken");
    let mut s = desk.open();
    let Err(Refusal::NoNumber(why)) = s.take_out(&ids(&["one"]), false) else { panic!("it was not asked") };
    assert!(why.contains("two") && why.contains("far") && why.contains("coordinates"), "{why}");
    assert_eq!((s.text(), s.steps()), (PANEL, (0, 0)));
    s.take_out(&ids(&["one"]), true).unwrap();
    let want = PANEL
        .replace("    { \"id\": \"one\", \"instrument\": \"vent/60mm\", \"at\": [60,  75] },\n", "")
        .replace("\"right-of\": \"one\", \"pitch\": \"4 in\"", "\"at\": [161.6, 75]")
        .replace("\"mirror-of\": \"one\", \"about\": 200", "\"at\": [340, 75]");
    assert_eq!((s.text(), s.steps()), (want.as_str(), (1, 0)));
    s.undo().unwrap();
    assert_eq!(s.text(), PANEL);
    // what nothing stands beside goes at once, and all together too
    s.take_out(&ids(&["far", "one"]), true).unwrap();
    assert_eq!((at(&s, "two"), s.steps()), ((161.6, 75.0), (1, 0)));
    // a panel on which nothing stands is none: no coordinates cure that
    assert!(matches!(s.take_out(&ids(&["two"]), false), Err(Refusal::Words(_))));
}

#[test]
fn a_row_and_a_label_hang_on_it_too() {
    let desk = Desk::new("taken-row");
    let more = ",\n  \"rows\": [\n    { \"id\": \"small\", \"instrument\": \"switch/toggle\", \"ids\": [\"s1\", \"s2\"], \"along\": \"right\", \"right-of\": \"two\", \"first-pitch\": 60, \"pitch\": 25 }\n  ],\n  \"labels\": [\n    { \"id\": \"name\", \"text\": \"AIR\", \"of\": \"two\", \"height\": 4, \"at\": [161.6, 120] }\n  ]\n}\n";
    let text = PANEL.replace("\n  ]\n}\n", &format!("\n  ]{more}"));
    fs::write(desk.path(), &text).unwrap();
    let mut s = desk.open();
    let before = (at(&s, "s1"), at(&s, "s2"));
    assert_eq!(before.0, (221.6, 75.0));
    let Err(Refusal::NoNumber(why)) = s.take_out(&ids(&["two"]), false) else { panic!("it was not asked") };
    assert!(why.contains("s1") && !why.contains("s2") && why.contains("the label name names two"), "{why}");
    s.take_out(&ids(&["two"]), true).unwrap();
    assert_eq!((at(&s, "s1"), at(&s, "s2")), before);
    assert!(s.text().contains("\"along\": \"right\", \"at\": [221.6, 75], \"pitch\": 25 }"), "{}", s.text());
    assert_eq!((s.panel.find("two"), s.panel.find("name"), s.steps()), (None, None, (1, 0)));
}

#[test]
fn a_row_that_closes_up_is_asked_about() {
    let desk = Desk::new("taken-from-row");
    let row = "\n  ],\n  \"rows\": [\n    { \"id\": \"small\", \"instrument\": \"switch/toggle\", \"ids\": [\"s1\", \"s2\", \"s3\"], \"along\": \"right\", \"at\": [220, 20], \"pitch\": 25 }\n  ]\n}\n";
    fs::write(desk.path(), PANEL.replace("\n  ]\n}\n", row)).unwrap();
    let mut s = desk.open();
    let Err(Refusal::NoNumber(why)) = s.take_out(&ids(&["s2"]), false) else { panic!("it was not asked") };
    assert!(why.starts_with("s3 would move"), "{why}");
    assert_eq!((at(&s, "s3"), s.steps()), ((270.0, 20.0), (0, 0)));
    s.take_out(&ids(&["s2"]), true).unwrap();
    assert_eq!((at(&s, "s1"), at(&s, "s3"), s.steps()), ((220.0, 20.0), (245.0, 20.0), (1, 0)));
    // the last one leaves the others where they are
    s.take_out(&ids(&["s3"]), false).unwrap();
    assert_eq!(at(&s, "s1"), (220.0, 20.0));
}

#[test]
fn in_a_file_that_builds_on_another_one() {
    let desk = Desk::new("taken-built");
    fs::write(desk.0.join("found.json"), PANEL).unwrap();
    let own =
        "    { \"id\": \"own\", \"instrument\": \"vent/44mm\", \"above\": \"one\", \"gap\": 2 }\n  ]\n}\n";
    let built = format!(
        "{{\n  \"format\": 1, \"panel\": \"Built on it\", \"unit\": \"mm\",\n  \"builds-on\": \"found.json\",\n  \"place\": [\n{own}"
    );
    fs::write(desk.path(), &built).unwrap();
    let mut s = desk.open();
    let before = (at(&s, "two"), at(&s, "far"), at(&s, "own"));
    // what is removed here stands in the file below: places are told from it still, and nothing need be asked
    s.take_out(&ids(&["one"]), false).unwrap();
    assert_eq!((at(&s, "two"), at(&s, "far"), at(&s, "own")), before);
    assert!(s.text().contains("\"remove\": [\"one\"]"), "{}", s.text());
    assert_eq!((s.panel.find("one"), s.steps()), (None, (1, 0)));
}

#[test]
fn what_cannot_be_done_is_not_offered() {
    let desk = Desk::new("taken-not");
    // a wish of the arrangement names the item: no coordinates cure that
    let text = PANEL.replace("\"place\"", "\"arrange\": { \"free\": [\"one\", \"two\"] },\n  \"place\"");
    fs::write(desk.path(), &text).unwrap();
    let mut s = desk.open();
    let Err(Refusal::Words(why)) = s.take_out(&ids(&["one"]), false) else { panic!("it was offered") };
    assert!(why.contains("one"), "{why}");
    assert!(matches!(s.take_out(&ids(&["one"]), true), Err(Refusal::Words(_))));
    assert!(matches!(s.edit(&Edit::Delete { id: "one".into() }), Err(Refusal::Words(_))));
    assert_eq!((s.text(), s.steps()), (text.as_str(), (0, 0)));
}
