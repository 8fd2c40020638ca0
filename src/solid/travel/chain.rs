//! The joints between a frame and a solid, and the proven bounds on how its points move while drivers change.
//!
//! A point that hangs on joints 1 (next to the frame) .. n stands at `T1(q1) T2(q2) .. Tn(qn) p`. Let `r_j` be a
//! bound on how far it ever is from the axis of pivot j; that depends on the joints after j alone.
//!
//! - First derivative: a pivot moves it at `r_j` mm a radian, a slide at 1 mm a mm; call either `rate_j`.
//! - Second derivative by `q_i` and `q_j`, i <= j: what joint j does is a vector that joint i only turns, so it is at
//!   most `rate_j` where i is a pivot, and nil where i is a slide.
//! - A driver t with `q_j = k_j t + ..` therefore moves it at most at `sum |k_j| rate_j` (its *rate*), and its path
//!   bends at most by `sum_i k_i^2 rate_i + 2 sum_(i<j) |k_i k_j| rate_j` over the pivots i (its *bend*).
//! - What a pivot does to a path, it does across its axis. As long as all pivots from the frame to the last that a
//!   driver moves are parallel, the bend that the driver makes lies across their axis: nothing bends along it (*flat*).
//! - `r_j`: put the joints after j at the middle of what they can be; there the solid's farthest point from the axis
//!   is measured. Then let them go one after the other: a slide of half range s takes a point at most s farther (only
//!   the part across the axis counts if no pivot stands between), a pivot of half range h at most the chord
//!   `2 r sin(min(h, 180 deg) / 2)`, with its own r.

use super::{Joint, LinkRef, Mechanism};
use crate::geom::angle;
use crate::solid::{Pose, Vec3};
use std::f64::consts::{FRAC_PI_2, PI};

/// Sine of the angle up to which axes count as parallel: a metre off by a picometre.
const PARALLEL: f64 = 1e-12;

/// Radians of a degree.
const DEGREE: f64 = PI / 180.0;

/// One joint on the way.
#[derive(Clone, Debug)]
pub(super) struct Step {
    /// What it does.
    joint: Joint,
    /// What drivers that cannot move make of its number.
    still: f64,
    /// Its number for one unit of each driver that can, by their place in the list.
    by: Vec<f64>,
}

impl Step {
    /// The joint of a link, by the drivers of a list; those not in it are taken at the low end of their domain.
    pub fn new(mechanism: &Mechanism, link: LinkRef, drivers: &[usize]) -> Option<Step> {
        let at = mechanism.links.get(link)?;
        let mut step = Step { joint: at.joint, still: 0.0, by: vec![0.0; drivers.len()] };
        for f in &at.follows {
            match drivers.iter().position(|&d| d == f.driver).and_then(|p| step.by.get_mut(p)) {
                Some(by) => *by += f.by,
                None => step.still += f.by * mechanism.drivers.get(f.driver)?.domain().0,
            }
        }
        Some(step)
    }

    /// The same joint seen from its other side.
    fn back(&self) -> Step {
        Step { still: -self.still, by: self.by.iter().map(|k| -k).collect(), ..self.clone() }
    }

    fn pose(&self, drivers: &[f64]) -> Pose {
        self.joint.at(self.by.iter().zip(drivers).fold(self.still, |q, (k, t)| q + k * t))
    }

    /// Half of what its number can be, over half ranges of the drivers.
    fn half(&self, halves: &[f64]) -> f64 {
        self.by.iter().zip(halves).map(|(k, h)| k.abs() * h).sum()
    }

    /// Its axis, if it is a pivot.
    fn axis(&self) -> Option<Vec3> {
        match self.joint {
            Joint::Pivot(_, axis) => Some(axis),
            _ => None,
        }
    }

    /// By how much a driver moves it: radians or mm.
    fn factor(&self, driver: usize) -> f64 {
        let k = self.by.get(driver).copied().unwrap_or_default().abs();
        if self.axis().is_some() { k * DEGREE } else { k }
    }
}

/// The joints from a frame to a solid, the one next to the frame first.
#[derive(Clone, Debug, Default)]
pub(super) struct Chain {
    steps: Vec<Step>,
}

/// How points of a solid move, for one unit of each driver.
#[derive(Clone, Debug, Default)]
pub(super) struct Motion {
    /// Bound on the first derivative, mm.
    pub rate: Vec<f64>,
    /// Bound on the second, mm.
    pub bend: Vec<f64>,
    /// Unit vector along which nothing bends, where there is one.
    pub flat: Vec<Option<Vec3>>,
}

impl Motion {
    /// The difference of two points that move: at most the sum of both.
    pub fn plus(&self, o: &Motion) -> Motion {
        let add = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a + b).collect();
        let each = self.flat.iter().zip(&self.bend).zip(o.flat.iter().zip(&o.bend));
        let flat = each.map(|((f, b), (g, c))| match (f, g) {
            (Some(f), Some(g)) => (f.cross(*g).length() <= PARALLEL).then_some(*f),
            _ if *b == 0.0 => *g,
            _ if *c == 0.0 => *f,
            _ => None,
        });
        Motion { rate: add(&self.rate, &o.rate), bend: add(&self.bend, &o.bend), flat: flat.collect() }
    }
}

impl Chain {
    /// From joints in order from the frame.
    pub fn new(steps: Vec<Step>) -> Chain {
        Chain { steps }
    }

    /// The way that goes back along `from`, then out along `to`: how what hangs on `to` moves, seen by what hangs on
    /// `from`.
    pub fn across(from: &Chain, to: &Chain) -> Chain {
        let back = from.steps.iter().rev().map(Step::back);
        Chain { steps: back.chain(to.steps.iter().cloned()).collect() }
    }

    /// Whether nothing stands between.
    pub fn is_empty(&self) -> bool {
        self.steps.is_empty()
    }

    /// Where it takes the solid from the zero pose.
    pub fn pose(&self, drivers: &[f64]) -> Pose {
        let mut steps = self.steps.iter().rev();
        let Some(last) = steps.next() else { return Pose::IDENTITY };
        steps.fold(last.pose(drivers), |pose, s| pose.then(&s.pose(drivers)))
    }

    /// Bounds on the motion of a solid whose points lie within the hull of `points`, over drivers within `halves` of
    /// `middles`.
    pub fn motion(&self, points: &[Vec3], middles: &[f64], halves: &[f64]) -> Motion {
        let n = self.steps.len();
        // rate of each joint, from the solid towards the frame
        let mut rates = vec![0.0; n];
        let mut pose = Pose::IDENTITY;
        for j in (0..n).rev() {
            let (Some(step), Some(after)) = (self.steps.get(j), self.steps.get(j + 1..)) else { continue };
            let rate = match step.joint {
                Joint::Fixed => 0.0,
                Joint::Slide(_) => 1.0,
                Joint::Pivot(at, axis) => {
                    let across = |&p: &Vec3| axis.cross(pose.point(p) - at).length();
                    let here = points.iter().map(across).fold(0.0, f64::max);
                    here + strays(after, rates.get(j + 1..).unwrap_or_default(), axis, halves)
                }
            };
            if let Some(slot) = rates.get_mut(j) {
                *slot = rate;
            }
            pose = pose.then(&step.pose(middles));
        }
        let mut motion = Motion::default();
        for d in 0..middles.len() {
            let (mut rate, mut bend) = (0.0, 0.0);
            // sum of |k| over the pivots so far, which turn what the joints after them do
            let mut turns = 0.0;
            for (step, r) in self.steps.iter().zip(&rates) {
                let k = step.factor(d);
                rate += k * r;
                bend += 2.0 * turns * k * r;
                if step.axis().is_some() {
                    bend += k * k * r;
                    turns += k;
                }
            }
            motion.rate.push(rate);
            motion.bend.push(bend);
            motion.flat.push(self.flat(d));
        }
        motion
    }

    /// By how much a driver turns what hangs on the chain at the most, radians for one of its units.
    pub fn turn(&self, driver: usize) -> f64 {
        self.steps.iter().filter(|s| s.axis().is_some()).map(|s| s.factor(driver)).sum()
    }

    /// The axis of all pivots from the frame to the last that a driver moves, where they are parallel.
    fn flat(&self, driver: usize) -> Option<Vec3> {
        let last = self.steps.iter().rposition(|s| s.factor(driver) > 0.0 && s.axis().is_some())?;
        let mut axes = self.steps.iter().take(last + 1).filter_map(Step::axis);
        let first = axes.next()?;
        axes.all(|a| a.cross(first).length() <= PARALLEL).then_some(first)
    }
}

/// How much farther from an axis the joints after it can take a point than it is with them at their middle.
fn strays(after: &[Step], rates: &[f64], axis: Vec3, halves: &[f64]) -> f64 {
    let mut straight = true;
    let mut sum = 0.0;
    for (step, r) in after.iter().zip(rates) {
        let half = step.half(halves);
        sum += match step.joint {
            Joint::Fixed => 0.0,
            Joint::Slide(along) if straight => half * axis.cross(along).length(),
            Joint::Slide(_) => half,
            Joint::Pivot(..) => {
                straight = false;
                2.0 * r * angle::sin_cos((half * DEGREE / 2.0).min(FRAC_PI_2)).0
            }
        };
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pivot(at: Vec3, axis: Vec3, by: &[f64]) -> Step {
        Step { joint: Joint::Pivot(at, axis), still: 3.0, by: by.to_vec() }
    }

    fn slide(along: Vec3, by: &[f64]) -> Step {
        Step { joint: Joint::Slide(along), still: -2.0, by: by.to_vec() }
    }

    /// Derivatives by differences of a point's path along each driver, over a grid, within what the bounds say; and
    /// whether each driver has an axis along which nothing bends, as expected.
    fn holds(steps: Vec<Step>, flat: [Option<Vec3>; 2]) {
        let chain = Chain::new(steps);
        let (middles, halves) = ([4.0, -7.0], [25.0, 40.0]);
        let points = [Vec3::new(50.0, -20.0, 10.0), Vec3::new(-30.0, 90.0, -40.0)];
        let motion = chain.motion(&points, &middles, &halves);
        assert_eq!(motion.flat, flat);
        let step = 0.05;
        let mut most = [0.0_f64; 2];
        for k in 0..121 {
            let t = [0, 1].map(|d| {
                let part = f64::from(if d == 0 { k / 11 } else { k % 11 }) / 5.0 - 1.0;
                middles[d] + part * (halves[d] - step)
            });
            for (d, fastest) in most.iter_mut().enumerate() {
                for p in points {
                    let at = |by: f64| {
                        let mut t = t;
                        t[d] += by;
                        chain.pose(&t).point(p)
                    };
                    let first = (at(step) - at(-step)) * (0.5 / step);
                    let second = (at(step) + at(-step) - at(0.0) * 2.0) * (1.0 / (step * step));
                    assert!(first.length() <= motion.rate[d] + 1e-6, "{d} {first:?} {motion:?}");
                    assert!(second.length() <= motion.bend[d] + 1e-6, "{d} {second:?} {motion:?}");
                    if let Some(axis) = motion.flat[d] {
                        assert!(second.dot(axis).abs() < 1e-6, "{d}: it bends along {axis:?}: {second:?}");
                    }
                    *fastest = fastest.max(first.length());
                }
            }
        }
        // bounds worth having: not many times what was seen
        assert!(most.iter().zip(&motion.rate).all(|(m, r)| *r <= 4.0 * m + 1e-6), "{most:?} {motion:?}");
    }

    #[test]
    fn points_move_and_bend_no_faster_than_told() {
        let v = Vec3::new;
        let (x, y, d) = (v(1.0, 0.0, 0.0), v(0.0, 1.0, 0.0), Vec3::FORWARD);
        // one pivot: flat along its axis; the slide does not bend
        holds(vec![slide(d, &[0.0, 2.0]), pivot(v(9.0, 4.0, 0.0), d, &[1.0, 0.0])], [Some(d), None]);
        // the inner pivot's axis is turned by the outer one: not flat
        holds(
            vec![pivot(v(9.0, 4.0, 0.0), d, &[1.0, 0.0]), pivot(v(60.0, 0.0, 5.0), x, &[0.0, 1.5])],
            [Some(d), None],
        );
        // parallel pivots, one driver in both and in a slide between
        let chain = [pivot(v(0.0, 0.0, 7.0), y, &[1.0, 0.3]), slide(x, &[1.0, 0.5])];
        holds([chain.to_vec(), vec![pivot(v(80.0, 0.0, 0.0), y, &[-0.6, 1.0])]].concat(), [Some(y); 2]);
        // one driver in pivots that are not parallel
        holds(
            vec![
                pivot(Vec3::ZERO, y, &[1.0, 0.0]),
                pivot(v(80.0, 0.0, 0.0), x, &[-0.6, 1.0]),
                slide(d, &[0.0, 1.0]),
            ],
            [None, None],
        );
    }
}
