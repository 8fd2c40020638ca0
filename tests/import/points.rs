//! Measured points: fits against scipy, known answers, what is only proposed, and what is refused.

use super::written::written;
use super::*;
use panelwright::found::{Kind, Measured, On};
use panelwright::geom::{Point, Segment, span};
use panelwright::import::Shape;
use serde_json::Value;

fn point(v: &Value) -> Point {
    let at: Vec<f64> = v.as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect();
    Point::new(at[0], at[1])
}

fn read(text: &str) -> Result<Measured, Problems> {
    Measured::read("p.csv", text.as_bytes(), &ReadOptions::default())
}

fn found(text: &str, change: impl FnOnce(&mut Options)) -> Found {
    let mut options = Options::default();
    change(&mut options);
    found::find_measured(&read(text).unwrap_or_else(|p| panic!("{p}")), catalogue(), &options).unwrap()
}

/// A 300 x 200 outline, its straights off by so much, with fillets at the lower corners and a round opening.
fn sheet(off: [f64; 4], radius: f64, wide: f64) -> String {
    let (h, d) = (200.0, std::f64::consts::FRAC_1_SQRT_2);
    let m = radius - radius * d;
    let mut s = String::from("# tape, two people\nx mm,y mm,contour,piece\n");
    let rows = [
        (40.0, off[0], "line bottom"),
        (150.0, off[0], "line bottom"),
        (260.0, off[0], "line bottom"),
        (wide + off[1] - m, m, "fillet right"),
        (wide + off[1], 50.0, "line right"),
        (wide + off[1], 110.0, "line right"),
        (wide + off[1], 170.0, "line right"),
        (250.0, h + off[2], "line top"),
        (150.0, h + off[2], "line top"),
        (50.0, h + off[2], "line top"),
        (off[3], 170.0, "line left"),
        (off[3], 110.0, "line left"),
        (off[3], 50.0, "line left"),
        (off[3] + m, m, "fillet left"),
    ];
    for (x, y, piece) in rows {
        s += &format!("{x},{y},outline,{piece}\n");
    }
    for (x, y) in [(39.7, 0.0), (0.0, 39.7), (-39.7, 0.0), (0.0, -39.7)] {
        s += &format!("{},{},standby,circle\n", 100.0 + x, 120.0 + y);
    }
    s
}

#[test]
fn fits_are_those_of_scipy() {
    let (folder, facts) = written("found_points.py");
    assert!(facts.len() >= 12);
    for f in &facts {
        let name = f["file"].as_str().unwrap();
        let bytes = std::fs::read(folder.join(name)).unwrap();
        let points = Measured::read(name, &bytes, &ReadOptions::default()).unwrap_or_else(|p| panic!("{p}"));
        let theirs = f["fits"].as_array().unwrap();
        assert_eq!(points.fits.len(), theirs.len());
        for (o, t) in points.fits.iter().zip(theirs) {
            assert_eq!(o.piece, t["piece"].as_str().unwrap());
            let near = |a: Option<f64>, b: &Value, what: &str| match (a, b.as_f64()) {
                (Some(a), Some(b)) => assert!(
                    (a - b).abs() < 1e-5 * b.abs().max(1.0),
                    "{name} {}: {what} {a}, theirs {b}",
                    o.piece
                ),
                (a, b) => assert_eq!(a, b, "{name} {}: {what}", o.piece),
            };
            near(o.radius, &t["radius"], "radius");
            near(o.radius_deviation, &t["radius-deviation"], "deviation of the radius");
            near(o.deviation, &t["deviation"], "deviation");
            for (a, b) in o.residuals.iter().zip(t["residuals"].as_array().unwrap()) {
                near(Some(*a), b, "residual");
            }
        }
        let ends: Vec<Point> = f["arc-ends"].as_array().unwrap().iter().map(point).collect();
        let chain = |i: &&import::Item| matches!(&i.shape, Shape::Chain { pieces, .. } if pieces.len() == 4);
        let Shape::Chain { pieces, .. } = &points.file.items.iter().find(chain).unwrap().shape else {
            panic!()
        };
        let arc = pieces.iter().find(|s| matches!(s, Segment::Arc(_))).unwrap();
        for (a, b) in [arc.start(), arc.end()].into_iter().zip(ends) {
            assert!(span(a, b) < 1e-4, "{name}: the arc ends at {a:?}, theirs at {b:?}");
        }
        let (_, circle) = points.fits.iter().zip(theirs).find(|(o, _)| o.on == On::Circle).unwrap();
        assert!(points.fits.iter().any(|f| f.on == On::Arc));
        let item = found::find_measured(&points, catalogue(), &Options::default()).unwrap();
        let (centre, _) = item.openings.iter().find_map(|o| o.contour.as_circle()).unwrap();
        let c: Vec<f64> = circle["centre"].as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect();
        assert!(span(centre, Point::new(c[0], c[1])) < 1e-5, "{centre:?} {c:?}");
    }
}

#[test]
fn exact_points_give_the_exact_panel() {
    let f = found(&sheet([0.0; 4], 20.0, 300.0), |_| {});
    let outline = f.outline.as_ref().unwrap();
    assert_eq!(outline.contour.segments().len(), 6);
    // by hand: two corners are rounded off, each by (1 - pi/4) r^2
    let area = 300.0 * 200.0 - 2.0 * (1.0 - std::f64::consts::FRAC_PI_4) * 400.0;
    assert!((outline.contour.area() - area).abs() < 1e-6, "{}", outline.contour.area());
    assert_eq!(f.openings[0].id, "standby");
    assert!((f.openings[0].contour.as_circle().unwrap().1 - 39.7).abs() < 1e-9);
    // 79.4 is proposed as 3 1/8 in, and taken only on request
    assert!(f.proposals.iter().any(|p| p.kind == Kind::Size && p.says.contains("79.375 mm (3 1/8 in)")));
    assert!(f.proposals.iter().all(|p| !p.accepted));
    let alone =
        "x mm,y mm,contour,piece\n1,0,dial,circle\n0,1,dial,circle\n-1,0,dial,circle\n0,-1,dial,circle\n";
    assert!(found(alone, |_| {}).told.iter().any(|t| t.says.starts_with("1 piece was fitted to 4 points")));
    let points = read(&sheet([0.0; 4], 20.0, 300.0)).unwrap();
    let panel = panel(&points.file, &f).unwrap();
    assert!(panel.sheets.len() == 1);
    // one point on a fillet: nothing checks its radius, and it is said
    assert!(f.told.iter().any(|t| t.code == "unchecked" && t.says.contains("fillet right")), "{:?}", f.told);
}

#[test]
fn who_begins_in_the_middle_of_a_piece_comes_back_to_it() {
    let text = sheet([0.0; 4], 20.0, 300.0);
    let whole = read(&text).unwrap();
    // the first two points of the lower edge at the end of the outline
    let rows: Vec<&str> = text.lines().collect();
    let (outline, dial) = (&rows[2..16], &rows[16..]);
    let turned: Vec<&str> = outline[2..].iter().chain(&outline[..2]).copied().collect();
    let turned = [&rows[..2], &turned[..], dial].concat().join("\n");
    let again = read(&turned).unwrap_or_else(|p| panic!("{p}"));
    assert_eq!(again.fits.len(), whole.fits.len());
    let low = |m: &Measured| m.fits.iter().find(|f| f.piece == "line bottom").unwrap().points;
    assert_eq!((low(&again), low(&whole)), (3, 3));
    let area = |m: &Measured| {
        let f = found::find_measured(m, &[], &Options::default()).unwrap();
        f.outline.unwrap().contour.area()
    };
    assert!((area(&again) - area(&whole)).abs() < 1e-6);
}

#[test]
fn mirror_images_are_proposed_where_the_points_allow_it() {
    // the right edge leans out by as much as the left one leans in: the axis moves, nothing else
    let text = sheet([0.0, 0.2, 0.0, 0.2], 20.0, 300.0);
    let f = found(&text, |_| {});
    let p = f.proposals.iter().find(|p| p.kind == Kind::Symmetry).expect("symmetric");
    assert!(p.says.contains("left and right") && p.says.contains("(150.2"), "{}", p.says);
    let id = p.id.clone();
    let g = found(&text, |o| o.accept = vec![id]);
    let c = &g.outline.as_ref().unwrap().contour;
    let m = c.bounds().center().x;
    for s in c.segments() {
        let q = Point::new(2.0 * m - s.start().x, s.start().y);
        let near = c
            .segments()
            .iter()
            .map(|t| span(t.start(), q).min(span(t.end(), q)))
            .fold(f64::INFINITY, f64::min);
        assert!(near < 1e-6, "{q:?} has no partner within {near}");
    }
    // a corner that is rounded on one side alone
    let lopsided = text.replace("fillet left", "line lower left");
    assert!(read(&lopsided).is_err(), "one point makes no line");
    let lopsided: String =
        text.lines().filter(|l| !l.ends_with("fillet left")).map(|l| format!("{l}\n")).collect();
    assert!(!found(&lopsided, |_| {}).proposals.iter().any(|p| p.kind == Kind::Symmetry));
}

#[test]
fn a_grid_is_proposed_when_it_is_stated() {
    let text = sheet([0.1, 0.2, -0.1, 0.05], 20.1, 300.0);
    assert!(!found(&text, |_| {}).proposals.iter().any(|p| p.kind == Kind::Grid));
    let f = found(&text, |o| o.grid = Some(0.5));
    let ids: Vec<&str> = f.proposals.iter().filter(|p| p.kind == Kind::Grid).map(|p| p.id.as_str()).collect();
    assert_eq!(ids, ["grid-outline", "grid-standby"]);
    let f = found(&text, |o| (o.grid, o.accept) = (Some(0.5), vec!["grid".into()]));
    let b = f.outline.as_ref().unwrap().contour.bounds();
    assert!((b.width() - 300.0).abs() < 1e-9 && (b.height() - 200.0).abs() < 1e-9, "{b:?}");
    let (c, r) = f.openings[0].contour.as_circle().unwrap();
    let at = (c - f.origin) / 0.5;
    assert!((at.x - at.x.round()).abs() < 1e-9 && (at.y - at.y.round()).abs() < 1e-9, "{at:?}");
    assert!((2.0 * r - 79.5).abs() < 1e-9);
    // sizes first, then the grid: the trade's size is not on it and stays unless the grid is taken too
    let f = found(&text, |o| (o.grid, o.accept) = (Some(0.5), vec!["p1".into(), "grid-outline".into()]));
    assert!(f.proposals.iter().filter(|p| p.accepted).count() == 2, "{:?}", f.proposals);
}

#[test]
fn what_is_wrong_is_told_with_its_line() {
    let one = |text: &str, code: &str| {
        let p = read(text).unwrap_err();
        let all = p.sorted();
        let one = all.iter().find(|q| q.code == code).unwrap_or_else(|| panic!("{text}\n{p}"));
        (one.place.as_ref().map_or(0, |w| w.line), p.to_string())
    };
    let head = "x mm,y mm,contour,piece\n";
    for (text, code, line, says) in [
        (String::new(), "unknown-format", 0, "empty"),
        ("x mm,y mm,countour,piece\n1,2,a,line\n".into(), "unknown-column", 1, "did you mean `contour`"),
        ("x mm,y mm,contour\n".into(), "missing-column", 1, "no column piece"),
        ("x mm,y in,contour,piece\n".into(), "two-units", 1, "different units"),
        (format!("{head}1.5,2,outline,lin\n"), "bad-piece", 2, "`lin`"),
        (format!("{head}1.5,zwei,outline,line\n"), "bad-number", 2, "`zwei`"),
        (format!("{head}1,5,2,outline,line\n"), "bad-row", 2, "5 cells"),
        (
            format!("{head}1,2,outline,line a\n1,2,outline,line a\n"),
            "few-points",
            2,
            "spread over its length",
        ),
        (
            format!("{head}0,0,dial,circle\n1,1,dial,circle\n2,2,dial,circle\n3,3,dial,circle\n"),
            "few-points",
            2,
            "not on a line",
        ),
        (
            format!(
                "{head}0,0,o,line a\n5,0,o,line a\n0,9,o,line b\n5,9,o,line b\n0,1,o,line c\n0,5,o,line c\n"
            ),
            "no-corner",
            4,
            "does not meet line a",
        ),
        (
            format!("{head}0,0,o,line a\n5,0,o,line a\n6,1,o,fillet\n7,5,o,arc\n6,9,o,arc\n3,9,o,arc\n"),
            "fillet-between",
            4,
            "between two lines",
        ),
    ] {
        let got = one(&text, code);
        assert!(got.0 == line && got.1.contains(says), "{text}\n{got:?}");
    }
    // a unit that is not told is asked, not guessed
    let plain = sheet([0.0; 4], 20.0, 300.0).replace("x mm,y mm", "x,y");
    assert!(found(&plain, |_| {}).told.iter().any(|t| t.about == About::Question && t.code == "unit"));
}
