//! Sections of solids: closed forms, and membership of points by other libraries.

use crate::oracle;
use crate::panels::Dice;
use panelwright::geom::{Contour, Point, Vec2};
use panelwright::solid::{Leg, Plane, Pose, Shape, Solid, Vec3, section};
use serde_json::{Value, json};
use std::f64::consts::PI;

fn solid(shape: Shape, pose: Pose) -> Solid {
    Solid::new(shape, pose).expect("a solid")
}

fn area(solid: &Solid, plane: &Plane) -> f64 {
    section(solid, plane).iter().map(Contour::area).sum()
}

/// Closed forms: pi (r2 - h2) of a ball, b h of a box, pi r2 / cos of a bar cut askew, 2 h sqrt(r2 - x2) along it.
#[test]
fn closed_forms() {
    let near = |a: f64, b: f64, slack: f64| assert!((a - b).abs() <= slack, "{a} {b}");
    let ball = solid(Shape::Sphere(25.0), Pose::shift(Vec3::new(10.0, 0.0, 80.0)));
    near(area(&ball, &Plane::upright(17.0)), PI * (625.0 - 49.0), 1e-6);
    assert!(
        section(&ball, &Plane::upright(35.0)).is_empty() && section(&ball, &Plane::upright(-40.0)).is_empty()
    );
    let block = solid(Shape::Box(Vec3::new(10.0, 20.0, 30.0)), Pose::IDENTITY);
    near(area(&block, &Plane::level(19.0)), 20.0 * 60.0, 1e-9);
    // a cube of side 2 a across its corner diagonal: a hexagon of 3 sqrt 3 a2
    let cube = solid(Shape::Box(Vec3::new(10.0, 10.0, 10.0)), Pose::IDENTITY);
    let (u, v) = (Vec3::new(1.0, -1.0, 0.0), Vec3::new(1.0, 1.0, -2.0));
    let plane = Plane { at: Vec3::ZERO, across: u.unit().unwrap(), up: v.unit().unwrap() };
    near(area(&cube, &plane), 3.0 * 3.0_f64.sqrt() * 100.0, 1e-6);
    let bar = solid(Shape::Cylinder { radius: 6.0, half: 200.0 }, Pose::IDENTITY);
    near(area(&bar, &Plane::upright(3.0)), 2.0 * 27.0_f64.sqrt() * 400.0, 1e-6);
    assert_eq!(section(&bar, &Plane::deep(30.0))[0].as_circle(), Some((Point::ORIGIN, 6.0)));
    let askew = Plane { up: Vec3::new(0.0, 0.6, 0.8), ..Plane::deep(0.0) };
    let ellipse = PI * 36.0 / 0.6;
    let found = area(&bar, &askew);
    assert!(found <= ellipse && ellipse - found < 0.01 * 50.0, "{found} {ellipse}");
    // an L cut through both legs is two rectangles
    let l = [
        (0.0, 0.0),
        (60.0, 0.0),
        (60.0, 50.0),
        (50.0, 50.0),
        (50.0, 10.0),
        (10.0, 10.0),
        (10.0, 50.0),
        (0.0, 50.0),
    ];
    let u = Contour::polygon(&l.map(|(x, y)| Point::new(x, y)));
    let u = solid(Shape::Prism { section: u, from: 5.0, to: 105.0 }, Pose::IDENTITY);
    let cuts = section(&u, &Plane::level(30.0));
    assert_eq!(cuts.len(), 2);
    near(cuts.iter().map(Contour::area).sum(), 2000.0, 1e-9);
    let b = section(&u, &Plane::upright(55.0))[0].bounds();
    assert_eq!((b.x0, b.x1, b.y0, b.y1), (5.0, 105.0, 0.0, 50.0));
    // a ring in its own plane has a hole: pi ((R + r)2 - (R - r)2)
    let axis = Vec3::FORWARD;
    let ring = Leg::Arc { from: Vec3::new(100.0, 0.0, 0.0), centre: Vec3::ZERO, axis, angle: 2.0 * PI };
    let ring = solid(Shape::Tube { path: vec![ring], radius: 8.0 }, Pose::IDENTITY);
    let cuts = section(&ring, &Plane::deep(0.0));
    assert_eq!(cuts.len(), 2);
    let (outer, inner) = (cuts[0].area(), cuts[1].area());
    near(outer - inner, PI * (108.0_f64.powi(2) - 92.0_f64.powi(2)), 0.02 * 2.0 * PI * 200.0);
    assert_eq!(section(&ring, &Plane::upright(0.0)).len(), 2);
}

fn vec(v: Vec3) -> Value {
    json!([v.x, v.y, v.d])
}

fn random(dice: &mut Dice, size: f64) -> Vec3 {
    Vec3::new(dice.real(-size, size), dice.real(-size, size), dice.real(-size, size))
}

fn shape(dice: &mut Dice, kind: u64) -> (Shape, Value) {
    match kind {
        0 => {
            let at = Point::new(dice.real(-20.0, 20.0), 5.0);
            let contour = crate::panels::shape(dice, at, 60.0);
            let told = json!(["prism", oracle::pieces(&contour), -20.0, 55.0]);
            (Shape::Prism { section: contour, from: -20.0, to: 55.0 }, told)
        }
        1 => {
            let teeth = (0..8).map(|k| {
                let (s, c) = panelwright::geom::angle::sin_cos_deg(f64::from(k) * 45.0);
                (Vec2::new(c, s) * if k % 2 == 0 { 40.0 } else { dice.real(12.0, 30.0) }).to_point()
            });
            let contour = Contour::polygon(&teeth.collect::<Vec<_>>());
            let told = json!(["prism", oracle::pieces(&contour), -35.0, 35.0]);
            (Shape::Prism { section: contour, from: -35.0, to: 35.0 }, told)
        }
        2 => {
            let h = Vec3::new(dice.real(1.0, 40.0), dice.real(1.0, 40.0), dice.real(1.0, 40.0));
            (Shape::Box(h), json!(["box", vec(h)]))
        }
        3 => {
            let (radius, half) = (dice.real(2.0, 30.0), dice.real(5.0, 80.0));
            (Shape::Cylinder { radius, half }, json!(["bar", radius, half]))
        }
        4 => (Shape::Sphere(30.0), json!(["ball", 30.0])),
        5 => {
            let points: Vec<Vec3> = (0..12).map(|_| random(dice, 40.0)).collect();
            (Shape::Hull(points.clone()), json!(["hull", points.into_iter().map(vec).collect::<Value>()]))
        }
        _ => {
            // a straight, a bend in a random plane, a straight
            let (a, b) = (Vec3::new(-60.0, 0.0, 0.0), Vec3::ZERO);
            let turn = dice.real(0.0, 6.2);
            let (s, c) = panelwright::geom::angle::sin_cos(turn);
            let (radius, bend) = (dice.real(2.0, 9.0), dice.real(10.0, 40.0));
            let (toward, axis) = (Vec3::new(0.0, c, s), Vec3::new(0.0, -s, c));
            let centre = b + toward * bend;
            let angle = dice.real(0.5, 2.6);
            let move_ = Pose::about(centre, axis, angle);
            let end = move_.point(b);
            let path = vec![
                Leg::Line(a, b),
                Leg::Arc { from: b, centre, axis, angle },
                Leg::Line(end, end + move_.vector(Vec3::new(50.0, 0.0, 0.0))),
            ];
            let steps: Vec<Value> = (0..=4000)
                .map(|k| vec(Pose::about(centre, axis, angle * f64::from(k) / 4000.0).point(b)))
                .collect();
            let last = vec(end + move_.vector(Vec3::new(50.0, 0.0, 0.0)));
            let all: Value = std::iter::once(vec(a)).chain(steps).chain([last]).collect();
            let told = json!(["tube", radius, all]);
            (Shape::Tube { path, radius }, told)
        }
    }
}

/// Points in and beside each outline are asked of numpy, shapely and scipy: what lies in the outline lies in the solid,
/// what lies more than the bound outside does not.
#[test]
fn what_lies_in_the_outline_lies_in_the_solid() {
    let mut dice = Dice::new(41);
    let cases = (0..oracle::cases(140, 4000)).map(|k| {
        let (shape, told) = shape(&mut dice, k % 7);
        let axis = random(&mut dice, 1.0).unit().unwrap_or(Vec3::FORWARD);
        let turn = if dice.one_in(3) { 0.0 } else { dice.real(0.0, 6.0) };
        let pose =
            Pose::about(random(&mut dice, 20.0), axis, turn).then(&Pose::shift(random(&mut dice, 20.0)));
        let plane = match dice.below(4) {
            0 => Plane::upright(dice.real(-25.0, 25.0)),
            1 => Plane::level(dice.real(-25.0, 25.0)),
            2 => Plane::deep(dice.real(-25.0, 25.0)),
            _ => {
                let across = random(&mut dice, 1.0).unit().unwrap_or(Vec3::FORWARD);
                let up = across.cross(random(&mut dice, 1.0)).unit().unwrap_or(axis.cross(across));
                Plane { at: random(&mut dice, 25.0), across, up }
            }
        };
        let cut = section(&solid(shape, pose), &plane);
        json!({
            "shape": told, "origin": vec(pose.origin()), "columns": pose.columns().map(vec),
            "at": vec(plane.at), "across": vec(plane.across), "up": vec(plane.up),
            "cut": cut.iter().map(oracle::pieces).collect::<Value>(),
        })
    });
    oracle::agrees("section_points.py", cases);
}
