//! Small surveys whose answer is known.

use crate::make::{at, solved};
use panelwright::report::{survey_json, survey_text};
use panelwright::survey::behind::Behind;
use panelwright::survey::observation::Origin;

fn near(got: (f64, f64), want: (f64, f64), within: f64) {
    assert!((got.0 - want.0).abs() < within && (got.1 - want.1).abs() < within, "{got:?} is not {want:?}");
}

/// A survey of one unit and these points and readings.
fn survey(points: &str, rest: &str) -> String {
    format!("{{ \"format\": 1, \"survey\": \"case\", \"unit\": \"mm\", \"points\": [{points}], {rest} }}")
}

#[test]
fn four_known_corners_and_four_distances() {
    // distances computed by hand from (137, 88)
    let s = solved(&survey(
        r#"{"id":"a","at":[0,0]},{"id":"b","at":[400,0]},{"id":"c","at":[400,250]},{"id":"d","at":[0,250]},"t""#,
        r#""readings": [ {"distance":["a","t"],"reads":162.8281}, {"distance":["b","t"],"reads":277.3319},
            {"distance":["c","t"],"reads":308.8899}, {"distance":["t","d"],"reads":212.1627} ]"#,
    ))
    .unwrap();
    near(at(&s, "t"), (137.0, 88.0), 1e-4);
    assert_eq!(s.freedom, 2);
    assert!(s.clean());
}

#[test]
fn a_published_trilateration_comes_out() {
    // Ghilani, Adjustment Computations, chapter on trilateration: from memory, in feet there, in mm here; a
    // distance of one unit has one deviation, so the ratio is the reference standard deviation
    let s = solved(&survey(
        r#"{"id":"a","at":[865.40,4527.15]},{"id":"b","at":[2432.55,2047.25]},{"id":"c","at":[2865.22,27.15]},"u""#,
        r#""readings": [ {"distance":["a","u"],"reads":6049.00,"deviation":1},
            {"distance":["b","u"],"reads":4736.83,"deviation":1}, {"distance":["c","u"],"reads":5446.49,"deviation":1} ]"#,
    ))
    .unwrap();
    near(at(&s, "u"), (6861.317, 3727.819), 2e-3);
    assert!((s.ratio - 0.0977).abs() < 1e-3, "{}", s.ratio);
    let u = s.network.find("u").unwrap();
    let (dx, dy) = s.deviations(u);
    assert!((dx * s.ratio - 0.078).abs() < 1e-3 && (dy * s.ratio - 0.154).abs() < 1e-3, "{dx} {dy}");
}

#[test]
fn a_stated_side_decides_and_none_is_told() {
    let readings = r#""readings": [ {"distance":["a","b"],"reads":400}, {"distance":["a","c"],"reads":300},
        {"distance":["b","c"],"reads":500} ]"#;
    let open = solved(&survey(r#""a","b","c""#, readings)).unwrap();
    near(at(&open, "c"), (0.0, 300.0), 1e-6);
    assert_eq!(open.ambiguous.len(), 1);
    near((open.ambiguous[0].also.x, open.ambiguous[0].also.y), (0.0, -300.0), 1e-6);
    assert!(open.network.assumed.iter().any(|a| a.contains("no datum")), "{:?}", open.network.assumed);
    let told = solved(&survey(r#""a","b",{"id":"c","below":"a"}"#, readings)).unwrap();
    near(at(&told, "c"), (0.0, -300.0), 1e-6);
    assert!(told.ambiguous.is_empty());
}

#[test]
fn a_side_said_of_a_later_point_turns_the_whole_figure() {
    let s = solved(&survey(
        r#""a","b","c","d",{"id":"e","below":"a"}"#,
        r#""readings": [ {"distance":["a","b"],"reads":400}, {"distance":["a","c"],"reads":300}, {"distance":["b","c"],"reads":500},
            {"distance":["a","d"],"reads":500}, {"distance":["b","d"],"reads":300}, {"distance":["c","d"],"reads":400},
            {"distance":["c","e"],"reads":100}, {"distance":["d","e"],"reads":412.310563}, {"distance":["a","e"],"reads":400} ]"#,
    ))
    .unwrap();
    near(at(&s, "c"), (0.0, -300.0), 1e-4);
    near(at(&s, "e"), (0.0, -400.0), 1e-4);
    assert!(s.ambiguous.is_empty(), "{:?}", s.ambiguous);
}

#[test]
fn edges_of_holes_a_worn_hook_and_a_base_line() {
    // holes of 40 and 60 at (100, 80) and (300, 80); the tape reads 0.7 too much
    let s = solved(&survey(
        r#""a","b","#.trim_end_matches(','),
        r#""circles": [ {"id":"g","above":"a"}, "h" ],
        "tools": { "hook": {"kind":"tape","find-zero-error":true}, "rule": {"kind":"rule"} },
        "readings": [ {"distance":["a","b"],"reads":400.7,"tool":"hook"}, {"along":["g","a","b"],"reads":100,"tool":"rule"},
            {"along":["h","a","b"],"reads":300,"tool":"rule"}, {"gap":["g","a","b"],"reads":60,"tool":"rule"},
            {"gap":["h","a","b"],"reads":50,"tool":"rule"}, {"inside":["g","h"],"reads":150,"tool":"calipers"},
            {"outside":["g","h"],"reads":250,"tool":"calipers"}, {"diameter":"g","reads":40,"tool":"calipers"},
            {"inside":["a","g"],"reads":108.762485,"tool":"hook"}, {"inside":["b","h"],"reads":98.762485,"tool":"hook"} ]"#,
    ))
    .unwrap();
    near(at(&s, "g"), (100.0, 80.0), 1e-5);
    near(at(&s, "h"), (300.0, 80.0), 1e-5);
    let h = s.network.find("h").unwrap();
    assert!((s.adjusted.state.radius[h] - 30.0).abs() < 1e-5);
    assert!((s.adjusted.state.zero[0] - 0.7).abs() < 1e-5, "{:?}", s.adjusted.state.zero);
    assert!(s.clean());
}

#[test]
fn conditions_hold_points_that_no_distance_holds() {
    // m lies on the line a b and 150 from a; an arc's centre by three points on it; n level with a, plumb with b
    let s = solved(&survey(
        r#""a","b","c","m","n","q","r","s""#,
        r#""datum": {"origin":"a","along":"b","at":[10,20]}, "circles": ["k"],
        "readings": [ {"distance":["a","b"],"reads":400}, {"distance":["a","m"],"reads":150}, {"up":["a","c"],"reads":90},
            {"right":["a","c"],"reads":50}, {"offset":["q","a","b"],"reads":50}, {"along":["q","a","b"],"reads":200},
            {"offset":["r","a","b"],"reads":0.0}, {"along":["r","a","b"],"reads":250}, {"offset":["s","a","b"],"reads":-50},
            {"along":["s","a","b"],"reads":200} ],
        "conditions": [ {"line":["a","m","b"]}, {"circle":"k","through":["q","r","s"]}, {"level":["a","n"]}, {"plumb":["b","n"]} ]"#,
    ))
    .unwrap();
    near(at(&s, "m"), (160.0, 20.0), 1e-6);
    near(at(&s, "k"), (210.0, 20.0), 1e-6);
    near(at(&s, "n"), (410.0, 20.0), 1e-6);
    near(at(&s, "c"), (60.0, 110.0), 1e-6);
    let k = s.network.find("k").unwrap();
    assert!((s.adjusted.state.radius[k] - 50.0).abs() < 1e-6);
}

#[test]
fn a_bent_panel_is_measured_across_the_bend() {
    // c lies 300 up and 40 ahead of a: the tape runs straight through the air
    let slant = (300.0f64 * 300.0 + 40.0 * 40.0).sqrt();
    let other = (300.0f64 * 300.0 + 40.0 * 40.0 + 400.0 * 400.0).sqrt();
    let s = solved(&survey(
        r#""a","b",{"id":"c","depth":40,"above":"a"}"#,
        &format!(
            r#""readings": [ {{"distance":["a","b"],"reads":400}}, {{"distance":["a","c"],"reads":"{slant:.6} mm"}},
            {{"distance":["b","c"],"reads":"{other:.6} mm"}} ]"#
        ),
    ))
    .unwrap();
    near(at(&s, "c"), (0.0, 300.0), 1e-5);
}

#[test]
fn what_is_open_is_named_with_the_reading_that_closes_it() {
    let s = solved(&survey(
        r#""a","b","c","d""#,
        r#""readings": [ {"distance":["a","b"],"reads":400}, {"distance":["a","c"],"reads":300}, {"distance":["b","c"],"reads":500},
            {"distance":["c","d"],"reads":200} ]"#,
    ))
    .unwrap();
    let open: Vec<&str> = s.undetermined.iter().map(|u| s.network.points[u.point].id.as_ref()).collect();
    assert_eq!(open, ["d"]);
    assert_eq!(s.to_determine.len(), 1);
    let d = s.network.find("d").unwrap();
    assert!(s.to_determine[0].relation.points().contains(&d));
    assert!(!s.clean());
}

#[test]
fn a_wrong_reading_is_found_and_the_right_one_guessed() {
    let text = |wrong: &str| {
        survey(
            r#""a","b",{"id":"c","above":"a"},"d","e""#,
            &format!(
                r#""readings": [ {{"distance":["a","b"],"reads":400}}, {{"distance":["a","c"],"reads":500}}, {{"distance":["b","c"],"reads":300}},
            {{"distance":["a","d"],"reads":300}}, {{"distance":["b","d"],"reads":500}}, {{"distance":["c","d"],"reads":400}},
            {{"distance":["a","e"],"reads":{wrong}}}, {{"distance":["b","e"],"reads":250}}, {{"distance":["c","e"],"reads":250}},
            {{"distance":["d","e"],"reads":250}} ]"#
            ),
        )
    };
    assert!(solved(&text("250.2")).unwrap().clean());
    for (wrong, right, why) in [
        ("260.0", "250.0 mm", Some("one centimetre misread")),
        ("350", "250 mm", Some("read from the 100 mm mark and not reduced, or reduced twice")),
        ("512", "250 mm", None),
        ("275.4", "250.0 mm", Some("one inch misread")),
        ("205", "250 mm", Some("two digits exchanged")),
    ] {
        let s = solved(&text(wrong)).unwrap();
        assert_eq!(s.suspects.len(), 1, "{wrong}");
        let x = &s.suspects[0];
        assert_eq!(s.network.observations[x.observation].origin, Origin::Reading(7));
        let slip = x.slip.as_ref().unwrap();
        assert_eq!((slip.written.as_str(), slip.why), (right, why), "{wrong}");
        near(at(&s, "e"), (200.0, 150.0), 1e-6);
    }
}

#[test]
fn a_base_line_that_nobody_measured_is_found_by_what_lies_beside_it() {
    // no reading ties a to b; c, d, e are tied to both and to each other
    let true_at = [("c", 120.0, 210.0), ("d", 310.0, 190.0), ("e", 430.0, 60.0)];
    let far = |p: (f64, f64), q: (f64, f64)| ((p.0 - q.0) * (p.0 - q.0) + (p.1 - q.1) * (p.1 - q.1)).sqrt();
    let mut readings = Vec::new();
    for (i, (id, x, y)) in true_at.iter().enumerate() {
        for (end, at) in [("a", (0.0, 0.0)), ("b", (500.0, 0.0))] {
            readings
                .push(format!(r#"{{"distance":["{end}","{id}"],"reads":"{:.6} mm"}}"#, far(at, (*x, *y))));
        }
        for (other, u, v) in &true_at[..i] {
            let d = far((*x, *y), (*u, *v));
            readings.push(format!(r#"{{"distance":["{other}","{id}"],"reads":"{d:.6} mm"}}"#));
        }
    }
    let rest = format!(r#""readings": [ {} ]"#, readings.join(", "));
    let s = solved(&survey(r#""a","b",{"id":"c","above":"a"},"d","e""#, &rest)).unwrap();
    assert!(s.suspects.is_empty(), "{:?}", s.suspects);
    near(at(&s, "b"), (500.0, 0.0), 1e-4);
    for (id, x, y) in true_at {
        near(at(&s, id), (x, y), 1e-4);
    }
}

#[test]
fn one_reading_taken_many_times_hides_no_other() {
    // a 3-4-5 triangle: c lies above or below the base line, however often one side was measured
    let side = r#"{"distance":["a","c"],"reads":400}, "#;
    for times in [1, 12, 90] {
        let rest = format!(
            r#""readings": [ {} {{"distance":["a","b"],"reads":300}}, {{"distance":["b","c"],"reads":500}} ]"#,
            side.repeat(times)
        );
        let s = solved(&survey(r#""a","b","c""#, &rest)).unwrap();
        near(at(&s, "c"), (0.0, 400.0), 1e-6);
        assert_eq!(s.ambiguous.len(), 1, "{times} times");
        // more readings of one point than twenty for each point of the file
        let rest = format!(
            r#""readings": [ {{"distance":["a","b"],"reads":500}}, {} {{"right":["a","b"],"reads":400}} ]"#,
            r#"{"up":["a","b"],"reads":300}, "#.repeat(times)
        );
        let s = solved(&survey(r#"{"id":"a","at":[0,0]},"b""#, &rest)).unwrap();
        near(at(&s, "b"), (400.0, 300.0), 1e-6);
    }
}

#[test]
fn where_either_of_two_readings_may_be_wrong_no_deviation_is_told() {
    // one distance read as 100 and as 110, nothing else: b lies at one or the other
    let text = r#"{ "format": 1, "survey": "s", "unit": "mm", "points": ["a", "b"],
        "readings": [ {"distance":["a","b"],"reads":100}, {"distance":["a","b"],"reads":110} ] }"#;
    let s = solved(text).unwrap();
    let at = |x: f64| (x - 100.0).abs() < 1e-6 || (x - 110.0).abs() < 1e-6;
    let b = 1;
    let told = s.adjusted.state.at[b].x;
    let other: Vec<f64> = s.either.iter().filter(|e| e.point == b).map(|e| e.at.x).collect();
    assert!(
        at(told) && other.len() == 1 && at(other[0]) && (told - other[0]).abs() > 9.0,
        "{told} {other:?}"
    );
    assert!(!s.doubtful(0), "the origin is where it is");
    let text = survey_text("s.json", "s", &s, &Behind::default());
    assert!(text.contains("withheld: either of two readings may be wrong"), "{text}");
    let json = survey_json("s.json", "s", &s, &Behind::default());
    assert!(
        json["points"][1]["ellipse"].is_null() && json["points"][1]["or"][0]["x"].is_number(),
        "{json:#}"
    );
    // a third reading tells which: nothing is in doubt, and the deviation is told
    let text = r#"{ "format": 1, "survey": "s", "unit": "mm", "points": ["a", "b"],
        "readings": [ {"distance":["a","b"],"reads":100}, {"distance":["a","b"],"reads":110}, {"distance":["a","b"],"reads":110} ] }"#;
    let s = solved(text).unwrap();
    assert!(s.either.is_empty() && (s.adjusted.state.at[b].x - 110.0).abs() < 1e-6);
}

#[test]
fn circles_alone_are_a_survey() {
    let text = r#"{ "format": 1, "survey": "s", "unit": "mm", "circles": ["c", "d"],
        "readings": [ {"diameter":"c","reads":80}, {"diameter":"d","reads":60}, {"outside":["c","d"],"reads":180} ] }"#;
    let s = solved(text).unwrap();
    // between centres: 180 less both radii
    assert!((s.adjusted.state.at[1].x - 110.0).abs() < 1e-6, "{:?}", s.adjusted.state.at);
    let none = r#"{ "format": 1, "survey": "s", "unit": "mm", "readings": [] }"#;
    let told = solved(none).unwrap_err().to_string();
    assert!(told.contains("points") && told.contains("circles"), "{told}");
}
