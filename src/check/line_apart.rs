//! Wires keep away from lines that carry what burns, and from the cables of the controls.

use super::judge::{Stack, loss};
use super::own::{Judged, Teller, length};
use super::ports::kin::{Kin, kin};
use super::ports::stiff;
use super::{Finding, Interval, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::geom::{Point, distance};
use crate::panel::{Class, Classes, Detail, Panel, Part, PartRef, State, Subject};
use crate::solid::travel::{Moved, Reach};
use crate::solid::{self, Bounds, Pose, Shape, Solid, Vec3};
use std::borrow::Cow;

/// Wires to lines with fuel, oil, hydraulic fluid, alcohol or oxygen, mm: 6 in.
const FLUID: f64 = 152.4;
/// The same where clamps hold the wires so that they cannot come nearer, mm: 2 in, never less.
const CLAMPED: f64 = 50.8;
/// Wires to cables of the controls, mm: 3 in.
const CONTROLS: f64 = 76.2;

/// The rule.
pub static RULE: Rule = Rule {
    id: "line-apart",
    asks: "Wires stay 6 in from lines with fuel, oil or hydraulic fluid (2 in where clamped, never less), 3 in from control cables.",
    why: "A wire that chafes on a fuel line sets it alight; one that hangs on a control cable holds it. Measured: from each \
          line, plug, tank or control cable whose place is known to the nearest wires whose place is known. Where a run is not \
          drawn, only its ends are known: what is nearer than 2 in there fails, for the rest the verdict is withheld, never \
          passed. Draw the runs (`path`), or set the limit to what your clamps hold and say so: it may not be less than 2 in. 3 \
          in to control cables is what manuals ask; where wires pass a hole, 3/8 in or a grommet, which is not looked at here. \
          Lines of one instrument are its maker's own.",
    limit: Limit::AtLeast(FLUID),
    source: Source { standing: Standing::Published, title: "AC 43.13-1B 11-96" },
    relation: Relation::Around(measure),
    asked: None,
};

/// Parts that lines, or what carries them, are made of.
const LINES: Classes = Classes::of(&[Class::Port, Class::Obstacle, Class::Moving, Class::Line]);

/// The nearest that was found.
struct Nearest {
    of: PartRef,
    to: PartRef,
    gap: Interval,
    loss: f64,
    at: [Point; 2],
    kin: Kin,
    /// Plugs among the two whose size is not known: each lies within the body that carries it.
    vague: Vec<PartRef>,
}

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject() else { return };
    if !s.parts.iter().any(|p| LINES.has(p.class)) {
        return;
    }
    for asked in [Kin::Fluid, Kin::ControlCable] {
        // among things that exist and stay, and with something new
        let mut nearest: [Option<Nearest>; 2] = [None, None];
        let mut drawn = true;
        let mut any = None;
        for (k, part) in s.parts.iter().enumerate().filter(|(_, p)| LINES.has(p.class)) {
            let of = t.part(k);
            if kin(panel, of, part) != Some(asked) {
                continue;
            }
            any.get_or_insert((of, part.centre));
            drawn &= is_drawn(panel, of, part);
            search(panel, of, part, asked, &mut nearest);
        }
        let Some((first, at)) = any else { continue };
        let runs = wires_not_drawn(panel, subject);
        let [old, new] = nearest;
        let short = old.as_ref().is_some_and(|n| n.gap.lower < least(&t, asked));
        if short || new.is_none() {
            tell(&mut t, (first, at), old, (drawn, runs), asked);
        }
        if new.is_some() {
            tell(&mut t, (first, at), new, (drawn, runs), asked);
        }
    }
}

/// What is asked of a pair.
fn asked(t: &Teller<'_>, kin: Kin) -> f64 {
    let asked = t.asked(FLUID).max(CLAMPED);
    if kin == Kin::ControlCable { asked.min(CONTROLS) } else { asked }
}

/// What fails whatever holds the wires.
fn least(t: &Teller<'_>, kin: Kin) -> f64 {
    let own = t.own_limit();
    if own || kin == Kin::ControlCable { asked(t, kin) } else { CLAMPED }
}

fn tell(
    t: &mut Teller<'_>,
    (first, at): (PartRef, Point),
    nearest: Option<Nearest>,
    (drawn, runs): (bool, usize),
    kin: Kin,
) {
    let panel = t.panel;
    let own = t.own_limit();
    let asked = asked(t, kin);
    let least = least(t, kin);
    let Some(n) = nearest else {
        // there are no wires at all
        if runs > 0 {
            t.withhold(first, at, runs_words(runs, drawn));
        }
        return;
    };
    let stays = [n.of, n.to].iter().all(|r| panel.subject(*r).state == State::Existing);
    if n.gap.lower < least && !n.vague.is_empty() && !stays {
        let names: Vec<String> =
            n.vague.iter().map(|r| format!("the diameter of {}", panel.part_name(*r))).collect();
        let gap = length(panel, n.gap.lower);
        t.withhold(
            n.of,
            n.at[0],
            format!("{}: as it is, {gap} to {}", names.join(" and "), panel.part_name(n.to)),
        );
        return;
    }
    let open = !own && (!drawn || runs > 0);
    let between = n.gap.lower - n.loss < asked;
    if n.gap.lower >= least && (open || between && !own && kin == Kin::Fluid) {
        let known = format!(
            "what is known of them is {} apart at the nearest ({}), {} asked",
            length(panel, n.gap.lower),
            panel.part_name(n.to),
            length(panel, asked)
        );
        let waits = match (open, between) {
            (true, _) => format!("{}; {known}", runs_words(runs, drawn)),
            (false, _) => {
                format!("clamps that hold the wires so that {} is enough; {known}", length(panel, CLAMPED))
            }
        };
        t.withhold(n.of, n.at[0], waits);
        return;
    }
    let asks = if n.gap.lower < least { least } else { asked };
    let judged = Judged { measured: n.gap, asked: asks, loss: n.loss, at: n.at };
    let what = match n.kin {
        Kin::ControlCable => "a control cable",
        _ => "a line that feeds a fire",
    };
    t.interval(n.of, Some(n.to), judged, |v| match v {
        Verdict::Pass if own && (!drawn || runs > 0) => {
            "Of runs that are not drawn only the ends are measured: the rest is as the file's reason says.".into()
        }
        Verdict::Pass => String::new(),
        _ => format!("Wires this near to {what}: lead one of them another way, or shield and clamp both as the manual says."),
    });
}

fn runs_words(runs: usize, drawn: bool) -> String {
    let wires = match runs {
        0 => String::new(),
        1 => "the run of the wires at 1 port".to_string(),
        n => format!("the runs of the wires at {n} ports"),
    };
    match (drawn, wires.is_empty()) {
        (true, _) => wires,
        (false, true) => "the run of this line".into(),
        (false, false) => format!("the run of this line and {wires}"),
    }
}

/// Whether the run of a part is known as far as this rule asks.
fn is_drawn(panel: &Panel, r: PartRef, part: &Part) -> bool {
    match part.class {
        Class::Port => line_is_drawn(panel, r),
        _ => true,
    }
}

/// Whether a port has a line whose path is drawn.
fn line_is_drawn(panel: &Panel, port: PartRef) -> bool {
    panel.space.lines.iter().any(|l| {
        let here = l.from == Some(port) || l.to == Some(crate::panel::End::Port(port));
        let drawn = || panel.subjects.get(l.subject as usize).is_some_and(|s| !s.parts.is_empty());
        here && drawn()
    })
}

/// How many ports of other subjects have wires whose run is not drawn.
fn wires_not_drawn(panel: &Panel, but: usize) -> usize {
    let others = panel.subjects.iter().enumerate().filter(|(k, _)| *k != but);
    others
        .flat_map(|(k, s)| {
            s.parts.iter().enumerate().map(move |(n, p)| (PartRef { subject: k as u32, part: n as u32 }, p))
        })
        .filter(|(r, p)| {
            p.class == Class::Port && kin(panel, *r, p) == Some(Kin::Wires) && !line_is_drawn(panel, *r)
        })
        .count()
}

fn search(panel: &Panel, of: PartRef, part: &Part, asked: Kin, nearest: &mut [Option<Nearest>; 2]) {
    let mut mine: Option<Option<Cow<'_, Solid>>> = None;
    let moves = moves(panel, part);
    let stays = panel.subject(of).state == State::Existing;
    for (k, s) in panel.subjects.iter().enumerate().filter(|(k, _)| *k as u32 != of.subject) {
        let [old, new] = &mut *nearest;
        let nearest = if stays && s.state == State::Existing { old } else { new };
        for (n, p) in s.parts.iter().enumerate() {
            let to = PartRef { subject: k as u32, part: n as u32 };
            if kin(panel, to, p) != Some(Kin::Wires) {
                continue;
            }
            let loss = loss(part, p, Stack::Boundaries);
            let best = nearest.as_ref().map_or(f64::INFINITY, |b| b.gap.lower - b.loss);
            if let Some(moves) = &moves {
                if let Some(gap) = travelled(panel, moves, s, p, best + loss) {
                    let (gap, at) = gap;
                    let vague = if is_vague(panel, to, p) { vec![to] } else { Vec::new() };
                    *nearest = Some(Nearest { of, to, gap, loss, at, kin: asked, vague });
                }
                continue;
            }
            if at_least(part, p) - loss >= best {
                continue;
            }
            let (gap, at) = match mine.get_or_insert_with(|| solid_of(panel.subject(of), part)) {
                Some(a) => match solid_of(s, p) {
                    Some(b) => {
                        let c = solid::distance(a, &b);
                        let flat = c.points.map(|v| Point::new(v.x, v.y));
                        (Interval { lower: c.lower.max(0.0), upper: c.upper.max(0.0) }, flat)
                    }
                    None => flat(part, p),
                },
                None => flat(part, p),
            };
            if gap.lower - loss < best {
                let vague = [(of, part), (to, p)].into_iter().filter(|(r, p)| is_vague(panel, *r, p));
                let vague = vague.map(|(r, _)| r).collect();
                *nearest = Some(Nearest { of, to, gap, loss, at, kin: asked, vague });
            }
        }
    }
}

/// A part that moves with a control, over its travel.
fn moves<'a>(panel: &'a Panel, part: &'a Part) -> Option<Reach<'a>> {
    let Detail::Moving { solid, link, .. } = &part.detail else { return None };
    let mechanism = &panel.space.mechanism;
    let grow = mechanism.allowance(*link).unwrap_or(0.0);
    Some(Reach::new(mechanism, Moved { solid, link: Some(*link), grow }))
}

/// How near something that moves comes to wires, and where; `None`: not nearer than `best`.
fn travelled(
    panel: &Panel,
    moves: &Reach<'_>,
    s: &Subject,
    p: &Part,
    best: f64,
) -> Option<(Interval, [Point; 2])> {
    let flat = |v: Vec3| Point::new(v.x, v.y);
    let Some(wires) = solid_of(s, p) else {
        let b = moves.bounds();
        let box_of = crate::geom::Rect::new(b.low.x, b.low.y, b.high.x, b.high.y);
        let lower = distance::box_distance2(&box_of, &p.contour.bounds()).sqrt();
        return (lower < best).then_some((Interval { lower, upper: f64::INFINITY }, [p.centre; 2]));
    };
    let still = Reach::new(&panel.space.mechanism, Moved { solid: &wires, link: None, grow: 0.0 });
    if moves.bounds().distance(&still.bounds()) >= best.min(2.0 * FLUID) {
        return None;
    }
    let c = moves.clearance(&still, CONTROLS);
    let gap = Interval { lower: c.lower.max(0.0), upper: c.upper.max(0.0) };
    (gap.lower < best).then(|| (gap, c.points.map(flat)))
}

fn is_vague(panel: &Panel, r: PartRef, p: &Part) -> bool {
    p.class == Class::Port && stiff(panel.subject(r), p).is_some_and(|plug| !plug.sized)
}

/// Flat gap: of solids whose depth is not known it is the least.
fn flat(a: &Part, b: &Part) -> (Interval, [Point; 2]) {
    let gap = distance::contours(&a.contour, &b.contour);
    let lower = if gap.relation.overlaps() { 0.0 } else { gap.distance };
    (Interval { lower, upper: f64::INFINITY }, gap.at)
}

/// A value that the distance is certainly not below.
fn at_least(a: &Part, b: &Part) -> f64 {
    let bounds = |p: &Part| {
        let (r, (low, high)) = (p.contour.bounds(), p.depth?);
        Some(Bounds { low: Vec3::new(r.x0, r.y0, low), high: Vec3::new(r.x1, r.y1, high) })
    };
    match (bounds(a), bounds(b)) {
        (Some(a), Some(b)) => a.distance(&b),
        _ => distance::box_distance2(&a.contour.bounds(), &b.contour.bounds()).sqrt(),
    }
}

/// The solid of a part; `None` where its depth is not known.
fn solid_of<'a>(s: &'a Subject, p: &'a Part) -> Option<Cow<'a, Solid>> {
    match &p.detail {
        Detail::Obstacle { solid, .. } | Detail::Line { solid, .. } | Detail::Moving { solid, .. } => {
            Some(Cow::Borrowed(solid))
        }
        Detail::Port { .. } => {
            let plug = stiff(s, p)?;
            let (from, to) = plug.depth?;
            let section = plug.contour.into_owned();
            Solid::new(Shape::Prism { section, from, to }, Pose::IDENTITY).ok().map(Cow::Owned)
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests;
