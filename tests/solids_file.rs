//! Solid models as other programs read them: STEP by gmsh, GLB and 3MF by trimesh.

#[path = "solids_file/made.rs"]
mod made;
#[allow(dead_code)]
#[path = "support/oracle.rs"]
mod oracle;
#[path = "solids_file/panel.rs"]
mod panel;
#[path = "support/panels.rs"]
mod panels;

use made::{Rng, ball, case, cuboid, cylinder, expected, hull, plate, prism, solid, tube};
use panelwright::draw::solids::{Form, Group, Kind, Model3, Named, Plate};
use panelwright::export::solids::{SOLID_FORMATS, file};
use panelwright::geom::{Contour, Point, Vec2};
use panelwright::solid::{Leg, Pose, Shape, Solid, Vec3};
use serde_json::{Value, json};
use std::f64::consts::{FRAC_PI_2, PI, TAU};
use std::path::Path;

/// The asymmetric thing: an L that stands up, with its foot to the right, at the pilot's left, in front of the panel.
fn mark() -> made::Expected {
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
    let kinked = kinked(tilted);
    let demos = ["wheatear/proposed", "dunlin/proposed", "corncrake/floating-proposed"].map(demo);
    let random = (0..oracle::cases(5, 60)).map(|k| random(k as u32));
    oracle::agrees("solids_read.py", [case, kinked].into_iter().chain(demos).chain(random));
}

/// A tube whose legs meet at an angle: two bars with round ends that lie in each other.
fn kinked(pose: Pose) -> Value {
    let at = |x, y| Vec3::new(x, y, 5.0);
    let path = vec![Leg::Line(at(0.0, 0.0), at(50.0, 0.0)), Leg::Line(at(50.0, 0.0), at(80.0, 40.0))];
    let r: f64 = 4.0;
    let facts = json!({
        "volume": PI * r * r * 100.0 + 2.0 * 4.0 / 3.0 * PI * r * r * r, "slack": 1.0, "runs": 2,
        "faces": { "Sphere": 4, "Cylinder": 4 }
    });
    case("solids-kinked", vec![expected("kinked", solid(Shape::Tube { path, radius: r }, pose), facts)])
}

/// A demo panel by the program itself.
fn demo(panel: &str) -> Value {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("solids-{}", panel.replace('/', "-")));
    let out = run(&["solids", &format!("panels/{panel}.json"), "--out", &folder.to_string_lossy()]);
    let words = String::from_utf8_lossy(&out.stdout);
    assert!(out.status.success(), "{words}\n{}", String::from_utf8_lossy(&out.stderr));
    let path =
        |ending: &str| words.lines().find(|l| l.ends_with(ending)).expect("a file is named").to_string();
    let step = std::fs::read_to_string(path(".step")).expect("written");
    let count = step.matches("MANIFOLD_SOLID_BREP").count();
    assert!(count > 50);
    json!({ "count": count, "step": path(".step"), "glb": path(".glb"), "mf3": path(".3mf") })
}

fn run(arguments: &[&str]) -> std::process::Output {
    let mut program = std::process::Command::new(env!("CARGO_BIN_EXE_panelwright"));
    program.args(arguments).current_dir(env!("CARGO_MANIFEST_DIR")).output().expect("the program runs")
}

#[test]
fn what_is_no_solid_is_refused_by_name() {
    let thin =
        Plate { outline: Contour::circle(Point::ORIGIN, 20.0), openings: Vec::new(), from: 2.0, to: 2.0 };
    let far = Contour::circle(Point::new(30_000.0, 0.0), 20.0);
    let far = Solid::new(Shape::Prism { section: far, from: 0.0, to: 1.0 }, Pose::IDENTITY).expect("a solid");
    let part = |id: &str, form| Named { id: id.into(), kind: Kind::Body, form, link: None };
    let parts = vec![part("thin", Form::Plate(thin)), part("far", Form::Solid(far))];
    let group = Group { id: "g".into(), title: "g".into(), instrument: true, parts };
    let model = Model3 { title: "t".into(), facts: Vec::new(), groups: vec![group], left_out: Vec::new() };
    for f in &SOLID_FORMATS {
        let e = file(f, &model, "t").expect_err(f.name).to_string();
        assert!(e.contains("thin: this solid cannot be written: it has no thickness"), "{e}");
        assert!(e.contains("far: this solid cannot be written: it reaches farther than 20 m"), "{e}");
    }
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
                    _ => Contour::slot(c, c + Vec2::new(rng.within(0.0, 9.0), 3.0), rng.within(0.5, 5.0)),
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
