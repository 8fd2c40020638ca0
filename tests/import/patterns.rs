//! The catalogue's patterns, found in a drawing that knows nothing of the catalogue.

use super::make::{circle, mm, rect};
use super::*;
use panelwright::geom::angle;

/// A 3 1/8 in pattern about a point, turned: the sizes of `round/3-1-8in-front`.
fn dial(x: f64, y: f64, turn: f64, off: f64) -> String {
    let (s, c) = angle::sin_cos_deg(turn);
    let h = 2.475 * 25.4 / 2.0;
    let mut out = circle(x, y, 79.375 / 2.0 + off);
    for (a, b) in [(h, h), (-h, h), (-h, -h), (h, -h)] {
        out += &circle(x + a * c - b * s, y + a * s + b * c, 0.170 * 25.4 / 2.0);
    }
    out
}

fn found(body: &str) -> Found {
    find("dials.dxf", mm(body).as_bytes(), None, &Options::default()).unwrap().1
}

#[test]
fn six_dials_are_six_patterns() {
    let mut body = rect(0.0, 0.0, 400.0, 220.0);
    for k in 0..6 {
        body +=
            &dial(60.0 + 92.0 * f64::from(k % 3), 60.0 + 95.0 * f64::from(k / 3), 7.0 * f64::from(k), 0.0);
    }
    let f = found(&body);
    assert_eq!(f.patterns.len(), 6, "{:?}", f.patterns);
    for m in &f.patterns {
        assert_eq!(m.title, "3 1/8 in with 4 holes");
        assert!(m.openings.len() == 5 && m.off < 1e-6, "{m:?}");
        assert!(m.names.iter().any(|n| n == "round/3-1-8in-front"), "{:?}", m.names);
        let turned = m.turn % 90.0;
        assert!((0..6).any(|k| (turned - 7.0 * f64::from(k)).abs() < 1e-6), "{turned}");
    }
    assert_eq!(
        f.openings.iter().filter(|o| o.id.starts_with("3-1-8-in")).count(),
        30,
        "{:?}",
        f.openings[0].id
    );
    let file = find("dials.dxf", mm(&body).as_bytes(), None, &Options::default()).unwrap().0;
    let text = panelwright::report::found_text(&file, &f);
    assert!(text.contains("six 3 1/8 in with 4 holes patterns found"), "{text}");
}

#[test]
fn a_hole_out_of_place_is_no_pattern() {
    let body = rect(0.0, 0.0, 400.0, 220.0) + &dial(100.0, 100.0, 0.0, 0.0);
    assert_eq!(found(&body).patterns.len(), 1);
    let h = 2.475 * 25.4 / 2.0;
    let hole = circle(100.0 + h, 100.0 + h, 0.170 * 25.4 / 2.0);
    let moved = circle(100.5 + h, 100.0 + h, 0.170 * 25.4 / 2.0);
    let f = found(&body.replace(&hole, &moved));
    // the round opening alone is still one of the trade
    assert!(f.patterns.iter().all(|m| m.openings.len() < 5), "{:?}", f.patterns);
    // 0.2 mm too large in diameter: found, and told by how much
    let f = found(&(rect(0.0, 0.0, 400.0, 220.0) + &dial(100.0, 100.0, 0.0, 0.1)));
    assert_eq!(f.patterns.len(), 1);
    assert!((f.patterns[0].off - 0.2).abs() < 1e-6, "{}", f.patterns[0].off);
}
