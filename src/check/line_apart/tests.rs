//! Distances by hand: known runs, known ends, and what is said of the rest.

use super::super::scene::*;
use super::*;
use crate::check::Verdict;
use crate::panel::{Leaves, Line, LineKind, Outlet, SubjectKind, UserLimit};
use std::sync::Arc;

/// A port of 10 mm at (x, 60), straight back from 70 to 100.
fn port(s: &mut Scene, id: &str, x: f64, carries: &str, diameter: Option<f64>) -> PartRef {
    let outlet = Outlet {
        part: "port".into(),
        leaves: Some(Leaves::Wires),
        towards: Some(Vec3::FORWARD),
        diameter,
        bend_radius: None,
        side_exit: Vec::new(),
    };
    let k = s.placement(id, |f| f.ports = vec![outlet]);
    let terms = vec![("plug".to_string(), Some(30.0))];
    s.part(
        k,
        "port",
        Class::Port,
        circle(x, 60.0, 10.0),
        Detail::Port { carries: Some(carries.into()), terms },
    );
    s.last(k).depth = Some((70.0, 100.0));
    PartRef { subject: k as u32, part: 0 }
}

/// A line of 10 mm across the panel at height y and depth 85, its run drawn.
fn line(s: &mut Scene, id: &str, kind: LineKind, carries: &str, y: f64, from: Option<PartRef>) {
    let k = s.subject(id, SubjectKind::Line);
    let ends = [Vec3::new(40.0, y, 85.0), Vec3::new(300.0, y, 85.0)];
    let tube = Shape::Tube { path: vec![solid::Leg::Line(ends[0], ends[1])], radius: 5.0 };
    let solid = Arc::new(Solid::new(tube, Pose::IDENTITY).unwrap());
    let detail = Detail::Line { solid, carries: Some(carries.into()) };
    s.part(k, "", Class::Line, rect(170.0, y, 270.0, 10.0), detail);
    s.last(k).depth = Some((80.0, 90.0));
    s.panel.space.lines.push(Line {
        subject: k as u32,
        kind,
        carries: Some(carries.into()),
        from,
        to: None,
        diameter: Some(10.0),
        bend_radius: None,
        length: None,
        place: place(),
    });
}

/// The findings, without the checks of moved copies: a drawn run does not move with its outline here.
fn lines(s: &Scene) -> Vec<String> {
    let all = super::super::check(&s.panel, &Default::default());
    let of = all.list.iter().filter(|f| f.rule == &RULE);
    of.map(|f| format!("{} {} {:.1?}", f.verdict.word(), f.id(&s.panel), f.measured.map(|m| m.lower)))
        .collect()
}

/// Axes 170 apart: 160 between the skins, 6 in is 152.4.
#[test]
fn two_runs_that_are_drawn_are_judged() {
    let mut s = Scene::new();
    line(&mut s, "fuel", LineKind::Pipe, "fuel", 10.0, None);
    line(&mut s, "loom", LineKind::Wires, "power", 180.0, None);
    assert_eq!(lines(&s), ["pass line-apart/fuel/loom Some(160.0)"]);
    let mut near = Scene::new();
    line(&mut near, "fuel", LineKind::Pipe, "fuel", 10.0, None);
    line(&mut near, "loom", LineKind::Wires, "power", 60.0, None);
    assert_eq!(lines(&near), ["fail line-apart/fuel/loom Some(40.0)"]);
}

#[test]
fn between_two_and_six_inches_it_hangs_on_clamps() {
    let mut s = Scene::new();
    line(&mut s, "fuel", LineKind::Hose, "oil", 10.0, None);
    line(&mut s, "loom", LineKind::Coax, "aerial", 110.0, None);
    let all = super::super::check(&s.panel, &Default::default());
    let f = all.list.iter().find(|f| f.rule == &RULE).unwrap();
    let crate::check::Note::Waits(words) = &f.note else { panic!("{f:?}") };
    assert_eq!(f.verdict, Verdict::Withheld);
    assert_eq!(
        words,
        "clamps that hold the wires so that 50.8 mm is enough; what is known of them is 90 mm apart at the nearest \
         (loom), 152.4 mm asked"
    );
    // the user answers for them, but 2 in stay 2 in
    let own =
        |value: f64| UserLimit { value, written: "so".into(), because: "clamped".into(), place: place() };
    s.panel.limits.insert(RULE.id.into(), own(60.0));
    assert_eq!(lines(&s), ["pass line-apart/fuel/loom Some(90.0)"]);
    s.panel.limits.insert(RULE.id.into(), own(95.0));
    assert_eq!(lines(&s), ["fail line-apart/fuel/loom Some(90.0)"]);
}

#[test]
fn a_limit_below_two_inches_is_two_inches() {
    let mut s = Scene::new();
    line(&mut s, "fuel", LineKind::Pipe, "fuel", 10.0, None);
    line(&mut s, "loom", LineKind::Wires, "power", 60.0, None);
    let own = UserLimit { value: 10.0, written: "10 mm".into(), because: "clamped".into(), place: place() };
    s.panel.limits.insert(RULE.id.into(), own);
    assert_eq!(lines(&s), ["fail line-apart/fuel/loom Some(40.0)"]);
}

/// 3 in: skins 80 and 70 apart.
#[test]
fn control_cables_want_three_inches() {
    for (y, want) in
        [(100.0, "pass line-apart/cable/loom Some(80.0)"), (90.0, "fail line-apart/cable/loom Some(70.0)")]
    {
        let mut s = Scene::new();
        line(&mut s, "cable", LineKind::ControlCable, "elevator", 10.0, None);
        line(&mut s, "loom", LineKind::Wires, "power", y, None);
        assert_eq!(lines(&s), [want]);
    }
}

#[test]
fn of_ports_only_the_ends_are_known() {
    let mut s = Scene::new();
    port(&mut s, "oil", 60.0, "oil", Some(10.0));
    port(&mut s, "lamp", 260.0, "power", Some(10.0));
    assert_eq!(
        s.line(&RULE),
        "withheld line-apart/oil.port: the run of this line and the run of the wires at 1 port; what is known of them is \
         190 mm apart at the nearest (lamp.port), 152.4 mm asked"
    );
    // 40 between the plugs is less than 2 in whatever the runs
    let mut s = Scene::new();
    port(&mut s, "oil", 60.0, "oil", Some(10.0));
    port(&mut s, "lamp", 110.0, "power", Some(10.0));
    assert_eq!(s.verdicts(&RULE), [Verdict::Fail]);
    // unless nobody says how large they are
    let mut s = Scene::new();
    port(&mut s, "oil", 60.0, "oil", Some(10.0));
    port(&mut s, "lamp", 110.0, "power", None);
    assert_eq!(
        s.line(&RULE),
        "withheld line-apart/oil.port: the diameter of lamp.port: as it is, 40 mm to lamp.port"
    );
}

#[test]
fn with_both_runs_drawn_nothing_is_left_open() {
    let mut s = Scene::new();
    let oil = port(&mut s, "oil", 60.0, "oil", Some(10.0));
    let lamp = port(&mut s, "lamp", 260.0, "power", Some(10.0));
    line(&mut s, "oil-hose", LineKind::Hose, "oil", 10.0, Some(oil));
    line(&mut s, "loom", LineKind::Wires, "power", 300.0, Some(lamp));
    let said = lines(&s);
    assert!(said.iter().all(|l| !l.starts_with("withheld")), "{said:?}");
    // the hose runs 45 under the lamp's plug
    assert!(said.contains(&"fail line-apart/oil-hose/lamp.port Some(40.0)".to_string()), "{said:?}");
}

#[test]
fn what_was_always_there_is_reported_only_and_hides_nothing_new() {
    let mut s = Scene::new();
    port(&mut s, "oil", 60.0, "oil", Some(10.0));
    port(&mut s, "old", 90.0, "power", Some(10.0));
    port(&mut s, "new", 260.0, "power", Some(10.0));
    for k in [1, 2] {
        s.panel.subjects[k].state = State::Existing;
    }
    let lines = s.lines(&RULE);
    assert_eq!(lines.len(), 2, "{lines:?}");
    assert!(lines[0].starts_with("withheld line-apart/oil.port: "), "{lines:?}");
    assert_eq!(lines[1], "pass line-apart/oil.port/old.port both stay");
}

#[test]
fn panels_without_fluids_are_not_spoken_of() {
    let mut s = Scene::new();
    port(&mut s, "lamp", 110.0, "power", Some(10.0));
    port(&mut s, "static", 60.0, "static", Some(10.0));
    assert!(s.findings(&RULE).is_empty());
}
