//! The report as files: complete against the JSON report, well formed, laid out without a cut or hidden word.

#[path = "support/messy.rs"]
mod messy;
#[path = "support/panels.rs"]
mod panels;

#[path = "report_file/complete.rs"]
mod complete;
#[path = "report_file/hostile.rs"]
mod hostile;
#[path = "report_file/laid.rs"]
mod laid;

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const ROOT: &str = env!("CARGO_MANIFEST_DIR");

/// An empty folder for one test.
fn folder(name: &str) -> PathBuf {
    let p = Path::new(env!("CARGO_TARGET_TMPDIR")).join("report-file").join(name);
    let _ = std::fs::remove_dir_all(&p);
    std::fs::create_dir_all(&p).unwrap();
    p
}

/// The program, from the project's folder.
fn run(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_panelwright")).args(args).current_dir(ROOT).output().unwrap()
}

/// What a script of `tests/oracle` says; its failure is the test's.
fn oracle(script: &str, args: &[&Path]) -> String {
    let python = std::env::var("PANELWRIGHT_PYTHON").unwrap_or_else(|_| ".venv/bin/python".into());
    let read = Command::new(&python)
        .arg(Path::new("tests/oracle").join(script))
        .args(args)
        .current_dir(ROOT)
        .output()
        .unwrap_or_else(|e| panic!("cannot run {python} ({e}): `bash tests/all` makes it"));
    let said = String::from_utf8_lossy(&read.stdout).into_owned();
    assert!(read.status.success(), "{said}\n{}", String::from_utf8_lossy(&read.stderr));
    said
}
