//! How long a check takes: the crowded panel of sixty, one moved item of it, large sheets.

#[path = "../tests/support/panels.rs"]
mod panels;

use divan::{Bencher, black_box};
use panelwright::check::{Options, check, cures, recheck};
use panelwright::geom::Vec2;

fn main() {
    divan::main();
}

/// All rules on sixty placements with five openings each.
#[divan::bench]
fn sixty(bencher: Bencher) {
    let panel = panels::crowded(1);
    bencher.bench_local(|| check(black_box(&panel), &Options::default()));
}

/// The same with every pair within reach listed.
#[divan::bench]
fn sixty_all_pairs(bencher: Bencher) {
    let panel = panels::crowded(1);
    bencher.bench_local(|| check(black_box(&panel), &Options { all_pairs: true }));
}

/// One of the sixty was moved: what a drag asks for at each step.
#[divan::bench]
fn recheck_one_of_sixty(bencher: Bencher) {
    let mut panel = panels::crowded(1);
    let before = check(&panel, &Options::default());
    panel.shift(30, Vec2::new(2.0, 1.0));
    bencher
        .with_inputs(|| before.clone())
        .bench_local_values(|before| recheck(black_box(&panel), before, &[30]));
}

/// The same item dragged to and fro, each step from the findings of the step before.
#[divan::bench]
fn drag_one_of_sixty(bencher: Bencher) {
    let mut panel = panels::crowded(1);
    let mut findings = Some(check(&panel, &Options::default()));
    let mut by = Vec2::new(2.0, 1.0);
    bencher.bench_local(|| {
        panel.shift(30, by);
        by = -by;
        findings = findings.take().map(|before| recheck(black_box(&panel), before, &[30]));
    });
}

/// The least shift for each finding of the sixty that is not a pass.
#[divan::bench(sample_count = 20)]
fn cures_of_sixty(bencher: Bencher) {
    let panel = panels::crowded(1);
    let findings = check(&panel, &Options::default());
    bencher.bench_local(|| cures(black_box(&panel), &findings));
}

/// Growth with the number of placements.
#[divan::bench(args = [100, 1_000, 10_000], sample_count = 5)]
fn placements(bencher: Bencher, count: usize) {
    let panel = panels::large(count);
    bencher.bench_local(|| check(black_box(&panel), &Options::default()));
}
