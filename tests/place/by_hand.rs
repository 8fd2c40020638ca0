//! Regions that can be worked out by hand.

use crate::panels::{bare, part, subject};
use panelwright::check::{Finding, Options, Verdict, check};
use panelwright::geom::{Contour, Point, Rect};
use panelwright::panel::*;
use panelwright::place::{Answer, Asked, Asks, Question, TOLERANCE, region, room, size, spots};
use panelwright::solid::{Pose, Shape, Solid, Vec3};
use std::f64::consts::PI;

/// A sheet, one round cutout to be placed, and others that stay.
pub fn scene(own: Contour, others: &[Contour]) -> (Panel, usize) {
    let mut panel = bare(400.0, 200.0);
    let outline = Contour::rect(Point::new(200.0, 100.0), 400.0, 200.0, 0.0);
    panel.sheets[0].outline = outline.clone();
    panel.subjects[0].parts[0].contour = outline;
    let mut add = |id: String, contour: Contour| {
        let mut s = subject(&id, SubjectKind::Placement, contour.bounds().center());
        s.parts.push(part("main", Class::Cutout, contour, Detail::Plain));
        panel.subjects.push(s);
        panel.subjects.len() - 1
    };
    for (k, c) in others.iter().enumerate() {
        add(format!("other-{k}"), c.clone());
    }
    let own = add("own".into(), own);
    // limits that make the arithmetic plain
    for (rule, value) in [("web", 10.0), ("sheet-edge", 20.0)] {
        limited(&mut panel, rule, value);
    }
    (panel, own)
}

/// Sets a limit.
pub fn limited(panel: &mut Panel, rule: &str, value: f64) {
    let limit = UserLimit {
        value,
        written: format!("{value} mm"),
        because: "for the test".into(),
        place: crate::panels::nowhere(),
    };
    panel.limits.insert(rule.into(), limit);
}

fn size_of(panel: &Panel, own: usize) -> (f64, usize) {
    size(&region(panel, own).expect("a subject").area)
}

pub fn circle(x: f64, y: f64, r: f64) -> Contour {
    Contour::circle(Point::new(x, y), r)
}

#[test]
fn a_circle_in_a_rectangle() {
    // radius 30 and 20 from the edge: the middle stays 50 off: 300 x 100
    let (panel, own) = scene(circle(200.0, 100.0, 30.0), &[]);
    let (area, pieces) = size_of(&panel, own);
    assert!(area <= 30_000.0 && area > 30_000.0 - 800.0 * TOLERANCE && pieces == 1, "{area} {pieces}");
    let found = region(&panel, own).unwrap();
    let spots = spots(&panel, own, &found, Asked::MostRoom);
    // the roomiest lies on the middle line, 50 from the region's border
    let best = spots.best.unwrap();
    assert!((best.room - 50.0).abs() < 0.05 && best.shift.y.abs() < 0.05, "{best:?}");
}

#[test]
fn a_circle_among_two() {
    // 300 x 100, less two discs of 30 + 10 + 25 = 65 about (150, 100) and (250, 100), clipped to the 100 high band
    let (panel, own) =
        scene(circle(60.0, 60.0, 30.0), &[circle(150.0, 100.0, 25.0), circle(250.0, 100.0, 25.0)]);
    let (area, pieces) = size_of(&panel, own);
    // half height 50 of a disc of 65: 2 (50 sqrt(65^2 - 50^2) + 65^2 asin(50/65))
    let half = (65.0f64 * 65.0 - 50.0 * 50.0).sqrt();
    let disc = 2.0 * (50.0 * half + 65.0 * 65.0 * libm::asin(50.0 / 65.0));
    // what the two share: a lens, x from the middle outwards; the discs meet within the band
    let reach = (65.0f64 * 65.0 - 50.0 * 50.0).sqrt();
    assert!(reach < 50.0, "the discs meet inside the band: {reach}");
    let lens = 2.0 * (65.0f64 * 65.0 * libm::acos(50.0 / 65.0) - 50.0 * half);
    let asked = 30_000.0 - (2.0 * disc - lens);
    assert!((area - asked).abs() < 1200.0 * TOLERANCE && area <= asked + 1e-3, "{area} {asked}");
    // left, right, and the two gaps above and below between the discs
    assert_eq!(pieces, 4);
}

#[test]
fn a_rectangle_in_an_l() {
    // L of 400 x 200 less its upper right 200 x 100; a rectangle of 60 x 40, 20 from the edge: its middle keeps 50 from
    // upright and 40 from level edges; at the inner corner it keeps off by a rounded corner of 20
    let (mut panel, own) = scene(Contour::rect(Point::new(80.0, 60.0), 60.0, 40.0, 0.0), &[]);
    let corners = [(0.0, 0.0), (400.0, 0.0), (400.0, 100.0), (200.0, 100.0), (200.0, 200.0), (0.0, 200.0)];
    let l = Contour::polygon(&corners.map(|(x, y)| Point::new(x, y)));
    panel.sheets[0].outline = l.clone();
    panel.subjects[0].parts[0].contour = l;
    let (area, pieces) = size_of(&panel, own);
    // lower band: x 50..350, y 40..60; left band: x 50..150, y 40..160; the corner between adds what a disc of 20 leaves of
    // the square of 20 beside both
    let asked = 300.0 * 20.0 + 100.0 * 120.0 - 100.0 * 20.0 + (400.0 - PI * 100.0);
    assert!(
        (area - asked).abs() < 900.0 * TOLERANCE && area <= asked + 1e-3 && pieces == 1,
        "{area} {asked}"
    );
}

#[test]
fn it_fits_nowhere() {
    // 2 (80 + 20) = 200 high: the sheet's own height; one more and nothing is left
    let (panel, own) = scene(circle(200.0, 100.0, 80.5), &[]);
    assert_eq!(size_of(&panel, own), (0.0, 0));
    // short by half a millimetre: with so much less asked there is a place
    let question = Question::of(&panel, own, Default::default()).unwrap();
    assert_eq!(size(&question.answer(0.49, &[]).area).1, 0);
    assert_eq!(size(&question.answer(0.55, &[]).area).1, 1);
}

#[test]
fn an_old_opening_is_swallowed_or_kept_away_from() {
    let (mut panel, own) = scene(circle(60.0, 100.0, 30.0), &[circle(250.0, 100.0, 10.0)]);
    panel.subjects[1].kind = SubjectKind::OldOpening;
    panel.subjects[1].state = State::Existing;
    panel.subjects[1].parts[0].class = Class::OldOpening;
    let (area, pieces) = size_of(&panel, own);
    // 300 x 100 less what of a disc of 30 + 10 + 10 lies in it, all of it; swallowed within 30 - 10 of its middle
    let asked = 30_000.0 - PI * 2500.0 + PI * 400.0;
    assert!((area - asked).abs() < 1300.0 * TOLERANCE && area <= asked + 1e-3, "{area} {asked}");
    assert_eq!(pieces, 3);
}

/// A body of the item, and an upright box of the airframe with its left lower corner and its depths.
fn behind(deep: f64, rib: Rect, depth: (f64, f64)) -> f64 {
    let (mut panel, own) = scene(circle(200.0, 100.0, 30.0), &[]);
    let mut body = part("body", Class::Body, circle(200.0, 100.0, 30.0), Detail::Plain);
    body.depth = Some((2.0, deep));
    panel.subjects[own].parts.push(body);
    panel.depth.elsewhere = Some(500.0);
    let half = Vec3::new(rib.width() / 2.0, rib.height() / 2.0, (depth.1 - depth.0) / 2.0);
    let middle = Vec3::new(rib.center().x, rib.center().y, (depth.0 + depth.1) / 2.0);
    let solid = Solid::new(Shape::Box(half), Pose::shift(middle)).expect("a box");
    panel.subjects.insert(own, crate::airframe::fixed("rib", solid));
    size_of(&panel, own + 1).0
}

#[test]
fn a_rib_behind_bars_what_its_depth_lets_it() {
    // 300 x 100 for the middle; a rib of 20 x 40 in the midst of it grown by the body's 30 and by the room of 6
    let rib = Rect::new(190.0, 80.0, 210.0, 120.0);
    let barred = |by: f64| {
        // of the rounded box what reaches beyond the band of 100 is cut off: two caps of the height `over`
        let over = 20.0 + by - 50.0;
        let cap = |r: f64, h: f64| r * r * libm::acos(1.0 - h / r) - (r - h) * (2.0 * r * h - h * h).sqrt();
        20.0 * 40.0 + 120.0 * by + PI * by * by
            - if over > 0.0 { 2.0 * (20.0 * over + cap(by, over)) } else { 0.0 }
    };
    let near = |area: f64, asked: f64| area <= asked + 1e-3 && area > asked - 1200.0 * TOLERANCE;
    // beside it all along
    let area = behind(100.0, rib, (50.0, 150.0));
    assert!(near(area, 30_000.0 - barred(36.0)), "{area}");
    // 3.6 behind the body: beside it 4.8 are left of the room (3.6, 4.8, 6)
    let area = behind(100.0, rib, (103.6, 150.0));
    assert!(near(area, 30_000.0 - barred(34.8)), "{area}");
    // 6 behind it: nothing is asked
    let area = behind(100.0, rib, (106.0, 150.0));
    assert!(near(area, 30_000.0), "{area}");
}

/// The answer of `fits` for a circle alone on a sheet of some size.
fn alone(width: f64, height: f64, r: f64) -> Answer {
    let (mut panel, own) = scene(circle(width / 2.0, height / 2.0, r), &[]);
    let outline = Contour::rect(Point::new(width / 2.0, height / 2.0), width, height, 0.0);
    panel.sheets[0].outline = outline.clone();
    panel.subjects[0].parts[0].contour = outline;
    Answer::of(panel, own, Asks { instrument: "own".into(), turn: 0.0, near: None, tight: false })
}

#[test]
fn a_region_that_is_a_point_or_a_segment() {
    // 2 (80 + 20) = 200: in the square one point is left, in the rectangle a straight of 400 - 200
    let point = alone(200.0, 200.0, 80.0);
    assert!(point.region.area.size() <= 0.0 && point.short.is_none());
    let at = point.hairline.as_ref().expect("the middle").shift;
    assert!(at.hypot() < 1e-6, "{at:?}");
    let segment = alone(400.0, 200.0, 80.0);
    let at = segment.hairline.expect("on the middle line").shift;
    assert!(segment.short.is_none() && at.y.abs() < 1e-6 && at.x.abs() <= 100.0, "{at:?}");
    // a tenth of a millimetre less and it is a strip; a millimetre more and it is short by half of that
    assert_eq!(size(&alone(400.0, 200.0, 79.9).region.area).1, 1);
    let short = alone(400.0, 200.0, 80.5);
    let by = short.short.expect("short").by;
    assert!(short.hairline.is_none() && (0.5..0.5 + 2.0 * TOLERANCE).contains(&by), "{by}");
}

#[test]
fn where_limits_fall_below_zero_it_is_overlap() {
    // a circle of 220 in a sheet 200 high: 2 (110 + 20) = 260 asked, 60 too much, 30 a side: the limit of 20 and 10 of overlap
    let short = alone(400.0, 200.0, 110.0).short.expect("short");
    assert!((30.0..30.0 + 2.0 * TOLERANCE).contains(&short.by), "{}", short.by);
    assert!(
        short.binds.iter().all(|b| b.rule.id == "sheet-edge" && (b.asks - 20.0).abs() < 1e-9),
        "{:?}",
        short.binds
    );
    // between two that stay: the gap of 100 takes 2 (30 + 10) + 40 = 120: 10 too much a side, as much as the limit, so
    // they touch; with a gap of 90 they overlap by 5 on top
    for (gap, by) in [(100.0, 0.0), (80.0, 0.0), (60.0, 10.0), (50.0, 15.0)] {
        let half = gap / 2.0;
        let walls = [200.0 - half - 30.0, 200.0 + half + 30.0]
            .map(|x| Contour::rect(Point::new(x, 100.0), 60.0, 200.0, 0.0));
        let (mut panel, own) = scene(circle(200.0, 100.0, 30.0), &walls);
        let outline = Contour::rect(Point::new(200.0, 100.0), gap + 120.0, 200.0, 0.0);
        panel.sheets[0].outline = outline.clone();
        panel.subjects[0].parts[0].contour = outline;
        let question = Question::of(&panel, own, Default::default()).expect("a subject");
        let region = question.answer(0.0, &[]).area.size();
        if gap > 80.0 {
            assert!(region > 0.0, "{gap}");
            continue;
        }
        let short = question.short().expect("short").by;
        assert!(short >= by - 1e-3 && short < by + 2.0 * TOLERANCE, "{gap}: {short}");
        // without either wall there is the sheet's edge in the other's place
        assert!(gap >= 80.0 || question.singles().is_empty() || question.singles().len() == 2);
    }
}

/// A cutout that passes every rule on its own sheet parts a doubler that lies there: the region does not know, and says so.
#[test]
fn what_parts_a_layer_is_told_to_have_no_say() {
    let (mut panel, own) = scene(circle(60.0, 60.0, 30.0), &[]);
    assert!(region(&panel, own).unwrap().unsaid.iter().all(|(rule, _)| *rule != "one-piece"));
    let outline = Contour::rect(Point::new(250.0, 100.0), 40.0, 120.0, 0.0);
    let mut doubler = subject("doubler", SubjectKind::Sheet, Point::new(250.0, 100.0));
    doubler.sheet = 1;
    let mut edge = part("", Class::Edge, outline.clone(), Detail::Plain);
    edge.sheet = 1;
    doubler.parts.push(edge);
    let (main, sheet) = (panel.sheets[0].clone(), panel.subjects.len() as u32);
    panel.subjects.push(doubler);
    let layer = Sheet {
        id: "doubler".into(),
        role: SheetRole::Doubler,
        layer_of: Some(0),
        subject: sheet,
        outline,
        ..main
    };
    panel.sheets.push(layer);
    let found = region(&panel, own).unwrap();
    // over the middle of the doubler
    let shift = Point::new(190.0, 40.0);
    assert!(room(&found.area.contours(0.0), shift) > 1.0);
    panel.shift(own, shift.to_vec2());
    let all = check(&panel, &Options::default());
    let parts = |f: &&Finding| f.rule.id == "one-piece" && f.verdict == Verdict::Fail;
    assert!(all.list.iter().any(|f| parts(&f)), "the cutout parts the doubler");
    assert!(found.unsaid.iter().any(|(rule, _)| *rule == "one-piece"), "{:?}", found.unsaid);
}
