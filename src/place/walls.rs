//! What relations bar, each worked out when it is first asked for: where much is barred, few decide what is left.
//!
//! Exact: a wall that is not worked out lies within one of the same subject that is, or is not asked of.

use super::barred::{Around, GRID};
use super::convex::{CHORD, Convex, boxed, corners, holds, holds_all};
use super::eased::EASED;
use super::region::Question;
use super::shadows::{COARSE, Shadows};
use crate::geom::{Point, Rect};
use std::cell::{OnceCell, RefCell};
use std::collections::BTreeMap;

/// A convex polygon of barred shifts, with its box.
pub type Piece = (Rect, Convex);

/// What one relation bars.
struct Wall {
    /// The other subject.
    who: u32,
    /// A box around it.
    bounds: Rect,
    /// The relation, by its place in the list.
    ban: usize,
    around: OnceCell<Option<Around>>,
    pieces: OnceCell<Vec<Piece>>,
}

/// What the relations to other subjects bar, the largest box first.
#[derive(Default)]
pub struct Walls {
    list: Vec<Wall>,
    less: f64,
    /// Those that are worked out, by the other subject.
    known: RefCell<BTreeMap<u32, Vec<usize>>>,
    /// The shadows of what is asked within the same window.
    pub shadows: Shadows,
}

/// Polygons may lie so far outside of the box of the exact shapes, mm.
const AROUND: f64 = 2.0 * (CHORD + COARSE) + 6.0 * EASED + GRID;

/// Walls that are asked.
#[derive(Clone, Copy)]
pub struct Asked<'q, 'a> {
    pub question: &'q Question<'a>,
    pub walls: &'q Walls,
}

impl Walls {
    /// Walls of relations: the place of each in the list, the other subject, and its box where all is asked.
    pub fn new(of: impl Iterator<Item = (usize, u32, Rect)>, less: f64, shadows: Shadows) -> Walls {
        let wall = |(ban, who, bounds): (usize, u32, Rect)| {
            let bounds = bounds.inflate(AROUND - less, AROUND - less);
            // what overlaps by less than it may bars nothing
            let some = bounds.x0 < bounds.x1 && bounds.y0 < bounds.y1;
            some.then(|| Wall { who, bounds, ban, around: OnceCell::new(), pieces: OnceCell::new() })
        };
        let mut list: Vec<Wall> = of.filter_map(wall).collect();
        list.sort_by(|a, b| b.bounds.area().total_cmp(&a.bounds.area()));
        Walls { list, less, known: RefCell::default(), shadows }
    }
}

impl<'q> Asked<'q, '_> {
    /// Places in the list of those of subjects that count and that come near a window.
    pub fn near(&self, window: Rect, counts: impl Fn(u32) -> bool) -> Vec<usize> {
        let all = self.walls.list.iter().enumerate();
        all.filter(|(_, w)| counts(w.who) && w.bounds.overlaps(window)).map(|(k, _)| k).collect()
    }

    /// Whose it is.
    pub fn who(&self, k: usize) -> Option<u32> {
        self.walls.list.get(k).map(|w| w.who)
    }

    /// Whether it may bar some of a cell.
    pub fn overlaps(&self, k: usize, cell: &Rect) -> bool {
        let Some(w) = self.walls.list.get(k) else { return false };
        w.bounds.overlaps(*cell) && w.pieces.get().is_none_or(|all| !all.is_empty())
    }

    /// Whether it bars all of a cell.
    pub fn holds(&self, k: usize, cell: &Rect, corners: &[Point; 4]) -> bool {
        let Some(w) = self.walls.list.get(k) else { return false };
        let all = |c: &[Point]| corners.iter().all(|p| holds(c, *p));
        encloses(&w.bounds, cell)
            && self.around(w).is_none_or(|a| a.may_hold(cell))
            && self.pieces(k).iter().any(|(b, c)| encloses(b, cell) && all(c))
    }

    /// Whether it bars a shift.
    pub fn bars(&self, k: usize, at: Point) -> bool {
        let Some(w) = self.walls.list.get(k) else { return false };
        let here = Rect::from_points(at, at);
        encloses(&w.bounds, &here)
            && self.around(w).is_none_or(|a| a.may_hold(&here))
            && self.pieces(k).iter().any(|(b, c)| encloses(b, &here) && holds(c, at))
    }

    fn around(&self, w: &'q Wall) -> Option<&'q Around> {
        let q = self.question;
        let of = || q.polygons.reach_of(q.all.list.get(w.ban)?, self.walls.less);
        w.around.get_or_init(of).as_ref()
    }

    /// What it bars; nothing where others of the same subject bar that already.
    pub fn pieces(&self, k: usize) -> &'q [Piece] {
        let Some(w) = self.walls.list.get(k) else { return &[] };
        if let Some(known) = w.pieces.get() {
            return known;
        }
        let found = {
            let known = self.walls.known.borrow();
            let larger = known.get(&w.who).map(Vec::as_slice).unwrap_or_default();
            let larger = larger.iter().filter_map(|j| self.walls.list.get(*j)?.pieces.get());
            let larger: Vec<&Piece> = larger.flatten().collect();
            let hidden = |b: &Rect, of: &[Point]| {
                larger.iter().any(|(around, c)| encloses(around, b) && holds_all(c, of))
            };
            let bounds = w.bounds.inflate(-AROUND, -AROUND);
            if hidden(&bounds, &corners(&bounds))
                || self.around(w).is_some_and(|a| hidden(&bounds, &a.corners()))
            {
                Vec::new()
            } else {
                let q = self.question;
                let of = |ban| q.polygons.shifts(ban, self.walls.less, &self.walls.shadows);
                let all = q.all.list.get(w.ban).map(of).unwrap_or_default();
                let all = all.into_iter().filter(|c| c.len() >= 3).filter_map(|c| Some((boxed(&c)?, c)));
                all.filter(|(b, c)| !hidden(b, c)).collect()
            }
        };
        if !found.is_empty() {
            self.walls.known.borrow_mut().entry(w.who).or_default().push(k);
        }
        w.pieces.get_or_init(|| found)
    }

    /// The polygons of some walls, those left out that lie within another one of the same subject, or of any.
    pub fn outermost(&self, mut some: Vec<usize>, of_any: bool) -> Vec<(u32, &'q Piece)> {
        some.sort_unstable();
        let mut kept: Vec<(u32, &'q Piece)> = Vec::new();
        for k in some {
            let Some(who) = self.who(k) else { continue };
            for piece in self.pieces(k) {
                let hides = |(other, (around, c)): &(u32, &Piece)| {
                    (of_any || *other == who) && encloses(around, &piece.0) && holds_all(c, &piece.1)
                };
                if !kept.iter().any(hides) {
                    kept.push((who, piece));
                }
            }
        }
        kept
    }
}

/// Whether a box holds another one whole.
fn encloses(b: &Rect, other: &Rect) -> bool {
    b.x0 <= other.x0 && b.y0 <= other.y0 && b.x1 >= other.x1 && b.y1 >= other.y1
}
