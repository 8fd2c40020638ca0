//! First values of a camera from points whose places are roughly known: the direct linear transformation with both sides
//! scaled about their middle (Hartley 1997, In defense of the eight-point algorithm: why it must be scaled).

use super::camera::Camera;
use super::normal::{Factor, Matrix};
use crate::define::survey::PictureKind;
use crate::geom::{Point, Vec2};

/// Fewest points that give a camera of a kind.
pub fn least(kind: PictureKind) -> usize {
    match kind {
        PictureKind::Photograph => 4,
        PictureKind::Scan => 2,
    }
}

/// Fits homography (photograph), affine map or similarity (scan) to points and their pixels; lens 0.
pub fn resect(camera: &Camera, kind: PictureKind, points: &[(Point, Vec2)]) -> Option<Camera> {
    if points.len() < least(kind) {
        return None;
    }
    let share = 1.0 / points.len() as f64;
    let centre = (points.iter().fold(Vec2::ZERO, |s, p| s + p.0.to_vec2()) * share).to_point();
    let long = points.iter().map(|p| (p.0 - centre).hypot2().sqrt()).fold(0.0, f64::max);
    if long.is_nan() || long < 1e-6 {
        return None;
    }
    let mut found = Camera { centre, long, lens: 0.0, ..camera.clone() };
    let scaled = |p: &(Point, Vec2)| ((p.0 - centre) / long, (p.1 - camera.middle) / camera.half);
    let of: Vec<(Vec2, Vec2)> = points.iter().map(scaled).collect();
    let unknowns = match (kind, points.len()) {
        (PictureKind::Photograph, _) => 8,
        (PictureKind::Scan, 2) => return similar(found, &of),
        (PictureKind::Scan, _) => 6,
    };
    let mut weight = vec![1.0; of.len()];
    let mut x = Vec::new();
    // weights by the denominator found before make the algebraic error that of the picture
    for _ in 0..3 {
        x = solve(&of, &weight, unknowns)?;
        for ((p, _), w) in of.iter().zip(&mut weight) {
            let (a, b) = (x.get(6).unwrap_or(&0.0), x.get(7).unwrap_or(&0.0));
            let d = 1.0 + a * p.x + b * p.y;
            *w = 1.0 / (d * d).max(1e-4);
        }
    }
    found.h.iter_mut().for_each(|h| *h = 0.0);
    found.h.iter_mut().zip(&x).for_each(|(h, x)| *h = x * camera.half);
    found.h.iter().all(|v| v.is_finite()).then_some(found)
}

/// Least squares of p h - q (1 + a x + b y) = 0.
fn solve(of: &[(Vec2, Vec2)], weight: &[f64], n: usize) -> Option<Vec<f64>> {
    let (mut m, mut right) = (Matrix::zero(n), vec![0.0; n]);
    for ((p, q), w) in of.iter().zip(weight) {
        let rows = [
            ([p.x, p.y, 1.0, 0.0, 0.0, 0.0, -q.x * p.x, -q.x * p.y], q.x),
            ([0.0, 0.0, 0.0, p.x, p.y, 1.0, -q.y * p.x, -q.y * p.y], q.y),
        ];
        for (row, value) in rows {
            for i in 0..n {
                right[i] += w * row[i] * value;
                let line = m.row_mut(i);
                for j in 0..=i {
                    line[j] += w * row[i] * row[j];
                }
            }
        }
    }
    let factor = Factor::new(&m);
    factor.free.iter().all(|f| !f).then(|| factor.solve(&right))
}

/// Two points of a scan: one scale and a turn, seen from the seat.
fn similar(mut found: Camera, of: &[(Vec2, Vec2)]) -> Option<Camera> {
    let (p, q) = (of.first()?, of.get(1)?);
    let (from, to) = (q.0 - p.0, q.1 - p.1);
    // the picture's y runs down
    let to = Vec2::new(to.x, -to.y);
    let long = from.hypot2();
    if long < 1e-12 {
        return None;
    }
    let (a, b) = (from.dot(to) / long, from.cross(to) / long);
    let (c, d) = (found.half * a, found.half * b);
    let first = Vec2::new(a * p.0.x - b * p.0.y, -(b * p.0.x + a * p.0.y));
    let shift = (p.1 - first) * found.half;
    found.h = [c, -d, shift.x, -d, -c, shift.y, 0.0, 0.0];
    Some(found)
}

/// Centre and radius of the circle that fits points (least squares of x² + y² = a x + b y + c).
pub fn round(edge: &[Point]) -> Option<(Point, f64)> {
    let middle = (edge.iter().fold(Vec2::ZERO, |s, p| s + p.to_vec2()) / edge.len().max(1) as f64).to_point();
    let (mut m, mut right) = (Matrix::zero(3), vec![0.0; 3]);
    for p in edge {
        let v = *p - middle;
        let row = [v.x, v.y, 1.0];
        for i in 0..3 {
            right[i] += row[i] * v.hypot2();
            let line = m.row_mut(i);
            for j in 0..=i {
                line[j] += row[i] * row[j];
            }
        }
    }
    let factor = Factor::new(&m);
    if edge.len() < 3 || factor.free.iter().any(|f| *f) {
        return None;
    }
    let x = factor.solve(&right);
    let off = Vec2::new(0.5 * x[0], 0.5 * x[1]);
    let square = x[2] + off.hypot2();
    (square > 0.0 && square.is_finite()).then(|| (middle + off, square.sqrt()))
}
