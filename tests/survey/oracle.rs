//! Against scipy (PyPI): coordinates, radii, zero errors and their deviations of random networks.
//! 40 networks; `PANELWRIGHT_LONG=1` takes 500.

use crate::make::{Dice, Made, scipy, solved};
use panelwright::survey::Solved;
use serde_json::{Value, json};

fn case(made: &Made, values: &[f64]) -> Value {
    let truth: serde_json::Map<String, Value> = (0..made.at.len())
        .map(|i| (made.id(i), json!([made.at[i].0, made.at[i].1, made.radius[i]])))
        .collect();
    json!({ "file": made.file(values), "truth": truth })
}

/// Largest difference of coordinates, radii and zero error, mm; largest relative difference of deviations.
fn differences(s: &Solved, other: &Value) -> (f64, f64) {
    let (mut off, mut spread) = (0.0f64, 0.0f64);
    let mut see = |mine: [f64; 2], theirs: [f64; 2]| {
        off = off.max((mine[0] - theirs[0]).abs());
        if theirs[1] > 1e-9 {
            spread = spread.max((mine[1] / theirs[1] - 1.0).abs());
        } else {
            assert!(mine[1].abs() < 1e-9);
        }
    };
    for (i, p) in s.network.points.iter().enumerate() {
        let (at, d) = (s.adjusted.state.at[i], s.deviations(i));
        let (xyr, dev) = (&other["points"][p.id.as_ref()], &other["deviations"][p.id.as_ref()]);
        let n = |v: &Value, k: usize| v[k].as_f64().unwrap();
        see([at.x, d.0 / s.scale], [n(xyr, 0), n(dev, 0)]);
        see([at.y, d.1 / s.scale], [n(xyr, 1), n(dev, 1)]);
        if p.round {
            let r = s.adjusted.state.radius[i];
            see([r, s.radius_deviation(i) / s.scale], [n(xyr, 2), n(dev, 2)]);
        }
    }
    if let Some(zero) = other["zero"].as_array() {
        let u = s.network.zero_unknown(0);
        see(
            [s.adjusted.state.zero[0], s.cofactor.at(u, u).sqrt()],
            [zero[0].as_f64().unwrap(), zero[1].as_f64().unwrap()],
        );
    }
    (off, spread)
}

#[test]
fn coordinates_and_deviations_are_those_of_scipy() {
    let many = if std::env::var_os("PANELWRIGHT_LONG").is_some() { 500 } else { 40 };
    let (mut cases, mut mine, mut noisy) = (Vec::new(), Vec::new(), Vec::new());
    for seed in 0..many {
        let mut dice = Dice(4000 + seed);
        let (points, ties) = (5 + dice.below(10), 4 + dice.below(2));
        let mut made = Made::random(&mut dice, points, ties);
        made.zero = (seed % 3 == 0).then_some(0.6);
        for with_noise in [false, true] {
            let values = made.values(with_noise.then_some(&mut dice));
            let s = solved(&made.file(&values).to_string()).unwrap_or_else(|p| panic!("seed {seed}: {p}"));
            // what is set aside by chance is compared without
            if s.suspects.is_empty() {
                cases.push(case(&made, &values));
                mine.push(s);
                noisy.push((seed, with_noise));
            }
        }
    }
    assert!(cases.len() as f64 > 1.85 * many as f64, "{} of {} left", cases.len(), 2 * many);
    for ((s, other), (seed, noisy)) in mine.iter().zip(scipy("survey.py", &cases)).zip(noisy) {
        let (off, spread) = differences(s, &other);
        // readings are written to a nanometre, so truth itself is met no better than a few of them
        let most = if noisy { 1e-5 } else { 1e-6 };
        assert!(off < most, "seed {seed}, noise {noisy}: {off} mm");
        assert!(spread < 1e-4, "seed {seed}, noise {noisy}: deviations differ by {spread}");
    }
}
