//! The invented gliding-club tug Corncrake: sticks, two rows of round gauges on a floating panel of its own, which
//! hangs on four shock mounts before an opening of the fixed one.

use super::kit::*;
use panelwright::check::{self, Finding, Findings, Note, Verdict};
use panelwright::geom::{Rect, Vec2, contains, distance};
use panelwright::panel::{Class, Detail, SheetRole, SubjectKind};
use std::collections::{BTreeMap, BTreeSet};

pub const FLOATING: [&str; 2] =
    ["panels/corncrake/floating-as-found.json", "panels/corncrake/floating-proposed.json"];
pub const FIXED: [&str; 2] = ["panels/corncrake/fixed-as-found.json", "panels/corncrake/fixed-proposed.json"];

/// Where the middle of the floating panel stands on the fixed one, mm; the files say so in their notes.
const MIDDLE: Vec2 = Vec2 { x: -60.0, y: 155.0 };
/// How far the floating panel sways each way, mm; the zone of the fixed one says so.
const SWAY: f64 = 6.0;

#[test]
fn floating_as_found_is_honest() {
    let (panel, findings) = resolved(FLOATING[0]);
    let expected = BTreeMap::from([
        (("withheld", "corner-radius"), 1), // nobody has said how it would be cut
        (("withheld", "depth-behind"), 4),  // the rudder's swing arm is not measured
        (("withheld", "least-hole"), 1),
        (("withheld", "line-bend"), 1),  // the swing arm again
        (("withheld", "spare-hole"), 2), // of a lamp and a placard that are gone
        (("withheld", "typical"), 9),    // not taken out yet
    ]);
    assert_eq!(by_rule(&findings), expected);
    let shaft = "depth-behind/tach.port-drive".to_string();
    assert!(shortfalls(&panel, &findings).contains(&shaft), "its shaft bends too tight before the tank");
}

#[test]
fn fixed_as_found_is_honest() {
    let (panel, findings) = resolved(FIXED[0]);
    let expected = BTreeMap::from([
        (("fail", "labelled"), 15), // tape on two switches, nothing on the rest
        (("withheld", "corner-radius"), 1),
        (("withheld", "least-hole"), 1),
        (("withheld", "line-apart"), 1), // no run of the oil line or of a loom is drawn
        (("withheld", "line-bend"), 2),  // wires of two breakers between their neighbours'
        (("withheld", "spare-hole"), 2), // of the receiver; and the floating panel's bay, which it cannot know
        (("withheld", "typical"), 18),
    ]);
    assert_eq!(by_rule(&findings), expected);
    let short = shortfalls(&panel, &findings);
    for known in [
        "breaker-spacing/cb-radio.cutout/cb-pump.cutout", // breakers too close to pull one alone
        "web/cb-radio.cutout/cb-pump.cutout",
        "label-height/label-sw-master", // letters too small
    ] {
        assert!(short.iter().any(|s| s == known), "{known}");
    }
}

#[test]
fn proposed_waits_for_two_things_and_says_why() {
    let (panel, findings) = resolved(FLOATING[1]);
    assert_eq!(by_rule(&findings), BTreeMap::new());
    assert!(findings.counts().pass > 250 && panel.sheets[0].new);
    let (_, findings) = resolved(FIXED[1]);
    let expected = BTreeMap::from([
        (("withheld", "depth-behind"), 1),
        (("withheld", "hand-behind"), 1), // the same hose
        (("withheld", "line-bend"), 1),
        (("withheld", "obstacle-clear"), 1), // the same hose before the firewall
        (("withheld", "spare-hole"), 1),
    ]);
    assert_eq!(by_rule(&findings), expected);
    assert!(findings.counts().pass > 600);
}

/// The two panels together: what was withheld of the bay is settled, and the sway is asked of everything that rides.
#[test]
fn both_panels_together_sway_free_of_each_other() {
    let (panel, findings) = resolved("panels/corncrake/whole-proposed.json");
    let expected = BTreeMap::from([
        (("withheld", "depth-behind"), 1),
        (("withheld", "hand-behind"), 1), // the same hose
        (("withheld", "line-bend"), 1),
        (("withheld", "line-control"), 3), // hoses and shaft of the floating panel, whose runs are not drawn
        (("withheld", "obstacle-clear"), 1),
    ]);
    assert_eq!(by_rule(&findings), expected);
    let sways = |findings: &Findings| {
        let of = findings.list.iter().filter(|f| f.rule.id == "sway");
        of.map(|f| (f.verdict, f.margin().unwrap())).collect::<Vec<_>>()
    };
    let said = sways(&findings);
    assert!(said.len() > 20 && said.iter().all(|(v, m)| *v == Verdict::Pass && *m > 0.0), "{said:?}");
    // mounts that have grown soft: the cases come to the edge of the bay
    let mut soft = panel.clone();
    let sway = soft.space.groups[1].sway.as_mut().unwrap();
    (sway.left, sway.right, sway.down, sway.forward) = (12.0, 12.0, 15.0, 20.0);
    let said = sways(&check::check(&soft, &check::Options::default()));
    assert!(said.iter().filter(|(v, _)| *v == Verdict::Fail).count() >= 3, "{said:?}");
    // and a sway that nobody has given passes nothing
    let mut unsaid = panel.clone();
    unsaid.space.groups[1].sway = None;
    let findings = check::check(&unsaid, &check::Options::default());
    let waits = |f: &&Finding| matches!(&f.note, Note::Waits(w) if w.contains("(sway)"));
    let rules: BTreeSet<&str> = findings.list.iter().filter(waits).map(|f| f.rule.id).collect();
    for rule in ["sway", "depth-behind"] {
        assert!(rules.contains(rule), "{rule} passes without the sway: {rules:?}");
    }
    assert!(findings.list.iter().filter(|f| f.rule.id == "sway").all(|f| f.verdict == Verdict::Withheld));
}

#[test]
fn two_rows_of_round_gauges_on_four_mounts() {
    let (panel, _) = resolved(FLOATING[0]);
    let gauges: Vec<_> =
        placements(&panel).filter(|s| s.facts.as_ref().is_some_and(|f| f.kind == "gauge")).collect();
    assert_eq!(gauges.len(), 8);
    let rows: BTreeSet<i64> = gauges.iter().map(|s| s.at.y.round() as i64).collect();
    assert_eq!(rows, BTreeSet::from([-46, 46]));
    for g in &gauges {
        let round =
            g.parts.iter().filter(|p| p.class == Class::Case).all(|p| p.contour.as_circle().is_some());
        assert!(round, "{}", g.id);
    }
    let mounts = |p| placements(p).filter(|s| s.facts.as_ref().is_some_and(|f| f.kind == "mount")).count();
    assert_eq!(mounts(&panel), 4);
}

/// The studs of the floating panel meet the holes of the fixed one, as found and as proposed.
#[test]
fn the_mounts_of_both_panels_meet() {
    for (floating, fixed) in FLOATING.iter().zip(FIXED) {
        let (floating, _) = resolved(floating);
        let (fixed, _) = resolved(fixed);
        for n in 1..=4 {
            let stud = at(&floating, &format!("mount-{n}")) + MIDDLE;
            let holes = &subject(&fixed, "mount").parts;
            let met = holes.iter().filter(|p| p.class == Class::Hole && p.centre.distance(stud) < 1e-9);
            assert_eq!(met.count(), 1, "mount-{n}");
        }
    }
}

/// What stands behind the floating panel goes through the bay and sways in it without touching its rim.
#[test]
fn what_floats_clears_the_bay() {
    let (floating, _) = resolved(FLOATING[1]);
    let (fixed, _) = resolved(FIXED[1]);
    let bay = &subject(&fixed, "floating-bay").parts[0].contour;
    for s in placements(&floating).filter(|s| !s.id.starts_with("mount")) {
        for p in s.parts.iter().filter(|p| p.class == Class::Body && p.depth.is_some_and(|d| d.1 > 18.0)) {
            let there = panelwright::geom::Transform::shift(MIDDLE).contour(&p.contour);
            assert!(contains(bay, &there), "{} {}", s.id, p.name);
            assert!(distance::contours(bay, &there).distance >= SWAY, "{} {}", s.id, p.name);
        }
    }
    // and nothing of the fixed one stands where it sways
    let b = floating.sheets[0].outline.bounds();
    let swept = Rect::new(b.x0 - SWAY, b.y0 - SWAY, b.x1 + SWAY, b.y1 + SWAY);
    let zone = subject(&fixed, "sway").parts[0].contour.bounds();
    assert_eq!(
        zone,
        Rect::new(swept.x0 + MIDDLE.x, swept.y0 + MIDDLE.y, swept.x1 + MIDDLE.x, swept.y1 + MIDDLE.y)
    );
}

#[test]
fn round_airspeed_and_altimeter_are_kept_and_the_gyros_give_way_to_one_display() {
    let (found, _) = resolved(FLOATING[0]);
    let (proposed, _) = resolved(FLOATING[1]);
    for kept in ["airspeed", "altimeter", "vertical-speed", "tach"] {
        assert_eq!(instrument(&found, kept), instrument(&proposed, kept), "{kept}");
    }
    for gyro in ["attitude", "heading", "turn"] {
        assert!(found.find(gyro).is_some() && proposed.find(gyro).is_none(), "{gyro}");
    }
    let displays: Vec<&str> = placements(&proposed)
        .filter(|s| s.facts.as_ref().is_some_and(|f| f.kind == "display"))
        .map(|s| s.id.as_str())
        .collect();
    assert_eq!(displays, ["display", "traffic"], "one for flight, one that warns of traffic");
    // the pump has nothing left to drive: its gauge goes too, and its opening is used again
    let (fixed, _) = resolved(FIXED[1]);
    assert!(fixed.find("suction").is_none() && part(&fixed, "cylinder", "cutout").there);
}

#[test]
fn what_a_tug_needs_is_at_hand() {
    let (fixed, _) = resolved(FIXED[1]);
    assert_eq!(instrument(&fixed, "tow-release"), "control/tow-release");
    assert_eq!(instrument(&fixed, "mirror"), "switch/mirror");
    // sticks: nothing turns through the sheet
    let shafts = fixed.subjects.iter().any(|s| s.id.contains("shaft"));
    assert!(!shafts, "a stick needs no hole");
    let sway = subject(&fixed, "sway");
    assert_eq!(sway.kind, SubjectKind::Zone);
    let Detail::Zone { forbids, .. } = &sway.parts[0].detail else { panic!("{:?}", sway.parts[0].detail) };
    assert!(forbids.front);
    // the strip that names the breakers also covers the two holes that they leave
    let strip = fixed.sheets.iter().find(|s| s.role == SheetRole::Overlay).expect("a strip");
    for old in ["old-cb-radio", "old-cb-strobe"] {
        assert!(contains(&strip.outline, &subject(&fixed, old).parts[0].contour), "{old}");
    }
}

/// Sticks under both arches, pedals on their swing arm, a canopy whose frame shuts over the coaming.
#[test]
fn what_moves_about_the_fixed_panel() {
    let (panel, findings) = resolved(FIXED[1]);
    let mechanism = &panel.space.mechanism;
    let shut = panel.space.poses.iter().find(|p| p.name == "shut").expect("a pose");
    assert_eq!(panel.subjects[shut.control as usize].id, "canopy-frame");
    let bow = part(&panel, "canopy-frame", "frame-bow");
    let Detail::Moving { solid, link, .. } = &bow.detail else { panic!() };
    // it lifts: its hinge lies ahead of the sheet, the bow behind the pilot's side of it
    let low = solid.moved(&mechanism.pose(*link, &shut.drivers)).bounds().low.y;
    let open = panel.space.poses.iter().find(|p| p.name == "open").expect("a pose");
    assert!(solid.moved(&mechanism.pose(*link, &open.drivers)).bounds().low.y > low + 100.0);
    // both sticks follow the same two drivers
    let names = ["left", "right"].map(|stick| {
        let link = mechanism.links.iter().position(|l| l.id == stick).expect("a stick");
        mechanism.movers(link)
    });
    assert!(names[0] == names[1] && names[0].len() == 2, "{names:?}");
    assert!(panel.find("pedals").is_some());
    let met = |rule: &str| findings.list.iter().filter(move |f| f.rule.id == rule).collect::<Vec<_>>();
    assert!(!met("control-clear").is_empty() && !met("control-run").is_empty());
    assert!(
        met("control-clear")
            .iter()
            .chain(&met("control-run"))
            .all(|f| f.measured.is_none_or(|m| m.lower > 0.0))
    );
}
