//! Error ellipses.

use super::statistics::ELLIPSE_95;
use crate::geom::angle;

/// An ellipse about a point, in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ellipse {
    /// Longer half axis.
    pub major: f64,
    /// Shorter half axis.
    pub minor: f64,
    /// Direction of the longer one, degrees counter-clockwise from x, in (-90, 90].
    pub angle: f64,
}

impl Ellipse {
    /// The ellipse of a covariance of x and y that holds the truth in 95 of 100 surveys.
    pub fn of(xx: f64, xy: f64, yy: f64) -> Ellipse {
        let mean = 0.5 * (xx + yy);
        let half = 0.5 * (xx - yy);
        let root = (half * half + xy * xy).sqrt();
        let turn = 0.5 * libm::atan2(2.0 * xy, xx - yy).to_degrees();
        let axis = |v: f64| v.max(0.0).sqrt() * ELLIPSE_95;
        Ellipse {
            major: axis(mean + root),
            minor: axis(mean - root),
            angle: if turn <= -90.0 { turn + 180.0 } else { turn },
        }
    }

    /// The same with both axes longer or shorter.
    #[must_use]
    pub fn scaled(self, by: f64) -> Ellipse {
        Ellipse { major: self.major * by, minor: self.minor * by, ..self }
    }

    /// A point of it, by parameter in degrees, from its centre.
    pub fn point(&self, parameter: f64) -> crate::geom::Vec2 {
        let (s, c) = angle::sin_cos_deg(parameter);
        let (sin, cos) = angle::sin_cos_deg(self.angle);
        let (u, v) = (self.major * c, self.minor * s);
        crate::geom::Vec2::new(u * cos - v * sin, u * sin + v * cos)
    }
}
