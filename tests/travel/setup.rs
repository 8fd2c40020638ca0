//! Short ways to write a mechanism down.

use panelwright::solid::Vec3;
use panelwright::solid::travel::{Driver, DriverKind, Follow, Joint, Link, Mechanism};

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
