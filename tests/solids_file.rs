//! Solid models as other programs read them: STEP by gmsh, GLB and 3MF by trimesh.

#[allow(dead_code)]
#[path = "support/oracle.rs"]
mod oracle;

use panelwright::draw::solids::{Form, Group, Kind, Model3, Named, Plate};
use panelwright::export::solids::{CHORD, SOLID_FORMATS, file};
use panelwright::geom::{Contour, Point, Segment};
use panelwright::solid::{Leg, Pose, Shape, Solid, Vec3};
use serde_json::{Value, json};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// A solid and what another program must find.
struct Expected {
    named: Named,
    facts: Value,
}

fn solid(shape: Shape, pose: Pose) -> Form {
    Form::Solid(Solid::new(shape, pose).expect("a lawful solid"))
}

fn expected(id: &str, form: Form, facts: Value) -> Expected {
    Expected { named: Named { id: id.into(), kind: Kind::Body, form }, facts }
}

/// Volume by which a mesh may miss: its corners lie on the surface, its flats within the bound of it.
fn slack(curved: f64) -> f64 {
    CHORD * curved + 1e-6
}

fn curved(c: &Contour) -> f64 {
    c.segments().iter().filter(|s| matches!(s, Segment::Arc(_))).map(Segment::len).sum()
}

/// Faces of a drawn ring by kind: a circle is two halves.
fn walls(rings: &[&Contour]) -> (usize, usize) {
    let mut planes = 2;
    let mut cylinders = 0;
    for s in rings.iter().flat_map(|r| r.segments()) {
        match s {
            Segment::Line(_) => planes += 1,
            Segment::Arc(a) => cylinders += if a.sweep.abs() >= TAU { 2 } else { 1 },
        }
    }
    (planes, cylinders)
}

fn faces(list: &[(&str, usize)]) -> Value {
    list.iter()
        .filter(|(_, n)| *n > 0)
        .map(|(k, n)| (k.to_string(), json!(n)))
        .collect::<serde_json::Map<_, _>>()
        .into()
}

fn prism(id: &str, section: Contour, from: f64, to: f64, pose: Pose) -> Expected {
    let (planes, cylinders) = walls(&[&section]);
    let facts = json!({
        "volume": section.area() * (to - from),
        "slack": slack(curved(&section) * (to - from)),
        "faces": faces(&[("Plane", planes), ("Cylinder", cylinders)]),
    });
    expected(id, solid(Shape::Prism { section, from, to }, pose), facts)
}

fn plate(id: &str, outline: Contour, openings: Vec<Contour>, from: f64, to: f64) -> Expected {
    let rings: Vec<&Contour> = std::iter::once(&outline).chain(&openings).collect();
    let (planes, cylinders) = walls(&rings);
    let area = outline.area() - openings.iter().map(Contour::area).sum::<f64>();
    let round: f64 = rings.iter().map(|r| curved(r)).sum();
    let facts = json!({
        "volume": area * (to - from),
        "slack": slack(round * (to - from)),
        "faces": faces(&[("Plane", planes), ("Cylinder", cylinders)]),
    });
    expected(id, Form::Plate(Plate { outline, openings, from, to }), facts)
}

fn ball(id: &str, r: f64, pose: Pose) -> Expected {
    let facts = json!({
        "volume": 4.0 / 3.0 * PI * r * r * r, "slack": slack(4.0 * PI * r * r), "faces": { "Sphere": 2 }
    });
    expected(id, solid(Shape::Sphere(r), pose), facts)
}

fn cylinder(id: &str, radius: f64, half: f64, pose: Pose) -> Expected {
    let facts = json!({
        "volume": TAU * radius * radius * half, "slack": slack(2.0 * TAU * radius * half),
        "faces": { "Plane": 2, "Cylinder": 2 }
    });
    expected(id, solid(Shape::Cylinder { radius, half }, pose), facts)
}

fn cuboid(id: &str, half: Vec3, pose: Pose) -> Expected {
    let facts = json!({ "volume": 8.0 * half.x * half.y * half.d, "slack": 1e-6, "faces": { "Plane": 6 } });
    expected(id, solid(Shape::Box(half), pose), facts)
}

/// A tube of smooth legs: by Pappus its volume is that of a straight one as long as its centre line.
fn tube(id: &str, path: Vec<Leg>, r: f64, pose: Pose) -> Expected {
    let long = |l: &Leg| match l {
        Leg::Line(a, b) => (*b - *a).length(),
        Leg::Arc { from, centre, angle, .. } => (*from - *centre).length() * angle.abs(),
    };
    let length: f64 = path.iter().map(long).sum();
    let bends = path.iter().filter(|l| matches!(l, Leg::Arc { .. })).count();
    let facts = json!({
        "volume": PI * r * r * length + 4.0 / 3.0 * PI * r * r * r,
        "slack": slack(TAU * r * length + 4.0 * PI * r * r),
        "faces": faces(&[("Sphere", 2), ("Cylinder", 2 * (path.len() - bends)), ("Torus", 2 * bends)]),
    });
    expected(id, solid(Shape::Tube { path, radius: r }, pose), facts)
}

fn hull(id: &str, points: Vec<Vec3>, pose: Pose) -> Expected {
    let list: Vec<[f64; 3]> = points.iter().map(|p| [p.x, p.y, p.d]).collect();
    let facts = json!({ "hull": list, "slack": 1e-6 });
    expected(id, solid(Shape::Hull(points), pose), facts)
}

/// Writes the model in every format; the case that the script reads.
fn case(name: &str, list: Vec<Expected>) -> Value {
    let mut solids = Vec::new();
    let mut parts = Vec::new();
    for e in list {
        let mut facts = e.facts;
        facts["id"] = json!(e.named.id);
        if let Form::Solid(s) = &e.named.form {
            // no round solid's box is taken from the solid itself
            if matches!(s.shape(), Shape::Prism { .. }) && *s.pose() == Pose::IDENTITY {
                let b = s.bounds();
                facts["low"] = json!([b.low.x, b.low.y, -b.high.d]);
                facts["high"] = json!([b.high.x, b.high.y, -b.low.d]);
            }
        }
        solids.push(facts);
        parts.push(e.named);
    }
    let group = Group { id: "things".into(), title: "Things".into(), instrument: true, parts };
    let model = Model3 { title: name.into(), facts: Vec::new(), groups: vec![group], left_out: Vec::new() };
    let mut case = json!({ "solids": solids });
    for f in &SOLID_FORMATS {
        let made = file(f, &model, name).unwrap_or_else(|e| panic!("{}: {e}", f.name));
        let again = file(f, &model, name).expect("written once, written twice");
        assert_eq!(made, again, "{} is not the same twice", f.name);
        let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(&made.name);
        std::fs::write(&path, &made.bytes).expect("a file in the target folder");
        case[if f.name == "3mf" { "mf3" } else { f.name }] = json!(path.to_string_lossy());
    }
    case
}

/// The asymmetric thing: an L that stands up, with its foot to the right, at the pilot's left, in front of the panel.
fn mark() -> Expected {
    let corners = [(-80.0, 40.0), (-60.0, 40.0), (-60.0, 50.0), (-70.0, 50.0), (-70.0, 80.0), (-80.0, 80.0)];
    let section = Contour::polygon(&corners.map(Point::from));
    prism("mark", section, -30.0, -10.0, Pose::IDENTITY)
}

#[test]
fn each_kind_of_solid_and_the_mark_at_the_pilots_left() {
    let tilted = Pose::about(Vec3::new(10.0, -20.0, 60.0), Vec3::new(0.48, -0.6, 0.64), 0.8);
    let at = |x, y, d| Vec3::new(x, y, d);
    let bend = |turn: f64| {
        // straight, a bend to the right, straight, a bend out of that plane
        let first = Leg::Line(at(0.0, 0.0, 0.0), at(0.0, 0.0, 60.0));
        let one = Leg::Arc {
            from: at(0.0, 0.0, 60.0),
            centre: at(30.0, 0.0, 60.0),
            axis: at(0.0, 1.0, 0.0),
            angle: FRAC_PI_2,
        };
        let second = Leg::Line(at(30.0, 0.0, 90.0), at(70.0, 0.0, 90.0));
        let two = Leg::Arc {
            from: at(70.0, 0.0, 90.0),
            centre: at(70.0, -25.0, 90.0),
            axis: at(0.0, 0.0, -1.0),
            angle: turn,
        };
        vec![first, one, second, two]
    };
    let outline = Contour::rect(Point::ORIGIN, 400.0, 200.0, 20.0);
    let mut openings: Vec<Contour> = Vec::new();
    for k in 0..4 {
        let x = -150.0 + 100.0 * f64::from(k);
        openings.push(Contour::circle(Point::new(x, 40.0), 39.7));
        openings.push(Contour::rect(Point::new(x, -50.0), 60.0, 40.0, 3.0));
        openings.push(Contour::d_hole(Point::new(x, -85.0), 6.0, 5.0, false));
    }
    let list = vec![
        mark(),
        plate("sheet", outline, openings, 0.0, 2.0),
        prism("case", Contour::circle(Point::new(20.0, 10.0), 39.9), 0.0, 130.0, Pose::IDENTITY),
        prism("slot", Contour::slot(Point::new(0.0, 0.0), Point::new(30.0, 12.0), 7.0), 5.0, 9.0, tilted),
        cuboid("box", at(30.0, 20.0, 55.0), tilted),
        cylinder("bar", 9.5, 80.0, tilted),
        ball("ball", 27.0, tilted),
        tube("straight", vec![Leg::Line(at(0.0, 0.0, 10.0), at(40.0, 30.0, 10.0))], 6.0, Pose::IDENTITY),
        tube("hose", bend(1.2), 5.5, Pose::IDENTITY),
        tube("cable", bend(-1.2).into_iter().take(3).collect(), 3.0, tilted),
        hull(
            "plate",
            vec![
                at(0.0, 0.0, 0.0),
                at(60.0, 0.0, 3.0),
                at(0.0, 40.0, 0.0),
                at(5.0, 5.0, 9.0),
                at(30.0, 30.0, 5.0),
            ],
            tilted,
        ),
    ];
    let mut case = case("solids-each", list);
    let l = mark();
    let Form::Solid(s) = &l.named.form else { panic!("the mark is a solid") };
    let Shape::Prism { section, from, to } = s.shape() else { panic!("the mark is a prism") };
    let c = section.centroid();
    case["mark"] = json!("mark");
    case["mark_at"] = json!([c.x, c.y, -(from + to) / 2.0]);
    let random = (0..oracle::cases(8, 60)).map(|k| random(k as u32));
    oracle::agrees("solids_read.py", std::iter::once(case).chain(random));
}

/// Ten solids of every kind at random.
fn random(k: u32) -> Value {
    let mut rng = Rng(u64::from(k) + 1);
    let mut list = Vec::new();
    for n in 0..10 {
        let id = format!("r{k}-{n}");
        let axis = loop {
            if let Some(u) = rng.vector(1.0).unit() {
                break u;
            }
        };
        let pose =
            Pose::about(rng.vector(300.0), axis, rng.within(0.0, TAU)).then(&Pose::shift(rng.vector(400.0)));
        list.push(match n % 7 {
            0 => cuboid(
                &id,
                Vec3::new(rng.within(0.5, 80.0), rng.within(0.5, 80.0), rng.within(0.5, 80.0)),
                pose,
            ),
            1 => cylinder(&id, rng.within(0.5, 60.0), rng.within(0.5, 90.0), pose),
            2 => ball(&id, rng.within(1.0, 60.0), pose),
            3 => {
                let size = (rng.within(5.0, 90.0), rng.within(5.0, 90.0));
                let corner = rng.within(0.1, 2.4);
                let from = rng.within(-50.0, 50.0);
                prism(
                    &id,
                    Contour::rect(Point::ORIGIN, size.0, size.1, corner),
                    from,
                    from + rng.within(1.0, 200.0),
                    pose,
                )
            }
            4 => hull(&id, (0..rng.within(4.0, 16.0) as usize).map(|_| rng.vector(40.0)).collect(), pose),
            5 => tube(&id, rng.path(), rng.within(1.0, 9.0), pose),
            _ => {
                let outline = Contour::rect(Point::ORIGIN, 200.0, 120.0, rng.within(0.5, 30.0));
                // one opening a cell of a grid
                let opening = |rng: &mut Rng, c: Point| match rng.within(0.0, 3.0) as u32 {
                    0 => Contour::circle(c, rng.within(0.5, 17.0)),
                    1 => Contour::rect(c, rng.within(1.0, 34.0), rng.within(1.0, 34.0), rng.within(0.0, 0.4)),
                    _ => Contour::slot(
                        c,
                        c + panelwright::geom::Vec2::new(rng.within(0.0, 9.0), 3.0),
                        rng.within(0.5, 5.0),
                    ),
                };
                let mut openings = Vec::new();
                for x in [-60.0, -20.0, 20.0, 60.0] {
                    for y in [-20.0, 20.0] {
                        openings.push(opening(&mut rng, Point::new(x, y)));
                    }
                }
                plate(&id, outline, openings, -1.0, rng.within(0.0, 5.0))
            }
        });
    }
    case(&format!("solids-random-{k}"), list)
}

/// Steele's split mix: the same numbers on every run.
struct Rng(u64);

impl Rng {
    fn within(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        low + (high - low) * ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    fn vector(&mut self, most: f64) -> Vec3 {
        Vec3::new(self.within(-most, most), self.within(-most, most), self.within(-most, most))
    }

    /// A smooth path: straights and bends in random planes, walked with a frame.
    fn path(&mut self) -> Vec<Leg> {
        let mut legs = Vec::new();
        let mut at = self.vector(50.0);
        let mut along = Vec3::new(0.0, 0.0, 1.0);
        for _ in 0..4 {
            let next = at + along * self.within(1.0, 80.0);
            legs.push(Leg::Line(at, next));
            at = next;
            let side = self.vector(1.0);
            let Some(out) = (side - along * side.dot(along)).unit() else { continue };
            let (centre, axis) = (at + out * self.within(10.0, 60.0), out.cross(along));
            // along turns towards the centre
            let angle = self.within(0.05, 2.8);
            let turn = Pose::about(centre, -axis, angle);
            let turned = turn.vector(along);
            let (axis, angle) = if turned.dot(out) > 0.0 { (-axis, angle) } else { (axis, angle) };
            legs.push(Leg::Arc { from: at, centre, axis, angle });
            let turn = Pose::about(centre, axis, angle);
            (at, along) = (turn.point(at), turn.vector(along));
        }
        legs
    }
}
