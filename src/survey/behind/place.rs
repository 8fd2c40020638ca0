//! A place in space: by its coordinates, or by distances to points of the survey.

use super::{Behind, Maker, Told};
use crate::define::survey::{DepthSide, Place};
use crate::diag::Where;
use crate::solid::Vec3;
use crate::survey::ellipse::Ellipse;
use crate::survey::normal::{Factor, Matrix};
use crate::survey::say;
use crate::survey::statistics::{ELLIPSE_95, chi_square_95};
use crate::units::fmt_mm;

/// Steps of Gauss and Newton.
const STEPS: usize = 60;

/// A place and how well it is known.
#[derive(Clone, Copy, Debug)]
pub struct Known {
    /// Where it is, mm.
    pub at: Vec3,
    /// The largest standard deviation in any direction, mm.
    pub deviation: f64,
}

impl Maker<'_> {
    /// A place of which one taped length has this deviation. `what` names it.
    pub(super) fn place(
        &mut self,
        said: &Place,
        sigma: f64,
        what: &str,
        at: &Where,
        out: &mut Behind,
    ) -> Option<Known> {
        let (tapes, side) = match said {
            Place::At(p) => {
                let at = Vec3::new(p.x.mm(), p.y.mm(), p.d.mm());
                return Some(Known { at, deviation: sigma });
            }
            Place::Taped(tapes, side) => (tapes, *side),
        };
        let mut from: Vec<(Vec3, f64, f64)> = Vec::new();
        for (id, reads) in tapes {
            let p = self.frame.held(id)?;
            let network = &self.frame.solved.network;
            let q = self.frame.solved.adjusted.state.at[p];
            let own = across(&self.frame.doubt(p));
            let depth = network.points[p].depth;
            if reads.mm() <= 0.0 {
                self.tell(
                    "negative-reading",
                    &reads.place,
                    format!("{what}: the tape to `{}` reads {}", id.value, reads.value),
                    "a distance has no sign",
                );
                return None;
            }
            from.push((Vec3::new(q.x, q.y, depth), reads.mm(), (sigma * sigma + own * own).sqrt()));
        }
        let solved = solve(&from, side);
        let Some((place, cofactor, sum)) = solved.filter(|_| from.len() >= 3) else {
            let message = format!("{what}: {} do not determine it", say::count(from.len(), "taped distance"));
            let help = "tape to three points of the survey or more, spread over the sheet and not on a line";
            self.tell("not-determined", at, message, help);
            return None;
        };
        let spare = from.len() - 3;
        let deviation = largest(&cofactor).sqrt();
        if spare > 0 && sum > chi_square_95(spare) {
            let worst = from.iter().zip(tapes).max_by(|a, b| off(place, a.0).total_cmp(&off(place, b.0)));
            let which = worst.map_or(String::new(), |(f, (id, _))| {
                format!(
                    ", most of all that to {} by {}",
                    id.value,
                    fmt_mm((off(place, f) * 10.0).round() / 10.0)
                )
            });
            let says = format!("{what}: the tapes disagree by more than chance does{which}. Tape it again");
            out.told.push(Told { code: "tapes-disagree", says });
        }
        let scale = if spare > 0 { (sum / spare as f64).sqrt().max(1.0) } else { 1.0 };
        Some(Known { at: place, deviation: deviation * scale })
    }
}

fn off(p: Vec3, from: &(Vec3, f64, f64)) -> f64 {
    ((p - from.0).length() - from.1).abs()
}

fn across(e: &Ellipse) -> f64 {
    e.major / ELLIPSE_95
}

/// The place of least squares, its covariance, and the weighted sum of squares; None where it is not determined.
fn solve(from: &[(Vec3, f64, f64)], side: DepthSide) -> Option<(Vec3, Matrix, f64)> {
    let n = from.len() as f64;
    let mean = from.iter().fold(Vec3::ZERO, |s, f| s + f.0) * (1.0 / n);
    let sign = if side == DepthSide::Ahead { 1.0 } else { -1.0 };
    let far = from.iter().map(|f| f.1).sum::<f64>() / n;
    let mut p = mean + Vec3::FORWARD * (sign * far);
    let sum = |p: Vec3| from.iter().map(|f| (((p - f.0).length() - f.1) / f.2).powi(2)).sum::<f64>();
    let mut factor = None;
    for _ in 0..STEPS {
        let mut normal = Matrix::zero(3);
        let mut right = [0.0; 3];
        for (q, reads, sigma) in from {
            let v = p - *q;
            let long = v.length().max(1e-9);
            let row = [v.x / long, v.y / long, v.d / long].map(|d| d / sigma);
            let rest = (reads - long) / sigma;
            for (i, a) in row.iter().enumerate() {
                right[i] += a * rest;
                for (j, b) in row.iter().enumerate() {
                    normal.row_mut(i)[j] += a * b;
                }
            }
        }
        let f = Factor::new(&normal);
        if f.free.iter().any(|f| *f) {
            return None;
        }
        let step = f.solve(&right);
        let mut by = Vec3::new(step[0], step[1], step[2]);
        let here = sum(p);
        while sum(p + by) > here && by.length() > 1e-9 {
            by = by * 0.5;
        }
        p += by;
        factor = Some(f);
        if by.length() < 1e-9 {
            break;
        }
    }
    let mirrored = Vec3::new(p.x, p.y, 2.0 * mean.d - p.d);
    let p = if (p.d - mean.d) * sign < 0.0 { mirrored } else { p };
    let q = factor?.inverse();
    // points of which three lie almost on a line hold no place
    (largest(&q).sqrt() < 200.0).then(|| (p, q, sum(p)))
}

/// The largest eigenvalue of a covariance of three, by powers.
pub(super) fn largest(m: &Matrix) -> f64 {
    let mut v = Vec3::new(1.0, 0.9, 0.8);
    let times = |v: Vec3| {
        let row = |i: usize| m.at(i, 0) * v.x + m.at(i, 1) * v.y + m.at(i, 2) * v.d;
        Vec3::new(row(0), row(1), row(2))
    };
    for _ in 0..200 {
        match times(v).unit() {
            Some(next) => v = next,
            None => return 0.0,
        }
    }
    times(v).length()
}
