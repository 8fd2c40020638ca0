//! Random solids, each with a description by its own numbers from which a script builds it anew.

use super::panels::Dice;
use panelwright::geom::{Contour, Corner, Point, angle};
use panelwright::solid::{Leg, Pose, Shape, Solid, Vec3};
use serde_json::{Value, json};

/// A solid and its description: sets that it is the union of, each the hull of points, plus a disc, plus a ball.
pub struct Drawn {
    pub solid: Solid,
    pub told: Value,
    /// Its distance has a closed form in the program, or is certified as narrowly.
    pub bent: bool,
}

fn v(p: Vec3) -> Value {
    json!([p.x, p.y, p.d])
}

fn set(points: &[Vec3], disc: Option<(f64, Vec3, Vec3)>, ball: f64) -> Value {
    let points: Vec<Value> = points.iter().map(|p| v(*p)).collect();
    let disc = disc.map(|(r, a, b)| json!({ "radius": r, "u": v(a), "v": v(b) }));
    json!({ "points": points, "disc": disc, "ball": ball })
}

fn direction(dice: &mut Dice) -> Vec3 {
    loop {
        let p = Vec3::new(dice.real(-1.0, 1.0), dice.real(-1.0, 1.0), dice.real(-1.0, 1.0));
        if let Some(u) = p.unit().filter(|_| p.length() > 0.1) {
            return u;
        }
    }
}

fn place(dice: &mut Dice, spread: f64) -> Pose {
    let by = Vec3::new(dice.real(-spread, spread), dice.real(-spread, spread), dice.real(-spread, spread));
    // a third stand upright, as most things behind a panel do
    if dice.one_in(3) {
        return Pose::shift(by);
    }
    Pose::about(Vec3::ZERO, direction(dice), dice.real(-3.0, 3.0)).then(&Pose::shift(by))
}

/// One random solid within a cube of about twice the spread.
pub fn solid(dice: &mut Dice, spread: f64) -> Drawn {
    let pose = place(dice, spread);
    let [x, y, d] = pose.columns();
    let size = |dice: &mut Dice| dice.real(2.0, 60.0);
    let at = |a: f64, b: f64, c: f64| pose.point(Vec3::new(a, b, c));
    let mut bent = false;
    let (shape, told) = match dice.below(7) {
        0 => {
            let half = Vec3::new(size(dice), size(dice), size(dice));
            (Shape::Box(half), vec![set(&corners(half, &at), None, 0.0)])
        }
        1 => {
            let (radius, half) = (size(dice), size(dice));
            (
                Shape::Cylinder { radius, half },
                vec![set(&[at(0.0, 0.0, -half), at(0.0, 0.0, half)], Some((radius, x, y)), 0.0)],
            )
        }
        2 => {
            let radius = size(dice);
            (Shape::Sphere(radius), vec![set(&[at(0.0, 0.0, 0.0)], None, radius)])
        }
        3 => {
            let points: Vec<Vec3> = (0..6 + dice.below(10)).map(|_| direction(dice) * size(dice)).collect();
            let told = points.iter().map(|p| pose.point(*p)).collect::<Vec<_>>();
            (Shape::Hull(points), vec![set(&told, None, 0.0)])
        }
        4 => {
            // a rectangle with round corners, drawn out
            let (w, h, r) = (dice.real(8.0, 60.0), dice.real(8.0, 60.0), dice.real(0.5, 3.5));
            let (from, to) = (dice.real(-40.0, 0.0), dice.real(5.0, 60.0));
            let section = Contour::rect_corners(Point::ORIGIN, w, h, [Corner::Round(r); 4]);
            let (a, b) = (w / 2.0 - r, h / 2.0 - r);
            let ends = [(-a, -b), (a, -b), (a, b), (-a, b)]
                .into_iter()
                .flat_map(|(p, q)| [at(p, q, from), at(p, q, to)]);
            (Shape::Prism { section, from, to }, vec![set(&ends.collect::<Vec<_>>(), Some((r, x, y)), 0.0)])
        }
        5 => {
            // an L, which is not convex: two boxes
            let (w, h, t) = (dice.real(20.0, 60.0), dice.real(20.0, 60.0), dice.real(3.0, 15.0));
            let (from, to) = (dice.real(-40.0, 0.0), dice.real(5.0, 60.0));
            let p = Point::new;
            let section = Contour::polygon(&[p(0.0, 0.0), p(w, 0.0), p(w, t), p(t, t), p(t, h), p(0.0, h)]);
            let bar = |a: f64, b: f64| {
                let c = [(0.0, 0.0), (a, 0.0), (a, b), (0.0, b)];
                let ends = c.into_iter().flat_map(|(p, q)| [at(p, q, from), at(p, q, to)]);
                set(&ends.collect::<Vec<_>>(), None, 0.0)
            };
            (Shape::Prism { section, from, to }, vec![bar(w, t), bar(t, h)])
        }
        _ => {
            // a hose: a straight, a bend, a straight
            let (radius, bend) = (dice.real(2.0, 6.0), dice.real(12.0, 50.0));
            let (first, last, turn) = (dice.real(5.0, 60.0), dice.real(5.0, 60.0), dice.real(0.3, 2.8));
            let start = Vec3::new(0.0, 0.0, first);
            let centre = Vec3::new(bend, 0.0, first);
            let axis = Vec3::new(0.0, 1.0, 0.0);
            let arc = Leg::Arc { from: start, centre, axis, angle: turn };
            let end = Pose::about(centre, axis, turn).point(start);
            let (s, c) = angle::sin_cos(turn);
            let tip = end + Vec3::new(s, 0.0, c) * last;
            bent = true;
            let told = vec![
                set(&[pose.point(Vec3::ZERO), pose.point(start)], None, radius),
                json!({ "arc": { "from": v(pose.point(start)), "centre": v(pose.point(centre)), "axis": v(y), "angle": turn,
                    "along": v(d) }, "ball": radius }),
                set(&[pose.point(end), pose.point(tip)], None, radius),
            ];
            let path = vec![Leg::Line(Vec3::ZERO, start), arc, Leg::Line(end, tip)];
            (Shape::Tube { path, radius }, told)
        }
    };
    Drawn { solid: Solid::new(shape, pose).expect("a solid"), told: json!(told), bent }
}

fn corners(half: Vec3, at: &impl Fn(f64, f64, f64) -> Vec3) -> Vec<Vec3> {
    let side = |k: usize, bit: usize, v: f64| if k >> bit & 1 == 0 { -v } else { v };
    (0..8).map(|k| at(side(k, 0, half.x), side(k, 1, half.y), side(k, 2, half.d))).collect()
}
