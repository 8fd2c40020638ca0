//! Several items turned about their common middle: one step, the relations among them kept by quarters.

use crate::{Desk, PANEL, at};
use panelwright::board::Session;
use panelwright::edit::Refusal;

fn ids(all: &[&str]) -> Vec<String> {
    all.iter().map(|s| s.to_string()).collect()
}

fn turn(s: &Session, id: &str) -> f64 {
    s.panel.subjects[s.panel.find(id).unwrap()].turn
}

#[test]
fn by_a_quarter_what_stood_beside_stands_above_and_four_are_none() {
    let desk = Desk::new("turn-all");
    let mut s = desk.open();
    let both = ids(&["one", "two"]);
    let about = s.turn_all(&both, 90.0, false).unwrap();
    // one at 60 and two 4 in on: their middle is at 60 + 50.8
    assert!((about.x - 110.8).abs() < 1e-9 && (about.y - 75.0).abs() < 1e-9, "{about:?}");
    let want = PANEL.replace("[60,  75] }", "[110.8, 24.2], \"turn\": 90 }").replace(
        "\"right-of\": \"one\", \"pitch\": \"4 in\" }",
        "\"above\": \"one\", \"pitch\": \"4 in\", \"turn\": 90 }",
    );
    assert_eq!((s.text(), s.steps()), (want.as_str(), (1, 0)));
    let (x, y) = at(&s, "two");
    assert!((x - 110.8).abs() < 1e-5 && (y - 125.8).abs() < 1e-5, "{x} {y}");
    for _ in 0..3 {
        s.turn_all(&both, 90.0, false).unwrap();
    }
    assert_eq!(s.text(), PANEL.replace("[60,  75]", "[60, 75]"));
}

#[test]
fn by_any_angle_each_turns_and_goes_round_the_middle() {
    let desk = Desk::new("turn-angle");
    let mut s = desk.open();
    let both = ids(&["one", "two"]);
    // two would come to stand left of one, right of which it is told to stand
    let Err(Refusal::NoNumber(why)) = s.turn_all(&both, 150.0, false) else { panic!("it was not asked") };
    assert!(why.contains("two"), "{why}");
    assert_eq!(s.text(), PANEL);
    // 50.8 cos 30 and 50.8 sin 30 to both sides of 110.8, 75; by 30 degrees the relation holds, by another number
    let (dx, dy) = (50.8 * 3f64.sqrt() / 2.0, 25.4);
    for (by, side, plain) in [(150.0, -1.0, true), (30.0, 1.0, false)] {
        s.turn_all(&both, by, plain).unwrap();
        assert_eq!((turn(&s, "one"), turn(&s, "two"), s.steps().0), (by, by, 1));
        assert_eq!(s.text().contains("right-of"), !plain, "{}", s.text());
        for (id, k) in [("one", -1.0), ("two", 1.0)] {
            let ((x, y), k) = (at(&s, id), k * side);
            let (off_x, off_y) = (x - 110.8 - k * dx, y - 75.0 - k * side * dy);
            assert!(off_x.abs() < 2e-5 && off_y.abs() < 2e-5, "{id} by {by}: {x} {y}");
        }
        s.undo().unwrap();
        assert_eq!(s.text(), PANEL);
    }
    let Err(Refusal::Words(why)) = s.turn_all(&ids(&["one", "tow"]), 30.0, true) else {
        panic!("tow is none")
    };
    assert!(why.contains("no tow"), "{why}");
}
