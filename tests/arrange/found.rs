//! Arrangements that are found, asked again by every rule.

use crate::arranged::{fill, made, passes};
use panelwright::geom::{Transform, Vec2};
use panelwright::panel::Panel;
use panelwright::place::arrange::{Arranged, Asked, Ground, Outcome, Watch, arrange, pieces};

fn run(panel: &Panel, free: &[usize], seed: u64, moves: u64) -> Outcome {
    let ground = Ground::new(panel, pieces(panel, free));
    let mut on = |_: &_| true;
    arrange(panel, ground, Asked { seed, different: 1 }, &mut Watch::new(moves, &mut on))
}

fn found(panel: &Panel, free: &[usize], seed: u64) -> Arranged {
    match run(panel, free, seed, 1200) {
        Outcome::Found(mut all) => all.swap_remove(0),
        Outcome::None(c) => panic!("none found: {c:?}"),
    }
}

#[test]
fn hidden_arrangements_pass_and_others_are_found_from_what_was_thrown_about() {
    for seed in 1..=4 {
        let m = made(seed, 20, 0.55);
        assert!(fill(&m.hidden) >= 0.55, "{}", fill(&m.hidden));
        assert!(passes(&m.hidden) && !passes(&m.shuffled));
        let a = found(&m.shuffled, &m.free, seed);
        assert!(a.bad.is_empty() && passes(&a.panel));
        // nothing but places is changed
        for (was, now) in m.shuffled.subjects.iter().zip(&a.panel.subjects) {
            assert_eq!((&was.id, was.turn, was.parts.len()), (&now.id, now.turn, now.parts.len()));
        }
    }
}

#[test]
fn what_the_benches_arrange_is_as_full_as_they_say_and_passes_as_it_was_made() {
    for (count, seeds, share) in [(20, 20, 0.55), (45, 5, 0.55), (45, 5, 0.75)] {
        for seed in 1..=seeds {
            let m = made(seed, count, share);
            assert!(fill(&m.hidden) >= share, "{count} {seed}: {}", fill(&m.hidden));
            assert!(passes(&m.hidden) && !passes(&m.shuffled), "{count} {seed}");
        }
    }
}

#[test]
fn the_same_seed_gives_the_same_places_and_another_gives_others() {
    let m = made(5, 12, 0.5);
    let places = |seed| -> Vec<Vec2> { found(&m.shuffled, &m.free, seed).at };
    assert_eq!(places(3), places(3));
    assert_ne!(places(3), places(4));
}

#[test]
fn a_mirrored_panel_is_arranged_too() {
    let m = made(6, 12, 0.5);
    let mut mirrored = m.shuffled.clone();
    let wide = mirrored.sheets[0].outline.bounds().x1;
    let t = Transform::place(panelwright::geom::Point::new(wide, 0.0), 0.0, true);
    for s in mirrored.subjects.iter_mut().skip(1) {
        s.at = t.point(s.at);
        for p in &mut s.parts {
            p.contour = t.contour(&p.contour);
            p.centre = t.point(p.centre);
        }
    }
    assert!(passes(&found(&mirrored, &m.free, 1).panel));
}

#[test]
fn what_fits_already_stays() {
    let m = made(7, 8, 0.5);
    let Outcome::Found(all) = run(&m.hidden, &m.free, 1, 1) else { panic!("it stands already") };
    assert!(all[0].at.iter().all(|by| *by == Vec2::ZERO));
}

#[test]
fn too_little_room_is_said_with_the_tightest_conflict() {
    // two items that fill the sheet but for a strip each, and a third
    let m = made(8, 3, 0.75);
    let mut panel = m.hidden.clone();
    let mut more = panel.subjects[1].clone();
    more.id = "one-too-many".into();
    panel.subjects.push(more);
    let free: Vec<usize> = (1..panel.subjects.len()).collect();
    let Outcome::None(c) = run(&panel, &free, 1, 400) else { panic!("four where three fill the sheet") };
    assert!(c.by > 0.5 && c.overlapping >= 1 && c.why.is_some() && !c.alone, "{c:?}");
}

#[test]
fn an_item_larger_than_the_sheet_is_named() {
    let m = made(9, 3, 0.5);
    let mut panel = m.hidden.clone();
    let big = made(9, 45, 0.5).hidden.sheets[0].outline.clone();
    for p in &mut panel.subjects[2].parts {
        if p.class == panelwright::panel::Class::Bezel {
            p.contour = big.clone();
        }
    }
    let Outcome::None(c) = run(&panel, &m.free, 1, 100) else { panic!("it cannot fit") };
    assert!(c.alone && c.why.is_some_and(|w| w.own.subject == 2), "{c:?}");
}
