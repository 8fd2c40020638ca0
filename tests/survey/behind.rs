//! What lies and moves behind: depths, obstacles and travels against known answers and scipy, and what is refused.

use crate::make::{Dice, network, scipy};
use panelwright::define;
use panelwright::diag::Problems;
use panelwright::files::Memory;
use panelwright::panel::{Detail, Panel};
use panelwright::resolve::{self, Catalogue};
use panelwright::solid::Vec3;
use panelwright::survey::behind::{self, Behind, Motion};
use panelwright::survey::{Solved, found, solve};
use serde_json::{Value, json};
use std::sync::Arc;

/// A sheet of 400 x 200 whose corners are known, with a hole of 80 about (100, 100), and something behind.
fn file(behind: &Value) -> String {
    let known = |id: &str, x: f64, y: f64| json!({ "id": id, "at": [x, y] });
    json!({
        "format": 1, "survey": "shed", "unit": "mm",
        "points": [known("A", 0.0, 0.0), known("B", 400.0, 0.0), known("C", 400.0, 200.0), known("D", 0.0, 200.0)],
        "circles": [{ "id": "asi", "at": [100, 100] }],
        "readings": [{ "diameter": "asi", "reads": 80, "tool": "calipers" }],
        "behind": behind,
        "as-found": { "outline": ["A", "B", "C", "D"], "openings": [{ "id": "old-asi", "circle": "asi" }] },
    })
    .to_string()
}

fn worked(text: &str) -> Result<(define::survey::Survey, Solved, Behind), Problems> {
    let mut problems = Problems::new();
    let shared: Arc<str> = text.into();
    let survey = define::read_survey("survey.json", &shared, &mut problems).ok_or(problems)?;
    let solved = solve(network(text)?)?;
    let behind = behind::behind(&survey, &solved)?;
    Ok((survey, solved, behind))
}

fn resolved(text: &str) -> Panel {
    let (survey, solved, behind) = worked(text).unwrap_or_else(|p| panic!("{p}"));
    let panel = found::panel_file(&survey, &solved, &behind, "s.json").unwrap_or_else(|p| panic!("{p}"));
    let files = Memory::new().with("p.json", &*panel);
    resolve::resolve("p.json", &files, &Catalogue::builtin()).unwrap_or_else(|p| panic!("{p}\n{panel}"))
}

/// Probes all over the hole, the middle one twice.
fn probes() -> Value {
    json!([
        { "id": "p1", "through": "asi", "reads": [182.0, 182.6], "tool": "rod" },
        { "id": "p2", "through": "asi", "off": [25, 0], "reads": 176 },
        { "id": "p3", "through": "asi", "off": [-25, 0], "reads": 190 },
        { "id": "p4", "through": "asi", "off": [0, 25], "reads": 181, "from": 2 },
        { "id": "p5", "through": "asi", "off": [0, -25], "reads": 240, "free": true },
        { "id": "q1", "at": [300, 40], "reads": 120 },
        { "id": "q2", "at": [300, 160], "reads": 126 },
        { "id": "q3", "at": [340, 100], "reads": 90 }
    ])
}

#[test]
fn depths_are_what_the_rods_read_less_their_doubt() {
    let text = file(&json!({
        "probes": probes(),
        "areas": [{ "id": "behind-asi", "circle": "asi", "probes": ["p1", "p2", "p3", "p4", "p5"], "reach": 33 },
                  { "id": "all", "points": ["A", "B", "C", "D"], "probes": ["p1", "q1", "q2"] }],
    }));
    let (_, _, b) = worked(&text).unwrap_or_else(|p| panic!("{p}"));
    let p = |id: &str| b.probes.iter().find(|p| p.id.as_ref() == id).unwrap();
    // by hand: the mean of two readings, and 1 mm (a rod) over the root of two
    assert!((p("p1").depth - 182.3).abs() < 1e-9 && (p("p1").deviation - 0.5f64.sqrt()).abs() < 1e-9);
    assert!((p("p4").depth - 183.0).abs() < 1e-9 && (p("p4").at.y - 125.0).abs() < 1e-9);
    // across: 0.25 mm of the rule (the centre is known) and one hundredth of 176 mm as the rod leans
    assert!((p("p2").across - (0.25f64 * 0.25 + 1.76 * 1.76).sqrt()).abs() < 1e-9, "{}", p("p2").across);
    let all = &b.areas[1];
    assert!(all.available.is_none() && all.gap.1 > 100.0, "{all:?}");
    let asi = &b.areas[0];
    assert!((asi.available.unwrap() - (176.0 - 1.959_963_984_540_054)).abs() < 1e-9);
    assert_eq!((asi.read.0, asi.read.1.as_ref()), (176.0, "p2"));
    // by hand: the farthest spots of the rim lie between two of the four outer probes, at 45 degrees
    let far = (40.0f64 * 40.0 + 25.0 * 25.0 - 2.0 * 40.0 * 25.0 * 0.5f64.sqrt()).sqrt();
    assert!((far..far + 0.6).contains(&asi.gap.1), "{} {far}", asi.gap.1);
    assert!(b.told.iter().map(|t| t.code).eq(["area-gap"]), "{:?}", b.told);
    // in the panel the probed hole has its depth, the rest of the sheet none
    let panel = resolved(&text);
    let known = |id: &str| panel.depth.areas.iter().find(|a| a.id == id).unwrap().available;
    assert_eq!((known("behind-asi"), known("all")), (Some(174.04), None));
    assert_eq!(panel.depth.elsewhere, None);
}

#[test]
fn readings_of_one_spot_that_disagree_are_told_and_believed_less() {
    let one = json!([{ "id": "p", "through": "asi", "reads": [182, 182.5, 192] }]);
    let (_, _, b) = worked(&file(&json!({ "probes": one }))).unwrap();
    assert_eq!(b.told[0].code, "probe-readings");
    assert!(b.probes[0].doubt() > 6.0, "{:?}", b.probes[0]);
}

#[test]
fn obstacles_stand_where_the_rods_met_them() {
    let text = file(&json!({
        "probes": probes(),
        "obstacles": [
            { "id": "duct", "kind": "duct", "carries": "air", "solids": [{ "tube": 50, "path": ["q1", "q2"] }] },
            { "id": "rib", "kind": "rib", "solids": [{ "id": "web", "plate": 2, "edge": ["q1", "q2"], "thick": 100 }] },
            { "id": "box", "kind": "other", "solids": [{ "face": ["q1", "q2", "q3"], "thick": 40 }, { "ball": 30, "met": "p1" }] },
        ],
    }));
    let panel = resolved(&text);
    let (_, _, behind) = worked(&text).unwrap();
    let solid = |id: &str| {
        let o = panel.subjects.iter().find(|o| o.id == id).unwrap();
        let boxes = o.parts.iter().filter_map(|p| match &p.detail {
            Detail::Obstacle { solid, .. } => Some(solid.bounds()),
            _ => None,
        });
        let doubt = behind.obstacles.iter().find(|o| o.id.as_ref() == id).unwrap().doubt;
        (doubt, boxes.reduce(|a, b| a.union(&b)).unwrap())
    };
    let (give, b) = solid("duct");
    // by hand: the near side is met at 120 and 126, the middle line 25 deeper, round ends
    assert!((b.low.d - 120.0).abs() < 0.1 && (b.high.d - 176.0).abs() < 0.1, "{b:?}");
    assert!((b.low.x - 275.0).abs() < 1e-6 && (b.high.x - 325.0).abs() < 1e-6, "{b:?}");
    // across: 0.5 mm of the tape and 1.26 as the rod leans, at 95 % of three dimensions
    let across = 2.795_483_482_915_108 * (0.25f64 + 1.26 * 1.26).sqrt();
    assert!((give - across).abs() < 1e-9, "{give} {across}");
    let (_, b) = solid("rib");
    assert!((b.high.x - b.low.x - 2.0).abs() < 1e-6 && (b.high.d - 226.0).abs() < 1e-6, "{b:?}");
    let (_, b) = solid("box");
    assert!((b.low.d - 90.0).abs() < 1e-6 && (b.high.d - (182.3 + 30.0)).abs() < 1e-6, "{b:?}");
}

/// A turn about an axis, written out anew: right-hand rule in the order x, y, d.
fn turned(p: [f64; 3], at: [f64; 3], axis: [f64; 3], t: f64) -> [f64; 3] {
    let v: [f64; 3] = std::array::from_fn(|k| p[k] - at[k]);
    let cross =
        [axis[1] * v[2] - axis[2] * v[1], axis[2] * v[0] - axis[0] * v[2], axis[0] * v[1] - axis[1] * v[0]];
    let dot: f64 = (0..3).map(|k| axis[k] * v[k]).sum();
    let (s, c) = libm::sincos(t);
    std::array::from_fn(|k| at[k] + v[k] * c + cross[k] * s + axis[k] * dot * (1.0 - c))
}

struct Made {
    moves: &'static str,
    at: [f64; 3],
    axis: [f64; 3],
    stops: [f64; 2],
    marks: Vec<[[f64; 3]; 3]>,
}

fn made(dice: &mut Dice, noise: f64) -> Made {
    let turn = dice.below(2) == 1;
    let mut axis: [f64; 3] = std::array::from_fn(|_| dice.normal());
    let long = axis.iter().map(|v| v * v).sum::<f64>().sqrt();
    axis.iter_mut().for_each(|v| *v /= long);
    let at = [dice.between(-200.0, 600.0), dice.between(-400.0, 0.0), dice.between(-300.0, 300.0)];
    let stops = if turn {
        [-dice.between(0.15, 0.5), dice.between(0.15, 0.5)]
    } else {
        [-dice.between(60.0, 150.0), dice.between(60.0, 150.0)]
    };
    let n = 1 + dice.below(3);
    let marks = (0..n)
        .map(|_| {
            let p: [f64; 3] = std::array::from_fn(|k| at[k] + dice.between(-350.0, 350.0));
            [stops[0], 0.0, stops[1]].map(|s| {
                let q =
                    if turn { turned(p, at, axis, s) } else { std::array::from_fn(|k| p[k] + axis[k] * s) };
                q.map(|v| v + noise * dice.normal())
            })
        })
        .collect();
    Made { moves: if turn { "turn" } else { "slide" }, at, axis, stops, marks }
}

fn survey(m: &Made, sigma: f64) -> String {
    let marks: Vec<Value> = (m.marks.iter().enumerate())
        .map(|(k, [low, mid, high])| json!({ "id": format!("m{k}"), "low": low, "neutral": mid, "high": high }))
        .collect();
    let path: Vec<String> = (0..m.marks.len()).map(|k| format!("m{k}")).collect();
    let solid = if path.len() > 1 {
        json!({ "tube": 25, "path": path })
    } else {
        json!({ "ball": 40, "about": "m0" })
    };
    file(&json!({ "controls": [{
        "id": "c", "kind": "stick", "moves": m.moves, "driver": "pull", "deviation": sigma, "marks": marks, "solids": [solid],
    }] }))
}

#[test]
fn travels_without_noise_are_the_truth() {
    let mut dice = Dice(5);
    for _ in 0..60 {
        let m = made(&mut dice, 0.0);
        let (_, _, b) = worked(&survey(&m, 2.0)).unwrap_or_else(|p| panic!("{p}"));
        let c = &b.controls[0];
        assert!(b.told.is_empty() && c.fit.worst.0 < 1e-5, "{:?} {:?}", b.told, c.fit);
        for (s, t) in c.fit.motion.stops().iter().zip(m.stops) {
            // the file holds nanometres, and a mark near its axis turns them into angles
            assert!((s - t).abs() < 1e-5, "{s} {t}");
        }
        // the panel's own travel takes the marks where they were taped
        let panel = resolved(&survey(&m, 2.0));
        let mechanism = &panel.space.mechanism;
        let driver = &mechanism.drivers[0];
        assert!(driver.over.is_some_and(|(a, b)| a > 0.0 && b > 0.0), "{driver:?}");
        for three in &m.marks {
            let [low, mid, high] = three.map(|p| Vec3::new(p[0], p[1], p[2]));
            for (stop, want) in [(driver.stops.0, low), (driver.stops.1, high)] {
                let got = mechanism.pose(0, &[stop]).point(mid);
                // the file holds hundredths of a millimetre and of a degree
                assert!((got - want).length() < 0.2, "{got:?} {want:?}");
            }
        }
        match &c.fit.motion {
            Motion::Slide { way, .. } => {
                assert!((way.x - m.axis[0]).abs() + (way.y - m.axis[1]).abs() < 1e-6, "{way:?}");
            }
            Motion::Turn { axis, at, .. } => {
                assert!((axis.x - m.axis[0]).abs() + (axis.d - m.axis[2]).abs() < 1e-5, "{axis:?}");
                let v = [at.x - m.at[0], at.y - m.at[1], at.d - m.at[2]];
                let along: f64 = (0..3).map(|k| v[k] * m.axis[k]).sum();
                let off: f64 = (0..3).map(|k| (v[k] - along * m.axis[k]).powi(2)).sum::<f64>().sqrt();
                assert!(off < 2e-3, "{off}");
            }
        }
    }
}

#[test]
fn travels_and_taped_places_are_those_of_scipy() {
    let mut dice = Dice(11);
    let (mut cases, mut mine) = (Vec::new(), Vec::new());
    for _ in 0..60 {
        let m = made(&mut dice, 1.5);
        let (_, _, b) = worked(&survey(&m, 1.5)).unwrap_or_else(|p| panic!("{p}"));
        cases.push(json!({
            "moves": m.moves, "sigma": 1.5, "marks": m.marks, "axis": m.axis, "at": m.at, "stops": m.stops,
        }));
        mine.push(b.controls[0].clone());
    }
    let theirs = scipy("behind.py", &cases);
    for (c, t) in mine.iter().zip(&theirs) {
        let n = |v: &Value| v.as_f64().unwrap();
        assert!((c.fit.sum - n(&t["sum"])).abs() < 1e-6 * c.fit.sum.max(1.0), "{} {t}", c.fit.sum);
        for k in 0..2 {
            let (own, other) = (c.fit.motion.stops()[k], n(&t["stops"][k]));
            assert!((own - other).abs() < 1e-5 * other.abs().max(1.0), "{own} {other}");
            let (own, other) = (c.fit.stops[k], n(&t["deviations"][k]));
            assert!((own / other - 1.0).abs() < 1e-4, "deviation {own} {other}");
        }
        for (p, q) in c.fit.marks.iter().zip(t["marks"].as_array().unwrap()) {
            assert!(
                (p.x - n(&q[0])).abs() + (p.y - n(&q[1])).abs() + (p.d - n(&q[2])).abs() < 1e-3,
                "{p:?} {q}"
            );
        }
    }
    // taped places, by three to five tapes from the corners and the hole
    let corners = [
        ("A", [0.0, 0.0]),
        ("B", [400.0, 0.0]),
        ("C", [400.0, 200.0]),
        ("D", [0.0, 200.0]),
        ("asi", [100.0, 100.0]),
    ];
    let (mut cases, mut mine, mut truth) = (Vec::new(), Vec::new(), Vec::new());
    for k in 0..40 {
        let place = [dice.between(-100.0, 500.0), dice.between(-300.0, 300.0), -dice.between(80.0, 500.0)];
        let (mut tapes, mut listed) = (serde_json::Map::new(), Vec::new());
        for (id, [x, y]) in &corners[..3 + k % 3] {
            let d = ((x - place[0]).powi(2) + (y - place[1]).powi(2) + place[2] * place[2]).sqrt();
            let reads = d + if k < 10 { 0.0 } else { 0.8 * dice.normal() };
            tapes.insert((*id).to_owned(), json!(reads));
            listed.push(json!([[x, y, 0.0], reads]));
        }
        let at = json!({ "taped": tapes, "side": "aft" });
        let text = file(
            &json!({ "controls": [{ "id": "c", "kind": "other", "moves": "slide", "driver": "d", "deviation": 0.8,
            "marks": [{ "id": "m", "low": [0, 0, -100], "neutral": at, "high": [0, 0, 100] }] }] }),
        );
        let mut problems = Problems::new();
        let shared: Arc<str> = text.as_str().into();
        let survey = define::read_survey("s.json", &shared, &mut problems).unwrap();
        let solved = solve(network(&text).unwrap()).unwrap();
        let place_of = behind::taped(&survey, &solved, 0, 0, 1).unwrap_or_else(|p| panic!("{p}"));
        mine.push(place_of);
        truth.push(place);
        cases.push(json!({ "taped": listed, "sigma": 0.8, "near": place }));
    }
    for (k, ((p, dev), t)) in mine.iter().zip(scipy("behind.py", &cases)).enumerate() {
        let n = |v: &Value| v.as_f64().unwrap();
        let other = [n(&t["place"][0]), n(&t["place"][1]), n(&t["place"][2])];
        let off = (p.x - other[0]).abs() + (p.y - other[1]).abs() + (p.d - other[2]).abs();
        assert!(off < 1e-4, "{k}: {p:?} {other:?}");
        if k < 10 {
            assert!((p.x - truth[k][0]).abs() + (p.d - truth[k][2]).abs() < 1e-5, "{p:?} {:?}", truth[k]);
        }
        // what residuals larger than stated add is ours alone
        assert!(*dev > n(&t["deviation"]) * (1.0 - 1e-4), "{dev} {}", t["deviation"]);
    }
}

#[test]
fn the_stated_doubt_holds_the_truth() {
    let mut dice = Dice(31);
    let (mut all, mut held, mut stops) = (0, 0, 0);
    for _ in 0..400 {
        let state = dice.0;
        let truth = made(&mut dice, 0.0);
        dice.0 = state;
        let noisy = made(&mut dice, 0.0);
        assert_eq!(truth.stops, noisy.stops);
        let marks = truth.marks.iter().map(|m| m.map(|p| p.map(|v| v + 1.5 * dice.normal()))).collect();
        let m = Made { marks, ..noisy };
        let (_, _, b) = worked(&survey(&m, 1.5)).unwrap();
        let c = &b.controls[0];
        for (k, three) in truth.marks.iter().enumerate() {
            let [low, high] = c.fit.motion.stops();
            for (t, by) in three.iter().zip([low, 0.0, high]) {
                let p = c.fit.motion.moved(c.fit.marks[k], by);
                let off = ((p.x - t[0]).powi(2) + (p.y - t[1]).powi(2) + (p.d - t[2]).powi(2)).sqrt();
                all += 1;
                held += u32::from(off <= c.doubt());
            }
        }
        let unit = if truth.moves == "turn" { 180.0 / std::f64::consts::PI } else { 1.0 };
        let (own, beyond) = (c.stops(), c.beyond());
        stops += u32::from((own[0] - truth.stops[0] * unit).abs() <= beyond[0]);
    }
    // a ball around the longest half axis holds it oftener than 95 of 100
    let share = f64::from(held) / f64::from(all);
    assert!(share > 0.95, "{share}");
    let share = f64::from(stops) / 400.0;
    assert!((0.92..0.98).contains(&share), "{share}");
}

#[test]
fn what_cannot_be_is_refused_or_told() {
    let one = |behind: Value, code: &str, words: &str| {
        let p = worked(&file(&behind)).err().unwrap_or_else(|| panic!("accepted: {behind}"));
        let list = p.sorted();
        assert!(list.iter().any(|q| q.code == code && q.place.is_some()), "{code}: {p}");
        assert!(p.to_string().contains(words), "{code}: {p}");
    };
    let probe = json!([{ "id": "p1", "through": "asi", "reads": 100 }, { "id": "p2", "at": [100, 100], "reads": 90, "free": true },
                       { "id": "p3", "at": [150, 100], "reads": 95 }, { "id": "p4", "at": [200, 100], "reads": 95 }]);
    let solid =
        |s: Value| json!({ "probes": probe, "obstacles": [{ "id": "o", "kind": "rib", "solids": [s] }] });
    one(json!({ "probes": [{ "id": "p", "through": "alt", "reads": 100 }] }), "unknown-point", "`alt`");
    one(
        json!({ "probes": [{ "id": "p", "through": "asi", "reads": -4 }] }),
        "no-depth",
        "probe `p` reads -4 mm",
    );
    one(solid(json!({ "tube": 20, "path": ["p1", "p9"] })), "unknown-probe", "no probe `p9`");
    one(solid(json!({ "tube": 20, "path": ["p1", "p2"] })), "free-probe", "`p2` met nothing");
    one(solid(json!({ "face": ["p1", "p3", "p4"], "thick": 10 })), "face-in-line", "lie on one line");
    one(
        json!({ "probes": probe, "areas": [{ "id": "a", "points": ["A", "C", "B", "D"], "probes": ["p1"] }] }),
        "bad-outline",
        "from `A` on",
    );
    let control = |moves: &str, places: [[f64; 3]; 3]| {
        let [low, mid, high] = places;
        json!({ "controls": [{ "id": "c", "kind": "stick", "moves": moves, "driver": "d", "marks": [
            { "id": "m", "low": low, "neutral": mid, "high": high }], "solids": [{ "ball": 30, "about": "m" }] }] })
    };
    one(
        control("turn", [[0.0, 0.0, 0.0], [0.0, 0.0, 50.0], [0.0, 0.0, 100.0]]),
        "no-motion",
        "\"moves\": \"slide\"",
    );
    one(control("slide", [[0.0; 3]; 3]), "no-motion", "at one place");
    one(
        json!({ "controls": [{ "id": "c", "kind": "stick", "moves": "slide", "driver": "d", "marks": [
            { "id": "m", "low": { "taped": { "A": 300, "B": 320 }, "side": "aft" }, "neutral": [0, 0, 0], "high": [0, 0, 9] }] }] }),
        "not-determined",
        "c, mark m at low: 2 taped distances do not determine it",
    );
    // what turns does not slide: it is told, and its doubt grows
    let bent = control("slide", [[0.0, 0.0, -100.0], [0.0, 40.0, 0.0], [0.0, 0.0, 100.0]]);
    let (_, _, b) = worked(&file(&bent)).unwrap_or_else(|p| panic!("{p}"));
    assert!(
        b.told.iter().any(|t| t.code == "no-such-motion" && t.says.contains("does it turn")),
        "{:?}",
        b.told
    );
    assert!(b.controls[0].doubt() > 20.0, "{}", b.controls[0].doubt());
}
