//! The room that a solid takes on its travel: box and outline.

use super::panels::Dice;
use super::random::Case;
use super::setup::{ball, built, driver, link, still, v};
use panelwright::geom::{Contour, Point};
use panelwright::solid::travel::{Band, DriverKind, Joint, Mechanism, Moved, bounds, sweep_outline};
use panelwright::solid::{Solid, Vec3};

/// A lever of `arm` on a pivot at the origin along the depth, turned by `turn` degrees either way.
fn lever(turn: f64) -> Mechanism {
    built(
        vec![driver(DriverKind::Turn, -turn, 0.0, turn)],
        vec![link(None, Joint::Pivot(Vec3::ZERO, Vec3::FORWARD), &[(0, 1.0)])],
    )
}

fn on(solid: &Solid) -> Moved<'_> {
    Moved { solid, link: Some(0), grow: 0.0 }
}

fn area(b: &Band) -> f64 {
    b.contours.iter().map(Contour::signed_area).sum::<f64>()
}

/// Whether a point lies in the band: by rays to the right that cross its outlines.
fn holds(b: &Band, p: Point) -> bool {
    let crossed = |c: &Contour| {
        let sides = c.segments().iter().map(|s| (s.start(), s.end()));
        let over = sides.filter(|(a, b)| (a.y > p.y) != (b.y > p.y));
        over.filter(|(a, b)| a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x) > p.x).count()
    };
    b.contours.iter().map(crossed).sum::<usize>() % 2 == 1
}

#[test]
fn a_ball_on_a_lever_sweeps_a_bent_slot() {
    // centre on a circle of 100, 60 degrees either way, radius 10: a bent slot of area
    // 2 * 10 * 100 * (120 deg = 2.094395) + pi 10^2 = 4188.79 + 314.16 = 4502.95
    let (m, knob) = (lever(60.0), ball(v(100.0, 0.0, 5.0), 10.0));
    for tolerance in [0.5, 3.0] {
        let band = sweep_outline(&m, on(&knob), tolerance);
        assert_eq!(band.contours.len(), 1);
        assert!(band.within <= tolerance + 1e-9, "{}", band.within);
        // too large by at most the tolerance along an outline of 2 * 100 * 2.0944 + 2 pi 10 = 481.7
        let (truth, round) = (4502.95, 481.7);
        let got = area(&band);
        assert!(got >= truth - 0.01 && got <= truth + round * tolerance * 1.1, "{got}");
    }
    // all the way round: a ring with its gap
    let band = sweep_outline(&lever(185.0), on(&knob), 1.0);
    assert_eq!(band.contours.len(), 2, "{:?}", band.contours);
    assert!(!holds(&band, Point::ORIGIN) && holds(&band, Point::new(0.0, -100.0)));
    // still, and grown by 4: a disc of 14
    let band = sweep_outline(&m, Moved { grow: 4.0, ..still(&knob) }, 0.2);
    assert!(area(&band) >= 196.0 * std::f64::consts::PI && area(&band) < 197.0 * 3.2, "{}", area(&band));
}

#[test]
fn the_box_of_a_lever_is_that_of_its_tips_path() {
    // x from 100 cos 60 - 10 = 40 to 110, y to 100 sin 60 + 10 = 96.603, d from -5 to 15
    let (m, knob) = (lever(60.0), ball(v(100.0, 0.0, 5.0), 10.0));
    let b = bounds(&m, on(&knob));
    let truth =
        [(40.0, b.low.x, -1.0), (110.0, b.high.x, 1.0), (96.603, b.high.y, 1.0), (-96.603, b.low.y, -1.0)];
    for (truth, got, side) in truth {
        assert!((got - truth) * side >= -1e-3 && (got - truth) * side <= 2.0, "{got} {truth}");
    }
    let b = bounds(&m, still(&knob));
    assert!(
        (b.low - v(90.0, -10.0, -5.0)).length() < 1e-9 && (b.high - v(110.0, 10.0, 15.0)).length() < 1e-9
    );
}

#[test]
fn no_random_solid_leaves_its_box_or_its_outline() {
    let mut d = Dice::new(11);
    for seed in 0..12 {
        let case = Case::new(seed);
        for n in 0..2 {
            let band = sweep_outline(&case.mechanism, case.moved(n), 25.0);
            let room = bounds(&case.mechanism, case.moved(n));
            for _ in 0..20 {
                let drivers = case.drivers(&mut d);
                let stands = case.stands(n, &drivers);
                let own = stands.bounds().grown(case.grow[n] - 1e-6);
                let all = room.union(&own);
                assert_eq!((all.low, all.high), (room.low, room.high), "{seed}");
                // points of its surface, drawn in by a thousandth
                for piece in stands.pieces() {
                    let middle = piece.ball.0;
                    for _ in 0..10 {
                        let u = v(d.real(-1.0, 1.0), d.real(-1.0, 1.0), d.real(-0.2, 0.2));
                        let p = piece.core.support(u) + u.unit().unwrap_or(u) * piece.radius;
                        let p = p + (middle - p) * 1e-3;
                        assert!(holds(&band, Point::new(p.x, p.y)), "{seed}: {p:?} at {drivers:?}");
                    }
                }
            }
        }
    }
}
