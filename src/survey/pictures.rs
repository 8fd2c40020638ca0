//! What the adjustment says of each picture: scale, residuals, lens, and what stands off the plane.

use super::solve::Solved;
use crate::geom::{Point, Vec2};

/// A picture after the adjustment.
#[derive(Clone, Debug)]
pub struct Summary {
    /// The picture.
    pub picture: usize,
    /// Places picked.
    pub picks: usize,
    /// Root of the mean square of the residuals in use, pixels.
    pub rms: f64,
    /// What one pixel covers at its picks, mm: least and most.
    pub covers: (f64, f64),
    /// What the lens does at the corner and its deviation, pixels.
    pub lens: Option<(f64, f64)>,
    /// What may stand off the plane: point, by how much, and how far it would then lie elsewhere; mm. No shift where
    /// the camera's place is not known.
    pub off_plane: Vec<(usize, f64, Option<f64>)>,
    /// Points with a depth that was not put right: the camera's place is not known.
    pub not_put_right: Vec<usize>,
    /// The farthest that a picked point seems to move for each mm that it stands off.
    pub parallax: Option<f64>,
}

/// Of every picture, by id.
pub fn summaries(s: &Solved) -> Vec<Summary> {
    (0..s.network.pictures.len()).map(|k| summary(s, k)).collect()
}

fn summary(s: &Solved, picture: usize) -> Summary {
    let n = &s.network;
    let camera = &s.adjusted.state.cameras[picture];
    let picks: Vec<_> = n.picks.iter().filter(|k| k.picture == picture).collect();
    let (mut sum, mut count) = (0.0, 0usize);
    for (o, test) in n.observations.iter().zip(&s.tests) {
        use super::observation::Relation as R;
        let (R::Picked { pick, .. } | R::Edge { pick, .. }) = o.relation else { continue };
        if let (Some(t), true) = (test, n.picks[pick].picture == picture) {
            (sum, count) = (sum + t.residual * t.residual, count + 1);
        }
    }
    let at = |p: usize| s.adjusted.state.at[p];
    let wide = |p: Point| {
        let [x, y] = camera.shows(p, 0.0).by_point;
        1.0 / x.cross(y).abs().sqrt().max(1e-9)
    };
    let covers = picks.iter().map(|k| wide(at(k.point)));
    let covers = covers.fold((f64::INFINITY, 0.0f64), |(a, b), w| (a.min(w), b.max(w)));
    let shift = |p: usize| camera.parallax(at(p)).map(|v: Vec2| v.hypot2().sqrt());
    let mut points: Vec<(usize, Option<f64>)> = picks.iter().map(|k| (k.point, k.may_stand_off)).collect();
    points.dedup();
    Summary {
        picture,
        picks: picks.len(),
        rms: (sum / count.max(1) as f64).sqrt(),
        covers,
        lens: n.pictures[picture]
            .lens_unknown()
            .map(|u| (camera.lens, s.cofactor.at(u, u).max(0.0).sqrt() * s.scale)),
        off_plane: points
            .iter()
            .filter_map(|(p, by)| by.map(|by| (*p, by, shift(*p).map(|v| v * by))))
            .collect(),
        not_put_right: points
            .iter()
            .map(|(p, _)| *p)
            .filter(|p| n.points[*p].depth != 0.0 && camera.focal().is_none())
            .collect(),
        parallax: points.iter().filter_map(|(p, _)| shift(*p)).reduce(f64::max),
    }
}
