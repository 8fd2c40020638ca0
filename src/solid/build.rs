//! From a shape to its convex pieces, or what is wrong with it.
//!
//! Exact but for arcs that bow inwards (see [`split`](super::split)) and for bent tubes, whose arcs become short
//! straights thick enough to hold them: at most [`BENT`] larger.

use super::split;
use super::{Core, Fault, Leg, Piece, Pose, Shape, Vec3};

/// By how much a straight that stands for part of a bend may be larger than it, mm.
const BENT: f64 = 0.02;

/// Below this a length is none, mm.
const LEAST: f64 = 1e-6;

pub(super) fn pieces(shape: &Shape, pose: &Pose) -> Result<Vec<Piece>, Fault> {
    match shape {
        Shape::Prism { section, from, to } => {
            let b = section.bounds();
            finite(&[b.x0, b.x1, b.y0, b.y1, *from, *to])?;
            sized(&[b.width(), b.height(), section.area(), to - from])?;
            let of = |(section, excess)| {
                Piece::new(Core::Prism { section, from: *from, to: *to, pose: *pose }, 0.0, excess)
            };
            Ok(split::convex(section).into_iter().map(of).collect())
        }
        Shape::Box(half) => {
            finite(&[half.x, half.y, half.d])?;
            sized(&[half.x, half.y, half.d])?;
            let corner = |k: usize| {
                let side = |bit: usize, v: f64| if k >> bit & 1 == 0 { -v } else { v };
                pose.point(Vec3::new(side(0, half.x), side(1, half.y), side(2, half.d)))
            };
            Ok(vec![Piece::new(Core::Points((0..8).map(corner).collect()), 0.0, 0.0)])
        }
        Shape::Cylinder { radius, half } => {
            finite(&[*radius, *half])?;
            sized(&[*radius, *half])?;
            let ends = [-half, *half].map(|d| pose.point(Vec3::new(0.0, 0.0, d)));
            let core = Core::Bar { ends, axis: pose.vector(Vec3::FORWARD), radius: *radius };
            Ok(vec![Piece::new(core, 0.0, 0.0)])
        }
        Shape::Sphere(radius) => {
            finite(&[*radius])?;
            sized(&[*radius])?;
            Ok(vec![Piece::new(Core::Points(vec![pose.origin()]), *radius, 0.0)])
        }
        Shape::Tube { path, radius } => tube(path, *radius, pose),
        Shape::Hull(points) => {
            if points.iter().any(|p| !p.is_finite()) {
                return Err(Fault::NotFinite);
            }
            solid(points)?;
            let points = points.iter().map(|p| pose.point(*p)).collect();
            Ok(vec![Piece::new(Core::Points(points), 0.0, 0.0)])
        }
    }
}

fn finite(numbers: &[f64]) -> Result<(), Fault> {
    if numbers.iter().all(|v| v.is_finite()) { Ok(()) } else { Err(Fault::NotFinite) }
}

fn sized(lengths: &[f64]) -> Result<(), Fault> {
    if lengths.iter().all(|v| *v >= LEAST) { Ok(()) } else { Err(Fault::ZeroSize) }
}

/// Whether points span a solid.
fn solid(points: &[Vec3]) -> Result<(), Fault> {
    let Some(first) = points.first() else { return Err(Fault::ZeroSize) };
    let farthest = |off: &dyn Fn(Vec3) -> f64| {
        points.iter().map(|p| *p - *first).max_by(|a, b| off(*a).total_cmp(&off(*b))).unwrap_or(Vec3::ZERO)
    };
    let along = farthest(&|v| v.length());
    let Some(u) = along.unit().filter(|_| along.length() >= LEAST) else { return Err(Fault::ZeroSize) };
    let across = |v: Vec3| v - u * v.dot(u);
    let aside = across(farthest(&|v| across(v).length()));
    let Some(v) = aside.unit().filter(|_| aside.length() >= LEAST) else { return Err(Fault::Flat) };
    let n = u.cross(v);
    if farthest(&|p| p.dot(n).abs()).dot(n).abs() >= LEAST { Ok(()) } else { Err(Fault::Flat) }
}

fn tube(path: &[Leg], radius: f64, pose: &Pose) -> Result<Vec<Piece>, Fault> {
    finite(&[radius])?;
    sized(&[radius])?;
    if path.is_empty() {
        return Err(Fault::ZeroSize);
    }
    let mut pieces = Vec::new();
    let mut before: Option<Vec3> = None;
    for leg in path {
        let (from, to) = ends(leg);
        if !from.is_finite() || !to.is_finite() {
            return Err(Fault::NotFinite);
        }
        if before.is_some_and(|b| (b - from).length() > 1e-6 * (1.0 + from.length())) {
            return Err(Fault::Broken);
        }
        before = Some(to);
        match *leg {
            Leg::Line(a, b) => {
                sized(&[(b - a).length()])?;
                pieces.push(straight(pose.point(a), pose.point(b), radius, 0.0));
            }
            Leg::Arc { from, centre, axis, angle } => {
                finite(&[angle])?;
                let out = from - centre;
                let bend = (out - axis * out.dot(axis)).length();
                let off = (axis.length() - 1.0).abs() > 1e-9 || out.dot(axis).abs() > 1e-6 * (1.0 + bend);
                if off {
                    return Err(Fault::Broken);
                }
                if bend < radius - LEAST {
                    return Err(Fault::TooTight);
                }
                sized(&[bend * angle.abs()])?;
                if angle.abs() > 64.0 {
                    return Err(Fault::NotFinite);
                }
                // a chord is off its arc by no more than half of what is allowed
                let step = 2.0 * libm::acos((1.0 - BENT / 2.0 / bend).clamp(-1.0, 1.0));
                let count = (angle.abs() / step.clamp(1e-2, 1.0)).ceil().max(1.0);
                let sagitta = bend * (1.0 - libm::cos(angle / count / 2.0));
                let at = |k: f64| pose.point(Pose::about(centre, axis, angle * k / count).point(from));
                for k in 0..count as usize {
                    pieces.push(straight(at(k as f64), at(k as f64 + 1.0), radius + sagitta, 2.0 * sagitta));
                }
            }
        }
    }
    Ok(pieces)
}

/// Start and end of a leg, in the shape's own axes.
pub(super) fn ends(leg: &Leg) -> (Vec3, Vec3) {
    match *leg {
        Leg::Line(a, b) => (a, b),
        Leg::Arc { from, centre, axis, angle } => (from, Pose::about(centre, axis, angle).point(from)),
    }
}

fn straight(a: Vec3, b: Vec3, radius: f64, excess: f64) -> Piece {
    Piece::new(Core::Points(vec![a, b]), radius, excess)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Contour, Point};
    use std::f64::consts::FRAC_PI_2;

    fn fault(shape: Shape) -> Option<Fault> {
        pieces(&shape, &Pose::IDENTITY).err()
    }

    #[test]
    fn numbers_that_make_no_solid_are_told_apart() {
        let v = Vec3::new;
        assert_eq!(fault(Shape::Box(v(1.0, 0.0, 1.0))), Some(Fault::ZeroSize));
        assert_eq!(fault(Shape::Sphere(f64::NAN)), Some(Fault::NotFinite));
        assert_eq!(fault(Shape::Cylinder { radius: -2.0, half: 5.0 }), Some(Fault::ZeroSize));
        let section = Contour::circle(Point::ORIGIN, 5.0);
        assert_eq!(fault(Shape::Prism { section, from: 3.0, to: 3.0 }), Some(Fault::ZeroSize));
        let flat = [v(0.0, 0.0, 0.0), v(9.0, 0.0, 0.0), v(0.0, 9.0, 0.0), v(5.0, 4.0, 0.0)];
        assert_eq!(fault(Shape::Hull(flat.to_vec())), Some(Fault::Flat));
        assert_eq!(fault(Shape::Hull(vec![])), Some(Fault::ZeroSize));
        let broken = vec![
            Leg::Line(v(0.0, 0.0, 0.0), v(9.0, 0.0, 0.0)),
            Leg::Line(v(9.0, 1.0, 0.0), v(20.0, 0.0, 0.0)),
        ];
        assert_eq!(fault(Shape::Tube { path: broken, radius: 2.0 }), Some(Fault::Broken));
        let bend = |r: f64| Leg::Arc {
            from: v(0.0, 0.0, 0.0),
            centre: v(0.0, r, 0.0),
            axis: Vec3::FORWARD,
            angle: 1.5,
        };
        assert_eq!(fault(Shape::Tube { path: vec![bend(4.0)], radius: 5.0 }), Some(Fault::TooTight));
        assert_eq!(fault(Shape::Tube { path: vec![bend(6.0)], radius: 5.0 }), None);
    }

    #[test]
    fn a_bend_lies_in_its_pieces_and_they_hardly_stick_out() {
        let (r, bend) = (4.0, 60.0);
        let leg = Leg::Arc {
            from: Vec3::ZERO,
            centre: Vec3::new(0.0, bend, 0.0),
            axis: Vec3::FORWARD,
            angle: FRAC_PI_2,
        };
        let all = pieces(&Shape::Tube { path: vec![leg], radius: r }, &Pose::IDENTITY).unwrap();
        assert!(all.iter().all(|p| p.excess <= BENT + 1e-12), "{:?}", all[0].excess);
        for k in 0..=500 {
            let at = Pose::about(Vec3::new(0.0, bend, 0.0), Vec3::FORWARD, FRAC_PI_2 * f64::from(k) / 500.0);
            let middle = at.point(Vec3::ZERO);
            let room = all
                .iter()
                .map(|p| {
                    let Core::Points(ends) = &p.core else { unreachable!() };
                    let (a, b) = (ends[0], ends[1]);
                    let t = ((middle - a).dot(b - a) / (b - a).dot(b - a)).clamp(0.0, 1.0);
                    p.radius - (middle - a - (b - a) * t).length()
                })
                .fold(f64::NEG_INFINITY, f64::max);
            assert!(room >= r - 1e-9, "{k}: {room}");
        }
    }
}
