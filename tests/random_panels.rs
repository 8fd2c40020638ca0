//! Web, sheet edge, bezel gap and area of random panels against shapely (PyPI), within the bound of its
//! chords; no verdict may differ outside that bound, and no pair within reach may be missing.
//!
//! 1,000 panels by default; `PANELWRIGHT_LONG=1` draws 20,000.

#[path = "support/panels.rs"]
mod panels;

use panels::{Dice, bare, part, subject};
use panelwright::check::{self, Options};
use panelwright::geom::{Contour, Point, Segment, Transform};
use panelwright::panel::*;
use serde_json::{Value, json};
use std::io::Write;
use std::process::Command;

/// A random instrument about the origin: round with four screws, or a display with rounded corners.
fn instrument(d: &mut Dice) -> Vec<(&'static str, Class, Contour, Detail)> {
    const SCREWS: [&str; 4] = ["s1", "s2", "s3", "s4"];
    let cutout = Detail::Cutout { make: Make::Drawing };
    let hole =
        |r: f64| Detail::Hole { diameter: Some(2.0 * r), fastening: None, free: true, make: Make::Drawing };
    let mut list = Vec::new();
    if !d.one_in(3) {
        let r = d.real(8.0, 42.0);
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
        let (w, h) = (d.real(20.0, 160.0), d.real(20.0, 110.0));
        let corner = if d.one_in(4) { 0.0 } else { d.real(0.5, 9.0) };
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
    let mut d = Dice::new(seed);
    let (w, h) = (d.real(300.0, 900.0), d.real(120.0, 320.0));
    let at = Point::new(d.real(-500.0, 500.0), d.real(-500.0, 500.0));
    let turned = Transform::place(at, d.real(0.0, 360.0), d.one_in(2));
    let outline = turned.contour(&Contour::rect(Point::ORIGIN, w, h, d.real(0.0, 55.0)));
    let mut panel = bare(w, h);
    panel.sheets[0].outline = outline.clone();
    panel.subjects[0].parts[0] = part("", Class::Edge, outline, Detail::Plain);
    for k in 0..4 + d.below(14) {
        let spot = turned.point(Point::new(d.real(-w, w) * 0.52, d.real(-h, h) * 0.52));
        // multiples of 90 degrees half of the time: parallel edges are the common case
        let turn = if d.one_in(2) { 90.0 * d.below(4) as f64 } else { d.real(0.0, 360.0) };
        let t = Transform::place(spot, turn, d.one_in(2));
        let mut s = subject(&format!("i{k}"), SubjectKind::Placement, spot);
        s.parts = instrument(&mut d)
            .into_iter()
            .map(|(n, c, shape, detail)| part(n, c, t.contour(&shape), detail))
            .collect();
        panel.subjects.push(s);
    }
    panel
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
