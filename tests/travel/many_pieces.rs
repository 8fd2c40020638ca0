//! Solids of many pieces (bent tubes, plates that are not convex): the tree over their pieces loses nothing.

use super::panels::Dice;
use super::random::Case;
use super::setup::{built, driver, link, still, v};
use panelwright::geom::{Contour, Point};
use panelwright::solid::travel::{DriverKind, Joint, Moved, WIDTH, clearance};
use panelwright::solid::{Leg, Lie, Pose, Shape, Solid, Vec3, distance};

/// A tube: straight, round a bend, straight.
fn tube(d: &mut Dice) -> Shape {
    let (bend, angle) = (d.real(30.0, 80.0), d.real(0.6, 2.5));
    let (start, centre) = (v(-60.0, 0.0, 0.0), v(0.0, bend, 0.0));
    let turn = Pose::about(centre, Vec3::FORWARD, angle);
    let (end, along) = (turn.point(Vec3::ZERO), turn.vector(v(1.0, 0.0, 0.0)));
    let path = vec![
        Leg::Line(start, Vec3::ZERO),
        Leg::Arc { from: Vec3::ZERO, centre, axis: Vec3::FORWARD, angle },
        Leg::Line(end, end + along * 50.0),
    ];
    Shape::Tube { path, radius: d.real(3.0, 12.0) }
}

/// A plate like an L.
fn angle(d: &mut Dice) -> Shape {
    let (w, h, t) = (d.real(30.0, 90.0), d.real(30.0, 90.0), d.real(4.0, 20.0));
    let corners = [(0.0, 0.0), (w, 0.0), (w, t), (t, t), (t, h), (0.0, h)];
    let section = Contour::polygon(&corners.map(|(x, y)| Point::new(x, y)));
    Shape::Prism { section, from: 0.0, to: d.real(3.0, 40.0) }
}

#[test]
fn never_above_a_sampling_and_true_at_the_pose_told() {
    let mut near = 0;
    for seed in 500..540 {
        let mut d = Dice::new(seed);
        let mut case = Case::new(seed);
        let which = d.below(2);
        let shape = if d.one_in(2) { tube(&mut d) } else { angle(&mut d) };
        let at = case.solids[which].ball().0;
        case.solids[which] = Solid::new(shape, Pose::shift(at)).expect("a solid");
        case.bring_near(&mut d);
        let t = clearance(&case.mechanism, case.moved(0), case.moved(1), 12.0);
        let gap = |drivers: &[f64]| {
            let c = distance(&case.stands(0, drivers), &case.stands(1, drivers));
            [c.lower, c.upper].map(|v| v - case.grow[0] - case.grow[1])
        };
        let excess = case.solids.iter().flat_map(Solid::pieces).map(|p| p.excess).fold(0.0, f64::max);
        assert!(!t.wide, "{seed}: {t:?}");
        if t.relation == Lie::Overlap {
            assert!(gap(&t.pose)[0] < 0.0, "{seed}: {t:?}");
            continue;
        }
        for _ in 0..150 {
            let drivers = case.drivers(&mut d);
            assert!(t.lower <= gap(&drivers)[1] + 1e-6, "{seed}: {t:?} at {drivers:?}");
        }
        if !t.over {
            near += 1;
            let there = gap(&t.pose);
            assert!((t.upper - there[1]).abs() <= excess + 1e-5, "{seed}: {t:?} {there:?}");
            assert!(t.upper - t.lower <= WIDTH.max(excess + WIDTH / 5.0) + 1e-6, "{seed}: {t:?}");
        }
    }
    assert!(near > 15, "only {near} came near");
}

#[test]
fn a_bent_grip_that_turns_before_a_face_is_settled_by_its_box() {
    // a grip along 50 degrees of a circle of 140 about the wheel's axis, 24 thick, rolls 85 degrees either way and comes
    // within 40 - 12 = 28 of a face: the same at every roll and for every piece of it
    let m = built(
        vec![driver(DriverKind::Turn, -85.0, 0.0, 85.0)],
        vec![link(None, Joint::Pivot(Vec3::ZERO, Vec3::FORWARD), &[(0, 1.0)])],
    );
    let arc = Leg::Arc { from: v(140.0, 0.0, 0.0), centre: Vec3::ZERO, axis: Vec3::FORWARD, angle: 0.87 };
    let grip = Solid::new(Shape::Tube { path: vec![arc], radius: 12.0 }, Pose::IDENTITY).expect("a grip");
    let face = super::setup::block(v(100.0, 0.0, 60.0), v(90.0, 300.0, 20.0));
    let t = clearance(&m, Moved { solid: &grip, link: Some(0), grow: 0.0 }, still(&face), 12.0);
    assert!(t.lower <= 28.0 && t.upper >= 28.0 - 1e-9 && t.upper - t.lower <= WIDTH, "{t:?}");
    assert!(t.boxes < 60, "{t:?}");
}
