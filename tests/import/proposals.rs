//! What is only proposed: never done without a word, done exactly with it.

use super::make::{circle, mm, poly, rect, round};
use super::*;
use panelwright::found::Kind;
use panelwright::geom::angle;

fn with(body: &str, change: impl FnOnce(&mut Options)) -> Result<Found, Problems> {
    let mut options = Options::default();
    change(&mut options);
    find("p.dxf", mm(&(rect(0.0, 0.0, 400.0, 150.0) + body)).as_bytes(), None, &options).map(|(_, f)| f)
}

fn diameter(f: &Found) -> f64 {
    2.0 * f.openings[0].contour.as_circle().unwrap().1
}

#[test]
fn a_trade_size_is_proposed_and_not_taken() {
    let body = circle(80.0, 75.0, 39.7);
    let f = with(&body, |_| {}).unwrap();
    assert!((diameter(&f) - 79.4).abs() < 1e-9, "as drawn");
    let says: Vec<&str> = f.proposals.iter().map(|p| p.says.as_str()).collect();
    assert!(says[0].starts_with("diameter 79.4 mm to 79.375 mm (3 1/8 in), 0.025 mm smaller"), "{says:?}");
    assert!(says.iter().any(|s| s.contains("to 80 mm, 0.6 mm larger")), "{says:?}");
    assert!(f.proposals.iter().all(|p| !p.accepted && p.kind == Kind::Size));
    let f = with(&body, |o| o.accept = vec!["p1".into()]).unwrap();
    assert!((diameter(&f) - 79.375).abs() < 1e-12);
    let both = with(&body, |o| o.accept = vec!["p1".into(), "p2".into()]).unwrap_err();
    assert_eq!(both.sorted()[0].code, "two-sizes");
    // what is of the trade needs no proposal
    assert!(with(&circle(80.0, 75.0, 39.6875), |_| {}).unwrap().proposals.is_empty());
    assert!(with(&circle(80.0, 75.0, 34.0), |_| {}).unwrap().proposals.is_empty());
}

#[test]
fn chords_are_proposed_as_the_circle_through_their_corners() {
    let body = poly(&round(80.0, 75.0, 39.6875, 72));
    let f = with(&body, |_| {}).unwrap();
    assert_eq!(f.openings[0].contour.segments().len(), 72, "as drawn");
    let p = &f.proposals[0];
    // closed form of the sagitta of one of 72 chords
    let sagitta = 39.6875 * (1.0 - angle::unit(std::f64::consts::PI / 72.0).x);
    assert!(p.kind == Kind::Fit && (p.off - sagitta).abs() < 1e-9, "{p:?}");
    let f = with(&body, |o| o.accept = vec!["fits".into()]).unwrap();
    assert!((diameter(&f) - 79.375).abs() < 1e-9);
}

#[test]
fn exploded_corners_are_proposed_as_arcs() {
    let (w, h, r, n) = (60.0, 40.0, 8.0, 32);
    let mut points = Vec::new();
    for (k, (cx, cy)) in [(w - r, h - r), (r, h - r), (r, r), (w - r, r)].into_iter().enumerate() {
        for i in 0..=n {
            let t = (k as f64 + f64::from(i) / f64::from(n)) * std::f64::consts::FRAC_PI_2;
            let u = angle::unit(t) * r;
            points.push((200.0 + cx + u.x, 50.0 + cy + u.y));
        }
    }
    let f = with(&poly(&points), |_| {}).unwrap();
    assert_eq!(f.openings[0].contour.segments().len(), 4 * 33);
    let p = &f.proposals[0];
    let sagitta = r * (1.0 - angle::unit(std::f64::consts::FRAC_PI_4 / f64::from(n)).x);
    assert!((p.off - sagitta).abs() < 1e-6, "{} {sagitta}", p.off);
    assert!(p.says.contains("look like 4 arcs (radius 8 mm)"), "{}", p.says);
    let f = with(&poly(&points), |o| o.accept = vec!["p1".into()]).unwrap();
    let c = &f.openings[0].contour;
    assert_eq!(c.segments().len(), 8);
    let area = w * h - (4.0 - std::f64::consts::PI) * r * r;
    assert!((c.area() - area).abs() < 1e-6, "{} {area}", c.area());
}

#[test]
fn curves_carry_their_error() {
    let ellipse = "0\nELLIPSE\n8\n0\n10\n100\n20\n75\n11\n30\n21\n0\n40\n0.5\n41\n0\n42\n6.283185307179586\n";
    for tolerance in [1e-4, 1e-3, 1e-2] {
        let f = with(ellipse, |o| o.curve = tolerance).unwrap();
        let (count, bound) = f.curves;
        assert!(count == 1 && bound <= tolerance && bound > 0.0, "{bound}");
        // the area of an ellipse with half axes 30 and 15; all arcs leave it by the bound at most
        let (area, c) = (std::f64::consts::PI * 30.0 * 15.0, &f.openings[0].contour);
        assert!((c.area() - area).abs() < bound * c.perimeter(), "{} {area}", c.area());
        for s in c.segments() {
            for t in [0.0, 0.2, 0.5, 0.9] {
                let p = s.at(t) - panelwright::geom::Point::new(100.0, 75.0);
                let on = ((p.x / 30.0).powi(2) + (p.y / 15.0).powi(2)).sqrt();
                // 1 / gradient of the ellipse's equation is at least 15 mm
                assert!((on - 1.0).abs() * 15.0 < 1.01 * bound + 1e-9, "{on}");
            }
        }
    }
}

#[test]
fn a_spline_by_fit_points_says_what_to_do() {
    // ezdxf 1.4.5 draws a cubic through such points, other programs other curves: the reference gives no rule
    let text = mm(&(rect(0.0, 0.0, 400.0, 150.0)
        + &circle(80.0, 75.0, 20.0)
        + "0\nSPLINE\n8\n0\n70\n8\n71\n3\n74\n3\n11\n60\n21\n60\n11\n90\n21\n90\n11\n120\n21\n60\n"));
    let f = find("s.dxf", text.as_bytes(), None, &Options::default()).unwrap().1;
    let says: Vec<&str> = f.told.iter().filter(|t| t.code == "not-read").map(|t| t.says.as_str()).collect();
    assert!(
        matches!(says.as_slice(), [s] if s.contains("fit points alone") && s.contains("write the file again with control points")),
        "{says:?}"
    );
    assert!(!f.clean());
}
