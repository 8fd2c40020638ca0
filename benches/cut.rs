//! How long a cutting file takes to read and to check, and how that grows with its entities.

use divan::{Bencher, black_box};
use panelwright::cut::{self, Options};
use panelwright::import::{self, ReadOptions};
use panelwright::panel::ProcessKind;

fn main() {
    divan::main();
}

fn file(entities: &str) -> String {
    format!(
        "0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1015\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n"
    )
}

fn frame(side: f64) -> String {
    format!(
        "0\nLWPOLYLINE\n8\nCUT\n90\n4\n70\n1\n10\n-10\n20\n-10\n10\n{side}\n20\n-10\n10\n{side}\n20\n{side}\n10\n-10\n20\n{side}\n"
    )
}

/// A sheet with so many round holes.
fn holes(n: usize) -> String {
    let row = (n as f64).sqrt().ceil() as usize;
    let mut s = frame(10.0 * row as f64);
    for k in 0..n {
        let (x, y) = (10 * (k % row), 10 * (k / row));
        s += &format!("0\nCIRCLE\n8\nCUT\n10\n{x}\n20\n{y}\n40\n{}\n", 2.0 + (k % 7) as f64 / 4.0);
    }
    file(&s)
}

/// A sheet with slots of two straights and two arcs each, as loose entities.
fn slots(n: usize) -> String {
    let row = (n as f64 / 4.0).sqrt().ceil() as usize;
    let mut s = frame(12.0 * row as f64);
    for k in 0..n / 4 {
        let (x, y) = (12 * (k % row), 12 * (k / row));
        for (a, b) in [(y, y), (y + 5, y + 5)] {
            s += &format!("0\nLINE\n8\nCUT\n10\n{x}\n20\n{a}\n11\n{}\n21\n{b}\n", x + 3);
        }
        for (c, from, to) in [(x, 90, 270), (x + 3, 270, 90)] {
            s += &format!("0\nARC\n8\nCUT\n10\n{c}\n20\n{}.5\n40\n2.5\n50\n{from}\n51\n{to}\n", y + 2);
        }
    }
    file(&s)
}

/// The same hole again and again.
fn copies(n: usize) -> String {
    file(&(frame(100.0) + &"0\nCIRCLE\n8\nCUT\n10\n40\n20\n40\n40\n5\n".repeat(n)))
}

fn whole(bencher: Bencher, text: String) {
    let options =
        Options { process: Some(ProcessKind::Waterjet), thickness: Some(2.0), ..Options::default() };
    bencher.bench_local(|| {
        let file = import::read("bench.dxf", black_box(text.as_bytes()), &ReadOptions::default());
        file.ok().map(|f| cut::check(&f, &options).map(|r| r.facts.contours))
    });
}

#[divan::bench(args = [2_000, 20_000], sample_count = 5)]
fn round_holes(bencher: Bencher, n: usize) {
    whole(bencher, holes(n));
}

#[divan::bench(args = [2_000, 20_000], sample_count = 5)]
fn loose_slots(bencher: Bencher, n: usize) {
    whole(bencher, slots(n));
}

#[divan::bench(args = [2_000, 20_000], sample_count = 5)]
fn copies_of_one(bencher: Bencher, n: usize) {
    whole(bencher, copies(n));
}

/// One outline of so many straights.
#[divan::bench(args = [2_000, 20_000], sample_count = 5)]
fn one_long_outline(bencher: Bencher, n: usize) {
    let mut s = format!("0\nLWPOLYLINE\n8\nCUT\n90\n{n}\n70\n1\n");
    for k in 0..n {
        let u = panelwright::geom::angle::unit(k as f64 / n as f64 * std::f64::consts::TAU);
        let r = 300.0 + (k % 2) as f64;
        s += &format!("10\n{}\n20\n{}\n", u.x * r, u.y * r);
    }
    whole(bencher, file(&s));
}
