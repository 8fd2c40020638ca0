//! Numbers that can be read and are wrong: the other unit, a radius, a bezel, a twin, another tilt.

use super::kit::{Case, dial, panel};
use panelwright::check::{Options, Verdict, check};
use panelwright::files::{Files, Memory};
use panelwright::resolve::{Catalogue, resolve};

const ONE: &str = "\"place\": [\n{ \"id\": \"asi\", \"instrument\": \"dial.json\", \"at\": [150, 120] } ]";

#[test]
fn a_bolt_circle_typed_as_a_radius() {
    // 3.5 in through the centres, taken for the radius: 7 in
    for screws in [
        "\"circle\": \"7 in\", \"count\": 4, \"start\": 45, \"diameter\": 4.3",
        "\"square\": 125.72, \"diameter\": 4.3",
    ] {
        let dial = dial("mm", "79.4", screws, "82.6");
        let case = Case::new(&panel(ONE), &[("dial.json", &dial)]);
        let words = "Screws fall 62.9 mm off centre in x and y, outside the 82.6 mm bezel (41.3): is 3.5 in a diameter?";
        let said = case.said("plausible");
        assert_eq!(said.len(), 1, "{said:?}");
        assert_eq!((said[0].0, said[0].1.as_str()), ("fail", "plausible/asi.screw-1"));
        let column =
            1 + dial.lines().nth(2).unwrap().find(['7', '1']).unwrap() - usize::from(screws.contains("7 in"));
        assert_eq!(said[0].2, format!("{words} Written at dial.json:3:{column}."));
        case.comes_first(words);
    }
    // turned by 30 degrees, the words are those of the definition
    let turned = ONE.replace("[150, 120]", "[150, 120], \"turn\": 30");
    let dial = dial("mm", "79.4", "\"square\": 125.72, \"diameter\": 4.3", "82.6");
    let said = Case::new(&panel(&turned), &[("dial.json", &dial)]).said("plausible");
    assert!(
        said[0].2.starts_with("Screws fall 62.9 mm off centre in x and y, outside the 82.6 mm bezel"),
        "{said:?}"
    );
}

#[test]
fn inches_typed_as_millimetres() {
    let dial = dial("mm", "3.125", "\"square\": 62.9, \"diameter\": 4.3", "82.6");
    let case = Case::new(&panel(ONE), &[("dial.json", &dial)]);
    let words = "Main hole 3.1 mm is smaller than its own screw holes.";
    let said = case.said("plausible");
    assert_eq!(said.len(), 1, "{said:?}");
    assert_eq!((said[0].0, said[0].1.as_str()), ("fail", "plausible/asi.cutout"));
    assert_eq!(said[0].2, format!("{words} Is 3.125 in meant, not 3.125 mm? Written at dial.json:2:51."));
    case.comes_first(words);
}

#[test]
fn all_of_a_dial_in_inches_typed_as_millimetres_by_its_nominal_name() {
    let small = dial("mm", "3.125", "\"square\": 2.475, \"diameter\": 0.17", "3.25");
    let small = small.replacen("\"mounting\"", "\"nominal\": \"3 1/8 in\", \"mounting\"", 1);
    let case = Case::new(&panel(ONE), &[("dial.json", &small)]);
    let said = case.said("plausible");
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(
        said[0]
            .2
            .starts_with("Main hole 3.1 mm for a nominal size of 3 1/8 in: is 3.125 in meant, not 3.125 mm?"),
        "{said:?}"
    );
}

#[test]
fn millimetres_typed_as_inches() {
    let inch = panel(ONE)
        .replace("\"mm\",", "\"in\",")
        .replace("H 610 V 235", "H 24 V 9.25")
        .replace("[150, 120]", "[6, 5]");
    let inch = inch.replace("\"thickness\": 2", "\"thickness\": 0.08");
    let dial = dial("in", "79.4", "\"square\": 2.475, \"diameter\": 0.17", "3.25");
    let case = Case::new(&inch, &[("dial.json", &dial)]);
    let words = "Hole 2017 mm exceeds the panel (610 mm).";
    let said = case.said("plausible");
    assert_eq!(said.len(), 1, "{said:?}");
    assert_eq!((said[0].0, said[0].1.as_str()), ("fail", "plausible/asi.cutout"));
    assert_eq!(said[0].2, format!("{words} Is 79.4 mm meant, not 79.4 in? Written at dial.json:2:51."));
    case.comes_first(words);
    // the same in the panel's own file: the place of the finding is the line of the number
    let old =
        "\"old-openings\": [\n{ \"id\": \"old-asi\", \"shape\": { \"circle\": 79.4 }, \"at\": [6, 5] } ]";
    let inch = inch.replace(ONE.replace("[150, 120]", "[6, 5]").as_str(), old);
    let case = Case::new(&inch, &[]);
    let said = case.said("plausible");
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].2.starts_with(words), "{said:?}");
    assert!(case.report().contains("at panel.json:5:"), "{}", case.report());
}

#[test]
fn a_panel_in_the_wrong_unit_is_told_once_and_not_at_each_item() {
    let dial = dial("mm", "79.4", "\"square\": 62.9, \"diameter\": 4.3", "82.6");
    let two = "\"place\": [ { \"id\": \"a\", \"instrument\": \"dial.json\", \"at\": [6, 5] },\n{ \"id\": \"b\", \"instrument\": \"dial.json\", \"at\": [18, 5] } ]";
    let case = Case::new(&panel(two).replace("H 610 V 235", "H 24 V 9.25"), &[("dial.json", &dial)]);
    let words = "The panel is 24 x 9.25 mm: are inches typed as millimetres?";
    assert_eq!(case.said("plausible"), [("fail", "plausible/sheet".to_string(), words.to_string())]);
    case.comes_first(words);
    let case = Case::new(
        &panel(two)
            .replace("H 610 V 235", "H 610in V 235in")
            .replace("610in", "15494")
            .replace("235in", "5969"),
        &[("dial.json", &dial)],
    );
    let words = "The panel is 15494 x 5969 mm, 610 x 235 in: are millimetres typed as inches?";
    assert_eq!(case.said("plausible"), [("fail", "plausible/sheet".to_string(), words.to_string())]);
}

/// What is not mistyped must not be called so: everything in the catalogue, on a large sheet.
#[test]
fn nothing_in_the_catalogue_looks_mistyped() {
    let catalogue = Catalogue::builtin();
    let mut placed = 0;
    for name in catalogue.names().unwrap() {
        let one =
            format!("\"place\": [ {{ \"id\": \"it\", \"instrument\": \"{name}\", \"at\": [300, 120] }} ]");
        let files = Memory::new().with("panel.json", panel(&one));
        // units of a stack are placed in one
        let Ok(p) = resolve("panel.json", &files as &dyn Files, &catalogue) else { continue };
        let all = check(&p, &Options::default());
        for f in all.list.iter().filter(|f| ["plausible", "twins"].contains(&f.rule.id)) {
            assert_eq!(f.verdict, Verdict::Pass, "{}: {:?}", f.id(&p), f.note);
        }
        placed += 1;
    }
    assert!(placed > 20, "{placed} definitions");
}

#[test]
fn metric_and_inch_twins_mixed() {
    for (nominal, hole, said) in [
        ("3 1/8 in", "80", "Hole is 0.625 mm over this case: keep or change?"),
        ("80 mm", "79.4", "Hole is 0.6 mm under this case: keep or change?"),
        ("2 1/4 in", "57", "Hole is 0.15 mm under this case: keep or change?"),
        ("57 mm", "57.15", "Hole is 0.15 mm over this case: keep or change?"),
    ] {
        let dial = dial("mm", hole, "\"square\": 62.9, \"diameter\": 4.3", "92");
        let dial = dial.replacen("\"mounting\"", &format!("\"nominal\": \"{nominal}\", \"mounting\""), 1);
        let case = Case::new(&panel(ONE), &[("dial.json", &dial)]);
        let found = case.said("twins");
        assert_eq!(found.len(), 1, "{found:?}");
        assert_eq!((found[0].0, found[0].1.as_str()), ("fail", "twins/asi.cutout"));
        assert!(found[0].2.starts_with(said), "{found:?}");
        assert_eq!(case.report().matches(said).count(), 1);
        assert!(case.said("plausible").is_empty());
    }
}

#[test]
fn a_cutout_measured_on_the_bezel() {
    let square = dial("mm", "82.6", "\"square\": 62.9, \"diameter\": 4.3", "82.6");
    let square = square.replace("{ \"circle\": 82.6 }", "{ \"rectangle\": [82.6, 82.6] }");
    let case = Case::new(&panel(ONE), &[("dial.json", &square)]);
    let words = "Cutout equals bezel: nothing left to cover the edge.";
    let said = case.said("plausible");
    assert_eq!(said.len(), 1, "{said:?}");
    assert_eq!((said[0].0, said[0].1.as_str()), ("fail", "plausible/asi.cutout"));
    assert_eq!(
        said[0].2,
        format!("{words} Measure the opening, not what hides it. Written at dial.json:2:55.")
    );
    case.comes_first(words);
    // put in from behind it may fill its opening
    let rear = square.replace("\"mounting\": \"front\"", "\"mounting\": \"rear\"");
    assert!(Case::new(&panel(ONE), &[("dial.json", &rear)]).said("plausible").is_empty());
}

#[test]
fn a_gyro_calibrated_for_another_tilt() {
    let gyro = dial("mm", "79.4", "\"square\": 62.9, \"diameter\": 4.3", "82.6");
    let gyro =
        gyro.replacen("\"mounting\"", "\"tilt\": { \"matters\": true, \"calibrated\": 0 }, \"mounting\"", 1);
    let case = Case::new(&panel(&format!("\"tilt\": 8, {ONE}")), &[("dial.json", &gyro)]);
    let words = "Panel 8 deg, unit 0 deg.";
    let said = case.said("tilt");
    assert_eq!(said.len(), 1, "{said:?}");
    assert_eq!(said[0].0, "fail");
    assert!(said[0].2.starts_with(words), "{said:?}");
    assert_eq!(case.report().matches(words).count(), 1);
    let level = gyro.replace("\"calibrated\": 0", "\"calibrated\": 8");
    assert!(
        Case::new(&panel(&format!("\"tilt\": 8, {ONE}")), &[("dial.json", &level)]).said("tilt").is_empty()
    );
}

/// 2.8 mm is normal for a 3 1/8 dial: hole 79.4, screws 4.3 on a circle of 88.9.
#[test]
fn an_items_own_screws_do_not_alarm_and_a_neighbours_do() {
    let dial = dial("mm", "79.4", "\"circle\": 88.9, \"count\": 4, \"start\": 45, \"diameter\": 4.3", "82.6");
    let own = (88.9 - 79.4 - 4.3) / 2.0;
    assert!(own < 2.9, "{own} mm of metal between the hole and its own screws");
    let alone = Case::new(&panel(ONE), &[("dial.json", &dial)]);
    for rule in ["web", "own-openings", "plausible", "edge-distance", "pitch"] {
        assert!(alone.said(rule).is_empty(), "{rule}: {:?}", alone.said(rule));
    }
    // a neighbour whose screw stands as near to this cutout: its angle is that of the screw
    let two =
        ONE.replace(" ]", ",\n{ \"id\": \"lamp\", \"instrument\": \"lamp.json\", \"at\": [150, 166.2] } ]");
    let lamp = "{ \"format\": 1, \"instrument\": \"Lamp\", \"kind\": \"lamp\", \"unit\": \"mm\",\n\"holes\": [{ \"id\": \"screw\", \"at\": [[0, -1.55]], \"diameter\": 4.3, \"fastener\": \"none\" }] }";
    let case = Case::new(&panel(&two), &[("dial.json", &dial), ("lamp.json", lamp)]);
    let webs: Vec<_> = case.said("web");
    assert_eq!(webs.len(), 1, "{webs:?}");
    assert_eq!((webs[0].0, webs[0].1.as_str()), ("fail", "web/asi.cutout/lamp.screw"));
    let measured = case.findings.list.iter().find(|f| f.rule.id == "web").and_then(|f| f.measured).unwrap();
    assert!((measured.lower - 2.8).abs() < 1e-9, "{measured:?}");
}
