//! Short ways to write a mechanism down.

#![allow(dead_code, reason = "tests and the bench each use their own part")]

use panelwright::solid::travel::{Driver, DriverKind, Follow, Joint, Link, Mechanism, Moved};
use panelwright::solid::{Pose, Shape, Solid, Vec3};

pub fn v(x: f64, y: f64, d: f64) -> Vec3 {
    Vec3::new(x, y, d)
}

/// A driver between two stops, at rest at the middle value given, never forced past them.
pub fn driver(kind: DriverKind, low: f64, neutral: f64, high: f64) -> Driver {
    Driver { id: "driver".into(), kind, stops: (low, high), neutral, over: Some((0.0, 0.0)) }
}

/// A link that follows drivers by factors.
pub fn link(on: Option<usize>, joint: Joint, follows: &[(usize, f64)]) -> Link {
    let follows = follows.iter().map(|&(driver, by)| Follow { driver, by }).collect();
    Link { id: "link".into(), on, joint, follows, allowance: Some(0.0) }
}

pub fn built(drivers: Vec<Driver>, links: Vec<Link>) -> Mechanism {
    Mechanism::new(drivers, links).expect("a sound mechanism")
}

pub fn ball(at: Vec3, radius: f64) -> Solid {
    Solid::new(Shape::Sphere(radius), Pose::shift(at)).expect("a ball")
}

pub fn block(at: Vec3, half: Vec3) -> Solid {
    Solid::new(Shape::Box(half), Pose::shift(at)).expect("a box")
}

/// A bar about its middle.
pub fn bar(at: Vec3, along: Vec3, radius: f64, half: f64) -> Solid {
    let pose = Pose::from_forward_to(along).then(&Pose::shift(at));
    Solid::new(Shape::Cylinder { radius, half }, pose).expect("a bar")
}

pub fn still(solid: &Solid) -> Moved<'_> {
    Moved { solid, link: None, grow: 0.0 }
}
