//! Random panels with an airframe behind and in front: obstacles of every shape, a map of depth, controls that slide and
//! turn, and an item with screws, nuts, knobs and a way out.

use crate::panels::{Dice, instrument, nowhere, part, subject};
use crate::scenes;
use panelwright::geom::{Contour, Point};
use panelwright::panel::*;
use panelwright::solid::travel::{Driver, DriverKind, Follow, Joint, Link, Mechanism};
use panelwright::solid::{Leg, Pose, Shape, Solid, Vec3};
use std::sync::Arc;

fn direction(d: &mut Dice) -> Vec3 {
    let v = Vec3::new(d.real(-1.0, 1.0), d.real(-1.0, 1.0), d.real(-1.0, 1.0));
    v.unit().unwrap_or(Vec3::FORWARD)
}

/// A solid of any shape about a point.
pub fn solid(d: &mut Dice, at: Vec3, size: f64) -> Solid {
    let turned = Pose::about(Vec3::ZERO, direction(d), d.real(0.0, 3.0));
    let pose = if d.one_in(2) { turned } else { Pose::IDENTITY }.then(&Pose::shift(at));
    let shape = match d.below(6) {
        0 => Shape::Box(Vec3::new(d.real(2.0, size), d.real(2.0, size), d.real(2.0, size))),
        1 => Shape::Cylinder { radius: d.real(2.0, size / 2.0), half: d.real(2.0, size) },
        2 => Shape::Sphere(d.real(3.0, size)),
        3 => Shape::Hull((0..9).map(|_| direction(d) * d.real(0.3 * size, size)).collect()),
        4 => {
            let [a, b, c] = [(); 3].map(|()| direction(d) * size);
            Shape::Tube { path: vec![Leg::Line(a, b), Leg::Line(b, c)], radius: d.real(1.0, 8.0) }
        }
        _ => {
            let corners = [(0.0, 0.0), (1.0, 0.0), (1.0, 0.4), (0.4, 0.4), (0.4, 1.0), (0.0, 1.0)];
            let section =
                Contour::polygon(&corners.map(|(x, y)| Point::new((x - 0.5) * size, (y - 0.5) * size)));
            Shape::Prism { section, from: -d.real(5.0, size), to: d.real(5.0, size) }
        }
    };
    Solid::new(shape, pose)
        .unwrap_or_else(|_| Solid::new(Shape::Sphere(5.0), Pose::shift(at)).expect("a ball"))
}

/// A fixed solid as a subject.
pub fn fixed(id: &str, solid: Solid) -> Subject {
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

/// A control: a rod that slides, and on it a small body that turns; which of them is there depends on the dice.
fn control(d: &mut Dice, panel: &mut Panel, turns: bool) {
    let driver = |id: &str, kind: DriverKind, stop: f64| Driver {
        id: id.into(),
        kind,
        stops: (-stop, stop),
        neutral: 0.0,
        over: Some((1.0, 1.0)),
    };
    let at = Vec3::new(d.real(-150.0, 150.0), d.real(-70.0, 70.0), d.real(20.0, 160.0));
    let axis = if d.one_in(2) { Vec3::FORWARD } else { direction(d) };
    let along = if d.one_in(2) { Vec3::FORWARD } else { direction(d) };
    let link = |id: &str, on: Option<usize>, joint: Joint, driver: usize| Link {
        id: id.into(),
        on,
        joint,
        follows: vec![Follow { driver, by: 1.0 }],
        allowance: Some(0.5),
    };
    let drivers = vec![driver("slide", DriverKind::Slide, 30.0), driver("turn", DriverKind::Turn, 20.0)];
    let links =
        vec![link("rod", None, Joint::Slide(along), 0), link("arm", Some(0), Joint::Pivot(at, axis), 1)];
    let own = panel.subjects.len() as u32;
    panel.space.mechanism = Mechanism::new(drivers, links).expect("a mechanism");
    panel.space.control_of = vec![own; 2];
    let mut s = subject("stick", SubjectKind::Control, Point::new(at.x, at.y));
    s.state = State::Existing;
    let name = if turns { "arm" } else { "rod" };
    let off = direction(d) * if turns { 40.0 } else { 0.0 };
    let solid = solid(d, at + off, 14.0);
    let b = solid.bounds();
    let contour = solid.silhouette();
    let detail =
        Detail::Moving { solid: Arc::new(solid), link: usize::from(turns), kind: name.into(), hand: None };
    let mut p = part(name, Class::Moving, contour, detail);
    p.depth = Some((b.low.d, b.high.d));
    s.parts.push(p);
    panel.subjects.push(s);
}

/// A random panel with an airframe; what is to be placed is the last of its subjects.
pub fn scene(seed: u64) -> Panel {
    let mut d = Dice::new(seed ^ 0x5EED);
    let mut panel = scenes::scene(seed);
    let mut own = panel.subjects.pop().expect("what is to be placed");
    if d.one_in(2) {
        let (o, r) = (Point::ORIGIN, d.real(12.0, 40.0));
        let shapes =
            [Contour::circle(o, r), Contour::circle(o, r - 0.6), Contour::rect(o, 2.2 * r, 2.2 * r, 4.0)];
        own = instrument("own", o, shapes, 0.85 * r + 2.0, 9999);
        let service = Some(if d.one_in(2) { Service::Front } else { Service::Rear });
        own.facts = Some(Arc::new(Facts { service, ..crate::panels::facts() }));
        for p in &mut own.parts {
            if let Detail::Hole { fastening: Some(f), .. } = &mut p.detail {
                f.length = Some(d.real(8.0, 30.0));
            }
        }
        let knob = Detail::Front { kind: "knob".into(), hand_room: None };
        let mut knob = part("knob", Class::Front, Contour::circle(Point::new(0.8 * r, -0.8 * r), 6.0), knob);
        knob.depth = Some((-25.0, -5.0));
        own.parts.push(knob);
    }
    // the map of depth
    panel.depth.elsewhere = (!d.one_in(5)).then(|| d.real(60.0, 260.0));
    for k in 0..d.below(4) {
        let at = Point::new(d.real(-300.0, 300.0), d.real(-120.0, 120.0));
        let contour = match d.below(3) {
            0 => Contour::circle(at, d.real(20.0, 150.0)),
            _ => Contour::rect(at, d.real(20.0, 500.0), d.real(20.0, 250.0), 0.0),
        };
        let available = (!d.one_in(6)).then(|| d.real(20.0, 250.0));
        panel.depth.areas.push(DepthArea { id: format!("bay-{k}"), contour, available, place: nowhere() });
    }
    for k in 0..1 + d.below(5) {
        let at = Vec3::new(d.real(-350.0, 350.0), d.real(-150.0, 150.0), d.real(-60.0, 200.0));
        let size = d.real(8.0, 60.0);
        panel.subjects.push(fixed(&format!("rib-{k}"), solid(&mut d, at, size)));
    }
    match d.below(6) {
        0 => control(&mut d, &mut panel, false),
        1 => control(&mut d, &mut panel, true),
        _ => {}
    }
    panel.subjects.push(own);
    panel
}
