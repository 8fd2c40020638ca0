//! The same pair the other way round, and moved as a whole: the same answer.

use super::draw::solid;
use super::panels::Dice;
use panelwright::solid::{Lie, Pose, Vec3, distance};

#[test]
fn order_and_a_move_of_both_change_nothing() {
    for seed in 0..600 {
        let mut dice = Dice::new(seed + 77);
        let spread = dice.real(20.0, 160.0);
        let (a, b) = (solid(&mut dice, spread).solid, solid(&mut dice, spread).solid);
        let one = distance(&a, &b);
        let other = distance(&b, &a);
        let by = Pose::about(Vec3::new(9.0, -4.0, 30.0), Vec3::new(0.6, 0.0, 0.8), dice.real(-3.0, 3.0))
            .then(&Pose::shift(Vec3::new(200.0, -70.0, 15.0)));
        let moved = distance(&a.moved(&by), &b.moved(&by));
        for c in [other, moved] {
            if one.relation == Lie::Overlap {
                assert_eq!(c.relation, Lie::Overlap, "{seed}");
                let both = one.depth.zip(c.depth);
                assert!(both.is_none_or(|(p, q)| (p - q).abs() < 1e-4 * p.max(1.0)), "{seed}: {both:?}");
            } else {
                assert!(
                    (one.lower - c.lower).abs() < 1e-6 && (one.upper - c.upper).abs() < 1e-6,
                    "{seed}: {one:?} {c:?}"
                );
            }
        }
    }
}

#[test]
fn nearest_points_lie_as_far_apart_as_told() {
    for seed in 0..600 {
        let mut dice = Dice::new(seed + 5000);
        let (a, b) = (solid(&mut dice, 120.0), solid(&mut dice, 120.0));
        let c = distance(&a.solid, &b.solid);
        if c.relation == Lie::Apart {
            let [p, q] = c.points;
            let excess = c.upper - c.lower;
            assert!(((q - p).length() - c.upper).abs() < excess + 1e-6, "{seed}: {c:?}");
        }
    }
}

#[test]
fn bounds_are_narrow_but_along_bends() {
    for seed in 0..20_000 {
        let mut dice = Dice::new(seed + 1);
        let spread = dice.real(20.0, 160.0);
        let (a, b) = (solid(&mut dice, spread), solid(&mut dice, spread));
        let c = distance(&a.solid, &b.solid);
        let most = if a.bent || b.bent { 0.05 } else { 1e-6 };
        assert!(c.relation == Lie::Overlap || c.upper - c.lower <= most, "{seed}: {c:?}");
    }
}
