//! How long the least clearance over whole travels takes: two coupled wheels with their shafts and hands against a
//! crowded panel and airframe, and random mechanisms. Prints pairs, near pairs, boxes and distance calls.

#[path = "../tests/support/panels.rs"]
mod panels;
#[path = "../tests/travel/random.rs"]
mod random;
#[path = "../tests/travel/setup.rs"]
mod setup;

use divan::{Bencher, black_box};
use panelwright::solid::travel::{DriverKind, Joint, Mechanism, Moved, Reach, Travelled};
use panelwright::solid::{Leg, Pose, Shape, Solid, Vec3};
use random::Case;
use setup::{ball, bar, block, built, driver, link, v};

fn main() {
    let cockpit = Cockpit::new();
    println!("cockpit: {}", told(&cockpit.all()));
    let random = cases();
    println!("random mechanisms: {}", told(&random.iter().map(one).collect::<Vec<_>>()));
    divan::main();
}

fn told(all: &[Travelled]) -> String {
    let sum = |pick: fn(&Travelled) -> usize| all.iter().map(pick).sum::<usize>();
    format!(
        "{} pairs, {} looked at, {} near, {} overlap, {} wide; {} boxes (most {}), {} distance calls",
        all.len(),
        all.iter().filter(|t| t.calls > 0).count(),
        all.iter().filter(|t| !t.over).count(),
        all.iter().filter(|t| !t.over && t.upper < 0.0).count(),
        all.iter().filter(|t| t.wide).count(),
        sum(|t| t.boxes),
        all.iter().map(|t| t.boxes).max().unwrap_or(0),
        sum(|t| t.calls),
    )
}

/// Two wheels on shafts that slide and turn together, joined by a cross-bar, with hands on their rims; 45 bodies
/// behind the panel and 60 pieces of the airframe round them.
struct Cockpit {
    mechanism: Mechanism,
    moving: Vec<(Solid, usize, f64)>,
    fixed: Vec<Solid>,
}

impl Cockpit {
    fn new() -> Cockpit {
        let mut links = vec![link(None, Joint::Slide(Vec3::FORWARD), &[(0, 1.0)])];
        let mut moving = vec![(bar(v(0.0, -120.0, 170.0), v(1.0, 0.0, 0.0), 12.0, 260.0), 0, 0.0)];
        for (n, x) in [(1, -230.0), (2, 230.0)] {
            let centre = v(x, -120.0, -160.0);
            links.push(link(Some(0), Joint::Pivot(centre, Vec3::FORWARD), &[(1, 1.0)]));
            let horn = |side: f64| {
                let from = centre + v(side * 140.0, 0.0, 0.0);
                let path = vec![Leg::Arc { from, centre, axis: Vec3::FORWARD, angle: 0.9 }];
                Solid::new(Shape::Tube { path, radius: 12.0 }, Pose::IDENTITY).expect("a horn")
            };
            let hand = |side: f64| ball(centre + v(side * 140.0, 20.0, 0.0), 25.0);
            let spoke = |side: f64| block(centre + v(side * 80.0, 0.0, 0.0), v(60.0, 9.0, 6.0));
            let shaft = bar(centre + v(0.0, 0.0, 170.0), Vec3::FORWARD, 14.0, 190.0);
            let sprocket = bar(centre + v(0.0, 0.0, 330.0), Vec3::FORWARD, 45.0, 6.0);
            moving.push((shaft, n, 0.0));
            moving.push((sprocket, n, 0.0));
            for side in [-1.0, 1.0] {
                moving.push((horn(side), n, 0.0));
                moving.push((hand(side), n, 25.0));
                moving.push((spoke(side), n, 0.0));
            }
        }
        let drivers =
            vec![driver(DriverKind::Slide, -95.0, 0.0, 115.0), driver(DriverKind::Turn, -85.0, 0.0, 85.0)];
        let mut dice = panels::Dice::new(4);
        let mut fixed = Vec::new();
        for k in 0..45 {
            let (x, y) = (-420.0 + 105.0 * f64::from(k % 9), -60.0 + 62.0 * f64::from(k / 9));
            let deep = dice.real(40.0, 130.0);
            fixed.push(block(v(x, y, deep), v(40.0, 26.0, deep)));
        }
        for k in 0..60 {
            let (x, y) = (-480.0 + 100.0 * f64::from(k % 10), -190.0 + 95.0 * f64::from(k / 10));
            let at = v(x + dice.real(-30.0, 30.0), y + dice.real(-20.0, 20.0), dice.real(-40.0, 420.0));
            let solid = match k % 3 {
                0 => bar(at, v(1.0, 0.0, 0.0), dice.real(4.0, 12.0), dice.real(30.0, 90.0)),
                1 => block(at, v(2.0, dice.real(20.0, 60.0), dice.real(10.0, 40.0))),
                _ => ball(at, dice.real(5.0, 20.0)),
            };
            fixed.push(solid);
        }
        Cockpit { mechanism: built(drivers, links), moving, fixed }
    }

    /// Every moving solid against every fixed one and those of other links.
    fn all(&self) -> Vec<Travelled> {
        let reach = |solid, link, grow| Reach::new(&self.mechanism, Moved { solid, link, grow });
        let moving: Vec<Reach<'_>> =
            self.moving.iter().map(|(solid, link, grow)| reach(solid, Some(*link), *grow)).collect();
        let fixed: Vec<Reach<'_>> = self.fixed.iter().map(|solid| reach(solid, None, 0.0)).collect();
        let mut all = Vec::new();
        for (n, a) in moving.iter().enumerate() {
            all.extend(fixed.iter().map(|b| a.clearance(b, 12.0)));
            let others = moving[n + 1..].iter().filter(|b| b.moved().link != a.moved().link);
            all.extend(others.map(|b| a.clearance(b, 12.0)));
        }
        all
    }
}

/// 17 moving solids, 105 fixed ones, two coupled drivers: all pairs.
#[divan::bench]
fn cockpit(bencher: Bencher) {
    let cockpit = Cockpit::new();
    bencher.bench_local(|| black_box(&cockpit).all());
}

/// A pair that is far apart, both made ready.
#[divan::bench]
fn far(bencher: Bencher) {
    let cockpit = Cockpit::new();
    let (solid, link, grow) = &cockpit.moving[4];
    let a = Reach::new(&cockpit.mechanism, Moved { solid, link: Some(*link), grow: *grow });
    let other = ball(v(900.0, 500.0, 300.0), 9.0);
    let b = Reach::new(&cockpit.mechanism, Moved { solid: &other, link: None, grow: 0.0 });
    bencher.bench_local(|| black_box(&a).clearance(black_box(&b), 12.0));
}

/// What makes a hand on the wheel's rim ready.
#[divan::bench]
fn ready(bencher: Bencher) {
    let cockpit = Cockpit::new();
    let (solid, link, grow) = &cockpit.moving[4];
    bencher.bench_local(|| {
        Reach::new(black_box(&cockpit.mechanism), Moved { solid, link: Some(*link), grow: *grow })
    });
}

fn cases() -> Vec<Case> {
    (0..300).map(Case::new).collect()
}

fn one(case: &Case) -> Travelled {
    panelwright::solid::travel::clearance(&case.mechanism, case.moved(0), case.moved(1), 12.0)
}

/// 300 random mechanisms of up to four drivers and four links, nearly all of them near: one pair each.
#[divan::bench]
fn random_300(bencher: Bencher) {
    let cases = cases();
    bencher.bench_local(|| black_box(&cases).iter().map(one).collect::<Vec<_>>());
}
