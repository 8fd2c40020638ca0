//! What the pair rules behind the sheet, and of fasteners, say of the smallest panels.

use crate::small::*;
use panelwright::panel::*;

fn flanges(x: f64) -> Small {
    let a = Small::new().item("a").rear().cutout(round(100.0, 100.0, 60.0)).solid(
        "flange",
        Class::Flange,
        oblong(100.0, 100.0, 80.0, 80.0),
        2.0,
        5.0,
    );
    a.item("b").rear().cutout(round(x, 100.0, 60.0)).solid(
        "flange",
        Class::Flange,
        oblong(x, 100.0, 80.0, 80.0),
        2.0,
        5.0,
    )
}

#[test]
fn rear_flange_clear() {
    let id = "rear-flange-clear";
    assert_eq!(flanges(180.5).says(id), "pass a.flange/b.flange 0.50 of 0.00");
    assert_eq!(flanges(180.1).off(0.2, 0.0).says(id), "tight a.flange/b.flange 0.10 of 0.00");
    assert_eq!(flanges(180.0).says(id), "fail a.flange/b.flange 0.00 of 0.00, contact");
    assert_eq!(flanges(170.0).says(id), "fail a.flange/b.flange -10.00 of 0.00, contact");
    let body = |from: f64| {
        let a = Small::new().item("a").rear().solid(
            "flange",
            Class::Flange,
            oblong(100.0, 100.0, 80.0, 80.0),
            2.0,
            5.0,
        );
        a.item("b").solid("body", Class::Body, round(150.0, 100.0, 60.0), from, 90.0)
    };
    assert_eq!(body(0.0).says(id), "fail a.flange/b.body -20.00 of 0.00, contact");
    // behind the flange there is room
    assert_eq!(body(7.0).says(id), "pass a.flange/b.body 2.00 of 0.00");
    let unknown = body(0.0).with(|p| p.depth = None);
    assert_eq!(unknown.says(id), "withheld a.flange/b.body 0.00 of 0.00: depth of b.body");
}

#[test]
fn rear_flange_seat() {
    let id = "rear-flange-seat";
    let seat = |d: f64| {
        Small::new().item("a").rear().cutout(round(100.0, 100.0, 60.0)).part(
            "flange",
            Class::Flange,
            round(100.0, 100.0, d),
        )
    };
    assert_eq!(seat(70.0).says(id), "pass a.flange/a.cutout 5.00 of 0.00");
    assert_eq!(seat(60.2).off(0.2, 0.0).says(id), "tight a.flange/a.cutout 0.10 of 0.00");
    assert_eq!(seat(50.0).says(id), "fail a.flange/a.cutout -5.00 of 0.00, contact");
    let hole = |x: f64| seat(80.0).old("old", round(x, 100.0, 10.0));
    // up to the rim of the hole there is metal
    assert!(hole(145.0).says(id).contains("pass a.flange/old 0.00 of 0.00"));
    assert!(hole(144.0).says(id).contains("fail a.flange/old -1.00 of 0.00, contact"));
    // a hole wholly under the flange, and one that the cutout swallows
    assert!(hole(135.0).says(id).contains("fail a.flange/old -10.00 of 0.00, contact"));
    assert_eq!(hole(110.0).says(id), "pass a.flange/a.cutout 10.00 of 0.00");
    let no_flange = Small::new()
        .item("a")
        .rear()
        .cutout(round(100.0, 100.0, 60.0))
        .lacks("flange", "the face that seats behind the sheet");
    assert_eq!(no_flange.says(id), "withheld a.cutout: flange of a: the face that seats behind the sheet");
}

#[test]
fn head_room() {
    let id = "head-room";
    let head = |from: f64, x: f64| {
        let a = Small::new().item("a").solid("head", Class::Head, round(100.0, 100.0, 8.0), from, from + 2.0);
        a.item("b").solid("bezel", Class::Bezel, oblong(x + 40.0, 100.0, 80.0, 80.0), -4.0, 0.0)
    };
    assert_eq!(head(-2.0, 105.0).says(id), "pass a.head/b.bezel 1.00 of 0.00");
    assert_eq!(head(-2.0, 104.1).off(0.2, 0.0).says(id), "tight a.head/b.bezel 0.10 of 0.00");
    assert_eq!(head(-2.0, 104.0).says(id), "fail a.head/b.bezel 0.00 of 0.00, contact");
    assert_eq!(head(-2.0, 90.0).says(id), "fail a.head/b.bezel -14.00 of 0.00, contact");
    // flush: the bezel lies flat over it
    assert_eq!(head(0.0, 90.0).says(id), "");
    // a bezel of unknown thickness is no excuse
    let thin = head(-2.0, 90.0).with(|p| p.depth = Some((0.0, 0.0)));
    assert_eq!(thin.says(id), "fail a.head/b.bezel -14.00 of 0.00, contact");
    let nut = |to: f64| {
        let a = Small::new().item("a").solid("nut", Class::Nut, round(100.0, 100.0, 8.0), 2.0, to);
        a.item("b").solid("body", Class::Body, round(110.0, 100.0, 30.0), 6.0, 90.0)
    };
    assert_eq!(nut(5.0).says(id), "pass a.nut/b.body 1.00 of 0.00");
    assert_eq!(nut(6.0).says(id), "fail a.nut/b.body -9.00 of 0.00, contact");
    assert_eq!(
        nut(5.0).with(|p| p.depth = None).says(id),
        "withheld a.nut/b.body 0.00 of 0.00: depth of b.body"
    );
    let no_nut =
        nut(5.0).item("c").lacks("nut screw", "the size of the nut").cutout(round(300.0, 100.0, 9.0));
    assert!(no_nut.says(id).contains("withheld c.cutout: nut screw of c: the size of the nut"));
}

#[test]
fn bodies_apart() {
    let id = "bodies-apart";
    let two = |x: f64, from: f64| {
        let a = Small::new().item("a").solid("body", Class::Body, round(100.0, 100.0, 60.0), 0.0, 80.0);
        a.item("b").solid("plug", Class::Port, round(x, 100.0, 20.0), from, 150.0)
    };
    assert_eq!(two(146.0, 0.0).says(id), "pass a.body/b.plug 6.00 of 6.00");
    assert_eq!(two(146.1, 0.0).off(0.2, 0.0).says(id), "tight a.body/b.plug 6.10 of 6.00");
    assert_eq!(two(145.0, 0.0).says(id), "fail a.body/b.plug 5.00 of 6.00");
    assert_eq!(two(120.0, 70.0).says(id), "fail a.body/b.plug -20.00 of 6.00, contact");
    // one behind the other
    assert_eq!(two(120.0, 86.0).says(id), "pass a.body/b.plug 6.00 of 6.00");
    assert_eq!(two(120.0, 85.0).says(id), "fail a.body/b.plug 5.00 of 6.00");
    assert_eq!(two(120.0, 80.0).says(id), "fail a.body/b.plug -20.00 of 6.00, contact");
    // beside and behind at once: 3 and 4 make 5
    assert_eq!(two(143.0, 84.0).says(id), "fail a.body/b.plug 5.00 of 6.00");
    let unknown = |x: f64| two(x, 0.0).with(|p| p.depth = None);
    assert_eq!(unknown(145.0).says(id), "withheld a.body/b.plug 5.00 of 6.00: depth of b.plug");
    // clear whatever the depth
    assert_eq!(unknown(147.0).says(id), "pass a.body/b.plug 7.00 of 6.00");
}
