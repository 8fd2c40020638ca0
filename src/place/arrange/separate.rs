//! Finds places at which no piece bars another: pieces may overlap while it looks, each overlap weighs the more the
//! longer it lasts, and the pieces that overlap are put one after the other where the weighed overlap is least.
//!
//! (Guided local search: Voudouris and Tsang 1999; for packing: Egeblad, Nielsen and Odgaard 2007.)

use super::dice::Dice;
use super::ground::Ground;
use super::watch::Watch;
use crate::geom::{Rect, Vec2};

/// Less deep is none, mm: what the real rules say decides in the end.
const NONE: f64 = 1e-7;

/// So many rounds without less overlap, then pieces are thrown about.
const PATIENCE: usize = 60;

/// Places of one kind that a piece tries in a move.
const TRIES: usize = 20;

/// Steps along the axes, then along the diagonals.
pub const WAYS: [(f64, f64); 8] =
    [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0), (1.0, 1.0), (-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0)];

/// Where every piece stands, and what each overlap weighs.
pub struct Search<'g> {
    ground: &'g Ground,
    /// Shift of each piece.
    pub at: Vec<Vec2>,
    boxes: Vec<Rect>,
    weights: Vec<f64>,
    walls: Vec<f64>,
    /// The least overlap that was seen, mm in all, and where the pieces stood.
    pub best: (f64, Vec<Vec2>),
}

impl<'g> Search<'g> {
    /// Starts from shifts.
    pub fn new(ground: &'g Ground, at: Vec<Vec2>) -> Search<'g> {
        let n = ground.pieces.len();
        let boxes = ground.inner.iter().map(|c| around(c)).collect();
        let mut s = Search {
            ground,
            best: (f64::INFINITY, at.clone()),
            at,
            boxes,
            weights: vec![1.0; n * n],
            walls: vec![1.0; n],
        };
        s.best.0 = s.overlap();
        s
    }

    /// Anywhere on the sheet for every piece.
    pub fn anywhere(&self, dice: &mut Dice) -> Vec<Vec2> {
        self.boxes.iter().map(|b| Vec2::new(dice.between(b.x0, b.x1), dice.between(b.y0, b.y1))).collect()
    }

    /// All overlap, mm.
    pub fn overlap(&self) -> f64 {
        let n = self.at.len();
        let walls: f64 = (0..n).map(|i| self.ground.against_walls(i, self.at[i])).sum();
        let pair = |(i, j): (usize, usize)| self.ground.against(i, self.at[i], j, self.at[j]);
        walls + (0..n).flat_map(|i| (i + 1..n).map(move |j| (i, j))).map(pair).sum::<f64>()
    }

    /// Looks until nothing overlaps or the watch says stop; whether nothing overlaps.
    pub fn run(&mut self, dice: &mut Dice, watch: &mut Watch<'_>) -> bool {
        let n = self.at.len();
        let mut stale = 0;
        let mut least = f64::INFINITY;
        let mut order: Vec<usize> = (0..n).collect();
        loop {
            let overlapping: Vec<bool> = (0..n).map(|i| self.own(i) > NONE).collect();
            let all = self.overlap();
            if all < self.best.0 {
                self.best = (all, self.at.clone());
            }
            if !overlapping.contains(&true) {
                return true;
            }
            if all < least * 0.999 {
                (least, stale) = (all, 0);
            } else {
                stale += 1;
            }
            if stale > PATIENCE {
                (least, stale) = (f64::INFINITY, 0);
                self.throw(dice);
                continue;
            }
            dice.shuffle(&mut order);
            for &i in &order {
                if self.own(i) > NONE {
                    if !watch.another(|| format!("{:.1} mm of overlap left", self.best.0)) {
                        return false;
                    }
                    self.at[i] = self.better(i, dice);
                }
            }
            self.weigh();
        }
    }

    /// How much a piece overlaps, unweighed.
    pub fn own(&self, i: usize) -> f64 {
        let others = (0..self.at.len()).filter(|j| *j != i);
        let pairs: f64 = others.map(|j| self.ground.against(i, self.at[i], j, self.at[j])).sum();
        pairs + self.ground.against_walls(i, self.at[i])
    }

    /// The weighed overlap of a piece at a place; at least `enough` where it is more than that.
    fn weighed(&self, i: usize, at: Vec2, enough: f64) -> f64 {
        let n = self.at.len();
        let mut sum = self.walls[i] * self.ground.against_walls(i, at);
        for j in 0..n {
            if sum >= enough {
                return sum;
            }
            if j != i {
                sum += self.weights[i * n + j] * self.ground.against(i, at, j, self.at[j]);
            }
        }
        sum
    }

    /// The best place for a piece of those that it tries.
    fn better(&self, i: usize, dice: &mut Dice) -> Vec2 {
        let mut best = [(self.weighed(i, self.at[i], f64::INFINITY), self.at[i]); 3];
        best[1].0 = f64::INFINITY;
        best[2].0 = f64::INFINITY;
        let mut tried = |at: Vec2| {
            let w = self.weighed(i, at, best[2].0);
            if w < best[2].0 {
                best[2] = (w, at);
                best.sort_by(|a, b| a.0.total_cmp(&b.0));
            }
        };
        let b = self.boxes[i];
        let size = self.ground.pieces[i].face.width().max(self.ground.pieces[i].face.height());
        for k in 0..TRIES {
            tried(Vec2::new(dice.between(b.x0, b.x1), dice.between(b.y0, b.y1)));
            tried(self.corner(i, dice));
            let far = size * if k % 2 == 0 { 0.5 } else { 0.1 };
            tried(self.at[i] + Vec2::new(dice.between(-far, far), dice.between(-far, far)));
        }
        let mut least = (f64::INFINITY, self.at[i]);
        for (w, at) in best {
            if w.is_finite() {
                let found = self.descend(i, at, w, size);
                if found.0 < least.0 {
                    least = found;
                }
            }
            if least.0 <= NONE {
                break;
            }
        }
        least.1
    }

    /// Any place on the sheet: in a corner between others, near by, or anywhere.
    pub fn somewhere(&self, i: usize, dice: &mut Dice) -> Vec2 {
        let b = self.boxes[i];
        match dice.below(3) {
            0 => self.corner(i, dice),
            1 => {
                let far = self.ground.pieces[i].face.width();
                self.at[i] + Vec2::new(dice.between(-far, far), dice.between(-far, far))
            }
            _ => Vec2::new(dice.between(b.x0, b.x1), dice.between(b.y0, b.y1)),
        }
    }

    /// Whether nothing bars a piece from a place, the others where they are.
    pub fn free(&self, i: usize, at: Vec2) -> bool {
        self.weighed(i, at, NONE) <= NONE
    }

    /// A place where a piece touches two others, or one and the sheet's edge, on sides upright and level.
    fn corner(&self, i: usize, dice: &mut Dice) -> Vec2 {
        let n = self.at.len();
        let side = |dice: &mut Dice| {
            let j = dice.below(n + 1);
            let b = match (j < n && j != i).then(|| self.ground.reach(i, j)).flatten() {
                Some(b) => b + self.at[j],
                None => self.boxes[i],
            };
            let outside = 1e-6;
            let low = dice.below(2) == 0;
            let on_sheet = j >= n || j == i || self.ground.reach(i, j).is_none();
            let by = if on_sheet == low { outside } else { -outside };
            (if low { b.x0 + by } else { b.x1 + by }, if low { b.y0 + by } else { b.y1 + by })
        };
        let (x, _) = side(dice);
        let (_, y) = side(dice);
        Vec2::new(x, y)
    }

    /// Goes downhill in ever smaller steps along the axes and the diagonals.
    fn descend(&self, i: usize, from: Vec2, value: f64, size: f64) -> (f64, Vec2) {
        let (mut at, mut value, mut step) = (from, value, size / 16.0);
        while step > 1e-3 && value > 0.0 {
            let mut moved = false;
            for (x, y) in WAYS {
                let to = at + Vec2::new(x, y) * step;
                let v = self.weighed(i, to, value);
                if v < value {
                    (at, value, moved) = (to, v, true);
                }
            }
            if !moved {
                step /= 2.5;
            }
        }
        (value, at)
    }

    /// Overlaps that last weigh more; what does not overlap is slowly forgotten.
    fn weigh(&mut self) {
        let n = self.at.len();
        let mut deep = vec![0.0; n * n];
        let mut most: f64 = 0.0;
        for i in 0..n {
            for j in i + 1..n {
                deep[i * n + j] = self.ground.against(i, self.at[i], j, self.at[j]);
                most = most.max(deep[i * n + j]);
            }
        }
        let walls: Vec<f64> = (0..n).map(|i| self.ground.against_walls(i, self.at[i])).collect();
        let most = walls.iter().copied().fold(most, f64::max).max(1e-9);
        let heavier = |w: f64, d: f64| {
            if d > NONE { (w * (1.2 + 0.8 * d / most)).min(1e9) } else { (w * 0.95).max(1.0) }
        };
        for i in 0..n {
            self.walls[i] = heavier(self.walls[i], walls[i]);
            for j in i + 1..n {
                let w = heavier(self.weights[i * n + j], deep[i * n + j]);
                self.weights[i * n + j] = w;
                self.weights[j * n + i] = w;
            }
        }
    }

    /// Begins anew from the best that was seen, with a few pieces elsewhere.
    fn throw(&mut self, dice: &mut Dice) {
        let n = self.at.len();
        self.at = self.best.1.clone();
        self.weights.fill(1.0);
        self.walls.fill(1.0);
        if n > 1 && dice.below(2) == 0 {
            // two change places
            let (i, j) = (dice.below(n), dice.below(n));
            let middle = |k: usize| self.ground.pieces[k].face.center().to_vec2() + self.at[k];
            let d = middle(j) - middle(i);
            self.at[i] += d;
            self.at[j] -= d;
        } else {
            for _ in 0..1 + n / 8 {
                let i = dice.below(n);
                let b = self.boxes[i];
                self.at[i] = Vec2::new(dice.between(b.x0, b.x1), dice.between(b.y0, b.y1));
            }
        }
    }
}

/// A box around a polygon; without corners a point.
pub fn around(c: &[crate::geom::Point]) -> Rect {
    c.iter().map(|p| Rect::from_points(*p, *p)).reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO)
}
