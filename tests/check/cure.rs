//! Cures do what they say, and are as short as they say.

use crate::messy::messy;
use crate::panels::*;
use panelwright::check::{Cure, NoCure, Options, Verdict, check, cure, cures};
use panelwright::geom::{Contour, Point, Vec2};
use panelwright::panel::*;

/// Two round cutouts of 40 and 30 mm.
fn two(at: Point, other: Point) -> Panel {
    let mut panel = bare(400.0, 200.0);
    for (id, at, r) in [("one", at, 20.0), ("two", other, 15.0)] {
        let mut s = subject(id, SubjectKind::Placement, at);
        let detail = Detail::Cutout { make: Make::Drawing };
        s.parts.push(part("cutout", Class::Cutout, Contour::circle(at, r), detail));
        panel.subjects.push(s);
    }
    panel
}

/// The cure of the only web finding.
fn web(panel: &Panel) -> Result<Cure, NoCure> {
    let findings = check(panel, &Options::default());
    let f = findings.list.iter().find(|f| f.rule.id == "web").expect("a web finding");
    cure(panel, &findings, f)
}

fn length(v: Vec2) -> f64 {
    (v.x * v.x + v.y * v.y).sqrt()
}

#[test]
fn moves_along_the_axis_by_what_is_short() {
    // 40 mm between centres leaves 5 mm of web; 6.35 are asked
    let cure = web(&two(Point::new(150.0, 100.0), Point::new(190.0, 100.0))).expect("a cure");
    assert_eq!(cure.subject, 1);
    assert!((cure.by.x + 1.35).abs() < 1e-9 && cure.by.y == 0.0, "{:?}", cure.by);
    assert_eq!((cure.verdict, cure.worse), (Verdict::Pass, vec![]));
}

#[test]
fn counts_the_worst_tolerance() {
    let mut panel = two(Point::new(150.0, 100.0), Point::new(192.0, 100.0));
    panel.subjects[1].parts[0].terms.push(term(TermKind::Cut, 0, 0.8));
    let findings = check(&panel, &Options::default());
    let f = findings.list.iter().find(|f| f.rule.id == "web").expect("a web finding");
    assert_eq!(f.verdict, Verdict::Tight);
    let cure = cure(&panel, &findings, f).expect("a cure");
    assert!((cure.by.x + 0.15).abs() < 1e-9, "{:?}", cure.by);
}

#[test]
fn what_is_locked_or_stays_is_not_moved() {
    let mut panel = two(Point::new(150.0, 100.0), Point::new(190.0, 100.0));
    panel.subjects[1].locked = true;
    let cure = web(&panel).expect("a cure");
    assert_eq!(cure.subject, 2);
    assert!((cure.by.x - 1.35).abs() < 1e-9);
    panel.subjects[2].state = State::Existing;
    assert_eq!(web(&panel), Err(NoCure::Fixed));
}

#[test]
fn the_neighbour_that_is_then_too_near_is_named() {
    let mut panel = two(Point::new(150.0, 100.0), Point::new(190.0, 100.0));
    panel.subjects[2].locked = true;
    // 6.35 mm to the left of the first: it cannot give way without a loss
    let at = Point::new(150.0 - 20.0 - 6.35 - 10.0, 100.0);
    let mut s = subject("three", SubjectKind::Placement, at);
    let detail = Detail::Cutout { make: Make::Drawing };
    s.parts.push(part("cutout", Class::Cutout, Contour::circle(at, 10.0), detail));
    panel.subjects.push(s);
    let cure = web(&panel).expect("a cure");
    assert_eq!(cure.worse, vec![("web/one.cutout/three.cutout".into(), Verdict::Fail)]);
}

#[test]
fn a_size_is_not_cured_by_a_shift() {
    let mut panel = two(Point::new(150.0, 100.0), Point::new(250.0, 100.0));
    panel.subjects[1].parts.push(screw_hole("screw", Point::new(170.0, 100.0), 4.0, HeadKind::Raised));
    let findings = check(&panel, &Options::default());
    let f = findings.list.iter().find(|f| f.rule.id == "own-openings").expect("a finding");
    assert_eq!(f.verdict, Verdict::Fail);
    assert_eq!(cure(&panel, &findings, f), Err(NoCure::Size));
}

#[test]
fn is_the_least_for_circles_at_any_angle_and_depth() {
    let mut d = Dice::new(5);
    for _ in 0..200 {
        let at = Point::new(200.0, 100.0);
        let other = at + Vec2::new(d.real(-41.0, 41.0), d.real(-41.0, 41.0));
        let apart = length(other - at);
        if !(1.0..41.35).contains(&apart) {
            continue;
        }
        let cure = web(&two(at, other)).expect("a cure");
        let least = 20.0 + 15.0 + 6.35 - apart;
        let got = length(cure.by);
        assert!(got >= least - 1e-6 && got <= 1.01 * least + 0.02, "{got} for {least}: {:?}", cure.by);
    }
}

#[test]
fn every_cure_of_random_panels_holds() {
    let (mut cured, mut none) = (0, 0);
    for seed in 0..30 {
        let panel = messy(seed);
        let findings = check(&panel, &Options::default());
        for (k, answer) in cures(&panel, &findings) {
            let f = &findings.list[k];
            let Ok(cure) = answer else {
                none += 1;
                continue;
            };
            cured += 1;
            let mut moved = panel.clone();
            moved.shift(cure.subject, cure.by);
            for unit in moved.subjects[cure.subject].units.clone() {
                moved.shift(unit as usize, cure.by);
            }
            let after = check(&moved, &Options::default());
            let verdict = after.find(f.rule, f.a, f.b).map_or(Verdict::Pass, |g| g.verdict);
            assert_eq!(verdict, cure.verdict, "seed {seed}: {}", f.id(&panel));
            assert!(verdict > f.verdict);
            assert!(!panel.subjects[cure.subject].locked);
            for g in after.list.iter().filter(|g| g.verdict != Verdict::Pass) {
                let before = findings.find(g.rule, g.a, g.b).map_or(Verdict::Pass, |b| b.verdict);
                let named = cure.worse.iter().any(|(id, v)| *id == g.id(&moved) && *v == g.verdict);
                assert_eq!(named, g.verdict < before, "seed {seed}: {}", g.id(&moved));
            }
        }
    }
    assert!(cured > 200, "{cured} cured, {none} not");
    println!("{cured} cured, {none} not");
}

#[test]
fn a_narrow_rib_is_stepped_off_by_its_width_and_not_by_the_depth_that_is_short() {
    let mut panel = bare(400.0, 200.0);
    let at = Point::new(200.0, 100.0);
    let mut s = subject("box", SubjectKind::Placement, at);
    let mut body = part("body", Class::Body, Contour::rect(at, 60.0, 60.0, 0.0), Detail::Plain);
    body.depth = Some((0.0, 150.0));
    s.parts.push(body);
    panel.subjects.push(s);
    // a rib 3 mm under the right side, and another 20 mm beyond the left one; both want 106 mm more
    panel.depth.areas = [("right", 229.0), ("left", 148.0)]
        .map(|(id, x)| DepthArea {
            id: id.into(),
            contour: Contour::rect(Point::new(x, 100.0), 4.0, 300.0, 0.0),
            available: Some(50.0),
            place: nowhere(),
        })
        .to_vec();
    let findings = check(&panel, &Options::default());
    let f = findings.list.iter().find(|f| f.rule.id == "depth-behind").expect("a finding");
    assert_eq!(f.verdict, Verdict::Fail);
    let cure = cure(&panel, &findings, f).expect("a cure");
    assert!((cure.by.x + 3.0).abs() <= 0.01 && cure.by.y == 0.0, "{:?}", cure.by);
}
