//! Free directions against a dense sampling of the tube: never free where a sample is met, hardly ever blocked where none is.

use super::*;
use crate::check::scene::*;
use crate::geom::{Rect, angle};
use crate::panel::{Class, Detail, Group, Sway};

/// A small generator with fixed constants (Knuth's), so that every run sees the same scenes.
struct Lot(u64);

impl Lot {
    fn next(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * ((self.0 >> 11) as f64 / (1u64 << 53) as f64)
    }
}

/// Least distance of the tube's centre line from any box, less its radius; sampled.
fn sampled(exit: &Exit, way: Vec3, boxes: &[(Rect, f64, f64)]) -> f64 {
    let Turn::Radius { inside, outside, .. } = exit.turn else { return f64::NAN };
    let (r, half) = (inside + outside / 2.0, outside / 2.0);
    let mut points: Vec<Vec3> =
        (0..=60).map(|k| exit.at + exit.axis * (exit.straight * k as f64 / 60.0)).collect();
    points.extend((0..=240).map(|k| {
        let (s, c) = angle::sin_cos(std::f64::consts::FRAC_PI_2 * k as f64 / 240.0);
        exit.at + exit.axis * (exit.straight + r * s) + way * (r * (1.0 - c))
    }));
    let to = |p: &Vec3, (b, low, high): &(Rect, f64, f64)| {
        let gap = |v: f64, a: f64, b: f64| (a - v).max(v - b).max(0.0);
        Vec3::new(gap(p.x, b.x0, b.x1), gap(p.y, b.y0, b.y1), gap(p.d, *low, *high)).length()
    };
    points.iter().flat_map(|p| boxes.iter().map(move |b| to(p, b))).fold(f64::INFINITY, f64::min) - half
}

#[test]
fn free_is_free_and_blocked_is_blocked() {
    let scenes = std::env::var("SCENES").ok().and_then(|n| n.parse().ok()).unwrap_or(60);
    let mut lot = Lot(7);
    let (mut some, mut wrongly) = (0, 0);
    for scene in 0..scenes {
        let mut s = Scene::new();
        let k = s.placement("a", |_| ());
        s.part(k, "port-a", Class::Port, circle(200.0, 100.0, 10.0), Detail::Plain);
        let axis = [Vec3::FORWARD, Vec3::new(1.0, 0.0, 0.0), Vec3::new(0.0, -1.0, 0.0)][scene % 3];
        let exit = Exit {
            port: PartRef { subject: k as u32, part: 0 },
            at: Vec3::new(200.0, 100.0, 150.0),
            axis,
            straight: lot.next(0.0, 40.0),
            turn: Turn::Radius {
                inside: lot.next(10.0, 80.0),
                outside: lot.next(4.0, 18.0),
                source: String::new(),
            },
            wide: Some(10.0),
            line: None,
            side_exit: None,
        };
        let mut boxes = Vec::new();
        for n in 0..4 {
            let o = s.placement(&format!("b{n}"), |_| ());
            let c = rect(
                200.0 + axis.x * 60.0 + lot.next(-120.0, 120.0),
                100.0 + axis.y * 60.0 + lot.next(-120.0, 120.0),
                lot.next(10.0, 90.0),
                lot.next(10.0, 90.0),
            );
            let low = lot.next(90.0, 240.0);
            let high = low + lot.next(5.0, 90.0);
            let b = c.bounds();
            let far = Vec3::new(
                if axis.x > 0.0 { b.x1 } else { b.x0 },
                if axis.y > 0.0 { b.y1 } else { b.y0 },
                high,
            );
            // the tube begins flat: nothing of it lies behind the plane in which it leaves
            if axis.dot(far) > axis.dot(exit.at) {
                boxes.push((b, low, high));
            }
            s.part(o, "body", Class::Body, c, Detail::Plain);
            s.last(o).depth = Some((low, high));
        }
        // no sheet near: it would be a further box
        s.panel.sheets[0].outline = rect(9e5, 9e5, 1.0, 1.0);
        let found = free(&s.panel, &Movers::of(&s.panel), &exit, 0.0);
        some += usize::from(!found.set.is_empty() && !found.set.is_all());
        let frame = Frame::of(&exit);
        for k in 0..720 {
            let degrees = k as f64 / 2.0 + 0.1;
            let gap = sampled(&exit, frame.way(degrees), &boxes);
            if found.set.has(degrees) {
                assert!(gap > 0.0, "scene {scene}: free at {degrees}, yet {gap}");
            } else if gap > 4.0 {
                // an interval is 1.9 degrees wide, and half a radius beside counts as at the same depth
                wrongly += 1;
            }
        }
    }
    assert!(some * 4 > scenes, "only {some} of {scenes} scenes were partly free");
    assert!(wrongly * 100 < scenes * 720, "{wrongly} directions called blocked with 4 mm to spare");
}

/// A port of a floating panel beside a body of the fixed one.
#[test]
fn nothing_is_listed_as_free_while_the_sway_is_not_stated() {
    let mut s = Scene::new();
    let k = s.placement("a", |_| ());
    s.part(k, "port-a", Class::Port, circle(200.0, 100.0, 10.0), Detail::Plain);
    let o = s.placement("b", |_| ());
    s.part(o, "body", Class::Body, rect(260.0, 100.0, 20.0, 20.0), Detail::Plain);
    s.last(o).depth = Some((0.0, 300.0));
    s.panel.subjects[k].group = 1;
    let place = s.panel.sheets[0].place.clone();
    let group = |id: &str, sway: Option<Sway>| Group {
        id: id.into(),
        sheet: 0,
        opening: None,
        sway,
        sag: None,
        droop: None,
        limits: Default::default(),
        process: None,
        depth: Default::default(),
        place: place.clone(),
    };
    let exit = Exit {
        port: PartRef { subject: k as u32, part: 0 },
        at: Vec3::new(200.0, 100.0, 50.0),
        axis: Vec3::FORWARD,
        straight: 10.0,
        turn: Turn::Radius { inside: 30.0, outside: 8.0, source: String::new() },
        wide: Some(10.0),
        line: None,
        side_exit: None,
    };
    for (sway, some) in [(Some(Sway::default()), true), (None, false)] {
        s.panel.space.groups = vec![group("fixed", None), group("floating", sway)];
        let found = free(&s.panel, &Movers::of(&s.panel), &exit, 0.0);
        assert_eq!(!found.set.is_empty(), some, "{found:?}");
        assert!(some || !found.sure);
    }
}
