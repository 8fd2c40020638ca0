//! What the pair rules of the sheet and its face say of the smallest panels: pass, tight, fail and
//! withheld, and the degenerate cases.

use crate::small::*;
use panelwright::panel::*;

fn pair(apart: f64) -> Small {
    // cutouts of 40 and 30 mm, so many millimetres of metal between them
    Small::new().item("a").cutout(round(100.0, 100.0, 40.0)).item("b").cutout(round(
        135.0 + apart,
        100.0,
        30.0,
    ))
}

#[test]
fn web() {
    assert_eq!(pair(6.35).says("web"), "pass a.cutout/b.cutout 6.35 of 6.35");
    assert_eq!(pair(6.4).off(0.1, 0.0).says("web"), "tight a.cutout/b.cutout 6.40 of 6.35");
    assert_eq!(pair(6.3).says("web"), "fail a.cutout/b.cutout 6.30 of 6.35");
    // tangent, crossing, nested and coincident are contact
    assert_eq!(pair(0.0).says("web"), "fail a.cutout/b.cutout 0.00 of 6.35, contact");
    assert_eq!(pair(-3.0).says("web"), "fail a.cutout/b.cutout -3.00 of 6.35, contact");
    assert_eq!(pair(-35.0).says("web"), "fail a.cutout/b.cutout -35.00 of 6.35, contact");
    // too far to be of interest
    assert_eq!(pair(6.35 + 25.1).says("web"), "");
    let no_size =
        Small::new().item("a").cutout(round(100.0, 100.0, 40.0)).item("b").lacks("hole key", "its diameter");
    let no_size = no_size.part("bezel", Class::Bezel, round(180.0, 100.0, 30.0));
    assert_eq!(no_size.says("web"), "withheld b.bezel: hole key of b: its diameter");
}

#[test]
fn web_leaves_the_makers_pattern_alone() {
    let own = Small::new().item("a").cutout(round(100.0, 100.0, 40.0));
    let own = own.screw("screw", 123.0, 100.0, 4.0, HeadKind::Raised);
    assert_eq!(own.says("web"), "");
    assert_eq!(own.says("edge-distance"), "");
}

#[test]
fn web_between_things_that_stay_is_reported_and_not_failed() {
    let both = || pair(3.0).kept();
    let mut stay = both();
    stay.panel.subjects[1].state = State::Existing;
    assert_eq!(stay.says("web"), "pass a.cutout/b.cutout 3.00 of 6.35, both stay");
    assert_eq!(both().says("web"), "fail a.cutout/b.cutout 3.00 of 6.35");
}

#[test]
fn web_takes_the_users_limit() {
    let mut own = pair(4.0);
    let place = crate::panels::nowhere();
    let limit = UserLimit { value: 3.5, written: "3.5 mm".into(), because: "our stock".into(), place };
    own.panel.limits.insert("web".into(), limit);
    assert_eq!(own.says("web"), "pass a.cutout/b.cutout 4.00 of 3.50");
}

#[test]
fn an_old_opening_that_is_swallowed_is_gone() {
    let new = || Small::new().item("a").cutout(round(100.0, 100.0, 80.0));
    assert_eq!(new().old("old", round(110.0, 100.0, 30.0)).says("web"), "");
    // the very same opening, used again
    let again = new().old("old", round(100.0, 100.0, 80.0));
    assert_eq!(again.says("web"), "");
    assert_eq!(again.says("duplicate-opening"), "");
    // it sticks out: it is there
    let part = new().old("old", round(135.0, 100.0, 30.0));
    assert_eq!(part.says("web"), "fail a.cutout/old -20.00 of 6.35, contact");
    // what is gone asks nothing of others either
    let third = new().old("old", round(130.0, 100.0, 18.0)).item("c").cutout(round(170.0, 100.0, 46.0));
    assert_eq!(third.says("web"), "pass a.cutout/c.cutout 7.00 of 6.35");
}

fn screw(x: f64, kind: HeadKind) -> Small {
    Small::new().item("a").screw("screw", x, 100.0, 4.0, kind)
}

#[test]
fn edge_distance() {
    assert_eq!(screw(8.0, HeadKind::Raised).says("edge-distance"), "pass a.screw/sheet 8.00 of 8.00");
    assert_eq!(
        screw(8.1, HeadKind::Raised).off(0.0, 0.2).says("edge-distance"),
        "tight a.screw/sheet 8.10 of 8.00"
    );
    assert_eq!(screw(7.9, HeadKind::Raised).says("edge-distance"), "fail a.screw/sheet 7.90 of 8.00");
    assert_eq!(screw(0.0, HeadKind::Raised).says("edge-distance"), "fail a.screw/sheet 0.00 of 8.00");
    assert_eq!(
        screw(-5.0, HeadKind::Raised).says("edge-distance"),
        "fail a.screw/sheet -5.00 of 8.00, contact"
    );
    // the size of the hole does not change the distance of its centre
    assert_eq!(
        screw(8.0, HeadKind::Raised).off(0.3, 0.0).says("edge-distance"),
        "pass a.screw/sheet 8.00 of 8.00"
    );
    let other = screw(100.0, HeadKind::Raised).item("b").cutout(round(127.0, 100.0, 40.0));
    assert_eq!(other.says("edge-distance"), "fail a.screw/b.cutout 7.00 of 8.00");
}

#[test]
fn edge_distance_of_an_unnamed_fastener() {
    let unnamed = |x: f64| {
        screw(x, HeadKind::Raised).with(|p| {
            p.detail =
                Detail::Hole { diameter: Some(4.4), fastening: None, free: false, make: Make::Drawing };
        })
    };
    // enough even for a fastener as thick as its hole
    assert_eq!(unnamed(9.0).says("edge-distance"), "pass a.screw/sheet 9.00 of 8.80");
    let waits = "withheld a.screw/sheet 8.50 of 8.80: the diameter of the fastener";
    assert_eq!(unnamed(8.5).says("edge-distance"), waits);
    assert_eq!(unnamed(-9.0).says("edge-distance"), "fail a.screw/sheet -9.00 of 8.80, contact");
    let shaft = screw(5.0, HeadKind::Raised).with(|p| {
        p.detail = Detail::Hole { diameter: Some(4.4), fastening: None, free: true, make: Make::Drawing };
    });
    assert_eq!(shaft.says("edge-distance"), "");
}

#[test]
fn countersunk_edge_distance() {
    let id = "countersunk-edge-distance";
    assert_eq!(screw(10.0, HeadKind::Countersunk).says(id), "pass a.screw/sheet 10.00 of 10.00");
    assert_eq!(
        screw(10.1, HeadKind::Countersunk).off(0.0, 0.2).says(id),
        "tight a.screw/sheet 10.10 of 10.00"
    );
    assert_eq!(screw(9.0, HeadKind::Countersunk).says(id), "fail a.screw/sheet 9.00 of 10.00");
    assert_eq!(screw(9.0, HeadKind::Raised).says(id), "");
}

#[test]
fn pitch() {
    let two = |x: f64, d: f64| {
        screw(100.0, HeadKind::Raised).item("b").screw("screw", x, 100.0, d, HeadKind::Raised)
    };
    assert_eq!(two(112.0, 3.0).says("pitch"), "pass a.screw/b.screw 12.00 of 12.00");
    assert_eq!(two(112.1, 3.0).off(0.0, 0.2).says("pitch"), "tight a.screw/b.screw 12.10 of 12.00");
    // the greater of the two asks
    assert_eq!(two(112.0, 5.0).says("pitch"), "fail a.screw/b.screw 12.00 of 15.00");
    // one item's own pattern is its maker's; an insert's screws are not
    let own = screw(100.0, HeadKind::Raised).screw("screw-2", 107.0, 100.0, 4.0, HeadKind::Raised);
    assert_eq!(own.says("pitch"), "");
    let insert = Small::new().other("insert", SubjectKind::Insert);
    let insert = insert.screw("s-1", 100.0, 100.0, 4.0, HeadKind::Raised);
    let insert = insert.screw("s-2", 110.0, 100.0, 4.0, HeadKind::Raised);
    assert_eq!(insert.says("pitch"), "fail insert.s-1/insert.s-2 10.00 of 12.00");
}

#[test]
fn sheet_edge_and_on_sheet() {
    let at = |x: f64| Small::new().item("a").cutout(round(x, 100.0, 40.0));
    assert_eq!(at(26.35).says("sheet-edge"), "pass a.cutout/sheet 6.35 of 6.35");
    assert_eq!(at(26.4).off(0.1, 0.0).says("sheet-edge"), "tight a.cutout/sheet 6.40 of 6.35");
    assert_eq!(at(26.0).says("sheet-edge"), "fail a.cutout/sheet 6.00 of 6.35");
    // tangent from within, across, and wholly off the sheet
    assert_eq!(at(20.0).says("sheet-edge"), "fail a.cutout/sheet 0.00 of 6.35");
    assert_eq!(at(20.0).says("on-sheet"), "pass a.cutout/sheet 0.00 of 0.00");
    assert_eq!(at(20.0).off(0.1, 0.0).says("on-sheet"), "tight a.cutout/sheet 0.00 of 0.00");
    assert_eq!(at(10.0).says("on-sheet"), "fail a.cutout/sheet -10.00 of 0.00, contact");
    assert_eq!(at(-100.0).says("on-sheet"), "fail a.cutout/sheet -120.00 of 0.00, contact");
    assert_eq!(at(-9000.0).says("sheet-edge"), "fail a.cutout/sheet -9020.00 of 6.35, contact");
    // the middle of the sheet is not worth a line
    assert_eq!(at(200.0).says("sheet-edge"), "");
    let no_bezel = at(200.0).lacks("bezel", "its shape");
    assert_eq!(no_bezel.says("on-sheet"), "withheld a.cutout: bezel of a: its shape");
}

#[test]
fn own_openings_and_duplicates() {
    let own = |x: f64| {
        Small::new().item("a").cutout(round(100.0, 100.0, 40.0)).screw("s", x, 100.0, 4.0, HeadKind::Raised)
    };
    assert_eq!(own(125.0).says("own-openings"), "pass a.cutout/a.s 2.80 of 0.00");
    assert_eq!(own(122.3).off(0.2, 0.0).says("own-openings"), "tight a.cutout/a.s 0.10 of 0.00");
    assert_eq!(own(121.0).says("own-openings"), "fail a.cutout/a.s -1.20 of 0.00, contact");
    assert_eq!(own(100.0).says("own-openings"), "fail a.cutout/a.s -22.20 of 0.00, contact");
    let no_size = own(125.0).lacks("hole key", "its diameter");
    assert!(no_size.says("own-openings").starts_with("withheld a.cutout: hole key of a: its diameter"));

    let twice = |d: f64| {
        Small::new().item("a").cutout(round(100.0, 100.0, 79.375)).item("b").cutout(round(100.0, 100.0, d))
    };
    assert_eq!(twice(79.375).says("duplicate-opening"), "fail a.cutout/b.cutout 0.00 of 0.50");
    assert_eq!(twice(80.0).says("duplicate-opening"), "fail a.cutout/b.cutout 0.31 of 0.50");
    assert_eq!(twice(70.0).says("duplicate-opening"), "");
    assert_eq!(twice(79.375).says("web"), "fail a.cutout/b.cutout -79.38 of 6.35, contact");
}

#[test]
fn keep_out() {
    let none = Forbids::default();
    let cut = Forbids { cut: true, ..none };
    let item = || {
        Small::new().item("a").cutout(round(100.0, 100.0, 40.0)).solid(
            "body",
            Class::Body,
            round(100.0, 100.0, 60.0),
            0.0,
            80.0,
        )
    };
    let zone = |forbids, x: f64| item().zone("rib", forbids, oblong(x + 50.0, 100.0, 100.0, 200.0));
    // to touch the zone is allowed
    assert_eq!(zone(cut, 120.0).says("keep-out"), "pass a.cutout/rib 0.00 of 0.00");
    assert_eq!(zone(cut, 120.1).off(0.2, 0.0).says("keep-out"), "tight a.cutout/rib 0.10 of 0.00");
    assert_eq!(zone(cut, 119.0).says("keep-out"), "fail a.cutout/rib -1.00 of 0.00, contact");
    assert_eq!(
        zone(Forbids { behind: true, ..none }, 129.0).says("keep-out"),
        "fail a.body/rib -1.00 of 0.00, contact"
    );
    assert_eq!(zone(Forbids { front: true, ..none }, 110.0).says("keep-out"), "");
    assert_eq!(zone(none, 90.0).says("keep-out"), "");
    let no_size = zone(cut, 200.0).item("b").lacks("hole key", "its diameter").part(
        "bezel",
        Class::Bezel,
        round(30.0, 30.0, 20.0),
    );
    assert_eq!(no_size.says("keep-out"), "withheld b.bezel: hole key of b: its diameter");
    // only a zone that forbids it waits for it
    let front = zone(Forbids { front: true, ..none }, 200.0).item("b").lacks("hole key", "its diameter");
    assert_eq!(front.says("keep-out"), "");
}

#[test]
fn bezel_gap() {
    let two = |x: f64| {
        let a = Small::new().item("a").part("bezel", Class::Bezel, oblong(100.0, 100.0, 80.0, 80.0));
        a.item("b").part("bezel", Class::Bezel, oblong(x, 100.0, 80.0, 80.0))
    };
    assert_eq!(two(181.5).says("bezel-gap"), "pass a.bezel/b.bezel 1.50 of 1.50");
    assert_eq!(two(181.6).off(0.2, 0.0).says("bezel-gap"), "tight a.bezel/b.bezel 1.60 of 1.50");
    assert_eq!(two(181.0).says("bezel-gap"), "fail a.bezel/b.bezel 1.00 of 1.50");
    assert_eq!(two(180.0).says("bezel-gap"), "fail a.bezel/b.bezel 0.00 of 1.50, contact");
    assert_eq!(two(150.0).says("bezel-gap"), "fail a.bezel/b.bezel -30.00 of 1.50, contact");
    let no_size = Small::new().item("a").part("bezel", Class::Bezel, oblong(100.0, 100.0, 80.0, 80.0));
    let no_size = no_size.item("b").lacks("bezel", "its shape").cutout(round(300.0, 100.0, 20.0));
    assert_eq!(no_size.says("bezel-gap"), "withheld b.cutout: bezel of b: its shape");
    // a room kept for later is judged like a bezel
    let kept = two(170.0).item("c").part("", Class::Provision, oblong(300.0, 100.0, 179.0, 80.0));
    assert!(kept.says("bezel-gap").contains("fail b.bezel/c 0.50 of 1.50"));
}

#[test]
fn bezel_covers() {
    let over = |d: f64| {
        Small::new().item("a").cutout(round(100.0, 100.0, 78.0)).part(
            "bezel",
            Class::Bezel,
            round(100.0, 100.0, d),
        )
    };
    assert_eq!(over(82.0).says("bezel-covers"), "pass a.bezel/a.cutout 2.00 of 0.00");
    assert_eq!(over(78.0).says("bezel-covers"), "pass a.bezel/a.cutout 0.00 of 0.00");
    assert_eq!(over(78.2).off(0.2, 0.0).says("bezel-covers"), "tight a.bezel/a.cutout 0.10 of 0.00");
    assert_eq!(over(70.0).says("bezel-covers"), "fail a.bezel/a.cutout -4.00 of 0.00, contact");
    assert_eq!(over(70.0).rear().says("bezel-covers"), "");
    let beside = Small::new().item("a").cutout(round(100.0, 100.0, 78.0)).part(
        "bezel",
        Class::Bezel,
        round(300.0, 100.0, 90.0),
    );
    assert_eq!(beside.says("bezel-covers"), "fail a.bezel/a.cutout -194.00 of 0.00, contact");
    let no_bezel = Small::new().item("a").cutout(round(100.0, 100.0, 78.0)).lacks("bezel", "its shape");
    assert_eq!(no_bezel.says("bezel-covers"), "withheld a.cutout: bezel of a: its shape");
}

#[test]
fn old_opening_covered() {
    let over = |x: f64| {
        let a = Small::new().item("a").cutout(round(100.0, 100.0, 30.0)).part(
            "bezel",
            Class::Bezel,
            oblong(100.0, 100.0, 80.0, 80.0),
        );
        a.old("old", round(x, 100.0, 10.0))
    };
    assert_eq!(over(135.0).says("old-opening-covered"), "pass a.bezel/old 0.00 of 0.00");
    assert_eq!(over(134.9).off(0.2, 0.0).says("old-opening-covered"), "tight a.bezel/old 0.10 of 0.00");
    assert_eq!(over(138.0).says("old-opening-covered"), "fail a.bezel/old -3.00 of 0.00, contact");
    // beside the bezel it is not this bezel's to cover
    assert_eq!(over(145.0).says("old-opening-covered"), "");
    assert_eq!(over(160.0).says("old-opening-covered"), "");
    // larger than the bezel
    let larger = Small::new()
        .item("a")
        .part("bezel", Class::Bezel, round(100.0, 100.0, 50.0))
        .old("old", round(100.0, 100.0, 60.0));
    assert_eq!(larger.says("old-opening-covered"), "fail a.bezel/old -5.00 of 0.00, contact");
    let no_bezel = Small::new()
        .old("old", round(100.0, 100.0, 60.0))
        .item("a")
        .cutout(round(200.0, 100.0, 30.0))
        .lacks("bezel", "its shape");
    assert_eq!(no_bezel.says("old-opening-covered"), "withheld a.cutout: bezel of a: its shape");
}

#[test]
fn hand_room() {
    let two = |x: f64, room: Option<f64>| {
        Small::new().item("a").front("knob", room, round(100.0, 100.0, 20.0)).item("b").front(
            "lever",
            None,
            round(x, 100.0, 10.0),
        )
    };
    assert_eq!(two(128.0, None).says("hand-room"), "pass a.knob/b.lever 13.00 of 13.00");
    assert_eq!(two(128.1, None).off(0.2, 0.0).says("hand-room"), "tight a.knob/b.lever 13.10 of 13.00");
    assert_eq!(two(127.0, None).says("hand-room"), "fail a.knob/b.lever 12.00 of 13.00");
    assert_eq!(two(127.0, Some(9.0)).says("hand-room"), "pass a.knob/b.lever 12.00 of 9.00");
    // two levers are the spacing rules' question
    let levers = Small::new().item("a").front("lever", None, round(100.0, 100.0, 10.0)).item("b").front(
        "lever",
        None,
        round(112.0, 100.0, 10.0),
    );
    assert_eq!(levers.says("hand-room"), "");
    let no_knob = two(160.0, None).item("c").lacks("knob", "its shape").cutout(round(300.0, 100.0, 20.0));
    assert!(no_knob.says("hand-room").contains("withheld c.cutout: knob of c: its shape"));
}
