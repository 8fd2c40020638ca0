//! What fingers hold behind the sheet to undo an item: plugs and hose fittings.

use super::super::depth_behind::missing_depth;
use super::super::own::{anchor, of_class};
use super::exit::{Exit, Turn, line_at};
use super::{stiff, tube::along_depth};
use crate::geom::{Contour, Point, Transform, Vec2};
use crate::panel::{
    Class, Facts, Leaves, LineKind, Outlet, Panel, Part, PartRef, Service, State, Subject, SubjectKind,
};
use crate::solid::Vec3;
use std::sync::Arc;

/// One thing that is held: a round bar along an axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Grip {
    /// Its part.
    pub part: PartRef,
    /// Where it begins: the middle of its end on the item.
    pub at: Vec3,
    /// Unit vector along it, away from the item; along the depth or within the sheet's plane.
    pub axis: Vec3,
    /// How long it is, mm.
    pub long: f64,
    /// Its radius, mm.
    pub radius: f64,
}

impl Grip {
    /// Whether it points along the depth.
    pub fn straight_behind(&self) -> bool {
        along_depth(self.axis)
    }

    /// Depths between which it lies.
    pub fn depth(&self) -> (f64, f64) {
        if self.straight_behind() {
            let end = self.at.d + self.axis.d * self.long;
            (self.at.d.min(end), self.at.d.max(end))
        } else {
            (self.at.d - self.radius, self.at.d + self.radius)
        }
    }

    /// Its outline seen from the seat.
    pub fn outline(&self) -> Contour {
        let (a, u) = (Point::new(self.at.x, self.at.y), Vec2::new(self.axis.x, self.axis.y));
        if self.straight_behind() {
            return Contour::circle(a, self.radius);
        }
        let n = Vec2::new(-u.y, u.x) * self.radius;
        let b = a + u * self.long;
        Contour::polygon(&[a - n, b - n, b + n, a + n])
    }

    /// As the port that a line leaves from, which is how its neighbours are looked for.
    pub(super) fn as_exit(&self) -> Exit {
        Exit {
            port: self.part,
            at: self.at,
            axis: self.axis,
            straight: self.long,
            turn: Turn::Room { deep: 0.0, elbow: false },
            wide: Some(2.0 * self.radius),
            line: None,
            side_exit: None,
        }
    }
}

/// What fingers hold of one item; `Err`: what is missing of it, in words. Empty for what nobody undoes from behind.
pub fn grips(panel: &Panel, subject: usize) -> Vec<(PartRef, Result<Grip, String>)> {
    let Some(s) = panel.subjects.get(subject).filter(|s| is_undone(s)) else { return Vec::new() };
    let grip = |(k, p): (usize, &Part)| {
        let part = PartRef { subject: subject as u32, part: k as u32 };
        Some((part, plug(panel, s, part, p)?))
    };
    of_class(s, Class::Port).filter_map(grip).collect()
}

/// Where to tell that nobody said what leaves an item behind; `None` where that is said, and of what is surely not undone
/// from there.
pub fn unsaid(panel: &Panel, subject: usize) -> Option<(PartRef, Point)> {
    let s = panel.subjects.get(subject).filter(|s| is_undone(s))?;
    let open = |f: &&Arc<Facts>| !f.open_terms.is_empty() && f.service != Some(Service::Front);
    s.facts.as_ref().filter(open)?;
    let (part, at) = anchor(s, &[Class::Cutout, Class::Hole, Class::Bezel])?;
    Some((PartRef { subject: subject as u32, part: part as u32 }, at))
}

/// Whether a subject is there and comes off as a whole.
fn is_undone(s: &Subject) -> bool {
    matches!(s.kind, SubjectKind::Placement | SubjectKind::Unit) && !s.provision
}

/// Whether the fingers are behind the sheet when this is undone; `Err`: the word that is missing.
fn from_behind(panel: &Panel, s: &Subject, part: PartRef) -> Result<bool, String> {
    let rigid = line_at(panel, part).and_then(|k| panel.space.lines.get(k)).map(|l| l.kind);
    if matches!(rigid, Some(LineKind::Pipe)) {
        return Ok(true);
    }
    match s.facts.as_ref().and_then(|f| f.service) {
        Some(Service::Rear | Service::Both) => Ok(true),
        Some(Service::Front) => Ok(false),
        None => Err("the side from which it is served".into()),
    }
}

fn plug(panel: &Panel, s: &Subject, part: PartRef, p: &Part) -> Option<Result<Grip, String>> {
    let outlet = s.facts.as_ref()?.ports.iter().find(|o| o.part == p.name)?;
    if !matches!(outlet.leaves, None | Some(Leaves::Plug | Leaves::Hose | Leaves::Coax | Leaves::Drive)) {
        return None;
    }
    match from_behind(panel, s, part) {
        Ok(true) => Some(held(s, part, p, outlet)),
        Ok(false) => None,
        Err(waits) => Some(Err(waits)),
    }
}

fn held(s: &Subject, part: PartRef, p: &Part, outlet: &Outlet) -> Result<Grip, String> {
    let Some((from, to)) = p.depth else { return Err(missing_depth(s, p)) };
    let Some(towards) = outlet.towards else { return Err("the direction in which it leaves".into()) };
    let Some(wide) = outlet.diameter else {
        return Err(format!("the diameter of the plug or fitting on {} (diameter)", p.name));
    };
    let flat = Transform::place(Point::ORIGIN, s.turn, s.mirrored).vector(Vec2::new(towards.x, towards.y));
    let axis = Vec3::new(flat.x, flat.y, towards.d);
    let length = stiff(s, p).map_or(0.0, |held| match held.depth {
        Some((a, b)) if along_depth(axis) => b - a,
        Some(_) => held.contour.support(flat) - p.centre.to_vec2().dot(flat),
        None => 0.0,
    });
    if length <= 0.0 {
        return Err(format!("the length of the plug or fitting on {}", p.name));
    }
    let d = match axis.d {
        d if d > 0.0 => from,
        d if d < 0.0 => to,
        _ => (from + to) / 2.0,
    };
    let at = Vec3::new(p.centre.x, p.centre.y, d);
    Ok(Grip { part, at, axis, long: length, radius: wide / 2.0 })
}

/// Whether a part is of something that exists and stays.
pub fn stays(panel: &Panel, part: PartRef) -> bool {
    panel.subject(part).state == State::Existing
}
