//! Convex sets that stand for a solid over its travel hold it wherever its drivers stand, and are no larger than they say.

use super::panels::Dice;
use super::random::Case;
use super::setup::{block, built, driver, link, v};
use panelwright::solid::travel::{Cell, Cover, DriverKind, Hull, Joint, Mechanism, Moved, Reach};
use panelwright::solid::{Pose, Solid, Vec3};

fn direction(d: &mut Dice) -> Vec3 {
    v(d.real(-1.0, 1.0), d.real(-1.0, 1.0), d.real(-1.0, 1.0)).unit().unwrap_or(Vec3::FORWARD)
}

/// How far convex sets reach along a unit vector.
fn reach(hulls: &[Hull<'_>], u: Vec3) -> f64 {
    hulls.iter().map(|h| h.support(u).dot(u) + h.radius).fold(f64::NEG_INFINITY, f64::max)
}

/// How far a solid reaches along a unit vector.
fn far(s: &Solid, grow: f64, u: Vec3) -> f64 {
    s.pieces().iter().map(|p| p.core.support(u).dot(u) + p.radius + grow).fold(f64::NEG_INFINITY, f64::max)
}

/// Cells of all pieces, each cut so often.
fn cut(cover: &Cover<'_>, times: usize) -> Vec<Cell> {
    let mut cells = cover.cells();
    for _ in 0..times {
        cells = cells.iter().flat_map(|c| cover.halves(c).map_or(vec![c.clone()], Vec::from)).collect();
    }
    cells
}

/// Asks whether the cover of a solid, cut so often, holds it at random poses; returns by how much it may be too large.
fn holds(m: &Mechanism, moved: Moved<'_>, times: usize, d: &mut Dice, told: &str) -> f64 {
    let Moved { solid, link, grow } = moved;
    let cover = Reach::new(m, Moved { solid, link, grow }).cover();
    let cells = cut(&cover, times);
    let hulls: Vec<Hull<'_>> = cells.iter().filter_map(|c| cover.hull(c)).collect();
    assert_eq!(hulls.len(), cells.len());
    for _ in 0..8 {
        let at: Vec<f64> =
            m.drivers.iter().map(|m| m.domain()).map(|(a, b)| d.real(a, b).clamp(a, b)).collect();
        let stands = solid.moved(&link.map_or(Pose::IDENTITY, |l| m.pose(l, &at)));
        for _ in 0..10 {
            let u = direction(d);
            let (truth, held) = (far(&stands, grow, u), reach(&hulls, u));
            assert!(truth <= held + 1e-9, "{told}, cut {times} times: {truth} reaches beyond {held}");
        }
        // and each of its points lies in one of them: no straight parts it from all
        for piece in stands.pieces() {
            let p = piece.core.support(direction(d)) + direction(d) * (piece.radius + grow);
            let mut beyond = |h: &Hull<'_>| {
                let u = direction(d);
                p.dot(u) > h.support(u).dot(u) + h.radius + 1e-9
            };
            let mut parted = |h: &Hull<'_>| (0..100).any(|_| beyond(h));
            assert!(!hulls.iter().all(&mut parted), "{told}, cut {times} times: {p:?} is in none");
        }
    }
    cells.iter().map(|c| c.excess).fold(0.0, f64::max)
}

#[test]
fn a_cover_holds_the_solid_at_every_pose() {
    let mut d = Dice::new(77);
    let mut turned = 0;
    for seed in 0..150 {
        let case = Case::new(seed);
        for times in [0, 2, 5] {
            let excess = holds(&case.mechanism, case.moved(0), times, &mut d, &format!("{seed}"));
            turned += usize::from(excess > 0.0);
        }
    }
    assert!(turned > 100, "{turned}");
    // more drivers than corners are looked at for
    let n: usize = 8;
    let m = built(
        (0..n).map(|_| driver(DriverKind::Turn, -15.0, 0.0, 10.0)).collect(),
        (0..n)
            .map(|k| {
                let axis = if k % 2 == 0 { Vec3::FORWARD } else { v(0.0, 1.0, 0.0) };
                link(k.checked_sub(1), Joint::Pivot(v(30.0 * k as f64, 0.0, 0.0), axis), &[(k, 1.0)])
            })
            .collect(),
    );
    let tip = block(v(225.0, 0.0, 0.0), v(8.0, 3.0, 3.0));
    for times in [0, 6] {
        holds(&m, Moved { solid: &tip, link: Some(n - 1), grow: 1.0 }, times, &mut d, "eight pivots");
    }
}

/// A lever of 100 that turns 40 degrees either way: cut fine enough its cover reaches no farther than a fine row of poses by
/// more than it says.
#[test]
fn a_cover_is_no_larger_than_it_says() {
    let axis = v(0.6, 0.0, 0.8);
    let m = built(
        vec![driver(DriverKind::Turn, -40.0, 0.0, 40.0)],
        vec![link(None, Joint::Pivot(Vec3::ZERO, axis), &[(0, 1.0)])],
    );
    let tip = block(v(100.0, 10.0, -20.0), v(15.0, 4.0, 9.0));
    let cover = Reach::new(&m, Moved { solid: &tip, link: Some(0), grow: 3.0 }).cover();
    // every 0.1 degrees: no point, 120 mm off the axis at the most, goes more than 0.1 mm from the nearest of them
    let poses: Vec<Solid> = (-400..=400).map(|k| tip.moved(&m.pose(0, &[f64::from(k) * 0.1]))).collect();
    let mut d = Dice::new(5);
    let mut before = f64::INFINITY;
    for times in [0, 3, 7] {
        let cells = cut(&cover, times);
        let excess = cells.iter().map(|c| c.excess).fold(0.0, f64::max);
        assert!(excess < before && excess > 0.0, "{excess} {before}");
        before = excess;
        let hulls: Vec<Hull<'_>> = cells.iter().filter_map(|c| cover.hull(c)).collect();
        for _ in 0..100 {
            let u = direction(&mut d);
            let truth = poses.iter().map(|s| far(s, 3.0, u)).fold(f64::NEG_INFINITY, f64::max);
            let held = reach(&hulls, u);
            assert!((-1e-9..=excess + 0.1).contains(&(held - truth)), "{times}: {held} {truth} {excess}");
        }
    }
    assert!(before < 1.0, "{before}");
}
