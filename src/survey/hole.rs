//! A round hole recognised by its edge in a picture.
//!
//! From a place near the edge the edge is followed both ways; of what was followed the circle of the panel's plane with the
//! most places within a pixel is taken (through three of them, many triples tried in a fixed order); then the edge is asked
//! for anew all around that circle, and the circle fitted to it by least squares with what lies off left out. A circle of
//! the plane shows as an ellipse in the picture, bent by the lens: the camera knows both. What is found are places in the
//! picture: the survey's adjustment makes diameter, centre and doubt of them.

use super::camera::Camera;
use super::crossing::{Crossing, crossing};
use super::locus::through;
use super::straight::Raw;
use crate::geom::{Point, Vec2, angle};
use std::f64::consts::TAU;

/// Places that are asked for around a hole.
const AROUND: usize = 48;
/// Step along the edge, pixels.
const STEP: f64 = 2.0;
/// Most steps one way.
const MOST_STEPS: usize = 4000;
/// An edge fainter than this share of the first ends the way.
const FAINT: f64 = 0.3;
/// Least part of the round that must be seen, degrees: below, the diameter hangs on a few places (common practice, no source).
const LEAST_SEEN: f64 = 150.0;
/// Places farther from a circle than this, pixels, are no part of its edge.
const OFF: f64 = 1.0;
/// Most places where an edge may go on beside the circle.
const MOST_ASTRAY: usize = AROUND / 8;
/// Root of the mean square above which an edge is no circle, pixels.
const ROUGH: f64 = 0.7;
/// Least deviation of a place that is told, pixels: what the finding itself may be off (tested against computed pictures).
const LEAST_DEVIATION: f64 = 0.1;
/// Largest hole, mm.
const LARGEST: f64 = 300.0;
/// Smallest radius in the picture, pixels.
const SMALLEST: f64 = 5.0;

/// A hole in a picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// Places on its edge, pixels from the left and the top.
    pub edge: Vec<Vec2>,
    /// Standard deviation of one of them, pixels.
    pub deviation: f64,
    /// Centre on the panel.
    pub centre: Point,
    /// Radius, mm.
    pub radius: f64,
    /// How much of the round is seen, degrees.
    pub seen: f64,
}

/// Why no hole is found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoHole {
    /// There is no edge so near the place, pixels.
    NoEdge(f64),
    /// What was followed is no circle of the panel's plane.
    NotRound,
    /// A circle larger than any hole: its diameter, mm.
    TooLarge(f64),
    /// A circle smaller than its edge can be told in, its radius in pixels.
    TooSmall(f64),
    /// Too little of the round is seen, degrees.
    Little(f64),
    /// Its edge leaves the best circle by so many pixels (root of the mean square).
    Rough(f64),
}

impl NoHole {
    /// In words, with what to do.
    pub fn says(&self) -> String {
        match self {
            NoHole::NoEdge(within) => format!(
                "there is no edge within {within:.0} pixels of that place: come closer and click on the rim of the hole"
            ),
            NoHole::NotRound => "the edge there is not round: a straight edge or a corner; click on the rim of a round hole, or trace it by its corners".into(),
            NoHole::TooLarge(mm) => format!("the edge there is not round: straight, or that of a hole of {mm:.0} mm across, which is taken for none"),
            NoHole::TooSmall(px) => format!(
                "the hole has a radius of {px:.1} pixels, and {SMALLEST:.0} are asked: take a picture from nearer by"
            ),
            NoHole::Little(seen) => format!(
                "not enough edge: it is seen on {seen:.0} degrees of the round, and {LEAST_SEEN:.0} are asked; something lies before it, or its edge is too faint"
            ),
            NoHole::Rough(px) => format!(
                "the edge leaves the best circle by {px:.1} pixels (rms): it is no circle in the panel's plane, or not one edge; pick places on it by hand, or trace it by its corners"
            ),
        }
    }
}

/// A place on an edge that was followed.
#[derive(Clone, Copy)]
struct Foot {
    at: Vec2,
    /// Square to the edge, towards the brighter side.
    normal: Vec2,
    slope: f64,
}

fn turned(v: Vec2) -> Vec2 {
    Vec2::new(-v.y, v.x)
}

fn unit(v: Vec2) -> Option<Vec2> {
    let long = v.hypot2().sqrt();
    (long > 1e-9).then(|| v / long)
}

/// The edge across a direction, as the mean of three neighbours.
fn across(picture: &Raw<'_>, at: Vec2, normal: Vec2, reach: f64, rises: Option<bool>) -> Option<Crossing> {
    let side = turned(normal);
    crossing(picture, &[-1.0, 0.0, 1.0].map(|k| (at + side * k, normal)), reach, rises)
}

/// The strongest edge near a place, the nearer the better.
fn first(picture: &Raw<'_>, near: Vec2, within: f64) -> Option<Foot> {
    let ways = (0..16).filter_map(|k| {
        let normal = angle::unit(TAU * f64::from(k) / 32.0);
        let c = across(picture, near, normal, within, None)?;
        Some((c, normal, c.slope.abs() * (1.0 - 0.5 * c.at.abs() / within)))
    });
    let (c, normal, _) = ways.max_by(|a, b| a.2.total_cmp(&b.2))?;
    let normal = if c.slope < 0.0 { -normal } else { normal };
    let at = near + normal * if c.slope < 0.0 { -c.at } else { c.at };
    // the direction in which it is steepest
    let steep = (-8i32..=8).filter_map(|k| {
        let n = turn(normal, 0.06 * f64::from(k));
        across(picture, at, n, 2.5, Some(true)).map(|c| (c, n))
    });
    let (c, normal) = steep.max_by(|a, b| a.0.slope.total_cmp(&b.0.slope))?;
    Some(Foot { at: at + normal * c.at, normal, slope: c.slope })
}

fn turn(v: Vec2, by: f64) -> Vec2 {
    let w = angle::unit(by);
    Vec2::new(v.x * w.x - v.y * w.y, v.x * w.y + v.y * w.x)
}

/// Follows an edge from a foot to one side until it grows faint or comes back.
fn follow(picture: &Raw<'_>, from: Foot, left: bool) -> Vec<Foot> {
    let mut all = vec![from];
    let side = if left { 1.0 } else { -1.0 };
    let mut along = turned(from.normal) * side;
    for k in 0..MOST_STEPS {
        let last = all[all.len() - 1];
        let normal = turned(along) * -side;
        let guess = last.at + along * STEP;
        let Some(c) = across(picture, guess, normal, 2.5, Some(true)) else { break };
        if c.slope < FAINT * from.slope {
            break;
        }
        let next = Foot { at: guess + normal * c.at, normal, slope: c.slope };
        // the direction of the last few steps, bent on as they bend
        let back = all[all.len().saturating_sub(5)].at;
        if let Some(way) = unit(next.at - back) {
            let bent = along.cross(way);
            along = if bent.abs() < 0.5 { turn(way, bent.clamp(-0.2, 0.2) * 0.5) } else { way };
        }
        all.push(next);
        if k > 8 && (next.at - from.at).hypot2() < STEP * STEP {
            break;
        }
    }
    all
}

/// Pixels of a mm about a place of the panel.
fn dense(camera: &Camera, at: Point) -> f64 {
    let [x, y] = camera.shows(at, 0.0).by_point;
    x.cross(y).abs().sqrt().max(1e-9)
}

/// The circle through three of the places that has the most of them within a pixel.
fn most(feet: &[(Point, f64)]) -> Option<(Point, f64)> {
    let n = feet.len();
    let mut best: Option<(usize, Point, f64)> = None;
    let mut roll = 12_345u32;
    let mut pick = || {
        roll = roll.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        ((u64::from(roll) * n as u64) >> 32) as usize
    };
    for _ in 0..400 {
        let [a, b, c] = [pick(), pick(), pick()].map(|k| feet[k].0);
        let Some((centre, radius)) = through(a, b, c) else { continue };
        let on = |f: &&(Point, f64)| ((f.0 - centre).hypot2().sqrt() - radius).abs() * f.1 < OFF;
        let count = feet.iter().filter(on).count();
        if best.is_none_or(|b| count > b.0) {
            best = Some((count, centre, radius));
        }
    }
    best.map(|(_, c, r)| (c, r))
}

/// A place of the edge about a circle: its direction from the centre, where it is in the picture and on the panel.
struct Spot {
    way: usize,
    at: Vec2,
    lies: Point,
    dense: f64,
    slope: f64,
}

/// The edge asked for around a circle.
fn around(
    picture: &Raw<'_>,
    camera: &Camera,
    (centre, radius): (Point, f64),
    rises: bool,
    reach: f64,
) -> Vec<Spot> {
    let line = |turn: f64| -> (Vec2, Vec2) {
        let out = angle::unit(turn);
        let shown = camera.shows(centre + out * radius, 0.0);
        let [x, y] = shown.by_point;
        let along = y * out.x - x * out.y;
        let outward = x * out.x + y * out.y;
        let square = turned(along);
        let square = if square.dot(outward) < 0.0 { -square } else { square };
        (shown.at, unit(square).unwrap_or(Vec2::new(1.0, 0.0)))
    };
    let step = TAU / AROUND as f64;
    let pixels = radius * dense(camera, centre);
    // neighbours a pixel apart along the edge, as far as they do not meet those of the next place
    let beside = (0.8 / pixels).min(step / 6.0);
    let one = |way: usize| {
        let turn = step * way as f64;
        let lines: Vec<_> = (-2i32..=2).map(|k| line(turn + beside * f64::from(k))).collect();
        let c = crossing(picture, &lines, reach, Some(rises))?;
        let (at, normal) = line(turn);
        // the radius of the edge's own bend in the picture
        let (a, b) = (line(turn - 0.1).0, line(turn + 0.1).0);
        let bend = circle(a, at, b).unwrap_or(pixels);
        let at = at + normal * (c.at + 0.5 * c.blur / bend);
        let lies = camera.lies(at)?;
        Some(Spot { way, at, lies, dense: dense(camera, lies), slope: c.slope.abs() })
    };
    (0..AROUND).filter_map(one).collect()
}

/// Radius of the circle through three places of the picture.
fn circle(a: Vec2, b: Vec2, c: Vec2) -> Option<f64> {
    through(a.to_point(), b.to_point(), c.to_point()).map(|(_, r)| r)
}

/// The circle with the least squares of the distances in pixels, by steps of Gauss and Newton.
fn fitted(spots: &[&Spot], start: (Point, f64)) -> Option<(Point, f64)> {
    let (mut centre, mut radius) = start;
    for _ in 0..12 {
        let mut n = [[0.0f64; 4]; 3];
        for s in spots {
            let away = s.lies - centre;
            let far = away.hypot2().sqrt();
            let u = unit(away)?;
            let row = [u.x * s.dense, u.y * s.dense, s.dense];
            let off = (far - radius) * s.dense;
            for (i, line) in n.iter_mut().enumerate() {
                for (j, v) in row.iter().enumerate() {
                    line[j] += row[i] * v;
                }
                line[3] += row[i] * off;
            }
        }
        let [x, y, r] = three(n)?;
        centre += Vec2::new(x, y);
        radius += r;
        if x.abs() + y.abs() + r.abs() < 1e-9 {
            break;
        }
    }
    (radius.is_finite() && radius > 0.0).then_some((centre, radius))
}

/// Three equations, by elimination with the largest pivot.
fn three(mut n: [[f64; 4]; 3]) -> Option<[f64; 3]> {
    for k in 0..3 {
        let largest = (k..3).max_by(|a, b| n[*a][k].abs().total_cmp(&n[*b][k].abs()))?;
        n.swap(k, largest);
        if n[k][k].abs() < 1e-12 {
            return None;
        }
        for i in 0..3 {
            if i != k {
                let f = n[i][k] / n[k][k];
                let pivot = n[k];
                n[i].iter_mut().zip(pivot).for_each(|(v, p)| *v -= f * p);
            }
        }
    }
    Some([n[0][3] / n[0][0], n[1][3] / n[1][1], n[2][3] / n[2][2]])
}

fn middle(mut all: Vec<f64>) -> f64 {
    all.sort_by(f64::total_cmp);
    all.get(all.len() / 2).copied().unwrap_or(0.0)
}

/// Finds the round hole whose edge lies within so many pixels of a place.
///
/// # Errors
/// Why there is none.
pub fn hole(picture: &Raw<'_>, camera: &Camera, near: Vec2, within: f64) -> Result<Hole, NoHole> {
    let within = within.clamp(3.0, 40.0);
    let from = first(picture, near, within).ok_or(NoHole::NoEdge(within))?;
    let mut feet = follow(picture, from, true);
    feet.extend(follow(picture, from, false).into_iter().skip(1));
    let on: Vec<(Point, f64)> =
        feet.iter().filter_map(|f| camera.lies(f.at)).map(|p| (p, dense(camera, p))).collect();
    if on.len() < 8 {
        return Err(NoHole::NotRound);
    }
    let mut at = most(&on).ok_or(NoHole::NotRound)?;
    let wide = |at: (Point, f64)| {
        if 2.0 * at.1 > LARGEST { Err(NoHole::TooLarge(2.0 * at.1)) } else { Ok(()) }
    };
    wide(at)?;
    // a bend of a straight edge has its centre out of the picture or a radius of any size: few places agree
    let agree = on.iter().filter(|f| ((f.0 - at.0).hypot2().sqrt() - at.1).abs() * f.1 < OFF).count();
    if (agree as f64) * STEP < 0.2 * TAU * at.1 * dense(camera, at.0) {
        return Err(NoHole::NotRound);
    }
    let small = at.1 * dense(camera, at.0);
    if small < SMALLEST {
        return Err(NoHole::TooSmall(small));
    }
    // whether it grows brighter outwards
    let shown = camera.sees(at.0, 0.0);
    let rises = from.normal.dot(from.at - shown) > 0.0;
    let mut kept: Vec<Spot> = Vec::new();
    let mut rms = f64::INFINITY;
    for round in 0..4 {
        let reach = if round == 0 { (0.2 * small).clamp(3.0, 6.0) } else { (0.2 * small).clamp(2.0, 3.5) };
        let mut spots = around(picture, camera, at, rises, reach);
        for _ in 0..3 {
            let off = |s: &Spot| ((s.lies - at.0).hypot2().sqrt() - at.1).abs() * s.dense;
            let spread = 1.4826 * middle(spots.iter().map(off).collect());
            let most = (3.0 * spread).clamp(0.3, if round == 0 { 3.0 } else { OFF });
            let within: Vec<&Spot> = spots.iter().filter(|s| off(s) <= most).collect();
            if within.len() < 6 {
                return Err(NoHole::Little(within.len() as f64 * 360.0 / AROUND as f64));
            }
            at = fitted(&within, at).ok_or(NoHole::NotRound)?;
        }
        wide(at)?;
        let off = |s: &Spot| ((s.lies - at.0).hypot2().sqrt() - at.1).abs() * s.dense;
        spots.retain(|s| off(s) <= OFF);
        let squares: f64 = spots.iter().map(|s| off(s) * off(s)).sum();
        rms = (squares / spots.len().max(1) as f64).sqrt();
        kept = spots;
    }
    let small = at.1 * dense(camera, at.0);
    if small < SMALLEST {
        return Err(NoHole::TooSmall(small));
    }
    let seen = kept.iter().map(|s| s.way).collect::<std::collections::BTreeSet<_>>().len() as f64 * 360.0
        / AROUND as f64;
    // an edge as strong that goes on beside the circle is that of something else: an oval agrees with a circle in parts
    let strong = 0.5 * middle(kept.iter().map(|s| s.slope).collect());
    let off = |s: &Spot| ((s.lies - at.0).hypot2().sqrt() - at.1).abs() * s.dense;
    let mut wide = around(picture, camera, at, rises, (0.2 * small).clamp(3.0, 12.0));
    wide.retain(|s| s.slope > strong && !kept.iter().any(|k| k.way == s.way));
    if wide.len() > MOST_ASTRAY {
        let all = wide.iter().chain(&kept).map(|s| off(s) * off(s)).sum::<f64>();
        return Err(NoHole::Rough((all / (wide.len() + kept.len()) as f64).sqrt()));
    }
    if seen < LEAST_SEEN {
        return Err(NoHole::Little(seen));
    }
    if rms > ROUGH {
        return Err(NoHole::Rough(rms));
    }
    let free = (kept.len() as f64 / (kept.len() as f64 - 3.0)).sqrt();
    Ok(Hole {
        deviation: (rms * free).max(LEAST_DEVIATION),
        edge: kept.iter().map(|s| s.at).collect(),
        centre: at.0,
        radius: at.1,
        seen,
    })
}
