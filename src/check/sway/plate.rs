//! A swept part against the metal of the carrier round the opening.

use super::{Met, margin, whole};
use crate::check::judge::{self, Measure, Stack};
use crate::geom::sweep::swept;
use crate::geom::{SLACK, contains, distance};
use crate::panel::{Classes, Group, Panel, Part, PartRef};

/// How a part that rides on a floating panel meets the carrier's sheet and its layers; `None` where it stays beyond reach, or
/// where no opening is named. Exact, but that a part beyond the sheet's own edge is measured along the depth alone.
pub(super) fn met(panel: &Panel, group: &Group, a: PartRef, deep: (f64, f64), reach: f64) -> Option<Met> {
    let named = group.opening?;
    let own = panel.part(a);
    let b = around(panel, named, own);
    let opening = panel.part(b);
    let play = panel.play(a, b);
    let loss = judge::loss(own, opening, Stack::Within);
    let (from, to) = play.deep(deep);
    let (front, back) = metal(panel);
    // below zero: how far it comes into the metal along the depth
    let along = (front - to).max(from - back);
    let h = along.max(0.0);
    let parts = swept(&own.contour, play.flat());
    let outline = panel.sheets.first().map(|s| &s.outline)?;
    let off = |c: &crate::geom::Contour| distance::contours(c, outline).relation == distance::Relation::Apart;
    if h > reach + loss || parts.iter().all(off) {
        return None;
    }
    let (flat, at) = parts.iter().map(|c| margin(&opening.contour, c)).min_by(|x, y| x.0.total_cmp(&y.0))?;
    let (value, worst) = match (h > SLACK, flat >= 0.0) {
        (true, true) => (whole(flat, h), whole((flat - loss).max(0.0), h)),
        (true, false) => (h, h),
        (false, true) => (flat, flat - loss),
        // out of the metal the shorter way
        (false, false) => (flat.max(along), flat.max(along) - loss),
    };
    let (rest, [p, q]) = margin(&opening.contour, &own.contour);
    let rest = (rest > 0.0).then_some(rest);
    let contact = h <= SLACK && flat <= SLACK;
    let m = Measure { value, upper: value, worst, contact, at };
    let way =
        (contact && along > flat).then_some(if from < front { " behind it" } else { " in front of it" });
    (value <= reach + loss).then_some(Met { a, b, m, rest, off: q - p, play, way })
}

/// The opening through which a part goes: another one than the panel's where it stands in that at rest.
fn around(panel: &Panel, named: PartRef, own: &Part) -> PartRef {
    if contains(&panel.part(named).contour, &own.contour) {
        return named;
    }
    let subjects = panel.subjects.iter().enumerate().filter(|(_, s)| !s.provision && s.group == 0);
    let mut parts = subjects.flat_map(|(n, s)| {
        s.parts.iter().enumerate().map(move |(k, p)| (PartRef { subject: n as u32, part: k as u32 }, p))
    });
    let other = parts
        .find(|(_, p)| p.sheet == 0 && Classes::OPENINGS.has(p.class) && contains(&p.contour, &own.contour));
    other.map_or(named, |(r, _)| r)
}

/// Front and back of the carrier's metal, its layers included.
pub(super) fn metal(panel: &Panel) -> (f64, f64) {
    let of = panel.sheets.iter().enumerate().filter(|(k, s)| *k == 0 || s.layer_of == Some(0));
    of.map(|(_, s)| (s.front, s.front + s.thickness.unwrap_or(0.0)))
        .fold((0.0, 0.0), |all, s| (f64::min(all.0, s.0), f64::max(all.1, s.1)))
}
