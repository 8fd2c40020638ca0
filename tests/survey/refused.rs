//! Bad input: each problem names the reading, its file and line.

use crate::make::solved;

/// The one problem of a survey of points a, b, c with these readings, one a line from line 3 on.
fn refused(head: &str, readings: &[&str]) -> (String, u32, String) {
    let text = format!(
        "{{ \"format\": 1, \"survey\": \"bad\", \"unit\": \"mm\", {head},\n  \"readings\": [\n{}\n  ] }}",
        readings.join(",\n")
    );
    let problems = solved(&text).err().unwrap_or_else(|| panic!("accepted: {text}"));
    let all = problems.sorted();
    assert_eq!(all.len(), 1, "{problems}");
    let place = all[0].place.as_ref().unwrap();
    assert_eq!(place.file.as_ref(), "survey.json");
    (all[0].code.to_string(), place.line, all[0].to_string())
}

const ABC: &str = r#""points": ["a", "b", "c"]"#;

#[test]
fn each_names_the_reading() {
    let good = r#"{"distance":["a","b"],"reads":400}"#;
    let cases: &[(&str, &[&str], &str, u32, &str)] = &[
        (ABC, &[good, r#"{"distance":["a","x"],"reads":100}"#], "unknown-point", 4, "no point or circle `x`"),
        (ABC, &[good, r#"{"distance":["a","c"],"reads":"12 parsecs"}"#], "unknown-unit", 4, "parsecs"),
        (ABC, &[good, r#"{"distance":["a","c"],"reads":"79,4 mm"}"#], "comma-decimal", 4, "79,4"),
        (ABC, &[good, r#"{"distance":["a","a"],"reads":100}"#], "same-point", 4, "`a` stands here twice"),
        (
            ABC,
            &[good, r#"{"distance":["a","c"],"reads":-100}"#],
            "negative-reading",
            4,
            "reading 2 is -100 mm",
        ),
        (ABC, &[good, r#"{"diameter":"c","reads":100}"#], "no-circle", 4, "`c` is a point"),
        (
            ABC,
            &[good, r#"{"distance":["a","c"],"reads":1,"tool":"tap"}"#],
            "unknown-tool",
            4,
            "no tool `tap`",
        ),
        (
            ABC,
            &[good, r#"{"distance":["a","c"],"reads":300}"#, r#"{"distance":["b","c"],"reads":900}"#],
            "no-triangle",
            5,
            "reading 3 (900 mm) is longer by 200 mm than reading 2 (300 mm) and reading 1 (400 mm) together",
        ),
        (
            r#""points": [{"id":"a","at":[0,0]},{"id":"b","at":[100,0]},{"id":"c","at":[300,0]},"p"]"#,
            &[
                r#"{"distance":["a","p"],"reads":250}"#,
                r#"{"distance":["b","p"],"reads":180.277564}"#,
                r#"{"distance":["c","p"],"reads":180.277564}"#,
            ],
            "collinear-control",
            3,
            "the known points a, b, c lie on one line: `p` may lie on either side",
        ),
        (
            r#""points": [{"id":"a","at":[0,0]},"b","c"], "datum": {"origin":"a","along":"b"}"#,
            &[good],
            "two-datums",
            1,
            "a datum too",
        ),
        (ABC, &[], "no-readings", 1, "nothing can be said"),
    ];
    for (head, readings, code, line, words) in cases {
        let (got, at, text) = refused(head, readings);
        assert_eq!((got.as_str(), at), (*code, *line), "{text}");
        assert!(text.contains(words), "{text}");
    }
}

#[test]
fn three_control_points_on_one_line_serve_when_a_side_is_said() {
    let text = r#"{ "format": 1, "survey": "s", "unit": "mm",
        "points": [{"id":"a","at":[0,0]},{"id":"b","at":[100,0]},{"id":"c","at":[300,0]},{"id":"p","below":"a"}],
        "readings": [ {"distance":["a","p"],"reads":250}, {"distance":["b","p"],"reads":180.277564},
            {"distance":["c","p"],"reads":180.277564} ] }"#;
    let s = solved(text).unwrap();
    assert!((crate::make::at(&s, "p").1 + 150.0).abs() < 1e-3);
}
