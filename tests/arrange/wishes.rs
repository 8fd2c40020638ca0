//! The section `arrange` of a panel file: what must hold holds, what contradicts itself is refused with its place.

use panelwright::diag::Problems;
use panelwright::files::Memory;
use panelwright::geom::{Point, Rect, length};
use panelwright::panel::{Class, Panel};
use panelwright::place::arrange::{Arranged, Asked, Ground, Outcome, TERMS, Watch, arrange, free, pieces};
use panelwright::resolve::{Catalogue, resolve};

/// Seven covers and what is wished of them.
fn file(wishes: &str) -> String {
    let ids = ["a", "b", "c", "d", "e", "f", "g"];
    let place: Vec<String> = ids
        .iter()
        .enumerate()
        .map(|(k, id)| {
            format!(r#"{{ "id": "{id}", "instrument": "blank/2-1-4in", "at": [{}, 60] }}"#, 40 + 10 * k)
        })
        .collect();
    format!(
        "{{ \"format\": 1, \"panel\": \"Wishes\", \"unit\": \"mm\", \"tilt\": 0, \"eye\": 700, \"depth\": {{ \"default\": 300 }},\n\
         \"sheet\": {{ \"material\": \"6061-T6\", \"thickness\": 2, \"coat\": 0.08, \"outline\": \"M 0 0 H 420 V 200 H 0 Z\" }},\n\
         \"place\": [{}],\n\"arrange\": {wishes} }}",
        place.join(", ")
    )
}

fn read(wishes: &str) -> Result<Panel, Problems> {
    let files = Memory::new().with("wishes.json", file(wishes));
    resolve("wishes.json", &files, &Catalogue::builtin())
}

fn run(wishes: &str, moves: u64) -> (Panel, Outcome) {
    let panel = read(wishes).unwrap_or_else(|p| panic!("{}", p.render(false)));
    let mut ground = Ground::new(&panel, pieces(&panel, &free(&panel)));
    ground.bind(&panel);
    let mut on = |_: &_| true;
    let outcome = arrange(&panel, ground, Asked { seed: 1, different: 1 }, &mut Watch::new(moves, &mut on));
    (panel, outcome)
}

fn found(wishes: &str) -> (Panel, Arranged) {
    match run(wishes, 1500) {
        (panel, Outcome::Found(mut all)) => (panel, all.swap_remove(0)),
        (_, Outcome::None(c)) => panic!("none found: {c:?}"),
    }
}

fn face(panel: &Panel, id: &str) -> Rect {
    let s = &panel.subjects[panel.find(id).unwrap()];
    s.parts.iter().find(|p| p.class == Class::Bezel).unwrap().contour.bounds()
}

fn at(panel: &Panel, id: &str) -> Point {
    panel.subjects[panel.find(id).unwrap()].at
}

fn refused(wishes: &str, words: &[&str]) {
    let told = match read(wishes) {
        Ok(_) => panic!("read without a problem: {wishes}"),
        Err(p) => p.to_string(),
    };
    for w in words {
        assert!(told.contains(w), "{w:?} is not in {told}");
    }
    // the wishes stand on the file's last line
    assert!(told.contains("wishes.json:4:"), "{told}");
}

#[test]
fn zones_orders_and_distances_hold() {
    let (_, a) = found(
        r#"{ "zones": [ { "items": ["a", "b"], "shape": { "rectangle": [150, 90] }, "at": [330, 50] },
                        { "items": ["g"], "shape": { "path": "M 0 0 H 420 V 70 H 70 V 200 H 0 Z" } } ],
             "orders": [ { "items": ["f", "e", "d"], "along": "right" }, { "items": ["c", "d"], "along": "up" } ],
             "apart": [ { "items": ["c", "e"], "by": 90 } ], "fixed": ["f"] }"#,
    );
    assert!(a.bad.is_empty());
    let p = &a.panel;
    for id in ["a", "b"] {
        let f = face(p, id);
        assert!(
            f.x0 >= 255.0 - 1e-6 && f.x1 <= 405.0 + 1e-6 && f.y0 >= 5.0 - 1e-6 && f.y1 <= 95.0 + 1e-6,
            "{f:?}"
        );
    }
    let g = face(p, "g");
    assert!(g.x1 <= 70.0 + 1e-6 || g.y1 <= 70.0 + 1e-6, "{g:?}");
    assert_eq!(at(p, "f"), Point::new(90.0, 60.0));
    assert!(at(p, "f").x < at(p, "e").x && at(p, "e").x < at(p, "d").x && at(p, "c").y < at(p, "d").y);
    let (c, e) = (face(p, "c"), face(p, "e"));
    let (x, y) = ((c.x0 - e.x1).max(e.x0 - c.x1).max(0.0), (c.y0 - e.y1).max(e.y0 - c.y1).max(0.0));
    assert!(length(panelwright::geom::Vec2::new(x, y)) >= 90.0 - 0.02);
}

#[test]
fn engine_controls_stand_from_left_to_right_and_carburettor_heat_left_of_the_throttle_or_apart() {
    let roles = r#""roles": { "power": "d", "propeller": "c", "mixture": "b", "carburettor-heat": "a" }"#;
    let (_, a) = found(&format!("{{ {roles} }}"));
    let x = |id| at(&a.panel, id).x;
    assert!(x("a") < x("d") && x("d") < x("c") && x("c") < x("b"));
    // apart from the mixture it may stand on either side of the throttle
    let panel = read(&format!(r#"{{ {roles}, "apart": [ {{ "items": ["a", "b"], "by": 60 }} ] }}"#)).unwrap();
    assert_eq!(panel.wishes.orders.len(), 1);
    assert!(
        panel.wishes.orders[0].source.contains("23.777(d)")
            && panel.wishes.orders[0].source.contains("from memory")
    );
}

#[test]
fn flight_breakers_stand_within_reach() {
    let (p, a) = found(r#"{ "flight-breakers": ["g"], "shoulder": [400, 190, -600], "reach": 610 }"#);
    let d = at(&a.panel, "g") - Point::new(400.0, 190.0);
    assert!((d.hypot2() + 600.0 * 600.0).sqrt() <= 610.0, "{d:?}");
    let far = at(&p, "g") - Point::new(400.0, 190.0);
    assert!((far.hypot2() + 600.0 * 600.0).sqrt() > 610.0);
    let (_, Outcome::None(c)) =
        run(r#"{ "flight-breakers": ["g"], "shoulder": [400, 190, -600], "reach": 500 }"#, 50)
    else {
        panic!("the hand does not come to the panel")
    };
    assert!(c.alone);
}

#[test]
fn terms_are_told_with_weight_and_source_and_a_wish_is_met_better_than_it_was() {
    let wishes = r#"{ "roles": { "attitude": "a", "airspeed": "b", "altitude": "c", "direction": "d" }, "eye": [210, 230],
                      "rows": [ { "items": ["e", "f", "g"], "along": "right" } ], "weights": { "alignment": 0 } }"#;
    let (_, Outcome::Found(all)) = run(wishes, 4000) else { panic!("none found") };
    let of = |id: &str| all[0].costs.iter().find(|c| c.term.id == id).unwrap();
    assert!(of("basic-t").measured.unwrap() < 40.0, "{:?}", of("basic-t"));
    assert!(of("rows").measured.unwrap() < 30.0, "{:?}", of("rows"));
    assert_eq!((of("alignment").weight, of("alignment").cost()), (0.0, 0.0));
    assert!(of("symmetry").measured.is_none() && of("reach").measured.is_none());
    for t in TERMS {
        assert!(!t.source.is_empty() && t.weight > 0.0 && !t.asks.is_empty());
    }
    let p = &all[0].panel;
    assert!(at(p, "b").x < at(p, "a").x && at(p, "a").x < at(p, "c").x && at(p, "d").y < at(p, "a").y);
}

#[test]
fn the_weights_of_the_table_are_the_terms() {
    for t in TERMS {
        let panel = read(&format!(r#"{{ "weights": {{ "{}": 7.5 }} }}"#, t.id)).unwrap();
        assert_eq!(panel.wishes.weights, [(t.id.to_string(), 7.5)]);
    }
}

#[test]
fn fields_of_view_by_hand() {
    // eye 700 mm before x = 210, y = 187.56 + 0: the line of sight, 15 degrees down, meets the panel at y = 0
    let down = 700.0 * 0.267_949_192;
    let wishes = format!(
        r#"{{ "eye": [210, {}], "primary": ["a"], "fixed": ["b", "c", "d", "e", "f", "g"] }}"#,
        60.0 + down
    );
    let panel = read(&wishes).unwrap();
    let pieces = pieces(&panel, &free(&panel));
    let costs = panelwright::place::arrange::Costs::new(&panel, &pieces);
    let measured = |x: f64| {
        let by = panelwright::geom::Vec2::new(x - 40.0, 0.0);
        costs.each(&[by]).into_iter().find(|c| c.term.id == "field-of-view").unwrap().measured.unwrap()
    };
    assert!(measured(210.0) < 1e-6 && measured(210.0 + 187.0) < 1e-6);
    // 700 tan 20 deg = 254.779: five degrees beyond
    assert!((measured(210.0 - 254.779) - 5.0).abs() < 1e-4, "{}", measured(210.0 - 254.779));
}

#[test]
fn what_contradicts_itself_or_names_nothing_is_refused_with_its_place() {
    refused(r#"{ "free": ["aa"] }"#, &["there is no `aa` on this panel to arrange", "did you mean \"a\"?"]);
    refused(r#"{ "groups": [ { "items": ["a", "sheet"] } ] }"#, &["is no instrument"]);
    refused(r#"{ "free": ["a"], "fixed": ["a"] }"#, &["a is listed as free and as fixed"]);
    refused(
        r#"{ "orders": [ { "items": ["a", "b", "c"], "along": "right" }, { "items": ["a", "c"], "along": "left" } ] }"#,
        &["the orders contradict each other", "from left to right"],
    );
    refused(
        r#"{ "orders": [ { "items": ["a", "b", "a"], "along": "up" } ] }"#,
        &["a stands twice in this order"],
    );
    refused(
        r#"{ "roles": { "power": "a", "mixture": "b" }, "orders": [ { "items": ["b", "a"], "along": "right" } ] }"#,
        &["the orders contradict each other", "engine controls stand in the order of their roles"],
    );
    refused(r#"{ "roles": { "power": "a", "mixture": "a" } }"#, &["at once"]);
    refused(r#"{ "weights": { "rows": -1 } }"#, &["-1"]);
    refused(r#"{ "weights": { "row": 1 } }"#, &["did you mean"]);
    refused(r#"{ "apart": [ { "items": ["a", "b"], "by": -5 } ] }"#, &["-5"]);
    refused(r#"{ "apart": [ { "items": ["a"], "by": 5 } ] }"#, &["the list has 1 element"]);
    refused(r#"{ "apart": [ { "items": ["a", "a"], "by": 5 } ] }"#, &["a: this list names one item only"]);
    refused(r#"{ "symmetric": [ { "items": ["a", "a"], "about": 0 } ] }"#, &["name two different items"]);
}

#[test]
fn zones_that_leave_no_room_are_told_as_such() {
    for wishes in [
        r#"{ "zones": [ { "items": ["a"], "shape": { "rectangle": [30, 30] }, "at": [100, 100] } ] }"#,
        r#"{ "zones": [ { "items": ["a"], "shape": { "rectangle": [100, 100] }, "at": [60, 100] },
                        { "items": ["a"], "shape": { "rectangle": [100, 100] }, "at": [300, 100] } ] }"#,
    ] {
        let (_, Outcome::None(c)) = run(wishes, 50) else { panic!("no room in {wishes}") };
        assert!(
            c.alone && matches!(c.why.unwrap().what, panelwright::place::arrange::What::Zone(_)),
            "{c:?}"
        );
    }
}
