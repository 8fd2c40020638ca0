//! The whole program, started as a user starts it: from reading the file to the last byte printed.

use std::process::Command;

fn main() {
    divan::main();
}

fn run(args: &[&str]) {
    let out = Command::new(env!("CARGO_BIN_EXE_panelwright"))
        .args(args)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("the program starts");
    assert!(out.status.code().is_some_and(|c| c <= 1), "{}", String::from_utf8_lossy(&out.stderr));
}

#[divan::bench(sample_count = 50)]
fn check() {
    run(&["check", "panels/wheatear/proposed.json"]);
}

#[divan::bench(sample_count = 50)]
fn check_json() {
    run(&["check", "panels/wheatear/proposed.json", "--format", "json"]);
}

#[divan::bench(sample_count = 20)]
fn template() {
    let folder = concat!(env!("CARGO_TARGET_TMPDIR"), "/bench-template");
    run(&["template", "panels/wheatear/proposed.json", "--out", folder]);
}

#[divan::bench(sample_count = 20)]
fn drawing() {
    let folder = concat!(env!("CARGO_TARGET_TMPDIR"), "/bench-drawing");
    run(&["drawing", "panels/dunlin/proposed.json", "--out", folder]);
}

#[divan::bench(args = ["html", "pdf"], sample_count = 20)]
fn report(format: &str) {
    let folder = concat!(env!("CARGO_TARGET_TMPDIR"), "/bench-report");
    run(&["report", "panels/dunlin/proposed.json", "--formats", format, "--out", folder]);
}

/// The largest demo, all formats of all its sheets: under 400 ms.
#[divan::bench(sample_count = 20)]
fn template_of_the_largest() {
    let folder = concat!(env!("CARGO_TARGET_TMPDIR"), "/bench-largest");
    run(&["template", "panels/dunlin/proposed.json", "--out", folder]);
}
