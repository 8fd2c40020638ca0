//! Random panels with layers of depth, old openings, hollow outlines and tolerances.

use crate::panels::{Dice, bare, part, screw_hole, subject, term};
use panelwright::geom::{Contour, Point, Transform};
use panelwright::panel::*;

/// Outline of a sheet about the origin.
fn outline(d: &mut Dice, w: f64, h: f64) -> Contour {
    match d.below(4) {
        0 => {
            // an L
            let (u, v) = (d.real(0.3, 0.7) * w, d.real(0.3, 0.7) * h);
            let corners = [(0.0, 0.0), (w, 0.0), (w, v), (u, v), (u, h), (0.0, h)];
            Contour::polygon(&corners.map(|(x, y)| Point::new(x - w / 2.0, y - h / 2.0)))
        }
        1 => {
            // a bite out of its lower edge
            let whole = Contour::rect(Point::ORIGIN, w, h, 10.0);
            let bite = Contour::circle(Point::new(d.real(-0.2, 0.2) * w, -h / 2.0), 0.2 * h);
            whole.without(&bite).and_then(|rest| rest.into_iter().next()).unwrap_or(whole)
        }
        _ => Contour::rect(Point::ORIGIN, w, h, d.real(0.0, 0.2) * h),
    }
}

fn add(s: &mut Subject, d: &mut Dice, name: &str, class: Class, contour: Contour, detail: Detail) {
    let mut p = part(name, class, contour, detail);
    p.depth = match class {
        Class::Bezel => Some((-d.real(1.0, 4.0), 0.0)),
        Class::Body => (!d.one_in(9)).then(|| (2.0, d.real(20.0, 200.0))),
        Class::Front => Some((-d.real(5.0, 25.0), -2.0)),
        _ => None,
    };
    if d.one_in(2) {
        p.terms.push(term(TermKind::Cut, 0, d.real(0.0, 0.3)));
    }
    s.parts.push(p);
}

/// An item: round with four screws and a knob, or a display.
fn item(d: &mut Dice, id: &str, t: Transform, at: Point) -> Subject {
    let mut s = subject(id, SubjectKind::Placement, at);
    let cutout = Detail::Cutout { make: Make::Drawing };
    let o = Point::ORIGIN;
    if !d.one_in(3) {
        let r = d.real(8.0, 40.0);
        add(&mut s, d, "main", Class::Cutout, t.contour(&Contour::circle(o, r)), cutout);
        for (k, name) in ["s1", "s2", "s3", "s4"].into_iter().enumerate() {
            let h = r * 0.79 + 2.0;
            let c = Point::new(if k % 2 == 0 { h } else { -h }, if k < 2 { h } else { -h });
            s.parts.push(screw_hole(name, t.point(c), 4.0, HeadKind::Raised));
        }
        let bezel = t.contour(&Contour::rect(o, 2.1 * r, 2.1 * r, 0.3 * r));
        add(&mut s, d, "bezel", Class::Bezel, bezel, Detail::Plain);
        add(&mut s, d, "body", Class::Body, t.contour(&Contour::circle(o, r - 1.0)), Detail::Plain);
    } else {
        let (w, h) = (d.real(20.0, 140.0), d.real(20.0, 90.0));
        add(&mut s, d, "main", Class::Cutout, t.contour(&Contour::rect(o, w, h, 3.0)), cutout);
        let bezel = t.contour(&Contour::rect(o, w + 8.0, h + 8.0, 5.0));
        add(&mut s, d, "bezel", Class::Bezel, bezel, Detail::Plain);
        add(
            &mut s,
            d,
            "body",
            Class::Body,
            t.contour(&Contour::rect(o, w - 2.0, h - 2.0, 0.0)),
            Detail::Plain,
        );
    }
    s
}

/// A panel of 10 to 60 items, most of which stand clear of the middle, and one to be placed, the last of its subjects.
pub fn scene(seed: u64) -> Panel {
    let mut d = Dice::new(seed);
    let (w, h) = (d.real(300.0, 900.0), d.real(160.0, 320.0));
    let mut panel = bare(w, h);
    let edge = outline(&mut d, w, h);
    panel.sheets[0].outline = edge.clone();
    panel.subjects[0].parts[0] = part("", Class::Edge, edge, Detail::Plain);
    let most = if d.one_in(4) { 50 } else { 12 };
    let count = 10 + d.below(most);
    for k in 0..count {
        let at = Point::new(d.real(-w, w) * 0.52, d.real(-h, h) * 0.52);
        let turn = if d.one_in(2) { 90.0 * d.below(4) as f64 } else { d.real(0.0, 360.0) };
        let t = Transform::place(at, turn, d.one_in(2));
        if d.one_in(6) {
            let mut s = subject(&format!("old-{k}"), SubjectKind::OldOpening, at);
            s.state = State::Existing;
            let hole = Contour::circle(at, d.real(2.0, 30.0));
            s.parts.push(part("main", Class::OldOpening, hole, Detail::Plain));
            panel.subjects.push(s);
        } else {
            let mut s = item(&mut d, &format!("i{k}"), t, at);
            // few are large, so that room is left
            if count > 15 {
                s.parts.truncate(1);
            }
            panel.subjects.push(s);
        }
    }
    let own = item(&mut d, "own", Transform::place(Point::ORIGIN, 0.0, false), Point::ORIGIN);
    panel.subjects.push(own);
    panel
}
