//! Where an instrument fits: the region of one among sixty, with solids, and what is in the way.
//!
//! Wants of the machine: the region under 10 ms, who must go under 300 ms; 1,000 panels asked from their files in 5 s on 2
//! cores.

#[path = "../tests/support/panel_files.rs"]
mod panel_files;
#[path = "../tests/support/panels.rs"]
mod panels;

use divan::{Bencher, black_box};
use panelwright::files::Memory;
use panelwright::geom::Point;
use panelwright::many::{Asked, Outcome, ask};
use panelwright::panel::{Class, Detail, Panel, State, SubjectKind};
use panelwright::place::{Asks, Brief, Question, region};
use panelwright::resolve::{Catalogue, laid_in};
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

/// Panels that are asked of one instrument.
const MANY: u64 = 1000;

/// Their files.
fn files() -> (Vec<String>, Memory) {
    let names: Vec<String> = (0..MANY).map(|k| format!("{k}.json")).collect();
    let add = |all: Memory, (k, name): (usize, &String)| all.with(name, panel_files::text(k as u64));
    let files = names.iter().enumerate().fold(Memory::new(), add);
    (names, files)
}

/// One that may pass, and one of which a size is yet to be measured, so that it is withheld everywhere.
const ASKED: [&str; 2] = ["blank/2-1-4in", "round/57mm-front"];

/// The whole job: 1,000 different panels of 20 to 60 items from the bytes of their files to the sorted answers.
#[divan::bench(sample_count = 1, args = ASKED)]
fn one_on_a_thousand_panels(bencher: Bencher, name: &str) {
    let (names, files) = files();
    bencher.bench_local(|| {
        let asked = Asked { instrument: &|_| name.to_string(), turns: &[0.0], tight: false };
        let all = ask(&names, &files, &Catalogue::builtin(), &asked, |_| (), &|| false);
        let told = all.iter().filter(|o| matches!(o, Outcome::Told(_))).count();
        assert_eq!(told, names.len());
    });
}

/// Of that the reading alone, on one core: from bytes to panels with the instrument laid in.
#[divan::bench(sample_count = 1, args = ASKED)]
fn read_a_thousand_panels(bencher: Bencher, name: &str) {
    let (names, files) = files();
    bencher.bench_local(|| {
        let catalogue = Catalogue::builtin();
        let read = names.iter().filter(|path| laid_in(path, &files, &catalogue, name, 0.0).is_ok());
        assert_eq!(read.count(), names.len());
    });
}

/// The rest alone, on one core: panels that are read already.
#[divan::bench(sample_count = 1, args = ASKED)]
fn ask_a_thousand_panels(bencher: Bencher, name: &str) {
    let (names, files) = files();
    let catalogue = Catalogue::builtin();
    let read: Vec<(Panel, usize)> =
        names.iter().filter_map(|path| laid_in(path, &files, &catalogue, name, 0.0).ok()).collect();
    bencher.bench_local(|| {
        let one = |(panel, subject): &(Panel, usize)| {
            let asks = Asks { instrument: name.into(), turn: 0.0, near: None, tight: false };
            Brief::of(panel.clone(), *subject, asks).fits
        };
        read.iter().filter(|p| one(p)).count()
    });
}
