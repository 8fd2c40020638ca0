//! Things on paper by the square in which they lie, so that a question about a place looks at its neighbours
//! alone.

use crate::geom::Rect;
use std::collections::BTreeMap;

/// Side of a square, mm.
const SIDE: f64 = 15.0;

/// Things with their boxes.
pub(super) struct Buckets<T> {
    things: Vec<(Rect, T)>,
    squares: BTreeMap<(i32, i32), Vec<u32>>,
}

impl<T> Buckets<T> {
    /// Empty.
    pub fn new() -> Buckets<T> {
        Buckets { things: Vec::new(), squares: BTreeMap::new() }
    }

    /// Adds a thing with its box.
    pub fn add(&mut self, bounds: Rect, thing: T) {
        let k = self.things.len() as u32;
        for square in squares(bounds) {
            self.squares.entry(square).or_default().push(k);
        }
        self.things.push((bounds, thing));
    }

    /// Things whose box may meet this one; one may come several times.
    pub fn near(&self, bounds: Rect) -> impl Iterator<Item = &(Rect, T)> {
        squares(bounds)
            .filter_map(|s| self.squares.get(&s))
            .flatten()
            .filter_map(|k| self.things.get(*k as usize))
    }

    /// How many different things near a box fulfil a condition.
    pub fn count(&self, bounds: Rect, mut holds: impl FnMut(&T) -> bool) -> usize {
        let mut found: Vec<u32> =
            squares(bounds).filter_map(|s| self.squares.get(&s)).flatten().copied().collect();
        found.sort_unstable();
        found.dedup();
        found.into_iter().filter(|k| self.things.get(*k as usize).is_some_and(|(_, t)| holds(t))).count()
    }
}

/// The squares that a box meets. Boxes beyond ten metres are cut there: no page is so large.
fn squares(b: Rect) -> impl Iterator<Item = (i32, i32)> {
    let at = |v: f64| (v / SIDE).floor().clamp(-700.0, 700.0) as i32;
    let (x0, x1, y0, y1) = (at(b.x0), at(b.x1), at(b.y0), at(b.y1));
    (x0..=x1).flat_map(move |x| (y0..=y1).map(move |y| (x, y)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neighbours_are_found_and_counted_once() {
        let mut b = Buckets::new();
        for k in 0..50 {
            let x = f64::from(k) * 10.0;
            b.add(Rect::new(x, -3.0, x + 40.0, 60.0), k);
        }
        for k in 0..500 {
            let q = Rect::new(f64::from(k), 5.0, f64::from(k) + 2.0, 30.0);
            let expected =
                (0..50).filter(|j| f64::from(*j) * 10.0 <= q.x1 && q.x0 <= f64::from(*j) * 10.0 + 40.0);
            let meets: Vec<i32> = expected.collect();
            assert_eq!(b.count(q, |k| meets.contains(k)), meets.len());
            assert!(b.near(q).count() >= meets.len());
        }
    }
}
