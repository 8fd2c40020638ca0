//! A tube as runs: smooth chains of straights and arcs, each with a frame that is carried along without twist.
//!
//! A tube is everything within its radius of its centre line, so its ends are round. Where two legs meet at an angle
//! the tube is written as two runs whose round ends lie in each other: together they are exactly the tube.

use super::space::V3;
use crate::geom::angle;
use crate::solid::{Leg, Pose};

/// Legs whose directions differ by less (radians) count as smooth: at the end of a leg of a metre that is 1e-5 mm.
const SMOOTH: f64 = 1e-8;

/// A smooth chain of legs with round ends.
#[derive(Clone, Debug)]
pub(super) struct Run {
    pub radius: f64,
    /// One section before each leg and one behind the last; one alone makes a ball.
    pub sections: Vec<Section>,
    /// Legs in order.
    pub legs: Vec<Way>,
}

/// A round section.
#[derive(Clone, Copy, Debug)]
pub(super) struct Section {
    pub centre: V3,
    /// Direction of travel.
    pub along: V3,
    /// A unit vector across it: where the section's circle starts.
    pub first: V3,
}

impl Section {
    /// The other unit vector of its plane: counter-clockwise from `first`, seen against the travel.
    pub fn second(&self) -> V3 {
        self.along.cross(self.first)
    }
}

/// A leg between two sections.
#[derive(Clone, Copy, Debug)]
pub(super) enum Way {
    /// Straight.
    Straight,
    /// About the line through `centre` along the unit vector `axis`, by `angle` radians above zero, right-handed.
    Bend { centre: V3, axis: V3, angle: f64 },
}

impl Run {
    /// A ball.
    pub fn ball(centre: V3, radius: f64) -> Run {
        let along = V3::new(0.0, 0.0, 1.0);
        let only = Section { centre, along, first: along.across() };
        Run { radius, sections: vec![only], legs: Vec::new() }
    }
}

impl Section {
    /// The section at a part of a bend.
    pub fn bent(&self, centre: V3, axis: V3, radians: f64) -> Section {
        let turn = angle::sin_cos(radians);
        let turned = |v: V3| v.turned(axis, turn);
        Section {
            centre: centre + turned(self.centre - centre),
            along: turned(self.along),
            first: turned(self.first),
        }
    }
}

/// The runs of a path in its place.
///
/// # Errors
/// A path without a leg, a bend without a radius, a bend tighter than the tube.
pub(super) fn runs(path: &[Leg], radius: f64, pose: &Pose) -> Result<Vec<Run>, &'static str> {
    let mut runs: Vec<Run> = Vec::new();
    for leg in path {
        let Some((start, way, end)) = placed(leg, radius, pose)? else { continue };
        let smooth = |r: &&mut Run| r.sections.last().is_some_and(|s| (s.along - start).length() < SMOOTH);
        let run = match runs.last_mut().filter(smooth) {
            Some(run) => run,
            None => {
                let from = V3::mirrored(pose.point(first(leg)));
                let section = Section { centre: from, along: start, first: start.across() };
                runs.push(Run { radius, sections: vec![section], legs: Vec::new() });
                match runs.last_mut() {
                    Some(run) => run,
                    None => continue,
                }
            }
        };
        let Some(last) = run.sections.last() else { continue };
        let next = match way {
            Way::Straight => Section { centre: end, ..*last },
            Way::Bend { centre, axis, angle } => last.bent(centre, axis, angle),
        };
        run.sections.push(next);
        run.legs.push(way);
    }
    if runs.is_empty() { Err("its path has no length") } else { Ok(runs) }
}

fn first(leg: &Leg) -> crate::solid::Vec3 {
    match leg {
        Leg::Line(a, _) => *a,
        Leg::Arc { from, .. } => *from,
    }
}

/// A leg in its place: direction at its start, its way, its end; nothing for one without length.
fn placed(leg: &Leg, radius: f64, pose: &Pose) -> Result<Option<(V3, Way, V3)>, &'static str> {
    match leg {
        Leg::Line(a, b) => {
            let (a, b) = (V3::mirrored(pose.point(*a)), V3::mirrored(pose.point(*b)));
            let long = (b - a).length();
            Ok((long > 1e-9).then(|| ((b - a).unit(), Way::Straight, b)))
        }
        Leg::Arc { from, centre, axis, angle } => {
            let from = V3::mirrored(pose.point(*from));
            // a mirror turns a turn round
            let axis = -V3::mirrored(pose.vector(*axis)).unit();
            let (axis, angle) = if *angle < 0.0 { (-axis, -angle) } else { (axis, *angle) };
            let centre = V3::mirrored(pose.point(*centre));
            // the point of the line about which it turns that lies level with its start
            let centre = centre + axis * axis.dot(from - centre);
            let out = from - centre;
            if angle * out.length() <= 1e-9 {
                return Ok(None);
            }
            if out.length() <= radius {
                return Err("it is bent tighter than its own radius");
            }
            let way = Way::Bend { centre, axis, angle };
            Ok(Some((axis.cross(out).unit(), way, from)))
        }
    }
}
