//! Solids with what another program must find of them, and the files that hold them.

use panelwright::draw::solids::{Form, Group, Kind, Model3, Named, Plate};
use panelwright::export::solids::{CHORD, SOLID_FORMATS, file};
use panelwright::geom::{Contour, Segment, Vec2};
use panelwright::solid::{Leg, Pose, Shape, Solid, Vec3};
use serde_json::{Value, json};
use std::f64::consts::{PI, TAU};
use std::path::Path;

/// A solid and what another program must find.
pub struct Expected {
    /// What is written.
    pub named: Named,
    /// What must be read.
    pub facts: Value,
}

pub fn solid(shape: Shape, pose: Pose) -> Form {
    Form::Solid(Solid::new(shape, pose).expect("a lawful solid"))
}

/// Where a point of the panel's frame must be found: z towards the pilot.
pub fn seen(p: Vec3) -> [f64; 3] {
    [p.x, p.y, -p.d]
}

pub fn expected(id: &str, form: Form, mut facts: Value) -> Expected {
    if let Form::Solid(s) = &form {
        let centre = match s.shape() {
            Shape::Prism { section, from, to } => {
                let c = section.centroid();
                Some(Vec3::new(c.x, c.y, (from + to) / 2.0))
            }
            Shape::Box(_) | Shape::Cylinder { .. } | Shape::Sphere(_) => Some(Vec3::ZERO),
            Shape::Tube { .. } | Shape::Hull(_) => None,
        };
        if let Some(c) = centre {
            facts["centre"] = json!(seen(s.pose().point(c)));
        }
    }
    Expected { named: Named { id: id.into(), kind: Kind::Body, form, link: None }, facts }
}

/// Volume by which a mesh may miss: its corners lie on the surface, its flats within the bound of it.
pub fn slack(curved: f64) -> f64 {
    CHORD * curved + 1e-6
}

pub fn curved(c: &Contour) -> f64 {
    c.segments().iter().filter(|s| matches!(s, Segment::Arc(_))).map(Segment::len).sum()
}

/// Faces of a drawn ring by kind: a circle is two halves.
pub fn walls(rings: &[&Contour]) -> (usize, usize) {
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

pub fn faces(list: &[(&str, usize)]) -> Value {
    list.iter()
        .filter(|(_, n)| *n > 0)
        .map(|(k, n)| (k.to_string(), json!(n)))
        .collect::<serde_json::Map<_, _>>()
        .into()
}

pub fn prism(id: &str, section: Contour, from: f64, to: f64, pose: Pose) -> Expected {
    let (planes, cylinders) = walls(&[&section]);
    let facts = json!({
        "volume": section.area() * (to - from),
        "slack": slack(curved(&section) * (to - from)),
        "faces": faces(&[("Plane", planes), ("Cylinder", cylinders)]),
    });
    expected(id, solid(Shape::Prism { section, from, to }, pose), facts)
}

pub fn plate(id: &str, outline: Contour, openings: Vec<Contour>, from: f64, to: f64) -> Expected {
    let rings: Vec<&Contour> = std::iter::once(&outline).chain(&openings).collect();
    let (planes, cylinders) = walls(&rings);
    let area = outline.area() - openings.iter().map(Contour::area).sum::<f64>();
    let round: f64 = rings.iter().map(|r| curved(r)).sum();
    let weight = |c: &Contour| c.centroid().to_vec2() * c.area();
    let centre = (weight(&outline) - openings.iter().map(weight).fold(Vec2::ZERO, |a, b| a + b)) / area;
    let facts = json!({
        "volume": area * (to - from),
        "centre": [centre.x, centre.y, -(from + to) / 2.0],
        "slack": slack(round * (to - from)),
        "faces": faces(&[("Plane", planes), ("Cylinder", cylinders)]),
    });
    expected(id, Form::Plate(Plate { outline, openings, from, to }), facts)
}

pub fn ball(id: &str, r: f64, pose: Pose) -> Expected {
    let facts = json!({
        "volume": 4.0 / 3.0 * PI * r * r * r, "slack": slack(4.0 * PI * r * r), "faces": { "Sphere": 2 }
    });
    expected(id, solid(Shape::Sphere(r), pose), facts)
}

pub fn cylinder(id: &str, radius: f64, half: f64, pose: Pose) -> Expected {
    let facts = json!({
        "volume": TAU * radius * radius * half, "slack": slack(2.0 * TAU * radius * half),
        "faces": { "Plane": 2, "Cylinder": 2 }
    });
    expected(id, solid(Shape::Cylinder { radius, half }, pose), facts)
}

pub fn cuboid(id: &str, half: Vec3, pose: Pose) -> Expected {
    let facts = json!({ "volume": 8.0 * half.x * half.y * half.d, "slack": 1e-6, "faces": { "Plane": 6 } });
    expected(id, solid(Shape::Box(half), pose), facts)
}

/// A tube of smooth legs: by Pappus its volume is that of a straight one as long as its centre line.
pub fn tube(id: &str, path: Vec<Leg>, r: f64, pose: Pose) -> Expected {
    let long = |l: &Leg| match l {
        Leg::Line(a, b) => (*b - *a).length(),
        Leg::Arc { from, centre, angle, .. } => (*from - *centre).length() * angle.abs(),
    };
    let length: f64 = path.iter().map(long).sum();
    // its box: points of the centre line, a ten-thousandth of each leg apart
    let (mut low, mut high) = ([f64::INFINITY; 3], [f64::NEG_INFINITY; 3]);
    for leg in &path {
        for k in 0..=10_000 {
            let t = f64::from(k) / 1e4;
            let p = seen(pose.point(match leg {
                Leg::Line(a, b) => *a + (*b - *a) * t,
                Leg::Arc { from, centre, axis, angle } => Pose::about(*centre, *axis, angle * t).point(*from),
            }));
            for k in 0..3 {
                low[k] = low[k].min(p[k] - r);
                high[k] = high[k].max(p[k] + r);
            }
        }
    }
    let bends = path.iter().filter(|l| matches!(l, Leg::Arc { .. })).count();
    let facts = json!({
        "volume": PI * r * r * length + 4.0 / 3.0 * PI * r * r * r,
        "slack": slack(TAU * r * length + 4.0 * PI * r * r),
        "mesh_low": low, "mesh_high": high,
        "faces": faces(&[("Sphere", 2), ("Cylinder", 2 * (path.len() - bends)), ("Torus", 2 * bends)]),
    });
    expected(id, solid(Shape::Tube { path, radius: r }, pose), facts)
}

pub fn hull(id: &str, points: Vec<Vec3>, pose: Pose) -> Expected {
    let list: Vec<[f64; 3]> = points.iter().map(|p| seen(pose.point(*p))).collect();
    let facts = json!({ "hull": list, "slack": 1e-6 });
    expected(id, solid(Shape::Hull(points), pose), facts)
}

/// Writes the model in every format; the case that the script reads.
pub fn case(name: &str, list: Vec<Expected>) -> Value {
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
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(&made.name);
        std::fs::write(&path, &made.bytes).expect("a file in the target folder");
        case[if f.name == "3mf" { "mf3" } else { f.name }] = json!(path.to_string_lossy());
    }
    case
}

/// Steele's split mix: the same numbers on every run.
pub struct Rng(pub u64);

impl Rng {
    /// A number between two.
    pub fn within(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        low + (high - low) * ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    /// A vector in a cube.
    pub fn vector(&mut self, most: f64) -> Vec3 {
        Vec3::new(self.within(-most, most), self.within(-most, most), self.within(-most, most))
    }

    /// A smooth path: straights and bends in random planes, walked with a frame.
    pub fn path(&mut self) -> Vec<Leg> {
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
