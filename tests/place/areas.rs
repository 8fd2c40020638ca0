//! Areas of regions against shapely: sheets with corners cut in and arcs, round and straight items, bodies in layers of depth.

use crate::by_hand::limited;
use crate::oracle::{agrees, cases, pieces};
use crate::panels::{Dice, bare, nowhere, part, subject};
use panelwright::geom::{Contour, Point};
use panelwright::panel::*;
use panelwright::place::{TOLERANCE, region};
use serde_json::{Value, json};

const WEB: f64 = 7.0;
const EDGE: f64 = 9.0;
const APART: f64 = 6.0;

fn sheet(d: &mut Dice) -> Contour {
    let (w, h) = (d.real(300.0, 600.0), d.real(160.0, 300.0));
    let whole = Contour::rect(Point::ORIGIN, w, h, d.real(0.0, 30.0));
    match d.below(3) {
        0 => {
            let (u, v) = (d.real(0.3, 0.7) * w, d.real(0.3, 0.7) * h);
            let corners = [(0.0, 0.0), (w, 0.0), (w, v), (u, v), (u, h), (0.0, h)];
            Contour::polygon(&corners.map(|(x, y)| Point::new(x - w / 2.0, y - h / 2.0)))
        }
        1 => {
            let bite = Contour::circle(Point::new(d.real(-0.2, 0.2) * w, -h / 2.0), 0.25 * h);
            whole.without(&bite).and_then(|rest| rest.into_iter().next()).unwrap_or(whole)
        }
        _ => whole,
    }
}

/// A convex shape about a point.
fn shape(d: &mut Dice, at: Point, size: f64) -> Contour {
    match d.below(3) {
        0 => Contour::circle(at, size / 2.0),
        1 => Contour::rect(at, size, d.real(0.4, 1.2) * size, 0.0),
        _ => Contour::rect(at, size, d.real(0.4, 1.2) * size, 0.15 * size),
    }
}

fn case(seed: u64) -> Value {
    let mut d = Dice::new(seed ^ 0xA5EA);
    let mut panel = bare(100.0, 100.0);
    let edge = sheet(&mut d);
    let reach = edge.bounds();
    panel.sheets[0].outline = edge.clone();
    panel.subjects[0].parts[0] = part("", Class::Edge, edge.clone(), Detail::Plain);
    // deep everywhere, beyond the sheet too
    let everywhere = Contour::rect(Point::ORIGIN, 4000.0, 4000.0, 0.0);
    let deep = DepthArea { id: "bay".into(), contour: everywhere, available: Some(1000.0), place: nowhere() };
    panel.depth.areas.push(deep);
    for (rule, value) in [("web", WEB), ("sheet-edge", EDGE), ("bodies-apart", APART)] {
        limited(&mut panel, rule, value);
    }
    let mut add = |d: &mut Dice, id: &str, at: Point| {
        let size = d.real(15.0, 70.0);
        let cutout = shape(d, at, size);
        let b = cutout.bounds();
        // the body is smaller or larger than its cutout, and lies in some layer of depth
        let body = Contour::rect(at, b.width() * d.real(0.5, 1.4), b.height() * d.real(0.5, 1.4), 0.0);
        let from = d.real(2.0, 60.0);
        let depth = (from, from + d.real(5.0, 80.0));
        let mut s = subject(id, SubjectKind::Placement, at);
        s.parts.push(part("main", Class::Cutout, cutout.clone(), Detail::Plain));
        let mut p = part("body", Class::Body, body.clone(), Detail::Plain);
        p.depth = Some(depth);
        s.parts.push(p);
        panel.subjects.push(s);
        (cutout, body, depth)
    };
    let count = 10 + d.below(30);
    let others: Vec<Value> = (0..count)
        .map(|k| {
            let at = Point::new(d.real(reach.x0, reach.x1) * 1.1, d.real(reach.y0, reach.y1) * 1.1);
            let (cutout, body, depth) = add(&mut d, &format!("i{k}"), at);
            json!({ "cutout": pieces(&cutout), "body": pieces(&body), "depth": [depth.0, depth.1] })
        })
        .collect();
    let (own, body, depth) = add(&mut d, "own", Point::ORIGIN);
    let found = region(&panel, panel.subjects.len() - 1).expect("a subject");
    json!({
        "sheet": pieces(&edge), "own": pieces(&own), "body": [pieces(&body), [depth.0, depth.1]], "others": others,
        "edge": EDGE, "web": WEB, "apart": APART, "area": found.area.size(), "tolerance": TOLERANCE,
    })
}

#[test]
fn areas_are_those_that_shapely_finds() {
    agrees("places.py", (0..cases(25, 500)).map(case));
}
