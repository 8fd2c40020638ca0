//! Random panels with a bit of everything, overlaps and missing data too.

use crate::panels::*;
use panelwright::geom::{Contour, Point, Vec2};
use panelwright::panel::*;
use std::sync::Arc;

/// A panel of up to 14 subjects of every kind on 400 x 200 mm, some of them off the sheet.
pub fn messy(seed: u64) -> Panel {
    let mut dice = Dice::new(seed);
    let d = &mut dice;
    let mut panel = bare(400.0, 200.0);
    if d.one_in(3) {
        panel.subjects[0].state = State::Existing;
        panel.sheets[0].new = false;
    }
    for k in 0..4 + d.below(10) {
        let at = Point::new(d.real(-20.0, 420.0), d.real(-10.0, 210.0));
        let mut s = match d.below(8) {
            0 => old_opening(d, k, at),
            1 => zone(d, k, at),
            2 => label(d, k, at, &panel),
            3 => screws(d, k, at),
            _ => placement(d, k, at),
        };
        for p in &mut s.parts {
            let key = if d.one_in(3) { 0 } else { k as u32 + 1 };
            if d.one_in(2) {
                p.terms.push(term(TermKind::Position, key, d.real(0.0, 0.4)));
            }
            if d.one_in(2) {
                p.terms.push(term(TermKind::Size, 0, d.real(0.0, 0.3)));
            }
        }
        s.locked = d.one_in(5);
        s.critical = d.one_in(6);
        if d.one_in(4) {
            s.state = State::Existing;
        }
        panel.subjects.push(s);
    }
    if d.one_in(3) {
        stack(d, &mut panel);
    }
    if d.one_in(3) {
        let limit = UserLimit {
            value: d.real(0.0, 9.0),
            written: "as drawn by lot".into(),
            because: "a test".into(),
            place: nowhere(),
        };
        let id = ["web", "pitch", "hand-room", "bezel-gap", "edge-distance"][d.below(5)];
        panel.limits.insert(id.into(), limit);
    }
    panel
}

fn placement(d: &mut Dice, k: usize, at: Point) -> Subject {
    let mut s = subject(&format!("item-{k}"), SubjectKind::Placement, at);
    let mut f = facts();
    let size = d.real(12.0, 80.0);
    let rear = d.one_in(3);
    f.mounting = if d.one_in(6) { None } else { Some(if rear { Mounting::Rear } else { Mounting::Front }) };
    f.control = [None, None, Some(Control::Toggle), Some(Control::Breaker)][d.below(4)];
    f.needs_label = d.one_in(4);
    f.nominal = d.one_in(4).then(|| "3 1/8 in".into());
    s.facts = Some(Arc::new(f));
    s.provision = d.one_in(10);
    let shaft = Detail::Hole { diameter: Some(12.0), fastening: None, free: true, make: Make::Drawing };
    if d.one_in(4) {
        s.parts.push(part("bush", Class::Hole, Contour::circle(at, 6.0), shaft));
    } else {
        s.parts.push(part(
            "cutout",
            Class::Cutout,
            shape(d, at, size),
            Detail::Cutout { make: Make::Drawing },
        ));
    }
    for n in 0..d.below(4) {
        let c = at + Vec2::new(d.real(-0.7, 0.7) * size, d.real(-0.7, 0.7) * size);
        let kind = if d.one_in(2) { HeadKind::Raised } else { HeadKind::Countersunk };
        let mut hole = screw_hole(&format!("screw-{n}"), c, d.real(3.0, 6.0), kind);
        if d.one_in(5)
            && let Detail::Hole { fastening, .. } = &mut hole.detail
        {
            *fastening = None;
        }
        s.parts.push(hole);
        if d.one_in(2) {
            let from = if kind == HeadKind::Raised { -2.0 } else { 0.0 };
            s.parts.push(solid(
                d,
                &format!("head-{n}"),
                Class::Head,
                Contour::circle(c, 4.0),
                (from, from + 2.0),
            ));
            s.parts.push(solid(d, &format!("nut-{n}"), Class::Nut, Contour::circle(c, 4.5), (2.0, 5.0)));
        }
    }
    let (name, class) = if rear { ("flange", Class::Flange) } else { ("bezel", Class::Bezel) };
    if d.one_in(8) {
        s.missing.push((name.into(), "its size".into()));
    } else {
        let range = if rear { (2.0, 5.0) } else { (-4.0, 0.0) };
        let size = size * d.real(0.9, 1.5);
        let c = shape(d, at, size);
        s.parts.push(solid(d, name, class, c, range));
    }
    if !d.one_in(3) {
        let to = d.real(20.0, 150.0);
        let c = shape(d, at, size * 0.95);
        s.parts.push(solid(d, "body", Class::Body, c, (0.0, to)));
        let plug = at + Vec2::new(d.real(-20.0, 20.0), d.real(-20.0, 20.0));
        let detail = Detail::Port { carries: None, terms: vec![("plug".into(), Some(40.0))] };
        let mut port = part("port", Class::Port, shape(d, plug, 20.0), detail);
        port.depth = (!d.one_in(5)).then_some((to, to + 40.0));
        s.parts.push(port);
    }
    if d.one_in(3) {
        let kind = ["knob", "button", "lever"][d.below(3)].to_string();
        let hand_room = d.one_in(3).then(|| d.real(5.0, 15.0));
        let c = Contour::circle(at + Vec2::new(d.real(-10.0, 10.0), 0.0), 8.0);
        let mut knob = part("knob", Class::Front, c, Detail::Front { kind, hand_room });
        knob.depth = Some((-20.0, -4.0));
        s.parts.push(knob);
    }
    s
}

fn solid(d: &mut Dice, name: &str, class: Class, contour: Contour, range: (f64, f64)) -> Part {
    let mut p = part(name, class, contour, Detail::Plain);
    p.depth = if d.one_in(9) { None } else { Some(range) };
    p
}

fn old_opening(d: &mut Dice, k: usize, at: Point) -> Subject {
    let mut s = subject(&format!("old-{k}"), SubjectKind::OldOpening, at);
    let size = d.real(4.0, 60.0);
    s.parts.push(part("", Class::OldOpening, shape(d, at, size), Detail::Plain));
    s.state = State::Existing;
    s
}

fn zone(d: &mut Dice, k: usize, at: Point) -> Subject {
    let mut s = subject(&format!("zone-{k}"), SubjectKind::Zone, at);
    let forbids = Forbids { cut: d.one_in(2), behind: d.one_in(2), front: d.one_in(2) };
    let detail = Detail::Zone { forbids, because: "a rib".into() };
    let (w, h) = (d.real(5.0, 120.0), d.real(5.0, 60.0));
    s.parts.push(part("", Class::Zone, Contour::rect(at, w, h, 0.0), detail));
    s
}

fn label(d: &mut Dice, k: usize, at: Point, panel: &Panel) -> Subject {
    let mut s = subject(&format!("label-{k}"), SubjectKind::Label, at);
    let of = panel.subjects.last().map(|s| s.id.clone()).filter(|_| d.one_in(2));
    let detail = Detail::Label { text: "PUMP".into(), height: 3.0, process: None, of };
    s.parts.push(part("", Class::Label, Contour::rect(at, 20.0, 4.0, 0.0), detail));
    s
}

/// Screws of the builder's own, as round an insert.
fn screws(d: &mut Dice, k: usize, at: Point) -> Subject {
    let mut s = subject(&format!("insert-{k}"), SubjectKind::Insert, at);
    for n in 0..1 + d.below(5) {
        let c = at + Vec2::new(n as f64 * d.real(6.0, 30.0), d.real(0.0, 4.0));
        s.parts.push(screw_hole(&format!("screw-{n}"), c, 4.0, HeadKind::Raised));
    }
    s
}

/// A stack with units one above the other.
fn stack(d: &mut Dice, panel: &mut Panel) {
    let at = Point::new(d.real(60.0, 340.0), d.real(40.0, 160.0));
    let carrier = panel.subjects.len() as u32;
    let mut s = subject("stack", SubjectKind::Placement, at);
    let mut f = facts();
    f.frame = Some(StackFrame {
        opening_width: Some(160.0),
        rail_spacing: Some(160.0),
        opening_height: Some(80.0),
        joint: Some(0.5),
        ends: Some(1.0),
        shim: Some(1.0),
        set_back: Some(2.0),
    });
    s.facts = Some(Arc::new(f));
    let cutout = Contour::rect(at, 60.0, 80.0, 2.0);
    s.parts.push(part("cutout", Class::Cutout, cutout, Detail::Cutout { make: Make::Drawing }));
    s.units = carrier + 1..carrier + 3;
    panel.subjects.push(s);
    for n in 0..2 {
        let c = at + Vec2::new(0.0, 20.0 - 40.0 * f64::from(n));
        let mut unit = subject(&format!("unit-{n}"), SubjectKind::Unit, c);
        unit.carrier = Some(carrier);
        let mut f = facts();
        f.unit =
            Some(StackUnit { height: Some(39.0), width: Some(59.0), set_back: None, lock_room: Some(5.0) });
        unit.facts = Some(Arc::new(f));
        unit.parts.push(solid(d, "bezel", Class::Bezel, Contour::rect(c, 60.0, 39.5, 0.0), (-3.0, 0.0)));
        unit.parts.push(solid(d, "body", Class::Body, Contour::rect(c, 59.0, 39.0, 0.0), (0.0, 250.0)));
        panel.subjects.push(unit);
    }
}
