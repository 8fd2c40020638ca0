//! Where something may be left: the window in cells, those that are barred whole left out, so that polygons are joined only
//! where that decides anything. Exact: what is left out is covered, what is not is worked out.

use super::convex::{Convex, holds};
use crate::geom::overlay::Area;
use crate::geom::{Point, Rect};

/// So often cells are cut in four.
const DEEP: usize = 6;

/// Cells with no more polygons than this are left whole.
const FEW: usize = 3;

/// What someone bars: who, a box around it, and the convex polygon.
pub type Bar<'p> = (u32, Rect, &'p Convex);

/// The cells in which something may be left, and which of the polygons reach into one.
pub struct Open {
    cells: Vec<Rect>,
    reach: Vec<bool>,
}

impl Open {
    /// Cells of a window that are not held whole by polygons of as many as `covers` different ones.
    pub fn of(window: Rect, bars: &[Bar<'_>], covers: usize) -> Open {
        let mut open = Open { cells: Vec::new(), reach: vec![false; bars.len()] };
        let all: Vec<usize> =
            (0..bars.len()).filter(|k| bars.get(*k).is_some_and(|b| b.1.overlaps(window))).collect();
        open.cut(window, bars, &all, (covers, Vec::new()), DEEP);
        open
    }

    /// `held`: how many must hold a cell for it to be out, and who does already.
    fn cut(&mut self, cell: Rect, bars: &[Bar<'_>], near: &[usize], held: (usize, Vec<u32>), left: usize) {
        let (covers, mut by) = held;
        let corners =
            [(cell.x0, cell.y0), (cell.x1, cell.y0), (cell.x1, cell.y1), (cell.x0, cell.y1)].map(Point::from);
        let mut some = Vec::new();
        for &k in near {
            let Some((who, boxed, polygon)) = bars.get(k) else { continue };
            if !boxed.overlaps(cell) {
                continue;
            }
            some.push(k);
            if !by.contains(who) && corners.iter().all(|p| holds(polygon, *p)) {
                by.push(*who);
                if by.len() >= covers {
                    return;
                }
            }
        }
        if left == 0 || some.len() <= FEW {
            for k in some {
                if let Some(slot) = self.reach.get_mut(k) {
                    *slot = true;
                }
            }
            self.cells.push(cell);
            return;
        }
        let c = cell.center();
        for part in [
            Rect::new(cell.x0, cell.y0, c.x, c.y),
            Rect::new(c.x, cell.y0, cell.x1, c.y),
            Rect::new(cell.x0, c.y, c.x, cell.y1),
            Rect::new(c.x, c.y, cell.x1, cell.y1),
        ] {
            self.cut(part, bars, &some, (covers, by.clone()), left - 1);
        }
    }

    /// What of an area lies in the cells.
    pub fn of_area(&self, area: &Area) -> Area {
        let rects: Vec<Vec<Point>> = self
            .cells
            .iter()
            .map(|r| [(r.x0, r.y0), (r.x1, r.y0), (r.x1, r.y1), (r.x0, r.y1)].map(Point::from).to_vec())
            .collect();
        if rects.is_empty() { Area::default() } else { area.common(&Area::of(&rects)) }
    }

    /// Whether a polygon reaches into a cell.
    pub fn reaches(&self, k: usize) -> bool {
        self.reach.get(k).copied().unwrap_or(false)
    }
}
