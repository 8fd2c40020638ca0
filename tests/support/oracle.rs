//! Outside checks: cases written as lines of JSON, and the Python script that measures them again.

use panelwright::geom::{Contour, Segment};
use serde_json::{Value, json};
use std::io::Write;
use std::process::Command;

/// How many cases to draw: so many, or more when `PANELWRIGHT_LONG` is set.
pub fn cases(few: u64, many: u64) -> u64 {
    if std::env::var_os("PANELWRIGHT_LONG").is_some() { many } else { few }
}

/// A contour as the scripts read it.
pub fn pieces(c: &Contour) -> Value {
    let piece = |s: &Segment| match s {
        Segment::Line(l) => json!(["line", l.a.x, l.a.y]),
        Segment::Arc(a) => json!(["arc", a.centre.x, a.centre.y, a.radius, a.start, a.sweep]),
    };
    c.segments().iter().map(piece).collect()
}

/// Writes the cases, runs `tests/oracle/SCRIPT` on them and prints what it says; panics with it where it finds a
/// difference.
pub fn agrees(script: &str, cases: impl Iterator<Item = Value>) {
    let name = script.replace(".py", ".jsonl");
    let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let file = std::fs::File::create(&path).expect("a file in the target folder");
    let mut file = std::io::BufWriter::new(file);
    for case in cases {
        writeln!(file, "{case}").expect("written");
    }
    file.into_inner().expect("written").sync_all().expect("written");
    let python = std::env::var("PANELWRIGHT_PYTHON").unwrap_or_else(|_| ".venv/bin/python".into());
    let run = Command::new(&python)
        .args([format!("tests/oracle/{script}"), path.to_string_lossy().into_owned()])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap_or_else(|e| panic!("cannot run {python} ({e}): `bash tests/all` makes it"));
    let said = String::from_utf8_lossy(&run.stdout);
    assert!(run.status.success(), "{said}\n{}", String::from_utf8_lossy(&run.stderr));
    println!("{said}");
}
