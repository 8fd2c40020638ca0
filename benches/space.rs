//! The largest demo in space: the whole check, one dragged item, and how much was asked of the solids.
//!
//! Wants of the machine: the whole check under 25 ms, one dragged item under 5 ms, with at least 30 pairs nearer
//! than what is asked and 25 mm.

use divan::{Bencher, black_box};
use panelwright::check::{Findings, Options, check, recheck};
use panelwright::files::Disk;
use panelwright::geom::Vec2;
use panelwright::panel::{Class, Detail, Panel, Part, SubjectKind};
use panelwright::resolve::{Catalogue, resolve};
use panelwright::solid::travel::{Moved, Reach};
use panelwright::solid::{Pose, Shape, Solid, within};

const LARGEST: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/panels/dunlin/proposed.json");

fn main() {
    counts(&largest());
    divan::main();
}

fn largest() -> Panel {
    resolve(LARGEST, &Disk::new(""), &Catalogue::builtin()).unwrap_or_else(|e| panic!("{e}"))
}

/// What stands, moves and comes near, and how often a distance is asked for.
fn counts(panel: &Panel) {
    let kind = |k: SubjectKind| panel.subjects.iter().filter(|s| s.kind == k).count();
    let placed = kind(SubjectKind::Placement) + kind(SubjectKind::Unit);
    let mechanism = &panel.space.mechanism;
    let (mut fixed, mut moving): (Vec<&Solid>, Vec<Reach<'_>>) = (Vec::new(), Vec::new());
    for part in panel.subjects.iter().flat_map(|s| &s.parts) {
        match &part.detail {
            Detail::Obstacle { solid, .. } => fixed.push(solid),
            Detail::Moving { solid, link, .. } => {
                let grow = mechanism.allowance(*link).unwrap_or(0.0);
                moving.push(Reach::new(mechanism, Moved { solid, link: Some(*link), grow }));
            }
            _ => {}
        }
    }
    let (mut pairs, mut near, mut calls) = (0, 0, 0);
    let items =
        panel.subjects.iter().filter(|s| matches!(s.kind, SubjectKind::Placement | SubjectKind::Unit));
    for part in items.flat_map(|s| &s.parts) {
        let Some(solid) = solid(part) else { continue };
        for other in &fixed {
            pairs += 1;
            if within(&solid, other, 6.0 + 25.0).is_some() {
                near += 1;
                calls += 1;
            }
        }
        let still = Reach::new(mechanism, Moved { solid: &solid, link: None, grow: 0.0 });
        for other in &moving {
            pairs += 1;
            let t = still.clearance(other, 12.7);
            calls += t.calls;
            near += usize::from(!t.over);
        }
    }
    println!(
        "{placed} placements and units, {} fixed solids, {} moving solids of {} controls, {} drivers: {pairs} pairs, \
         {near} near, {calls} distances",
        fixed.len(),
        moving.len(),
        kind(SubjectKind::Control),
        mechanism.drivers.len(),
    );
}

fn solid(part: &Part) -> Option<Solid> {
    let stands = matches!(
        part.class,
        Class::Body | Class::Port | Class::Bezel | Class::Front | Class::Head | Class::Nut | Class::Flange
    );
    let (from, to) = part.depth.filter(|_| stands)?;
    Solid::new(Shape::Prism { section: part.contour.clone(), from, to }, Pose::IDENTITY).ok()
}

/// All rules on the largest demo.
#[divan::bench]
fn whole(bencher: Bencher) {
    let panel = largest();
    bencher.bench_local(|| check(black_box(&panel), &Options::default()));
}

/// One item of it dragged to and fro, each step from the findings of the step before.
#[divan::bench]
fn drag(bencher: Bencher) {
    let mut panel = largest();
    let k = panel.find("standby").unwrap_or(1);
    let mut findings: Option<Findings> = Some(check(&panel, &Options::default()));
    let mut by = Vec2::new(1.0, 0.5);
    bencher.bench_local(|| {
        panel.shift(k, by);
        by = -by;
        findings = findings.take().map(|before| recheck(black_box(&panel), before, &[k]));
    });
}
