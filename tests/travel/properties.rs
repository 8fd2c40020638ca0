//! What must not change the answer: the whole scene moved, a driver's scale, the order of links, which is asked first,
//! another run; and no input hangs or panics.

use super::panels::Dice;
use super::random::Case;
use super::setup::{ball, bar, block, built, driver, link, still, v};
use panelwright::solid::travel::{
    DriverKind, Follow, Joint, Link, MOST, Mechanism, Moved, Travelled, WIDTH, clearance,
};
use panelwright::solid::{Lie, Pose, Vec3};

const ASKED: f64 = 12.0;

fn asked(case: &Case) -> Travelled {
    clearance(&case.mechanism, case.moved(0), case.moved(1), ASKED)
}

/// Two certified answers to one question: they overlap as intervals, or both say "over", or both an overlap.
fn agree(a: &Travelled, b: &Travelled, why: &str) {
    if a.relation == Lie::Overlap || b.relation == Lie::Overlap {
        // where both only just meet, one may find the touch and the other the overlap
        assert!(a.lower < 1e-6 && b.lower < 1e-6, "{why}: {a:?} {b:?}");
        return;
    }
    assert!(a.lower <= b.upper + 1e-6 && b.lower <= a.upper + 1e-6, "{why}: {a:?} {b:?}");
    assert!(a.over == b.over || (a.lower.max(b.lower) - ASKED - 25.0).abs() < WIDTH, "{why}: {a:?} {b:?}");
}

fn each(seeds: std::ops::Range<u64>, why: &str, change: impl Fn(&Case, &mut Dice) -> Case) {
    for seed in seeds {
        let case = Case::new(seed);
        let other = change(&case, &mut Dice::new(seed ^ 77));
        agree(&asked(&case), &asked(&other), &format!("{why}, {seed}"));
    }
}

#[test]
fn the_whole_scene_moved() {
    each(0..80, "moved", |case, d| {
        let axis = v(d.real(0.1, 1.0), d.real(-1.0, 1.0), d.real(-1.0, 1.0)).unit().unwrap_or(Vec3::FORWARD);
        let by =
            Pose::about(v(30.0, -9.0, 4.0), axis, d.real(-3.0, 3.0)).then(&Pose::shift(v(250.0, 9.0, -70.0)));
        let mut other = case.clone();
        for l in &mut other.mechanism.links {
            l.joint = match l.joint {
                Joint::Fixed => Joint::Fixed,
                Joint::Slide(a) => Joint::Slide(by.vector(a)),
                Joint::Pivot(p, a) => Joint::Pivot(by.point(p), by.vector(a)),
            };
        }
        other.solids = case.solids.clone().map(|s| s.moved(&by));
        other
    });
}

#[test]
fn a_driver_in_another_scale() {
    each(80..160, "scaled", |case, d| {
        let (which, k) = (d.below(case.mechanism.drivers.len() as u64), d.real(0.2, 5.0));
        // now and then the other way round
        let k = if d.one_in(3) { -k } else { k };
        let mut other = case.clone();
        let m = &mut other.mechanism.drivers[which];
        let (low, high) = (m.stops.0 / k, m.stops.1 / k);
        m.stops = (low.min(high), low.max(high));
        for f in other.mechanism.links.iter_mut().flat_map(|l| &mut l.follows).filter(|f| f.driver == which) {
            f.by *= k;
        }
        other
    });
}

#[test]
fn links_in_another_order_and_the_other_asked_first() {
    each(160..240, "reordered", |case, _| {
        // a link that carries nothing first, and one between each and what it hangs on
        let mut links = vec![link(None, Joint::Slide(v(1.0, 0.0, 0.0)), &[(0, 1.0)])];
        for l in &case.mechanism.links {
            links.push(Link { on: l.on.map(|on| 2 * on + 2), ..link(None, Joint::Fixed, &[]) });
            let mut follows = l.follows.clone();
            follows.reverse();
            follows.extend([0.25, -0.25].map(|by| Follow { driver: 0, by }));
            links.push(Link { on: Some(links.len() - 1), follows, ..l.clone() });
        }
        let mechanism = built(case.mechanism.drivers.clone(), links);
        let [a, b] = case.links.map(|l| l.map(|l| 2 * l + 2));
        let [s, t] = case.solids.clone();
        Case { mechanism, links: [b, a], solids: [t, s], grow: [case.grow[1], case.grow[0]] }
    });
}

#[test]
fn the_same_again_is_the_same_to_the_bit() {
    for seed in 0..20 {
        let case = Case::new(seed);
        assert_eq!(asked(&case), asked(&case), "{seed}");
    }
}

#[test]
fn more_travel_and_more_growth_never_add_room() {
    for seed in 240..300 {
        let case = Case::new(seed);
        let t = asked(&case);
        let mut wider = case.clone();
        for d in &mut wider.mechanism.drivers {
            d.over = Some((3.0, 2.0));
        }
        wider.grow[0] += 1.5;
        let w = asked(&wider);
        if t.relation != Lie::Overlap {
            assert!(w.lower <= t.upper - 1.5 + 1e-6, "{seed}: {t:?} {w:?}");
        } else {
            assert!(w.lower < 1e-6, "{seed}: {w:?}");
        }
    }
}

#[test]
fn nothing_hangs() {
    // eight pivots on eight drivers, each all the way round, beside a box that the chain just misses
    let n: usize = 8;
    let turn = |_| driver(DriverKind::Turn, -180.0, 0.0, 180.0);
    let joint = |k: usize| Joint::Pivot(v(30.0 * k as f64, 0.0, 0.0), Vec3::FORWARD);
    let m = built(
        (0..n).map(turn).collect(),
        (0..n).map(|k| link(k.checked_sub(1), joint(k), &[(k, 1.0)])).collect(),
    );
    let tip = block(v(225.0, 0.0, 0.0), v(8.0, 3.0, 3.0));
    let wall = block(v(0.0, 245.0, 0.0), v(300.0, 10.0, 100.0));
    let t = clearance(&m, Moved { solid: &tip, link: Some(n - 1), grow: 0.0 }, still(&wall), 6.0);
    // straight out it reaches sqrt(233^2 + 3^2) = 233.019, so 1.981 are left
    assert!(t.boxes <= MOST + 2 && t.lower <= 1.981 && t.upper >= 1.98 - 1e-3, "{t:?}");
    assert!(t.wide || t.upper - t.lower <= WIDTH, "{t:?}");
    // a touch all along a slide, and a bar that turns in a ring that it touches all round
    let m = built(
        vec![driver(DriverKind::Slide, -80.0, 0.0, 80.0), driver(DriverKind::Turn, -90.0, 0.0, 90.0)],
        vec![
            link(None, Joint::Slide(v(1.0, 0.0, 0.0)), &[(0, 1.0)]),
            link(Some(0), Joint::Pivot(v(0.0, 0.0, 0.0), Vec3::FORWARD), &[(1, 1.0)]),
        ],
    );
    let floor = block(v(0.0, -20.0, 0.0), v(300.0, 10.0, 100.0));
    for (solid, carried) in [(block(Vec3::ZERO, v(20.0, 10.0, 5.0)), 0), (ball(Vec3::ZERO, 10.0), 1)] {
        let t = clearance(&m, Moved { solid: &solid, link: Some(carried), grow: 0.0 }, still(&floor), 6.0);
        assert!(t.relation == Lie::Touching && !t.wide && t.lower >= -WIDTH && t.upper <= 1e-6, "{t:?}");
    }
    // a bar through a bush that is drawn as a solid: an overlap at once
    let (shaft, bush) =
        (bar(Vec3::ZERO, Vec3::FORWARD, 9.0, 80.0), bar(Vec3::ZERO, Vec3::FORWARD, 15.0, 5.0));
    let t = clearance(&m, Moved { solid: &shaft, link: Some(1), grow: 0.0 }, still(&bush), 6.0);
    assert!(t.relation == Lie::Overlap && t.boxes <= 3, "{t:?}");
    // a link or drivers that are not there
    let nowhere = Moved { solid: &shaft, link: Some(99), grow: 0.0 };
    let t = clearance(&Mechanism::default(), nowhere, still(&floor), 6.0);
    assert!(t.lower < 2.0 && t.pose.is_empty(), "{t:?}");
}
