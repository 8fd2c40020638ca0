//! Models of panels: controls in their poses, and what is left out.

use crate::{panels, run};
use panelwright::draw::solids::{Form, Kind, model};
use panelwright::geom::{Contour, Point};
use panelwright::panel::{Class, Detail, SubjectKind};
use panelwright::solid::travel::{Driver, DriverKind, Follow, Joint, Link, Mechanism};
use panelwright::solid::{Pose, Shape, Solid, Vec3};
use std::sync::Arc;

#[test]
fn a_control_stands_where_its_drivers_say() {
    let mut panel = panels::bare(400.0, 200.0);
    let ball = Solid::new(Shape::Sphere(10.0), Pose::shift(Vec3::new(50.0, 0.0, 100.0))).expect("a ball");
    let detail = Detail::Moving { solid: Arc::new(ball), link: 0, kind: "knob".into(), hand: None };
    let mut control = panels::subject("lever", SubjectKind::Control, Point::ORIGIN);
    let silhouette = Contour::circle(Point::new(50.0, 0.0), 10.0);
    control.parts.push(panels::part("knob", Class::Moving, silhouette, detail));
    panel.subjects.push(control);
    let driver = Driver {
        id: "roll".into(),
        kind: DriverKind::Turn,
        stops: (-90.0, 90.0),
        neutral: 0.0,
        over: Some((0.0, 0.0)),
    };
    let link = Link {
        id: "arm".into(),
        on: None,
        joint: Joint::Pivot(Vec3::ZERO, Vec3::FORWARD),
        follows: vec![Follow { driver: 0, by: 1.0 }],
        allowance: Some(0.0),
    };
    panel.space.mechanism = Mechanism { drivers: vec![driver], links: vec![link] };
    let centre = |drivers: &[f64]| {
        let model = model(&panel, &[], drivers);
        let part = model.parts().find(|p| p.id == "lever.knob").expect("it is there");
        assert_eq!(part.kind, Kind::Control);
        let Form::Solid(s) = &part.form else { panic!("a solid") };
        s.pose().point(Vec3::ZERO)
    };
    // a quarter turn, counter-clockwise as seen from the seat: from the right to the top
    assert!((centre(&[0.0]) - Vec3::new(50.0, 0.0, 100.0)).length() < 1e-9);
    assert!((centre(&[90.0]) - Vec3::new(0.0, 50.0, 100.0)).length() < 1e-9);
    // its sheet is there, and says that nothing was checked
    let model = model(&panel, &[], &[0.0]);
    assert!(model.parts().any(|p| p.kind == Kind::Sheet));
    assert!(model.facts.iter().any(|(k, v)| k == "notice" && v.contains("NOT FOR CUTTING")));
}

#[test]
fn what_has_no_depth_is_left_out_and_said() {
    let mut panel = panels::bare(400.0, 200.0);
    let mut item = panels::subject("box", SubjectKind::Placement, Point::ORIGIN);
    let section = || Contour::circle(Point::new(50.0, 50.0), 10.0);
    item.parts.push(panels::part("body", Class::Body, section(), Detail::Plain));
    item.missing.push(("port-power".into(), "its diameter".into()));
    panel.subjects.push(item);
    panel.sheets[0].thickness = None;
    let model = model(&panel, &[], &[]);
    assert_eq!(model.parts().count(), 0);
    let says = [
        "sheet: its thickness is missing",
        "box.body: how deep it reaches is not given",
        "box.port-power: its diameter is missing",
    ];
    assert_eq!(model.left_out, says);
}

#[test]
fn drivers_are_asked_for_by_name_and_within_their_stops() {
    let out = std::env::temp_dir();
    let said = |set: &str| {
        let done =
            run(&["solids", "panels/wheatear/proposed.json", "--set", set, "--out", &out.to_string_lossy()]);
        assert_eq!(done.status.code(), Some(2), "{set}");
        String::from_utf8_lossy(&done.stderr).into_owned()
    };
    assert!(said("no-such=4").contains("no driver is named \"no-such\""));
    let pose = run(&[
        "solids",
        "panels/wheatear/proposed.json",
        "--pose",
        "no.such",
        "--out",
        &out.to_string_lossy(),
    ]);
    assert!(String::from_utf8_lossy(&pose.stderr).contains("no pose has that name"));
    assert!(said("4").contains("write a driver, =, a number"));
}
