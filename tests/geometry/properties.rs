//! What must hold for any two shapes.

use super::shapes::{Dice, pair, shape};
use panelwright::geom::distance::{self, Relation};
use panelwright::geom::margin::margin_inside;
use panelwright::geom::penetration::{Depth, penetration};
use panelwright::geom::{Contour, Point, SLACK, Side, Transform, Vec2, angle, contains, length, span};
use proptest::prelude::*;

/// Points along an outline and the largest way between two neighbours.
fn sampled(c: &Contour) -> (Vec<Point>, f64) {
    let step = c.perimeter() / 400.0;
    let mut points = Vec::new();
    for s in c.segments() {
        let n = (s.len() / step).ceil().max(1.0) as u32;
        points.extend((0..n).map(|k| s.at(f64::from(k) / f64::from(n))));
    }
    (points, step)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    /// No two sampled points are nearer than the distance told, and some are nearly as near.
    #[test]
    fn distance_against_samples(seed in any::<u64>()) {
        let (a, b) = pair(seed);
        let gap = distance::contours(&a, &b);
        let ((pa, sa), (pb, sb)) = (sampled(&a), sampled(&b));
        let seen = pa.iter().flat_map(|p| pb.iter().map(move |q| span(*p, *q))).fold(f64::INFINITY, f64::min);
        prop_assert!(gap.distance <= seen + SLACK, "{gap:?} {seen}");
        prop_assert!(gap.distance >= seen - (sa + sb) / 2.0 - SLACK, "{gap:?} {seen}");
        prop_assert!((span(gap.at[0], gap.at[1]) - gap.distance).abs() <= SLACK);
    }

    /// The relation is what the sampled points say, as far as they can tell.
    #[test]
    fn relation_against_samples(seed in any::<u64>()) {
        let (a, b) = pair(seed);
        let r = distance::contours(&a, &b).relation;
        prop_assert_eq!(distance::contours(&b, &a).relation, r.flipped());
        let sides = |c: &Contour, of: &Contour| {
            let all = sampled(c).0;
            let any = |s: Side| all.iter().any(|p| of.side_of(*p) == s);
            (any(Side::Inside), any(Side::Outside))
        };
        let ((a_in, a_out), (b_in, b_out)) = (sides(&a, &b), sides(&b, &a));
        match r {
            Relation::Apart | Relation::Touching => prop_assert!(!a_in && !b_in),
            Relation::Inside => prop_assert!(!a_out && !b_in),
            Relation::Outside => prop_assert!(!b_out && !a_in),
            Relation::Coincident => prop_assert!(!a_in && !a_out && !b_in && !b_out),
            Relation::Crossing => prop_assert!(true),
        }
        if a_in && a_out || b_in && b_out {
            prop_assert_eq!(r, Relation::Crossing);
        }
        prop_assert_eq!(contains(&a, &b), matches!(r, Relation::Outside | Relation::Coincident));
    }

    /// Moving, turning and mirroring both, and walking either otherwise, changes no answer.
    #[test]
    fn answers_do_not_depend_on_the_place(seed in any::<u64>(), turn in 0.0..360.0f64, x in -2e3..2e3f64, mirror: bool) {
        let (a, b) = pair(seed);
        let t = Transform::place(Point::new(x, 700.0 - x), turn, mirror);
        let (here, there) = (distance::contours(&a, &b), distance::contours(&t.contour(&a), &t.contour(&b.reversed())));
        prop_assert!((here.distance - there.distance).abs() <= 1e-9, "{here:?} {there:?}");
        prop_assert_eq!(here.relation, there.relation);
        let m = margin_inside(&b, &a) - margin_inside(&t.contour(&b), &t.contour(&a));
        prop_assert!(m.abs() <= 2.0 * SLACK, "{m}");
    }

    /// `within` says what `contours` says, or that it is too far.
    #[test]
    fn within_agrees(seed in any::<u64>(), limit in 0.0..60.0f64) {
        let (a, b) = pair(seed);
        let gap = distance::contours(&a, &b);
        match distance::within(&a, &b, limit) {
            Some(near) => {
                prop_assert!((near.distance - gap.distance).abs() <= 1e-12);
                prop_assert_eq!(near.relation, gap.relation);
            }
            None => prop_assert!(gap.distance > limit && gap.relation == Relation::Apart),
        }
    }

    /// Joining and taking away have an answer unless the outlines cross, or a hole would be left.
    #[test]
    fn only_crossing_outlines_go_without_an_answer(seed in any::<u64>()) {
        let (a, b) = pair(seed);
        let relation = distance::contours(&a, &b).relation;
        prop_assert!(a.union(&b).is_some() || relation == Relation::Crossing);
        let holed = relation == Relation::Outside;
        prop_assert!(a.without(&b).is_some() || holed || relation == Relation::Crossing);
    }

    /// The shift told parts the two, and they are in contact after it or were never convex.
    #[test]
    fn the_shift_parts(seed in any::<u64>()) {
        let (a, b) = pair(seed);
        let overlaps = distance::contours(&a, &b).relation.overlaps();
        match penetration(&a, &b) {
            None => prop_assert!(!overlaps),
            Some(Depth { depth, by, exact }) => {
                prop_assert!(overlaps && (length(by) - depth).abs() < 1e-9);
                let moved = Transform::shift(by).contour(&a);
                prop_assert!(!distance::contours(&moved, &b).relation.overlaps());
                // told exact: no direction of many does with less
                for k in (0..if exact { 90 } else { 0 }).map(f64::from) {
                    let shift = angle::unit((4.0 * k).to_radians()) * (depth - 10.0 * SLACK).max(0.0);
                    let moved = Transform::shift(shift).contour(&a);
                    prop_assert!(distance::contours(&moved, &b).relation.overlaps(), "{k}");
                }
            }
        }
    }

    /// A negative margin is what the farthest sampled point says, a positive one leaves that much room.
    #[test]
    fn margin_against_samples(seed in any::<u64>()) {
        let (a, b) = pair(seed);
        let m = margin_inside(&b, &a);
        let (points, step) = sampled(&a);
        let off = |p: &Point| {
            let g = distance::point_contour(*p, &b);
            if g.relation == Relation::Apart { g.distance } else { 0.0 }
        };
        let far = points.iter().map(off).fold(0.0, f64::max);
        if m >= 0.0 {
            prop_assert!(far <= SLACK && contains(&b, &a));
        } else {
            prop_assert!(-m >= far - SLACK && -m <= far + step / 2.0 + 2.0 * SLACK, "{m} {far}");
        }
    }

    /// Sides of a point by a count of turns that owes nothing to the library's parity.
    #[test]
    fn sides_by_winding(seed in any::<u64>()) {
        let mut dice = Dice(seed);
        let c = shape(&mut dice, 20.0, seed.is_multiple_of(2));
        let (points, step) = sampled(&c);
        for _ in 0..20 {
            let p = Point::new(dice.range(-50.0, 50.0), dice.range(-50.0, 50.0));
            if distance::point_contour(p, &c).distance < step {
                continue;
            }
            let turn: f64 = points.iter().zip(points.iter().cycle().skip(1)).map(|(a, b)| {
                let (u, v): (Vec2, Vec2) = (*a - p, *b - p);
                libm::atan2(u.cross(v), u.dot(v))
            }).sum();
            let inside = turn.abs() > 1.0;
            prop_assert_eq!(c.side_of(p), if inside { Side::Inside } else { Side::Outside });
        }
    }

    /// Outward and inward offsets keep their distance from every point of the outline.
    #[test]
    fn offsets_keep_their_distance(seed in any::<u64>(), by in prop::sample::select(vec![-6.0, -2.5, -0.1, 0.1, 2.5, 6.0])) {
        let mut dice = Dice(seed);
        let c = shape(&mut dice, 20.0, seed.is_multiple_of(2));
        if let Ok(found) = c.offset(by) {
            for o in &found {
                prop_assert!(o.is_ccw());
                for p in sampled(o).0 {
                    let g = distance::point_contour(p, &c);
                    prop_assert!((g.distance - f64::abs(by)).abs() < 1e-5, "{by} {g:?}");
                    prop_assert_eq!(g.relation, if by > 0.0 { Relation::Apart } else { Relation::Inside });
                }
            }
        } else {
            prop_assert!(by < 0.0);
        }
    }
}
