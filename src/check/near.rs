//! Who is near whom: boxes of subjects. A plain scan for a few, a tree of boxes for many.
//!
//! Exact: it finds every box that meets the asked one, in the order of their numbers.

use crate::geom::Rect;
use rstar::primitives::{GeomWithData, Rectangle};
use rstar::{AABB, RTree};

/// Below this number a scan over all boxes is quicker than building a tree (measured: about equal at
/// 300 for a whole check; a recheck asks once and never wants the tree).
const SCAN: usize = 300;

type Leaf = GeomWithData<Rectangle<[f64; 2]>, u32>;

/// Boxes to be asked for.
pub(super) struct Near<'a> {
    boxes: &'a [Option<Rect>],
    tree: Option<RTree<Leaf>>,
}

impl<'a> Near<'a> {
    /// Makes ready; subjects without a box are never near. `asks`: how often it will be asked.
    pub fn new(boxes: &'a [Option<Rect>], asks: usize) -> Near<'a> {
        let tree = (boxes.len() > SCAN && asks > 32).then(|| {
            let leaves = boxes.iter().enumerate().filter_map(|(k, b)| {
                let b = (*b)?;
                Some(Leaf::new(Rectangle::from_corners([b.x0, b.y0], [b.x1, b.y1]), k as u32))
            });
            RTree::bulk_load(leaves.collect())
        });
        Near { boxes, tree }
    }

    /// Numbers of the boxes that meet `around`, ascending, into `out`.
    pub fn meet(&self, around: &Rect, out: &mut Vec<usize>) {
        out.clear();
        match &self.tree {
            Some(tree) => {
                let window = AABB::from_corners([around.x0, around.y0], [around.x1, around.y1]);
                out.extend(tree.locate_in_envelope_intersecting(&window).map(|leaf| leaf.data as usize));
                out.sort_unstable();
            }
            None => out.extend(self.boxes.iter().enumerate().filter_map(|(k, b)| {
                let b = (*b)?;
                meets(&b, around).then_some(k)
            })),
        }
    }
}

/// Whether two boxes meet, edges included.
#[inline]
pub(super) fn meets(a: &Rect, b: &Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}
