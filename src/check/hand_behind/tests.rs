//! Fingers round a plug: hand sums, sideways plugs, pipes, sway, the floor, missing numbers.

use super::super::scene::*;
use super::*;
use crate::panel::{
    Class, Detail, End, Group, Leaves, Line, LineKind, Outlet, Service, SubjectKind, Sway, Term, TermKind,
};
use crate::solid::{Pose, Shape, Solid, Vec3};

fn outlet(towards: Vec3, diameter: Option<f64>) -> Outlet {
    Outlet {
        part: "port-plug".into(),
        leaves: Some(Leaves::Plug),
        towards: Some(towards),
        diameter,
        bend_radius: None,
        side_exit: Vec::new(),
    }
}

/// A case of 60 mm, 70 deep about (100, 100), and a plug of 20 mm, 40 long behind it.
fn plug(diameter: Option<f64>, service: Service) -> (Scene, usize) {
    let mut s = Scene::new();
    let k = s.placement("radio", |f| {
        f.ports = vec![outlet(Vec3::FORWARD, diameter)];
        f.service = Some(service);
    });
    s.part(k, "body", Class::Body, circle(100.0, 100.0, 60.0), Detail::Plain);
    s.last(k).depth = Some((0.0, 70.0));
    let terms = vec![("plug".to_string(), Some(40.0)), ("bend of the loom".to_string(), Some(25.0))];
    let wide = diameter.unwrap_or(60.0);
    s.part(k, "port-plug", Class::Port, circle(100.0, 100.0, wide), Detail::Port { carries: None, terms });
    s.last(k).depth = Some((70.0, 135.0));
    (s, k)
}

/// A box of 100 mm beside it, its near face so far to the right of the plug's axis, between these depths.
fn beside(s: &mut Scene, off: f64, depth: Option<(f64, f64)>) -> usize {
    let k = s.placement("box", |_| ());
    s.part(k, "body", Class::Body, rect(150.0 + off, 100.0, 100.0, 400.0), Detail::Plain);
    s.last(k).depth = depth;
    k
}

fn room(s: &Scene) -> (Verdict, f64) {
    let all = s.findings(&RULE);
    assert_eq!(all.len(), 1, "{:#?}", s.lines(&RULE));
    (all[0].verdict, all[0].measured.map_or(f64::NAN, |m| m.lower))
}

/// A wall at h beside the axis leaves h / cos 45 less the radius: 25 is reached at 35 cos 45 = 24.749.
#[test]
fn a_wall_beside_leaves_what_the_slant_says() {
    for (off, want) in [(24.7, Verdict::Fail), (24.8, Verdict::Pass)] {
        let (mut s, _) = plug(Some(20.0), Service::Rear);
        beside(&mut s, off, Some((0.0, 300.0)));
        let (verdict, room) = room(&s);
        assert_eq!(verdict, want);
        assert!((room - (off * 2.0f64.sqrt() - 10.0)).abs() < 1e-9, "{room}");
    }
    // what ends before the plug or begins behind it is in nobody's way; nor is the bend
    for depth in [(0.0, 70.0), (110.0, 300.0)] {
        let (mut s, _) = plug(Some(20.0), Service::Rear);
        beside(&mut s, 12.0, Some(depth));
        assert_eq!(s.line(&RULE), "pass hand-behind/radio.port-plug");
    }
}

#[test]
fn the_words_name_what_is_in_the_way() {
    let (mut s, _) = plug(Some(20.0), Service::Both);
    beside(&mut s, 20.0, Some((0.0, 300.0)));
    assert_eq!(
        s.line(&RULE),
        "fail hand-behind/radio.port-plug: 18.284 mm of room round three quarters of radio.port-plug, 25 mm asked. In the \
         way: box.body. Move one of them, turn the item, or take a plug that leaves sideways."
    );
    // a shift of 1 mm: (25 - 1) / cos 45 - 10 = 23.941
    let (mut s, k) = plug(Some(20.0), Service::Rear);
    beside(&mut s, 25.0, Some((0.0, 300.0)));
    s.last(k).terms.push(Term { kind: TermKind::Position, key: 0, grow: 0.0, shrink: 0.0, shift: 1.0 });
    let all = s.findings(&RULE);
    assert_eq!(all[0].verdict, Verdict::Tight);
    assert!((all[0].loss - 2.0f64.sqrt()).abs() < 1e-9, "{}", all[0].loss);
}

#[test]
fn what_comes_out_to_the_front_brings_its_plug_along_but_no_pipe() {
    let (mut s, k) = plug(Some(20.0), Service::Front);
    beside(&mut s, 15.0, Some((0.0, 300.0)));
    assert!(s.lines(&RULE).is_empty());
    let line = s.subject("pipe", SubjectKind::Line);
    s.panel.space.lines.push(Line {
        subject: line as u32,
        kind: LineKind::Pipe,
        carries: None,
        from: Some(PartRef { subject: k as u32, part: 1 }),
        to: Some(End::Point(Vec3::new(100.0, 100.0, 510.0))),
        diameter: Some(10.0),
        bend_radius: None,
        length: None,
        place: place(),
    });
    assert_eq!(s.verdicts(&RULE), [Verdict::Fail]);
}

#[test]
fn missing_numbers_withhold() {
    let (s, _) = plug(None, Service::Rear);
    assert_eq!(
        s.line(&RULE),
        "withheld hand-behind/radio.port-plug: the diameter of the plug or fitting on port-plug (diameter) (port-plug)"
    );
    let (mut s, k) = plug(Some(20.0), Service::Rear);
    s.last(k).depth = None;
    assert_eq!(s.verdicts(&RULE), [Verdict::Withheld]);
    // a neighbour of unknown depth may stand there or not
    let (mut s, _) = plug(Some(20.0), Service::Rear);
    beside(&mut s, 15.0, None);
    assert_eq!(
        s.line(&RULE),
        "withheld hand-behind/radio.port-plug: the true shape or depth of box.body: it may stand beside radio.port-plug"
    );
    beside(&mut s, 16.0, Some((0.0, 300.0)));
    assert_eq!(s.verdicts(&RULE), [Verdict::Fail]);
}

/// A definition that does not say what leaves the item behind is no item without plugs.
#[test]
fn what_nobody_said_of_its_back_is_withheld() {
    for (service, want) in [(Some(Service::Rear), 1), (None, 1), (Some(Service::Front), 0)] {
        let mut s = Scene::new();
        let k = s.placement("radio", |f| {
            f.service = service;
            f.open_terms = vec!["plug, hose or wires behind the body".into()];
        });
        s.part(k, "cutout", Class::Cutout, circle(100.0, 100.0, 60.0), CUTOUT);
        let lines = s.lines(&RULE);
        assert_eq!(lines.len(), want, "{service:?}: {lines:?}");
        let told = "withheld hand-behind/radio.cutout: what fingers undo behind radio: plug, hose or wires behind the body";
        assert!(lines.iter().all(|l| l == told), "{lines:?}");
    }
}

/// Three plugs in a row, 35 mm apart: the middle one is free once one of the others is off.
#[test]
fn plugs_of_one_item_come_off_one_after_the_other() {
    let (mut s, k) = plug(Some(20.0), Service::Rear);
    let all = [("port-left", 65.0), ("port-right", 135.0)];
    let facts = std::sync::Arc::make_mut(s.panel.subjects[k].facts.as_mut().unwrap());
    for (name, _) in all {
        facts.ports.push(Outlet { part: name.into(), ..outlet(Vec3::FORWARD, Some(20.0)) });
    }
    for (name, x) in all {
        let terms = vec![("plug".to_string(), Some(40.0))];
        s.part(k, name, Class::Port, circle(x, 100.0, 20.0), Detail::Port { carries: None, terms });
        s.last(k).depth = Some((70.0, 110.0));
    }
    assert_eq!(s.verdicts(&RULE), [Verdict::Pass]);
}

/// A plug to the right at 40 of depth, of 20 across: the sheet's back at 2 is 38 off, the floor as far as it says.
#[test]
fn a_sideways_plug_counts_the_sheet_and_the_floor() {
    let side = |floor: f64, service: Service| {
        let mut s = Scene::new();
        s.panel.depth.elsewhere = Some(floor);
        let k = s.placement("radio", |f| {
            f.ports = vec![outlet(Vec3::new(1.0, 0.0, 0.0), Some(20.0))];
            f.service = Some(service);
        });
        s.part(k, "body", Class::Body, circle(100.0, 100.0, 60.0), Detail::Plain);
        s.last(k).depth = Some((0.0, 70.0));
        let terms = vec![("plug".to_string(), Some(30.0))];
        s.part(
            k,
            "port-plug",
            Class::Port,
            rect(145.0, 100.0, 30.0, 20.0),
            Detail::Port { carries: None, terms },
        );
        let part = s.last(k);
        part.depth = Some((30.0, 50.0));
        part.centre = crate::geom::Point::new(130.0, 100.0);
        s
    };
    // the floor at 64, 24 off: 24 / cos 45 - 10 = 23.941, and the sheet opposite is farther than that
    let s = side(64.0, Service::Rear);
    assert!(
        s.line(&RULE).contains("In the way: the room that is left behind the sheet"),
        "{}",
        s.line(&RULE)
    );
    let (verdict, free) = room(&s);
    assert_eq!(verdict, Verdict::Fail);
    assert!((free - (24.0 * 2.0f64.sqrt() - 10.0)).abs() < 1e-9, "{free}");
    assert_eq!(side(66.0, Service::Rear).verdicts(&RULE), [Verdict::Pass]);
}

#[test]
fn what_sways_comes_nearer() {
    let at = |sway: Option<f64>| {
        let (mut s, _) = plug(Some(20.0), Service::Rear);
        let k = beside(&mut s, 30.0, Some((0.0, 300.0)));
        s.panel.subjects[k].group = 1;
        let group = |id: &str, sway: Option<f64>| Group {
            id: id.into(),
            sway: sway.map(|m| Sway { left: m, right: m, up: m, down: m, forward: m, aft: m }),
            sheet: 0,
            opening: None,
            sag: None,
            droop: None,
            limits: Default::default(),
            process: None,
            depth: Default::default(),
            place: place(),
        };
        s.panel.space.groups = vec![group("", Some(0.0)), group("centre", sway)];
        s
    };
    assert_eq!(at(Some(5.0)).verdicts(&RULE), [Verdict::Pass]);
    // 30 less 6 is 24
    assert_eq!(at(Some(6.0)).verdicts(&RULE), [Verdict::Fail]);
    assert_eq!(at(None).verdicts(&RULE), [Verdict::Withheld]);
}

/// A tube of 60 mm that leans 1 to 1: its silhouette covers the plug, while it stands to the right at the plug's depth.
#[test]
fn a_leaning_solid_is_looked_at_where_it_is() {
    let (mut s, _) = plug(Some(20.0), Service::Rear);
    let pose = Pose::from_forward_to(Vec3::new(1.0, 0.0, 1.0) * (1.0 / 2.0f64.sqrt()));
    let tube = Solid::new(Shape::Cylinder { radius: 30.0, half: 200.0 }, pose).unwrap();
    s.obstacle("tube", "tube", tube.moved(&Pose::shift(Vec3::new(200.0, 100.0, 90.0))));
    assert_eq!(s.verdicts(&RULE), [Verdict::Pass], "{:?}", s.lines(&RULE));
    let (mut s, _) = plug(Some(20.0), Service::Rear);
    s.obstacle("tube", "tube", tube.moved(&Pose::shift(Vec3::new(150.0, 100.0, 90.0))));
    assert_eq!(s.verdicts(&RULE), [Verdict::Fail], "{:?}", s.lines(&RULE));
}
