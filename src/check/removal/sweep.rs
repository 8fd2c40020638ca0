//! The room that an item takes as it moves out, and what meets it.

use super::Side;
use crate::geom::sweep::swept;
use crate::geom::{Contour, Point, Rect, SLACK, distance};
use crate::panel::{Class, Classes, Detail, Panel, Part, PartRef, SubjectKind};
use crate::solid::{self, Bounds, Pose, Shape, Solid, Vec3};
use std::cell::OnceCell;

/// What moves with the item; plugs are taken off before.
pub(in crate::check) const MOVES: Classes =
    Classes::of(&[Class::Body, Class::Case, Class::Bezel, Class::Flange]);

/// What of another item can be in its way.
const STANDS: Classes = Classes::of(&[
    Class::Body,
    Class::Bezel,
    Class::Flange,
    Class::Front,
    Class::Head,
    Class::Nut,
    Class::Port,
]);

/// Poses tried of each driver, its stops among them.
const POSES: usize = 5;

/// At most so many poses are tried of all drivers together.
const MOST: usize = 625;

/// The prisms that an item sweeps.
pub(super) struct Sweep<'a> {
    prisms: Vec<(&'a Part, f64, f64)>,
    bounds: Rect,
    item: usize,
    /// Of each prism, how far it hangs below where it is drawn, mm: it is drawn out as it hangs, or lifted.
    drops: Vec<f64>,
}

impl<'a> Sweep<'a> {
    /// The sweep of an item, or what is missing for it.
    pub fn of(panel: &'a Panel, item: usize, side: Side) -> Result<Sweep<'a>, String> {
        let s = &panel.subjects[item];
        let mut parts: Vec<(&Part, f64, f64)> = Vec::new();
        for p in s.parts.iter().filter(|p| MOVES.has(p.class)) {
            let Some((from, to)) = p.depth else {
                // a case is the section of a body that has its own depth
                if p.class == Class::Case {
                    continue;
                }
                let name = if p.name.is_empty() { "the body" } else { p.name.as_str() };
                return Err(format!("the depth of {name}: how far it has to move"));
            };
            parts.push((p, from, to));
        }
        let sheet = panel.sheets.get(s.sheet as usize);
        let front = sheet.map_or(0.0, |s| s.front);
        // what the cut sheet itself asks is asked elsewhere: to be behind it means behind its back face
        let back = front + sheet.and_then(|s| s.thickness).unwrap_or(0.0);
        let deepest = parts.iter().map(|(.., to)| *to).fold(front, f64::max);
        let foremost = parts.iter().filter(|(p, ..)| p.class != Class::Bezel).map(|(_, from, _)| *from);
        let foremost = foremost.fold(back, f64::min);
        let (towards, away) = match side {
            Side::Front => (deepest - front, 0.0),
            Side::Rear => (0.0, back - foremost),
        };
        let moves = |p: &Part| side == Side::Front || p.class != Class::Bezel;
        let prisms: Vec<_> = parts
            .into_iter()
            .filter(|(p, ..)| moves(p))
            .map(|(p, f, t)| (p, f - towards, t + away))
            .collect();
        let mut boxes = prisms.iter().map(|(p, ..)| p.contour.bounds());
        let first = boxes.next().unwrap_or(Rect::ZERO);
        let mut bounds = boxes.fold(first, |all, b| all.union(b));
        let drop = |p: &Part| {
            let at = s.parts.iter().position(|o| std::ptr::eq(o, p));
            at.map_or(0.0, |k| panel.drop(PartRef { subject: item as u32, part: k as u32 }))
        };
        let drops: Vec<f64> = prisms.iter().map(|(p, ..)| drop(p)).collect();
        bounds.y0 -= drops.iter().copied().fold(0.0, f64::max);
        Ok(Sweep { prisms, bounds, item, drops })
    }
}

impl<'a> Sweep<'a> {
    /// The parts that move, and the depths that each sweeps.
    pub fn parts(&self) -> impl Iterator<Item = (&'a Part, f64, f64)> + '_ {
        self.prisms.iter().copied()
    }
}

impl Sweep<'_> {
    /// The outlines of what moves with all that the droop sweeps, and the depths that each sweeps.
    fn hanging(&self) -> impl Iterator<Item = (Contour, f64, f64)> + '_ {
        self.prisms.iter().zip(&self.drops).flat_map(|((p, from, to), drop)| {
            swept(&p.contour, below(*drop)).into_iter().map(|c| (c, *from, *to))
        })
    }

    /// A box around all of it.
    fn around(&self) -> Bounds {
        let low = self.prisms.iter().map(|(_, from, _)| *from).fold(f64::INFINITY, f64::min);
        let high = self.prisms.iter().map(|(.., to)| *to).fold(f64::NEG_INFINITY, f64::max);
        let b = &self.bounds;
        Bounds { low: Vec3::new(b.x0, b.y0, low), high: Vec3::new(b.x1, b.y1, high) }
    }
}

/// The shifts of what hangs by its front flange alone: down, by as much as its rear drops.
pub(in crate::check) fn below(drop: f64) -> Rect {
    Rect { x0: 0.0, y0: -drop, x1: 0.0, y1: 0.0 }
}

/// Whether another item comes nearer to the sweep than is asked. Each may hang lower by as much as its rear drops; units
/// of one frame drop together.
pub(super) fn in_the_way(panel: &Panel, sweep: &Sweep<'_>, other: usize, asked: f64) -> bool {
    let around = sweep.bounds.inflate(asked, asked);
    let near = |b: Rect| b.x0 <= around.x1 && around.x0 <= b.x1 && b.y0 <= around.y1 && around.y0 <= b.y1;
    let together = super::siblings(panel, sweep.item, other);
    panel.subjects[other].parts.iter().enumerate().filter(|(_, p)| STANDS.has(p.class)).any(|(k, p)| {
        let Some((from, to)) = p.depth else { return false };
        let drop = if together { 0.0 } else { panel.drop(PartRef { subject: other as u32, part: k as u32 }) };
        let b = p.contour.bounds();
        if !near(Rect { y0: b.y0 - drop, ..b }) {
            return false;
        }
        sweep.prisms.iter().zip(&sweep.drops).any(|((own, start, end), own_drop)| {
            if *start >= to - SLACK || from >= *end - SLACK {
                return false;
            }
            let meets = |own: &Contour| {
                distance::within(own, &p.contour, asked)
                    .is_some_and(|g| g.relation.overlaps() || g.distance < asked - SLACK)
            };
            let own_drop = if together { 0.0 } else { *own_drop };
            // it comes down by its own drop, or up towards the other's
            let by = Rect { y1: drop, ..below(own_drop) };
            if own_drop + drop <= SLACK {
                meets(&own.contour)
            } else {
                swept(&own.contour, by).iter().any(meets)
            }
        })
    })
}

/// What the airframe says to a sweep.
pub(super) struct Fixed {
    /// The part that is met, and the room to it, mm.
    pub met: Option<(PartRef, f64)>,
    /// The pose that the controls must have, in words; none where the one at rest will do.
    pub pose: Option<String>,
    /// What was tried, in words.
    pub tried: String,
}

/// The sweep against obstacles, and against controls in the pose that lets it pass, if there is one.
pub(super) fn airframe(panel: &Panel, sweep: &Sweep<'_>, asked: f64) -> Fixed {
    let mut found = Fixed { met: None, pose: None, tried: String::new() };
    let known = panel.subjects.iter().any(|s| matches!(s.kind, SubjectKind::Obstacle | SubjectKind::Control));
    if !known {
        return found;
    }
    let around = sweep.around().grown(asked);
    let solids = OnceCell::new();
    let solids = || {
        let all = || sweep.hanging().filter_map(|(c, f, t)| prism(&c, f, t)).collect::<Vec<Solid>>();
        solids.get_or_init(all).iter()
    };
    let (mut obstacles, mut moving) = (Vec::new(), Vec::new());
    for (n, s) in panel.subjects.iter().enumerate() {
        for (k, p) in s.parts.iter().enumerate() {
            let r = PartRef { subject: n as u32, part: k as u32 };
            match &p.detail {
                Detail::Obstacle { solid, kind, .. } if kind != "knees" => obstacles.push((r, solid)),
                Detail::Moving { solid, link, .. } => moving.push((r, solid, *link)),
                _ => {}
            }
        }
    }
    let room = |solid: &Solid| {
        if solid.bounds().distance(&around) > 0.0 {
            return None;
        }
        let gaps = solids().filter_map(|s| solid::within(s, solid, asked)).map(|g| g.lower);
        gaps.reduce(f64::min).filter(|gap| *gap < asked - SLACK)
    };
    let worst = obstacles.iter().filter_map(|(r, s)| Some((*r, room(s)?)));
    found.met = worst.min_by(|a, b| a.1.total_cmp(&b.1));
    if found.met.is_some() || moving.is_empty() {
        return found;
    }
    let mechanism = &panel.space.mechanism;
    let at = |pose: &[f64]| {
        let gaps = moving.iter().filter_map(|(r, solid, link)| {
            let pose = mechanism.pose(*link, pose);
            // the ball around it is moved sooner than the solid
            let (centre, radius) = solid.ball();
            let centre = pose.point(centre);
            let ball = Bounds { low: centre, high: centre };
            if ball.distance(&around) > radius + SLACK {
                return None;
            }
            Some((*r, room(&solid.moved(&pose))?))
        });
        gaps.min_by(|a, b| a.1.total_cmp(&b.1))
    };
    let rest: Vec<f64> = mechanism.drivers.iter().map(|d| d.neutral).collect();
    let Some(mut best) = at(&rest) else { return found };
    // only the drivers that move what is in the way at some pose are worth a try
    let drivers = mechanism.drivers.len();
    let total = (0..drivers).try_fold(1usize, |n, _| n.checked_mul(POSES)).unwrap_or(usize::MAX);
    let tried = total.min(MOST);
    for k in 1..tried {
        let mut rank = k;
        let pose: Vec<f64> = mechanism
            .drivers
            .iter()
            .map(|d| {
                let step = rank % POSES;
                rank /= POSES;
                match step {
                    0 => d.neutral,
                    1 => d.stops.0,
                    2 => d.stops.1,
                    3 => (d.neutral + d.stops.0) / 2.0,
                    _ => (d.neutral + d.stops.1) / 2.0,
                }
            })
            .collect();
        match at(&pose) {
            None => {
                let moved =
                    mechanism.drivers.iter().zip(&pose).filter(|(d, v)| (d.neutral - **v).abs() > SLACK);
                let words: Vec<String> =
                    moved.map(|(d, v)| format!("{} at {}", d.id, crate::check::own::number(*v, 1))).collect();
                found.pose = Some(words.join(", "));
                return found;
            }
            Some(gap) if gap.1 > best.1 => best = gap,
            Some(_) => {}
        }
    }
    found.met = Some(best);
    found.tried = format!(" at the best of {tried} poses of the controls that were tried");
    found
}

/// A contour drawn out along the depth; `None` where it has no size.
pub(in crate::check) fn prism(contour: &Contour, from: f64, to: f64) -> Option<Solid> {
    Solid::new(Shape::Prism { section: contour.clone(), from, to }, Pose::IDENTITY).ok()
}

/// What is fixed in the airframe and cannot be moved aside.
pub(in crate::check) fn fixed(panel: &Panel) -> impl Iterator<Item = (PartRef, &Solid)> {
    let obstacles = panel.subjects.iter().enumerate().filter(|(_, s)| s.kind == SubjectKind::Obstacle);
    obstacles.flat_map(|(n, s)| {
        s.parts.iter().enumerate().filter_map(move |(k, p)| match &p.detail {
            Detail::Obstacle { solid, kind, .. } if kind != "knees" => {
                Some((PartRef { subject: n as u32, part: k as u32 }, solid.as_ref()))
            }
            _ => None,
        })
    })
}

/// Whether a point lies within `reach` of a box, by its sides: what does not is surely farther from all that the box
/// holds.
pub(in crate::check) fn in_reach(b: Rect, at: Point, reach: f64) -> bool {
    b.x0 - at.x <= reach && at.x - b.x1 <= reach && b.y0 - at.y <= reach && at.y - b.y1 <= reach
}
