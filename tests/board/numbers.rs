//! An item's numbers as the page asks for them: listed, set in one step, refused, taken back.

use super::Desk;
use panelwright::board::ask_numbers;
use serde_json::{Value, json};

fn line<'a>(told: &'a Value, path: &str) -> &'a Value {
    told["lines"].as_array().unwrap().iter().find(|l| l["path"] == path).unwrap()
}

#[test]
fn numbers_are_listed_set_in_one_step_and_taken_back() {
    let desk = Desk::new("numbers");
    let mut s = desk.open();
    let listed = json!({ "do": "numbers", "id": "one" });
    let told = ask_numbers(&mut s, &listed).unwrap();
    assert_eq!(told["instrument"], "vent/60mm");
    assert_eq!(
        (&line(&told, "mass")["stated"]["words"], &line(&told, "mass")["own"]),
        (&"0.06 kg".into(), &Value::Null)
    );
    assert_eq!(line(&told, "current.peak")["stated"], Value::Null);
    assert!(line(&told, "bodies.ball.to")["says"].as_str().unwrap().contains("Depth"));
    let set = json!({ "do": "number", "id": "one", "set": [["mass", "2 oz"], ["bezel.shape.circle", "66.5"]], "source": "bench",
        "fresh": { "basis": "measured", "who": "A. Builder" } });
    assert_eq!(ask_numbers(&mut s, &set), None, "the new state tells it");
    assert_eq!(s.steps(), (1, 0));
    let told = ask_numbers(&mut s, &listed).unwrap();
    assert_eq!(
        line(&told, "mass")["own"],
        json!({ "words": "2 oz", "named": "bench", "source": "measured: A. Builder" })
    );
    assert_eq!(told["sources"], json!([["bench", "measured, A. Builder"]]));
    // an ounce is 28.349523125 g exactly (NIST SP 811, appendix B)
    let kg = |s: &panelwright::board::Session| {
        s.panel.subjects[s.panel.find("one").unwrap()].facts.as_ref().unwrap().mass.unwrap()
    };
    assert!((kg(&s) - 0.056_699_046_25).abs() < 1e-12);
    assert_eq!(
        ask_numbers(&mut s, &json!({ "do": "number", "id": "one", "clear": ["mass", "bezel.shape.circle"] })),
        None
    );
    assert_eq!((s.steps(), kg(&s)), ((2, 0), 0.06));
    assert!(!s.text().contains("numbers"));
    s.undo().unwrap();
    s.undo().unwrap();
    assert_eq!(s.text(), super::PANEL);
}

#[test]
fn what_cannot_be_set_is_refused_with_what_to_do() {
    let desk = Desk::new("numbers-refused");
    let mut s = desk.open();
    let fresh = json!({ "basis": "measured", "who": "me" });
    for (set, source, fresh, told) in [
        (json!([["mass", "2"]]), "bench", &fresh, "unit"),
        (json!([["mass", "2 oz"]]), "", &fresh, "choose a source"),
        (json!([["mass", "2 oz"]]), "bench", &Value::Null, "no source \"bench\""),
        (json!([["mass", "2 oz"]]), "bench", &json!({ "basis": "guess", "who": "me" }), "standing"),
        (json!([["mass", "2 oz"]]), "bench", &json!({ "basis": "measured" }), "who measured"),
        (json!([["mass", "2 oz"]]), "my bench", &fresh, "no id"),
        (json!([["bodies.none.to", "2"]]), "bench", &fresh, "there is no `none`"),
        (json!([["openings.main.shape.path", "M 0 0"]]), "bench", &fresh, "no single number"),
        (json!([]), "bench", &fresh, "no number was typed"),
    ] {
        let asked = json!({ "do": "number", "id": "one", "set": set, "source": source, "fresh": fresh });
        let why = ask_numbers(&mut s, &asked).unwrap();
        let words = why["words"]
            .as_str()
            .unwrap()
            .split_whitespace()
            .filter(|w| *w != "│")
            .collect::<Vec<_>>()
            .join(" ");
        assert!(why["kind"] == "refused" && words.contains(told), "{asked}: {words}");
        assert_eq!((s.text(), s.steps()), (super::PANEL, (0, 0)));
    }
    assert_eq!(ask_numbers(&mut s, &json!({ "do": "numbers", "id": "nobody" })).unwrap()["kind"], "refused");
}
