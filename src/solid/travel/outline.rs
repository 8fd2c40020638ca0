//! The outline, seen from the seat, of all the room that a solid takes on its travel: keep-out bands of controls.
//!
//! On the safe side: it holds the solid, grown, wherever its drivers stand, by the bound of `corners.rs` for parts of
//! the domain. And it is hardly larger: each point of a part's hull is a weighted mean of points of the solid with the
//! drivers at corners of the part. Put what turns at its middle: no point moves farther than half ranges times rates,
//! and the mean of the points then lies in the solid swept along its slides, which is convex. Tangents in place of round
//! outlines add what was left of the tolerance.

use super::reach::{carrying, chain, domain, moving, parts};
use super::tree::Tree;
use super::{Mechanism, Moved};
use crate::geom::overlay::Area;
use crate::geom::{Contour, Point, Vec2, angle};
use crate::solid::{Core, Pose, Vec3};
use std::f64::consts::FRAC_PI_2;

/// Room seen from the seat.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// Its outlines and those of its gaps: by the even-odd rule they are the area.
    pub contours: Vec<Contour>,
    /// No point of it is farther than this, mm, from where a piece of the solid is at some pose.
    pub within: f64,
}

/// Parts of the domain times pieces that are drawn at the most; where they do not do, the band says how wide it is.
const MOST: usize = 512;

/// How often a quarter turn of tangents is halved at the most.
const HALVED: u32 = 10;

/// The room that a solid, grown, takes on its whole travel, seen from the seat: never too small, and by `tolerance`
/// mm (at least 0.1) too large at the most, or by what the band says.
pub fn sweep_outline(mechanism: &Mechanism, moved: Moved<'_>, tolerance: f64) -> Band {
    let tolerance = tolerance.max(0.1);
    let tree = Tree::new(moved.solid);
    let links = moved.link.map_or_else(Vec::new, |l| carrying(mechanism, l, moved.solid, None));
    let drivers = moving(mechanism, &links);
    let chain = chain(mechanism, &links, &drivers);
    let most = (MOST / tree.leaves().count().max(1)).max(1);
    let half = tolerance / 2.0;
    let parts = parts(&chain, &tree, &domain(mechanism, &drivers), most, |r| r.gone + r.bent <= half);
    let mut polygons = Vec::new();
    let mut off = 0.0_f64;
    for part in parts {
        let (poses, stray) = part.poses(&chain);
        off = off.max(if poses.len() > 1 { part.room.gone + stray } else { 2.0 * stray });
        for leaf in tree.leaves() {
            let round = leaf.radius + moved.grow + stray;
            polygons.push(tangents(leaf.core(), &poses, round, half));
        }
    }
    let excess = tree.leaves().filter_map(|n| n.piece).map(|p| p.excess).fold(0.0, f64::max);
    Band { contours: Area::of(&polygons).contours(0.0), within: off + half + excess }
}

/// A tangent: its direction, how far it is out, and the point where it touches.
#[derive(Clone, Copy)]
struct Tangent {
    out: Vec2,
    reach: f64,
    at: Point,
}

/// A polygon around the hull of a core at some poses, rounded, seen from the seat: at most `off` outside it.
fn tangents(core: &Core, poses: &[Pose], round: f64, off: f64) -> Vec<Point> {
    let tangent = |turn: f64| {
        let out = angle::unit(turn);
        let u = Vec3::new(out.x, out.y, 0.0);
        let mut best = (f64::NEG_INFINITY, Point::ORIGIN);
        for pose in poses {
            let p = pose.point(core.support(pose.back(u)));
            if p.dot(u) > best.0 {
                best = (p.dot(u), Point::new(p.x, p.y));
            }
        }
        Tangent { out, reach: best.0 + round, at: best.1 + out * round }
    };
    let mut corners = Vec::new();
    for quarter in 0..4 {
        let turn = f64::from(quarter) * FRAC_PI_2;
        between(
            &tangent,
            turn,
            FRAC_PI_2,
            (tangent(turn), tangent(turn + FRAC_PI_2)),
            off,
            HALVED,
            &mut corners,
        );
    }
    corners.dedup_by(|a, b| (*a - *b).hypot2() < 1e-18);
    corners
}

/// Corners of the polygon from one tangent to another, the angle between them halved as long as they meet too far out.
fn between(
    tangent: &impl Fn(f64) -> Tangent,
    turn: f64,
    by: f64,
    (a, b): (Tangent, Tangent),
    off: f64,
    halved: u32,
    corners: &mut Vec<Point>,
) {
    let det = a.out.cross(b.out);
    let meet = Point::new(
        (a.reach * b.out.y - b.reach * a.out.y) / det,
        (a.out.x * b.reach - b.out.x * a.reach) / det,
    );
    let (along, to) = (b.at - a.at, meet - a.at);
    let t = if along.hypot2() > 0.0 { (to.dot(along) / along.hypot2()).clamp(0.0, 1.0) } else { 0.0 };
    if halved == 0 || (to - along * t).hypot2() <= off * off {
        corners.push(meet);
        return;
    }
    let middle = tangent(turn + by / 2.0);
    between(tangent, turn, by / 2.0, (a, middle), off, halved - 1, corners);
    between(tangent, turn + by / 2.0, by / 2.0, (middle, b), off, halved - 1, corners);
}
