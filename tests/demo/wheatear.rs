//! The invented single-seat microlight Wheatear: a strip panel in millimetres, an arm for a map on a doubler, a
//! mechanical tachometer that stays.

use super::kit::*;
use panelwright::panel::{Detail, SheetRole, SubjectKind};
use std::collections::BTreeMap;

pub const FILES: [&str; 2] = ["panels/wheatear/as-found.json", "panels/wheatear/proposed.json"];

#[test]
fn as_found_is_honest() {
    let (panel, findings) = resolved(FILES[0]);
    let expected = BTreeMap::from([
        (("fail", "labelled"), 6),          // nothing on the old panel is named
        (("withheld", "corner-radius"), 1), // nobody has said how it would be cut
        (("withheld", "depth-behind"), 2),  // the duct's bay is not measured
        (("withheld", "least-hole"), 1),
        (("withheld", "line-apart"), 1), // no loom's run is drawn, and the tank is near
        (("withheld", "line-bend"), 1),  // the duct's bay again
        (("withheld", "spare-hole"), 1), // the voltmeter's hole is open
        (("withheld", "typical"), 13),   // no part has been measured yet
    ]);
    assert_eq!(by_rule(&findings), expected);
    assert!(findings.counts().pass > 150, "{:?}", findings.counts());
    assert!(shortfalls(&panel, &findings).is_empty(), "it was built well, once");
}

#[test]
fn proposed_passes() {
    let (panel, findings) = resolved(FILES[1]);
    assert_eq!(by_rule(&findings), BTreeMap::new());
    assert!(findings.counts().pass > 500, "{:?}", findings.counts());
    let placed: Vec<_> = panel.subjects.iter().filter(|s| s.kind == SubjectKind::Placement).collect();
    assert!(placed.len() >= 25, "{} placements", placed.len());
    assert_eq!(placed.iter().filter(|s| s.provision).count(), 1);
    for kind in [
        "gauge", "display", "radio", "toggle", "breaker", "fuse", "key", "vent", "jack", "outlet", "arm",
        "lamp", "blank",
    ] {
        assert!(placed.iter().any(|s| s.facts.as_ref().is_some_and(|f| f.kind == kind)), "{kind}");
    }
}

/// The map on its arm keeps clear of everything it may meet, over its whole reach and with its clamp slipped; a look at
/// rest would know half of it.
#[test]
fn the_arm_reaches_far_and_meets_nothing() {
    let (panel, findings) = resolved(FILES[1]);
    let space = &panel.space;
    let display = part(&panel, "map-arm", "clamp-display");
    let Detail::Moving { solid, link, .. } = &display.detail else { panic!() };
    let drivers: Vec<&str> =
        space.mechanism.movers(*link).iter().map(|d| space.mechanism.drivers[*d].id.as_str()).collect();
    assert_eq!(drivers, ["arm-swing", "arm-nod", "clamp-slip"]);
    let rest = solid.bounds();
    let at = |name: &str, value: f64| {
        let mut pose = space.mechanism.neutral();
        let driver = space.mechanism.drivers.iter().position(|d| d.id == name).expect("a driver");
        pose[driver] = value;
        solid.moved(&space.mechanism.pose(*link, &pose)).bounds()
    };
    // slipped by 30 mm it hangs 30 mm lower; swung aside by 50 degrees its edge comes 60 mm nearer to the sheet
    assert!((rest.low.y - at("clamp-slip", 30.0).low.y - 30.0).abs() < 1e-9);
    assert!(at("arm-swing", 50.0).high.d > rest.high.d + 60.0);
    let met = findings.list.iter().filter(|f| f.rule.id == "control-clear");
    assert!(met.clone().count() > 0 && met.clone().all(|f| f.measured.is_none_or(|m| m.lower > 12.7)));
    // the cage was measured in the jig, in the aeroplane's own axes
    assert!(space.airframe.is_some() && subject(&panel, "cage").parts.len() == 6);
}

/// The panel is laid out about its centreline: what is mirrored stands at the same height, as far out.
#[test]
fn proposed_is_symmetric() {
    let (panel, _) = resolved(FILES[1]);
    let at = |id: &str| at(&panel, id);
    for (left, right) in [
        ("asi", "alt"),
        ("tach", "engine"),
        ("vent", "radio"),
        ("cover", "spare"),
        ("outlet", "arm"),
        ("lamp-charge", "lamp-oil"),
        ("sw-master", "sw-light"),
        ("sw-radio", "sw-strobe"),
        ("sw-pump", "sw-screen"),
    ] {
        let (l, r) = (at(left), at(right));
        assert!((l.x + r.x).abs() < 1e-6 && (l.y - r.y).abs() < 1e-6, "{left} {l:?}, {right} {r:?}");
    }
    assert!(at("standby").x.abs() < 1e-6, "what shows the attitude stands before the pilot");
}

/// A strip, written in millimetres; the arm stands on a doubler of its own, the tachometer has its shaft.
#[test]
fn the_story_of_the_wheatear() {
    let (panel, _) = resolved(FILES[1]);
    let b = panel.sheets[0].outline.bounds();
    assert!(b.width() > 3.5 * b.height() && !panel.unit.is_inch(), "a strip, in millimetres");
    let doubler = panel.sheets.iter().find(|s| s.role == SheetRole::Doubler).expect("a doubler");
    let base = part(&panel, "arm", "bezel").contour.bounds();
    let under = doubler.outline.bounds();
    assert!(under.x0 < base.x0 && under.x1 > base.x1 && under.y0 < base.y0 && under.y1 > base.y1);
    assert!(part(&panel, "tach", "port-drive").depth.is_some(), "the shaft and its bend have their room");
    assert_eq!(instrument(&panel, "tach"), "gauge/80mm-tachometer");
}
