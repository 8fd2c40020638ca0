//! What stands round a port: prisms along the depth, other solids, and solids that move over their whole travel.
//!
//! Bodies, plugs, front parts, sheets and the floor of the depth map are prisms by themselves. What is not known for sure
//! (a depth that is missing, a plug of unknown size, the play of a control's link) may keep a way from being called free, but
//! never makes a fail.

use super::super::REACH;
use super::super::judge::{Stack, loss};
use super::exit::Exit;
use super::terms::{Holds, holds};
use super::tube::along_depth;
use crate::geom::sweep::swept;
use crate::geom::{Contour, Point, Rect, SLACK, Transform, Vec2};
use crate::panel::{Class, Detail, Panel, Part, PartRef, Subject};
use crate::solid::travel::{Moved, Reach};
use crate::solid::{Bounds, Pose, Shape, Solid, Vec3};
use std::borrow::Cow;
use std::sync::Arc;

/// One thing that may be in the way.
#[derive(Clone, Debug)]
pub struct Block<'a> {
    /// Its part; `None`: the floor of the depth map.
    pub part: Option<PartRef>,
    /// Its name for people, where it is no part.
    pub name: Option<&'a str>,
    /// Its section.
    pub contour: Cow<'a, Contour>,
    /// Box of the section.
    pub bounds: Rect,
    /// Depth where it begins.
    pub low: f64,
    /// Depth where it ends.
    pub high: f64,
    /// Whether it is surely there just so.
    pub sure: bool,
    /// The port's own instrument: the straight may touch it.
    pub own: bool,
    /// What the worst tolerances of the two take away, mm.
    pub loss: f64,
    /// How far it may come against the port from where it is drawn, mm; a prism is drawn out by that instead, and this is 0.
    pub sway: f64,
    /// Its true shape, where it is no prism along the depth; the section is its silhouette then.
    pub solid: Option<&'a Solid>,
}

impl Block<'_> {
    /// Its box in space.
    pub fn bounds3(&self) -> Bounds {
        let b = &self.bounds;
        Bounds { low: Vec3::new(b.x0, b.y0, self.low), high: Vec3::new(b.x1, b.y1, self.high) }
    }
}

/// The solids that move, and how far anything sways, made ready once for all ports of a panel.
#[derive(Clone, Debug, Default)]
pub struct Movers<'a> {
    all: Vec<Mover<'a>>,
    /// How far beyond its own room something may matter to a line, mm: as far as anything sways, and while that is not
    /// stated of a floating panel, as far again as the rules look.
    pub(super) beyond: f64,
}

/// One solid that moves.
#[derive(Clone, Debug)]
pub struct Mover<'a> {
    /// Its part.
    pub part: PartRef,
    /// Over its travel.
    pub reach: Reach<'a>,
    /// Whether the play of its links and the overtravel of its drivers are known.
    pub sure: bool,
}

impl<'a> Movers<'a> {
    /// All of a panel.
    pub fn of(panel: &'a Panel) -> Movers<'a> {
        Movers::knowing(panel, &[])
    }

    /// The same where it is known already what each sweeps.
    pub fn knowing(panel: &'a Panel, swept: &[Arc<[Bounds]>]) -> Movers<'a> {
        let mut known = swept.iter();
        let mechanism = &panel.space.mechanism;
        let over = mechanism.drivers.iter().all(|d| d.over.is_some());
        let mut all = Vec::new();
        for (k, s) in panel.subjects.iter().enumerate() {
            for (n, p) in s.parts.iter().enumerate() {
                let Detail::Moving { solid, link, hand, .. } = &p.detail else { continue };
                let play = mechanism.allowance(*link);
                let grow = play.unwrap_or(0.0) + hand.unwrap_or(0.0);
                let moved = Moved { solid, link: Some(*link), grow };
                let reach = Reach::knowing(mechanism, moved, known.next());
                let part = PartRef { subject: k as u32, part: n as u32 };
                all.push(Mover { part, reach, sure: over && play.is_some() });
            }
        }
        let unsaid = panel.space.groups.iter().skip(1).any(|g| g.sway.is_none());
        Movers { all, beyond: panel.most_play() + if unsaid { REACH } else { 0.0 } }
    }

    /// What each sweeps.
    pub fn swept(&self) -> Vec<Arc<[Bounds]>> {
        self.all.iter().map(|m| m.reach.swept().clone()).collect()
    }

    /// How far beyond its own room something may matter, mm.
    pub fn sways(&self) -> f64 {
        self.beyond
    }
}

/// The blocks near a port.
#[derive(Clone, Debug, Default)]
pub struct Around<'a> {
    /// What stands still.
    pub blocks: Vec<Block<'a>>,
    /// What moves, and how far it may come against the port besides, mm.
    pub movers: Vec<(&'a Mover<'a>, f64)>,
    /// Numbers of the sway that are missing, in words.
    pub waits: Vec<String>,
    /// Depth of the floor where no area of the depth map says otherwise.
    pub floor: Option<f64>,
    /// How the port may move against the depth map in the plane of the sheet, mm.
    pub drifts: Rect,
    /// How far the worst tolerances may put the port off, mm.
    pub off: f64,
}

/// Where something reaches without end, mm.
const FAR: f64 = 1e5;

impl<'a> Around<'a> {
    /// What stands within `reach` of the port seen from the seat, and not wholly behind the plane in which the line
    /// leaves, by `clearance` or more: nothing of the line lies there.
    pub fn of(
        panel: &'a Panel,
        movers: &'a Movers<'a>,
        exit: &Exit,
        reach: f64,
        clearance: f64,
    ) -> Around<'a> {
        let meets = |c: &Contour| {
            let b = c.bounds();
            let gap = |v: f64, low: f64, high: f64| (low - v).max(v - high).max(0.0);
            Vec2::new(gap(exit.at.x, b.x0, b.x1), gap(exit.at.y, b.y0, b.y1)).hypot2() <= reach * reach
        };
        let mine = exit.port.subject;
        let carrier = panel.subject(exit.port).carrier;
        let group = panel.group(exit.port);
        let floor = panel.depth_maps(group).filter_map(|m| m.elsewhere).reduce(f64::min);
        let mut all = Around { floor, ..Around::default() };
        let far = Bounds { low: exit.at, high: exit.at }.grown(reach.max(exit.deep() + clearance));
        for m in &movers.all {
            let play = panel.play(m.part, exit.port);
            let sway = play.farthest().length();
            if m.reach.bounds().distance(&far) <= sway {
                all.movers.push((m, sway));
                all.wait(play.waits);
            }
        }
        for (k, s) in panel.subjects.iter().enumerate() {
            let own = k as u32 == mine;
            if s.parts.is_empty() || Some(k as u32) == carrier {
                continue;
            }
            for (n, p) in s.parts.iter().enumerate().filter(|(_, p)| meets(&p.contour)) {
                let r = PartRef { subject: k as u32, part: n as u32 };
                let (low, high, sure) = match (p.class, own) {
                    (Class::Body | Class::Front, _) => solid(p),
                    (_, true) => continue,
                    (Class::Port, false) => {
                        let Some(plug) = stiff(s, p) else { continue };
                        let range =
                            plug.depth.map_or((0.0, FAR, false), |(low, high)| (low, high, plug.sized));
                        all.push(Some(r), None, plug.contour, range, own);
                        continue;
                    }
                    (Class::Obstacle, false) => solid(p),
                    _ => continue,
                };
                all.push(Some(r), None, Cow::Borrowed(&p.contour), (low, high, sure), own);
                if let (Detail::Obstacle { solid, .. }, Some(b)) = (&p.detail, all.blocks.last_mut()) {
                    b.solid = (!is_prism(solid)).then_some(solid);
                }
            }
        }
        for sheet in panel.sheets.iter().filter(|s| s.layer_of.is_none() && meets(&s.outline)) {
            let high = sheet.front + sheet.thickness.unwrap_or(0.0);
            let part = PartRef { subject: sheet.subject, part: 0 };
            all.push(
                Some(part),
                Some(&sheet.id),
                Cow::Borrowed(&sheet.outline),
                (sheet.front, high, true),
                false,
            );
        }
        for area in panel.depth_maps(group).flat_map(|m| &m.areas).filter(|a| meets(&a.contour)) {
            let (low, sure) = area.available.map_or((0.0, false), |d| (d, true));
            all.push(None, Some(&area.id), Cow::Borrowed(&area.contour), (low, FAR, sure), false);
        }
        all.sway(panel, exit);
        all.blocks.retain(|b| !is_behind(b, exit, clearance));
        let port = panel.part(exit.port);
        all.off = shifts(port);
        for b in &mut all.blocks {
            b.loss = b.part.map_or(all.off, |r| loss(port, panel.part(r), Stack::Boundaries));
        }
        all
    }

    fn wait(&mut self, words: Vec<String>) {
        let new = words.into_iter().filter(|w| !self.waits.contains(w)).collect::<Vec<_>>();
        self.waits.extend(new);
    }

    /// Draws out what moves against the port by as far as it does: a floating panel sways, a rear droops.
    fn sway(&mut self, panel: &Panel, exit: &Exit) {
        // the depth map is of the airframe, which the fixed sheet stands for
        let airframe = panel.sheets.first().map(|s| PartRef { subject: s.subject, part: 0 });
        let play = |part: Option<PartRef>| part.or(airframe).map(|r| panel.play(r, exit.port));
        if let (Some(floor), Some(play)) = (self.floor, play(None)) {
            self.floor = Some(floor + play.low.d);
            let p = play.flat();
            self.drifts = Rect { x0: -p.x1, y0: -p.y1, x1: -p.x0, y1: -p.y0 };
            self.wait(play.waits);
        }
        let mut drawn_out = Vec::with_capacity(self.blocks.len());
        for mut b in std::mem::take(&mut self.blocks) {
            // the sheet is taken without its openings: how near its metal comes round them is asked by `sway`
            let is_sheet = b.part.is_some() && b.name.is_some();
            let Some(play) = (if is_sheet { None } else { play(b.part) }) else {
                drawn_out.push(b);
                continue;
            };
            if play.low.length() + play.high.length() > SLACK {
                if b.solid.is_some() {
                    // a ball about the box of shifts: enough to be called free, too much for a sure fail
                    b.sway = play.farthest().length();
                    b.sure = false;
                    b.bounds = b.bounds.inflate(b.sway, b.sway);
                    (b.low, b.high) = (b.low - b.sway, b.high + b.sway);
                } else {
                    (b.low, b.high) = play.deep((b.low, b.high));
                    for contour in swept(&b.contour, play.flat()) {
                        let bounds = contour.bounds();
                        drawn_out.push(Block { contour: Cow::Owned(contour), bounds, ..b.clone() });
                    }
                    self.wait(play.waits);
                    continue;
                }
            }
            self.wait(play.waits);
            drawn_out.push(b);
        }
        self.blocks = drawn_out;
    }

    fn push(
        &mut self,
        part: Option<PartRef>,
        name: Option<&'a str>,
        contour: Cow<'a, Contour>,
        (low, high, sure): (f64, f64, bool),
        own: bool,
    ) {
        let bounds = contour.bounds();
        self.blocks.push(Block {
            part,
            name,
            contour,
            bounds,
            low,
            high,
            sure,
            own,
            loss: 0.0,
            sway: 0.0,
            solid: None,
        });
    }
}

/// The depth of a solid; one that is missing is the whole depth behind the sheet.
fn solid(p: &Part) -> (f64, f64, bool) {
    p.depth.map_or((0.0, FAR, false), |(from, to)| (from, to, true))
}

/// How far a part may be off.
fn shifts(p: &Part) -> f64 {
    p.terms.iter().map(|t| t.shift).sum()
}

/// Whether a block lies wholly behind the plane in which the line leaves.
fn is_behind(b: &Block<'_>, exit: &Exit, clearance: f64) -> bool {
    let a = exit.axis;
    let beyond = if !along_depth(a) {
        b.contour.support(Vec2::new(a.x, a.y)) - (exit.at.x * a.x + exit.at.y * a.y)
    } else if a.d > 0.0 {
        b.high - exit.at.d
    } else {
        exit.at.d - b.low
    };
    beyond <= SLACK - clearance
}

/// What is stiff of a port: its terms without the bend.
#[derive(Clone, Debug)]
pub struct Stiff<'a> {
    /// Section.
    pub contour: Cow<'a, Contour>,
    /// Depth where it begins and ends; `None`: not known.
    pub depth: Option<(f64, f64)>,
    /// Whether its size is known; else the section is that of the body that carries it.
    pub sized: bool,
}

/// What is stiff of a port; `None`: nothing is.
pub fn stiff<'a>(s: &'a Subject, p: &'a Part) -> Option<Stiff<'a>> {
    let Detail::Port { terms, .. } = &p.detail else { return None };
    let outlet = s.facts.as_ref().and_then(|f| f.ports.iter().find(|o| o.part == p.name));
    let wide = outlet.and_then(|o| o.diameter);
    let whole = Cow::Borrowed(&p.contour);
    let Some((from, to)) = p.depth else {
        return Some(Stiff { contour: whole, depth: None, sized: wide.is_some() });
    };
    let sum = |bends: bool| -> f64 {
        let of = terms.iter().filter(|(n, _)| (holds(n) == Holds::Bend) == bends);
        of.filter_map(|(_, l)| *l).sum()
    };
    let towards = outlet.and_then(|o| o.towards).unwrap_or(Vec3::FORWARD);
    let (contour, low, high) = match (along_depth(towards), wide) {
        (true, _) if towards.d > 0.0 => (whole, from, (to - sum(true)).max(from)),
        (true, _) => (whole, (from + sum(true)).min(to), to),
        (false, Some(wide)) if sum(false) > SLACK => {
            let placed = Transform::place(Point::ORIGIN, s.turn, s.mirrored);
            let u = placed.vector(Vec2::new(towards.x, towards.y));
            let n = Vec2::new(-u.y, u.x) * (wide / 2.0);
            let (a, b) = (p.centre, p.centre + u * sum(false));
            (Cow::Owned(Contour::polygon(&[a - n, b - n, b + n, a + n])), from, to)
        }
        (false, Some(_)) => return None,
        (false, None) => (whole, from, to),
    };
    (high > low).then_some(Stiff { contour, depth: Some((low, high)), sized: wide.is_some() })
}

/// Whether a solid is a prism along the depth, so that its silhouette over its depth is itself.
fn is_prism(solid: &Solid) -> bool {
    matches!(solid.shape(), Shape::Prism { .. }) && *solid.pose() == Pose::IDENTITY
}
