//! How long the distance of two solids takes: one pair of each kind, and 200 bodies among each other.

#[path = "../tests/support/panels.rs"]
mod panels;

use divan::{Bencher, black_box};
use panelwright::geom::{Contour, Corner, Point};
use panelwright::solid::{Clearance, Leg, Pose, Shape, Solid, Vec3, distance, within};

fn main() {
    let bodies = bodies();
    let near = all(&bodies, 12.0);
    let overlaps = near.iter().filter(|c| c.upper < 0.0).count();
    println!("200 bodies: {} pairs, {} within 12 mm, {overlaps} overlap", 200 * 199 / 2, near.len());
    divan::main();
}

fn v(x: f64, y: f64, d: f64) -> Vec3 {
    Vec3::new(x, y, d)
}

fn solid(shape: Shape, pose: Pose) -> Solid {
    Solid::new(shape, pose).expect("a solid")
}

fn tilted(at: Vec3) -> Pose {
    Pose::about(Vec3::ZERO, v(0.6, 0.0, 0.8), 0.7).then(&Pose::shift(at))
}

fn prism() -> Shape {
    let section = Contour::rect_corners(Point::ORIGIN, 60.0, 40.0, [Corner::Round(6.0); 4]);
    Shape::Prism { section, from: 0.0, to: 80.0 }
}

fn bent() -> Shape {
    let arc =
        Leg::Arc { from: v(0.0, 0.0, 60.0), centre: v(40.0, 0.0, 60.0), axis: v(0.0, 1.0, 0.0), angle: 1.5 };
    Shape::Tube { path: vec![Leg::Line(Vec3::ZERO, v(0.0, 0.0, 60.0)), arc], radius: 6.0 }
}

/// Kinds of pairs; those with "tilted" have no closed form but for the ball.
const KINDS: [&str; 10] = [
    "ball-ball",
    "ball-box tilted",
    "ball-prism tilted",
    "box-box",
    "box-box tilted",
    "box-prism",
    "prism-prism",
    "prism-prism tilted",
    "bar-bar tilted",
    "hose-box",
];

fn pair(kind: &str) -> (Solid, Solid) {
    let block = || Shape::Box(v(30.0, 20.0, 40.0));
    let bar = || Shape::Cylinder { radius: 12.0, half: 60.0 };
    let at = v(75.0, 55.0, 9.0);
    let (a, b, tilt) = match kind {
        "ball-ball" => (Shape::Sphere(20.0), Shape::Sphere(30.0), false),
        "ball-box tilted" => (Shape::Sphere(20.0), block(), true),
        "ball-prism tilted" => (Shape::Sphere(20.0), prism(), true),
        "box-box" => (block(), block(), false),
        "box-box tilted" => (block(), block(), true),
        "box-prism" => (block(), prism(), false),
        "prism-prism" => (prism(), prism(), false),
        "prism-prism tilted" => (prism(), prism(), true),
        "bar-bar tilted" => (bar(), bar(), true),
        _ => (bent(), block(), true),
    };
    (solid(a, Pose::IDENTITY), solid(b, if tilt { tilted(at) } else { Pose::shift(at) }))
}

/// A near pair.
#[divan::bench(args = KINDS)]
fn near(bencher: Bencher, kind: &str) {
    let (a, b) = pair(kind);
    bencher.bench_local(|| distance(black_box(&a), black_box(&b)));
}

/// A pair that is farther apart than asked.
#[divan::bench(args = ["box-box tilted", "prism-prism tilted", "hose-box"])]
fn far(bencher: Bencher, kind: &str) {
    let (a, b) = pair(kind);
    let b = b.moved(&Pose::shift(v(90.0, 40.0, 0.0)));
    bencher.bench_local(|| within(black_box(&a), black_box(&b), 6.0));
}

/// Boxes, bars, balls, prisms and hoses in a space of 1000 x 500 x 400 mm.
fn bodies() -> Vec<Solid> {
    let mut dice = panels::Dice::new(3);
    let body = |k: usize| {
        let at = v(dice.real(-500.0, 500.0), dice.real(-250.0, 250.0), dice.real(0.0, 400.0));
        let shape = match k % 5 {
            0 => Shape::Box(v(dice.real(5.0, 40.0), dice.real(5.0, 30.0), dice.real(10.0, 60.0))),
            1 => Shape::Cylinder { radius: dice.real(4.0, 20.0), half: dice.real(20.0, 60.0) },
            2 => Shape::Sphere(dice.real(5.0, 25.0)),
            3 => prism(),
            _ => bent(),
        };
        solid(shape, if k.is_multiple_of(2) { Pose::shift(at) } else { tilted(at) })
    };
    (0..200).map(body).collect()
}

fn all(bodies: &[Solid], reach: f64) -> Vec<Clearance> {
    let pairs = bodies.iter().enumerate().flat_map(|(k, a)| bodies.iter().skip(k + 1).map(move |b| (a, b)));
    pairs.filter_map(|(a, b)| within(a, b, reach)).collect()
}

/// 200 bodies, 19,900 pairs, within 12 mm.
#[divan::bench]
fn bodies_200(bencher: Bencher) {
    let bodies = bodies();
    bencher.bench_local(|| all(black_box(&bodies), 12.0));
}
