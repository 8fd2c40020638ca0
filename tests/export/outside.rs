//! Other people's readers: ezdxf, pypdf, qpdf, poppler, svgelements. A missing reader fails the test.

use crate::{facts, scene};
use panelwright::draw::{Drawing, Units};
use panelwright::export::{self, FORMATS, Options};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::process::Command;

/// An empty folder under the build's own.
pub fn folder(name: &str) -> PathBuf {
    let dir = Path::new(env!("CARGO_TARGET_TMPDIR")).join("export").join(name);
    let _ = std::fs::remove_dir_all(&dir);
    std::fs::create_dir_all(&dir).expect("a folder for the test's files");
    dir
}

/// Runs a program; its failure is the test's, with everything it said.
pub fn run(program: &str, args: &[&str], why: &str) -> String {
    let out = Command::new(program)
        .args(args)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap_or_else(|e| panic!("{program} cannot be run ({e}): {why}"));
    let said = format!("{}{}", String::from_utf8_lossy(&out.stdout), String::from_utf8_lossy(&out.stderr));
    assert!(out.status.success(), "{program} {args:?} failed:\n{said}");
    said
}

fn python(script: &str, dir: &Path) {
    let python = std::env::var("PANELWRIGHT_PYTHON").unwrap_or_else(|_| ".venv/bin/python".to_owned());
    let said = run(
        &python,
        &[&format!("tests/oracle/{script}"), dir.to_str().expect("a plain path")],
        "this test compares with other readers; set PANELWRIGHT_PYTHON to a Python that has ezdxf, pypdf and svgelements",
    );
    println!("{said}");
}

/// Writes every drawing in a format with the facts beside it, and has a script compare them.
fn compare(format: &str, script: &str, drawings: &[(String, Drawing, Vec<usize>)]) {
    let dir = folder(format);
    let format = export::format(format).expect("a known format");
    let mut expected: Vec<Value> = Vec::new();
    for (name, drawing, pages) in drawings {
        match format.pages {
            export::Pages::Together => {
                let file = format!("{name}.{}", format.extension);
                let bytes = (format.write)(drawing, 0, &Options::default()).expect("written");
                std::fs::write(dir.join(&file), bytes).expect("saved");
                expected.extend((0..drawing.pages.len()).map(|k| facts::page(drawing, k, &file)));
            }
            export::Pages::Each => {
                for k in pages {
                    let file = format!("{name}-{k}.{}", format.extension);
                    let bytes = (format.write)(drawing, *k, &Options::default()).expect("written");
                    std::fs::write(dir.join(&file), bytes).expect("saved");
                    expected.push(facts::page(drawing, *k, &file));
                }
            }
        }
    }
    let facts = json!({"format": format.name, "words": scene::WORDS, "pages": expected});
    std::fs::write(dir.join("facts.json"), facts.to_string()).expect("saved");
    python(script, &dir);
}

fn drawings(plate_pages: &[usize]) -> Vec<(String, Drawing, Vec<usize>)> {
    let plate = |units: Units| (format!("plate-{}", units.word()), scene::plate(units), plate_pages.to_vec());
    let mut all = vec![plate(Units::Millimetre), plate(Units::Inch)];
    all.extend((0..60).map(|seed| (format!("random-{seed}"), scene::random(seed), vec![0, 1])));
    all
}

#[test]
fn ezdxf_reads_the_2000_version_without_repairs() {
    compare("dxf", "dxf_read.py", &drawings(&[0]));
}

#[test]
fn ezdxf_reads_r12_without_repairs() {
    compare("dxf-r12", "dxf_read.py", &drawings(&[0]));
}

#[test]
fn svgelements_reads_the_svg() {
    compare("svg", "svg_read.py", &drawings(&[0, 1, 2]));
}

#[test]
fn pypdf_reads_the_pdf() {
    compare("pdf", "pdf_read.py", &drawings(&[0, 1, 2]));
}

#[test]
fn qpdf_finds_nothing_wrong() {
    let dir = folder("qpdf");
    let mut all = vec![scene::plate(Units::Millimetre)];
    all.extend((0..5).map(scene::random));
    for (k, drawing) in all.iter().enumerate() {
        let path = dir.join(format!("{k}.pdf"));
        std::fs::write(&path, export::pdf::write(drawing).expect("written")).expect("saved");
        let said = run("qpdf", &["--check", path.to_str().expect("a plain path")], "install qpdf");
        assert!(said.contains("No syntax or stream encoding errors found"), "{said}");
    }
}

#[test]
fn every_format_has_a_writer_and_its_own_name() {
    let plate = scene::plate(Units::Inch);
    for f in &FORMATS {
        assert!(export::format(f.name).is_some_and(|g| g.name == f.name));
        assert!(!(f.write)(&plate, 0, &Options { dpi: 30.0 }).expect("written").is_empty(), "{}", f.name);
    }
    let names = |format: &str, drawing: &Drawing| -> Vec<String> {
        let f = export::format(format).expect("known");
        export::files(f, drawing, "plate", &Options { dpi: 30.0 })
            .expect("made")
            .into_iter()
            .map(|m| m.name)
            .collect()
    };
    assert_eq!(names("svg", &plate), ["plate-sheet-1.svg", "plate-tile-a1.svg", "plate-tile-a2.svg"]);
    assert_eq!(names("pdf", &plate), ["plate.pdf"]);
    let mut one = scene::plate(Units::Inch);
    one.pages.truncate(1);
    assert_eq!(names("dxf-r12", &one), ["plate-r12-inch.dxf"]);
    assert_eq!(names("dxf", &one), ["plate.dxf"]);
}
