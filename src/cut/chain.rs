//! From loose pieces to chains: ends that meet are joined, what closes is a contour, the rest is open.
//!
//! Ends are matched in passes of growing tolerance, exact ones first, over a grid whose cells are as wide as
//! the tolerance: unmatched ends in reach of each other never pile up, so the time is near linear.

use super::same::whole;
use crate::geom::{Point, SLACK, Segment, span};
use std::collections::BTreeMap;

/// Ends this near are one: rounding of coordinates that were written with four decimals of an inch, mm.
/// (Common practice, no source.)
pub const CLOSED: f64 = 0.005;

/// A run of pieces from one entity of the file.
#[derive(Clone, Debug)]
pub struct Trail {
    /// The pieces, each starting where the one before ends.
    pub pieces: Vec<Segment>,
    /// Index of the item.
    pub item: usize,
    /// Whether a curve in it was not read.
    pub unread: bool,
}

impl Trail {
    fn end(&self, which: usize) -> Point {
        let s = if which == 0 {
            self.pieces.first().map(Segment::start)
        } else {
            self.pieces.last().map(Segment::end)
        };
        s.unwrap_or(Point::ORIGIN)
    }

    fn long(&self) -> f64 {
        self.pieces.iter().map(Segment::len).sum()
    }
}

/// Trails that follow each other.
#[derive(Clone, Debug)]
pub struct Chain {
    /// The pieces in order.
    pub pieces: Vec<Segment>,
    /// Items, in order.
    pub items: Vec<usize>,
    /// Whether it closes.
    pub closed: bool,
    /// Whether a curve in it was not read.
    pub unread: bool,
    /// Gaps over [`CLOSED`] that were joined: size and place.
    pub joined: Vec<(f64, Point)>,
}

/// Joins trails. Ends farther than [`CLOSED`] apart are joined up to `join`, if that is more.
pub fn chains(trails: &[Trail], join: f64) -> Vec<Chain> {
    let ends: Vec<Point> = trails.iter().flat_map(|t| [t.end(0), t.end(1)]).collect();
    let long: Vec<f64> = trails.iter().map(Trail::long).collect();
    let mut mate: Vec<Option<usize>> = vec![None; ends.len()];
    for tolerance in [1e-9, SLACK, CLOSED].into_iter().chain((join > CLOSED).then_some(join)) {
        pass(&ends, &long, tolerance, &mut mate);
    }
    let mut used = vec![false; trails.len()];
    let mut out = Vec::new();
    // chains with a loose end first, from that end; what is left after them goes round
    let loose = (0..ends.len()).filter(|e| mate.get(*e).is_some_and(Option::is_none));
    for start in loose.chain((0..trails.len()).map(|t| 2 * t)) {
        if !used.get(start / 2).copied().unwrap_or(true) {
            out.push(walk(trails, &mate, start, &mut used));
        }
    }
    out
}

fn pass(ends: &[Point], long: &[f64], tolerance: f64, mate: &mut [Option<usize>]) {
    let cell = |p: Point| (whole(p.x / tolerance), whole(p.y / tolerance));
    let mut grid: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
    for (e, p) in ends.iter().enumerate() {
        if mate.get(e).is_none_or(Option::is_some) {
            continue;
        }
        let (x, y) = cell(*p);
        let mut best: Option<(f64, usize)> = None;
        for dx in -1..=1i64 {
            for dy in -1..=1i64 {
                for &o in
                    grid.get(&(x.saturating_add(dx), y.saturating_add(dy))).map_or(&[][..], Vec::as_slice)
                {
                    let d = ends.get(o).map_or(f64::INFINITY, |q| span(*p, *q));
                    // the two ends of something this short are not its closing
                    let own = o / 2 == e / 2 && long.get(e / 2).is_none_or(|l| *l <= 4.0 * tolerance);
                    if d <= tolerance && !own && best.is_none_or(|(b, _)| d < b) {
                        best = Some((d, o));
                    }
                }
            }
        }
        match best {
            Some((_, o)) => {
                if let Some(list) = ends.get(o).and_then(|q| grid.get_mut(&cell(*q))) {
                    list.retain(|k| *k != o);
                }
                if let Some(m) = mate.get_mut(e) {
                    *m = Some(o);
                }
                if let Some(m) = mate.get_mut(o) {
                    *m = Some(e);
                }
            }
            None => grid.entry((x, y)).or_default().push(e),
        }
    }
}

/// Follows the mates from one end.
fn walk(trails: &[Trail], mate: &[Option<usize>], start: usize, used: &mut [bool]) -> Chain {
    let mut chain = Chain { pieces: vec![], items: vec![], closed: false, unread: false, joined: vec![] };
    let mut end = start;
    while let Some(t) = trails.get(end / 2) {
        if let Some(u) = used.get_mut(end / 2) {
            *u = true;
        }
        if let Some(last) = chain.pieces.last().map(Segment::end) {
            note(last, t.end(end % 2), &mut chain.joined);
        }
        if end.is_multiple_of(2) {
            chain.pieces.extend(t.pieces.iter().copied());
        } else {
            chain.pieces.extend(t.pieces.iter().rev().map(Segment::reversed));
        }
        chain.items.push(t.item);
        chain.unread |= t.unread;
        // leave by the other end
        match mate.get(end ^ 1).copied().flatten() {
            None => break,
            Some(next) if next == start => {
                let first = chain.pieces.first().map(Segment::start);
                if let (Some(a), Some(b)) = (chain.pieces.last().map(Segment::end), first) {
                    note(a, b, &mut chain.joined);
                }
                chain.closed = true;
                break;
            }
            Some(next) if used.get(next / 2).copied().unwrap_or(true) => break,
            Some(next) => end = next,
        }
    }
    chain
}

fn note(a: Point, b: Point, joined: &mut Vec<(f64, Point)>) {
    let gap = span(a, b);
    if gap > CLOSED {
        joined.push((gap, a.midpoint(b)));
    }
}

/// Pieces of a closed chain with its small gaps bridged: straights reach to their neighbours, two arcs get a
/// straight between them. Pieces without length are left out.
pub fn bridged(pieces: &[Segment]) -> Vec<Segment> {
    let kept: Vec<Segment> = pieces.iter().filter(|s| s.len() > SLACK).copied().collect();
    let n = kept.len();
    let mut out = kept.clone();
    let mut bridges: Vec<(usize, Segment)> = Vec::new();
    for k in 0..n {
        let next = (k + 1) % n;
        let (Some(s), Some(t)) = (out.get(k).copied(), out.get(next).copied()) else { continue };
        let (a, b) = (s.end(), t.start());
        if span(a, b) <= SLACK {
            continue;
        }
        match (s, t) {
            (Segment::Line(l), _) => {
                if let Some(o) = out.get_mut(k) {
                    *o = Segment::line(l.a, b);
                }
            }
            (_, Segment::Line(l)) => {
                if let Some(o) = out.get_mut(next) {
                    *o = Segment::line(a, l.b);
                }
            }
            _ => bridges.push((k, Segment::line(a, b))),
        }
    }
    for (k, s) in bridges.into_iter().rev() {
        out.insert((k + 1).min(out.len()), s);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(item: usize, a: (f64, f64), b: (f64, f64)) -> Trail {
        Trail { pieces: vec![Segment::line(a.into(), b.into())], item, unread: false }
    }

    fn square(gap: f64) -> Vec<Trail> {
        vec![
            line(0, (0.0, 0.0), (10.0, 0.0)),
            line(1, (10.0, 10.0), (10.0, 0.0)),
            line(2, (0.0, 10.0), (10.0, 10.0)),
            line(3, (0.0, 10.0), (0.0, gap)),
        ]
    }

    #[test]
    fn loose_pieces_close_whatever_their_way_round() {
        let c = chains(&square(0.0), 0.0);
        assert_eq!((c.len(), c[0].closed, c[0].items.len(), c[0].joined.len()), (1, true, 4, 0));
        let c = chains(&square(0.004), 0.0);
        assert!(c[0].closed, "rounding is no gap");
    }

    #[test]
    fn a_gap_stays_open_until_it_is_joined() {
        let c = chains(&square(0.08), 0.0);
        assert_eq!((c.len(), c[0].closed, c[0].items.len()), (1, false, 4));
        let c = chains(&square(0.08), 0.1);
        assert!(c[0].closed);
        assert_eq!(c[0].joined.len(), 1);
        assert!((c[0].joined[0].0 - 0.08).abs() < 1e-12);
        assert!(crate::geom::Contour::new(bridged(&c[0].pieces)).is_ok());
    }

    #[test]
    fn twenty_thousand_ends_in_one_place() {
        let star: Vec<Trail> = (0..20_000).map(|k| line(k, (0.0, 0.0), (1.0 + k as f64, 5.0))).collect();
        let c = chains(&star, 0.0);
        assert_eq!(c.len(), 10_000, "each two of them are joined");
    }
}
