//! Every opening and the outline rebuilt from the drawing's words, and compared with the panel.

use crate::kit::{demos, draw, random};
use crate::read::{Read, items};
use panelwright::draw::{Drawing, Layer, Shape};
use panelwright::geom::distance::{self, Relation};
use panelwright::geom::{Contour, Point, Segment, contains, span};
use panelwright::panel::*;
use std::collections::BTreeMap;

/// Points all along pieces.
fn samples(pieces: &[Segment]) -> Vec<Point> {
    pieces.iter().flat_map(|s| (0..12).map(|k| s.at(f64::from(k) / 12.0))).collect()
}

/// Distance of a point from a piece.
fn from_piece(p: Point, s: &Segment) -> f64 {
    match s {
        Segment::Line(l) => {
            let v = l.b - l.a;
            let t = ((p - l.a).dot(v) / v.hypot2()).clamp(0.0, 1.0);
            span(p, l.a.lerp(l.b, t))
        }
        Segment::Arc(a) => {
            let v = p - a.centre;
            match a.covers(v.atan2()) {
                true => (span(p, a.centre) - a.radius).abs(),
                false => span(p, a.a).min(span(p, a.b)),
            }
        }
    }
}

/// Farthest that the words stray from the outline, and the outline from them.
fn stray(words: &[Segment], c: &Contour) -> f64 {
    let there =
        samples(words).into_iter().map(|p| distance::point_contour(p, c).distance).fold(0.0, f64::max);
    let near = |p: Point| words.iter().map(|s| from_piece(p, s)).fold(f64::INFINITY, f64::min);
    samples(c.segments()).into_iter().map(near).fold(there, f64::max)
}

/// What rounding may do to an outline, when each number of its words is off by half of its last digit: a shift
/// by (h, h), a radius or two half sizes by h / 2 more, and the half thousandth of a degree of a turn. Where two
/// pieces meet in a corner, both may be off to the same side, and the corner by the length of their mitre.
fn bound(h: f64, c: &Contour) -> f64 {
    let b = c.bounds();
    let unit = |v: panelwright::geom::Vec2| v / v.hypot();
    let ends = |s: &Segment| (unit(s.at(0.001) - s.at(0.0)), unit(s.at(1.0) - s.at(0.999)));
    let next = c.segments().iter().cycle().skip(1);
    let turns = c.segments().iter().zip(next).map(|(a, b)| ends(a).1.dot(ends(b).0));
    let mitre = turns.map(|cos| 1.0 / ((1.0 + cos) / 2.0).max(0.01).sqrt()).fold(1.0, f64::max);
    (2f64.sqrt() + 1.0) * h * mitre + 1.0e-5 * b.width().max(b.height()) + 1e-6
}

fn openings(p: &Panel, sheet: usize) -> Vec<(String, &Part)> {
    let carrier = p.sheets[sheet].layer_of;
    let mut list = Vec::new();
    for (s, subject) in p.subjects.iter().enumerate() {
        for (k, part) in subject.parts.iter().enumerate() {
            let on = part.sheet as usize;
            if Classes::OPENINGS.has(part.class) && (on == sheet || Some(on) == carrier) {
                list.push((p.part_name(PartRef { subject: s as u32, part: k as u32 }), part));
            }
        }
    }
    list
}

/// Compares one sheet; gives how many openings were rebuilt, and how many of them are round.
fn compare(p: &Panel, sheet: usize) -> (usize, usize) {
    let d = draw(p, sheet);
    let read = Read::of(&d);
    let what = format!("{}, {}", p.name, p.sheets[sheet].id);
    let h = if p.unit.is_inch() { 0.0127 } else { 0.005 };
    let outline = &p.sheets[sheet].outline;
    let off = stray(&read.outline(), outline);
    assert!(off <= bound(h, outline), "{what}: the outline is off by {off}");
    let rebuilt: BTreeMap<String, Vec<Segment>> = read.openings().into_iter().collect();
    let parts = openings(p, sheet);
    let mut rounds = 0;
    for (name, part) in &parts {
        let Some(c) = rebuilt.get(name) else {
            let on = distance::contours(&part.contour, outline).relation;
            let outside = matches!(on, Relation::Apart | Relation::Touching | Relation::Outside);
            let gone = || parts.iter().any(|(n, q)| n != name && contains(&q.contour, &part.contour));
            assert!(outside || gone(), "{what}: {name} is not told");
            continue;
        };
        let off = stray(c, &part.contour);
        assert!(off <= bound(h, &part.contour), "{what}: {name} is off by {off}");
        let near = |a: f64, b: f64| (a - b).abs() <= h + 1e-9;
        if let ([Segment::Arc(a)], Some((b, r))) = (&c[..], part.contour.as_circle()) {
            let all = near(a.centre.x, b.x) && near(a.centre.y, b.y) && near(2.0 * a.radius, 2.0 * r);
            assert!(all, "{what}: {name} {a:?} {b:?} {r}");
            rounds += 1;
        }
    }
    let known: Vec<&String> = parts.iter().map(|(n, _)| n).collect();
    assert!(rebuilt.keys().all(|n| known.contains(&n)), "{what}: something is told that is not there");
    let counted: usize = read.rows.values().map(|(n, _)| n).sum();
    assert_eq!(counted, rebuilt.len(), "{what}: counts of the schedule");
    leaders(&d, &what);
    (rebuilt.len(), rounds)
}

/// Each leader's foot stands where its number says: places on paper differ as the numbers do, times the scale.
fn leaders(d: &Drawing, what: &str) {
    let scale = &d.meta.iter().find(|(k, _)| k == "scale").unwrap().1;
    let (paper, part) = scale.split_once(':').unwrap();
    let scale = paper.parse::<f64>().unwrap() / part.parse::<f64>().unwrap();
    let unit = d.units.millimetres();
    let mut feet: [Vec<(f64, f64)>; 2] = [Vec::new(), Vec::new()];
    let all = items(d);
    for i in all.iter().filter(|i| i.layer == Layer::Dimension) {
        let (Shape::Text(t), Some(s)) = (&i.shape, &i.subject) else { continue };
        let line = all.iter().find_map(|j| match &j.shape {
            Shape::Chain(pieces) if j.subject.as_ref() == Some(s) => pieces.first(),
            _ => None,
        });
        let foot = line.unwrap_or_else(|| panic!("{what}: {s} has no leader")).start();
        let value: f64 = t.text.parse::<f64>().unwrap() * unit * scale;
        let k = usize::from(s.starts_with('y'));
        feet[k].push((if k == 0 { foot.x } else { foot.y }, value));
    }
    for list in feet {
        for (a, b) in list.iter().zip(list.iter().skip(1)) {
            let off = ((b.0 - a.0) - (b.1 - a.1)).abs();
            assert!(off <= 0.0254 * scale + 1e-6, "{what}: a leader's foot is off by {off}");
        }
    }
}

#[test]
fn every_opening_of_the_demo_panels_is_rebuilt_from_words() {
    let (mut sheets, mut count) = (0, 0);
    for p in demos() {
        for k in 0..p.sheets.len() {
            count += compare(&p, k).0;
            sheets += 1;
        }
    }
    assert!(sheets >= 3 && count >= 100, "{count} openings on {sheets} sheets");
}

#[test]
fn every_opening_of_random_panels_is_rebuilt_from_words() {
    let (mut count, mut rounds) = (0, 0);
    let (mut tables, mut ordinates) = (0, 0);
    for seed in 0..120 {
        let p = random(seed);
        let (all, round) = compare(&p, 0);
        (count, rounds) = (count + all, rounds + round);
        let read = Read::of(&draw(&p, 0));
        if read.places.is_empty() { ordinates += 1 } else { tables += 1 }
    }
    println!("{count} openings; places in {tables} tables and {ordinates} by leaders");
    assert!(
        count > 1000 && rounds > 300 && tables > 5 && ordinates > 30,
        "{count} {rounds} {tables} {ordinates}"
    );
}

#[test]
fn a_crowded_panel_of_sixty_placements_is_rebuilt() {
    let p = crate::panels::crowded(5);
    assert_eq!(compare(&p, 0).0, 300);
}

#[test]
fn a_number_that_is_off_is_seen() {
    // the comparison itself: one step of the last digit more than allowed, and it fails
    let a = Contour::circle(Point::ORIGIN, 20.0);
    let b = Contour::circle(Point::new(0.02, 0.0), 20.0);
    assert!(stray(a.segments(), &b) > bound(0.005, &a));
    assert!(span(Point::ORIGIN, Point::new(0.005, 0.005)) < bound(0.005, &a));
}
