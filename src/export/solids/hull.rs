//! The convex hull of a few points as flat faces: each face one polygon, however many points lie in it.
//!
//! Every plane through three points that leaves all others on one side is a face: exact to rounding, for as many
//! points as a linkage plate has (the work grows with the fourth power of their number, see [`MOST`]).

use super::space::V3;

/// Points nearer to a plane than this part of the hull's size lie in it: rounding of a turned point is far below.
const FLAT: f64 = 1e-9;
/// Most points: a hundred take a few million steps.
const MOST: usize = 120;

/// Corners and faces.
#[derive(Clone, Debug)]
pub(super) struct Hull {
    pub points: Vec<V3>,
    /// Indices of the corners of each face, counter-clockwise seen from outside.
    pub faces: Vec<Vec<usize>>,
}

/// The hull of points.
///
/// # Errors
/// Too few points, points in one plane, too many, or so nearly in a plane that the faces do not close.
pub(super) fn hull(given: &[V3]) -> Result<Hull, &'static str> {
    if given.len() > MOST {
        return Err("it has more than 120 points");
    }
    let size = given.iter().flat_map(|p| given.iter().map(move |q| (*p - *q).length())).fold(0.0, f64::max);
    let near = FLAT * size;
    let mut points: Vec<V3> = Vec::new();
    for p in given {
        if !points.iter().any(|q| (*q - *p).length() <= near) {
            points.push(*p);
        }
    }
    let mut faces: Vec<(V3, f64, Vec<usize>)> = Vec::new();
    for i in 0..points.len() {
        for j in i + 1..points.len() {
            for k in j + 1..points.len() {
                if let Some(face) = face(&points, (i, j, k), near, &faces) {
                    faces.push(face);
                }
            }
        }
    }
    let faces: Vec<Vec<usize>> = faces.into_iter().map(|(n, _, on)| around(&points, &on, n, near)).collect();
    if faces.len() < 4 {
        return Err("its points lie in one plane");
    }
    if !closes(&faces) {
        return Err("some of its points lie so nearly in one plane that its faces do not close");
    }
    Ok(Hull { points, faces })
}

/// The face through three points, when it is one and new: outward normal, its place along it, the points in it.
fn face(
    points: &[V3],
    (i, j, k): (usize, usize, usize),
    near: f64,
    known: &[(V3, f64, Vec<usize>)],
) -> Option<(V3, f64, Vec<usize>)> {
    if known.iter().any(|(.., on)| [i, j, k].iter().all(|c| on.contains(c))) {
        return None;
    }
    let (a, b, c) = (points.get(i)?, points.get(j)?, points.get(k)?);
    let across = (*b - *a).cross(*c - *a);
    let longest = [(*b - *a), (*c - *a), (*c - *b)].iter().map(|v| v.length()).fold(0.0, f64::max);
    // three points in line span no plane
    if across.length() <= near * longest {
        return None;
    }
    let normal = across.unit();
    let heights: Vec<f64> = points.iter().map(|p| normal.dot(*p - *a)).collect();
    let (below, above) = (heights.iter().any(|h| *h < -near), heights.iter().any(|h| *h > near));
    if below == above {
        return None;
    }
    let outward = if below { normal } else { -normal };
    let on = heights.iter().enumerate().filter(|(_, h)| h.abs() <= near).map(|(k, _)| k).collect();
    Some((outward, outward.dot(*a), on))
}

/// The corners of the polygon around points of one plane, counter-clockwise about the normal; points between two
/// corners are none.
fn around(points: &[V3], on: &[usize], normal: V3, near: f64) -> Vec<usize> {
    let u = normal.across();
    let v = normal.cross(u);
    let flat = |k: usize| points.get(k).map_or((0.0, 0.0), |p| (p.dot(u), p.dot(v)));
    let mut order: Vec<usize> = on.to_vec();
    order.sort_by(|a, b| {
        let ((ax, ay), (bx, by)) = (flat(*a), flat(*b));
        ax.total_cmp(&bx).then(ay.total_cmp(&by))
    });
    let half = |list: &mut dyn Iterator<Item = usize>| {
        let mut chain: Vec<usize> = Vec::new();
        for k in list {
            while let [.., a, b] = chain[..] {
                let ((ax, ay), (bx, by), (cx, cy)) = (flat(a), flat(b), flat(k));
                let (ex, ey) = (cx - ax, cy - ay);
                let off = (bx - ax) * ey - (by - ay) * ex;
                // b stays where it stands out to the right of a - k by more than rounding
                if off > near * (ex * ex + ey * ey).sqrt() {
                    break;
                }
                chain.pop();
            }
            chain.push(k);
        }
        chain.pop();
        chain
    };
    let mut ring = half(&mut order.iter().copied());
    ring.extend(half(&mut order.iter().rev().copied()));
    ring
}

/// Whether every edge has a face on both sides.
fn closes(faces: &[Vec<usize>]) -> bool {
    let edges: Vec<(usize, usize)> =
        faces.iter().flat_map(|f| f.iter().copied().zip(f.iter().copied().cycle().skip(1))).collect();
    let count = |e: (usize, usize)| edges.iter().filter(|x| **x == e).count();
    edges.iter().all(|(a, b)| count((*a, *b)) == 1 && count((*b, *a)) == 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_box_has_six_faces_whatever_lies_in_them() {
        let mut points = Vec::new();
        for x in [0.0, 5.0, 10.0] {
            for y in [0.0, 20.0] {
                for z in [-3.0, 0.0, 30.0] {
                    points.push(V3::new(x, y, z));
                }
            }
        }
        // turned in space, so that nothing is exact
        let axis = V3::new(0.48, -0.6, 0.64);
        let turned: Vec<V3> =
            points.iter().map(|p| p.turned(axis, crate::geom::angle::sin_cos(0.7))).collect();
        for list in [points, turned] {
            let h = hull(&list).unwrap();
            assert_eq!(h.faces.len(), 6);
            assert!(h.faces.iter().all(|f| f.len() == 4), "{:?}", h.faces);
        }
    }

    #[test]
    fn what_is_flat_is_refused() {
        let flat: Vec<V3> = (0..6).map(|k| V3::new(f64::from(k), f64::from(k * k), 2.0)).collect();
        assert!(hull(&flat).is_err());
        assert!(hull(&[]).is_err());
        assert!(hull(&[V3::new(1.0, 1.0, 1.0); 5]).is_err());
    }
}
