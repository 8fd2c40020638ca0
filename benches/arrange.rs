//! Many items placed at once: made from a hidden arrangement that passes, then thrown about.
//!
//! Wants of the machine: twenty items on a sheet that bezels cover by 55 % under 10 s for every one of 20 seeds,
//! forty-five under 60 s.

#[path = "../tests/support/panels.rs"]
mod panels;

#[path = "../tests/support/arranged.rs"]
mod arranged;

use divan::{Bencher, black_box};
use panelwright::place::arrange::{Asked, Ground, Outcome, Watch, arrange, pieces};

/// As many moves as the command makes where nothing is said.
const MOVES: u64 = 100_000;

fn main() {
    divan::main();
}

/// A panel whose bezels cover so much of the sheet, and whose hidden arrangement passes.
fn covered(seed: u64, count: usize, fill: f64) -> arranged::Made {
    let made = arranged::made(seed, count, fill);
    assert!(arranged::fill(&made.hidden) >= fill && arranged::passes(&made.hidden));
    made
}

fn once(made: &arranged::Made) {
    let ground = Ground::new(&made.shuffled, pieces(&made.shuffled, &made.free));
    let mut on = |_: &_| true;
    let asked = Asked { seed: 1, different: 1 };
    let outcome = arrange(black_box(&made.shuffled), ground, asked, &mut Watch::new(MOVES, &mut on));
    let passes = matches!(&outcome, Outcome::Found(all) if arranged::passes(&all[0].panel));
    assert!(passes, "no arrangement found that passes");
}

/// Twenty items, each of 20 seeds.
#[divan::bench(args = 1..=20, sample_count = 1, sample_size = 1)]
fn twenty(bencher: Bencher, seed: u64) {
    let made = covered(seed, 20, 0.55);
    bencher.bench_local(|| once(&made));
}

/// Forty-five.
#[divan::bench(args = 1..=5, sample_count = 1, sample_size = 1)]
fn forty_five(bencher: Bencher, seed: u64) {
    let made = covered(seed, 45, 0.55);
    bencher.bench_local(|| once(&made));
}

/// The same on a sheet that is covered by 75 %.
#[divan::bench(args = 1..=5, sample_count = 1, sample_size = 1)]
fn forty_five_crowded(bencher: Bencher, seed: u64) {
    let made = covered(seed, 45, 0.75);
    bencher.bench_local(|| once(&made));
}
