//! The first quarter turn: closed forms, and what is said.

use super::super::ports::free;
use super::super::scene::*;
use super::*;
use crate::geom::Contour;
use crate::panel::{Class, DepthArea, Detail, Leaves, Line, LineKind, Outlet, TermKind};
use crate::solid::{Pose, Shape, Solid, Vec3};
use std::sync::Arc;

/// A port of the catalogue's kind.
fn outlet(leaves: Leaves, diameter: Option<f64>, bend_radius: Option<f64>) -> Outlet {
    Outlet {
        part: "port-hose".into(),
        leaves: Some(leaves),
        towards: Some(Vec3::FORWARD),
        diameter,
        bend_radius,
        side_exit: Vec::new(),
    }
}

/// A port at (60, 60), leaving back at 70, with these terms.
fn port(o: Outlet, carries: &str, terms: &[(&str, Option<f64>)]) -> (Scene, usize) {
    let mut s = Scene::new();
    let wide = o.diameter.unwrap_or(30.0);
    let k = s.placement("asi", |f| f.ports = vec![o]);
    s.part(k, "body", Class::Body, circle(60.0, 60.0, 80.0), Detail::Plain);
    s.last(k).depth = Some((0.0, 70.0));
    let terms: Vec<(String, Option<f64>)> = terms.iter().map(|(n, l)| (n.to_string(), *l)).collect();
    let sum: Option<f64> = terms.iter().try_fold(0.0, |sum, (_, l)| Some(sum + (*l)?));
    let detail = Detail::Port { carries: Some(carries.into()), terms };
    s.part(k, "port-hose", Class::Port, circle(60.0, 60.0, wide), detail);
    s.last(k).depth = sum.map(|sum| (70.0, 70.0 + sum));
    (s, k)
}

/// A hose of 8 mm that turns round 46 to the inside, 30 straight: its centre line ends 50 to the side.
fn hose() -> (Scene, usize) {
    let terms = [("hose tail", Some(30.0)), ("bend", Some(54.0))];
    port(outlet(Leaves::Hose, Some(8.0), Some(46.0)), "static", &terms)
}

fn wall(s: &mut Scene, contour: Contour, depth: Option<(f64, f64)>) {
    let k = s.placement("box", |_| ());
    s.part(k, "body", Class::Body, contour, Detail::Plain);
    s.last(k).depth = depth;
}

const HOW: &str = "bend radius 46 mm to the inside (as the definition states it), outside diameter 8 mm";

#[test]
fn nothing_in_the_way_is_free_all_round() {
    assert_eq!(hose().0.line(&RULE), format!("pass line-bend/asi.port-hose: free all round; {HOW}"));
}

/// A wall from x = 89 on, 29 from the axis: met where 50 sin t + 4 > 29, from 30 to 150 degrees.
#[test]
fn a_wall_beside_leaves_what_the_sine_says() {
    let (mut s, k) = hose();
    wall(&mut s, rect(189.0, 60.0, 200.0, 600.0), Some((0.0, 400.0)));
    assert_eq!(
        s.lines(&RULE),
        [format!(
            "pass line-bend/asi.port-hose: free from half past 5 to half past 12 o'clock, seen from the seat; {HOW}"
        )]
    );
    let part = s.panel.subjects[k].parts.len() - 1;
    let e = exit(&s.panel, PartRef { subject: k as u32, part: part as u32 }).unwrap().unwrap();
    let set = free(&s.panel, &Movers::of(&s.panel), &e, 0.0).set;
    let [(from, to)] = set.arcs() else { panic!("{set:?}") };
    assert!((150.0..154.0).contains(from) && (386.0..=390.0).contains(to), "{set:?}");
}

/// The same wall where the tube has not come so far to the side yet: only what lies 30 to 100 beyond the port counts.
#[test]
fn a_thing_that_ends_before_the_turn_is_in_nobodys_way() {
    let (mut s, _) = hose();
    wall(&mut s, rect(189.0, 60.0, 200.0, 600.0), Some((0.0, 101.0)));
    assert!(s.line(&RULE).contains("free all round"), "{}", s.line(&RULE));
}

#[test]
fn tight_where_the_tolerance_closes_the_last_way() {
    // a pit of 110 mm across, its walls 55 from the axis: 54 are needed
    let (mut s, k) = hose();
    for (x, y, w, h) in [
        (215.0, 60.0, 200.0, 400.0),
        (-95.0, 60.0, 200.0, 400.0),
        (60.0, 215.0, 110.0, 200.0),
        (60.0, -95.0, 110.0, 200.0),
    ] {
        wall(&mut s, rect(x, y, w, h), Some((0.0, 400.0)));
    }
    assert_eq!(s.verdicts(&RULE), [Verdict::Pass]);
    for p in &mut s.panel.subjects[k].parts {
        p.terms.push(crate::panel::Term {
            kind: TermKind::Position,
            key: 0,
            grow: 0.0,
            shrink: 0.0,
            shift: 20.0,
        });
    }
    let line = s.line(&RULE);
    assert!(
        line.starts_with("tight line-bend/asi.port-hose: As drawn free all round, at the worst"),
        "{line}"
    );
}

/// Exit at 70, plug 42, bend 25 + 10: 147 deep. A floor at 116 takes 31 of it; the side exit of 22 ends at 92.
#[test]
fn a_straight_plug_without_room_and_the_side_exit() {
    let mut o = outlet(Leaves::Plug, Some(10.0), Some(25.0));
    o.side_exit = vec![("side-exit shell".into(), Some(22.0))];
    let (mut s, k) = port(o, "several", &[("plug", Some(42.0)), ("bend", Some(35.0))]);
    let floor = |at: f64| DepthArea {
        id: "firewall".into(),
        contour: rect(60.0, 60.0, 400.0, 400.0),
        available: Some(at),
        place: place(),
    };
    s.panel.depth.areas = vec![floor(116.0)];
    let line = s.line(&RULE);
    assert!(
        line.starts_with("fail line-bend/asi.port-hose: No direction is free for the first quarter turn; ")
            && line.ends_with(
                "In the way: firewall. Needs 31 mm more; a side-exit shell fits (free all round)."
            ),
        "{line}"
    );
    s.panel.depth.areas = vec![floor(91.0)];
    assert!(s.line(&RULE).ends_with("a side-exit shell does not surely fit either."), "{}", s.line(&RULE));
    s.panel.depth.areas = vec![floor(147.1)];
    assert_eq!(s.verdicts(&RULE), [Verdict::Pass]);
    // what has always been so is reported only
    s.panel.depth.areas = vec![floor(116.0)];
    s.panel.subjects[k].state = State::Existing;
    assert_eq!(s.line(&RULE), "pass line-bend/asi.port-hose both stay");
}

#[test]
fn withheld_names_the_number() {
    let hose = |carries, wide, terms: &[(&str, Option<f64>)]| {
        port(outlet(Leaves::Hose, wide, None), carries, terms).0
    };
    assert_eq!(
        hose("static", Some(8.0), &[("hose tail", Some(30.0))]).line(&RULE),
        "withheld line-bend/asi.port-hose: the least bend radius of the low-pressure hose: no table gives it for this \
         kind and size, ask its maker (port-hose)"
    );
    let line = hose("static", Some(8.0), &[("hose tail", None), ("bend of the hose", None)]).line(&RULE);
    assert!(
        line.contains(
            "the length of hose tail; the least bend radius of the low-pressure hose (bend of the hose)"
        ),
        "{line}"
    );
    let wires = port(outlet(Leaves::Wires, None, None), "power", &[("tags", Some(6.0))]).0.line(&RULE);
    assert!(wires.contains("the outside diameter of the wires (they bend to 10 of it)"), "{wires}");
    let mut o = outlet(Leaves::Hose, Some(8.0), Some(46.0));
    o.towards = None;
    let line = port(o, "static", &[("hose tail", Some(30.0)), ("bend", Some(54.0))]).0.line(&RULE);
    assert!(line.contains("the direction in which it leaves"), "{line}");
}

/// AC 43.13-1B table 9-3: a hose of .67 in turns round 4.00 in, if it carries what is under pressure.
#[test]
fn a_pressure_hose_has_its_table() {
    let terms = [("straight fitting", Some(25.4))];
    let (s, _) = port(outlet(Leaves::Hose, Some(0.67 * 25.4), None), "oil", &terms);
    let line = s.line(&RULE);
    assert!(line.contains("bend radius 101.6 mm to the inside (AC 43.13-1B table 9-3"), "{line}");
    assert!(line.starts_with("pass"), "{line}");
    let (s, _) = port(outlet(Leaves::Hose, Some(0.67 * 25.4), None), "vacuum", &terms);
    assert_eq!(s.verdicts(&RULE), [Verdict::Withheld]);
}

#[test]
fn the_line_says_what_the_definition_does_not() {
    let (mut s, k) = port(outlet(Leaves::Hose, Some(8.0), None), "static", &[("hose tail", Some(30.0))]);
    let line = s.subject("static-hose", SubjectKind::Line);
    let from = PartRef { subject: k as u32, part: 1 };
    s.panel.space.lines.push(Line {
        subject: line as u32,
        kind: LineKind::Hose,
        carries: Some("static".into()),
        from: Some(from),
        to: None,
        diameter: Some(9.5),
        bend_radius: Some((50.0, "the maker's sheet".into())),
        length: None,
        place: place(),
    });
    assert_eq!(
        s.line(&RULE),
        "pass line-bend/asi.port-hose: free all round; bend radius 50 mm to the inside (the maker's sheet), outside \
         diameter 9.5 mm"
    );
    // a loom of known width bends to ten of it
    s.panel.space.lines[0] = Line {
        kind: LineKind::Wires,
        diameter: Some(6.0),
        bend_radius: None,
        ..s.panel.space.lines[0].clone()
    };
    let line = s.line(&RULE);
    assert!(
        line.contains(
            "bend radius 60 mm to the inside (AC 43.13-1B ch. 11, 10 outside diameters, from memory)"
        ),
        "{line}"
    );
}

#[test]
fn an_elbow_or_a_stated_room_is_taken_at_its_word_and_never_fails() {
    let (mut s, _) = port(outlet(Leaves::Hose, Some(10.0), None), "pitot", &[("elbow fitting", Some(30.0))]);
    assert_eq!(s.line(&RULE), "pass line-bend/asi.port-hose: free all round; an elbow turns it within 30 mm");
    // walls all round at 20 from the axis
    for (x, y, w, h) in [
        (180.0, 60.0, 200.0, 400.0),
        (-60.0, 60.0, 200.0, 400.0),
        (60.0, 180.0, 40.0, 200.0),
        (60.0, -60.0, 40.0, 200.0),
    ] {
        wall(&mut s, rect(x, y, w, h), Some((0.0, 400.0)));
    }
    let line = s.line(&RULE);
    assert!(
        line.starts_with(
            "withheld line-bend/asi.port-hose: the outline of the elbow and the way it points: an elbow"
        ),
        "{line}"
    );
    let (s, _) =
        port(outlet(Leaves::Plug, None, None), "power", &[("tags", Some(6.0)), ("wire bend", Some(12.0))]);
    assert!(s.line(&RULE).ends_with("free all round; it turns within 12 mm, as the definition states it"));
}

/// A missing depth of a neighbour keeps a way from being called free, and is no fail.
#[test]
fn what_is_not_known_of_a_neighbour_is_no_fail() {
    let (mut s, _) = hose();
    wall(&mut s, rect(60.0, 60.0, 300.0, 300.0), None);
    let line = s.line(&RULE);
    assert!(
        line.starts_with(
            "withheld line-bend/asi.port-hose: the true shape or depth of what may be in the way"
        ),
        "{line}"
    );
}

#[test]
fn a_port_to_the_side_is_said_by_names() {
    let mut o = outlet(Leaves::Hose, Some(8.0), Some(46.0));
    o.towards = Some(Vec3::new(1.0, 0.0, 0.0));
    let (mut s, k) = port(o, "static", &[("hose tail", Some(30.0)), ("bend", Some(54.0))]);
    let p = s.last(k);
    (p.contour, p.centre, p.depth) =
        (rect(142.0, 60.0, 84.0, 8.0), crate::geom::Point::new(100.0, 60.0), Some((31.0, 39.0)));
    // towards the pilot the sheet is in the way: the centre line would end 15 in front of it
    assert!(s.line(&RULE).contains("free forward, down and up, not towards the pilot"), "{}", s.line(&RULE));
    // turned with its item by a quarter it leaves upwards
    s.panel.subjects[k].turn = 90.0;
    let p = s.last(k);
    (p.contour, p.centre) = (rect(60.0, 142.0, 8.0, 84.0), crate::geom::Point::new(60.0, 100.0));
    assert!(
        s.line(&RULE).contains("free forward, right and left, not towards the pilot"),
        "{}",
        s.line(&RULE)
    );
}

fn obstacle(s: &mut Scene, id: &str, solid: Solid) {
    let k = s.subject(id, SubjectKind::Obstacle);
    let b = solid.bounds();
    let (contour, depth) = (solid.silhouette(), (b.low.d, b.high.d));
    let detail = Detail::Obstacle { solid: Arc::new(solid), kind: "tube".into(), carries: None };
    s.part(k, "", Class::Obstacle, contour, detail);
    s.last(k).depth = Some(depth);
}

/// The findings as said, without the checks of moved copies: solids do not move with their outlines here.
fn said_once(s: &Scene) -> Vec<String> {
    let all = super::super::check(&s.panel, &Default::default());
    let words = |n: &crate::check::Note| match n {
        crate::check::Note::Says(w) | crate::check::Note::Waits(w) => w.clone(),
        other => format!("{other:?}"),
    };
    let of = all.list.iter().filter(|f| f.rule == &RULE);
    of.map(|f| format!("{} {}", f.verdict.word(), words(&f.note))).collect()
}

/// A slanted bar from (100, -200, 0) to (100, 320, 520): its box would bar every way to the right; the bar itself
/// passes the depth of the turn only far above or below.
#[test]
fn a_slanted_bar_is_taken_as_it_is() {
    let (mut s, _) = hose();
    let along = Vec3::new(0.0, 1.0, 1.0).unit().unwrap();
    let bar = Shape::Cylinder { radius: 6.0, half: 400.0 };
    let pose = Pose::from_forward_to(along).then(&Pose::shift(Vec3::new(100.0, 60.0, 300.0)));
    obstacle(&mut s, "brace", Solid::new(bar, pose).unwrap());
    assert_eq!(said_once(&s), [format!("pass free all round; {HOW}")]);
    // the same bar where it crosses the turn: at (100, 60) in the depth of 130
    let bar = Shape::Cylinder { radius: 6.0, half: 400.0 };
    let pose = Pose::from_forward_to(along).then(&Pose::shift(Vec3::new(100.0, 60.0, 130.0)));
    obstacle(&mut s, "brace-2", Solid::new(bar, pose).unwrap());
    let line = &said_once(&s)[0];
    assert!(line.starts_with("pass free from ") && line.contains("o'clock"), "{line}");
}

/// An arm that stands clear at rest and sweeps over the right side between its stops.
fn arm(s: &mut Scene, allowance: Option<f64>) {
    use crate::solid::travel::{Driver, DriverKind, Follow, Joint, Link, Mechanism};
    s.panel.space.mechanism = Mechanism {
        drivers: vec![Driver {
            id: "lever".into(),
            kind: DriverKind::Turn,
            stops: (0.0, 90.0),
            neutral: 0.0,
            over: Some((0.0, 0.0)),
        }],
        links: vec![Link {
            id: "arm".into(),
            on: None,
            joint: Joint::Pivot(Vec3::new(200.0, -100.0, 130.0), Vec3::FORWARD),
            follows: vec![Follow { driver: 0, by: 1.0 }],
            allowance,
        }],
    };
    let k = s.subject("lever", SubjectKind::Control);
    s.panel.space.control_of = vec![k as u32];
    // from the pivot 250 to the right; turned by a half right angle and more it reaches (90, 60)
    let solid =
        Solid::new(Shape::Box(Vec3::new(125.0, 5.0, 30.0)), Pose::shift(Vec3::new(325.0, -100.0, 130.0)))
            .unwrap();
    let contour = solid.silhouette();
    let detail = Detail::Moving { solid: Arc::new(solid), link: 0, kind: "lever".into(), hand: None };
    s.part(k, "arm", Class::Moving, contour, detail);
    s.last(k).depth = Some((100.0, 160.0));
}

#[test]
fn a_control_counts_over_its_whole_travel() {
    let (mut s, _) = hose();
    arm(&mut s, Some(0.0));
    // upright at its stop it stands at x = 200, 140 from the axis: clear
    assert_eq!(said_once(&s), [format!("pass free all round; {HOW}")]);
    // the port lies at atan2(160, -140) = 131.2 degrees from the pivot, 212.6 away: with the stop at 120 the arm's side
    // passes it at 212.6 sin 11.2 - 5 = 36, within the 54 of the turn
    s.panel.space.mechanism.drivers[0].stops.1 = 120.0;
    let line = said_once(&s).remove(0);
    assert!(line.starts_with("pass free from ") && line.contains("o'clock"), "{line}");
    // past 131 it meets the straight itself; with a play that nobody told that is no certain answer
    s.panel.space.mechanism.drivers[0].stops.1 = 150.0;
    let line = said_once(&s).remove(0);
    assert!(line.starts_with("fail ") && line.contains("In the way: lever.arm"), "{line}");
    s.panel.space.mechanism.links[0].allowance = None;
    let line = said_once(&s).remove(0);
    assert!(line.starts_with("withheld the true shape or depth of what may be in the way"), "{line}");
}
