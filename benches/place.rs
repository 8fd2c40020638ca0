//! Where an instrument fits: the region of one among sixty, with solids, and what is in the way.
//!
//! Wants of the machine: the region under 10 ms, who must go under 300 ms.

#[path = "../tests/support/panels.rs"]
mod panels;

use divan::{Bencher, black_box};
use panelwright::geom::Point;
use panelwright::panel::{Class, Detail, Panel, State, SubjectKind};
use panelwright::place::{Question, region};
use panelwright::solid::{Leg, Pose, Shape, Solid, Vec3};
use std::sync::Arc;

fn main() {
    divan::main();
}

/// One of sixty items on a crowded sheet, five openings each, bodies, heads and nuts; behind it two ribs, a slanted brace,
/// a tank and a bent pipe.
fn crowded() -> Panel {
    let mut panel = panels::crowded(1);
    let v = Vec3::new;
    let solids = [
        (Shape::Box(v(2.0, 200.0, 60.0)), Pose::shift(v(300.0, 185.0, 130.0))),
        (Shape::Box(v(2.0, 200.0, 60.0)), Pose::shift(v(600.0, 185.0, 130.0))),
        (
            Shape::Box(v(300.0, 6.0, 6.0)),
            Pose::about(Vec3::ZERO, v(0.0, 1.0, 0.0), 0.2).then(&Pose::shift(v(450.0, 120.0, 110.0))),
        ),
        (
            Shape::Hull(vec![
                v(0.0, 0.0, 0.0),
                v(400.0, 20.0, 0.0),
                v(380.0, 120.0, 30.0),
                v(0.0, 100.0, 0.0),
                v(10.0, 10.0, 150.0),
                v(390.0, 90.0, 160.0),
            ]),
            Pose::shift(v(40.0, 200.0, 85.0)),
        ),
        (
            Shape::Tube {
                path: vec![
                    Leg::Line(v(0.0, 60.0, 40.0), v(500.0, 60.0, 60.0)),
                    Leg::Line(v(500.0, 60.0, 60.0), v(900.0, 300.0, 90.0)),
                ],
                radius: 6.0,
            },
            Pose::IDENTITY,
        ),
    ];
    for (k, (shape, pose)) in solids.into_iter().enumerate() {
        let solid = Solid::new(shape, pose).expect("a solid");
        let b = solid.bounds();
        let mut s = panels::subject(&format!("rib-{k}"), SubjectKind::Obstacle, Point::new(b.low.x, b.low.y));
        s.state = State::Existing;
        let contour = solid.silhouette();
        let detail = Detail::Obstacle { solid: Arc::new(solid), kind: "rib".into(), carries: None };
        let mut p = panels::part("", Class::Obstacle, contour, detail);
        p.depth = Some((b.low.d, b.high.d));
        s.parts.push(p);
        panel.subjects.push(s);
    }
    panel
}

/// The region of one of sixty.
#[divan::bench]
fn region_among_sixty(bencher: Bencher) {
    let panel = crowded();
    bencher.bench_local(|| region(black_box(&panel), 30));
}

/// The same on a sheet from which every second has gone: there is room.
#[divan::bench]
fn region_with_room(bencher: Bencher) {
    let mut panel = crowded();
    let mut n = 0;
    panel.subjects.retain(|s| {
        n += 1;
        s.kind != SubjectKind::Placement || n % 2 == 0
    });
    bencher.bench_local(|| region(black_box(&panel), 15));
}

/// Which single item has to go.
#[divan::bench]
fn without_each_of_sixty(bencher: Bencher) {
    let panel = crowded();
    bencher
        .bench_local(|| Question::of(black_box(&panel), 30, Default::default()).map(|q| q.singles().len()));
}

/// Which two have to go.
#[divan::bench]
fn without_two_of_sixty(bencher: Bencher) {
    let panel = crowded();
    bencher.bench_local(|| Question::of(black_box(&panel), 30, Default::default()).map(|q| q.pairs().len()));
}

/// By how much it is short.
#[divan::bench]
fn short_among_sixty(bencher: Bencher) {
    let panel = crowded();
    bencher
        .bench_local(|| Question::of(black_box(&panel), 30, Default::default()).map(|q| q.short().is_some()));
}
