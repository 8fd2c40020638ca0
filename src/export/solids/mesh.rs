//! A body as a closed mesh of triangles, its corners on the true surface.
//!
//! Bound: no triangle is farther than the chord of its [`Fine`] from the surface that it stands for; on a bent tube half
//! of that goes round the tube and half along it.

use super::body::{Body, Drawn};
use super::fill::fill;
use super::space::V3;
use super::tube::{Run, Section, Way};
use crate::geom::{Arc, Contour, Point, Segment, angle};
use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, TAU};

/// Farthest that a mesh lies from the true surface, mm.
pub const CHORD: f64 = 0.01;

/// How finely a mesh follows its surface.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fine {
    /// Farthest that it lies from the surface, mm.
    pub chord: f64,
    /// Greatest turn from one chord to the next, radians.
    pub turn: f64,
    /// Of a round bar or ball: this part of its radius, where that is more than the chord.
    pub part: f64,
}

/// For files that other people make things from.
pub(super) const FILES: Fine = Fine { chord: CHORD, turn: FRAC_PI_4, part: 0.0 };

/// A closed mesh; triangles run counter-clockwise seen from outside.
#[derive(Clone, Debug, Default)]
pub(super) struct Mesh {
    pub points: Vec<V3>,
    pub triangles: Vec<[u32; 3]>,
}

/// The meshes of a body, each closed: one, or one a run.
pub(super) fn meshes(body: &Body, fine: Fine) -> Vec<Mesh> {
    match body {
        Body::Drawn(d) => vec![drawn(d, fine)],
        Body::Runs(runs) => runs.iter().map(|r| run(r, fine)).collect(),
        Body::Hull(h) => {
            let fan = |f: &Vec<usize>| match f.split_first() {
                Some((first, rest)) => rest
                    .windows(2)
                    .filter_map(|w| Some([*first as u32, *w.first()? as u32, *w.get(1)? as u32]))
                    .collect(),
                None => Vec::new(),
            };
            let triangles = h.faces.iter().flat_map(fan).collect();
            vec![Mesh { points: h.points.clone(), triangles }]
        }
    }
}

/// How many equal chords a turn of radians about a circle of a radius takes.
fn chords(turn: f64, radius: f64, fine: Fine) -> u32 {
    // r (1 - cos (step / 2)) = chord
    let step = if radius > fine.chord { 2.0 * libm::acos(1.0 - fine.chord / radius) } else { fine.turn };
    (turn.abs() / step.min(fine.turn) - 1e-9).ceil().clamp(1.0, 1e5) as u32
}

/// A contour as corners on it, in its own way round.
pub(super) fn corners(c: &Contour, fine: Fine) -> Vec<Point> {
    let mut out = Vec::new();
    for s in c.segments() {
        out.push(s.start());
        if let Segment::Arc(a) = s {
            out.extend(within(a, fine));
        }
    }
    out
}

fn within(a: &Arc, fine: Fine) -> impl Iterator<Item = Point> + '_ {
    let n = chords(a.sweep, a.radius, fine);
    (1..n).map(move |k| a.at(f64::from(k) / f64::from(n)))
}

fn drawn(d: &Drawn, fine: Fine) -> Mesh {
    let rings: Vec<Vec<Point>> = d.rings.iter().map(|r| corners(r, fine)).collect();
    let count: u32 = rings.iter().map(|r| r.len() as u32).sum();
    let level = |z: f64| rings.iter().flatten().map(move |p| d.frame.lifted(*p, z));
    let points = level(d.ends.0).chain(level(d.ends.1)).collect();
    let caps = fill(&rings);
    let mut triangles: Vec<[u32; 3]> = caps.iter().map(|[a, b, c]| [*a, *c, *b]).collect();
    triangles.extend(caps.iter().map(|t| t.map(|k| k + count)));
    let mut first = 0;
    for ring in &rings {
        let n = ring.len() as u32;
        for k in 0..n {
            let (a, b) = (first + k, first + (k + 1) % n);
            triangles.push([a, b, b + count]);
            triangles.push([a, b + count, a + count]);
        }
        first += n;
    }
    Mesh { points, triangles }
}

fn run(run: &Run, fine: Fine) -> Mesh {
    let half = Fine { chord: fine.chord.max(run.radius * fine.part) / 2.0, ..fine };
    // even, so that the section has a corner on both of its axes
    let round = chords(TAU, run.radius, half).next_multiple_of(4);
    let up = round / 4;
    let mut b = Rings { mesh: Mesh::default(), round, last: None };
    let (Some(first), Some(last)) = (run.sections.first(), run.sections.last()) else { return b.mesh };
    let cap = |k: u32| angle::sin_cos(FRAC_PI_2 * f64::from(k) / f64::from(up));
    b.pole(first.centre - first.along * run.radius);
    for k in 1..up {
        let (s, c) = cap(k);
        b.ring(first, -c * run.radius, s * run.radius);
    }
    b.ring(first, 0.0, run.radius);
    for (section, (leg, next)) in run.sections.iter().zip(run.legs.iter().zip(run.sections.iter().skip(1))) {
        if let Way::Bend { centre, axis, angle } = leg {
            let out = (section.centre - *centre).length() + run.radius;
            let n = chords(*angle, out, half);
            for k in 1..n {
                b.ring(&section.bent(*centre, *axis, angle * f64::from(k) / f64::from(n)), 0.0, run.radius);
            }
        }
        b.ring(next, 0.0, run.radius);
    }
    for k in (1..up).rev() {
        let (s, c) = cap(k);
        b.ring(last, c * run.radius, s * run.radius);
    }
    b.end(last.centre + last.along * run.radius);
    b.mesh
}

/// Rings of equally many corners, each joined to the one before.
struct Rings {
    mesh: Mesh,
    round: u32,
    last: Option<u32>,
}

impl Rings {
    fn pole(&mut self, p: V3) {
        self.mesh.points.push(p);
    }

    fn ring(&mut self, s: &Section, ahead: f64, radius: f64) {
        let start = self.mesh.points.len() as u32;
        let (u, v) = (s.first, s.second());
        for k in 0..self.round {
            let (sin, cos) = angle::sin_cos(TAU * f64::from(k) / f64::from(self.round));
            self.mesh.points.push(s.centre + s.along * ahead + u * (cos * radius) + v * (sin * radius));
        }
        for k in 0..self.round {
            let next = (k + 1) % self.round;
            match self.last {
                Some(last) => {
                    self.mesh.triangles.push([last + k, last + next, start + next]);
                    self.mesh.triangles.push([last + k, start + next, start + k]);
                }
                // the pole stands alone before the first ring
                None => self.mesh.triangles.push([0, start + next, start + k]),
            }
        }
        self.last = Some(start);
    }

    fn end(&mut self, p: V3) {
        let tip = self.mesh.points.len() as u32;
        self.mesh.points.push(p);
        if let Some(last) = self.last {
            for k in 0..self.round {
                self.mesh.triangles.push([last + k, last + (k + 1) % self.round, tip]);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chords_keep_their_distance() {
        for r in [0.02, 0.5, 3.0, 40.0, 700.0] {
            let n = chords(TAU, r, FILES);
            let sag = r * (1.0 - libm::cos(TAU / f64::from(2 * n)));
            assert!(sag <= CHORD * (1.0 + 1e-6) && n >= 8, "{r} {n} {sag}");
        }
    }
}
