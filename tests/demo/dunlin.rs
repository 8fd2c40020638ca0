//! The invented four-seat tourer Dunlin: coupled wheels by cable and sprocket, three inserts, a unit stack, a row
//! of switches and fuses. One gauge becomes a standby display, and the stack gains a provision.

use super::kit::*;
use panelwright::geom::{contains, length};
use panelwright::panel::{Class, Detail, Hung, SheetRole, State, Structure, SubjectKind};
use panelwright::solid::{Lie, Pose, Shape, Solid, distance, within};
use std::collections::BTreeMap;

pub const FILES: [&str; 2] = ["panels/dunlin/as-found.json", "panels/dunlin/proposed.json"];

#[test]
fn as_found_is_honest() {
    let (panel, findings) = resolved(FILES[0]);
    let expected = BTreeMap::from([
        (("fail", "control-clear"), 1), // see below
        (("fail", "labelled"), 20),     // the engraving went with the last coat of paint
        (("withheld", "corner-radius"), 1),
        (("withheld", "depth-behind"), 11), // behind the trays only who takes them out can measure
        (("withheld", "least-hole"), 1),
        (("withheld", "line-apart"), 2), // no run of the primer's line or of a loom is drawn
        (("withheld", "line-bend"), 12), // the same plugs
        (("withheld", "obstacle-clear"), 17), // and the firewall lies somewhere behind them
        (("withheld", "spare-hole"), 1), // of a lamp that is gone
        (("withheld", "stack-set-back"), 4),
        (("withheld", "typical"), 20),
    ]);
    assert_eq!(by_rule(&findings), expected);
    let short = shortfalls(&panel, &findings);
    for known in [
        "switch-spacing/sw-strobe.cutout/sw-taxi.cutout", // added later, beside the row
        "web/sw-strobe.cutout/sw-taxi.cutout",
        "bodies-apart/primer.port-outlet/alternate-static.port-static", // a fuel line on the static hose
    ] {
        assert!(short.iter().any(|s| s == known), "{known} in {short:#?}");
    }
}

#[test]
fn proposed_passes() {
    let (panel, findings) = resolved(FILES[1]);
    assert_eq!(by_rule(&findings), BTreeMap::new());
    assert!(findings.counts().pass > 1300, "{:?}", findings.counts());
    assert!(placements(&panel).count() >= 65, "{}", placements(&panel).count());
    assert!(panel.unit.is_inch());
    assert_eq!(panel.sheets[0].structure.0, Structure::Yes, "ask before cutting");
}

/// The shafts of both wheels go through the sheet at one height; what couples them lies between, and nothing else.
#[test]
fn two_wheels_are_coupled_behind_the_sheet() {
    let (panel, _) = resolved(FILES[1]);
    let shafts: Vec<_> = subject(&panel, "shaft").parts.iter().filter(|p| p.class == Class::Hole).collect();
    assert_eq!(shafts.len(), 2);
    assert!((shafts[0].centre.x + shafts[1].centre.x).abs() < 1e-9);
    assert_eq!(shafts[0].centre.y, shafts[1].centre.y);
    let channel = subject(&panel, "wheel-coupling").parts[0].contour.bounds();
    assert!((channel.center().y - shafts[0].centre.y).abs() < 1e-9);
    let gap = length(shafts[1].centre - shafts[0].centre) - channel.width();
    assert!(gap > 0.0 && gap < 100.0, "from bearing to bearing: {gap}");
}

/// The column's arm runs into the plug of the turn gauge with the wheel turned right and pulled, both far from where
/// they rest: a look at rest finds 4 in of room. The standby display in its place is short enough.
#[test]
fn only_turned_and_pulled_does_the_arm_meet_the_turn_gauge() {
    let (found, findings) = resolved(FILES[0]);
    let (plug, arm) = (part(&found, "turn", "port-plug"), part(&found, "left-wheel", "turning-arm"));
    let Detail::Moving { solid: arm_solid, link, .. } = &arm.detail else { panic!() };
    let (from, to) = plug.depth.expect("a depth");
    let section = plug.contour.clone();
    let plug_solid = Solid::new(Shape::Prism { section, from, to }, Pose::IDENTITY).expect("a plug");
    let mechanism = &found.space.mechanism;
    let gap = |pose: &[f64]| distance(&plug_solid, &arm_solid.moved(&mechanism.pose(*link, pose)));
    let rest = gap(&mechanism.neutral());
    assert!(rest.lower > 4.0 * 25.4, "{rest:?}");
    // each of the two alone does not find it
    for (fore_aft, roll) in [(-4.4 * 25.4, 0.0), (0.0, -75.0)] {
        assert!(gap(&[fore_aft, roll]).lower > 12.7 + 25.0, "{fore_aft} {roll}");
    }
    assert_eq!(gap(&[-4.4 * 25.4, -75.0]).relation, Lie::Overlap);
    let id = "control-clear/turn.port-plug/left-wheel.turning-arm";
    let told = findings.list.iter().find(|f| f.id(&found) == id).expect("it is told");
    assert!(told.measured.expect("a number").upper < 0.0);
    assert_eq!(told.verdict, panelwright::check::Verdict::Fail, "although both are there already");
    let (panel, findings) = resolved(FILES[1]);
    assert!(findings.list.iter().filter(|f| f.rule.id == "control-clear").all(|f| {
        f.measured.is_none_or(|m| m.lower > 0.0) && f.verdict == panelwright::check::Verdict::Pass
    }));
    assert!(panel.find("left-wheel").is_some() && panel.find("turn").is_none());
}

/// What stands behind: two coupled controls, more than sixty solids, a stack that is held at last.
#[test]
fn the_back_of_the_dunlin() {
    let (panel, _) = resolved(FILES[1]);
    let solids: Vec<&Solid> = panel
        .subjects
        .iter()
        .flat_map(|s| &s.parts)
        .filter_map(|p| match &p.detail {
            Detail::Obstacle { solid, .. } => Some(solid.as_ref()),
            _ => None,
        })
        .collect();
    assert!(solids.len() >= 60, "{}", solids.len());
    let mechanism = &panel.space.mechanism;
    let movers = |control: &str, link: &str| {
        let of = panel.find(control).expect("it is there") as u32;
        let named = |k: &usize| mechanism.links[*k].id == link && panel.space.control_of[*k] == of;
        let link = (0..mechanism.links.len()).find(named).expect("it has the link");
        mechanism.movers(link)
    };
    assert_eq!(
        movers("left-wheel", "turning"),
        movers("right-wheel", "turning"),
        "they turn and slide together"
    );
    assert_eq!(movers("left-wheel", "turning").len(), 2);
    assert_eq!(movers("coupling", "cross-bar").len(), 1, "what couples them travels fore and aft alone");
    // at least thirty parts come within an inch of what is asked of them
    let mut near = 0;
    for p in placements(&panel).flat_map(|s| &s.parts) {
        let stands =
            matches!(p.class, Class::Body | Class::Port | Class::Flange | Class::Bezel | Class::Front);
        let (true, Some((from, to))) = (stands, p.depth) else { continue };
        let shape = Shape::Prism { section: p.contour.clone(), from, to };
        let Ok(own) = Solid::new(shape, Pose::IDENTITY) else { continue };
        near += solids.iter().filter(|s| within(&own, s, 6.0 + 25.0).is_some()).count();
    }
    assert!(near >= 30, "{near}");
    let (found, _) = resolved(FILES[0]);
    assert_eq!(subject(&found, "stack").hung, Some(Hung::Droop(0.5)));
    assert!(matches!(subject(&panel, "radios").hung, Some(Hung::Held(_))));
    assert!(found.find("tray-support").is_none() && panel.find("tray-support").is_some());
}

#[test]
fn three_inserts_a_stack_and_rows() {
    let (panel, _) = resolved(FILES[1]);
    let inserts: Vec<_> = panel.sheets.iter().filter(|s| s.role == SheetRole::Insert).collect();
    assert_eq!(inserts.len(), 3);
    for s in &inserts {
        assert!(contains(&panel.sheets[0].outline, &s.outline), "{} lies on the sheet", s.id);
    }
    let kind = |k: &str| placements(&panel).filter(|s| s.facts.as_ref().is_some_and(|f| f.kind == k)).count();
    assert_eq!((kind("stack"), kind("fuse")), (1, 10));
    assert!(kind("toggle") >= 10 && kind("push-pull") >= 4);
    let row = |start: &str| {
        let all: Vec<_> = placements(&panel).filter(|s| s.id.starts_with(start)).collect();
        assert!(all.iter().all(|s| (s.at.y - all[0].at.y).abs() < 1e-9), "{start} stand in one row");
        all.len()
    };
    assert_eq!((row("sw-"), row("fuse-")), (10, 10));
    // front overlays in place of worn engraving; one covers the hole of the switch that moved
    let strips = panel.sheets.iter().filter(|s| s.role == SheetRole::Overlay).count();
    assert_eq!(strips, 2);
}

#[test]
fn one_gauge_becomes_a_standby_display_and_nothing_is_cut_for_it() {
    let (found, _) = resolved(FILES[0]);
    let (panel, _) = resolved(FILES[1]);
    assert!(found.find("turn").is_some() && panel.find("turn").is_none());
    assert_eq!(instrument(&panel, "standby"), "standby/3-1-8in");
    let (old, new) = (at(&found, "turn"), at(&panel, "standby"));
    assert!(length(new - old) < 1e-9, "in the gauge's place");
    for p in
        subject(&panel, "standby").parts.iter().filter(|p| matches!(p.class, Class::Cutout | Class::Hole))
    {
        assert!(p.there, "{} is there already", p.name);
    }
    // what it stands by for is what it was
    for kept in ["airspeed", "attitude", "altimeter", "heading", "vertical-speed", "course"] {
        assert_eq!(subject(&panel, kept).state, State::Existing, "{kept}");
    }
}

#[test]
fn the_stack_gains_a_provision() {
    let (found, _) = resolved(FILES[0]);
    let (panel, _) = resolved(FILES[1]);
    assert!(!found.subjects.iter().any(|s| s.provision));
    let free: Vec<_> = panel.subjects.iter().filter(|s| s.provision).collect();
    assert_eq!(free.len(), 1);
    assert_eq!((free[0].kind, free[0].id.as_str()), (SubjectKind::Unit, "navigator-room"));
    // it is the dead unit's room, and the units around it stay where they were
    assert!(length(free[0].at - at(&found, "finder")) < 1e-9);
    for unit in ["audio", "navcom", "transponder"] {
        assert!(length(at(&panel, unit) - at(&found, unit)) < 1e-9, "{unit}");
        // measured with the trays out: their definitions lie beside the panel
        assert!(instrument(&panel, unit).contains("measured"), "{}", instrument(&panel, unit));
    }
}
