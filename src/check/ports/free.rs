//! Into which directions round its axis the first quarter turn of a line is free.
//!
//! Certified: the circle is cut into intervals; one counts as free when, in its middle, the tube is clear of everything by
//! more than any of its points moves until the interval's ends. What cannot be shown free down to [`LEAST`] degrees counts as
//! blocked. Where only the room of the turn is known, a box that holds every turn within that room is tried instead.

use super::around::{Around, Block, Movers};
use super::beside::{clears, flat, hull};
use super::exit::{Exit, Turn};
use super::room::Room;
use super::tube::{Chain, Frame, THIN, along_depth};
use crate::calc::clock::Directions;
use crate::geom::sweep::swept;
use crate::geom::{Contour, Point, Rect, SLACK, contains, distance};
use crate::panel::{Panel, PartRef};
use crate::solid::travel::{Moved, Reach};
use crate::solid::{self, Bounds, Pose, Shape, Solid, Vec3};
use std::cell::OnceCell;

/// Intervals at first.
const FIRST: usize = 24;
/// Narrowest interval that is looked at, degrees.
const LEAST: f64 = 15.0 / 8.0;

/// Chords that get a box together.
const STRETCH: usize = 3;

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Free {
    /// Directions that are surely free, degrees clockwise from 12 o'clock seen from the seat; of a line that leaves
    /// sideways, from forward (see the words).
    pub set: Directions,
    /// What keeps others from being free, the first found first: name, and its part where it is one.
    pub blockers: Vec<(String, Option<PartRef>)>,
    /// Whether every one of them is surely there and the turn surely takes that room: then what is not free is blocked.
    pub sure: bool,
    /// How much less the line may need along its axis to be free of what stands ahead of it, mm; `None`: nothing does.
    pub more: Option<f64>,
}

/// The directions of a port that are free even at the worst tolerances; `clearance` is asked to everything, mm.
pub fn free(panel: &Panel, movers: &Movers<'_>, exit: &Exit, clearance: f64) -> Free {
    let around = gathered(panel, movers, exit, clearance);
    let found = free_of(panel, exit, &around, clearance, true);
    // while nobody says how far it sways nothing is surely free
    if around.waits.is_empty() {
        found
    } else {
        Free { set: Directions::of(Vec::new()), sure: false, ..found }
    }
}

/// What stands within reach of a port's first turn.
pub fn gathered<'a>(panel: &'a Panel, movers: &'a Movers<'a>, exit: &Exit, clearance: f64) -> Around<'a> {
    Around::of(panel, movers, exit, looks(panel, movers, exit, clearance), clearance)
}

/// The room that a port's first turn is looked for in, seen from the seat: what does not meet it does not matter.
pub fn looked_at(panel: &Panel, movers: &Movers<'_>, exit: &Exit, clearance: f64) -> Rect {
    let r = looks(panel, movers, exit, clearance) + SLACK;
    Rect::new(exit.at.x - r, exit.at.y - r, exit.at.x + r, exit.at.y + r)
}

fn looks(panel: &Panel, movers: &Movers<'_>, exit: &Exit, clearance: f64) -> f64 {
    let loss = panel.part(exit.port).terms.iter().map(|t| t.shift + t.grow).sum::<f64>();
    reach(panel, exit) + clearance + loss + movers.beyond
}

/// How far from its axis a line's first turn can reach, seen from the seat.
fn reach(panel: &Panel, exit: &Exit) -> f64 {
    let part = panel.part(exit.port);
    let side = match Chain::of(exit) {
        Some(chain) if along_depth(exit.axis) => chain.side,
        Some(chain) => (chain.side * chain.side + chain.along * chain.along).sqrt(),
        None => exit.deep() + part.contour.farthest(Point::new(exit.at.x, exit.at.y)),
    };
    // the chain is a little thicker than the tube
    1.01 * side + 1.0
}

/// The same among what was gathered, at the worst tolerances or as drawn.
pub fn free_of(panel: &Panel, exit: &Exit, around: &Around<'_>, clearance: f64, worst: bool) -> Free {
    let frame = Frame::of(exit);
    let model = match (Chain::of(exit), &exit.turn) {
        (Some(chain), _) => Model::Chain(Box::new(chain)),
        (None, Turn::Room { deep, .. }) => Model::Room(Room::of(panel, exit, *deep)),
        (None, Turn::Radius { .. }) => Model::Room(Room::of(panel, exit, exit.deep())),
    };
    let test = Test { panel, exit, frame, around, model, clearance, worst };
    let mut found = Found::default();
    let step = 360.0 / FIRST as f64;
    for k in 0..FIRST {
        test.split(step * k as f64, step * (k + 1) as f64, &mut found);
    }
    let sure = matches!(test.model, Model::Chain(_)) && found.sure;
    let more = ahead(exit, around, &found.by, clearance);
    let mut blockers: Vec<(String, Option<PartRef>)> = Vec::new();
    for met in &found.by {
        let one = match *met {
            Met::Still(k) => around.blocks.get(k).map(|b| (name(panel, b), b.part)),
            Met::Moves(k) => around.movers.get(k).map(|(m, _)| (panel.part_name(m.part), Some(m.part))),
            Met::Floor => Some(("the room that is left behind the sheet".to_string(), None)),
        };
        let Some(one) = one else { continue };
        if !blockers.contains(&one) {
            blockers.push(one);
        }
    }
    Free { set: Directions::of(found.free), blockers, sure, more }
}

fn name(panel: &Panel, b: &Block<'_>) -> String {
    match (b.name, b.part) {
        (Some(name), _) => name.to_string(),
        (None, Some(part)) => panel.part_name(part),
        (None, None) => String::new(),
    }
}

/// How much of the line's need along the depth lies in what stands ahead.
fn ahead(exit: &Exit, around: &Around<'_>, by: &[Met], clearance: f64) -> Option<f64> {
    if exit.axis.d < 0.5 {
        return None;
    }
    let starts = exit.at.d + exit.straight;
    let floor = by.iter().map(|met| match met {
        Met::Still(k) => around.blocks.get(*k).map(|b| b.low),
        Met::Moves(_) => None,
        Met::Floor => around.floor,
    });
    let least = floor.flatten().filter(|d| *d > starts - SLACK).reduce(f64::min)?;
    let more = exit.at.d + exit.deep() + clearance - least;
    (more > SLACK).then_some(more)
}

/// What is met.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Met {
    /// Something that stands still, by its number.
    Still(usize),
    /// Something that moves, by its number.
    Moves(usize),
    /// The floor of the depth map.
    Floor,
}

/// What bars a direction.
#[derive(Clone, Copy, Debug)]
struct Bar {
    met: Met,
    /// It surely bars the whole interval about that direction.
    whole: bool,
}

impl Bar {
    /// What bars the direction; of the rest of the interval nothing is known.
    fn here(met: Met) -> Bar {
        Bar { met, whole: false }
    }
}

/// By how much a shape is grown, mm: what it meets so may bar some direction of an interval, and surely bars all of it.
#[derive(Clone, Copy)]
struct Need {
    most: f64,
    least: f64,
}

/// What is known so far.
#[derive(Debug)]
struct Found {
    free: Vec<(f64, f64)>,
    by: Vec<Met>,
    sure: bool,
    /// What was met last.
    last: Option<Met>,
}

impl Default for Found {
    fn default() -> Found {
        Found { free: Vec::new(), by: Vec::new(), sure: true, last: None }
    }
}

/// What is turned round the axis.
enum Model {
    Chain(Box<Chain>),
    Room(Room),
}

struct Test<'a> {
    panel: &'a Panel,
    exit: &'a Exit,
    frame: Frame,
    around: &'a Around<'a>,
    model: Model,
    clearance: f64,
    worst: bool,
}

impl Test<'_> {
    fn loss(&self, b: &Block<'_>) -> f64 {
        b.sway + if self.worst { b.loss } else { 0.0 }
    }

    fn split(&self, from: f64, to: f64, found: &mut Found) {
        let middle = (from + to) / 2.0;
        let half = (to - from) / 2.0 * (std::f64::consts::PI / 180.0);
        let Some(Bar { met, whole }) = self.meets(middle, half, found.last) else {
            found.free.push((from, to));
            return;
        };
        found.last = Some(met);
        if to - from > LEAST && !whole {
            self.split(from, middle, found);
            self.split(middle, to, found);
            return;
        }
        found.sure &= match met {
            Met::Still(k) => self.around.blocks.get(k).is_none_or(|b| b.sure),
            Met::Moves(k) => self.around.movers.get(k).is_none_or(|(m, sway)| m.sure && *sway == 0.0),
            Met::Floor => true,
        };
        if !found.by.contains(&met) {
            found.by.push(met);
        }
    }

    /// What may be met within `half` radians of a direction; `None`: surely nothing.
    fn meets(&self, degrees: f64, half: f64, last: Option<Met>) -> Option<Bar> {
        let way = self.frame.way(degrees);
        match &self.model {
            Model::Chain(chain) => self.meets_chain(chain, way, half, last),
            Model::Room(room) => self.meets_room(room, way, half, last),
        }
    }

    fn meets_chain(&self, chain: &Chain, way: Vec3, half: f64, last: Option<Met>) -> Option<Bar> {
        let along = along_depth(self.exit.axis);
        let chords = chain.chords(&self.frame, way);
        // a point moves by no more than its distance from the axis times the angle, and round an axis along the depth
        // it stays in its depth
        let moves = |side: f64| if along { (0.0, side * half) } else { (side * half, 0.0) };
        let (every_way, beside) = moves(chain.side);
        let most = chain.radius + self.clearance + every_way;
        let whole = hull(&chords).grown(most + beside);
        let meets = |b: &Block<'_>| {
            let loss = self.loss(b);
            b.solid.is_none()
                && whole.grown(loss).distance(&b.bounds3()) <= 0.0
                && chords.iter().enumerate().any(|(n, chord)| {
                    let (every_way, beside) = moves(chord.side);
                    let skin = chain.radius + self.clearance + every_way;
                    let exempt = n == 0 && b.own;
                    !exempt && !clears(chord, b, skin + loss, beside)
                })
        };
        // what barred the way beside most likely bars this one too
        if let Some(Met::Still(k)) = last
            && self.around.blocks.get(k).is_some_and(meets)
        {
            return last.map(Bar::here);
        }
        let met = self.around.blocks.iter().enumerate().find(|(_, b)| meets(b));
        if let Some((k, _)) = met {
            return Some(Bar::here(Met::Still(k)));
        }
        if self.around.floor.is_some_and(|floor| whole.high.d > floor) {
            for chord in &chords {
                let (every_way, beside) = moves(chord.side);
                let skin = chain.radius + self.clearance + every_way;
                let slot = || Contour::slot(flat(chord.from), flat(chord.to), skin + beside);
                if self.on_floor(chord.from.d.max(chord.to.d) + skin, slot) {
                    return Some(Bar::here(Met::Floor));
                }
            }
        }
        let (grown, moved) = (chain.radius + self.clearance - THIN, chain.side * half);
        let need = Need { most: grown + moved, least: grown - moved };
        let stretches: Vec<Bounds> =
            chords.chunks(STRETCH).map(|some| hull(some).grown(most + beside)).collect();
        self.meets_solids(&stretches, || chain.wire(&chords), need, last)
    }

    /// What is met of the solids that are no prisms or that move, by a shape; the boxes `here` together hold it grown by
    /// `need`.
    fn meets_solids(
        &self,
        here: &[Bounds],
        shape: impl Fn() -> Option<Solid>,
        need: Need,
        last: Option<Met>,
    ) -> Option<Bar> {
        let near = |s: &Solid, loss: f64| here.iter().any(|b| s.bounds().distance(b) <= loss);
        let still = self.around.blocks.iter().enumerate();
        let still = still.filter(|(_, b)| b.solid.is_some_and(|s| near(s, self.loss(b))));
        let moves = self.around.movers.iter().enumerate();
        let moves = moves.filter(|(_, (m, sway))| here.iter().any(|b| m.reach.may_meet(b, *sway)));
        let all =
            || still.clone().map(|(k, _)| Met::Still(k)).chain(moves.clone().map(|(k, _)| Met::Moves(k)));
        let first = all().next()?;
        // numbers that make no solid cannot be shown to be clear
        let Some(shape) = shape() else { return Some(Bar { met: first, whole: false }) };
        let ready =
            |grow: f64| Reach::new(&self.panel.space.mechanism, Moved { solid: &shape, link: None, grow });
        let mine = OnceCell::new();
        // what barred all of the way beside most likely bars all of this one: then one question does
        let bar = |met: Met, some: &dyn Fn() -> bool, all: &dyn Fn() -> bool| {
            let first = last == Some(met);
            let whole = first && all();
            let meets = whole || some();
            meets.then(|| Bar { met, whole: whole || !first && all() })
        };
        let meets = |met: Met| match met {
            Met::Still(k) => self.around.blocks.get(k).and_then(|b| Some((b.solid?, self.loss(b)))).and_then(
                |(s, loss)| {
                    let barred = |need: f64| need >= 0.0 && solid::nearer(&shape, s, need);
                    bar(met, &|| barred(need.most + loss), &|| barred(need.least + loss))
                },
            ),
            Met::Moves(k) => self.around.movers.get(k).and_then(|(m, sway)| {
                let some = || match *sway > 0.0 {
                    true => m.reach.meets(&ready(need.most + sway), SLACK),
                    false => m.reach.meets(mine.get_or_init(|| ready(need.most)), SLACK),
                };
                let least = need.least + sway;
                bar(met, &some, &|| least >= 0.0 && m.reach.meets(&ready(least), 0.0))
            }),
            Met::Floor => None,
        };
        // what barred the way beside most likely bars this one too
        let known = last.filter(|l| all().any(|met| met == *l)).and_then(meets);
        known.or_else(|| all().filter(|met| Some(*met) != last).find_map(meets))
    }

    fn meets_room(&self, room: &Room, way: Vec3, half: f64, last: Option<Met>) -> Option<Bar> {
        let (contour, low, high) = room.at(self.exit, &self.frame, way);
        let along = along_depth(self.exit.axis);
        let bounds = contour.bounds();
        let moves = room.farthest * half;
        let meets = |b: &Block<'_>| {
            let near = self.clearance + self.loss(b);
            let need = near + moves;
            let gap = (b.low - high).max(low - b.high);
            let off = if along { near } else { need };
            // the room begins where its own instrument ends
            let apart = gap >= off.max(SLACK) || b.own && gap > -SLACK && along;
            !apart
                && b.solid.is_none()
                && distance::box_distance2(&bounds, &b.bounds) <= need * need + SLACK
                && distance::near(&contour, &b.contour, need)
        };
        if let Some(Met::Still(k)) = last
            && self.around.blocks.get(k).is_some_and(meets)
        {
            return last.map(Bar::here);
        }
        if let Some(k) = self.around.blocks.iter().position(meets) {
            return Some(Bar::here(Met::Still(k)));
        }
        if self.on_floor(high + self.clearance, || contour.clone()) {
            return Some(Bar::here(Met::Floor));
        }
        let shape = || {
            let section = contour.clone();
            Solid::new(Shape::Prism { section, from: low, to: high }, Pose::IDENTITY).ok()
        };
        let need = Need { most: self.clearance + moves, least: self.clearance - moves };
        let here =
            Bounds { low: Vec3::new(bounds.x0, bounds.y0, low), high: Vec3::new(bounds.x1, bounds.y1, high) };
        self.meets_solids(&[here.grown(need.most)], shape, need, last)
    }

    /// Whether something reaches the floor where no area of the depth map stands under all of it, wherever it sways and,
    /// at the worst, whatever the tolerances put it off.
    fn on_floor(&self, deepest: f64, contour: impl FnOnce() -> Contour) -> bool {
        if self.around.floor.is_none_or(|floor| deepest <= floor + SLACK) {
            return false;
        }
        let off = if self.worst { self.around.off } else { 0.0 };
        let stands = swept(&contour(), self.around.drifts);
        let within = |area: &Contour, c: &Contour| {
            contains(area, c) && (off <= 0.0 || distance::contours(c, area).distance >= off - SLACK)
        };
        let mut areas = self.panel.depth_maps(self.panel.group(self.exit.port)).flat_map(|m| &m.areas);
        !areas.any(|a| stands.iter().all(|c| within(&a.contour, c)))
    }
}

#[cfg(test)]
mod tests;
