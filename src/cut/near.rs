//! Pieces near each other: where different contours meet or lie on each other, and the least metal between
//! them. Distances are closed forms on straights and arcs; boxes in a tree keep far pieces apart.

use super::same::{SAME, bounds, overlap};
use crate::geom::distance::pair;
use crate::geom::{Point, Rect, SLACK, Segment};
use rstar::primitives::{GeomWithData, Rectangle};
use rstar::{AABB, RTree};
use std::collections::BTreeMap;

/// Most pairs of pieces that are compared; a file that asks for more is not judged in this.
const MOST_PAIRS: usize = 20_000_000;

/// A piece and the shape that it belongs to.
struct Bit {
    owner: usize,
    piece: Segment,
    bounds: Rect,
}

/// All pieces of a list of shapes.
pub struct Field {
    bits: Vec<Bit>,
    tree: RTree<GeomWithData<Rectangle<[f64; 2]>, usize>>,
    left: usize,
}

/// Where two shapes lie on each other: length and ends of the longest stretch.
pub type Overlap = (f64, [Point; 2]);

/// How shapes meet, by pair (the smaller index first).
#[derive(Default)]
pub struct Meetings {
    /// Stretches that lie on each other, summed up, with the ends of the longest.
    pub overlaps: BTreeMap<(usize, usize), Overlap>,
    /// One place where they cross or touch.
    pub crossings: BTreeMap<(usize, usize), Point>,
}

/// Which of `others` cross, touch or lie on the pieces of one shape. Only these are laid in a tree, so that shapes whose
/// box is nowhere near cost one question each.
pub fn meeting(one: &[Segment], others: &[&[Segment]]) -> Vec<usize> {
    let field = Field::new(&[one]);
    let near = |r: Rect| field.around(r, SLACK).filter_map(|k| field.bits.get(k));
    let meets = |s: &Segment| near(s.bounds()).any(|a| pair(&a.piece, s).distance() <= SLACK);
    let close = |s: &[Segment]| bounds(s).is_some_and(|b| near(b).next().is_some());
    let all = others.iter().enumerate();
    all.filter(|(_, s)| close(s) && s.iter().any(meets)).map(|(k, _)| k).collect()
}

/// The shapes whose box comes within [`SAME`] of another one's: no others can meet.
pub fn neighbours(boxes: &[Rect]) -> Vec<usize> {
    let leaf =
        |(k, r): (usize, &Rect)| GeomWithData::new(Rectangle::from_corners([r.x0, r.y0], [r.x1, r.y1]), k);
    let tree = RTree::bulk_load(boxes.iter().enumerate().map(leaf).collect());
    let other = |(k, r): &(usize, &Rect)| {
        let r = r.inflate(SAME, SAME);
        let around = AABB::from_corners([r.x0, r.y0], [r.x1, r.y1]);
        tree.locate_in_envelope_intersecting(&around).any(|g| g.data != *k)
    };
    boxes.iter().enumerate().filter(other).map(|(k, _)| k).collect()
}

/// A distance and the two places.
pub type Web = (f64, [Point; 2]);

impl Field {
    /// Takes in the pieces of shapes; a shape's place in the list is its number.
    pub fn new(shapes: &[&[Segment]]) -> Field {
        let mut bits = Vec::new();
        for (owner, s) in shapes.iter().enumerate() {
            bits.extend(s.iter().map(|piece| Bit { owner, piece: *piece, bounds: piece.bounds() }));
        }
        let boxes = bits.iter().enumerate().map(|(k, b)| {
            let r = b.bounds;
            GeomWithData::new(Rectangle::from_corners([r.x0, r.y0], [r.x1, r.y1]), k)
        });
        let tree = RTree::bulk_load(boxes.collect());
        Field { bits, tree, left: MOST_PAIRS }
    }

    /// Whether there were too many pairs to compare.
    pub fn overran(&self) -> bool {
        self.left == 0
    }

    fn around(&self, r: Rect, reach: f64) -> impl Iterator<Item = usize> + '_ {
        let r = r.inflate(reach, reach);
        self.tree
            .locate_in_envelope_intersecting(&AABB::from_corners([r.x0, r.y0], [r.x1, r.y1]))
            .map(|g| g.data)
    }

    /// How shapes meet. `closed`: whether a shape is a closed contour, whose own pieces are judged elsewhere.
    pub fn meetings(&mut self, closed: impl Fn(usize) -> bool) -> Meetings {
        let mut out = Meetings::default();
        let mut left = self.left;
        'all: for (i, a) in self.bits.iter().enumerate() {
            for j in self.around(a.bounds, SAME) {
                let Some(b) = self.bits.get(j).filter(|_| j > i) else { continue };
                let own = a.owner == b.owner;
                if own && closed(a.owner) {
                    continue;
                }
                left = left.saturating_sub(1);
                if left == 0 {
                    break 'all;
                }
                let key = (a.owner.min(b.owner), a.owner.max(b.owner));
                if let Some((long, ends)) = overlap(&a.piece, &b.piece) {
                    let sum = out.overlaps.entry(key).or_insert((0.0, ends));
                    if long > sum.0 {
                        sum.1 = ends;
                    }
                    sum.0 += long;
                } else if !own {
                    let near = pair(&a.piece, &b.piece);
                    if near.distance() <= SLACK {
                        let [p, _] = near.at;
                        out.crossings.entry(key).or_insert(p);
                    }
                }
            }
        }
        self.left = left;
        out
    }

    /// The least distance over pairs of shapes that `counts` lets through, and every pair below `limit`.
    /// `asks`: the shapes from which is looked; each of them must have a partner somewhere, or the search is
    /// over all pairs.
    pub fn webs(
        &mut self,
        limit: f64,
        asks: impl Fn(usize) -> bool,
        counts: impl Fn(usize, usize) -> bool,
    ) -> (Option<Web>, BTreeMap<(usize, usize), Web>) {
        let mut least: Option<Web> = None;
        let mut below: BTreeMap<(usize, usize), Web> = BTreeMap::new();
        let mut left = self.left;
        'all: for a in self.bits.iter().filter(|b| asks(b.owner)) {
            let reach = least.map_or(f64::INFINITY, |(d, _)| d.max(limit));
            let mut here = reach;
            for j in self.around(a.bounds, reach.min(1e9)) {
                let Some(b) = self.bits.get(j).filter(|b| b.owner != a.owner) else { continue };
                left = left.saturating_sub(1);
                if left == 0 {
                    break 'all;
                }
                let far = crate::geom::distance::box_distance2(&a.bounds, &b.bounds);
                if far > here * here || !counts(a.owner, b.owner) {
                    continue;
                }
                let near = pair(&a.piece, &b.piece);
                let d = near.distance();
                if least.is_none_or(|(l, _)| d < l) {
                    least = Some((d, near.at));
                    here = d.max(limit);
                }
                if d < limit - SLACK {
                    let key = (a.owner.min(b.owner), a.owner.max(b.owner));
                    let kept = below.entry(key).or_insert((d, near.at));
                    if d < kept.0 {
                        *kept = (d, near.at);
                    }
                }
            }
        }
        self.left = left;
        (least, below)
    }
}
