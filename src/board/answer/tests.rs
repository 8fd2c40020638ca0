//! What a page is answered, message by message.

use super::*;
use crate::board::aside::Tell;
use crate::resolve::Catalogue;
use std::fs;
use std::path::{Path, PathBuf};

const PANEL: &str = r#"{ "format": 1, "panel": "Asked", "unit": "mm",
  "sheet": { "material": "6061-T6", "thickness": 2, "new": true, "outline": "M 0 0 H 400 V 150 H 0 Z" },
  "place": [
    { "id": "one", "instrument": "vent/60mm", "at": [60, 75] },
    { "id": "fast", "instrument": "vent/60mm", "at": [200, 75], "locked": true }
  ]
}
"#;

/// A name that is longer than an id may be.
const LONG: &str = "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx";

/// A panel on the board, in a folder of its own.
struct Asked(Session, PathBuf);

impl Asked {
    fn of(name: &str, panel: &str) -> Asked {
        let folder = std::env::temp_dir().join(format!("panelwright-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(folder.join("own")).unwrap();
        // files of one's own, of any name
        let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("instruments/vent/44mm.json");
        for to in ["m\u{fc}ller's vent (2)", LONG] {
            fs::copy(&from, folder.join(format!("own/{to}.json"))).unwrap();
        }
        fs::write(folder.join("p.json"), panel).unwrap();
        Asked(Asked::session(&folder), folder)
    }

    fn session(folder: &Path) -> Session {
        let own = Catalogue::with_folder(folder.join("own").to_str().unwrap());
        Session::open(folder.join("p.json").to_str().unwrap(), own).unwrap()
    }

    /// What is said to a message, whatever it takes.
    fn ask(&mut self, m: Value) -> Value {
        let (to, _) = tokio::sync::mpsc::channel(1);
        let (news, _) = tokio::sync::broadcast::channel(1);
        let mut aside = Aside::new(Tell::new(to), news, Default::default());
        let mut text = m.to_string();
        loop {
            let a = answer(&mut self.0, &mut None, &mut aside, &text);
            match a.later.map(|later| later()) {
                Some(v) if v.get("do").is_some() => text = v.to_string(),
                Some(v) => return v,
                None => return a.own.unwrap_or_else(|| json!({ "kind": "done", "changed": a.changed })),
            }
        }
    }

    /// A refusal's words; the text is as it was.
    fn refusal(&mut self, m: Value) -> String {
        let before = self.0.text().to_owned();
        let told = self.ask(m);
        assert_eq!(told["kind"], "refused", "{told}");
        assert_eq!(self.0.text(), before);
        told["words"].as_str().unwrap().to_owned()
    }

    fn at(&self, id: &str) -> [f64; 2] {
        let p = self.0.panel.subjects[self.0.panel.find(id).unwrap()].at;
        [p.x, p.y]
    }
}

impl Drop for Asked {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.1);
    }
}

#[test]
fn what_is_let_go_over_another_panel_is_not_moved() {
    let mut s = Asked::of("let-go", PANEL);
    let moved = |revision: u64| json!({ "do": "move", "ids": ["one"], "by": [5, 0], "revision": revision });
    assert_eq!(s.ask(moved(1))["changed"], true);
    assert_eq!(s.at("one"), [65.0, 75.0]);
    // another page undid it, or moved it on, while it was held
    let words = s.refusal(moved(1));
    assert!(words.contains("take hold again"), "{words}");
    // by keys it goes on from where it is
    assert_eq!(s.ask(json!({ "do": "move", "ids": ["one"], "by": [1, 0] }))["changed"], true);
    assert_eq!(s.at("one"), [66.0, 75.0]);
}

#[test]
fn what_is_typed_wrong_is_told_with_what_was_typed_and_what_to_type() {
    let mut s = Asked::of("typed", PANEL);
    let put = |x: &str| json!({ "do": "put", "id": "one", "x": x, "y": "75" });
    for (x, has) in [
        ("61,5", &["61,5 could mean 61.5 or 615", "\"61.5\""][..]),
        ("", &["right of datum: the value is empty", "such as"]),
        ("3 1/8", &["fraction", "\"3 1/8 in\""]),
    ] {
        let words = s.refusal(put(x));
        assert!(has.iter().all(|h| words.contains(h)), "{words}");
    }
    let turn = |to: Value| json!({ "do": "turn", "id": "one", "to": to });
    for (to, has) in [
        (json!("12,5"), "12,5 could mean 12.5 or 125"),
        (json!("around"), "around"),
        (json!(361), "361 is not an angle"),
        (json!("9e9"), "9e9"),
        (json!(null), "from -360 to 360"),
    ] {
        let words = s.refusal(turn(to));
        assert!(words.contains(has), "{words}");
    }
    // a hair below nothing is nothing, and no whole turn
    assert_eq!(s.ask(turn(json!(-1e-9)))["changed"], true);
    assert_eq!(s.0.text(), PANEL);
    assert_eq!(s.ask(turn(json!("-90")))["changed"], true);
    assert!(s.0.text().contains("\"turn\": 270"), "{}", s.0.text());
    let locked = s.refusal(json!({ "do": "turn", "id": "fast", "to": 90 }));
    assert!(locked.contains("free it first"), "{locked}");
}

#[test]
fn what_is_added_is_named_lawfully_and_put_where_there_is_room() {
    let mut s = Asked::of("added", PANEL);
    let told = s.ask(json!({ "do": "add", "instrument": "vent/44mm" }));
    assert_eq!(told, json!({ "kind": "added", "id": "44mm" }));
    let id = told["id"].as_str().unwrap().to_owned();
    let [x, y] = s.at(&id);
    assert!((0.0..400.0).contains(&x) && (0.0..150.0).contains(&y), "{x} {y}");
    let again = s.ask(json!({ "do": "add", "instrument": "vent/44mm" }));
    assert_eq!(again["id"], "44mm-2");
    assert_ne!(s.at(again["id"].as_str().unwrap()), [x, y]);
    let told = s.ask(json!({ "do": "add", "instrument": "m\u{fc}ller's vent (2)" }));
    assert_eq!(told, json!({ "kind": "added", "id": "m-ller-s-vent--2" }));
    for end in ["x", "-2"] {
        let told = s.ask(json!({ "do": "add", "instrument": LONG }));
        let id = told["id"].as_str().unwrap();
        assert!(id.len() == 64 && id.ends_with(end), "{told}");
    }
    let words = s.refusal(json!({ "do": "add", "instrument": "no/such" }));
    assert!(words.contains("instruments list"), "{words}");
}

#[test]
fn letters_that_the_font_lacks_hide_nothing_else() {
    let strange = PANEL
        .replace("\"Asked\"", "\"Asked \u{6f22}\"")
        .replace("\"at\": [60, 75]", "\"at\": [60, 75], \"title\": \"\u{6f22}\u{5b57}\"");
    let mut s = Asked::of("letters", &strange);
    let told = s.ask(json!({ "do": "state" }));
    assert!(told["view"]["svg"].as_str().unwrap().contains("data-subject=\"one\""));
    let words = told["view"]["problem"].as_str().unwrap();
    assert!(words.contains('\u{6f22}') && words.contains('\u{5b57}'), "{words}");
    let mut s = Asked::of("far", PANEL);
    assert_eq!(s.ask(json!({ "do": "state" }))["view"]["problem"], json!(null));
    // far off it is drawn small, and not left out
    assert_eq!(s.ask(json!({ "do": "put", "id": "one", "x": "75", "y": "99000" }))["changed"], true);
    let told = s.ask(json!({ "do": "state" }));
    assert!(
        told["view"]["svg"].as_str().unwrap().contains("data-subject=\"one\""),
        "{}",
        told["view"]["problem"]
    );
}

#[test]
fn what_another_file_describes_is_not_changed_here() {
    let mut s = Asked::of("floating", PANEL);
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("panels/corncrake");
    for file in fs::read_dir(from).unwrap() {
        let file = file.unwrap().path();
        fs::copy(&file, s.1.join(file.file_name().unwrap())).unwrap();
    }
    let path = s.1.join("whole-proposed.json");
    s.0 = Session::open(path.to_str().unwrap(), Catalogue::builtin()).unwrap();
    for m in [
        json!({ "do": "move", "ids": ["vent-left", "centre:display"], "by": [1, 0], "plain": true }),
        json!({ "do": "put", "id": "centre:display", "x": "1", "y": "2", "plain": true }),
        json!({ "do": "turn", "id": "centre:display", "to": 90 }),
        json!({ "do": "bring", "each": [["centre:display", [1, 2]]], "plain": true }),
        json!({ "do": "flag", "ids": ["centre:display"], "key": "locked", "is": true }),
        json!({ "do": "delete", "ids": ["centre:display"] }),
        json!({ "do": "together", "ids": ["centre:display", "vent-left"], "together": true }),
    ] {
        let words = s.refusal(m);
        assert!(
            words.contains("floating-proposed.json, line ") && words.contains("open the board"),
            "{words}"
        );
    }
}

#[test]
fn what_is_named_twice_is_copied_once() {
    let mut s = Asked::of("twice", PANEL);
    let told = s.ask(json!({ "do": "copy", "ids": ["one", "one"] }));
    assert_eq!(told, json!({ "kind": "copied", "ids": ["one-2"] }));
}

#[test]
fn what_is_no_item_by_itself_is_said_to_be_none() {
    let stack = PANEL.replace(
        "\n}\n",
        ",\n  \"stacks\": [ { \"id\": \"radios\", \"instrument\": \"stack/6-1-4in-frame\", \"at\": [300, 75],\n    \"units\": [ { \"id\": \"navcom\", \"instrument\": \"radio/navcom-2in\" } ] } ]\n}\n",
    );
    let mut s = Asked::of("stack", &stack);
    for m in [
        json!({ "do": "turn", "id": "navcom", "to": 90 }),
        json!({ "do": "copy", "ids": ["navcom"] }),
        json!({ "do": "together", "ids": ["one", "navcom"], "together": true }),
    ] {
        let words = s.refusal(m);
        assert!(words.starts_with("navcom is part of something else"), "{words}");
    }
    let words = s.refusal(json!({ "do": "together", "ids": ["one", "one"], "together": true }));
    assert!(words.contains("two items or more"), "{words}");
    let words = s.refusal(json!({ "do": "turn", "id": "none", "to": 90 }));
    assert_eq!(words, "there is no none on the panel");
}
