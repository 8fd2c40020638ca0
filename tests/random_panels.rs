//! Web, sheet edge, bezel gap and area of random panels against shapely (PyPI), within the bound of its
//! chords; no verdict may differ outside that bound, and no pair within reach may be missing.
//!
//! 1,000 panels by default; `PANELWRIGHT_LONG=1` draws 20,000.

#[path = "support/panels.rs"]
mod panels;

#[path = "support/oracle.rs"]
mod oracle;

use oracle::pieces;
use panels::{Dice, bare, part, subject};
use panelwright::check::{self, Options};
use panelwright::geom::{Contour, Point, Transform};
use panelwright::panel::*;
use serde_json::{Value, json};

/// A random instrument about the origin: round with four screws, or a display with rounded corners.
fn instrument(d: &mut Dice) -> Vec<(&'static str, Class, Contour, Detail)> {
    const SCREWS: [&str; 4] = ["s1", "s2", "s3", "s4"];
    let cutout = Detail::Cutout { make: Make::Drawing };
    let hole =
        |r: f64| Detail::Hole { diameter: Some(2.0 * r), fastening: None, free: true, make: Make::Drawing };
    let mut list = Vec::new();
    if !d.one_in(3) {
        let r = d.real(8.0, 42.0);
        list.push(("main", Class::Cutout, Contour::circle(Point::ORIGIN, r), cutout));
        let h = r * 0.79;
        for (k, name) in SCREWS.into_iter().enumerate() {
            let c = Point::new(if k % 2 == 0 { h } else { -h }, if k < 2 { h } else { -h });
            list.push((name, Class::Hole, Contour::circle(c, 2.2), hole(2.2)));
        }
        list.push((
            "bezel",
            Class::Bezel,
            Contour::rect(Point::ORIGIN, 2.1 * r, 2.1 * r, 0.3 * r),
            Detail::Plain,
        ));
    } else {
        let (w, h) = (d.real(20.0, 160.0), d.real(20.0, 110.0));
        let corner = if d.one_in(4) { 0.0 } else { d.real(0.5, 9.0) };
        list.push(("main", Class::Cutout, Contour::rect(Point::ORIGIN, w, h, corner), cutout));
        list.push((
            "bezel",
            Class::Bezel,
            Contour::rect(Point::ORIGIN, w + 8.0, h + 8.0, corner + 2.0),
            Detail::Plain,
        ));
    }
    list
}

fn panel(seed: u64) -> Panel {
    let mut d = Dice::new(seed);
    let (w, h) = (d.real(300.0, 900.0), d.real(120.0, 320.0));
    let at = Point::new(d.real(-500.0, 500.0), d.real(-500.0, 500.0));
    let turned = Transform::place(at, d.real(0.0, 360.0), d.one_in(2));
    let outline = turned.contour(&Contour::rect(Point::ORIGIN, w, h, d.real(0.0, 55.0)));
    let mut panel = bare(w, h);
    panel.sheets[0].outline = outline.clone();
    panel.subjects[0].parts[0] = part("", Class::Edge, outline, Detail::Plain);
    for k in 0..4 + d.below(14) {
        let spot = turned.point(Point::new(d.real(-w, w) * 0.52, d.real(-h, h) * 0.52));
        // multiples of 90 degrees half of the time: parallel edges are the common case
        let turn = if d.one_in(2) { 90.0 * d.below(4) as f64 } else { d.real(0.0, 360.0) };
        let t = Transform::place(spot, turn, d.one_in(2));
        let mut s = subject(&format!("i{k}"), SubjectKind::Placement, spot);
        s.parts = instrument(&mut d)
            .into_iter()
            .map(|(n, c, shape, detail)| part(n, c, t.contour(&shape), detail))
            .collect();
        panel.subjects.push(s);
    }
    panel
}

fn case(seed: u64) -> Value {
    let p = panel(seed);
    let findings = check::check(&p, &Options { all_pairs: true });
    let numbered = p
        .subjects
        .iter()
        .enumerate()
        .flat_map(|(s, subject)| subject.parts.iter().enumerate().map(move |(k, part)| (s, k, part)));
    let parts: Vec<Value> = numbered
        .map(|(s, k, part)| {
            let c = part.contour.centroid();
            json!({
                "ref": [s, k], "class": format!("{:?}", part.class), "pieces": pieces(&part.contour),
                "area": part.contour.area(), "centroid": [c.x, c.y],
            })
        })
        .collect();
    let asked = findings.list.iter().filter(|f| ["web", "sheet-edge", "bezel-gap"].contains(&f.rule.id));
    let list: Vec<Value> = asked
        .map(|f| {
            json!({
                "rule": f.rule.id, "a": [f.a.subject, f.a.part], "b": f.b.map(|b| [b.subject, b.part]),
                "verdict": f.verdict.word(), "measured": f.measured.map(|m| [m.lower, m.upper]), "asked": f.asked,
            })
        })
        .collect();
    json!({ "seed": seed, "parts": parts, "findings": list })
}

#[test]
fn a_thousand_random_panels_agree_with_shapely() {
    oracle::agrees("panels.py", (0..oracle::cases(1_000, 20_000)).map(case));
}
