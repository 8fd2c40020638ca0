//! Pages have the standard's size, files are the same twice, and the scale is what it says.

use crate::kit::{demos, draw, random};
use panelwright::draw::drawing::{DrawingOptions, PageSize, SIZES, drawing};
use panelwright::export::{self, Options};
use panelwright::units::Unit;
use std::process::Command;

/// Trimmed sizes, mm: ISO 216 (A4 upright, the others lying as ISO 5457 has them) and ASME Y14.1 (public tables).
const STANDARD: [(&str, f64, f64); 10] = [
    ("a4", 210.0, 297.0),
    ("a3", 420.0, 297.0),
    ("a2", 594.0, 420.0),
    ("a1", 841.0, 594.0),
    ("a0", 1189.0, 841.0),
    ("a", 279.4, 215.9),
    ("b", 431.8, 279.4),
    ("c", 558.8, 431.8),
    ("d", 863.6, 558.8),
    ("e", 1117.6, 863.6),
];

/// Page boxes of a PDF file in mm, read by pypdf (PyPI).
fn boxes(path: &std::path::Path) -> Vec<(f64, f64)> {
    let python = std::env::var("PANELWRIGHT_PYTHON").unwrap_or_else(|_| ".venv/bin/python".into());
    let code = "import sys\nfrom pypdf import PdfReader\nfor p in PdfReader(sys.argv[1]).pages:\n b = p.mediabox\n \
                print(float(b.width) / 72 * 25.4, float(b.height) / 72 * 25.4)";
    let run = Command::new(&python)
        .args(["-c", code])
        .arg(path)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap_or_else(|e| panic!("cannot run {python} ({e}): `bash tests/all` makes it"));
    assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
    let said = String::from_utf8_lossy(&run.stdout).into_owned();
    let both = |l: &str| l.split_once(' ').map(|(w, h)| (w.parse().unwrap(), h.parse().unwrap())).unwrap();
    said.lines().map(both).collect()
}

#[test]
fn pages_have_the_standards_size_in_pdf() {
    let panel = demos().remove(1);
    for (name, w, h) in STANDARD {
        let opts = DrawingOptions { page: PageSize::named(name), stale: None };
        let d = drawing(&panel, 0, &[], &opts).unwrap();
        let bytes = export::pdf::write(&d).unwrap();
        let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("drawing-{name}.pdf"));
        std::fs::write(&path, bytes).unwrap();
        let found = boxes(&path);
        assert_eq!(found.len(), d.pages.len());
        for (x, y) in found {
            assert!((x - w).abs() < 0.01 && (y - h).abs() < 0.01, "{name}: {x} x {y}");
        }
    }
    assert!(SIZES.iter().all(|s| STANDARD.iter().any(|(n, ..)| n == &s.name)));
}

#[test]
fn the_same_panel_gives_the_same_bytes_in_every_format() {
    for seed in [1, 4, 6] {
        let p = random(seed);
        for f in export::FORMATS.iter().filter(|f| f.name != "dxf-r12") {
            let make = || export::files(f, &draw(&p, 0), "x", &Options { dpi: 60.0 }).unwrap();
            let (a, b) = (make(), make());
            assert!(!a.is_empty() && a == b, "{}", f.name);
        }
    }
}

#[test]
fn the_unit_chooses_the_family_and_the_size_the_page() {
    let of = |d: &panelwright::draw::Drawing, key: &str| {
        d.meta.iter().find(|(k, _)| k == key).map(|(_, v)| v.clone()).unwrap()
    };
    let mut small = crate::panels::bare(60.0, 45.0);
    let d = draw(&small, 0);
    assert_eq!((of(&d, "page"), of(&d, "scale")), ("A4".into(), "2:1".into()));
    small.unit = Unit::Inch;
    assert_eq!(of(&draw(&small, 0), "page"), "A");
    let mut large = crate::panels::bare(900.0, 350.0);
    let d = draw(&large, 0);
    assert_eq!((of(&d, "page"), of(&d, "scale")), ("A2".into(), "1:2".into()));
    large.unit = Unit::Inch;
    assert_eq!((of(&draw(&large, 0), "page"), of(&draw(&large, 0), "scale")), ("C".into(), "1:2".into()));
}

#[test]
fn refusals_say_what_to_do() {
    let p = crate::panels::bare(5000.0, 350.0);
    let opts = DrawingOptions { page: PageSize::named("a4"), stale: None };
    let said = drawing(&p, 0, &[], &opts).unwrap_err().to_string();
    assert_eq!(
        said,
        "a sheet of 5000 x 350 mm does not fit on a4 at any standard scale: ask for a larger page, or leave the \
         choice to the program"
    );
    let said = drawing(&p, 3, &[], &opts).unwrap_err().to_string();
    assert_eq!(said, "there is no sheet number 4: the panel has 1");
}
