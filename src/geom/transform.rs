//! Rigid moves of the plane, with or without a mirror. Lengths and angles are kept exactly to
//! rounding; scaling does not exist here on purpose.

use super::{Arc, Contour, Line, Point, Segment, Vec2, angle};

/// `p -> R(turn) * M * p + shift`, where M mirrors left and right (x -> -x) when `mirror` is set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Transform {
    /// (sin, cos) of the turn, kept so that multiples of 90 degrees are exact.
    sin_cos: (f64, f64),
    /// Mirrors x first.
    mirror: bool,
    /// Added last.
    shift: Vec2,
}

impl Transform {
    /// Nothing moves.
    pub const IDENTITY: Transform = Transform { sin_cos: (0.0, 1.0), mirror: false, shift: Vec2::ZERO };

    /// A shift alone.
    pub fn shift(by: Vec2) -> Transform {
        Transform { shift: by, ..Transform::IDENTITY }
    }

    /// Turn by `degrees` counter-clockwise about the origin, then shift; `mirror` first swaps left
    /// and right.
    pub fn place(at: Point, degrees: f64, mirror: bool) -> Transform {
        Transform { sin_cos: angle::sin_cos_deg(degrees), mirror, shift: at.to_vec2() }
    }

    /// Whether the move swaps the two sides.
    pub fn mirrors(&self) -> bool {
        self.mirror
    }

    /// Moves a direction (no shift).
    pub fn vector(&self, v: Vec2) -> Vec2 {
        let x = if self.mirror { -v.x } else { v.x };
        let (s, c) = self.sin_cos;
        Vec2::new(x * c - v.y * s, x * s + v.y * c)
    }

    /// Moves a point.
    pub fn point(&self, p: Point) -> Point {
        (self.vector(p.to_vec2()) + self.shift).to_point()
    }

    /// Moves a piece.
    pub fn segment(&self, s: &Segment) -> Segment {
        match s {
            Segment::Line(l) => Segment::Line(Line { a: self.point(l.a), b: self.point(l.b) }),
            Segment::Arc(a) => {
                let centre = self.point(a.centre);
                let (start, end) = (self.point(a.a), self.point(a.b));
                let sweep = if self.mirror { -a.sweep } else { a.sweep };
                let first = angle::normalise(angle::direction(start - centre));
                Segment::Arc(Arc { centre, radius: a.radius, start: first, sweep, a: start, b: end })
            }
        }
    }

    /// Moves a contour. A mirror turns its way round; the result is walked backwards so that the
    /// orientation stays what it was.
    pub fn contour(&self, c: &Contour) -> Contour {
        let moved = Contour::from_checked(c.segments().iter().map(|s| self.segment(s)).collect());
        if self.mirror { moved.reversed() } else { moved }
    }
}
