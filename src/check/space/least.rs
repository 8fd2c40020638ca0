//! How near each control comes to anything over its whole travel. For the report: nothing is judged here.

use super::{Known, Moving, Space, around_moving, moving, of_links, plates};
use crate::check::Interval;
use crate::check::obstacle_clear::{STANDS, is_item};
use crate::panel::{Detail, Panel, PartRef, SubjectKind};
use crate::solid::travel::{BEYOND, Moved, Reach};
use crate::solid::{Bounds, Solid, Vec3};

/// What is not nearer than this, mm (2 in), is not looked for.
pub const LOOKED: f64 = 50.8;

/// A solid of a control, and what it comes nearest to.
#[derive(Clone, Debug, PartialEq)]
pub struct Least {
    /// The control's part.
    pub part: PartRef,
    /// What comes nearest; `None`: nothing comes nearer than [`LOOKED`].
    pub nearest: Option<Nearest>,
    /// The numbers without which its travel is not known, in words: what is told is then of the stops and of stiff links.
    pub waits: Option<String>,
}

/// What comes nearest, as drawn: no tolerance is taken off. What floats is taken with all of its sway, as far as that is given.
#[derive(Clone, Debug, PartialEq)]
pub struct Nearest {
    /// The other part.
    pub other: PartRef,
    /// The gap, mm, with overtravel and play; not above zero: they meet.
    pub gap: Interval,
    /// Nearest points, on the control first, mm, panel's frame.
    pub points: [Vec3; 2],
    /// Drivers, by index, and their values where the gap is least.
    pub pose: Vec<(usize, f64)>,
}

/// Of each solid that moves, what it comes nearest to: items whose depth is known, sheets, obstacles, lines whose run is
/// drawn, and other controls. What its file says that it runs in is left out.
pub fn least_clearances(panel: &Panel) -> Vec<Least> {
    let space = Space::of(panel);
    space
        .moving
        .iter()
        .map(|m| Least { part: m.part, nearest: nearest(&space, m), waits: m.waits.clone() })
        .collect()
}

/// One that may be the nearest.
pub(super) struct Candidate<'s, 'a> {
    pub part: PartRef,
    pub bounds: Bounds,
    pub what: What<'s, 'a>,
}

pub(super) enum What<'s, 'a> {
    Still(&'s Solid),
    /// The metal of a sheet near the control.
    Plate(Box<Solid>),
    /// An item's part, made a solid when it is asked about.
    Part,
    Moving(&'s Moving<'a>),
}

fn nearest<'a>(space: &Space<'a>, own: &Moving<'a>) -> Option<Nearest> {
    let panel = space.panel;
    let mut all = candidates(space, own);
    let apart = |c: &Candidate<'_, '_>| c.bounds.distance(&own.bounds);
    all.retain(|c| apart(c) < LOOKED);
    all.sort_by(|a, b| apart(a).total_cmp(&apart(b)));
    let mut best: Option<Nearest> = None;
    for c in &all {
        let reach = best.as_ref().map_or(LOOKED, |b| b.gap.lower);
        // nothing is nearer than what meets
        if reach <= 0.0 || apart(c) >= reach {
            break;
        }
        let to = |solid: &Solid| {
            let still = Reach::new(&panel.space.mechanism, Moved { solid, link: None, grow: 0.0 });
            own.reach.clearance(&still, reach - BEYOND)
        };
        let travelled = match &c.what {
            What::Moving(m) => own.reach.clearance(&m.reach, reach - BEYOND),
            What::Still(solid) => to(solid),
            What::Plate(solid) => to(solid),
            What::Part => {
                let play = panel.play(c.part, own.part);
                let Some((solid, Known::Range)) = moving(panel.part(c.part), &play) else { continue };
                to(&solid)
            }
        };
        if travelled.over || travelled.lower >= reach {
            continue;
        }
        let links: Vec<usize> = std::iter::once(own.link)
            .chain(if let What::Moving(m) = c.what { Some(m.link) } else { None })
            .collect();
        best = Some(Nearest {
            other: c.part,
            gap: Interval { lower: travelled.lower, upper: travelled.upper.max(travelled.lower) },
            points: travelled.points,
            pose: of_links(panel, &links, &travelled.pose),
        });
    }
    best
}

pub(super) fn candidates<'s, 'a>(space: &'s Space<'a>, own: &Moving<'a>) -> Vec<Candidate<'s, 'a>> {
    let panel = space.panel;
    let mut all: Vec<Candidate<'s, 'a>> = Vec::new();
    for (n, s) in panel.subjects.iter().enumerate() {
        for (k, p) in s.parts.iter().enumerate() {
            let part = PartRef { subject: n as u32, part: k as u32 };
            match &p.detail {
                Detail::Obstacle { solid, .. } | Detail::Line { solid, .. } => {
                    all.push(Candidate { part, bounds: solid.bounds(), what: What::Still(solid) });
                }
                _ if is_item(s.kind) && STANDS.has(p.class) && p.depth.is_some() => {
                    all.push(Candidate {
                        part,
                        bounds: around_moving(p, &panel.play(part, own.part)),
                        what: What::Part,
                    });
                }
                _ => {}
            }
        }
        let sheet = panel
            .sheets
            .get(s.sheet as usize)
            .filter(|_| s.kind == SubjectKind::Sheet && !s.parts.is_empty());
        if let Some(sheet) = sheet.filter(|sheet| sheet.thickness.is_some()) {
            let part = PartRef { subject: n as u32, part: 0 };
            for plate in
                plates(panel, s.sheet as usize, sheet, &own.bounds, LOOKED, &panel.play(part, own.part))
            {
                all.push(Candidate { part, bounds: plate.bounds(), what: What::Plate(Box::new(plate)) });
            }
        }
    }
    let others = space.moving.iter().filter(|m| m.part.subject != own.part.subject);
    all.extend(others.map(|m| Candidate { part: m.part, bounds: m.bounds, what: What::Moving(m) }));
    let link = |c: &Candidate<'_, '_>| if let What::Moving(m) = c.what { Some(m.link) } else { None };
    all.retain(|c| !panel.space.exempt(own.link, c.part, link(c)));
    all
}
