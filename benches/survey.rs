//! What a survey costs: a network of 200 points and 1,000 readings, and the demo panel.

use divan::{Bencher, black_box};
use panelwright::define;
use panelwright::diag::Problems;
use panelwright::survey::{Network, solve};
use std::fmt::Write;
use std::sync::Arc;

fn main() {
    divan::main();
}

/// A number between 0 and 1 from a counter (splitmix64).
fn dice(seed: &mut u64) -> f64 {
    *seed = seed.wrapping_add(0x9E37_79B9_7F4A_7C15);
    let mut z = *seed;
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
}

/// 200 points on a panel of 1.2 m by 0.6 m, each tied to the two datum points and to three others: 995 distances with
/// up to half a millimetre of error, and six more.
fn large() -> String {
    let mut seed = 1;
    let mut at = vec![(0.0, 0.0), (1200.0, 0.0)];
    while at.len() < 200 {
        at.push((dice(&mut seed) * 1200.0, 20.0 + dice(&mut seed) * 580.0));
    }
    let mut readings = String::new();
    let mut pairs = vec![(0, 1)];
    for p in 2..at.len() {
        pairs.extend([(p, 0), (p, 1)]);
        let mut others: Vec<usize> = Vec::new();
        while others.len() < 3.min(p - 2) {
            let q = 2 + (dice(&mut seed) * (p - 2) as f64) as usize;
            if !others.contains(&q) {
                others.push(q);
            }
        }
        pairs.extend(others.into_iter().map(|q| (p, q)));
    }
    let mut more = 3;
    while pairs.len() < 1000 {
        if !pairs.contains(&(190, more)) {
            pairs.push((190, more));
        }
        more += 1;
    }
    for (a, b) in pairs {
        let (dx, dy): (f64, f64) = (at[a].0 - at[b].0, at[a].1 - at[b].1);
        let reads = (dx * dx + dy * dy).sqrt() + dice(&mut seed) - 0.5;
        let _ = write!(readings, "{{\"distance\":[\"p{a}\",\"p{b}\"],\"reads\":{reads:.3}}},");
    }
    let points: String = (2..200).map(|p| format!(",{{\"id\":\"p{p}\",\"above\":\"p0\"}}")).collect();
    format!(
        "{{\"format\":1,\"survey\":\"large\",\"unit\":\"mm\",\"datum\":{{\"origin\":\"p0\",\"along\":\"p1\"}},\
         \"points\":[\"p0\",\"p1\"{points}],\"readings\":[{}]}}",
        readings.trim_end_matches(',')
    )
}

fn network(text: &str) -> Network {
    let mut problems = Problems::new();
    let text: Arc<str> = text.into();
    let survey = define::read_survey("survey.json", &text, &mut problems);
    let network = survey.and_then(|s| Network::build(&s, &mut problems));
    network.unwrap_or_else(|| panic!("{problems}"))
}

#[divan::bench(sample_count = 10, sample_size = 1)]
fn two_hundred_points_and_a_thousand_readings(bencher: Bencher<'_, '_>) {
    let text = large();
    assert_eq!(network(&text).observations.len(), 1000);
    bencher.bench(|| solve(network(black_box(&text))).unwrap());
}

#[divan::bench]
fn the_demo_panel(bencher: Bencher<'_, '_>) {
    let text = std::fs::read_to_string("surveys/wheatear.json").unwrap();
    bencher.bench(|| solve(network(black_box(&text))).unwrap());
}
