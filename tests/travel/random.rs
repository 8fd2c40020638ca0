//! Random mechanisms with two solids that come near each other somewhere on their travel.

#![allow(dead_code, reason = "tests and the bench each use their own part")]

use super::panels::Dice;
use super::setup::{driver, link, v};
use panelwright::solid::travel::{DriverKind, Joint, Link, Mechanism, Moved};
use panelwright::solid::{Pose, Shape, Solid, Vec3, distance};
use serde_json::{Value, json};

/// A mechanism and two solids.
#[derive(Clone)]
pub struct Case {
    pub mechanism: Mechanism,
    pub solids: [Solid; 2],
    pub links: [Option<usize>; 2],
    pub grow: [f64; 2],
}

fn direction(d: &mut Dice) -> Vec3 {
    // every other one along an axis of the frame, as most are in truth
    let sign = if d.one_in(2) { 1.0 } else { -1.0 };
    match d.below(6) {
        0 => v(sign, 0.0, 0.0),
        1 => v(0.0, sign, 0.0),
        2 => v(0.0, 0.0, sign),
        _ => loop {
            let at = v(d.real(-1.0, 1.0), d.real(-1.0, 1.0), d.real(-1.0, 1.0));
            if let Some(u) = at.unit().filter(|_| at.length() <= 1.0) {
                return u;
            }
        },
    }
}

fn point(d: &mut Dice, within: f64) -> Vec3 {
    v(d.real(-within, within), d.real(-within, within), d.real(-within, within))
}

fn solid(d: &mut Dice, at: Vec3) -> Solid {
    let shape = match d.below(4) {
        0 => Shape::Sphere(d.real(5.0, 40.0)),
        1 => Shape::Cylinder { radius: d.real(4.0, 40.0), half: d.real(5.0, 90.0) },
        2 => Shape::Box(v(d.real(3.0, 60.0), d.real(3.0, 60.0), d.real(3.0, 60.0))),
        _ => Shape::Hull((0..6 + d.below(8)).map(|_| point(d, 50.0)).collect()),
    };
    let pose = Pose::about(Vec3::ZERO, direction(d), d.real(-3.0, 3.0)).then(&Pose::shift(at));
    Solid::new(shape, pose).expect("a solid")
}

fn joint(d: &mut Dice, drivers: &[DriverKind]) -> (Joint, Vec<(usize, f64)>) {
    let first = d.below(drivers.len() as u64);
    let mut follows = vec![(first, d.real(0.4, 1.5) * if d.one_in(2) { 1.0 } else { -1.0 })];
    if d.one_in(4) {
        follows.push((d.below(drivers.len() as u64), d.real(-0.6, 0.6)));
    }
    // now and then a screw: degrees of a turn make millimetres
    let turns = (drivers[first] == DriverKind::Turn) != d.one_in(8);
    let axis = direction(d);
    (if turns { Joint::Pivot(point(d, 160.0), axis) } else { Joint::Slide(axis) }, follows)
}

impl Case {
    pub fn new(seed: u64) -> Case {
        let mut d = Dice::new(seed);
        let kinds: Vec<DriverKind> = (0..1 + d.below(4))
            .map(|_| if d.one_in(2) { DriverKind::Slide } else { DriverKind::Turn })
            .collect();
        let drivers = kinds
            .iter()
            .map(|&kind| {
                let (low, high) = (-d.real(5.0, 60.0), d.real(5.0, 60.0));
                driver(kind, low, 0.0, high)
            })
            .collect();
        let mut links: Vec<Link> = Vec::new();
        for n in 0..1 + d.below(4) {
            let on = if n == 0 { None } else { Some(if d.one_in(4) { d.below(n as u64) } else { n - 1 }) };
            let (joint, follows) = joint(&mut d, &kinds);
            links.push(link(on, joint, &follows));
        }
        let tip = links.len() - 1;
        // the other is fixed, on a link of the same tree, or on a tree of its own by the same drivers
        let other = match d.below(4) {
            0 => {
                let (joint, follows) = joint(&mut d, &kinds);
                links.push(link(None, joint, &follows));
                Some(links.len() - 1)
            }
            1 if tip > 0 => Some(d.below(tip as u64)),
            _ => None,
        };
        let mechanism = Mechanism::new(drivers, links).expect("a sound mechanism");
        let at = [point(&mut d, 180.0), point(&mut d, 180.0)];
        let grow = if d.one_in(3) { [d.real(0.0, 20.0), d.real(0.0, 9.0)] } else { [0.0; 2] };
        let solids = at.map(|p| solid(&mut d, p));
        let mut case = Case { mechanism, solids, links: [Some(tip), other], grow };
        case.bring_near(&mut d);
        case
    }

    /// Shifts the second solid so that the least gap of some poses is what the dice say.
    pub fn bring_near(&mut self, d: &mut Dice) {
        let gap = if d.one_in(8) { d.real(-15.0, 0.0) } else { d.real(0.5, 45.0) };
        for _ in 0..4 {
            let mut least: Option<(f64, Vec3)> = None;
            for _ in 0..40 {
                let drivers = self.drivers(d);
                let [a, b] = [0, 1].map(|n| self.stands(n, &drivers));
                let c = distance(&a, &b);
                let away = c.points[1] - c.points[0];
                let away = if c.lower > 0.0 { away } else { b.ball().0 - a.ball().0 };
                if least.is_none_or(|(gap, _)| c.lower < gap) {
                    let back = self.links[1].map_or(Pose::IDENTITY, |l| self.mechanism.pose(l, &drivers));
                    least = Some((c.lower, back.back(away)));
                }
            }
            let Some((now, away)) = least else { return };
            let by = away.unit().unwrap_or(Vec3::FORWARD) * (gap + self.grow[0] + self.grow[1] - now);
            self.solids[1] = self.solids[1].moved(&Pose::shift(by));
        }
    }

    /// Drivers somewhere in their domain.
    pub fn drivers(&self, d: &mut Dice) -> Vec<f64> {
        self.mechanism
            .drivers
            .iter()
            .map(|m| m.domain())
            .map(|(low, high)| d.real(low, high).clamp(low, high))
            .collect()
    }

    /// A solid with the drivers so.
    pub fn stands(&self, n: usize, drivers: &[f64]) -> Solid {
        let pose = self.links[n].map_or(Pose::IDENTITY, |l| self.mechanism.pose(l, drivers));
        self.solids[n].moved(&pose)
    }

    pub fn moved(&self, n: usize) -> Moved<'_> {
        Moved { solid: &self.solids[n], link: self.links[n], grow: self.grow[n] }
    }

    /// As a script reads it.
    pub fn told(&self) -> Value {
        let point = |p: Vec3| json!([p.x, p.y, p.d]);
        let links: Vec<Value> = self
            .mechanism
            .links
            .iter()
            .map(|l| {
                let (kind, at, axis) = match l.joint {
                    Joint::Fixed => ("fixed", Vec3::ZERO, Vec3::ZERO),
                    Joint::Slide(axis) => ("slide", Vec3::ZERO, axis),
                    Joint::Pivot(at, axis) => ("pivot", at, axis),
                };
                let follows: Vec<Value> = l.follows.iter().map(|f| json!([f.driver, f.by])).collect();
                json!({ "on": l.on, "kind": kind, "at": point(at), "axis": point(axis), "follows": follows })
            })
            .collect();
        let solids = [0, 1].map(|n| {
            let s = &self.solids[n];
            let shape = match s.shape() {
                Shape::Sphere(r) => json!(["sphere", r]),
                Shape::Cylinder { radius, half } => json!(["cylinder", radius, half]),
                Shape::Box(half) => json!(["box", half.x, half.y, half.d]),
                Shape::Hull(points) => json!(["hull", points.iter().map(|p| point(*p)).collect::<Vec<_>>()]),
                Shape::Prism { .. } | Shape::Tube { .. } => json!(null),
            };
            json!({ "shape": shape, "columns": s.pose().columns().map(point), "origin": point(s.pose().origin()),
                    "link": self.links[n], "grow": self.grow[n] })
        });
        let domains: Vec<Value> =
            self.mechanism.drivers.iter().map(|d| json!([d.domain().0, d.domain().1])).collect();
        json!({ "drivers": domains, "links": links, "solids": solids })
    }
}
