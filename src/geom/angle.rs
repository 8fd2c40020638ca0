//! Trigonometry with the same bits on every machine (the `libm` crate, never the platform's).

use super::Vec2;
use std::f64::consts::{PI, TAU};

/// Sine and cosine of an angle in degrees; exact at multiples of 90 degrees.
pub fn sin_cos_deg(degrees: f64) -> (f64, f64) {
    let turn = degrees - 360.0 * (degrees / 360.0).floor();
    match turn {
        0.0 => (0.0, 1.0),
        90.0 => (1.0, 0.0),
        180.0 => (0.0, -1.0),
        270.0 => (-1.0, 0.0),
        _ => sin_cos(turn * (PI / 180.0)),
    }
}

/// Sine and cosine of an angle in radians.
#[inline]
pub fn sin_cos(radians: f64) -> (f64, f64) {
    (libm::sin(radians), libm::cos(radians))
}

/// Unit vector at an angle in radians.
#[inline]
pub fn unit(radians: f64) -> Vec2 {
    let (s, c) = sin_cos(radians);
    Vec2::new(c, s)
}

/// Direction of a vector in (-pi, pi]; 0 for the zero vector.
#[inline]
pub fn direction(v: Vec2) -> f64 {
    libm::atan2(v.y, v.x)
}

/// The same angle in [0, 2 pi).
#[inline]
pub fn normalise(radians: f64) -> f64 {
    let a = radians - TAU * (radians / TAU).floor();
    if a >= TAU { 0.0 } else { a }
}
