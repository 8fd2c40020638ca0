//! The slide or the turn of least squares through marks at three positions of a control.

use super::place::{Known, largest};
use crate::define::survey::Moves;
use crate::solid::{Pose, Vec3};
use crate::survey::normal::{Factor, Matrix};

/// Steps of Gauss and Newton.
const STEPS: usize = 100;
/// Step of the differences, mm; radians over [`ARM`].
const STEP: f64 = 1e-4;
/// A length by which angles are turned to lengths, so that all unknowns are of like size, mm.
const ARM: f64 = 200.0;

/// How a control moves. Low, middle and high position are at `stops[0]`, 0 and `stops[1]`.
#[derive(Clone, Debug, PartialEq)]
pub enum Motion {
    /// Along a direction: mm.
    Slide {
        /// The direction, from low to high.
        way: Vec3,
        /// At the low and the high stop, mm.
        stops: [f64; 2],
    },
    /// About an axis: radians.
    Turn {
        /// A point of the axis.
        at: Vec3,
        /// Its direction: a turn from low to high is positive.
        axis: Vec3,
        /// At the low and the high stop, radians.
        stops: [f64; 2],
    },
}

impl Motion {
    /// Both stops: mm or radians.
    pub fn stops(&self) -> [f64; 2] {
        match self {
            Motion::Slide { stops, .. } | Motion::Turn { stops, .. } => *stops,
        }
    }

    /// Where a mark goes from its middle position.
    pub fn moved(&self, mark: Vec3, by: f64) -> Vec3 {
        match self {
            Motion::Slide { way, .. } => mark + *way * by,
            Motion::Turn { at, axis, .. } => Pose::about(*at, *axis, by).point(mark),
        }
    }

    fn unknowns(&self) -> usize {
        match self {
            Motion::Slide { .. } => 4,
            Motion::Turn { .. } => 6,
        }
    }

    /// Two directions square to its own and to each other.
    fn across(v: Vec3) -> [Vec3; 2] {
        let other = if v.x.abs() < 0.6 { Vec3::new(1.0, 0.0, 0.0) } else { Vec3::new(0.0, 1.0, 0.0) };
        let a = v.cross(other).unit().unwrap_or(other);
        [a, v.cross(a)]
    }

    /// Changed by its unknowns, all of them in mm.
    fn changed(&self, u: &[f64]) -> Motion {
        let at = |k: usize| u.get(k).copied().unwrap_or(0.0);
        match self {
            Motion::Slide { way, stops } => {
                let [a, b] = Motion::across(*way);
                let way = (*way + (a * at(0) + b * at(1)) * (1.0 / ARM)).unit().unwrap_or(*way);
                Motion::Slide { way, stops: [stops[0] + at(2), stops[1] + at(3)] }
            }
            Motion::Turn { at: p, axis, stops } => {
                let [a, b] = Motion::across(*axis);
                let tilted = (*axis + (a * at(0) + b * at(1)) * (1.0 / ARM)).unit().unwrap_or(*axis);
                Motion::Turn {
                    at: *p + a * at(2) + b * at(3),
                    axis: tilted,
                    stops: [stops[0] + at(4) / ARM, stops[1] + at(5) / ARM],
                }
            }
        }
    }
}

/// A motion with its marks in their middle position.
#[derive(Clone, Debug)]
pub struct Fit {
    /// The motion.
    pub motion: Motion,
    /// The marks in the middle position, mm.
    pub marks: Vec<Vec3>,
    /// Weighted sum of the squared residuals.
    pub sum: f64,
    /// Taped lengths more than needed.
    pub freedom: usize,
    /// The largest distance of a taped place from where the motion takes its mark, mm; mark and position.
    pub worst: (f64, usize, usize),
    /// The largest standard deviation of a mark at a position, any direction, mm.
    pub deviation: f64,
    /// Standard deviations of the stops: mm or radians.
    pub stops: [f64; 2],
}

/// Fits a motion; None where the marks do not move or do not turn.
pub fn fit(moves: Moves, marks: &[[Known; 3]]) -> Option<Fit> {
    let start = match moves {
        Moves::Slide => slide(marks)?,
        Moves::Turn => turn(marks)?,
    };
    let mut motion = start;
    let mut places: Vec<Vec3> = marks.iter().map(|m| m[1].at).collect();
    let n = motion.unknowns() + 3 * marks.len();
    let rest = |motion: &Motion, places: &[Vec3]| -> Vec<f64> {
        let [low, high] = motion.stops();
        let mut out = Vec::with_capacity(9 * marks.len());
        for (m, p) in marks.iter().zip(places) {
            for (known, by) in m.iter().zip([low, 0.0, high]) {
                let v = (known.at - motion.moved(*p, by)) * (1.0 / known.deviation);
                out.extend([v.x, v.y, v.d]);
            }
        }
        out
    };
    let squares = |r: &[f64]| r.iter().map(|v| v * v).sum::<f64>();
    let moved = |motion: &Motion, places: &[Vec3], u: &[f64]| -> (Motion, Vec<Vec3>) {
        let k = motion.unknowns();
        let by = |i: usize| Vec3::new(u[k + 3 * i], u[k + 3 * i + 1], u[k + 3 * i + 2]);
        (motion.changed(&u[..k]), places.iter().enumerate().map(|(i, p)| *p + by(i)).collect())
    };
    let mut factor = None;
    for _ in 0..STEPS {
        let here = rest(&motion, &places);
        let slopes: Vec<Vec<f64>> = (0..n)
            .map(|u| {
                let mut step = vec![0.0; n];
                step[u] = STEP;
                let (m, p) = moved(&motion, &places, &step);
                let up = rest(&m, &p);
                step[u] = -STEP;
                let (m, p) = moved(&motion, &places, &step);
                let down = rest(&m, &p);
                up.iter().zip(&down).map(|(a, b)| (b - a) / (2.0 * STEP)).collect()
            })
            .collect();
        let mut normal = Matrix::zero(n);
        let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(x, y)| x * y).sum::<f64>();
        for i in 0..n {
            for j in 0..n {
                normal.row_mut(i)[j] = dot(&slopes[i], &slopes[j]);
            }
        }
        let right: Vec<f64> = slopes.iter().map(|s| dot(s, &here)).collect();
        let f = Factor::new(&normal);
        if f.free.iter().any(|f| *f) {
            return None;
        }
        let mut step = f.solve(&right);
        let sum = squares(&here);
        let mut next = moved(&motion, &places, &step);
        while squares(&rest(&next.0, &next.1)) > sum && step.iter().any(|s| s.abs() > 1e-9) {
            step.iter_mut().for_each(|s| *s *= 0.5);
            next = moved(&motion, &places, &step);
        }
        let done = step.iter().all(|s| s.abs() < 1e-7);
        (motion, places) = next;
        factor = Some(f);
        if done {
            break;
        }
    }
    let q = factor?.inverse();
    let residuals = rest(&motion, &places);
    let (deviation, worst) = spread(&motion, &places, marks, &q);
    let stop = |k: usize| q.at(k, k).max(0.0).sqrt();
    let stops = match motion {
        Motion::Slide { .. } => [stop(2), stop(3)],
        Motion::Turn { .. } => [stop(4) / ARM, stop(5) / ARM],
    };
    Some(Fit {
        sum: squares(&residuals),
        freedom: 9 * marks.len() - n,
        worst,
        deviation,
        stops,
        motion,
        marks: places,
    })
}

/// The largest deviation of a mark at a position, and the place that is farthest from where its mark goes.
fn spread(motion: &Motion, places: &[Vec3], marks: &[[Known; 3]], q: &Matrix) -> (f64, (f64, usize, usize)) {
    let n = q.size();
    let k = motion.unknowns();
    let [low, high] = motion.stops();
    let (mut most, mut worst) = (0.0f64, (0.0, 0, 0));
    for (i, (m, place)) in marks.iter().zip(places).enumerate() {
        for (stop, by) in [low, 0.0, high].into_iter().enumerate() {
            let to = motion.moved(*place, by);
            let off = (m[stop].at - to).length();
            if off > worst.0 {
                worst = (off, i, stop);
            }
            let slope = |u: usize| {
                let at = |step: f64| {
                    let mut all = vec![0.0; n];
                    all[u] = step;
                    let own = Vec3::new(all[k + 3 * i], all[k + 3 * i + 1], all[k + 3 * i + 2]);
                    let changed = motion.changed(&all[..k]);
                    let by = [changed.stops()[0], 0.0, changed.stops()[1]][stop];
                    changed.moved(*place + own, by)
                };
                (at(STEP) - at(-STEP)) * (1.0 / (2.0 * STEP))
            };
            let slopes: Vec<[f64; 3]> = (0..n).map(slope).map(|v| [v.x, v.y, v.d]).collect();
            let mut c = Matrix::zero(3);
            for (u, a) in slopes.iter().enumerate() {
                for (v, b) in slopes.iter().enumerate() {
                    for (r, x) in a.iter().enumerate() {
                        for (s, y) in b.iter().enumerate() {
                            c.row_mut(r)[s] += x * q.at(u, v) * y;
                        }
                    }
                }
            }
            most = most.max(largest(&c));
        }
    }
    (most.max(0.0).sqrt(), worst)
}

/// The mean way from low to high.
fn slide(marks: &[[Known; 3]]) -> Option<Motion> {
    let sum = marks.iter().fold(Vec3::ZERO, |s, m| s + (m[2].at - m[0].at));
    let way = sum.unit().filter(|_| sum.length() > 1.0)?;
    let n = marks.len() as f64;
    let mean = |k: usize| marks.iter().map(|m| (m[k].at - m[1].at).dot(way)).sum::<f64>() / n;
    Some(Motion::Slide { way, stops: [mean(0), mean(2)] })
}

/// The circle through the three positions of the mark that turns most.
fn turn(marks: &[[Known; 3]]) -> Option<Motion> {
    let bend = |m: &[Known; 3]| (m[1].at - m[0].at).cross(m[2].at - m[1].at);
    let m = marks.iter().max_by(|a, b| bend(a).length().total_cmp(&bend(b).length()))?;
    let axis = bend(m).unit()?;
    let [a, b, c] = m.map(|k| k.at);
    // the middle of the circle through three points (in any triangle: R^2 from the sides squared)
    let (p, q) = (b - a, c - a);
    let w = p.cross(q);
    let at = a + (q.cross(w) * p.dot(p) + w.cross(p) * q.dot(q)) * (1.0 / (2.0 * w.dot(w)));
    if !at.is_finite() || (at - b).length() > 1e5 {
        return None;
    }
    let angle = |to: Vec3| {
        let (u, v) = (b - at, to - at);
        libm::atan2(u.cross(v).dot(axis), u.dot(v))
    };
    Some(Motion::Turn { at, axis, stops: [angle(a), angle(c)] })
}
