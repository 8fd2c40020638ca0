//! Inside a region the relations find nothing that is no pass, and beyond its tolerance they find something.

use crate::airframe::scene as among_solids;
use crate::panels::Dice;
use crate::scenes::scene as random;
use panelwright::check::{Finding, Findings, Options, Verdict, check, recheck};
use panelwright::geom::{Point, Vec2};
use panelwright::panel::Panel;
use panelwright::place::{Region, TOLERANCE, region, room};

/// Findings about a subject that are no pass, of the rules that have a say in the region and that a place may cure. One
/// that has a say about some of the others only counts `out` of the region: it may be what bars the place.
fn broken<'a>(
    panel: &Panel,
    findings: &'a Findings,
    subject: usize,
    region: &Region,
    out: bool,
) -> Vec<&'a Finding> {
    let partly = |rule: &str| out && matches!(rule, "comes-out" | "label-clear");
    let unsaid: Vec<&str> = region.unsaid.iter().map(|(rule, _)| *rule).filter(|r| !partly(r)).collect();
    let about = |f: &&Finding| {
        let own = f.a.subject as usize == subject;
        // of two own parts, or of one alone where a number of its own is asked
        let inner = own && f.b.map_or(ALONE.contains(&f.rule.id), |b| b.subject as usize == subject);
        // a depth that is missing is withheld wherever it stands, and named with the region
        let missing = f.b.is_none() && f.verdict == Verdict::Withheld && panel.part(f.a).depth.is_none();
        let either = own || f.b.is_some_and(|b| b.subject as usize == subject);
        either && !inner && !missing
    };
    // without a map of depth that layer is withheld everywhere
    let no_map = panel.depth.elsewhere.is_none() && panel.depth.areas.is_empty();
    assert!(no_map || !region.withheld.iter().any(|w| w.contains("(depth)")));
    let list = findings.list.iter().filter(about).filter(|f| !(no_map && f.rule.id == "depth-behind"));
    list.filter(|f| f.verdict != Verdict::Pass && !unsaid.contains(&f.rule.id)).collect()
}

/// Rules that ask about an item by itself, wherever it stands.
const ALONE: [&str; 12] = [
    "plausible",
    "body-passes",
    "fastener-hole",
    "countersink-depth",
    "least-hole",
    "corner-radius",
    "droop",
    "tilt",
    "typical",
    "labelled",
    "sheet-thickness",
    "twins",
];

/// Asks at random shifts; returns how many were in the region and how many out of it.
pub fn asked(
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
    let whole = contours.iter().map(|c| c.bounds()).reduce(|a, b| a.union(b));
    let largest = contours.iter().max_by(|a, b| a.area().total_cmp(&b.area())).map(|c| c.bounds());
    for n in 0..points {
        // half of them where the region is, in turn in all of it and in its largest piece
        let p = match [whole, None, largest, None][n % 4] {
            Some(b) => Point::new(dice.real(b.x0 - 2.0, b.x1 + 2.0), dice.real(b.y0 - 2.0, b.y1 + 2.0)),
            None => Point::new(dice.real(-260.0, 260.0), dice.real(-160.0, 160.0)),
        };
        let room = room(&contours, p);
        if (-TOLERANCE - region.excess..=0.0).contains(&room) {
            continue;
        }
        trial.shift(subject, p.to_vec2() - at);
        at = p.to_vec2();
        findings = recheck(&trial, findings, &[subject]);
        let broken = broken(&trial, &findings, subject, region, room < 0.0);
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

/// Asks in scenes; by default a few, in the long mode all five hundred.
fn all_asked(make: fn(u64) -> Panel, few: &[usize], points: usize) {
    let long = std::env::var("PANELWRIGHT_LONG").is_ok();
    let scenes: Vec<usize> = if long { (0..500).collect() } else { few.to_vec() };
    let points = if long { 200 } else { points };
    let mut dice = Dice::new(11);
    let mut all = [0, 0];
    for scene in scenes {
        let panel = make(scene as u64);
        let subject = panel.subjects.len() - 1;
        let region = region(&panel, subject).expect("there is such a subject");
        let count = asked(&panel, subject, &region, &mut dice, points, scene);
        all = [all[0] + count[0], all[1] + count[1]];
    }
    assert!(all[0] > 50 && all[1] > 50, "in and out of it: {all:?}");
}

#[test]
fn the_region_is_where_the_rules_pass() {
    // among them those in which a region was once too large
    all_asked(random, &[0, 1, 2, 3, 4, 5, 29, 47], 200);
}

#[test]
fn it_is_so_among_solids_and_controls() {
    all_asked(among_solids, &[0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11], 100);
}
