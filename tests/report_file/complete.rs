//! Other people's readers: html5lib (strict), pypdf, pdfplumber. Every finding of the JSON report stands in the HTML with
//! its verdict and number, and every word of the HTML stands in the PDF.

use crate::{folder, oracle, run};

/// Reports and JSON of a panel, read back.
fn complete(panel: &str, slug: &str, paper: &str) {
    let at = folder(&format!("{slug}-{paper}"));
    let out = at.to_str().unwrap();
    let made = run(&["report", panel, "--out", out, "--paper", paper]);
    let checked = run(&["check", panel, "--format", "json"]);
    let said = String::from_utf8_lossy(&made.stderr).into_owned();
    assert_eq!(made.status.code(), checked.status.code(), "a report ends as the check does: {said}");
    let json = at.join("findings.json");
    std::fs::write(&json, &checked.stdout).unwrap();
    let html = at.join(format!("{slug}-report.html"));
    let pdf = at.join(format!("{slug}-report.pdf"));
    let said = oracle("report_file.py", &[&json, &html, &pdf, std::path::Path::new(paper)]);
    assert!(said.contains("findings in HTML and PDF"), "{said}");
    println!("{panel}: {said}");
}

#[test]
fn every_finding_of_the_strip_panel_on_a4() {
    complete("panels/wheatear/as-found.json", "wheatear-as-found", "a4");
    complete("panels/wheatear/proposed.json", "wheatear-proposed", "a4");
}

#[test]
fn every_finding_of_the_largest_panel_on_letter() {
    complete("panels/dunlin/proposed.json", "dunlin-proposed", "letter");
}

#[test]
fn every_finding_of_a_panel_between_sticks_and_canopy() {
    complete("panels/corncrake/fixed-as-found.json", "corncrake-fixed-as-found", "a4");
}
