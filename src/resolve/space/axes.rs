//! The panel's axes and the aeroplane's. Exact to rounding.
//!
//! The aeroplane's frame is right-handed: station aft, butt line right, water line up. The panel's is left-handed: x
//! right, y up in the sheet, d forward, away from the sheet. With a tilt t (the top leaning forward, away from the
//! pilot) y leans forward by t and d dips by t:
//!
//! ```text
//! station    = station0    - y sin t - d cos t
//! butt line  = butt line0  + x
//! water line = water line0 + y cos t - d sin t
//! ```
//!
//! At 8 degrees the far end of a body of 250 mm lies 250 sin 8 = 34.8 mm lower than its front.

use crate::define::Xyd;
use crate::geom::angle;
use crate::panel::Airframe;
use crate::solid::Vec3;

/// The axes in which points are given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Axes {
    /// The panel's.
    Panel,
    /// The aeroplane's: where the panel's datum stands, and the sine and cosine of its tilt.
    Aeroplane { datum: Airframe, sin: f64, cos: f64 },
}

impl Axes {
    /// The aeroplane's, with the panel tilted by so many degrees.
    pub fn aeroplane(datum: Airframe, tilt: f64) -> Axes {
        let (sin, cos) = angle::sin_cos_deg(tilt);
        Axes::Aeroplane { datum, sin, cos }
    }

    /// A direction, in the panel's axes.
    pub fn vector(&self, along: [f64; 3]) -> Vec3 {
        let [a, b, c] = along;
        match *self {
            Axes::Panel => Vec3::new(a, b, c),
            Axes::Aeroplane { sin, cos, .. } => Vec3::new(b, -a * sin + c * cos, -a * cos - c * sin),
        }
    }

    /// A point, mm, in the panel's axes.
    pub fn numbers(&self, at: [f64; 3]) -> Vec3 {
        match self {
            Axes::Panel => self.vector(at),
            Axes::Aeroplane { datum, .. } => {
                let [s, b, w] = at;
                self.vector([s - datum.station, b - datum.butt_line, w - datum.water_line])
            }
        }
    }

    /// A point of a file, in the panel's axes.
    pub fn point(&self, p: &Xyd) -> Vec3 {
        self.numbers([p.x.mm(), p.y.mm(), p.d.mm()])
    }

    /// The axis of a turn, in the panel's axes, such that a positive turn about it takes the same way: in both frames
    /// it takes each axis towards the next one in the order of the file. The frames' hands differ, so that of the
    /// aeroplane points the other way here.
    pub fn axis(&self, along: [f64; 3]) -> Vec3 {
        match self {
            Axes::Panel => self.vector(along),
            Axes::Aeroplane { .. } => -self.vector(along),
        }
    }

    /// How far about x a box that lies along these axes is turned against the panel's, radians.
    pub fn lean(&self) -> f64 {
        match *self {
            Axes::Panel => 0.0,
            Axes::Aeroplane { sin, cos, .. } => -libm::atan2(sin, cos),
        }
    }

    /// Sizes along these axes, along the panel's own where they are not tilted.
    pub fn sizes(&self, [a, b, c]: [f64; 3]) -> Vec3 {
        match self {
            Axes::Panel => Vec3::new(a, b, c),
            Axes::Aeroplane { .. } => Vec3::new(b, c, a),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solid::Pose;

    const DATUM: Airframe = Airframe { station: 1000.0, butt_line: -5.0, water_line: 400.0 };

    fn near(a: Vec3, b: Vec3) -> bool {
        (a - b).length() < 1e-9
    }

    /// Where a point of the panel stands in the aeroplane, by the formula at the head of this file.
    fn to_aeroplane(p: Vec3, tilt: f64) -> [f64; 3] {
        let (s, c) = angle::sin_cos_deg(tilt);
        [1000.0 - p.y * s - p.d * c, -5.0 + p.x, 400.0 + p.y * c - p.d * s]
    }

    #[test]
    fn a_long_body_behind_a_leaning_panel_ends_lower() {
        // common practice, no source: 8 degrees, top leaning away from the pilot; sin 8 = 0.139173, cos 8 = 0.990268
        // 250 x 0.139173 = 34.79 mm lower, 250 x 0.990268 = 247.57 mm farther forward
        let [s, b, w] = to_aeroplane(Vec3::new(0.0, 0.0, 250.0), 8.0);
        assert!((400.0 - w - 34.79).abs() < 5e-3, "{w}");
        assert!((1000.0 - s - 247.57).abs() < 5e-3, "{s}");
        assert_eq!(b, -5.0);
        // the other way: leaning towards the pilot it ends 34.79 mm higher
        let [_, _, w] = to_aeroplane(Vec3::new(0.0, 0.0, 250.0), -8.0);
        assert!((w - 400.0 - 34.79).abs() < 5e-3, "{w}");
        // and back: a point of the aeroplane 34.79 mm below and 247.57 mm ahead of the datum lies straight behind it
        let p = Axes::aeroplane(DATUM, 8.0).numbers([1000.0 - 247.57, -5.0, 400.0 - 34.79]);
        assert!(p.x == 0.0 && p.y.abs() < 0.01 && (p.d - 250.0).abs() < 0.01, "{p:?}");
    }

    #[test]
    fn upright_the_axes_are_those_of_the_aeroplane_looked_at_from_behind() {
        let axes = Axes::aeroplane(DATUM, 0.0);
        // 300 mm ahead of the datum, 20 right, 50 up
        let p = axes.numbers([700.0, 15.0, 450.0]);
        assert!(near(p, Vec3::new(20.0, 50.0, 300.0)), "{p:?}");
    }

    #[test]
    fn there_and_back_at_any_tilt() {
        for tilt in [-30.0, -8.0, 0.0, 3.5, 8.0, 45.0] {
            let p = Vec3::new(12.0, -34.0, 56.0);
            assert!(near(Axes::aeroplane(DATUM, tilt).numbers(to_aeroplane(p, tilt)), p), "{tilt}");
        }
    }

    #[test]
    fn the_aeroplane_is_right_handed_and_the_panel_left_handed() {
        let axes = Axes::aeroplane(DATUM, 8.0);
        let [a, b, c] = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]].map(|v| axes.vector(v));
        // aft, right, up by components of (x, y, d): the hand has changed
        assert!(near(a.cross(b), -c), "{:?}", a.cross(b));
    }

    #[test]
    fn a_positive_turn_takes_each_axis_to_the_next_in_either_frame() {
        let units = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
        for axes in [Axes::Panel, Axes::aeroplane(DATUM, 8.0)] {
            for k in 0..3 {
                let turn = Pose::about(Vec3::ZERO, axes.axis(units[k]), std::f64::consts::FRAC_PI_2);
                let (next, after) = (units[(k + 1) % 3], units[(k + 2) % 3]);
                assert!(near(turn.vector(axes.vector(next)), axes.vector(after)), "{axes:?} {k}");
            }
        }
    }
}
