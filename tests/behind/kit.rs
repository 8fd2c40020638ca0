//! A made panel with a back: two items with plugs, ribs, a tank, a wheel on its shaft, a hose.

use crate::panels::{bare, nowhere, part, subject};
use panelwright::geom::{Contour, Point};
use panelwright::panel::*;
use panelwright::solid::travel::{Driver, DriverKind, Follow, Joint, Link, Mechanism};
use panelwright::solid::{Leg, Pose, Shape, Solid, Vec3};
use std::sync::Arc;

pub fn v(x: f64, y: f64, d: f64) -> Vec3 {
    Vec3::new(x, y, d)
}

fn item(id: &str, at: Point, cutout: Contour, body: Contour, deep: f64, port: (Point, f64)) -> Subject {
    let face = Contour::rect(at, cutout.bounds().width() + 8.0, cutout.bounds().height() + 8.0, 3.0);
    let mut s = crate::panels::instrument(id, at, [cutout, body, face], 30.0, 1);
    let body = s.parts.iter_mut().find(|p| p.class == Class::Body).expect("a body");
    body.depth = Some((0.0, deep));
    let terms = vec![
        ("connector".to_string(), Some(30.0)),
        ("backshell".to_string(), Some(15.0)),
        ("bend".to_string(), Some(port.1 - 45.0)),
    ];
    let detail = Detail::Port { carries: Some("signal".into()), terms };
    let mut plug = part("port-data", Class::Port, Contour::circle(port.0, 9.0), detail);
    plug.depth = Some((deep, deep + port.1));
    s.parts.push(plug);
    s
}

pub fn obstacle(id: &str, solid: Solid) -> Subject {
    let b = solid.bounds();
    let mut s = subject(id, SubjectKind::Obstacle, Point::new(b.low.x, b.low.y));
    s.state = State::Existing;
    let contour = solid.silhouette();
    let detail = Detail::Obstacle { solid: Arc::new(solid), kind: "rib".into(), carries: None };
    let mut p = part("", Class::Obstacle, contour, detail);
    p.depth = Some((b.low.d, b.high.d));
    s.parts.push(p);
    s
}

fn moving(name: &str, solid: Solid, link: usize) -> Part {
    let b = solid.bounds();
    let contour = solid.silhouette();
    let detail = Detail::Moving { solid: Arc::new(solid), link, kind: name.into(), hand: None };
    let mut p = part(name, Class::Moving, contour, detail);
    p.depth = Some((b.low.d, b.high.d));
    p
}

pub fn solid(shape: Shape, pose: Pose) -> Solid {
    Solid::new(shape, pose).expect("a solid")
}

pub fn block(x: f64, y: f64, d: f64, half: (f64, f64, f64)) -> Solid {
    solid(Shape::Box(v(half.0, half.1, half.2)), Pose::shift(v(x, y, d)))
}

/// 400 x 200 mm: a round gauge at (100, 110) 90 mm deep, a box at (260, 110) 180 mm deep.
pub fn panel() -> Panel {
    let mut p = bare(400.0, 200.0);
    let at = Point::new(100.0, 110.0);
    p.subjects.push(item(
        "alt",
        at,
        Contour::circle(at, 40.0),
        Contour::circle(at, 39.0),
        90.0,
        (Point::new(100.0, 125.0), 75.0),
    ));
    let at = Point::new(260.0, 110.0);
    let (cut, body) = (Contour::rect(at, 100.0, 70.0, 2.0), Contour::rect(at, 98.0, 68.0, 2.0));
    p.subjects.push(item("nav", at, cut, body, 180.0, (Point::new(240.0, 110.0), 80.0)));
    p.subjects.push(obstacle("rib-left", block(160.0, 100.0, 200.0, (2.0, 140.0, 80.0))));
    p.subjects.push(obstacle("cross-beam", block(200.0, 60.0, 300.0, (260.0, 12.0, 10.0))));
    let tank = [
        (-60.0, 120.0, 320.0),
        (500.0, 120.0, 300.0),
        (500.0, 260.0, 300.0),
        (-60.0, 260.0, 320.0),
        (-60.0, 120.0, 500.0),
        (500.0, 120.0, 500.0),
        (500.0, 260.0, 520.0),
        (-60.0, 260.0, 520.0),
    ];
    let tank = solid(Shape::Hull(tank.iter().map(|(x, y, d)| v(*x, *y, *d)).collect()), Pose::IDENTITY);
    p.subjects.push(obstacle("header-tank", tank));
    // a wheel's shaft slides and turns; its rim stands before the panel
    p.space.mechanism = Mechanism::new(
        vec![
            Driver {
                id: "elevator".into(),
                kind: DriverKind::Slide,
                stops: (-80.0, 90.0),
                neutral: 0.0,
                over: Some((5.0, 5.0)),
            },
            Driver {
                id: "aileron".into(),
                kind: DriverKind::Turn,
                stops: (-90.0, 90.0),
                neutral: 0.0,
                over: None,
            },
        ],
        vec![
            Link {
                id: "shaft".into(),
                on: None,
                joint: Joint::Slide(v(0.0, 0.0, 1.0)),
                follows: vec![Follow { driver: 0, by: 1.0 }],
                allowance: Some(2.0),
            },
            Link {
                id: "rim".into(),
                on: Some(0),
                joint: Joint::Pivot(v(100.0, 40.0, 0.0), v(0.0, 0.0, 1.0)),
                follows: vec![Follow { driver: 1, by: 1.0 }],
                allowance: Some(2.0),
            },
        ],
    )
    .expect("a mechanism");
    let control = p.subjects.len() as u32;
    p.space.control_of = vec![control, control];
    let mut wheel = subject("wheel", SubjectKind::Control, Point::new(100.0, 40.0));
    wheel.state = State::Existing;
    let shaft = solid(Shape::Cylinder { radius: 12.5, half: 190.0 }, Pose::shift(v(100.0, 40.0, 20.0)));
    wheel.parts.push(moving("shaft", shaft, 0));
    wheel.parts.push(moving("rim", block(100.0, 40.0, -180.0, (120.0, 8.0, 12.0)), 1));
    wheel.parts.push(moving("lever", block(100.0, 60.0, 190.0, (6.0, 34.0, 5.0)), 1));
    p.subjects.push(wheel);
    let mut hose = subject("hose", SubjectKind::Line, Point::new(100.0, 140.0));
    let centre = v(100.0, 90.0, 130.0);
    let path = vec![
        Leg::Line(v(100.0, 140.0, 90.0), v(100.0, 140.0, 130.0)),
        Leg::Arc {
            from: v(100.0, 140.0, 130.0),
            centre,
            axis: v(1.0, 0.0, 0.0),
            angle: std::f64::consts::FRAC_PI_2,
        },
        Leg::Line(v(100.0, 90.0, 180.0), v(100.0, -30.0, 180.0)),
    ];
    let tube = solid(Shape::Tube { path, radius: 5.0 }, Pose::IDENTITY);
    let b = tube.bounds();
    let mut run = part(
        "",
        Class::Line,
        tube.silhouette(),
        Detail::Line { solid: Arc::new(tube), carries: Some("static".into()) },
    );
    run.depth = Some((b.low.d, b.high.d));
    hose.parts.push(run);
    let subject = p.subjects.len() as u32;
    p.subjects.push(hose);
    p.space.lines.push(Line {
        subject,
        kind: LineKind::Hose,
        carries: Some("static".into()),
        from: None,
        to: None,
        diameter: Some(10.0),
        bend_radius: Some((45.0, "invented".into())),
        length: None,
        place: nowhere(),
    });
    p.depth.elsewhere = Some(400.0);
    p
}
