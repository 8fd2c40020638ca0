//! Inside a region the relations find nothing that is no pass, and beyond its tolerance they find something.

use crate::panels::Dice;
use crate::scenes::scene as random;
use panelwright::check::bans::own_rules;
use panelwright::check::{Finding, Findings, Options, Verdict, check, recheck};
use panelwright::geom::{Point, Vec2};
use panelwright::panel::Panel;
use panelwright::place::{Region, TOLERANCE, region, room};

/// Findings of the relations about a subject that are no pass.
fn broken(findings: &Findings, subject: usize) -> Vec<&Finding> {
    let own: Vec<&str> = own_rules().map(|r| r.id).collect();
    let about = |f: &&Finding| {
        let others = f.b.is_some_and(|b| b.subject != f.a.subject || b.subject as usize != subject);
        let either = f.a.subject as usize == subject || f.b.is_some_and(|b| b.subject as usize == subject);
        either && others
    };
    findings
        .list
        .iter()
        .filter(about)
        .filter(|f| f.verdict != Verdict::Pass && !own.contains(&f.rule.id))
        .collect()
}

/// Asks at random shifts; returns how many were in the region and how many out of it.
fn asked(
    panel: &Panel,
    subject: usize,
    region: &Region,
    dice: &mut Dice,
    points: usize,
    scene: usize,
) -> [usize; 2] {
    let contours = region.area.contours(0.0);
    let mut trial = panel.clone();
    let mut findings = check(&trial, &Options::default());
    let (mut at, mut count) = (Vec2::ZERO, [0, 0]);
    let bounds = contours.iter().map(|c| c.bounds()).reduce(|a, b| a.union(b));
    for n in 0..points {
        // half of them where the region is
        let p = match bounds.filter(|_| n % 2 == 0) {
            Some(b) => Point::new(dice.real(b.x0 - 2.0, b.x1 + 2.0), dice.real(b.y0 - 2.0, b.y1 + 2.0)),
            None => Point::new(dice.real(-260.0, 260.0), dice.real(-160.0, 160.0)),
        };
        let room = room(&contours, p);
        if (-TOLERANCE..=0.0).contains(&room) {
            continue;
        }
        trial.shift(subject, p.to_vec2() - at);
        at = p.to_vec2();
        findings = recheck(&trial, findings, &[subject]);
        let broken = broken(&findings, subject);
        if room > 0.0 {
            let told: Vec<String> =
                broken.iter().map(|f| format!("{} {:?} {:?}", f.id(&trial), f.measured, f.asked)).collect();
            assert!(broken.is_empty(), "scene {scene}: {p:?} lies {room} within, yet {told:#?}");
            count[0] += 1;
        } else {
            assert!(!broken.is_empty(), "scene {scene}: {p:?} lies {} without, yet nothing is broken", -room);
            count[1] += 1;
        }
    }
    count
}

#[test]
fn the_region_is_where_the_relations_hold() {
    // by default a few, among them those in which a region was once too large
    let long = std::env::var("PANELWRIGHT_LONG").is_ok();
    let scenes: Vec<usize> = if long { (0..500).collect() } else { vec![0, 1, 2, 3, 4, 5, 29, 47] };
    let mut dice = Dice::new(11);
    let mut all = [0, 0];
    for scene in scenes {
        let panel = random(scene as u64);
        let subject = panel.subjects.len() - 1;
        let region = region(&panel, subject).expect("there is such a subject");
        let count = asked(&panel, subject, &region, &mut dice, 200, scene);
        all = [all[0] + count[0], all[1] + count[1]];
    }
    assert!(all[0] > 50 && all[1] > 50, "in and out of it: {all:?}");
}
