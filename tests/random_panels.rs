//! Web, sheet edge, bezel gap and area of random panels against shapely (PyPI), within the bound of its
//! chords; no verdict may differ outside that bound, and no pair within reach may be missing.
//!
//! 1,000 panels by default; `PANELWRIGHT_LONG=1` draws 20,000.

use panelwright::check::{self, Options};
use panelwright::diag::Where;
use panelwright::geom::{Contour, Point, Segment, Transform};
use panelwright::panel::*;
use panelwright::units::Unit;
use serde_json::{Value, json};
use std::io::Write;
use std::process::Command;

/// A small generator with a stated sequence (splitmix64), so that a failing panel can be drawn again.
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    fn range(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    fn below(&mut self, n: u64) -> u64 {
        self.next() % n
    }
}

fn place() -> Where {
    Where { file: "random".into(), line: 1, column: 1, start: 0, end: 0 }
}

fn part(name: &str, class: Class, contour: Contour, detail: Detail) -> Part {
    let b = contour.bounds();
    Part {
        name: name.into(),
        class,
        sheet: 0,
        centre: contour.as_circle().map_or_else(|| b.center(), |(c, _)| c),
        contour,
        depth: None,
        terms: Vec::new(),
        source: SizeSource { basis: Basis::File, words: "random".into() },
        detail,
        place: place(),
    }
}

fn subject(id: String, kind: SubjectKind, at: Point, parts: Vec<Part>) -> Subject {
    Subject {
        title: id.clone(),
        id,
        kind,
        at,
        turn: 0.0,
        mirrored: false,
        sheet: 0,
        group: 0,
        state: State::New,
        provision: false,
        locked: false,
        carrier: None,
        facts: None,
        checked: None,
        parts,
        missing: Vec::new(),
        place: place(),
        units: 0..0,
    }
}

/// A random instrument about the origin: round with four screws, or a display with rounded corners.
fn instrument(d: &mut Dice) -> Vec<(&'static str, Class, Contour, Detail)> {
    const SCREWS: [&str; 4] = ["s1", "s2", "s3", "s4"];
    let cutout = Detail::Cutout { make: Make::Drawing };
    let hole =
        |r: f64| Detail::Hole { diameter: Some(2.0 * r), fastening: None, free: true, make: Make::Drawing };
    let mut list = Vec::new();
    if d.below(3) > 0 {
        let r = d.range(8.0, 42.0);
        list.push(("main", Class::Cutout, Contour::circle(Point::ORIGIN, r), cutout));
        let h = r * 0.79;
        for (k, name) in SCREWS.into_iter().enumerate() {
            let c = Point::new(if k % 2 == 0 { h } else { -h }, if k < 2 { h } else { -h });
            list.push((name, Class::Hole, Contour::circle(c, 2.2), hole(2.2)));
        }
        list.push((
            "bezel",
            Class::Bezel,
            Contour::rect(Point::ORIGIN, 2.1 * r, 2.1 * r, 0.3 * r),
            Detail::Plain,
        ));
    } else {
        let (w, h) = (d.range(20.0, 160.0), d.range(20.0, 110.0));
        let corner = if d.below(4) == 0 { 0.0 } else { d.range(0.5, 9.0) };
        list.push(("main", Class::Cutout, Contour::rect(Point::ORIGIN, w, h, corner), cutout));
        list.push((
            "bezel",
            Class::Bezel,
            Contour::rect(Point::ORIGIN, w + 8.0, h + 8.0, corner + 2.0),
            Detail::Plain,
        ));
    }
    list
}

fn panel(seed: u64) -> Panel {
    let mut d = Dice(seed);
    let (w, h) = (d.range(300.0, 900.0), d.range(120.0, 320.0));
    let at = Point::new(d.range(-500.0, 500.0), d.range(-500.0, 500.0));
    let turned = Transform::place(at, d.range(0.0, 360.0), d.below(2) == 0);
    let corner = d.range(0.0, 55.0);
    let outline = turned.contour(&Contour::rect(Point::ORIGIN, w, h, corner));
    let mut subjects = vec![subject(
        "sheet".into(),
        SubjectKind::Sheet,
        at,
        vec![part("", Class::Edge, outline.clone(), Detail::Plain)],
    )];
    for k in 0..4 + d.below(14) {
        let spot = turned.point(Point::new(d.range(-w, w) * 0.52, d.range(-h, h) * 0.52));
        // multiples of 90 degrees half of the time: parallel edges are the common case
        let turn = if d.below(2) == 0 { 90.0 * d.below(4) as f64 } else { d.range(0.0, 360.0) };
        let t = Transform::place(spot, turn, d.below(2) == 0);
        let parts = instrument(&mut d)
            .into_iter()
            .map(|(n, c, s, detail)| part(n, c, t.contour(&s), detail))
            .collect();
        subjects.push(subject(format!("i{k}"), SubjectKind::Placement, spot, parts));
    }
    Panel {
        name: format!("random {seed}"),
        slug: format!("random-{seed}"),
        unit: Unit::Millimetre,
        tilt: None,
        eye_distance: None,
        sheets: vec![Sheet {
            id: "sheet".into(),
            role: SheetRole::Main,
            layer_of: None,
            subject: 0,
            outline,
            material: None,
            thickness: Some(2.0),
            thickness_written: None,
            coat: None,
            front: 0.0,
            new: true,
            structure: (Structure::No, None),
            place: place(),
        }],
        subjects,
        process: None,
        depth: DepthMap::default(),
        limits: Default::default(),
        accepted: Vec::new(),
        title: Title::default(),
        cut_anyway: None,
        hash: String::new(),
        remarks: Vec::new(),
    }
}

fn pieces(c: &Contour) -> Value {
    let list: Vec<Value> = c
        .segments()
        .iter()
        .map(|s| match s {
            Segment::Line(l) => json!(["line", l.a.x, l.a.y]),
            Segment::Arc(a) => json!(["arc", a.centre.x, a.centre.y, a.radius, a.start, a.sweep]),
        })
        .collect();
    json!(list)
}

#[test]
fn a_thousand_random_panels_agree_with_shapely() {
    let count = if std::env::var_os("PANELWRIGHT_LONG").is_some() { 20_000 } else { 1_000 };
    let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("random-panels.jsonl");
    let mut file = std::io::BufWriter::new(std::fs::File::create(&path).unwrap());
    for seed in 0..count {
        let p = panel(seed);
        let findings = check::check(&p, &Options { all_pairs: true });
        let parts: Vec<Value> = p
            .subjects
            .iter()
            .enumerate()
            .flat_map(|(s, subject)| subject.parts.iter().enumerate().map(move |(k, part)| (s, k, part)))
            .map(|(s, k, part)| {
                let c = part.contour.centroid();
                json!({
                    "ref": [s, k], "class": format!("{:?}", part.class), "pieces": pieces(&part.contour),
                    "area": part.contour.area(), "centroid": [c.x, c.y],
                })
            })
            .collect();
        let list: Vec<Value> = findings.list
            .iter()
            .filter(|f| ["web", "sheet-edge", "bezel-gap"].contains(&f.rule.id))
            .map(|f| {
                json!({
                    "rule": f.rule.id, "a": [f.a.subject, f.a.part], "b": f.b.map(|b| [b.subject, b.part]),
                    "verdict": f.verdict.word(), "measured": f.measured.map(|m| [m.lower, m.upper]), "asked": f.asked,
                })
            })
            .collect();
        writeln!(file, "{}", json!({ "seed": seed, "parts": parts, "findings": list })).unwrap();
    }
    file.into_inner().unwrap().sync_all().unwrap();
    let python = std::env::var("PANELWRIGHT_PYTHON").unwrap_or_else(|_| ".venv/bin/python".into());
    let run = Command::new(&python)
        .args(["tests/oracle/panels.py", &path.to_string_lossy()])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap_or_else(|e| panic!("cannot run {python} ({e}): `bash tests/all` makes it"));
    let said = String::from_utf8_lossy(&run.stdout);
    assert!(run.status.success(), "{said}\n{}", String::from_utf8_lossy(&run.stderr));
    println!("{said}");
}
