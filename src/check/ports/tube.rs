//! The straight and the first quarter turn of a line, as a chain of chords grown by what they leave out.
//!
//! A chord of an arc of radius R that turns by b stays within R (1 - cos b/2) of it: the tube is taken thicker by so much,
//! so that what is clear of the chain is clear of the tube (at most 0.22 % of R too cautious).

use super::exit::{Exit, Turn};
use crate::calc::bend;
use crate::geom::{SLACK, angle};
use crate::solid::{Leg, Pose, Shape, Solid, Vec3};

/// Radius of the wire that stands for a chain: what it is asked is grown by the rest, mm.
pub(super) const THIN: f64 = 1e-3;

/// Chords of a quarter turn.
const CHORDS: usize = 12;

/// Directions round a port's axis.
#[derive(Clone, Copy, Debug)]
pub(super) struct Frame {
    /// Where the line leaves.
    pub at: Vec3,
    /// Which way.
    pub axis: Vec3,
    /// Direction 0: 12 o'clock; forward where the line leaves sideways.
    pub zero: Vec3,
    /// Direction 90: 3 o'clock as seen from the seat.
    pub three: Vec3,
}

impl Frame {
    pub fn of(exit: &Exit) -> Frame {
        let a = exit.axis;
        let (zero, three) = if along_depth(a) {
            (Vec3::new(0.0, 1.0, 0.0), Vec3::new(1.0, 0.0, 0.0))
        } else {
            (Vec3::FORWARD, Vec3::new(a.y, -a.x, 0.0))
        };
        Frame { at: exit.at, axis: a, zero, three }
    }

    /// The direction at an angle, degrees.
    pub fn way(&self, degrees: f64) -> Vec3 {
        let (s, c) = angle::sin_cos_deg(degrees);
        self.zero * c + self.three * s
    }
}

/// Whether an axis runs along the depth.
pub(super) fn along_depth(axis: Vec3) -> bool {
    axis.d.abs() > 0.5
}

/// The chain in its own plane: so far along the axis, so far to the side.
#[derive(Clone, Debug)]
pub(super) struct Chain {
    /// Points (side, along), the straight's start first.
    points: [(f64, f64); CHORDS + 2],
    /// Half the thickness with what the chords leave out.
    pub radius: f64,
    /// Farthest that its skin gets from the axis.
    pub side: f64,
    /// Farthest that its skin gets along the axis.
    pub along: f64,
}

impl Chain {
    /// The chain of a port whose radius is known.
    pub fn of(exit: &Exit) -> Option<Chain> {
        let Turn::Radius { inside, outside, .. } = exit.turn else { return None };
        let (r, half, straight) = (bend::centre_line(inside, outside), outside / 2.0, exit.straight);
        let step = std::f64::consts::FRAC_PI_2 / CHORDS as f64;
        let left_out = r * (1.0 - angle::sin_cos(step / 2.0).1);
        // the port itself, then from the straight's end on
        let points = std::array::from_fn(|k| match k {
            0 => (0.0, 0.0),
            k => {
                let (s, c) = angle::sin_cos(step * (k - 1) as f64);
                (r * (1.0 - c), straight + r * s)
            }
        });
        Some(Chain { points, radius: half + left_out, side: r + half, along: straight + r + half })
    }

    /// Its chords as a wire of radius [`THIN`]; `None` where they make no solid.
    pub fn wire(&self, chords: &[Chord]) -> Option<Solid> {
        let long = chords.iter().filter(|c| (c.to - c.from).length() > SLACK);
        let path = long.map(|c| Leg::Line(c.from, c.to)).collect();
        Solid::new(Shape::Tube { path, radius: THIN }, Pose::IDENTITY).ok()
    }

    /// Its chords in one direction: ends, and the farthest of either from the axis. The first is the straight.
    pub fn chords(&self, frame: &Frame, way: Vec3) -> [Chord; CHORDS + 1] {
        let place = |(side, along): (f64, f64)| frame.at + frame.axis * along + way * side;
        let mut from = (self.points[0], place(self.points[0]));
        std::array::from_fn(|k| {
            let next = self.points[k + 1];
            let to = place(next);
            let chord = Chord { from: from.1, to, side: from.0.0.max(next.0) };
            from = (next, to);
            chord
        })
    }
}

/// One chord.
#[derive(Clone, Copy, Debug)]
pub(super) struct Chord {
    pub from: Vec3,
    pub to: Vec3,
    /// The farther end's distance from the axis.
    pub side: f64,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::panel::PartRef;

    #[test]
    fn the_chain_holds_the_true_arc() {
        // straight 30, inside 46, outside 8: centre line 50; ends 50 to the side, 80 along; skin 54 and 84
        let exit = Exit {
            port: PartRef { subject: 0, part: 0 },
            at: Vec3::new(5.0, 6.0, 70.0),
            axis: Vec3::FORWARD,
            straight: 30.0,
            turn: Turn::Radius { inside: 46.0, outside: 8.0, source: String::new() },
            wide: None,
            line: None,
            side_exit: None,
        };
        assert_eq!(exit.deep(), 84.0);
        let (frame, chain) = (Frame::of(&exit), Chain::of(&exit).unwrap());
        assert_eq!((chain.side, chain.along), (54.0, 84.0));
        let chords = chain.chords(&frame, frame.way(90.0));
        assert_eq!(chords[0].to, Vec3::new(5.0, 6.0, 100.0));
        let end = chords[chords.len() - 1].to;
        assert!((end - Vec3::new(55.0, 6.0, 150.0)).length() < 1e-9);
        for k in 0..=1000 {
            let (s, c) = angle::sin_cos(std::f64::consts::FRAC_PI_2 * k as f64 / 1000.0);
            let p = Vec3::new(5.0 + 50.0 * (1.0 - c), 6.0, 100.0 + 50.0 * s);
            let off = chords.iter().map(|c| to_chord(p, c)).fold(f64::INFINITY, f64::min);
            assert!(off <= chain.radius - 4.0 + 1e-12, "{off}");
        }
        assert!(chain.radius - 4.0 < 0.0022 * 50.0);
        // the wire runs along them: grown by the chain's radius it reaches a ball beside its end, and no farther
        let wire = chain.wire(&chords).unwrap();
        let gap = |p: Vec3| {
            let ball = Solid::new(Shape::Sphere(1.0), Pose::shift(p)).unwrap();
            crate::solid::distance(&wire, &ball).lower + THIN - chain.radius
        };
        // 10 to the side of the end, less the ball's 1 and the chain's 4 and what its chords leave out
        let beside = gap(Vec3::new(55.0, 16.0, 150.0));
        assert!((beside - (9.0 - chain.radius)).abs() < 1e-6, "{beside}");
        assert!(gap(Vec3::new(55.0, 6.0, 150.0)) < 0.0 && gap(Vec3::new(5.0, 6.0, 85.0)) < 0.0);
    }

    fn to_chord(p: Vec3, c: &Chord) -> f64 {
        let (v, w) = (c.to - c.from, p - c.from);
        let t = (w.dot(v) / v.dot(v)).clamp(0.0, 1.0);
        (w - v * t).length()
    }

    #[test]
    fn from_a_side_the_dial_starts_forward() {
        let exit = |axis| Exit {
            port: PartRef { subject: 0, part: 0 },
            at: Vec3::ZERO,
            axis,
            straight: 0.0,
            turn: Turn::Room { deep: 1.0, elbow: false },
            wide: None,
            line: None,
            side_exit: None,
        };
        let f = Frame::of(&exit(Vec3::new(1.0, 0.0, 0.0)));
        assert_eq!((f.way(0.0), f.way(90.0)), (Vec3::FORWARD, Vec3::new(0.0, -1.0, 0.0)));
        let f = Frame::of(&exit(-Vec3::FORWARD));
        assert_eq!((f.way(0.0), f.way(90.0)), (Vec3::new(0.0, 1.0, 0.0), Vec3::new(1.0, 0.0, 0.0)));
    }
}
