//! Least clearances that can be worked out by hand.

use super::setup::{ball, bar, block, built, driver, link, still, v};
use panelwright::solid::travel::{DriverKind, Joint, Mechanism, Moved, Travelled, WIDTH, clearance};
use panelwright::solid::{Lie, Solid, Vec3};

fn on(solid: &Solid, link: usize) -> Moved<'_> {
    Moved { solid, link: Some(link), grow: 0.0 }
}

/// Both ends, in both orders, and the pose that it names really is that near.
fn holds(m: &Mechanism, a: Moved<'_>, b: Moved<'_>, asked: f64, truth: f64) -> Travelled {
    let t = clearance(m, a, b, asked);
    let other = clearance(m, b, a, asked);
    for t in [&t, &other] {
        assert!(!t.over && !t.wide, "{t:?}");
        assert!(t.lower <= truth + 1e-6 && truth - 1e-6 <= t.upper, "{truth} is not in {t:?}");
        assert!(t.upper - t.lower <= WIDTH + 1e-9, "{t:?}");
        let [p, q] = t.points;
        assert!(((q - p).length() - t.upper).abs() < 1e-5, "{t:?}");
    }
    t
}

#[test]
fn a_levers_tip_past_a_plate() {
    // The lever hangs from the line x = 0, d = 40 along y; its knob, radius 12, is 160 below the pivot (y = -160) and
    // swings +-50 degrees about the depth axis. A plate's face stands at x = 150: the knob's middle comes to
    // x = 160 sin 50 = 122.567, so 150 - 122.567 - 12 = 15.433 are left.
    let m = built(
        vec![driver(DriverKind::Turn, -50.0, 0.0, 50.0)],
        vec![link(None, Joint::Pivot(v(0.0, 0.0, 40.0), Vec3::FORWARD), &[(0, 1.0)])],
    );
    let knob = ball(v(0.0, -160.0, 40.0), 12.0);
    let plate = block(v(155.0, 0.0, 0.0), v(5.0, 400.0, 400.0));
    let t = holds(&m, on(&knob, 0), still(&plate), 6.0, 150.0 - 160.0 * libm::sin(50f64.to_radians()) - 12.0);
    assert!((t.pose[0] - 50.0).abs() < 1e-6, "{t:?}");
    // least inside the travel, not at a stop: a floor 180 below the pivot, 180 - 160 - 12 = 8
    let floor = block(v(0.0, -185.0, 0.0), v(400.0, 5.0, 400.0));
    let t = holds(&m, on(&knob, 0), still(&floor), 6.0, 8.0);
    assert!(t.pose[0].abs() < 3.0 && t.relation == Lie::Apart, "{t:?}");
    // twice as far as asked, and 25: "over"
    let far = block(v(500.0, 0.0, 0.0), v(5.0, 400.0, 400.0));
    let t = clearance(&m, on(&knob, 0), still(&far), 6.0);
    assert!(t.over && t.lower >= 31.0 && t.lower <= 360.0, "{t:?}");
}

#[test]
fn two_controls_at_once_find_what_each_alone_misses() {
    // A stick of 300 from its pivot at the origin, up along y; roll +-25 degrees turns it in x (about d), pitch +-20
    // degrees in d (about x). Pitch is the outer joint. Its grip is a ball of radius 20. A box stands with its corner
    // at x = 160, d = 120: the grip's middle is at
    //   roll r: (-300 sin r, 300 cos r, 0), then pitch p about x (y goes to d): (-300 sin r, 300 cos r cos p, 300 cos r sin p).
    // At r = -25, p = 20: x = 126.785, y = 255.494, d = 92.993.
    // The wall x >= 160 and d >= 120 (a box's edge along y): the grip's middle is 33.215 and 27.007 off it,
    // together sqrt(33.215^2 + 27.007^2) = 42.809, less 20: 22.809.
    // Roll alone (p = 0): 33.215 and 120: 124.51 - 20 = 104.51. Pitch alone: 160 and 120 - 102.606 = 17.394: 140.94.
    let turn = |by: f64| driver(DriverKind::Turn, -by, 0.0, by);
    let m = built(
        vec![turn(20.0), turn(25.0)],
        vec![
            link(None, Joint::Pivot(Vec3::ZERO, v(1.0, 0.0, 0.0)), &[(0, 1.0)]),
            link(Some(0), Joint::Pivot(Vec3::ZERO, Vec3::FORWARD), &[(1, 1.0)]),
        ],
    );
    let grip = ball(v(0.0, 300.0, 0.0), 20.0);
    let wall = block(v(260.0, 200.0, 220.0), v(100.0, 400.0, 100.0));
    let (sr, cr) = (libm::sin(25f64.to_radians()), libm::cos(25f64.to_radians()));
    let sp = libm::sin(20f64.to_radians());
    let (dx, dd) = (160.0 - 300.0 * sr, 120.0 - 300.0 * cr * sp);
    assert!((dx - 33.215).abs() < 1e-3 && (dd - 27.007).abs() < 1e-3);
    let truth = (dx * dx + dd * dd).sqrt() - 20.0;
    let t = holds(&m, on(&grip, 1), still(&wall), 6.0, truth);
    assert!((t.pose[0] - 20.0).abs() < 1e-6 && (t.pose[1] + 25.0).abs() < 1e-6, "{t:?}");
    // either alone is far from it: the other driver at rest
    for (held, alone) in [(0, (dx * dx + 120.0 * 120.0).sqrt() - 20.0), (1, 140.94)] {
        let mut one = m.clone();
        one.drivers[held].stops = (0.0, 0.0);
        let t = clearance(&one, on(&grip, 1), still(&wall), 150.0);
        assert!((t.lower - alone).abs() < 0.06, "{held}: {t:?}");
    }
}

#[test]
fn slides_are_exact_and_need_no_cutting() {
    // a wheel's shaft end, a bar of radius 9 along d, its end at d = 30; it travels from -60 to 75 fore and aft
    let m = built(
        vec![driver(DriverKind::Slide, -60.0, 0.0, 75.0), driver(DriverKind::Slide, -10.0, 0.0, 10.0)],
        vec![
            link(None, Joint::Slide(Vec3::FORWARD), &[(0, 1.0)]),
            link(Some(0), Joint::Slide(v(0.0, 1.0, 0.0)), &[(1, 2.0)]),
        ],
    );
    let shaft = bar(v(0.0, 0.0, -30.0), v(0.0, 0.0, 1.0), 9.0, 60.0);
    // box from d = 118 and x = 12: end face at 105, so 3 aside and 13 deep: sqrt(9 + 169) = 13.342
    let rib = block(v(32.0, 0.0, 138.0), v(20.0, 90.0, 20.0));
    let t = holds(&m, on(&shaft, 0), still(&rib), 6.0, 178f64.sqrt());
    assert_eq!((t.boxes, t.pose[0]), (1, 75.0), "{t:?}");
    // beside its travel: the rib stands at d 10 to 20 only, the shaft passes it at 12 - 9 = 3
    let rib = block(v(32.0, 0.0, 15.0), v(20.0, 90.0, 5.0));
    let t = holds(&m, on(&shaft, 0), still(&rib), 6.0, 3.0);
    assert_eq!(t.boxes, 1);
    // two slides: up by up to 2 * 10; a beam 33 above: 33 - 9 - 20 = 4, met only in the middle of the fore-aft travel
    let beam = block(v(0.0, 43.0, 60.0), v(90.0, 10.0, 5.0));
    let t = holds(&m, on(&shaft, 1), still(&beam), 6.0, 4.0);
    assert_eq!((t.boxes, t.pose[1]), (1, 10.0), "{t:?}");
}

#[test]
fn what_moves_together_keeps_its_distance() {
    // two wheels by one chain: turned alike, slid alike; centres 400 apart
    let m = built(
        vec![driver(DriverKind::Slide, -60.0, 0.0, 75.0), driver(DriverKind::Turn, -90.0, 0.0, 90.0)],
        vec![
            link(None, Joint::Slide(Vec3::FORWARD), &[(0, 1.0)]),
            link(Some(0), Joint::Pivot(v(-200.0, 0.0, 0.0), Vec3::FORWARD), &[(1, 1.0)]),
            link(Some(0), Joint::Pivot(v(200.0, 0.0, 0.0), Vec3::FORWARD), &[(1, 1.0)]),
        ],
    );
    // on one link nothing moves against the other
    let (a, b) = (ball(v(-200.0, 100.0, 0.0), 10.0), ball(v(-200.0, 60.0, 0.0), 10.0));
    let t = holds(&m, on(&a, 1), on(&b, 1), 6.0, 20.0);
    assert_eq!(t.boxes, 1);
    // turned alike, the tips of two spokes only change places along circles: tips at x -200 + 190 and 200 - 190 at
    // zero, 20 apart less radii 4 and 4: 12. Turned by t the difference is (400 - 2 * 190 cos t, -2 * 190 sin t).
    let (p, q) = (ball(v(-10.0, 0.0, 0.0), 4.0), ball(v(10.0, 0.0, 0.0), 4.0));
    let t = holds(&m, on(&p, 1), on(&q, 2), 6.0, 12.0);
    assert!(t.pose[1].abs() < 2.0, "{t:?}");
    // a wheel's hub turns in its place: a bar about its own axis beside a box needs one look
    let hub = bar(v(-200.0, 0.0, 0.0), Vec3::FORWARD, 30.0, 20.0);
    let side = block(v(-260.0, 0.0, 0.0), v(20.0, 300.0, 300.0));
    let t = holds(&m, on(&hub, 1), still(&side), 6.0, 10.0);
    assert_eq!(t.boxes, 1, "{t:?}");
    // the growth of both is taken off: 10 - 4 - 2.5 = 3.5
    let grown = Moved { grow: 4.0, ..on(&hub, 1) };
    holds(&m, grown, Moved { grow: 2.5, ..still(&side) }, 6.0, 3.5);
}

#[test]
fn a_touch_and_an_overlap_are_told_apart() {
    let m = built(
        vec![driver(DriverKind::Turn, -90.0, 0.0, 90.0)],
        vec![link(None, Joint::Pivot(Vec3::ZERO, Vec3::FORWARD), &[(0, 1.0)])],
    );
    let tip = ball(v(100.0, 0.0, 0.0), 10.0);
    // the tip's circle reaches y = 110 at the stop
    let above = |gap: f64| block(v(0.0, 110.0 + gap + 20.0, 0.0), v(300.0, 20.0, 50.0));
    let t = clearance(&m, on(&tip, 0), still(&above(0.0)), 6.0);
    assert!(
        t.relation == Lie::Touching && t.lower <= 0.0 && t.lower > -WIDTH && t.upper.abs() < 1e-6,
        "{t:?}"
    );
    let t = clearance(&m, on(&tip, 0), still(&above(-3.0)), 6.0);
    assert!(t.relation == Lie::Overlap && t.depth.is_some_and(|d| d > 0.0 && d <= 3.0 + 1e-6), "{t:?}");
    assert_eq!(t.lower, -t.depth.unwrap_or_default());
    // a box into a box: cores themselves overlap; at the end the arm's corner is 5 in
    let arm = block(v(60.0, 0.0, 0.0), v(60.0, 8.0, 8.0));
    let shelf = block(v(0.0, 135.0, 0.0), v(300.0, 20.0, 50.0));
    let t = clearance(&m, on(&arm, 0), still(&shelf), 6.0);
    assert!(t.relation == Lie::Overlap && t.depth.is_some_and(|d| d > 0.0 && d < 6.0), "{t:?}");
    // only its growth overlaps: distance 4, grown by 9
    let hand = Moved { grow: 9.0, ..on(&tip, 0) };
    let t = clearance(&m, hand, still(&above(4.0)), 6.0);
    assert!(t.relation == Lie::Overlap && t.depth.is_some_and(|d| d <= 5.0 + 1e-6), "{t:?}");
}
