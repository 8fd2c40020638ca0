//! A convex hull: planes alone.

use super::super::hull::Hull;
use super::brep::{Curve, Shell, Surface};
use std::collections::BTreeMap;

/// The shell of a hull.
pub(super) fn shell(h: &Hull) -> Shell {
    // a point within a face or an edge is no corner
    let mut used: Vec<usize> = h.faces.iter().flatten().copied().collect();
    used.sort();
    used.dedup();
    let corners = used.iter().filter_map(|k| h.points.get(*k).copied()).collect();
    let mut s = Shell { corners, ..Shell::default() };
    let mut edges: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    for face in &h.faces {
        let corners: Vec<usize> = face.iter().filter_map(|k| used.binary_search(k).ok()).collect();
        let mut ring = Vec::new();
        for (a, b) in corners.iter().zip(corners.iter().cycle().skip(1)) {
            match edges.get(&(*b, *a)) {
                Some(e) => ring.push((*e, false)),
                None => {
                    let e = s.edge(*a, *b, Curve::Straight);
                    edges.insert((*a, *b), e);
                    ring.push((e, true));
                }
            }
        }
        let at = |k: usize| corners.get(k).and_then(|c| s.corners.get(*c)).copied();
        let (Some(a), Some(b), Some(c)) = (at(0), at(1), at(2)) else { continue };
        let axis = (b - a).cross(c - a).unit();
        s.face(Surface::Plane { at: a, axis }, true, vec![ring]);
    }
    s
}
