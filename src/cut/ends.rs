//! The loose ends of open chains, and for each the nearest other one.

use super::gather::Open;
use crate::geom::{Point, Segment, span};
use rstar::RTree;
use rstar::primitives::GeomWithData;

/// The ends, each with the place of its chain in the list; and for each the place of the nearest other end in this list,
/// and how far off it is, mm.
pub struct Ends {
    /// Chain and point.
    pub list: Vec<(usize, Point)>,
    /// Nearest other end, of any chain; `None`: there is none.
    pub nearest: Vec<Option<(usize, f64)>>,
}

impl Ends {
    /// Of open chains.
    pub fn of(open: &[Open]) -> Ends {
        let both = |o: &Open| [o.pieces.first().map(Segment::start), o.pieces.last().map(Segment::end)];
        let list: Vec<(usize, Point)> = open
            .iter()
            .enumerate()
            .flat_map(|(k, o)| both(o).into_iter().flatten().map(move |p| (k, p)))
            .collect();
        let tree = RTree::bulk_load(
            list.iter().enumerate().map(|(e, (_, p))| GeomWithData::new([p.x, p.y], e)).collect(),
        );
        let nearest = list
            .iter()
            .enumerate()
            .map(|(e, (_, p))| {
                let other = tree.nearest_neighbor_iter(&[p.x, p.y]).map(|g| g.data).find(|o| *o != e)?;
                list.get(other).map(|(_, q)| (other, span(*p, *q)))
            })
            .collect();
        Ends { list, nearest }
    }
}
