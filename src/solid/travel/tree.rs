//! The pieces of a solid as a tree of convex sets: its leaves are the pieces, and every node above holds all that is
//! below it. What is proven of a node holds for its pieces; a bent tube of hundreds of pieces is settled by a few.
//! Exact to rounding at the leaves; above, boxes around.

use crate::solid::{Bounds, Core, Piece, Solid, Vec3};

/// A convex set around some pieces of a solid, or one of them.
#[derive(Clone, Debug)]
pub(super) struct Node<'a> {
    /// The piece, of a leaf.
    pub piece: Option<&'a Piece>,
    /// The corners of a box around the cores, of what is no leaf.
    around: Core,
    /// Points whose hull holds the core.
    pub corners: Vec<Vec3>,
    /// By how much its core is rounded.
    pub radius: f64,
    /// The two nodes below.
    pub below: Option<[usize; 2]>,
    /// How large it is, mm.
    pub size: f64,
}

impl<'a> Node<'a> {
    /// What it is before rounding.
    #[inline]
    pub fn core(&self) -> &Core {
        self.piece.map_or(&self.around, |p| &p.core)
    }

    fn leaf(piece: &'a Piece) -> Node<'a> {
        let corners = match &piece.core {
            Core::Points(points) => points.clone(),
            Core::Prism { section, from, to, pose } => {
                let b = section.bounds();
                let at = |x: f64, y: f64, d: f64| pose.point(Vec3::new(x, y, d));
                [b.x0, b.x1]
                    .iter()
                    .flat_map(|&x| [b.y0, b.y1].map(|y| [at(x, y, *from), at(x, y, *to)]))
                    .flatten()
                    .collect()
            }
            Core::Bar { ends, axis, radius } => {
                // two directions across the axis: a square around the circle
                let least = [axis.x.abs(), axis.y.abs(), axis.d.abs()];
                let aside = if least[0] <= least[1] && least[0] <= least[2] {
                    Vec3::new(1.0, 0.0, 0.0)
                } else if least[1] <= least[2] {
                    Vec3::new(0.0, 1.0, 0.0)
                } else {
                    Vec3::FORWARD
                };
                let u = axis.cross(aside).unit().unwrap_or(aside) * *radius;
                let v = axis.cross(u);
                ends.iter().flat_map(|&e| [e + u + v, e + u - v, e - u + v, e - u - v]).collect()
            }
        };
        let size = 2.0 * piece.ball.1;
        let around = Core::Points(Vec::new());
        Node { piece: Some(piece), around, corners, radius: piece.radius, below: None, size }
    }

    fn above(nodes: &[Node<'a>], below: [usize; 2]) -> Node<'a> {
        let parts = || below.iter().filter_map(|&n| nodes.get(n));
        let mut points = parts().flat_map(|n| n.corners.iter().copied());
        let first = points.next().unwrap_or_default();
        let b =
            points.fold(Bounds { low: first, high: first }, |all, p| all.union(&Bounds { low: p, high: p }));
        let corner = |k: usize| {
            let pick = |bit: usize, low: f64, high: f64| if k >> bit & 1 == 0 { low } else { high };
            Vec3::new(pick(0, b.low.x, b.high.x), pick(1, b.low.y, b.high.y), pick(2, b.low.d, b.high.d))
        };
        let corners: Vec<Vec3> = (0..8).map(corner).collect();
        let radius = parts().map(|n| n.radius).fold(0.0, f64::max);
        let size = (b.high - b.low).length() + 2.0 * radius;
        Node { piece: None, around: Core::Points(corners.clone()), corners, radius, below: Some(below), size }
    }
}

/// All nodes of a solid, the whole of it last.
#[derive(Clone, Debug)]
pub(super) struct Tree<'a> {
    nodes: Vec<Node<'a>>,
}

impl<'a> Tree<'a> {
    /// Of a solid; neighbours in its list of pieces stay together.
    pub fn new(solid: &'a Solid) -> Tree<'a> {
        let mut nodes: Vec<Node<'a>> = solid.pieces().iter().map(Node::leaf).collect();
        let mut level: Vec<usize> = (0..nodes.len()).collect();
        while level.len() > 1 {
            let mut next = Vec::with_capacity(level.len().div_ceil(2));
            for pair in level.chunks(2) {
                match *pair {
                    [a, b] => {
                        nodes.push(Node::above(&nodes, [a, b]));
                        next.push(nodes.len() - 1);
                    }
                    _ => next.extend_from_slice(pair),
                }
            }
            level = next;
        }
        Tree { nodes }
    }

    /// The whole solid.
    pub fn top(&self) -> Option<usize> {
        self.nodes.len().checked_sub(1)
    }

    /// A node.
    #[inline]
    pub fn get(&self, node: usize) -> Option<&Node<'a>> {
        self.nodes.get(node)
    }

    /// The pieces.
    pub fn leaves(&self) -> impl Iterator<Item = &Node<'a>> {
        self.nodes.iter().filter(|n| n.piece.is_some())
    }
}
