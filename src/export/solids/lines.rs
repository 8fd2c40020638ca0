//! The lines of a body as a draughtsman draws them: its edges always, a line along a round surface only where that turns
//! away from who looks. The corners are those of the body's meshes, counted on through them.

use super::body::{Body, Drawn};
use super::mesh::{Fine, Mesh, corners};
use super::space::V3;

/// Cosine of 20 degrees: faces that meet at more make an edge. Chords of a round surface turn by less (`shown.rs`).
const EDGE: f64 = 0.939_692_6;
/// Cosine above which two faces are one.
const SAME: f64 = 1.0 - 1e-9;

/// Lines between corners.
#[derive(Debug, Default)]
pub(super) struct Lines {
    /// Edges.
    pub hard: Vec<[u32; 2]>,
    /// Lines of round surfaces, with the normals of the faces on both sides: seen where one of them faces the eye alone.
    pub soft: Vec<([u32; 2], [V3; 2])>,
}

/// The lines of a body whose meshes are these.
pub(super) fn lines(body: &Body, meshes: &[Mesh], fine: Fine) -> Lines {
    match body {
        Body::Drawn(d) => drawn(d, fine),
        Body::Runs(_) => Lines { hard: Vec::new(), soft: round(meshes) },
        Body::Hull(h) => {
            let around =
                |f: &Vec<usize>| f.iter().copied().zip(f.iter().copied().cycle().skip(1)).collect::<Vec<_>>();
            // each edge belongs to two faces, once each way round
            let once = h.faces.iter().flat_map(around).filter(|(a, b)| a < b);
            Lines { hard: once.map(|(a, b)| [a as u32, b as u32]).collect(), soft: Vec::new() }
        }
    }
}

/// The rims of both ends, and the corners between them.
fn drawn(d: &Drawn, fine: Fine) -> Lines {
    let rings: Vec<_> = d.rings.iter().map(|r| corners(r, fine)).collect();
    let count: u32 = rings.iter().map(|r| r.len() as u32).sum();
    let mut out = Lines::default();
    let mut first = 0;
    for ring in &rings {
        let n = ring.len() as u32;
        let next = || ring.iter().cycle().skip(1);
        // metal is to the left
        let walls: Vec<V3> = ring
            .iter()
            .zip(next())
            .map(|(a, b)| (d.frame.x * (b.y - a.y) - d.frame.y * (b.x - a.x)).unit())
            .collect();
        let before = walls.iter().cycle().skip(walls.len().saturating_sub(1));
        for (k, (wall, last)) in walls.iter().zip(before).enumerate() {
            let (a, b) = (first + k as u32, first + (k as u32 + 1) % n);
            out.hard.extend([[a, b], [a + count, b + count]]);
            let turn = wall.dot(*last);
            if turn < EDGE {
                out.hard.push([a, a + count]);
            } else if turn < SAME {
                out.soft.push(([a, a + count], [*last, *wall]));
            }
        }
        first += n;
    }
    out
}

/// Every edge of closed meshes without an edge of their own.
fn round(meshes: &[Mesh]) -> Vec<([u32; 2], [V3; 2])> {
    let mut out = Vec::new();
    let mut first = 0;
    for m in meshes {
        let at = |k: u32| m.points.get(k as usize).copied().unwrap_or(V3::new(0.0, 0.0, 0.0));
        let mut sides: Vec<([u32; 2], V3)> = Vec::new();
        for [a, b, c] in &m.triangles {
            let normal = (at(*b) - at(*a)).cross(at(*c) - at(*a)).unit();
            sides.extend([(a, b), (b, c), (c, a)].map(|(a, b)| ([*a.min(b), *a.max(b)], normal)));
        }
        sides.sort_by_key(|(edge, _)| *edge);
        for pair in sides.chunks_exact(2) {
            let [(edge, one), (_, other)] = pair else { continue };
            if one.dot(*other) < SAME {
                out.push((edge.map(|k| k + first), [*one, *other]));
            }
        }
        first += m.points.len() as u32;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::super::mesh::meshes;
    use super::super::shown::SCREEN;
    use super::super::space::Frame;
    use super::super::tube::Run;
    use super::*;
    use crate::geom::{Contour, Point};

    fn of(body: &Body) -> Lines {
        lines(body, &meshes(body, SCREEN), SCREEN)
    }

    #[test]
    fn a_box_has_twelve_edges_and_a_can_two_rims() {
        let drawn = |ring| Body::Drawn(Drawn { frame: Frame::WORLD, rings: vec![ring], ends: (0.0, 30.0) });
        let cube = of(&drawn(Contour::rect(Point::ORIGIN, 10.0, 20.0, 0.0)));
        assert_eq!((cube.hard.len(), cube.soft.len()), (12, 0));
        for radius in [1.2, 40.0] {
            let can = of(&drawn(Contour::circle(Point::ORIGIN, radius)));
            assert!(can.soft.len() >= 24 && can.hard.len() == 2 * can.soft.len(), "{}", can.hard.len());
            // outward on both sides of a line: away from the axis
            let mesh = meshes(&drawn(Contour::circle(Point::ORIGIN, radius)), SCREEN);
            for ([a, _], normals) in &can.soft {
                let out = mesh[0].points[*a as usize];
                assert!(normals.iter().all(|n| n.dot(out) > 0.0));
            }
        }
    }

    #[test]
    fn a_ball_shows_its_outline_alone() {
        let ball = Body::Runs(vec![Run::ball(V3::new(5.0, 0.0, -3.0), 10.0)]);
        let found = of(&ball);
        assert!(found.hard.is_empty());
        let eye = V3::new(300.0, 200.0, 1000.0);
        let mesh = meshes(&ball, SCREEN);
        let seen = found.soft.iter().filter(|([a, _], [m, n])| {
            let look = eye - mesh[0].points[*a as usize];
            (m.dot(look) > 0.0) != (n.dot(look) > 0.0)
        });
        // one closed line round it: of all lines a few
        let (seen, all) = (seen.count(), found.soft.len());
        assert!(seen >= 24 && seen * 5 < all, "{seen} of {all}");
    }
}
