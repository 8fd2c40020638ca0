//! The user's own limits: in their rule's unit, refused when they cannot be meant.

use crate::kit::*;

const PLACE: &str = r#""place": [ { "id": "s", "instrument": "switch.json", "at": [100, 120] } ],"#;

#[test]
fn a_limit_is_taken_in_its_rules_unit() {
    let p = panel(&format!(
        r#"{PLACE} "limits": {{ "web": {{ "at-least": "1/4 in", "because": "our cutter" }}, "tilt": {{ "at-most": "3 deg", "because": "gyro" }} }}"#
    ));
    assert_eq!((p.limits["web"].value, p.limits["web"].because.as_str()), (6.35, "our cutter"));
    assert_eq!(p.limits["web"].written, "1/4 in");
    assert_eq!(p.limits["tilt"].value, 3.0);
    let inch =
        text(&format!(r#"{PLACE} "limits": {{ "web": {{ "at-least": 0.25, "because": "our cutter" }} }}"#));
    let inch = inch
        .replace("\"unit\": \"mm\"", "\"unit\": \"in\"")
        .replace("[100, 120]", "[\"100 mm\", \"120 mm\"]");
    assert_eq!(whole(&inch).limits["web"].value, 6.35);
}

#[test]
fn limits_that_cannot_be_meant_are_refused() {
    for (limit, code, word) in [
        (r#""wbe": { "at-least": 5, "because": "x" }"#, "unknown-rule", "wbe"),
        (r#""web": { "at-most": 5, "because": "x" }"#, "wrong-limit", "at-most"),
        (r#""web": { "at-least": -5, "because": "x" }"#, "negative-size", "-5 is negative"),
        (r#""tilt": { "at-most": "-2 deg", "because": "x" }"#, "negative-size", "-2 deg"),
        (r#""tilt": { "at-most": "5 mm", "because": "x" }"#, "wrong-limit", "5 mm"),
        (r#""typical": { "at-least": 5, "because": "x" }"#, "no-limit", "typical"),
        (r#""web": { "at-least": 5 }"#, "missing-key", "because"),
    ] {
        let all = refused(&format!(r#"{PLACE} "limits": {{ {limit} }}"#));
        assert!(all.iter().any(|(c, _, m)| c == code && m.contains(word)), "{limit}: {all:?}");
    }
    let problems = try_files(
        "p.json",
        &[(
            "p.json",
            &text(&format!(r#"{PLACE} "limits": {{ "wbe": {{ "at-least": 5, "because": "x" }} }}"#)),
        )],
    );
    assert!(problems.err().unwrap().render(false).contains("did you mean \"web\"?"));
}
