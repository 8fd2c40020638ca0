//! How far measured contours may be off: what is stated holds the truth as often as it says, and goes into the panel.

use super::*;
use panelwright::found::{Measured, On};
use panelwright::geom::{Point, span};
use panelwright::panel::{Class, TermKind};

/// Normal deviates by Box and Muller.
struct Dice(u64);

impl Dice {
    fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        let (u, v) = (self.unit(), self.unit());
        (-2.0 * libm::log(u)).sqrt() * libm::cos(std::f64::consts::TAU * v)
    }
}

/// A sheet of 300 x 200 and a hole of 39.7 about (100, 120), points of deviation 0.2 mm; few on each piece.
fn noisy(d: &mut Dice) -> String {
    let mut text = String::from("x mm,y mm,contour,piece\n");
    let mut row = |d: &mut Dice, x: f64, y: f64, words: &str| {
        let (x, y) = (x + 0.2 * d.normal(), y + 0.2 * d.normal());
        text += &format!("{x},{y},{words}\n");
    };
    for t in [30.0, 140.0, 270.0] {
        row(d, t, 0.0, "outline,line low");
    }
    for t in [40.0, 100.0, 160.0] {
        row(d, 300.0, t, "outline,line right");
    }
    for t in [260.0, 150.0, 60.0] {
        row(d, t, 200.0, "outline,line top");
    }
    for t in [170.0, 110.0, 20.0] {
        row(d, 0.0, t, "outline,line left");
    }
    for k in 0..6 {
        let (s, c) = libm::sincos(f64::from(k) * 0.9);
        row(d, 100.0 + 39.7 * c, 120.0 + 39.7 * s, "dial,circle");
    }
    text
}

#[test]
fn what_is_stated_holds_the_truth_in_95_of_100() {
    const TRIALS: u32 = 1500;
    let mut dice = Dice(7);
    let (mut centre, mut size, mut corners) = (0, 0, [0; 4]);
    for _ in 0..TRIALS {
        let text = noisy(&mut dice);
        let m = Measured::read("p.csv", text.as_bytes(), &ReadOptions::default()).unwrap();
        // by hand: 18 points, four straights of 2 unknowns and a circle of 3
        assert_eq!(m.scatter.unwrap().1, 18 - 8 - 3);
        let found = found::find_measured(&m, &[], &Options::default()).unwrap();
        let dial = &found.openings[0];
        let (doubt, (c, r)) = (dial.doubt.unwrap(), dial.contour.as_circle().unwrap());
        centre += u32::from(span(c, Point::new(100.0, 120.0)) <= doubt.off);
        size += u32::from((2.0 * r - 79.4).abs() <= doubt.diameter.unwrap());
        let outline = found.outline.as_ref().unwrap();
        let ends: Vec<Point> = outline.contour.segments().iter().map(|s| s.start()).collect();
        for (n, (x, y)) in [(0.0, 0.0), (300.0, 0.0), (300.0, 200.0), (0.0, 200.0)].into_iter().enumerate() {
            let near = ends.iter().map(|p| span(*p, Point::new(x, y))).fold(f64::INFINITY, f64::min);
            corners[n] += u32::from(near <= outline.doubt.unwrap().off);
        }
    }
    let share = |n: u32| f64::from(n) / f64::from(TRIALS);
    // two standard deviations of 1500 trials at 95 % are 1.1 %
    assert!((0.93..0.97).contains(&share(centre)), "centre {}", share(centre));
    assert!((0.93..0.97).contains(&share(size)), "diameter {}", share(size));
    // the contour is stated where it is worst: no corner less often, and the worst not much oftener
    assert!(corners.iter().all(|n| share(*n) > 0.935), "{corners:?}");
    assert!(corners.iter().any(|n| share(*n) < 0.99), "{corners:?}");
}

#[test]
fn the_panel_file_carries_it() {
    let text = noisy(&mut Dice(3));
    let m = Measured::read("p.csv", text.as_bytes(), &ReadOptions::default()).unwrap();
    assert!(m.fits.iter().filter(|f| f.on == On::Line).count() == 4);
    let found = found::find_measured(&m, &[], &Options::default()).unwrap();
    let p = panel(&m.file, &found).unwrap();
    let parts = || p.subjects.iter().flat_map(|s| &s.parts);
    let edge = parts().find(|q| q.class == Class::Edge).unwrap();
    let survey = edge.terms.iter().find(|t| t.kind == TermKind::Survey).unwrap();
    let stated = found.outline.as_ref().unwrap().doubt.unwrap().off;
    assert!(survey.grow >= stated && survey.grow < stated + 0.01, "{survey:?} {stated}");
    let hole = parts().find(|q| q.class == Class::OldOpening).unwrap();
    let (own, size) = (
        hole.terms.iter().find(|t| t.kind == TermKind::Survey).unwrap(),
        hole.terms.iter().find(|t| t.kind == TermKind::Size).unwrap(),
    );
    let doubt = found.openings[0].doubt.unwrap();
    assert!(own.shift >= doubt.off && own.shift < doubt.off + 0.01, "{own:?} {doubt:?}");
    assert!((2.0 * size.grow - doubt.diameter.unwrap()).abs() < 0.011, "{size:?} {doubt:?}");
    // a point to spare is what tells: without one the file says nothing, and that it does not
    let bare = "x mm,y mm,contour,piece\n0,0,outline,line a\n9,0,outline,line a\n10,1,outline,line b\n10,9,outline,line b\n5,9,outline,line c\n3,7,outline,line c\n";
    let m = Measured::read("p.csv", bare.as_bytes(), &ReadOptions { unit_mm: Some(10.0) }).unwrap();
    let found = found::find_measured(&m, &[], &Options::default()).unwrap();
    assert!(found.outline.as_ref().unwrap().doubt.is_none());
    assert!(found.told.iter().any(|t| t.code == "scatter" && t.says.contains("is not known")));
    let written = found::panel_file(&m.file, &found, "bare").unwrap();
    assert!(!written.contains("survey"), "{written}");
}
