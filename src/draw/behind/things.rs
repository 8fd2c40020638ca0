//! Everything that has a solid, as the views need it: what it is, whose it is, where it stands at rest.

use crate::geom::Transform;
use crate::panel::{Class, Detail, End, Panel, PartRef, SubjectKind};
use crate::solid::travel::LinkRef;
use crate::solid::{Pose, Shape, Solid};

/// What a thing is to a view.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// Face, knob or head on the pilot's side.
    Front,
    /// A body behind the sheet.
    Body,
    /// What a port needs behind: connector, backshell, bend.
    Port,
    /// A nut or nutplate.
    Nut,
    /// A fixed solid of the airframe.
    Obstacle,
    /// A solid that moves with this link.
    Control(LinkRef),
    /// A hose, bundle or cable.
    Line,
}

/// A solid of the panel.
pub struct Thing {
    /// Its part.
    pub part: PartRef,
    /// What it is.
    pub role: Role,
    /// Where it stands: controls at rest.
    pub solid: Solid,
}

/// All solids, in the order of the panel; provisions too. What has no depth is in [`lacking`].
pub fn things(panel: &Panel) -> Vec<Thing> {
    let rest = panel.space.mechanism.neutral();
    let mut out = Vec::new();
    for (k, s) in panel.subjects.iter().enumerate() {
        for (n, p) in s.parts.iter().enumerate() {
            let role = match (p.class, &p.detail) {
                (Class::Bezel | Class::Front | Class::Head, _) => Role::Front,
                (Class::Body | Class::Flange | Class::Provision, _) => Role::Body,
                (Class::Port, _) => Role::Port,
                (Class::Nut, _) => Role::Nut,
                (Class::Obstacle, _) => Role::Obstacle,
                (Class::Moving, Detail::Moving { link, .. }) => Role::Control(*link),
                (Class::Line, _) => Role::Line,
                _ => continue,
            };
            let solid = match &p.detail {
                Detail::Obstacle { solid, .. } | Detail::Line { solid, .. } => Some(solid.as_ref().clone()),
                Detail::Moving { solid, link, .. } => {
                    Some(solid.moved(&panel.space.mechanism.pose(*link, &rest)))
                }
                _ => p.depth.and_then(|(from, to)| {
                    let section = Transform::IDENTITY.contour(&p.contour.ccw());
                    Solid::new(Shape::Prism { section, from, to }, Pose::IDENTITY).ok()
                }),
            };
            let part = PartRef { subject: k as u32, part: n as u32 };
            out.extend(solid.map(|solid| Thing { part, role, solid }));
        }
    }
    out
}

/// What begins this much behind the deepest body or port is out of everything's way, mm.
const BEYOND: f64 = 60.0;

/// The depth behind which nothing is in the way of any item; infinite where no item has a depth.
pub fn beyond(panel: &Panel) -> f64 {
    let parts = panel.subjects.iter().flat_map(|s| &s.parts);
    let deep = parts.filter(|p| matches!(p.class, Class::Body | Class::Port)).filter_map(|p| p.depth);
    deep.map(|d| d.1).reduce(f64::max).map_or(f64::INFINITY, |d| d + BEYOND)
}

/// Bodies and ports that are drawn nowhere because their shape or depth is missing: name and what is missing.
pub fn lacking(panel: &Panel) -> Vec<(usize, String)> {
    let mut out = Vec::new();
    for (k, s) in panel.subjects.iter().enumerate() {
        let items = matches!(s.kind, SubjectKind::Placement | SubjectKind::Unit | SubjectKind::OldOpening);
        for p in s.parts.iter().filter(|p| items && matches!(p.class, Class::Body | Class::Port)) {
            if p.depth.is_none() {
                out.push((k, format!("{}.{}: its depth", s.id, p.name)));
            }
        }
        for (name, what) in s.missing.iter().filter(|_| items) {
            let told = format!("{}.{name}: {what}", s.id);
            if !out.iter().any(|(_, t)| t.starts_with(&format!("{}.{name}:", s.id))) {
                out.push((k, told));
            }
        }
    }
    out
}

/// Whether two subjects are one for clearance: the same, one carries the other, or a line and what it is plugged into.
pub fn kin(panel: &Panel, a: u32, b: u32) -> bool {
    let carrier = |k: u32| panel.subjects.get(k as usize).and_then(|s| s.carrier);
    let hangs = |line: u32, on: u32| {
        panel.space.lines.iter().filter(|l| l.subject == line).any(|l| {
            l.from.is_some_and(|p| p.subject == on) || matches!(l.to, Some(End::Port(p)) if p.subject == on)
        })
    };
    a == b
        || carrier(a) == Some(b)
        || carrier(b) == Some(a)
        || carrier(a).is_some_and(|c| carrier(b) == Some(c))
        || hangs(a, b)
        || hangs(b, a)
}
