//! Where something may be left: the window in cells, those that are barred whole left out, so that polygons are worked
//! out and joined only where that decides anything. Exact: what is left out is covered, what is not is worked out.

use super::walls::Asked;
use crate::geom::overlay::Area;
use crate::geom::{Point, Rect};

/// So often cells are cut in four.
const DEEP: usize = 6;

/// Cells that no more others than this may bar are left whole.
const FEW: usize = 3;

/// The cells in which something may be left, and which of the walls reach into one.
pub struct Open<'q, 'a> {
    asked: Asked<'q, 'a>,
    covers: usize,
    cells: Vec<Rect>,
    reach: Vec<bool>,
}

impl<'q, 'a> Open<'q, 'a> {
    /// Cells of a window that are not held whole by walls of as many as `covers` different ones, of some walls.
    pub fn of(window: Rect, asked: Asked<'q, 'a>, some: &[usize], covers: usize) -> Open<'q, 'a> {
        let most = some.iter().max().map_or(0, |k| k + 1);
        let mut open = Open { asked, covers, cells: Vec::new(), reach: vec![false; most] };
        open.cut(window, some, Vec::new(), DEEP);
        open
    }

    /// Whether any of a cell is left, `by` others hold it already; it is one cell when it is left whole.
    fn cut(&mut self, cell: Rect, near: &[usize], mut by: Vec<u32>, left: usize) -> bool {
        let corners = corners(&cell);
        let mut some = Vec::new();
        let mut others: Vec<u32> = Vec::new();
        for &k in near {
            let Some(who) = self.asked.who(k).filter(|_| self.asked.overlaps(k, &cell)) else { continue };
            if !by.contains(&who) && self.asked.holds(k, &cell, &corners) {
                by.push(who);
                if by.len() >= self.covers {
                    return false;
                }
            }
            some.push(k);
            if others.len() <= FEW && !others.contains(&who) {
                others.push(who);
            }
        }
        if left == 0 || others.len() <= FEW {
            for k in some {
                if let Some(slot) = self.reach.get_mut(k) {
                    *slot = true;
                }
            }
            self.cells.push(cell);
            return true;
        }
        let parts = quarters(&cell);
        let before = self.cells.len();
        let open = parts.map(|part| self.cut(part, &some, by.clone(), left - 1));
        // four that are left whole are one again
        let whole = open.iter().all(|o| *o) && self.cells.len() == before + parts.len();
        if whole {
            self.cells.truncate(before);
            self.cells.push(cell);
        }
        whole
    }

    /// What of an area lies in the cells.
    pub fn of_area(&self, area: &Area) -> Area {
        let rects: Vec<Vec<Point>> = self.cells.iter().map(|c| corners(c).to_vec()).collect();
        if rects.is_empty() { Area::default() } else { area.common(&Area::of(&rects)) }
    }

    /// Whether nothing is left.
    pub fn is_empty(&self) -> bool {
        self.cells.is_empty()
    }

    /// Walls that reach into a cell.
    pub fn reach(&self) -> Vec<usize> {
        self.reach.iter().enumerate().filter(|(_, r)| **r).map(|(k, _)| k).collect()
    }
}

/// Whether anything is left.
pub enum Left {
    /// At this place, and all round it.
    At(Point),
    /// Nothing.
    Nothing,
    /// What is left, if any, is small: it has to be worked out.
    Little,
}

/// Whether some walls leave anything of a window: the middles of larger cells are tried before those of smaller ones.
/// `may`: whether anything but walls bars a place.
pub fn any_left(window: Rect, asked: Asked<'_, '_>, some: Vec<usize>, may: impl Fn(Point) -> bool) -> Left {
    let mut level: Vec<(Rect, Vec<usize>)> = vec![(window, some)];
    for _ in 0..=DEEP {
        let mut next = Vec::new();
        for (cell, near) in level {
            let corners = corners(&cell);
            let some: Vec<usize> = near.into_iter().filter(|k| asked.overlaps(*k, &cell)).collect();
            if some.iter().any(|k| asked.holds(*k, &cell, &corners)) {
                continue;
            }
            let middle = cell.center();
            if may(middle) && !some.iter().any(|k| asked.bars(*k, middle)) {
                return Left::At(middle);
            }
            next.extend(quarters(&cell).map(|c| (c, some.clone())));
        }
        if next.is_empty() {
            return Left::Nothing;
        }
        level = next;
    }
    Left::Little
}

fn corners(c: &Rect) -> [Point; 4] {
    [(c.x0, c.y0), (c.x1, c.y0), (c.x1, c.y1), (c.x0, c.y1)].map(Point::from)
}

fn quarters(cell: &Rect) -> [Rect; 4] {
    let c = cell.center();
    [
        Rect::new(cell.x0, cell.y0, c.x, c.y),
        Rect::new(c.x, cell.y0, cell.x1, c.y),
        Rect::new(cell.x0, c.y, c.x, cell.y1),
        Rect::new(c.x, c.y, cell.x1, cell.y1),
    ]
}
