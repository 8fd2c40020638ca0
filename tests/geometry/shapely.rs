//! 1,500 pairs of random shapes measured again by shapely (PyPI), within the bound of its chords.
//! `PANELWRIGHT_LONG=1` draws 30,000.

use super::shapes::pair;
use panelwright::geom::margin::margin_inside;
use panelwright::geom::penetration::penetration;
use panelwright::geom::{Contour, Segment, distance};
use serde_json::{Value, json};
use std::io::Write;
use std::process::Command;

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

fn described(c: &Contour) -> Value {
    let m = c.moments();
    json!({
        "pieces": pieces(c), "area": m.area, "centroid": [m.centroid.x, m.centroid.y],
        "second": [m.ixx, m.iyy, m.ixy], "perimeter": c.perimeter(),
    })
}

/// A list of contours, or null where the library answers that it has none to give.
fn list(found: Option<Vec<Contour>>) -> Value {
    found.map_or(Value::Null, |v| v.iter().map(pieces).collect())
}

#[test]
fn random_pairs_agree_with_shapely() {
    let count = if std::env::var_os("PANELWRIGHT_LONG").is_some() { 30_000 } else { 1_500 };
    let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("random-pairs.jsonl");
    let mut file =
        std::io::BufWriter::new(std::fs::File::create(&path).expect("a file in the target folder"));
    for seed in 0..count {
        let (a, b) = pair(seed);
        let gap = distance::contours(&a, &b);
        let by = [-6.0, -2.5, -0.1, 0.1, 2.5, 6.0][(seed % 6) as usize];
        let line = json!({
            "seed": seed, "a": described(&a), "b": described(&b),
            "distance": gap.distance, "relation": format!("{:?}", gap.relation),
            "shift": penetration(&a, &b).map(|d| [d.by.x, d.by.y]),
            "exact": penetration(&a, &b).map(|d| d.exact), "convex": [a.is_convex(), b.is_convex()],
            "margin": margin_inside(&b, &a),
            "by": by, "offset": list(a.offset(by).ok()),
            "union": list(a.union(&b)), "without": list(a.without(&b)),
        });
        writeln!(file, "{line}").expect("written");
    }
    file.into_inner().expect("written").sync_all().expect("written");
    let python = std::env::var("PANELWRIGHT_PYTHON").unwrap_or_else(|_| ".venv/bin/python".into());
    let run = Command::new(&python)
        .args(["tests/oracle/pairs_shapely.py", &path.to_string_lossy()])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap_or_else(|e| panic!("cannot run {python} ({e}): `bash tests/all` makes it"));
    let said = String::from_utf8_lossy(&run.stdout);
    assert!(run.status.success(), "{said}\n{}", String::from_utf8_lossy(&run.stderr));
    println!("{said}");
}
