//! Into which directions round its axis the first quarter turn of a line is free.
//!
//! Certified: the circle is cut into intervals; one counts as free when, in its middle, the tube is clear of everything by
//! more than any of its points moves until the interval's ends. What cannot be shown free down to [`LEAST`] degrees counts as
//! blocked. Where only the room of the turn is known, a box that holds every turn within that room is tried instead.

use super::around::{Around, Block};
use super::exit::{Exit, Turn};
use super::tube::{Chain, Chord, Frame, along_depth};
use crate::calc::clock::Directions;
use crate::geom::{Contour, Point, Rect, SLACK, Vec2, contains, distance};
use crate::panel::{Panel, PartRef};
use crate::solid::Vec3;

/// Intervals at first.
const FIRST: usize = 24;
/// Narrowest interval that is looked at, degrees.
const LEAST: f64 = 15.0 / 8.0;

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
pub fn free(panel: &Panel, exit: &Exit, clearance: f64) -> Free {
    free_of(panel, exit, &gathered(panel, exit, clearance), clearance, true)
}

/// What stands within reach of a port's first turn.
pub fn gathered<'a>(panel: &'a Panel, exit: &Exit, clearance: f64) -> Around<'a> {
    let loss = panel.part(exit.port).terms.iter().map(|t| t.shift + t.grow).sum::<f64>();
    Around::of(panel, exit, reach(panel, exit) + clearance + loss, clearance)
}

/// How far from its axis a line's first turn can reach, seen from the seat.
fn reach(panel: &Panel, exit: &Exit) -> f64 {
    let part = panel.part(exit.port);
    let side = match Chain::of(exit) {
        Some(chain) if along_depth(exit.axis) => chain.side,
        Some(chain) => chain.side.max(chain.along),
        None => exit.deep() + part.contour.farthest(Point::new(exit.at.x, exit.at.y)),
    };
    // the chain is a little thicker than the tube
    1.01 * side + 1.0
}

/// The same among what was gathered, at the worst tolerances or as drawn.
pub fn free_of(panel: &Panel, exit: &Exit, around: &Around<'_>, clearance: f64, worst: bool) -> Free {
    let frame = Frame::of(exit);
    let model = match (Chain::of(exit), &exit.turn) {
        (Some(chain), _) => Model::Chain(chain),
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
    for k in &found.by {
        let one = match around.blocks.get(*k) {
            Some(b) => (b.name.clone(), b.part),
            None => ("the room that is left behind the sheet".to_string(), None),
        };
        if !blockers.contains(&one) {
            blockers.push(one);
        }
    }
    Free { set: Directions::of(found.free), blockers, sure, more }
}

/// How much of the line's need along the depth lies in what stands ahead.
fn ahead(exit: &Exit, around: &Around<'_>, by: &[usize], clearance: f64) -> Option<f64> {
    if exit.axis.d < 0.5 {
        return None;
    }
    let starts = exit.at.d + exit.straight;
    let floor = by.iter().map(|k| around.blocks.get(*k).map_or(around.floor, |b| Some(b.low)));
    let least = floor.flatten().filter(|d| *d > starts - SLACK).reduce(f64::min)?;
    let more = exit.at.d + exit.deep() + clearance - least;
    (more > SLACK).then_some(more)
}

/// What is known so far.
#[derive(Debug)]
struct Found {
    free: Vec<(f64, f64)>,
    /// Blocks that were met, by their number; one past the last: the floor.
    by: Vec<usize>,
    sure: bool,
}

impl Default for Found {
    fn default() -> Found {
        Found { free: Vec::new(), by: Vec::new(), sure: true }
    }
}

/// What is turned round the axis.
enum Model {
    Chain(Chain),
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
        if self.worst { b.loss } else { 0.0 }
    }

    fn split(&self, from: f64, to: f64, found: &mut Found) {
        let middle = (from + to) / 2.0;
        let half = (to - from) / 2.0 * (std::f64::consts::PI / 180.0);
        let Some(k) = self.meets(middle, half) else {
            found.free.push((from, to));
            return;
        };
        if to - from > LEAST {
            self.split(from, middle, found);
            self.split(middle, to, found);
            return;
        }
        found.sure &= self.around.blocks.get(k).is_none_or(|b| b.sure);
        if !found.by.contains(&k) {
            found.by.push(k);
        }
    }

    /// What may be met within `half` radians of a direction; `None`: surely nothing.
    fn meets(&self, degrees: f64, half: f64) -> Option<usize> {
        let way = self.frame.way(degrees);
        match &self.model {
            Model::Chain(chain) => self.meets_chain(chain, way, half),
            Model::Room(room) => self.meets_room(room, way, half),
        }
    }

    fn meets_chain(&self, chain: &Chain, way: Vec3, half: f64) -> Option<usize> {
        let mut floors = false;
        for (n, chord) in chain.chords(&self.frame, way).enumerate() {
            // a point moves by no more than its distance from the axis times the angle, and round an axis along the depth
            // it stays in its depth
            let moves = chord.side * half;
            let (every_way, beside) = if along_depth(self.exit.axis) { (0.0, moves) } else { (moves, 0.0) };
            let skin = chain.radius + self.clearance + every_way;
            for (k, b) in self.around.blocks.iter().enumerate() {
                if !(n == 0 && b.own) && !clears(&chord, b, skin + self.loss(b), beside) {
                    return Some(k);
                }
            }
            floors |= self.on_floor(chord.from.d.max(chord.to.d) + skin, || {
                Contour::slot(flat(chord.from), flat(chord.to), skin + beside)
            });
        }
        floors.then_some(self.around.blocks.len())
    }

    fn meets_room(&self, room: &Room, way: Vec3, half: f64) -> Option<usize> {
        let (contour, low, high) = room.at(self.exit, &self.frame, way);
        let bounds = contour.bounds();
        for (k, b) in self.around.blocks.iter().enumerate() {
            let need = self.clearance + room.farthest * half + self.loss(b);
            let gap = (b.low - high).max(low - b.high);
            // the room begins where its own instrument ends
            let apart = gap >= need.max(SLACK) || b.own && gap > -SLACK && along_depth(self.exit.axis);
            if apart || distance::box_distance2(&bounds, &b.bounds) > need * need + SLACK {
                continue;
            }
            if distance::within(&contour, &b.contour, need).is_some() {
                return Some(k);
            }
        }
        self.on_floor(high + self.clearance, || contour).then_some(self.around.blocks.len())
    }

    /// Whether something reaches the floor where no area of the depth map stands under all of it.
    fn on_floor(&self, deepest: f64, contour: impl FnOnce() -> Contour) -> bool {
        if self.around.floor.is_none_or(|floor| deepest <= floor + SLACK) {
            return false;
        }
        let contour = contour();
        !self.panel.depth.areas.iter().any(|a| contains(&a.contour, &contour))
    }
}

fn flat(v: Vec3) -> Point {
    Point::new(v.x, v.y)
}

/// Whether a chord is surely `need` or more from a prism, wherever it is shifted by up to `moves` beside, seen from the seat.
fn clears(chord: &Chord, b: &Block<'_>, need: f64, moves: f64) -> bool {
    let (p, q) = if chord.from.d <= chord.to.d { (chord.from, chord.to) } else { (chord.to, chord.from) };
    let gap = (b.low - q.d).max(p.d - b.high).max(0.0);
    if gap >= need {
        return true;
    }
    let side = Rect::from_points(flat(p), flat(q));
    let reach = (need * need - gap * gap).sqrt() + moves;
    if distance::box_distance2(&side, &b.bounds) >= reach * reach {
        return true;
    }
    // by how far in depth its pieces are off: within half of the need counts as beside, the rest as half of it off
    let half = need / 2.0;
    let bands = [
        (b.low - need, b.low - half, half),
        (b.low - half, b.high + half, 0.0),
        (b.high + half, b.high + need, half),
    ];
    bands.iter().all(|(low, high, off)| {
        let Some((from, to)) = clipped(p, q, *low, *high) else { return true };
        let beside = (need * need - off * off).sqrt() + moves;
        let slot = Contour::slot(flat(from), flat(to), beside);
        distance::within(&slot, &b.contour, 0.0).is_none()
    })
}

/// The piece of a chord, its ends in the order of their depth, within a range of depth.
fn clipped(p: Vec3, q: Vec3, low: f64, high: f64) -> Option<(Vec3, Vec3)> {
    if q.d < low || p.d > high {
        return None;
    }
    let rise = q.d - p.d;
    if rise <= SLACK {
        return Some((p, q));
    }
    let at = |d: f64| p + (q - p) * ((d - p.d) / rise).clamp(0.0, 1.0);
    Some((at(low.max(p.d)), at(high.min(q.d))))
}

/// A box that holds every turn within a stated room.
struct Room {
    /// Where it begins and ends along the axis.
    along: (f64, f64),
    /// The port's section, seen from the seat.
    section: Contour,
    /// Reach to the side from where what leaves has its centre.
    side: f64,
    /// Whether that centre is the port's own; else it may be anywhere in the section.
    centred: bool,
    /// Farthest point from the axis.
    farthest: f64,
}

impl Room {
    fn of(panel: &Panel, exit: &Exit, deep: f64) -> Room {
        let part = panel.part(exit.port);
        let centre = Point::new(exit.at.x, exit.at.y);
        // radius and diameter together are the room: the centre line ends less than that to the side
        let section = if along_depth(exit.axis) {
            part.contour.clone()
        } else {
            let depth = part.depth.map_or(deep, |(a, b)| b - a);
            Contour::circle(centre, depth / 2.0)
        };
        let wide = section.farthest(centre);
        let centred = exit.wide.is_some();
        // how far a point moves for a turn of one radian: swept, the section itself stands still
        let side = deep.max(wide);
        let farthest = if centred { (side * side + wide * wide).sqrt() } else { deep };
        Room { along: (exit.straight, exit.straight + deep), section, side: deep, centred, farthest }
    }

    /// What leaves at the port's centre: a box that turns with the direction.
    fn turned(&self, centre: Vec2, way: Vec3) -> Contour {
        let u = Vec2::new(way.x, way.y);
        let n = Vec2::new(-u.y, u.x);
        let reach = |d: Vec2| self.section.support(d) - centre.dot(d);
        let (ahead, back, left, right) = (self.side.max(reach(u)), reach(-u), reach(n), reach(-n));
        let corner = |a: f64, b: f64| Point::ORIGIN + centre + u * a + n * b;
        Contour::polygon(&[
            corner(ahead, -right),
            corner(ahead, left),
            corner(-back, left),
            corner(-back, -right),
        ])
    }

    /// What leaves anywhere in the section: the section's upright box drawn out along the direction.
    fn swept(&self, way: Vec3) -> Contour {
        let b = self.section.bounds();
        let by = Vec2::new(way.x, way.y) * self.side;
        let (y0, y1) = if by.y >= 0.0 { (b.y0, b.y1) } else { (b.y1, b.y0) };
        let (x0, x1) = if by.x >= 0.0 { (b.x0, b.x1) } else { (b.x1, b.x0) };
        let p = Point::new;
        Contour::polygon(&[p(x0, y0), p(x1, y0), p(x1, y0) + by, p(x1, y1) + by, p(x0, y1) + by, p(x0, y1)])
    }

    /// The box in one direction: its outline seen from the seat (at least that) and its range of depth.
    fn at(&self, exit: &Exit, frame: &Frame, way: Vec3) -> (Contour, f64, f64) {
        let centre = Vec2::new(exit.at.x, exit.at.y);
        let (near, far) = self.along;
        if along_depth(exit.axis) {
            let outline = if self.centred { self.turned(centre, way) } else { self.swept(way) };
            let (a, b) = (exit.at.d + frame.axis.d * near, exit.at.d + frame.axis.d * far);
            return (outline, a.min(b), a.max(b));
        }
        let half = self.section.farthest(Point::ORIGIN + centre);
        let across = frame.axis.cross(way);
        let mut low = Vec3::new(f64::INFINITY, f64::INFINITY, f64::INFINITY);
        let mut high = -low;
        for along in [near, far] {
            for side in [-half, self.side.max(half)] {
                for off in [-half, half] {
                    let p = exit.at + frame.axis * along + way * side + across * off;
                    low = Vec3::new(low.x.min(p.x), low.y.min(p.y), low.d.min(p.d));
                    high = Vec3::new(high.x.max(p.x), high.y.max(p.y), high.d.max(p.d));
                }
            }
        }
        let size = high - low;
        let middle = Point::new((low.x + high.x) / 2.0, (low.y + high.y) / 2.0);
        (Contour::rect(middle, size.x, size.y, 0.0), low.d, high.d)
    }
}

#[cfg(test)]
mod tests;
