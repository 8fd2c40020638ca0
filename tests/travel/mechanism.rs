//! Where links stand, what moves them, and what makes a mechanism impossible.

use super::setup::{built, driver, link, v};
use panelwright::solid::Vec3;
use panelwright::solid::travel::{
    Driver, DriverFault, DriverKind, Joint, Link, LinkFault, Mechanism, MechanismFault,
};

const AIRFRAME: Option<usize> = None;

fn near(a: Vec3, b: Vec3) {
    assert!((a - b).length() < 1e-9, "{a:?} is not {b:?}");
}

/// A shaft that slides fore and aft and turns (driver 1 is roll), a wheel on it, and a second shaft by chain.
fn two_wheels() -> Mechanism {
    let forward = Vec3::FORWARD;
    built(
        vec![driver(DriverKind::Slide, -90.0, 0.0, 110.0), driver(DriverKind::Turn, -85.0, 0.0, 85.0)],
        vec![
            link(AIRFRAME, Joint::Slide(forward), &[(0, 1.0)]),
            link(Some(0), Joint::Pivot(v(-200.0, 50.0, 0.0), forward), &[(1, 1.0)]),
            link(Some(0), Joint::Pivot(v(200.0, 50.0, 0.0), forward), &[(1, 1.0)]),
        ],
    )
}

#[test]
fn a_chain_adds_up_from_the_tip_to_the_airframe() {
    let m = two_wheels();
    // roll 90 degrees turns the rim's right (x + 180) up (y + 180); fore-aft 40 pushes it 40 forward
    near(m.pose(1, &[40.0, 90.0]).point(v(-20.0, 50.0, -300.0)), v(-200.0, 230.0, -260.0));
    near(m.pose(2, &[40.0, 90.0]).point(v(380.0, 50.0, -300.0)), v(200.0, 230.0, -260.0));
    // the cross-bar only travels
    near(m.pose(0, &[40.0, 90.0]).point(v(0.0, 0.0, 0.0)), v(0.0, 0.0, 40.0));
    // an arm on an arm: the first turned 90 degrees up, the second 90 more: 100 up, then 60 back to the left
    let pivot = |x: f64| Joint::Pivot(v(x, 0.0, 0.0), Vec3::FORWARD);
    let arm = built(
        vec![driver(DriverKind::Turn, -180.0, 0.0, 180.0), driver(DriverKind::Turn, -180.0, 0.0, 180.0)],
        vec![link(AIRFRAME, pivot(0.0), &[(0, 1.0)]), link(Some(0), pivot(100.0), &[(1, 1.0)])],
    );
    near(arm.pose(1, &[90.0, 90.0]).point(v(160.0, 0.0, 0.0)), v(-60.0, 100.0, 0.0));
    // all at zero: nothing has moved; a driver that is not given counts 0
    near(arm.pose(1, &[]).point(v(1.0, 2.0, 3.0)), v(1.0, 2.0, 3.0));
}

#[test]
fn a_joint_that_follows_two_drivers_moves_by_the_sum() {
    let drivers = vec![driver(DriverKind::Slide, -9.0, 0.0, 9.0), driver(DriverKind::Turn, -30.0, 0.0, 30.0)];
    let slide = Joint::Slide(v(0.0, 5.0, 0.0));
    let m = built(drivers, vec![link(AIRFRAME, slide, &[(0, 2.0), (1, -0.5), (0, 1.0)])]);
    // (2 + 1) * 4 - 0.5 * 10 = 7, along a direction of any length given
    near(m.pose(0, &[4.0, 10.0]).point(Vec3::ZERO), v(0.0, 7.0, 0.0));
}

#[test]
fn what_moves_a_link_and_what_it_is_allowed() {
    let mut m = two_wheels();
    assert_eq!((m.movers(0), m.movers(1)), (vec![0], vec![0, 1]));
    assert_eq!(m.allowance(2), Some(0.0));
    m.links[0].allowance = Some(1.5);
    m.links[2].allowance = Some(2.25);
    assert_eq!((m.allowance(0), m.allowance(2)), (Some(1.5), Some(3.75)));
    m.links[0].allowance = None;
    assert_eq!(m.allowance(2), None);
    assert!(m.overtravel_said(2));
    m.drivers[1].over = None;
    assert!(m.overtravel_said(0) && !m.overtravel_said(2));
    // a driver that cannot move moves nothing
    m.drivers[0].stops = (0.0, 0.0);
    assert_eq!(m.movers(1), vec![1]);
    m.drivers[1] = Driver { over: Some((2.0, 3.0)), ..m.drivers[1].clone() };
    assert_eq!(m.drivers[1].domain(), (-87.0, 88.0));
    // what is not there hangs nowhere
    assert_eq!((m.movers(9), m.down(9).count()), (vec![], 0));
}

#[test]
fn every_impossible_mechanism_is_named_and_all_at_once() {
    let turn = |low, neutral, high| driver(DriverKind::Turn, low, neutral, high);
    let up = Joint::Slide(v(0.0, 1.0, 0.0));
    let good = || link(AIRFRAME, up, &[(0, 1.0)]);
    let faults =
        |drivers: Vec<Driver>, links: Vec<Link>| Mechanism::new(drivers, links).expect_err("impossible");
    let drivers = |d: Driver| faults(vec![turn(-1.0, 0.0, 1.0), d], vec![good()]);
    let on_driver = |f| vec![MechanismFault::Driver(1, f)];
    assert_eq!(
        drivers(turn(20.0, 0.0, -20.0)),
        on_driver(DriverFault::StopsReversed { low: 20.0, high: -20.0 })
    );
    assert_eq!(
        drivers(turn(-20.0, 21.0, 20.0)),
        on_driver(DriverFault::NeutralOutside { neutral: 21.0, low: -20.0, high: 20.0 })
    );
    assert_eq!(drivers(turn(f64::NAN, 0.0, 20.0)), on_driver(DriverFault::NotFinite));
    let over = Driver { over: Some((1.0, -2.0)), ..turn(-1.0, 0.0, 1.0) };
    assert_eq!(drivers(over), on_driver(DriverFault::OverNegative(-2.0)));

    let links = |l: Link| faults(vec![turn(-1.0, 0.0, 1.0)], vec![good(), l]);
    let on_link = |f| vec![MechanismFault::Link(1, f)];
    assert_eq!(links(link(Some(7), up, &[])), on_link(LinkFault::OnNothing(7)));
    assert_eq!(links(link(Some(1), up, &[])), on_link(LinkFault::Loop));
    assert_eq!(links(link(Some(0), up, &[(0, 1.0), (3, 1.0)])), on_link(LinkFault::NoSuchDriver(1, 3)));
    assert_eq!(links(link(Some(0), Joint::Slide(Vec3::ZERO), &[])), on_link(LinkFault::ZeroAxis));
    assert_eq!(links(link(Some(0), Joint::Pivot(Vec3::ZERO, Vec3::ZERO), &[])), on_link(LinkFault::ZeroAxis));
    let nan = Joint::Pivot(v(f64::NAN, 0.0, 0.0), Vec3::FORWARD);
    assert_eq!(links(link(Some(0), nan, &[])), on_link(LinkFault::NotFinite));
    assert_eq!(links(link(Some(0), up, &[(0, f64::INFINITY)])), on_link(LinkFault::NotFinite));
    assert_eq!(links(link(Some(0), Joint::Fixed, &[(0, 1.0)])), on_link(LinkFault::FixedFollows));
    let slack = Link { allowance: Some(-0.5), ..good() };
    assert_eq!(links(slack), on_link(LinkFault::AllowanceNegative(-0.5)));
    // a loop of two and a link before its parent
    let ring = faults(vec![], vec![link(Some(1), Joint::Fixed, &[]), link(Some(0), Joint::Fixed, &[])]);
    assert_eq!(ring, [0, 1].map(|n| MechanismFault::Link(n, LinkFault::Loop)));
    let early = faults(vec![], vec![link(Some(1), Joint::Fixed, &[]), link(None, Joint::Fixed, &[])]);
    assert_eq!(early, vec![MechanismFault::Link(0, LinkFault::BeforeItsParent(1))]);
    // all together
    let many = faults(vec![turn(1.0, 0.0, -1.0)], vec![link(Some(4), Joint::Slide(Vec3::ZERO), &[(2, 1.0)])]);
    assert_eq!(many.len(), 4, "{many:?}");
}
