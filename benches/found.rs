//! How long a drawing of another program takes to become a panel as found, and how that grows with its entities.

use divan::{Bencher, black_box};
use panelwright::cli::survey_drawing;
use panelwright::found::{self, Options};
use panelwright::import::{self, ReadOptions};

fn main() {
    divan::main();
}

fn file(entities: &str) -> String {
    format!(
        "0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1015\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n"
    )
}

fn line(x: f64, y: f64, u: f64, v: f64) -> String {
    format!("0\nLINE\n8\n0\n10\n{x}\n20\n{y}\n11\n{u}\n21\n{v}\n")
}

/// An outline and slots of loose straights and arcs, round holes and ellipses: `n` entities in all.
fn sheet(n: usize) -> String {
    let row = (n as f64 / 8.0).sqrt().ceil() as usize;
    let side = 22.0 * row as f64;
    let mut s = String::new();
    for (x, y, u, v) in [
        (-20.0, -20.0, side, -20.0),
        (side, -20.0, side, side),
        (side, side, -20.0, side),
        (-20.0, side, -20.0, -20.0),
    ] {
        s += &line(x, y, u, v);
    }
    for k in 0..n / 8 {
        let (x, y) = ((22 * (k % row)) as f64, (22 * (k / row)) as f64);
        s += &line(x, y, x + 3.0, y);
        s += &line(x + 3.0, y + 5.0, x, y + 5.0);
        for (c, from, to) in [(x, 90, 270), (x + 3.0, 270, 90)] {
            s += &format!("0\nARC\n8\n0\n10\n{c}\n20\n{}\n40\n2.5\n50\n{from}\n51\n{to}\n", y + 2.5);
        }
        for (dx, dy) in [(10.0, 0.0), (10.0, 8.0), (0.0, 12.0)] {
            s += &format!(
                "0\nCIRCLE\n8\n0\n10\n{}\n20\n{}\n40\n{}\n",
                x + dx,
                y + dy,
                1.5 + (k % 7) as f64 / 5.0
            );
        }
        s += &format!(
            "0\nELLIPSE\n8\n0\n10\n{}\n20\n{}\n11\n3\n21\n0\n40\n0.6\n41\n0\n42\n6.283185307179586\n",
            x + 10.0,
            y + 15.0
        );
    }
    file(&s)
}

/// A round opening that was exploded into so many straights.
fn exploded(n: usize) -> String {
    let mut s =
        line(0.0, 0.0, 400.0, 0.0) + &line(400.0, 0.0, 400.0, 200.0) + &line(400.0, 200.0, 0.0, 200.0);
    s += &line(0.0, 200.0, 0.0, 0.0);
    let at = |k: usize| panelwright::geom::angle::unit(k as f64 / n as f64 * std::f64::consts::TAU) * 80.0;
    for k in 0..n {
        let (a, b) = (at(k), at((k + 1) % n));
        s += &line(200.0 + a.x, 100.0 + a.y, 200.0 + b.x, 100.0 + b.y);
    }
    file(&s)
}

fn whole(bencher: Bencher, text: String) {
    let (patterns, options) = (survey_drawing::patterns(), Options::default());
    bencher.bench_local(|| {
        let file = import::read("bench.dxf", black_box(text.as_bytes()), &ReadOptions { unit_mm: Some(1.0) })
            .ok()?;
        let found = found::find(&file, &patterns, &options).ok()?;
        found::panel_file(&file, &found, "bench")
    });
}

#[divan::bench(args = [2_000, 20_000], sample_count = 5)]
fn whole_sheet(bencher: Bencher, n: usize) {
    whole(bencher, sheet(n));
}

#[divan::bench(args = [5_000, 20_000], sample_count = 5)]
fn exploded_circle(bencher: Bencher, n: usize) {
    whole(bencher, exploded(n));
}

/// The patterns of the catalogue, once a run.
#[divan::bench(sample_count = 5)]
fn patterns_of_the_catalogue(bencher: Bencher) {
    bencher.bench_local(|| survey_drawing::patterns().len());
}
