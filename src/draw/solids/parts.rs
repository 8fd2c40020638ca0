//! The solids of one subject: prisms from a contour and a depth range, and the true shapes of what is no prism.

use super::{Form, Kind, Named, says};
use crate::panel::{Class, Detail, Panel, Part, PartRef};
use crate::solid::{Fault, Pose, Shape, Solid};

/// The solids of a subject, and what is left out of the model with its reason.
pub(super) fn of(panel: &Panel, subject: usize, drivers: &[f64]) -> (Vec<Named>, Vec<String>) {
    let (mut named, mut lacking) = (Vec::new(), Vec::new());
    let Some(s) = panel.subjects.get(subject) else { return (named, lacking) };
    for (k, part) in s.parts.iter().enumerate() {
        let Some(kind) = kind(part) else { continue };
        let id = panel.part_name(PartRef { subject: subject as u32, part: k as u32 });
        match solid(panel, part, drivers) {
            Ok(solid) => {
                let link = if let Detail::Moving { link, .. } = part.detail { Some(link) } else { None };
                named.push(Named { id: unique(id, &named), kind, form: Form::Solid(solid), link });
            }
            Err(why) => lacking.push(format!("{id}: {why}")),
        }
    }
    // what has no contour has no part either
    for (name, what) in &s.missing {
        if !s.parts.iter().any(|p| p.name == *name) {
            lacking.push(format!("{}.{name}: {what} is missing", s.id));
        }
    }
    (named, lacking)
}

/// The id, with a number behind it where another has it already.
fn unique(id: String, named: &[Named]) -> String {
    let taken = |id: &str| named.iter().any(|n| n.id == id);
    if !taken(&id) {
        return id;
    }
    let mut number = 2;
    while taken(&format!("{id}-{number}")) {
        number += 1;
    }
    format!("{id}-{number}")
}

/// What a part is in the model; rooms, zones, openings and lettering are no solids.
fn kind(part: &Part) -> Option<Kind> {
    match part.class {
        Class::Bezel | Class::Flange => Some(Kind::Cover),
        Class::Body => Some(Kind::Body),
        Class::Port => Some(Kind::Port),
        Class::Front => Some(Kind::Front),
        Class::Head | Class::Nut => Some(Kind::Fastener),
        Class::Obstacle => Some(Kind::Obstacle),
        Class::Moving => Some(Kind::Control),
        Class::Line => Some(Kind::Line),
        Class::Edge
        | Class::Cutout
        | Class::Hole
        | Class::OldOpening
        | Class::Case
        | Class::Hand
        | Class::Zone
        | Class::Label
        | Class::Provision => None,
    }
}

fn solid(panel: &Panel, part: &Part, drivers: &[f64]) -> Result<Solid, String> {
    match &part.detail {
        Detail::Obstacle { solid, .. } | Detail::Line { solid, .. } => Ok(solid.as_ref().clone()),
        Detail::Moving { solid, link, .. } => Ok(solid.moved(&panel.space.mechanism.pose(*link, drivers))),
        Detail::Plain
        | Detail::Cutout { .. }
        | Detail::Hole { .. }
        | Detail::Front { .. }
        | Detail::Port { .. }
        | Detail::Zone { .. }
        | Detail::Label { .. } => prism(part).map_err(str::to_owned),
    }
}

fn prism(part: &Part) -> Result<Solid, &'static str> {
    let (from, to) = part.depth.ok_or("how deep it reaches is not given")?;
    if to <= from {
        return Err(says(Fault::ZeroSize));
    }
    Solid::new(Shape::Prism { section: part.contour.ccw(), from, to }, Pose::IDENTITY).map_err(says)
}
