//! A run of a tube: cylinders and tori, each in two halves, between two half spheres. The two corners of every
//! section are the poles of the spheres, so that no face holds a pole inside.

use super::super::space::V3;
use super::super::tube::{Run, Section, Way};
use super::brep::{Curve, Shell, Surface};
use crate::geom::angle;

/// The circle of a section: its two corners and its two halves.
#[derive(Clone, Copy)]
struct Round {
    corners: [usize; 2],
    halves: [usize; 2],
}

/// The shell of a run.
pub(super) fn shell(run: &Run) -> Shell {
    let mut s = Shell::default();
    let rounds: Vec<Round> = run.sections.iter().map(|x| round(&mut s, x, run.radius)).collect();
    let (Some(first), Some(last)) = (rounds.first(), rounds.last()) else { return s };
    let (Some(start), Some(end)) = (run.sections.first(), run.sections.last()) else { return s };
    let [one, two] = first.halves;
    s.face(sphere(start, run.radius, start.along), true, vec![vec![(one, false), (two, false)]]);
    let sections = run.sections.iter().zip(rounds.iter().zip(rounds.iter().skip(1)));
    for (leg, (section, (a, b))) in run.legs.iter().zip(sections) {
        sides(&mut s, run.radius, leg, section, a, b);
    }
    let [one, two] = last.halves;
    s.face(sphere(end, run.radius, -end.along), true, vec![vec![(one, true), (two, true)]]);
    s
}

fn round(s: &mut Shell, x: &Section, radius: f64) -> Round {
    let circle = Curve::Circle { centre: x.centre, axis: x.along, radius, ccw: true };
    let a = s.corner(x.centre + x.first * radius);
    let b = s.corner(x.centre - x.first * radius);
    Round { corners: [a, b], halves: [s.edge(a, b, circle), s.edge(b, a, circle)] }
}

/// Its longitudes are counted from the side away from its half, so that the half lies in one stretch.
fn sphere(x: &Section, radius: f64, away: V3) -> Surface {
    Surface::Sphere { at: x.centre, axis: x.first, towards: away, radius }
}

/// The two half walls of a leg.
fn sides(s: &mut Shell, radius: f64, leg: &Way, section: &Section, a: &Round, b: &Round) {
    let seam = |out: V3| match leg {
        Way::Straight => Curve::Straight,
        Way::Bend { centre, axis, .. } => {
            let start = section.centre + out * radius;
            let level = *centre + *axis * axis.dot(start - *centre);
            Curve::Circle { centre: level, axis: *axis, radius: (start - level).length(), ccw: true }
        }
    };
    let surface = match leg {
        Way::Straight => {
            Surface::Cylinder { at: section.centre, axis: section.along, towards: section.first, radius }
        }
        Way::Bend { centre, axis, angle } => Surface::Torus {
            at: *centre,
            axis: *axis,
            towards: opposite(section.centre - *centre, *axis, *angle),
            major: (section.centre - *centre).length(),
            minor: radius,
        },
    };
    let [a0, a1] = a.corners;
    let [b0, b1] = b.corners;
    let first = s.edge(a0, b0, seam(section.first));
    let second = s.edge(a1, b1, seam(-section.first));
    let [(one, two), (one_on, two_on)] = [a, b].map(|r| (r.halves[0], r.halves[1]));
    s.face(surface, true, vec![vec![(one, true), (second, true), (one_on, false), (first, false)]]);
    s.face(surface, true, vec![vec![(two, true), (first, true), (two_on, false), (second, false)]]);
}

/// Where a torus counts its angle from: opposite the middle of the bend, so that it lies in one stretch.
fn opposite(out: V3, axis: V3, angle: f64) -> V3 {
    -out.turned(axis, angle::sin_cos(angle / 2.0))
}
