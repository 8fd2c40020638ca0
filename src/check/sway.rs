//! A floating panel sways free of its opening and of all that is fixed.

mod plate;

use super::apart::{self, How};
use super::joined::joined;
use super::judge::{self, Measure, Stack};
use super::obstacle_clear::{STANDS, is_item};
use super::own::{Teller, length};
use super::{Finding, From, Heed, Limit, Near, REACH, Relation, Rule, Source, Space, Standing, Touch};
use crate::geom::{Contour, Point, Rect, SLACK, Vec2, distance};
use crate::panel::{Class, Group, Panel, Part, PartRef, Play, SheetRole, Subject, SubjectKind};

/// The rule.
pub static RULE: Rule = Rule {
    id: "sway",
    asks: "A panel on shock mounts, with all that rides on it, sways clear of its opening and of what is fixed.",
    why: "A case or a rim that taps the fixed panel defeats the rubber and cracks the case. Outline, bezels, cases, plugs and \
          nuts are swept by the sway that the file states, each way and along the depth, its sag added below, and must not \
          touch the carrier's sheet round the opening, nor an item of the carrier. Two bodies are asked by bodies-apart, the \
          airframe by obstacle-clear and control-clear, with the same sway. The mounts themselves join both.",
    limit: Limit::AtLeast(0.0),
    source: Source { standing: Standing::Nature, title: "" },
    relation: Relation::Near(Near { reach, heeds, measure }),
    asked: None,
};

/// What was measured of a part against one other.
struct Met {
    a: PartRef,
    b: PartRef,
    m: Measure,
    /// Flat gap at rest, mm; `None`: they overlap seen from the seat.
    rest: Option<f64>,
    /// From the first to the second at rest.
    off: Vec2,
    play: Play,
    /// On which side of the first the second lies, where that is along the depth.
    way: Option<&'static str>,
}

/// What it may come near, seen from the seat, as it sways: whatever the tolerances of the two.
fn reach(space: &Space<'_>, subject: usize, rule: &'static Rule) -> Option<Rect> {
    let panel = space.panel;
    let mut out = Vec::new();
    let t = Teller::new(panel, subject, rule, &mut out);
    let s = t.subject().filter(|s| s.group > 0)?;
    let by = t.asked(0.0).max(0.0) + REACH + panel.most_play() + 2.0 * space.most_loss() + SLACK;
    let own = s.parts.iter().filter(|p| rides(p.class)).map(|p| p.contour.bounds());
    own.reduce(|a, b| a.union(b)).map(|all| all.inflate(by, by))
}

/// What rides along does not come nearer; the opening in which the panel floats matters wherever it is.
fn heeds(panel: &Panel, subject: usize, other: usize) -> Heed {
    let group = |s: usize| panel.subjects.get(s).map_or(0, |s| s.group);
    let named = panel.space.groups.get(group(subject) as usize).and_then(|g| g.opening);
    if named.is_some_and(|o| o.subject as usize == other) {
        Heed::Always
    } else if group(other) == group(subject) {
        Heed::Never
    } else {
        Heed::Near
    }
}

fn measure(space: &Space<'_>, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let panel = space.panel;
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject().filter(|s| s.group > 0) else { return };
    let Some(group) = panel.space.groups.get(s.group as usize) else { return };
    let sheet = s.kind == SubjectKind::Sheet;
    if sheet && s.sheet as usize == group.sheet {
        missing(&mut t, s, group);
    }
    if group.sway.is_none() || !(sheet || is_item(s.kind)) || s.provision {
        return;
    }
    let asked = t.asked(0.0);
    for (k, part) in s.parts.iter().enumerate().filter(|(_, p)| rides(p.class)) {
        let a = t.part(k);
        let Some(deep) = depth(panel, part) else { continue };
        let mut all: Vec<Met> = Vec::new();
        if !panel.is_mount(a) {
            all.extend(plate::met(panel, group, a, deep, asked + REACH));
        }
        all.extend(others(panel, s, a, deep, asked + REACH));
        let mut nearest: Option<Met> = None;
        for met in all {
            if met.m.contact || met.m.worst < asked - SLACK {
                tell(&mut t, &met, asked);
            } else if nearest.as_ref().is_none_or(|n| met.m.worst < n.m.worst) {
                nearest = Some(met);
            }
        }
        if let Some(met) = nearest {
            tell(&mut t, &met, asked);
        }
    }
}

/// What of a floating panel can meet something.
fn rides(class: Class) -> bool {
    class == Class::Edge || STANDS.has(class)
}

/// The depth range of a part, a sheet's own thickness for its outline; `None`: not known, which the rules of depth ask for.
fn depth(panel: &Panel, part: &Part) -> Option<(f64, f64)> {
    match part.class {
        Class::Edge => {
            let sheet = panel.sheets.get(part.sheet as usize)?;
            Some((sheet.front, sheet.front + sheet.thickness?))
        }
        _ => part.depth,
    }
}

/// Withholds once for the whole panel what its file does not say.
fn missing(t: &mut Teller<'_>, s: &Subject, group: &Group) {
    let panel = t.panel;
    let mut waits = Vec::new();
    if group.sway.is_none() {
        waits.push(format!("how far {} sways on its mounts, each way (sway)", group.id));
    }
    if group.opening.is_none() {
        waits.push(format!("the opening of the carrier in which {} floats (opening)", group.id));
    }
    let own = format!("{}:mount-", group.id);
    let held = |(k, o): (usize, &Subject)| {
        let mount = panel.is_mount(PartRef { subject: k as u32, part: 0 });
        mount && (o.group == s.group || o.id.starts_with(&own))
    };
    if !panel.subjects.iter().enumerate().any(held) {
        waits.push(format!("the shock mounts that hold {} (mounts)", group.id));
    }
    if panel.sheets.get(group.sheet).is_some_and(|sheet| sheet.thickness.is_none()) {
        waits.push(format!("the thickness of {}", group.id));
    }
    if let (Some(edge), false) = (s.parts.first(), waits.is_empty()) {
        t.withhold(t.part(0), edge.centre, waits.join("; "));
    }
}

/// A swept part against the parts of what does not ride on the same panel.
fn others(panel: &Panel, s: &Subject, a: PartRef, deep: (f64, f64), reach: f64) -> Vec<Met> {
    let mut all = Vec::new();
    let own = panel.part(a);
    for (n, o) in panel.subjects.iter().enumerate() {
        let counts = o.group != s.group && !o.provision && (is_item(o.kind) || is_laid_on(panel, o));
        // of two that float the one that was laid in last tells
        if !counts || o.group > s.group && o.group > 0 {
            continue;
        }
        let mut worst: Option<Met> = None;
        for (k, part) in o.parts.iter().enumerate().filter(|(_, p)| rides(p.class)) {
            let b = PartRef { subject: n as u32, part: k as u32 };
            let bodies = |p: &Part| matches!(p.class, Class::Body | Class::Port);
            if bodies(own) && bodies(part) || joined(panel, a, b) {
                continue;
            }
            let Some(other) = depth(panel, part) else { continue };
            let play = panel.play(a, b);
            let Some(m) = solid_gap(own, deep, part, other, &play, reach) else { continue };
            if worst.as_ref().is_none_or(|w| m.worst < w.m.worst) {
                let rest = distance::contours(&own.contour, &part.contour);
                let off = rest.at[1] - rest.at[0];
                let rest = (!rest.relation.overlaps()).then_some(rest.distance);
                worst = Some(Met { a, b, m, rest, off, play, way: None });
            }
        }
        all.extend(worst);
    }
    all
}

/// Whether a subject is a sheet of its own on the carrier beside the main one: an insert, a layer, a floating panel.
fn is_laid_on(panel: &Panel, s: &Subject) -> bool {
    let role = panel.sheets.get(s.sheet as usize).map(|s| s.role);
    s.kind == SubjectKind::Sheet && role != Some(SheetRole::Main)
}

/// The pairs of parts of a subject and of others that the sway may bring into contact, the part that is swept first;
/// `true`: it stays within the second, the opening in which it floats.
pub(super) fn pairs(panel: &Panel, subject: usize) -> Vec<(PartRef, PartRef, bool)> {
    let mut out = Vec::new();
    let Some(own) = panel.subjects.get(subject) else { return out };
    for (n, o) in panel.subjects.iter().enumerate().filter(|(_, o)| o.group != own.group) {
        // of two that float the one that was laid in last tells
        let [(s, s_of), (b, b_of)] =
            if own.group > o.group { [(subject, own), (n, o)] } else { [(n, o), (subject, own)] };
        let tells = s_of.kind == SubjectKind::Sheet || is_item(s_of.kind);
        let told = !b_of.provision && (is_item(b_of.kind) || is_laid_on(panel, b_of));
        if !tells || s_of.provision || !told {
            continue;
        }
        let rides_on = |k: usize, s: &Subject| -> Vec<PartRef> {
            let named = |(part, _): (usize, &Part)| PartRef { subject: k as u32, part: part as u32 };
            s.parts.iter().enumerate().filter(|(_, p)| rides(p.class)).map(named).collect()
        };
        for a in rides_on(s, s_of) {
            for b in rides_on(b, b_of) {
                if near_in_depth(panel, a, b) && !joined(panel, a, b) {
                    out.push((a, b, false));
                }
            }
        }
    }
    let group = panel.space.groups.get(own.group as usize).filter(|_| own.group > 0);
    if let Some(opening) = group.and_then(|g| g.opening).filter(|_| is_item(own.kind) && !own.provision) {
        let (front, back) = plate::metal(panel);
        for (k, part) in own.parts.iter().enumerate().filter(|(_, p)| rides(p.class)) {
            let a = PartRef { subject: subject as u32, part: k as u32 };
            let range = depth(panel, part).map(|d| panel.play(a, opening).deep(d));
            let meets = range.is_some_and(|(from, to)| from < back + SLACK && front < to + SLACK);
            if meets && !panel.is_mount(a) {
                out.push((a, opening, true));
            }
        }
    }
    out
}

/// Whether two parts that move against each other may touch by their depths; two bodies are asked elsewhere.
fn near_in_depth(panel: &Panel, a: PartRef, b: PartRef) -> bool {
    let (pa, pb) = (panel.part(a), panel.part(b));
    let bodies = |p: &Part| matches!(p.class, Class::Body | Class::Port);
    if bodies(pa) && bodies(pb) {
        return false;
    }
    let (Some(own), Some((from, to))) = (depth(panel, pa), depth(panel, pb)) else { return false };
    let (low, high) = panel.play(a, b).deep(own);
    low <= to + SLACK && from <= high + SLACK
}

/// The gap of two prisms while the first moves against the second; `None` beyond reach.
fn solid_gap(
    a: &Part,
    deep: (f64, f64),
    b: &Part,
    other: (f64, f64),
    play: &Play,
    reach: f64,
) -> Option<Measure> {
    let limit = reach + judge::loss(a, b, Stack::Boundaries);
    if at_least(a, deep, b, other, play) > limit {
        return None;
    }
    let prism = |p: &Part, depth: (f64, f64)| Part { depth: Some(depth), ..p.clone() };
    let (a, b) = (prism(a, deep), prism(b, other));
    apart::measure_moving(&a, &b, SOLIDS, limit, play)
}

/// A value that the gap of two prisms, the first of which moves, is certainly not below: from the boxes about them, and
/// cheap, as most pairs are far from each other.
fn at_least(a: &Part, deep: (f64, f64), b: &Part, other: (f64, f64), play: &Play) -> f64 {
    let (r, by) = (a.contour.bounds(), play.flat());
    let sweeps = Rect { x0: r.x0 + by.x0, y0: r.y0 + by.y0, x1: r.x1 + by.x1, y1: r.y1 + by.y1 };
    let (low, high) = play.deep(deep);
    let along = (low - other.1).max(other.0 - high).max(0.0);
    (distance::box_distance2(&sweeps, &b.contour.bounds()) + along * along).sqrt()
}

/// How two solids are measured.
const SOLIDS: How = How { measure: From::Boundary, depth: true, touch: Touch::Fails };

/// A gap beside and a gap along the depth as one.
fn whole(flat: f64, deep: f64) -> f64 {
    (flat * flat + deep * deep).sqrt()
}

fn tell(t: &mut Teller<'_>, met: &Met, asked: f64) {
    let panel = t.panel;
    t.pair(met.a, met.b, met.m, asked);
    if !met.m.contact && met.m.worst >= asked - SLACK {
        return;
    }
    let mm = |v: f64| length(panel, v);
    let (low, high) = (met.play.low, met.play.high);
    let mut ways = Vec::new();
    for (v, word) in [
        (-low.x, "left"),
        (high.x, "right"),
        (high.y, "up"),
        (-low.y, "down"),
        (high.d, "forward"),
        (-low.d, "aft"),
    ] {
        if v > SLACK {
            ways.push(format!("{} {word}", mm(v)));
        }
    }
    let rest = met
        .rest
        .filter(|r| *r > SLACK)
        .map_or(String::new(), |r| format!(" At rest it is {} away seen from the seat.", mm(r)));
    let hits = if met.m.contact { "meets" } else { "comes near" };
    t.says(format!(
        "{} {hits} {}{} as it sways {}.{rest} Give it more room, or stiffer mounts.",
        panel.part_name(met.a),
        panel.part_name(met.b),
        met.way.unwrap_or(side(met.off)),
        ways.join(", ")
    ));
}

/// On which side something lies, in words.
fn side(v: Vec2) -> &'static str {
    match (v.hypot() > SLACK, v.x.abs() >= v.y.abs(), v.x > 0.0, v.y > 0.0) {
        (false, ..) => "",
        (_, true, true, _) => " to the right",
        (_, true, false, _) => " to the left",
        (_, false, _, true) => " above",
        (_, false, _, false) => " below",
    }
}

/// How far a contour lies inside another one, or how far it sticks out, below zero; and where.
fn margin(outer: &Contour, inner: &Contour) -> (f64, [Point; 2]) {
    let gap = distance::contours(inner, outer);
    let inside = matches!(gap.relation, distance::Relation::Inside | distance::Relation::Coincident);
    let value = if inside { gap.distance } else { crate::geom::margin::margin_inside(outer, inner).min(0.0) };
    (value, gap.at)
}

#[cfg(test)]
mod tests;
