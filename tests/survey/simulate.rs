//! What the stated numbers are worth: ellipses that hold the truth, wrong readings that are found.
//! `PANELWRIGHT_LONG=1` takes ten times as many wrong readings.

use crate::make::{Dice, Made, network};
use panelwright::survey::observation::Origin;
use panelwright::survey::{Network, solve};

/// The network of a made survey with other readings.
fn with(network: &Network, made: &Made, values: &[f64]) -> Network {
    let mut n = network.clone();
    for o in &mut n.observations {
        let Origin::Reading(k) = o.origin else { continue };
        assert!(made.reads.len() == values.len());
        o.value = values[k - 1];
    }
    n
}

#[test]
fn ellipses_hold_the_truth_as_often_as_they_say() {
    let mut dice = Dice(77);
    for (points, ties) in [(6, 4), (8, 3)] {
        let made = Made::random(&mut dice, points, ties);
        let clean = network(&made.file(&made.values(None)).to_string()).unwrap();
        let (mut inside, mut all) = (0usize, 0usize);
        for _ in 0..2000 {
            let values = made.values(Some(&mut dice));
            let s = solve(with(&clean, &made, &values)).unwrap();
            for (i, p) in s.network.points.iter().enumerate() {
                let (e, at) = (s.ellipse(i), s.adjusted.state.at[i]);
                // the datum's own points have no ellipse to lie in
                if e.minor < 1e-9 {
                    continue;
                }
                let own = (0..made.at.len()).find(|k| made.id(*k) == p.id.as_ref()).unwrap();
                let (dx, dy) = (made.at[own].0 - at.x, made.at[own].1 - at.y);
                let (sin, cos) = (libm::sin(e.angle.to_radians()), libm::cos(e.angle.to_radians()));
                let (u, v) = ((dx * cos + dy * sin) / e.major, (dy * cos - dx * sin) / e.minor);
                all += 1;
                inside += usize::from(u * u + v * v <= 1.0);
            }
        }
        let share = inside as f64 / all as f64;
        println!("{points} points: {inside} of {all}, {share:.4}");
        assert!((0.93..=0.97).contains(&share), "{share}");
    }
}

#[test]
fn a_wrong_reading_of_ten_deviations_is_found_where_it_can_be() {
    let many = if std::env::var_os("PANELWRIGHT_LONG").is_some() { 5000 } else { 500 };
    let (mut could, mut found, mut named, mut poor) = (0, 0, 0, 0);
    let mut dice = Dice(2024);
    let mut trial = 0;
    while could < many {
        trial += 1;
        let (points, ties) = (6 + dice.below(8), 4 + dice.below(3));
        let made = Made::random(&mut dice, points, ties);
        let clean = network(&made.file(&made.values(None)).to_string()).unwrap();
        let design = solve(clean.clone()).unwrap();
        for _ in 0..10 {
            let k = dice.below(made.reads.len());
            let i = clean.observations.iter().position(|o| o.origin == Origin::Reading(k + 1)).unwrap();
            if !design.tests[i].as_ref().unwrap().checkable() {
                poor += 1;
                assert!(design.not_checkable.iter().any(|(j, _)| *j == i), "it is not listed");
                continue;
            }
            let mut values = made.values(Some(&mut dice));
            let size = dice.between(10.0, 40.0) * made.reads[k].sigma;
            values[k] += if dice.below(2) == 0 { size } else { -size };
            could += 1;
            let Ok(s) = solve(with(&clean, &made, &values)) else { continue };
            found += usize::from(s.suspects.iter().any(|x| x.observation == i));
            named += usize::from(s.suspects.first().is_some_and(|x| x.observation == i));
        }
    }
    println!("{trial} networks: {found} found, {named} first, of {could}; {poor} not checkable");
    assert!(found as f64 >= 0.95 * could as f64, "{found} of {could}");
    assert!(poor > 20, "the networks leave too little unchecked to try the list");
}

#[test]
fn the_reading_named_makes_it_checkable() {
    let (mut tried, mut mended) = (0, 0);
    for seed in 0..30 {
        let mut dice = Dice(600 + seed);
        let made = Made::random(&mut dice, 7, 3);
        let clean = network(&made.file(&made.values(None)).to_string()).unwrap();
        let design = solve(clean.clone()).unwrap();
        for (i, further) in &design.not_checkable {
            let Some(f) = further else { continue };
            let mut more = clean.clone();
            let mut o = clean.observations[*i].clone();
            (o.relation, o.sigma, o.zero) = (f.relation, f.sigma, None);
            o.value = f.relation.row(&clean, &design.adjusted.state).0;
            o.origin = Origin::Reading(made.reads.len() + 1);
            more.observations.push(o);
            let again = solve(more).unwrap();
            tried += 1;
            let t = again.tests[*i].as_ref().unwrap();
            // the partner of before is judged; with the new reading another one may become the most alike
            mended += usize::from(t.redundancy >= 0.3 && t.checkable());
        }
    }
    println!("{mended} of {tried}");
    assert!(tried > 20 && mended as f64 >= 0.9 * tried as f64, "{mended} of {tried}");
}
