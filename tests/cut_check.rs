//! The check of cutting files: messages word for word, other programs' files, our own, and damaged ones.

#[path = "cut/fuzz.rs"]
mod fuzz;
#[path = "cut/messages.rs"]
mod messages;
#[path = "cut/other_readers.rs"]
mod other_readers;
#[path = "cut/ours.rs"]
mod ours;
#[path = "support/panels.rs"]
mod panels;
#[path = "cut/refused.rs"]
mod refused;
#[path = "cut/traps.rs"]
mod traps;
#[path = "support/written.rs"]
mod written;

use panelwright::cut::{self, Options, Report};
use panelwright::import::{self, CutFile, ReadOptions};
use panelwright::panel::ProcessKind;

/// Waterjet through 2 mm.
fn waterjet() -> Options {
    Options { process: Some(ProcessKind::Waterjet), thickness: Some(2.0), ..Options::default() }
}

fn read(bytes: &[u8]) -> CutFile {
    import::read("file", bytes, &ReadOptions::default()).unwrap_or_else(|p| panic!("{p}"))
}

fn check(text: &str, options: &Options) -> Report {
    cut::check(&read(text.as_bytes()), options).unwrap_or_else(|p| panic!("{p}"))
}

/// "verdict rule: words" of every finding that is no pass.
fn told(r: &Report) -> Vec<String> {
    r.findings
        .iter()
        .filter(|f| f.verdict.word() != "pass")
        .map(|f| format!("{} {}: {}", f.verdict.word(), f.rule.id, f.says))
        .collect()
}

/// A DXF of version 2000 in mm with these entities on layer CUT.
fn dxf(entities: &str) -> String {
    dxf_with("9\n$INSUNITS\n70\n4\n", entities)
}

fn dxf_with(header: &str, entities: &str) -> String {
    format!(
        "0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1015\n{header}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n"
    )
}

fn line(a: (f64, f64), b: (f64, f64)) -> String {
    format!("0\nLINE\n8\nCUT\n10\n{}\n20\n{}\n11\n{}\n21\n{}\n", a.0, a.1, b.0, b.1)
}

fn circle(x: f64, y: f64, r: f64) -> String {
    format!("0\nCIRCLE\n8\nCUT\n10\n{x}\n20\n{y}\n40\n{r}\n")
}

/// A closed polyline on layer CUT.
fn polygon(corners: &[(f64, f64)]) -> String {
    let mut s = format!("0\nLWPOLYLINE\n8\nCUT\n90\n{}\n70\n1\n", corners.len());
    for (x, y) in corners {
        s += &format!("10\n{x}\n20\n{y}\n");
    }
    s
}

/// A rectangle with corners rounded by 3 mm, from (0, 0).
fn plate(w: f64, h: f64) -> String {
    let b = 0.414_213_562_373_095_03;
    let corners = [
        (3.0, 0.0, 0.0),
        (w - 3.0, 0.0, b),
        (w, 3.0, 0.0),
        (w, h - 3.0, b),
        (w - 3.0, h, 0.0),
        (3.0, h, b),
        (0.0, h - 3.0, 0.0),
        (0.0, 3.0, b),
    ];
    let mut s = "0\nLWPOLYLINE\n8\nCUT\n90\n8\n70\n1\n".to_owned();
    for (x, y, bulge) in corners {
        s += &format!("10\n{x}\n20\n{y}\n42\n{bulge}\n");
    }
    s
}
