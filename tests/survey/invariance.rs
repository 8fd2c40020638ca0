//! What must not matter: the order of readings and points, the place of the datum, its direction; and no panic.

use crate::make::{Dice, Made, network, solved};
use panelwright::survey::behind::Behind;
use panelwright::survey::solve;
use serde_json::{Value, json};

#[test]
fn the_order_of_readings_and_points_does_not_matter_to_the_bit() {
    for seed in 0..8 {
        let mut dice = Dice(seed);
        let made = Made::random(&mut dice, 9, 4);
        let values = made.values(Some(&mut dice));
        let file = made.file(&values);
        let one = solved(&file.to_string()).unwrap();
        let mut turned = file.clone();
        for key in ["readings", "points", "circles"] {
            turned[key].as_array_mut().unwrap().reverse();
        }
        let two = solved(&turned.to_string()).unwrap();
        assert_eq!(one.adjusted.state, two.adjusted.state);
        for p in 0..one.network.points.len() {
            assert_eq!(one.ellipse(p), two.ellipse(p));
        }
    }
}

#[test]
fn the_datum_moves_coordinates_and_nothing_else() {
    for seed in 0..8 {
        let mut dice = Dice(100 + seed);
        let made = Made::random(&mut dice, 8, 4);
        let values = made.values(Some(&mut dice));
        let file = made.file(&values);
        let one = solved(&file.to_string()).unwrap();
        let mut other = file.clone();
        other["datum"]["at"] = json!([-250.5, 33.25]);
        let moved = solved(&other.to_string()).unwrap();
        for (a, b) in one.adjusted.state.at.iter().zip(&moved.adjusted.state.at) {
            assert!((b.x - a.x + 250.5).abs() < 1e-8 && (b.y - a.y - 33.25).abs() < 1e-8, "{a:?} {b:?}");
        }
        // another base line: every distance between points stays, and every residual
        let mut other = file.clone();
        let ids: Vec<Value> = file["points"].as_array().unwrap().clone();
        other["datum"] = json!({ "origin": ids[1], "along": ids[0] });
        for list in ["points", "circles"] {
            for p in other[list].as_array_mut().unwrap() {
                if let Some(above) = p.as_object_mut().and_then(|o| o.remove("above")) {
                    p["below"] = above;
                }
            }
        }
        let turned = solved(&other.to_string()).unwrap();
        assert!((one.adjusted.sum - turned.adjusted.sum).abs() < 1e-9 * one.adjusted.sum.max(1.0));
        let (p, q) = (&one.adjusted.state.at, &turned.adjusted.state.at);
        for i in 0..p.len() {
            for j in 0..i {
                let (a, b) = ((p[i] - p[j]).hypot(), (q[i] - q[j]).hypot());
                assert!((a - b).abs() < 1e-7, "{seed}: {a} {b}");
            }
        }
    }
}

#[test]
fn scale_scales() {
    let mut dice = Dice(7);
    let made = Made::random(&mut dice, 7, 4);
    let values = made.values(Some(&mut dice));
    let mut file = made.file(&values);
    for tool in ["tape", "rule", "calipers"] {
        file["tools"][tool]["deviation"] = json!("0.4 mm");
    }
    let one = solved(&file.to_string()).unwrap();
    for r in file["readings"].as_array_mut().unwrap() {
        let v: f64 = r["reads"].as_str().unwrap().trim_end_matches(" mm").parse().unwrap();
        r["reads"] = json!(format!("{:.6} mm", 2.0 * v));
    }
    for tool in ["tape", "rule", "calipers"] {
        file["tools"][tool]["deviation"] = json!("0.8 mm");
    }
    let two = solved(&file.to_string()).unwrap();
    for p in 0..one.network.points.len() {
        let (a, b) = (one.adjusted.state.at[p], two.adjusted.state.at[p]);
        assert!((2.0 * a.x - b.x).abs() < 1e-5 && (2.0 * a.y - b.y).abs() < 1e-5, "{a:?} {b:?}");
        assert!((2.0 * one.ellipse(p).major - two.ellipse(p).major).abs() < 1e-5);
    }
}

/// Readings, points and conditions drawn without any sense: an answer or a problem, never a panic.
#[test]
fn nonsense_ends_in_an_answer_or_a_problem() {
    let (mut answered, mut refused) = (0, 0);
    let many = if std::env::var_os("PANELWRIGHT_LONG").is_some() { 1000 } else { 120 };
    for seed in 0..many {
        let mut dice = Dice(9000 + seed);
        let n = 3 + dice.below(5);
        let ids: Vec<String> = (0..n).map(|i| format!("p{i}")).collect();
        let (points, circles) = ids.split_at(if dice.below(3) == 0 { dice.below(n + 1) } else { 0 });
        let pick = |dice: &mut Dice, k: usize| -> Vec<String> {
            // mostly different ones
            let (first, step) = (dice.below(n), 1 + dice.below(2));
            (0..k).map(|i| ids[(first + i * step) % n].clone()).collect()
        };
        let readings: Vec<Value> = (0..dice.below(14))
            .map(|_| {
                let keys = [
                    ("distance", 2), ("inside", 2), ("outside", 2), ("diameter", 1), ("radius", 1),
                    ("offset", 3), ("along", 3), ("gap", 3), ("up", 2), ("right", 2),
                ];
                let (key, k) = keys[dice.below(keys.len())];
                let of = pick(&mut dice, k);
                let reads = [1e-3, 5.0, 250.0, 250.0, 99_000.0][dice.below(5)] * dice.unit();
                json!({ key: if k == 1 { json!(of[0]) } else { json!(of) }, "reads": format!("{reads:.6} mm"), "tool": "t" })
            })
            .collect();
        let conditions: Vec<Value> = (0..dice.below(4))
            .map(|_| {
                let key = ["line", "level", "plumb", "square", "same-size"][dice.below(5)];
                json!({ key: pick(&mut dice, 3) })
            })
            .collect();
        let text = json!({
            "format": 1, "survey": "nonsense", "unit": "mm", "points": points, "circles": circles,
            "tools": { "t": { "kind": "tape", "find-zero-error": dice.below(2) == 0 } },
            "readings": readings, "conditions": conditions,
        });
        match network(&text.to_string()).and_then(solve) {
            Ok(s) => {
                answered += 1;
                assert!(s.adjusted.state.at.iter().all(|p| p.is_finite()), "{text}");
                let json = panelwright::report::survey_json("f", "t", &s, &Behind::default()).to_string();
                assert!(!json.contains("NaN"));
                assert!(
                    panelwright::report::survey_text("f", "t", &s, &Behind::default()).contains("Points")
                );
            }
            Err(problems) => {
                refused += 1;
                assert!(!problems.is_empty());
            }
        }
    }
    assert!(answered > 10 && refused > 10, "{answered} answered, {refused} refused");
}
