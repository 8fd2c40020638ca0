//! Path data by table, curves against their own formula.

use super::*;
use crate::geom::{Point, Segment, distance, span};

fn one(text: &str) -> Loop {
    let mut loops = read(text, 1.0).unwrap_or_else(|e| panic!("{text}: {e:?}"));
    assert_eq!(loops.len(), 1, "{text}");
    loops.remove(0)
}

#[test]
fn lines_and_arcs_are_taken_as_they_are() {
    // 412 x 120 with one corner of radius 24 rounded: 412 * 120 - 24^2 (1 - pi / 4)
    let sheet = one("M 0 0 H 412 V 96 A 24 24 0 0 1 388 120 H 0 Z");
    assert_eq!(sheet.contour.segments().len(), 5);
    let area = 412.0 * 120.0 - 576.0 * (1.0 - std::f64::consts::FRAC_PI_4);
    assert!((sheet.contour.signed_area() - area).abs() < 1e-9);
    let Segment::Arc(corner) = sheet.contour.segments()[2] else { panic!("no arc") };
    assert!(span(corner.centre, Point::new(388.0, 96.0)) < 1e-12 && corner.radius == 24.0);
    assert_eq!(sheet.error, 0.0);
}

#[test]
fn every_spelling_of_a_square_is_the_same_square() {
    for text in [
        "M0 0H10V10H0Z",
        "M 0,0 L 10,0 10,10 0,10 Z",
        "m0 0 10 0 0 10 -10 0z",
        "M0 0h10v10h-10z",
        "M0 0l10 0 0 10-10 0z",
        "M0 0 L1e1 0L10 +10 L.0 10.Z",
        "M 0 0 L 10 0 L 10 10 L 0 10 L 0 0",
    ] {
        let c = one(text).contour;
        assert!((c.signed_area() - 100.0).abs() < 1e-12 && c.segments().len() == 4, "{text}");
    }
}

#[test]
fn flags_need_no_blanks_and_half_circles_bear_rounding() {
    let c = one("M10 0A10 10 0 01-10 0 10 10 0 01 10 0Z").contour;
    assert!((c.signed_area() - 100.0 * std::f64::consts::PI).abs() < 1e-9);
    // the same written in inches: 20 mm = 0.78740157 in, radius 0.3937007 in is short by 0.1 nm
    let loops = read(
        "M 0.39370079 0 A 0.39370078 0.39370078 0 0 1 -0.39370079 0 A 0.39370078 0.39370078 0 0 1 0.39370079 0 Z",
        25.4,
    );
    assert!((loops.unwrap()[0].contour.area() - 314.159_265).abs() < 1e-4);
}

#[test]
fn arcs_go_the_way_their_flags_say() {
    // a quarter of radius 10 from (10, 0) to (0, 10): the four ways, by the area with the corner at 0
    let quarter = 25.0 * std::f64::consts::PI;
    let area = |large, sweep| {
        one(&format!("M 10 0 A 10 10 0 {large} {sweep} 0 10 L -20 -20 Z")).contour.signed_area()
    };
    let base = 0.5 * (10.0 * 10.0) + 0.5 * (0.0 * -20.0 + 20.0 * 10.0) + 0.5 * (200.0);
    let cap = quarter - 50.0;
    assert!((area(0, 1) - (base + cap)).abs() < 1e-9);
    assert!((area(0, 0) - (base - cap)).abs() < 1e-9);
    assert!((area(1, 1) - (base + 100.0 * std::f64::consts::PI - cap)).abs() < 1e-9);
}

#[test]
fn what_is_no_outline_is_refused_under_its_own_bytes() {
    let cases = [
        ("", "empty-path", ""),
        ("M 0 0", "empty-path", "M 0 0"),
        ("L 1 1", "bad-path", "L"),
        ("M 0 0 L 10", "bad-path", "L 10"),
        ("M 0 0 X 10", "bad-path", "X"),
        ("M 0 0 H 10 V ü", "bad-path", "V "),
        ("M 0 0 H 10 V 5,75 H 0 Z", "comma-decimal", "5,75"),
        ("M 0 0 h10,5 V 5 H 0 Z", "comma-decimal", "10,5"),
        ("M 0 0 A 5 5 0 2 1 10 0 Z", "bad-path", "A 5 5 0 "),
        ("M 0 0 A 4 4 0 0 1 10 0 Z", "bad-arc", " 4 4 0 0 1 10 0"),
        ("M 0 0 A 4 0 0 0 1 10 0 Z", "bad-arc", " 4 0 0 0 1 10 0"),
        ("M 0 0 A 4 4 0 0 1 0 0 Z", "bad-arc", " 4 4 0 0 1 0 0"),
        ("M 0 0 H 10 V 10 H 0.08 V 0.08", "open-outline", " 0.08"),
        ("M 0 0 H 10 V 10 H 5 V -5 Z", "crossing-outline", " -5"),
        ("M 0 0 H 10 H 0 Z", "no-area", ""),
        ("M 0 0 H 1e999 Z", "bad-path", ""),
        ("M 0 0 H 1e-7 V 10 Z", "zero-length", " 1e-7"),
    ];
    for (text, code, part) in cases {
        let e = read(text, 1.0).err().unwrap_or_else(|| panic!("{text} was read"));
        assert_eq!(e.code, code, "{text}: {}", e.message);
        assert!(!e.help.is_empty() && e.bytes.1 <= text.len());
        if !part.is_empty() {
            assert_eq!(&text[e.bytes.0..e.bytes.1], part, "{text}: {}", e.message);
        }
    }
    let message = read("M 0 0 A 4 4 0 0 1 10 0 Z", 25.4).unwrap_err().message;
    assert_eq!(message, "an arc of radius 4 cannot reach from (0, 0) to (10, 0), 10 away");
}

#[test]
fn a_comma_between_two_numbers_of_a_pair_or_with_a_blank_is_svg() {
    for text in ["M 0,0 L 10,0 10,20 L 0,20 Z", "M 0,0 H 5, 10 V 20 H 0 Z", "M 0 0 H 10,V 20,H 0 Z"] {
        match read(text, 1.0) {
            Ok(loops) => assert_eq!(loops[0].contour.bounds().x1, 10.0, "{text}"),
            Err(e) => assert_eq!(e.code, "bad-path", "{text}: {}", e.message),
        }
    }
    assert!(read("M 0,0 L 5,75 L 0,75 Z", 1.0).is_ok());
}

#[test]
fn several_loops_come_apart() {
    let loops = read("M 0 0 H 10 V 10 Z M 20 0 h 5 v 5 z m 20 0 h 5 v 5 z", 1.0).unwrap();
    assert_eq!(loops.len(), 3);
    assert_eq!(loops[2].contour.bounds().x0, 40.0);
}

#[test]
fn curves_become_arcs_within_a_micrometre() {
    let text = "M 0 0 C 0 80 60 -40 100 40 S 150 90 200 30 L 200 -50 L 0 -50 Z";
    let l = one(text);
    assert!(l.error > 0.0 && l.error <= 1e-3, "{}", l.error);
    // points of the two cubics themselves (Bernstein form), against the arcs
    let curves = [
        [(0.0, 0.0), (0.0, 80.0), (60.0, -40.0), (100.0, 40.0)],
        [(100.0, 40.0), (140.0, 120.0), (150.0, 90.0), (200.0, 30.0)],
    ];
    for c in curves {
        for k in 0..=1000 {
            let t = f64::from(k) / 1000.0;
            let u = 1.0 - t;
            let w = [u * u * u, 3.0 * u * u * t, 3.0 * u * t * t, t * t * t];
            let x = (0..4).map(|k| w[k] * c[k].0).sum();
            let y = (0..4).map(|k| w[k] * c[k].1).sum();
            let off = distance::point_contour(Point::new(x, y), &l.contour).distance;
            assert!(off <= 1e-3, "{off} at {x}, {y}");
        }
    }
    assert!(l.contour.segments().len() < 150, "{}", l.contour.segments().len());
}

#[test]
fn an_ellipse_becomes_arcs_of_its_own_area() {
    let l = one("M 50 0 A 50 30 0 0 1 -50 0 A 50 30 0 0 1 50 0 Z");
    // area pi a b; a band of 1 um round the ellipse is at most 1 um times its circumference (256 mm)
    assert!((l.contour.area() - std::f64::consts::PI * 1500.0).abs() < 0.256);
    assert!(l.error <= 1e-3 && l.contour.is_ccw());
    let turned = one("M 0 50 A 50 30 90 0 1 0 -50 A 50 30 90 0 1 0 50 Z");
    assert!((turned.contour.area() - l.contour.area()).abs() < 1e-6);
    let b = turned.contour.bounds();
    assert!((b.height() - 100.0).abs() < 2e-3 && (b.width() - 60.0).abs() < 2e-3);
    assert_eq!(read("M 0 0 A 4 3 0 0 1 10 0 Z", 1.0).unwrap_err().code, "bad-arc");
}

#[test]
fn degenerate_curves_are_straights_or_errors_never_a_hang() {
    // a cusp, a line that is a cubic, a loop that crosses itself, points on top of one another
    assert!(read("M 0 0 C 0 0 10 0 10 0 V 10 Z", 1.0).is_ok());
    assert!(read("M 0 0 C 3 0 7 0 10 0 V 10 Z", 1.0).is_ok());
    assert!(read("M 0 0 C 20 20 -10 20 10 0 Z", 1.0).is_err());
    assert!(read("M 0 0 C 0 0 0 0 0 0 Z", 1.0).is_err());
    assert!(read("M 0 0 Q 5 10 10 0 T 20 0 V -20 H 0 Z", 1.0).is_ok());
    assert!(read("M 0 0 C 1e6 1e6 -1e6 1e6 10 0 Z", 1.0).is_err());
}
