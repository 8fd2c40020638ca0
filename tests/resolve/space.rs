//! Obstacles, controls and lines in their place: both frames, the mechanism, names, chains of files.

use crate::kit::*;
use panelwright::panel::{Class, Detail, End, Exempted, Hung, LineKind, Panel, Part, State, SubjectKind};
use panelwright::solid::{Shape, Solid, Vec3};

const PLACE: &str = r#""place": [ { "id": "a", "instrument": "dial.json", "at": [60, 120] } ]"#;

fn space(rest: &str) -> Panel {
    panel(&format!("{PLACE},\n{rest}"))
}

fn solid(part: &Part) -> &Solid {
    match &part.detail {
        Detail::Obstacle { solid, .. } | Detail::Moving { solid, .. } | Detail::Line { solid, .. } => solid,
        other => panic!("{other:?}"),
    }
}

#[track_caller]
fn close(a: Vec3, x: f64, y: f64, d: f64) {
    assert!((a - Vec3::new(x, y, d)).length() < 1e-9, "{a:?} is not ({x}, {y}, {d})");
}

#[test]
fn an_obstacle_is_a_subject_with_a_part_for_each_solid() {
    let p = space(
        r#""obstacles": [ { "id": "rib", "kind": "rib", "tolerance": 2, "carries": "nothing", "solids": [
  { "id": "web", "prism": { "rectangle": [30, 4] }, "at": [100, 50], "turn": 90, "from": 20, "to": 60 },
  { "ball": 10, "centre": [1, 2, 30] } ] },
{ "id": "bar", "kind": "tube", "solids": [ { "bar": "1 in", "from": [0, 0, 40], "to": [100, 0, 40] } ] } ]"#,
    );
    let rib = subject(&p, "rib");
    assert_eq!((rib.kind, rib.state, rib.title.as_str()), (SubjectKind::Obstacle, State::Existing, "rib"));
    boxed(&p, "rib", "web", [98.0, 35.0, 102.0, 65.0]);
    let web = part(&p, "rib", "web");
    assert_eq!((web.class, web.depth), (Class::Obstacle, Some((20.0, 60.0))));
    // its own tolerance, as one shift of the whole
    assert_eq!((web.terms.len(), web.terms[0].shift), (1, 2.0));
    assert_eq!(part(&p, "rib", "2").depth, Some((25.0, 35.0)));
    assert!(
        matches!(&web.detail, Detail::Obstacle { kind, carries: Some(c), .. } if kind == "rib" && c == "nothing")
    );
    // where nothing is said what exists is 0.5 mm off, as everywhere
    let bar = part(&p, "bar", "");
    assert_eq!(bar.terms[0].shift, 0.5);
    boxed(&p, "bar", "", [0.0, -12.7, 100.0, 12.7]);
    let (low, high) = bar.depth.unwrap();
    near(low, 27.3);
    near(high, 52.7);
    assert!(p.space.airframe.is_none());
}

/// Station aft, butt line right, water line up, the panel's datum at 1000, -5, 400 and the panel leaning forward by
/// 8 degrees: sin 8 = 0.13917310096, cos 8 = 0.99026806874.
#[test]
fn the_aeroplane_s_axes_meet_the_panel_s_at_its_tilt() {
    let p = space(
        r#""tilt": 8, "airframe": { "station": 1000, "butt-line": -5, "water-line": 400 },
"obstacles": [ { "id": "o", "kind": "bracket", "in": "aeroplane", "solids": [
  { "id": "ball", "ball": 10, "centre": [752.432982815, 15, 365.20672476] },
  { "id": "box", "box": [30, 20, 10], "centre": [752.432982815, 15, 365.20672476] },
  { "id": "turned", "box": [30, 20, 10], "centre": [752.432982815, 15, 365.20672476],
    "turns": [ { "about": "water-line", "by": 90 } ] } ] } ]"#,
    );
    // 250 mm straight behind the panel: 250 cos 8 = 247.567 mm ahead of the datum and 250 sin 8 = 34.793 mm below it;
    // 20 mm right of it
    let ball = solid(part(&p, "o", "ball"));
    assert!((ball.ball().0 - Vec3::new(20.0, 0.0, 250.0)).length() < 1e-6, "{:?}", ball.ball());
    // 30 along the station, 20 along the butt line, 10 up: its depth in the panel's axes is 30 cos 8 + 10 sin 8
    let b = solid(part(&p, "o", "box")).bounds();
    near(b.high.x - b.low.x, 20.0);
    assert!((b.high.d - b.low.d - (30.0 * 0.990_268_068_74 + 10.0 * 0.139_173_100_96)).abs() < 1e-8);
    assert!((b.high.y - b.low.y - (30.0 * 0.139_173_100_96 + 10.0 * 0.990_268_068_74)).abs() < 1e-8);
    // its farthest corner is the lower one ahead: 15 ahead, 5 down, so y = 15 sin 8 - 5 cos 8 = -2.864
    let far = solid(part(&p, "o", "box")).pieces()[0].core.support(Vec3::FORWARD);
    assert!((far.y - (15.0 * 0.139_173_100_96 - 5.0 * 0.990_268_068_74)).abs() < 1e-6, "{far:?}");
    // turned by a quarter about the water line the two sides change places
    let t = solid(part(&p, "o", "turned")).bounds();
    assert!((t.high.x - t.low.x - 30.0).abs() < 1e-9);
    assert!((t.high.d - t.low.d - (20.0 * 0.990_268_068_74 + 10.0 * 0.139_173_100_96)).abs() < 1e-8);
    let frame = p.space.airframe.unwrap();
    assert_eq!((frame.station, frame.butt_line, frame.water_line), (1000.0, -5.0, 400.0));
}

const WHEELS: &str = r#""drivers": [ { "id": "fore-aft", "kind": "slide", "from": -80, "to": 90, "over": [5, 6] },
  { "id": "roll", "kind": "turn", "from": "-60 deg", "to": 60, "neutral": 2 } ],
"controls": [ { "id": "right", "kind": "wheel", "links": [
    { "id": "wheel", "on": "shaft", "pivot": { "at": [300, 80, 0], "axis": [0, 0, 2] }, "follows": { "roll": 1 },
      "solids": [ { "id": "rim", "kind": "rim", "bar": 200, "from": [300, 80, -250], "to": [300, 80, -225], "hand": true } ] },
    { "id": "shaft", "on": "left.bar", "allowance": 1, "runs-in": ["sheet", "a.body", "left.bar"],
      "solids": [ { "bar": 25, "from": [300, 80, -230], "to": [300, 80, 200] } ] } ] },
  { "id": "left", "kind": "wheel", "links": [
    { "id": "bar", "slide": [0, 0, 1], "follows": { "fore-aft": 1 }, "allowance": 2,
      "solids": [ { "kind": "bar", "box": [200, 20, 10], "centre": [200, 80, 200] } ] } ],
    "poses": { "pulled": { "fore-aft": -80 } } } ]"#;

#[test]
fn controls_make_one_mechanism_whose_links_follow_what_they_hang_on() {
    let p = space(WHEELS);
    let m = &p.space.mechanism;
    // "bar" stands last in the file and first here: the others hang on it
    let ids: Vec<&str> = m.links.iter().map(|l| l.id.as_str()).collect();
    assert_eq!(ids, ["bar", "shaft", "wheel"]);
    let of: Vec<&str> = p.space.control_of.iter().map(|s| p.subjects[*s as usize].id.as_str()).collect();
    assert_eq!(of, ["left", "right", "right"]);
    assert_eq!(m.drivers[0].stops, (-80.0, 90.0));
    assert_eq!(m.drivers[0].over, Some((5.0, 6.0)));
    assert_eq!((m.drivers[1].stops, m.drivers[1].neutral, m.drivers[1].over), ((-60.0, 60.0), 2.0, None));
    // pulled by 80 and rolled by a quarter: a point 100 right of the wheel's middle goes above it, 80 nearer
    let wheel = m.pose(2, &[-80.0, 90.0]);
    close(wheel.point(Vec3::new(400.0, 80.0, -240.0)), 300.0, 180.0, -320.0);
    assert_eq!(m.allowance(2), None, "the wheel's own is not said");
    assert_eq!(m.allowance(1), Some(3.0));
    let Detail::Moving { link, kind, hand, .. } = &part(&p, "right", "wheel-rim").detail else { panic!() };
    assert_eq!((*link, kind.as_str(), *hand), (2, "rim", Some(50.0)));
    let shaft = part(&p, "right", "shaft");
    assert_eq!((shaft.class, shaft.depth), (Class::Moving, Some((-230.0, 200.0))));
    assert_eq!(p.space.poses[0].drivers, [-80.0, 2.0]);
    assert_eq!(p.subjects[p.space.poses[0].control as usize].id, "left");
}

#[test]
fn what_a_link_runs_in_is_exempt_both_ways() {
    let p = space(WHEELS);
    let from: Vec<Exempted> = p.space.exempt.iter().map(|e| e.from).collect();
    let sheet = p.find("sheet").unwrap() as u32;
    assert_eq!(from[0], Exempted::Subject(sheet));
    let Exempted::Part(can) = from[1] else { panic!("{from:?}") };
    assert_eq!(p.part_name(can), "a.body");
    assert_eq!(from[2], Exempted::Link(0));
    let bar = p.find("left").unwrap() as u32;
    let moving = |subject, part| panelwright::panel::PartRef { subject, part };
    assert!(p.space.exempt(1, moving(bar, 0), Some(0)));
    let right = p.find("right").unwrap() as u32;
    assert!(p.space.exempt(0, moving(right, 1), Some(1)), "what is said of one holds for both");
    assert!(!p.space.exempt(2, moving(bar, 0), Some(0)));
    assert!(p.space.exempt(1, can, None));
}

/// A pivot in the aeroplane's axes turns right-handed about its axis: about the butt line (to the right) water line
/// goes to station, so that what stands up leans aft.
#[test]
fn joints_in_the_aeroplane_s_axes_turn_as_seen_there() {
    let p = space(
        r#""tilt": 0, "airframe": { "station": 1000, "butt-line": 0, "water-line": 500 },
"drivers": [ { "id": "pull", "kind": "turn", "from": -20, "to": 20 }, { "id": "out", "kind": "slide", "from": 0, "to": 50 } ],
"controls": [ { "id": "stick", "kind": "stick", "in": "aeroplane", "links": [
  { "id": "grip", "pivot": { "at": [1200, 0, 100], "axis": [0, 1, 0] }, "follows": { "pull": 1 },
    "solids": [ { "bar": 30, "from": [1200, 0, 100], "to": [1200, 0, 500] } ] },
  { "id": "knob", "slide": [1, 0, 0], "follows": { "out": 1 }, "solids": [ { "ball": 20, "centre": [990, 50, 500] } ] } ] } ]"#,
    );
    let m = &p.space.mechanism;
    // the stick's top at station 1200, water line 500 is the panel's (0, 0, -200)
    let b = solid(part(&p, "stick", "grip")).bounds();
    near(b.high.y, 0.0);
    near(b.low.d, -215.0);
    let top = m.pose(0, &[90.0, 0.0]).point(Vec3::new(0.0, 0.0, -200.0));
    // a quarter turn pulls it 400 mm aft, to station 1600: depth -600
    close(top, 0.0, -400.0, -600.0);
    // aft is towards the pilot
    close(m.pose(1, &[0.0, 30.0]).point(Vec3::ZERO), 0.0, 0.0, -30.0);
}

#[test]
fn factors_between_lengths_and_angles_are_in_the_file_s_unit() {
    let inch = |follows: &str| {
        whole(&format!(
            r#"{{ "format": 1, "panel": "T", "unit": "in", "sheet": {{ "outline": "M 0 0 H 16 V 8 H 0 Z" }},
"place": [ {{ "id": "a", "instrument": "dial.json", "at": [3, 4] }} ],
"drivers": [ {{ "id": "s", "kind": "slide", "from": 0, "to": 2 }}, {{ "id": "t", "kind": "turn", "from": 0, "to": 90 }} ],
"controls": [ {{ "id": "c", "kind": "lever", "links": [ {{ "id": "l", {follows} }} ] }} ] }}"#
        ))
    };
    // 10 degrees an inch are 20 degrees at 2 in, that is 50.8 mm
    let p = inch(r#""pivot": { "at": [0, 0, 4], "axis": [1, 0, 0] }, "follows": { "s": 10 }"#);
    near(p.space.mechanism.number(0, &[50.8, 0.0]), 20.0);
    // half an inch a degree are 25.4 mm at 2 degrees
    let p = inch(r#""slide": [0, 1, 0], "follows": { "t": 0.5 }"#);
    near(p.space.mechanism.number(0, &[0.0, 2.0]), 25.4);
    let p = inch(r#""slide": [0, 1, 0], "follows": { "s": 0.5 }"#);
    near(p.space.mechanism.number(0, &[25.4, 0.0]), 12.7);
}

#[test]
fn lines_leave_ports_and_run_along_their_path() {
    let p = space(
        r#""lines": [ { "id": "pitot", "kind": "hose", "carries": "pitot", "from": "a.plug", "to": [0, 0, 400],
    "diameter": 8, "bend-radius": 20, "length": 700, "path": [[70, 125, 110], [70, 125, 200], [0, 125, 200], [0, 0, 200]] },
  { "id": "loom", "kind": "wires", "to": "a.port-plug" } ]"#,
    );
    let [pitot, loom] = p.space.lines.as_slice() else { panic!() };
    assert_eq!(p.part_name(pitot.from.unwrap()), "a.port-plug");
    assert_eq!(pitot.to, Some(End::Point(Vec3::new(0.0, 0.0, 400.0))));
    assert_eq!((pitot.diameter, pitot.length, pitot.kind), (Some(8.0), Some(700.0), LineKind::Hose));
    assert_eq!(pitot.bend_radius, Some((20.0, "the panel's own file".into())));
    assert_eq!(loom.to, Some(End::Port(pitot.from.unwrap())));
    assert!(subject(&p, "loom").parts.is_empty());
    let tube = part(&p, "pitot", "");
    assert_eq!(tube.class, Class::Line);
    // 20 to the inside of the bend is 24 at the centre line
    let Shape::Tube { path, radius } = solid(tube).shape() else { panic!() };
    assert_eq!((path.len(), *radius), (5, 4.0));
    let panelwright::solid::Leg::Arc { from, centre, .. } = path[1] else { panic!() };
    near((from - centre).length(), 24.0);
}

#[test]
fn what_hangs_and_what_is_held() {
    let p = panel(
        r#""place": [ { "id": "a", "instrument": "dial.json", "at": [60, 120], "droop": 1 },
  { "id": "b", "instrument": "dial.json", "right-of": "a", "pitch": 80, "droop": "4 mm" },
  { "id": "c", "instrument": "dial.json", "right-of": "b", "pitch": 80, "rear-support": "bracket at the rib" },
  { "id": "d", "instrument": "dial.json", "right-of": "c", "pitch": 80 } ]"#,
    );
    let hung = |id: &str| subject(&p, id).hung.clone();
    assert_eq!(hung("a"), Some(Hung::Droop(1.0)));
    assert_eq!(hung("b"), Some(Hung::Sag(4.0)));
    assert_eq!(hung("c"), Some(Hung::Held("bracket at the rib".into())));
    assert_eq!(hung("d"), None);
}

#[test]
fn a_file_adds_to_what_it_builds_on_and_takes_away() {
    let below = text(&format!(
        r#"{PLACE}, "as-found": true, "airframe": {{ "station": 1, "butt-line": 0, "water-line": 0 }},
"obstacles": [ {{ "id": "rib", "kind": "rib", "solids": [ {{ "ball": 10, "centre": [0, 0, 50] }} ] }},
  {{ "id": "duct", "kind": "duct", "solids": [ {{ "ball": 10, "centre": [0, 0, 90] }} ] }} ],
"drivers": [ {{ "id": "t", "kind": "turn", "from": 0, "to": 90 }} ],
"lines": [ {{ "id": "hose", "kind": "hose" }} ],
"controls": [ {{ "id": "lever", "kind": "lever", "links": [ {{ "id": "l" }} ] }} ]"#
    ));
    let above = r#"{ "format": 1, "panel": "N", "unit": "mm", "builds-on": "below.json",
"remove": ["duct", "lever", "hose"], "airframe": { "station": 2, "butt-line": 0, "water-line": 0 },
"change": { "a": { "droop": 2 } },
"obstacles": [ { "id": "bracket", "kind": "bracket", "solids": [ { "ball": 10, "centre": [0, 0, 30] } ] } ] }"#;
    let p = chain("p.json", &[("p.json", above), ("below.json", &below)]);
    assert!(p.find("rib").is_some() && p.find("bracket").is_some());
    assert!(p.find("duct").is_none() && p.find("lever").is_none() && p.find("hose").is_none());
    assert_eq!(p.space.airframe.unwrap().station, 2.0);
    assert_eq!(subject(&p, "a").hung, Some(Hung::Droop(2.0)));
    assert_eq!((p.space.mechanism.drivers.len(), p.space.mechanism.links.len()), (1, 0));
}
