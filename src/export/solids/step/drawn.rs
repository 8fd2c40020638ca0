//! Rings drawn out: planes and cylinders. A full circle is two halves, so that every edge has two ends.

use super::super::body::Drawn;
use super::super::space::V3;
use super::brep::{Curve, Shell, Surface};
use crate::geom::{Arc, Contour, Segment};
use std::f64::consts::TAU;

/// The shell of a drawn body.
pub(super) fn shell(d: &Drawn) -> Shell {
    let mut s = Shell::default();
    let (mut top, mut bottom) = (Vec::new(), Vec::new());
    for ring in &d.rings {
        let (up, down) = walls(&mut s, d, &pieces(ring));
        top.push(up);
        bottom.push(down);
    }
    let z = d.frame.z;
    let level = |z: f64| d.frame.point(V3::new(0.0, 0.0, z));
    s.face(Surface::Plane { at: level(d.ends.1), axis: z }, true, top);
    s.face(Surface::Plane { at: level(d.ends.0), axis: -z }, true, bottom);
    s
}

/// The pieces of a ring, whole circles in two halves.
fn pieces(ring: &Contour) -> Vec<Segment> {
    let halves = |s: &Segment| match s {
        Segment::Arc(a) if a.sweep.abs() >= TAU => {
            let middle = a.at(0.5);
            vec![s.part(0.0, 0.5, a.a, middle), s.part(0.5, 1.0, middle, a.b)]
        }
        other => vec![*other],
    };
    ring.segments().iter().flat_map(halves).collect()
}

/// Edge by edge, each with whether it is walked forward.
type Loop = Vec<(usize, bool)>;

/// The walls of one ring; gives the loops of the upper and the lower face.
fn walls(s: &mut Shell, d: &Drawn, pieces: &[Segment]) -> (Loop, Loop) {
    let n = pieces.len();
    let mut rims = Vec::new();
    for z in [d.ends.0, d.ends.1] {
        let corners: Vec<usize> = pieces.iter().map(|p| s.corner(d.frame.lifted(p.start(), z))).collect();
        let next = corners.iter().cycle().skip(1);
        let edges: Vec<usize> = pieces
            .iter()
            .zip(corners.iter().zip(next))
            .map(|(p, (a, b))| s.edge(*a, *b, curve(d, p, z)))
            .collect();
        rims.push((corners, edges));
    }
    let [(low, below), (high, above)] = &rims[..] else { return (Vec::new(), Vec::new()) };
    let posts: Vec<usize> = low.iter().zip(high).map(|(a, b)| s.edge(*a, *b, Curve::Straight)).collect();
    for (k, piece) in pieces.iter().enumerate() {
        let edges = (below.get(k), posts.get((k + 1) % n), above.get(k), posts.get(k));
        let (Some(b), Some(next), Some(a), Some(this)) = edges else { continue };
        let ring = vec![(*b, true), (*next, true), (*a, false), (*this, false)];
        let (surface, outward) = wall(d, piece);
        s.face(surface, outward, vec![ring]);
    }
    let up = above.iter().map(|e| (*e, true)).collect();
    let down = below.iter().rev().map(|e| (*e, false)).collect();
    (up, down)
}

fn curve(d: &Drawn, piece: &Segment, z: f64) -> Curve {
    match piece {
        Segment::Line(_) => Curve::Straight,
        Segment::Arc(a) => {
            let centre = d.frame.lifted(a.centre, z);
            Curve::Circle { centre, axis: d.frame.z, radius: a.radius, ccw: a.sweep > 0.0 }
        }
    }
}

/// The surface of a wall, and whether its own normal points out: metal is to the left of the ring.
fn wall(d: &Drawn, piece: &Segment) -> (Surface, bool) {
    match piece {
        Segment::Line(l) => {
            let along = l.b - l.a;
            let out = (d.frame.x * along.y - d.frame.y * along.x).unit();
            (Surface::Plane { at: d.frame.lifted(l.a, d.ends.0), axis: out }, true)
        }
        Segment::Arc(a) => (cylinder(d, a), a.sweep > 0.0),
    }
}

fn cylinder(d: &Drawn, a: &Arc) -> Surface {
    let towards = a.a - a.centre;
    Surface::Cylinder {
        at: d.frame.lifted(a.centre, d.ends.0),
        axis: d.frame.z,
        towards: d.frame.x * towards.x + d.frame.y * towards.y,
        radius: a.radius,
    }
}
