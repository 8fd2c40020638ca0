//! How each item comes out: its way, what stands in it, and in which order.
//!
//! An item's moving parts are swept along the depth through their own length: prisms stay prisms, so what is in the
//! way of another item is exact, what hangs by its front flange taken from where it is drawn down to where it droops; against the airframe's solids the certified distance decides. Of a control it is
//! enough that one pose lets the item pass: poses between the stops are tried on a grid, and the one told is proven.

mod order;
mod sweep;

use super::own::length;
use crate::geom::SLACK;
use crate::panel::{Panel, PartRef, Service, SubjectKind};
pub(super) use order::ways;
pub(super) use sweep::{MOVES as MOVES_OUT, below, fixed, in_reach, prism};
use sweep::{Sweep, airframe, in_the_way};

/// The side through which an item leaves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    /// Towards the pilot.
    Front,
    /// Forward, behind the sheet.
    Rear,
}

impl Side {
    pub fn word(self) -> &'static str {
        match self {
            Side::Front => "to the front",
            Side::Rear => "behind the sheet",
        }
    }
}

/// How an item comes out.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Way {
    /// It does, after these have come off, in this order; with the controls in this pose, in words.
    Free { side: Side, first: Vec<usize>, pose: Option<String> },
    /// A number or word is missing.
    Withheld(String),
    /// Something that cannot be taken away is in its way.
    Blocked { side: Side, by: Option<PartRef>, words: String },
    /// It and these hold each other in.
    Locked { side: Side, with: Vec<usize> },
}

/// What is in the way of an item on one side.
struct Attempt {
    side: Side,
    /// Items that must come off first, ascending.
    items: Vec<usize>,
    /// Why it is impossible whatever comes off.
    never: Option<(Option<PartRef>, String)>,
    /// A number that is missing.
    waits: Option<String>,
    /// A pose of the controls that it needs, in words.
    pose: Option<String>,
}

/// The sides on which an item may leave, and what is in its way there; empty for what does not move.
fn attempts(panel: &Panel, item: usize, asked: f64) -> Result<Vec<Attempt>, String> {
    let s = &panel.subjects[item];
    let Some(facts) = s.facts.as_ref() else { return Ok(Vec::new()) };
    let sides: &[Side] = match facts.service {
        Some(Service::Front) => &[Side::Front],
        Some(Service::Rear) => &[Side::Rear],
        Some(Service::Both) => &[Side::Front, Side::Rear],
        None => return Err("the side from which it is served".into()),
    };
    Ok(sides.iter().map(|side| attempt(panel, item, *side, asked)).collect())
}

fn attempt(panel: &Panel, item: usize, side: Side, asked: f64) -> Attempt {
    let mut found = Attempt { side, items: Vec::new(), never: None, waits: None, pose: None };
    let sweep = match Sweep::of(panel, item, side) {
        Ok(sweep) => sweep,
        Err(waits) => {
            found.waits = Some(waits);
            return found;
        }
    };
    for other in 0..panel.subjects.len() {
        if other == item || !removable(panel, other) || carries(panel, item, other) {
            continue;
        }
        // units of one frame slide beside each other
        let room = if siblings(panel, item, other) { 0.0 } else { asked };
        if rides(panel, item, other) || in_the_way(panel, &sweep, other, room) {
            found.items.push(other);
        }
    }
    let fixed = airframe(panel, &sweep, asked);
    found.pose = fixed.pose;
    found.never = fixed.met.map(|(part, gap)| {
        let name = panel.part_name(part);
        let words = if gap < -SLACK {
            format!("{name} stands {} deep in its way", length(panel, -gap))
        } else {
            format!("{} of room to {name}, {} asked", length(panel, gap.max(0.0)), length(panel, asked))
        };
        (Some(part), format!("{words}{}", fixed.tried))
    });
    found
}

/// What an item sweeps on its way out, where it is served from one side only: parts and the depths that each sweeps.
pub(super) fn only_way(panel: &Panel, item: usize) -> Option<Vec<(usize, f64, f64)>> {
    let s = panel.subjects.get(item).filter(|_| removable(panel, item))?;
    let side = match s.facts.as_ref()?.service? {
        Service::Front => Side::Front,
        Service::Rear => Side::Rear,
        Service::Both => return None,
    };
    let sweep = Sweep::of(panel, item, side).ok()?;
    let swept = sweep.parts().filter_map(|(part, from, to)| {
        s.parts.iter().position(|p| std::ptr::eq(p, part)).map(|k| (k, from, to))
    });
    Some(swept.collect())
}

/// Whether a subject is an item that comes off as a whole and is there.
fn removable(panel: &Panel, k: usize) -> bool {
    let s = &panel.subjects[k];
    matches!(s.kind, SubjectKind::Placement | SubjectKind::Unit) && !s.provision
}

/// Whether the first is a unit that slides in the second, its frame.
fn carries(panel: &Panel, item: usize, other: usize) -> bool {
    panel.subjects[item].kind == SubjectKind::Unit && panel.subjects[item].carrier == Some(other as u32)
}

/// Whether both are units of one frame.
fn siblings(panel: &Panel, item: usize, other: usize) -> bool {
    let (a, b) = (&panel.subjects[item], &panel.subjects[other]);
    a.kind == SubjectKind::Unit && b.kind == SubjectKind::Unit && a.carrier == b.carrier
}

/// Whether the second is a unit in the frame that the first is: units come out before their frame.
fn rides(panel: &Panel, item: usize, other: usize) -> bool {
    carries(panel, other, item)
}
