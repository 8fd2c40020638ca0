//! The best spot by sight and reach, with numbers worked out by hand.

use crate::airframe::fixed;
use crate::by_hand::{circle, scene};
use crate::command::{out, run, scratch};
use crate::panels::{facts, part, subject};
use panelwright::check::Verdict;
use panelwright::geom::{Point, Vec2};
use panelwright::panel::*;
use panelwright::place::{Answer, Asks, BySight, Sight, Target};
use panelwright::report::fits;
use panelwright::solid::travel::{Driver, DriverKind, Follow, Joint, Link, Mechanism};
use panelwright::solid::{Pose, Shape, Solid, Vec3};
use serde_json::Value;
use std::sync::Arc;

/// A sheet of 400 x 200 that stands upright, the eye 700 before (200, 100), a circle of radius 20 there, and others.
fn before(others: &[(f64, f64)]) -> (Panel, usize) {
    let others: Vec<_> = others.iter().map(|(x, y)| circle(*x, *y, 10.0)).collect();
    let (mut panel, own) = scene(circle(200.0, 100.0, 20.0), &others);
    panel.tilt = Some(0.0);
    panel.eye_distance = Some(700.0);
    panel.wishes.eye = Some(Point::new(200.0, 100.0));
    (panel, own)
}

fn solid(shape: Shape, x: f64, y: f64, d: f64) -> Solid {
    Solid::new(shape, Pose::shift(Vec3::new(x, y, d))).unwrap()
}

/// A ball of radius 50 half way from the eye to the panel.
fn ball() -> Solid {
    solid(Shape::Sphere(50.0), 200.0, 100.0, -350.0)
}

fn standby(panel: &mut Panel, own: usize) {
    let facts = Facts { title: "Standby display".into(), ..facts() };
    panel.subjects[own].facts = Some(Arc::new(facts));
}

fn asked(panel: Panel, own: usize, near: Option<Point>) -> Answer {
    Answer::of(panel, own, Asks { instrument: "own".into(), turn: 0.0, near, tight: true })
}

fn told(a: &Answer) -> String {
    fits::text(std::slice::from_ref(a)).replace('\n', " ")
}

/// Heights of the eye from which the middle is barred after a shift to the right.
fn middle(s: &Sight, right: f64) -> Vec<f64> {
    let barred = s.barred(Vec2::new(right, 0.0));
    barred.iter().filter(|b| b.to == Target::Middle).map(|b| b.eye).collect()
}

#[test]
fn angles_from_the_line_of_sight() {
    let (mut panel, own) = before(&[]);
    let sight = Sight::of(&panel, own).unwrap();
    // straight and level ahead: 15 above the line of sight
    assert!((sight.angle(Vec2::ZERO) - 15.0).abs() < 1e-9);
    // 700 tan 15 = 187.5644 below that it lies in the line of sight itself
    assert!(sight.angle(Vec2::new(0.0, -187.5644)) < 1e-4);
    // 700 to the right, 45 degrees sideways: cos = cos 15 / sqrt 2 = 0.683013, 46.9202 degrees
    assert!((sight.angle(Vec2::new(700.0, 0.0)) - 46.9202).abs() < 1e-3);
    // the top leans forward by 10: level ahead is level ahead all the same
    panel.tilt = Some(10.0);
    let sight = Sight::of(&panel, own).unwrap();
    assert!((sight.angle(Vec2::ZERO) - 15.0).abs() < 1e-9);
}

#[test]
fn a_ball_bars_the_lines_that_meet_it() {
    let (mut panel, own) = before(&[]);
    panel.subjects.push(fixed("ball", ball()));
    let sight = Sight::of(&panel, own).unwrap();
    assert_eq!((sight.lines(), sight.asked_of()), (15, 1));
    // behind it: at half way every line is at most 20 + 7.1 up and 7.1 aside of its middle
    assert_eq!(sight.barred(Vec2::ZERO).len(), 15);
    // a line to x off the middle passes it at 350 x / sqrt(x^2 + 700^2): 49.98 at 101, 50.47 at 102; from 40 higher or lower
    // it passes a hundred off by sqrt(124100 - 246600^2 / 501600) = 53.5
    assert_eq!(middle(&sight, 100.0), [0.0]);
    assert_eq!(middle(&sight, 101.0), [0.0]);
    assert!(middle(&sight, 102.0).is_empty());
    // left corners at (shift - 14.14, 14.14 up or down): 350 r / sqrt(r^2 + 700^2) = 50 at r = 101.04, so at a shift of
    // 14.14 + sqrt(101.04^2 - 14.14^2) = 114.18 the last of the lines goes by
    let left = sight.barred(Vec2::new(114.0, 0.0));
    let names: Vec<(f64, &str)> = left.iter().map(|b| (b.eye, b.to.words())).collect();
    assert_eq!(names, [(0.0, "lower left corner"), (0.0, "upper left corner")]);
    assert!(sight.clear(Vec2::new(115.0, 0.0)));
    // behind the panel it bars nothing
    panel.subjects.pop();
    panel.subjects.push(fixed("ball", solid(Shape::Sphere(50.0), 200.0, 100.0, 60.0)));
    assert!(Sight::of(&panel, own).unwrap().clear(Vec2::ZERO));
}

#[test]
fn a_control_bars_where_it_rests() {
    let (mut panel, own) = before(&[]);
    let driver = Driver {
        id: "slide".into(),
        kind: DriverKind::Slide,
        stops: (0.0, 200.0),
        neutral: 100.0,
        over: Some((0.0, 0.0)),
    };
    let link = Link {
        id: "rod".into(),
        on: None,
        joint: Joint::Slide(Vec3::new(1.0, 0.0, 0.0)),
        follows: vec![Follow { driver: 0, by: 1.0 }],
        allowance: Some(0.0),
    };
    panel.space.mechanism = Mechanism::new(vec![driver], vec![link]).unwrap();
    panel.space.control_of = vec![panel.subjects.len() as u32];
    let mut s = subject("wheel", SubjectKind::Control, Point::new(200.0, 100.0));
    let detail = Detail::Moving { solid: Arc::new(ball()), link: 0, kind: "rim".into(), hand: None };
    let mut rim = part("rim", Class::Moving, ball().silhouette(), detail);
    rim.depth = Some((-400.0, -300.0));
    s.parts.push(rim);
    panel.subjects.push(s);
    let sight = Sight::of(&panel, own).unwrap();
    // drawn at 200 it rests at 300: a line to 200 is 100 off its middle, one to 400 goes through it
    assert!(middle(&sight, 0.0).is_empty());
    let barred = sight.barred(Vec2::new(200.0, 0.0));
    assert_eq!(barred.len(), 15);
    assert_eq!(panel.part_name(barred[0].by.unwrap()), "wheel.rim");
}

#[test]
fn a_standby_that_is_not_seen_is_not_chosen() {
    let (mut panel, own) = before(&[]);
    panel.subjects.push(fixed("ball", ball()));
    // any other item may stand behind the ball, and it is told
    let a = asked(panel.clone(), own, Some(Point::ORIGIN));
    let shift = a.nearest.as_ref().unwrap().best.as_ref().unwrap().shift;
    assert_eq!(shift, Vec2::ZERO);
    assert!(told(&a).contains("15 are barred: 15 by ball."), "{}", told(&a));
    standby(&mut panel, own);
    let a = asked(panel, own, Some(Point::ORIGIN));
    let sight = a.sight.as_ref().unwrap();
    let all = [&a.roomiest, a.nearest.as_ref().unwrap(), &a.sighted().unwrap().spots];
    for best in all.map(|s| s.best.as_ref().unwrap()) {
        assert!(sight.clear(best.shift), "{best:?}");
    }
    let unseen = a.sighted().unwrap().unseen;
    assert!(unseen > 0 && unseen < a.sighted().unwrap().compared);
    assert!(told(&a).contains(&format!("not wholly seen at {unseen}")), "{}", told(&a));
}

#[test]
fn a_standby_behind_a_wall_is_chosen_nowhere() {
    let (mut panel, own) = before(&[]);
    standby(&mut panel, own);
    let wall = solid(Shape::Box(Vec3::new(900.0, 900.0, 5.0)), 200.0, 100.0, -300.0);
    panel.subjects.push(fixed("wall", wall));
    let a = asked(panel, own, None);
    let s = a.sighted().unwrap();
    assert!(s.spots.best.is_none() && a.roomiest.best.is_none() && s.unseen == s.compared && s.compared > 9);
    assert_eq!(a.verdict(), Verdict::Fail);
    assert!(told(&a).contains("None is chosen."), "{}", told(&a));
}

/// A circle of radius 80 in a sheet of 200 high whose edge is asked 20 off fits on the middle line alone.
#[test]
fn a_standby_whose_only_place_is_hidden_is_put_nowhere() {
    let (mut panel, own) = scene(circle(200.0, 100.0, 80.0), &[]);
    (panel.tilt, panel.eye_distance) = (Some(0.0), Some(700.0));
    panel.wishes.eye = Some(Point::new(200.0, 100.0));
    let wall = solid(Shape::Box(Vec3::new(900.0, 900.0, 5.0)), 200.0, 100.0, -300.0);
    panel.subjects.push(fixed("wall", wall));
    let a = asked(panel.clone(), own, None);
    assert!(a.hairline.is_some() && a.hidden.is_none() && a.fits());
    standby(&mut panel, own);
    let a = asked(panel, own, None);
    assert!(a.hairline.is_none() && a.hidden.is_some() && !a.fits());
    assert_eq!(a.verdict(), Verdict::Fail);
    assert!(told(&a).contains("it is put nowhere. Not wholly seen there"), "{}", told(&a));
}

#[test]
fn in_line_with_a_neighbour_and_near_the_primary_display() {
    let (mut panel, own) = before(&[(300.0, 60.0)]);
    let neighbour = panel.find("other-0").unwrap();
    panel.wishes.basic_t[0] = Some(neighbour);
    let a = asked(panel, own, None);
    let s = a.sighted().unwrap();
    let p = Point::new(200.0, 100.0) + s.spots.best.as_ref().unwrap().shift;
    let of = |id: &str| s.terms.iter().find(|t| t.id == id).unwrap();
    // in line either across or upright is worth 10; the other way it is off by 20 or more, which counts 20
    let (x, y) = ((p.x - 300.0).abs(), (p.y - 60.0).abs());
    assert!(x.min(y) < 1e-9 && x.max(y) > 20.0, "{p:?}");
    assert!((of("alignment").measured.unwrap() - 20.0).abs() < 1e-9);
    assert!((of("alignment").cost() - 10.0).abs() < 1e-9);
    assert!((of("primary-display").measured.unwrap() - x.max(y)).abs() < 1e-9);
    let angle = a.sight.as_ref().unwrap().angle(s.spots.best.as_ref().unwrap().shift);
    assert!((s.cost() - (10.0 + 0.02 * x.max(y) + 0.2 * angle)).abs() < 1e-9, "{:?}", s.terms);
    // nothing is known of the shoulder
    assert!(
        of("reach").measured.is_none()
            && told(&a).contains("reach: not counted; the file does not give `shoulder`")
    );
}

#[test]
fn without_an_eye_it_is_withheld_and_says_what_settles_it() {
    let (mut panel, own) = before(&[]);
    panel.wishes.eye = None;
    let a = asked(panel.clone(), own, None);
    assert!(matches!(&a.by_sight, Some(BySight::Withheld(lacks)) if lacks.len() == 1), "{:?}", a.by_sight);
    let words = "Best by sight and reach: withheld; give `eye` in the panel's `arrange` section.";
    assert!(told(&a).contains(words), "{}", told(&a));
    (panel.tilt, panel.eye_distance) = (None, None);
    let a = asked(panel, own, None);
    assert!(matches!(&a.by_sight, Some(BySight::Withheld(lacks)) if lacks.len() == 3), "{:?}", a.by_sight);
}

#[test]
fn nothing_known_in_front_is_no_clear_sight() {
    let (mut panel, own) = before(&[]);
    let a = asked(panel.clone(), own, None);
    assert!(told(&a).contains("Whether it is seen there is withheld"), "{}", told(&a));
    assert!(!told(&a).contains("A standby must be seen"), "{}", told(&a));
    standby(&mut panel, own);
    assert!(told(&asked(panel, own, None)).contains("A standby must be seen: until then no spot is sure."));
    assert!(fits::json(&[a])["answers"][0]["by-sight"]["spot"]["seen"]["whole"].is_null());
}

#[test]
fn the_command_tells_it() {
    let sheet = r#"{ "format": 1, "panel": "Seen", "unit": "mm", "tilt": 0, "eye": 700,
      "sheet": { "material": "6061-T6", "thickness": 2, "coat": 0.08, "outline": "M 0 0 H 300 V 150 H 0 Z" },
      "depth": { "default": 300 }, "arrange": { "eye": [150, 75] },
      "place": [{ "id": "loom", "instrument": "mount/grommet", "at": [150, 125] }] }"#;
    let by_sight = |name: &str, text: &str| {
        let file = scratch(name, text);
        let (_, o) = run(&["fits", "blank/2-1-4in", file.to_str().unwrap(), "--format", "json"]);
        let v: Value = serde_json::from_slice(&o.stdout).unwrap_or_else(|_| panic!("{}", out(&o)));
        v["answers"][0]["by-sight"].clone()
    };
    let v = by_sight("seen", sheet);
    // below the grommet and in line with it is straight below the eye too: the cheapest by every term
    assert!((v["spot"]["at"][0].as_f64().unwrap() - 150.0).abs() < 1e-9, "{v:#}");
    assert!(v["spot"]["at"][1].as_f64().unwrap() < 75.0 && v["must-be-seen"] == false, "{v:#}");
    let v = by_sight("unseen", &sheet.replace(r#" "arrange": { "eye": [150, 75] },"#, ""));
    assert_eq!(v["withheld"][0], "give `eye` in the panel's `arrange` section", "{v:#}");
}

/// A standby must be seen: where the file does not tell what is seen of it, it is withheld, and the exit code says so.
#[test]
fn a_standby_of_which_nobody_can_say_what_is_seen_is_withheld() {
    let (mut panel, own) = before(&[]);
    panel.subjects.push(fixed("ball", solid(Shape::Sphere(5.0), 10.0, 190.0, -350.0)));
    standby(&mut panel, own);
    assert!(!asked(panel.clone(), own, None).unseen_standby());
    panel.wishes.eye = None;
    let a = asked(panel.clone(), own, None);
    assert_eq!((a.verdict(), a.fits()), (Verdict::Withheld, false));
    assert!(told(&a).contains("until then no spot is sure"), "{}", told(&a));
    // nothing known in front of the panel is not the same as nothing in front of it
    panel.wishes.eye = Some(Point::new(200.0, 100.0));
    panel.subjects.pop();
    let a = asked(panel, own, None);
    assert!(a.unseen_standby() && !a.fits());
}
