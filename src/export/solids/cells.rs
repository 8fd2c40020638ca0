//! A grid that finds corners near a triangle.

use crate::geom::{Point, Rect, Vec2};

/// Corners by the cell of a grid in which they lie.
pub(super) struct Cells {
    origin: Point,
    step: Vec2,
    count: (usize, usize),
    cells: Vec<Vec<usize>>,
}

impl Cells {
    /// An empty grid over points.
    pub fn new(points: &[Point]) -> Cells {
        let first = points.first().copied().unwrap_or(Point::ORIGIN);
        let all = points.iter().fold(Rect::from_points(first, first), |r, p| r.union_pt(*p));
        let side = ((points.len() as f64).sqrt().ceil() as usize).clamp(1, 200);
        let step = Vec2::new(all.width(), all.height()) / side as f64;
        Cells {
            origin: all.origin(),
            step: Vec2::new(step.x.max(f64::MIN_POSITIVE), step.y.max(f64::MIN_POSITIVE)),
            count: (side, side),
            cells: vec![Vec::new(); side * side],
        }
    }

    fn cell(&self, p: Point) -> (usize, usize) {
        let v = p - self.origin;
        let one = |v: f64, step: f64, count: usize| ((v / step).max(0.0) as usize).min(count - 1);
        (one(v.x, self.step.x, self.count.0), one(v.y, self.step.y, self.count.1))
    }

    /// Enters a corner.
    pub fn put(&mut self, k: usize, p: Point) {
        let (x, y) = self.cell(p);
        if let Some(cell) = self.cells.get_mut(y * self.count.0 + x) {
            cell.push(k);
        }
    }

    /// Strikes it out.
    pub fn take(&mut self, k: usize, p: Point) {
        let (x, y) = self.cell(p);
        if let Some(cell) = self.cells.get_mut(y * self.count.0 + x) {
            cell.retain(|m| *m != k);
        }
    }

    /// Whether what is asked holds of any corner in the cells that a box touches.
    pub fn any(&self, bounds: Rect, mut asked: impl FnMut(usize) -> bool) -> bool {
        let (x0, y0) = self.cell(bounds.origin());
        let (x1, y1) = self.cell(Point::new(bounds.x1, bounds.y1));
        (y0..=y1).any(|y| {
            let row = self.cells.get(y * self.count.0 + x0..=y * self.count.0 + x1);
            row.unwrap_or(&[]).iter().flatten().any(|m| asked(*m))
        })
    }
}
