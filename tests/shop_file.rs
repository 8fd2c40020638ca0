//! The demo's shop files and template PDF, made by the program and read by ezdxf and pypdf, against a table
//! made by hand.

use std::path::{Path, PathBuf};
use std::process::Command;

const ROOT: &str = env!("CARGO_MANIFEST_DIR");

/// The demo's template in these formats.
fn made(formats: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("shop-file").join(formats.replace(',', "-"));
    let _ = std::fs::remove_dir_all(&folder);
    let made = Command::new(env!("CARGO_BIN_EXE_panelwright"))
        .args(["template", "panels/wheatear/proposed.json", "--paper", "a4", "--formats", formats, "--out"])
        .arg(&folder)
        .current_dir(ROOT)
        .output()
        .unwrap();
    assert!(made.status.success(), "{}", String::from_utf8_lossy(&made.stderr));
    folder
}

/// What a script of `tests/oracle` says; its failure is the test's.
fn oracle(args: &[&Path]) -> String {
    let python = std::env::var("PANELWRIGHT_PYTHON").unwrap_or_else(|_| ".venv/bin/python".into());
    let read = Command::new(&python)
        .args(args)
        .current_dir(ROOT)
        .output()
        .unwrap_or_else(|e| panic!("cannot run {python} ({e}): `bash tests/all` makes it"));
    let said = String::from_utf8_lossy(&read.stdout).into_owned();
    assert!(read.status.success(), "{said}\n{}", String::from_utf8_lossy(&read.stderr));
    said
}

#[test]
fn the_shop_files_hold_what_the_panel_file_says() {
    let folder = made("dxf,dxf-r12");
    let said = oracle(&[
        Path::new("tests/oracle/shop_file.py"),
        &folder.join("wheatear-proposed.dxf"),
        &folder.join("wheatear-proposed-r12-mm.dxf"),
    ]);
    assert_eq!(said.lines().count(), 2, "{said}");
}

/// ISO 216: A4 is 210 mm x 297 mm.
#[test]
fn the_template_pdf_holds_what_the_panel_file_says() {
    let folder = made("pdf");
    let said = oracle(&[
        Path::new("tests/oracle/demo_pdf.py"),
        &folder.join("wheatear-proposed.pdf"),
        &folder.join("wheatear-proposed-tiles.pdf"),
        Path::new("210"),
        Path::new("297"),
    ]);
    assert!(said.contains("circles, worst"), "{said}");
}
