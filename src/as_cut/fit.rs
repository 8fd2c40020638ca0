//! Lays one set of points over another by a shift and a turn, so that the sum of the squared distances is least.

use crate::geom::{Point, Transform, Vec2, angle};

/// How a measured panel was laid over its design.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// What was shifted after the turn about the datum, mm.
    pub shift: Vec2,
    /// The turn about the datum, degrees counter-clockwise.
    pub turn: f64,
    /// Openings by which it was laid.
    pub by: usize,
}

impl Fit {
    /// From pairs of a point of the design and the measured one. `None`: fewer than two pairs, or all in one place.
    ///
    /// In closed form: with both sets about their centres of mass the best turn has the tangent of the sum of the cross
    /// products over the sum of the dot products.
    pub(super) fn of(pairs: &[[Point; 2]]) -> Option<Fit> {
        let n = pairs.len() as f64;
        let mean = |k: usize| pairs.iter().fold(Vec2::ZERO, |s, p| s + p[k].to_vec2()) / n;
        if pairs.len() < 2 {
            return None;
        }
        let (to, from) = (mean(0), mean(1));
        let (mut dot, mut cross, mut spread) = (0.0, 0.0, 0.0);
        for [a, b] in pairs {
            let (a, b) = (a.to_vec2() - to, b.to_vec2() - from);
            dot += b.dot(a);
            cross += b.cross(a);
            spread += b.hypot2().min(a.hypot2());
        }
        if spread < 1.0 {
            return None;
        }
        let turn = angle::direction(Vec2::new(dot, cross));
        let turned = Fit { shift: Vec2::ZERO, turn: turn.to_degrees(), by: pairs.len() }.transform();
        let shift = to - (turned.point(from.to_point())).to_vec2();
        Some(Fit { shift, turn: turn.to_degrees(), by: pairs.len() })
    }

    /// What lays the measured panel over the design.
    pub fn transform(&self) -> Transform {
        Transform::place(self.shift.to_point(), self.turn, false)
    }
}
