//! Where an instrument fits: the region of one among sixty, and what is in the way.
//!
//! Wants of the machine: the region under 10 ms, who must go under 300 ms.

#[path = "../tests/support/panels.rs"]
mod panels;

use divan::{Bencher, black_box};
use panelwright::place::{Question, region};

fn main() {
    divan::main();
}

/// The region of one of sixty items on a crowded sheet, five openings each.
#[divan::bench]
fn region_among_sixty(bencher: Bencher) {
    let panel = panels::crowded(1);
    bencher.bench_local(|| region(black_box(&panel), 30));
}

/// The same without each of the others in turn.
#[divan::bench(sample_count = 5)]
fn without_each_of_sixty(bencher: Bencher) {
    let panel = panels::crowded(1);
    bencher.bench_local(|| {
        let question = Question::of(black_box(&panel), 30, Default::default());
        question.map(|q| q.singles().len())
    });
}
