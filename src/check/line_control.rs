//! Hoses, looms and cables keep clear of controls over their whole travel.

use super::control_clear::CLEAR;
use super::judge::{self, Stack};
use super::own::{Judged, Teller, length};
use super::ports::exit;
use super::space::{self, Moving, Space};
use super::{Finding, Interval, Limit, REACH, Relation, Rule, Source, Standing, Verdict};
use crate::geom::SLACK;
use crate::panel::{Detail, End, Line, Panel, PartRef, Play, State, SubjectKind};
use crate::solid::travel::{Moved, Reach, Travelled};
use crate::solid::{Bounds, Lie, Vec3};

/// The rule.
pub static RULE: Rule = Rule {
    id: "line-control",
    asks: "Hoses, looms and cables keep clear of every control over its whole travel.",
    why: "A loom that hangs into a control's way holds it, or is sawn through by it; it is added last and looked at least. \
          Measured between the drawn run and the true shapes of the controls over all positions of all drivers, overtravel, play \
          and the hand that holds one included, and the pose told at which the gap is least. What leaves a floating panel, or a unit that droops, is taken as far from where it is drawn, all round, as that moves. Slack that nothing ties up is not looked at. A run that is not drawn (`path`, \
          `diameter`) may hang wherever its length lets it: where that comes to a control the verdict is withheld. What a link carries with it, or passes \
          through, the file names (`runs-in`). 1/2 in is common practice for wiring near moving controls (AC 43.13-1B 11-125 asks for clamps \
          that hold when one breaks); wires to cables of the controls want 3 in, which line-apart asks.",
    limit: Limit::AtLeast(CLEAR),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::Room(measure),
    asked: None,
};

/// A control near the line.
struct Pair<'m, 'a> {
    a: PartRef,
    moving: &'m Moving<'a>,
    travelled: Travelled,
    asked: f64,
    loss: f64,
    /// Numbers of the sway that are missing.
    waits: Vec<String>,
}

impl Pair<'_, '_> {
    /// What is left over what is asked, at the worst.
    fn worst(&self) -> f64 {
        self.travelled.lower - self.loss - self.asked
    }
}

fn measure(room: &Space<'_>, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(room.panel, subject, rule, out);
    let Some(s) = t.subject().filter(|_| !room.moving.is_empty()) else { return };
    match s.kind {
        SubjectKind::Line => drawn(room, &mut t),
        SubjectKind::Placement | SubjectKind::Unit => not_drawn(room, &mut t, subject as u32),
        SubjectKind::Sheet if s.sheet == 0 => of_nobody(room, &mut t),
        _ => {}
    }
}

/// A line whose run is known.
fn drawn(room: &Space<'_>, t: &mut Teller<'_>) {
    let panel = room.panel;
    let Some(s) = t.subject() else { return };
    let mut nearest: Option<Pair<'_, '_>> = None;
    for (k, part) in s.parts.iter().enumerate() {
        let Detail::Line { solid, .. } = &part.detail else { continue };
        let a = t.part(k);
        for moving in room.moving.iter().filter(|m| !panel.space.exempt(m.link, a, None)) {
            let asked = moving.asked(t, CLEAR);
            let loss = judge::loss(part, panel.part(moving.part), Stack::Boundaries);
            let play = sways(panel, a, moving.part);
            let grow = play.farthest().length();
            if solid.bounds().distance(&moving.bounds) > asked + grow + loss.max(REACH) {
                continue;
            }
            let still = Reach::new(&panel.space.mechanism, Moved { solid, link: None, grow });
            let travelled = still.clearance(&moving.reach, asked + (loss - REACH).max(0.0));
            let pair = Pair { a, moving, travelled, asked, loss, waits: play.waits };
            let passes = pair.worst() >= -SLACK && pair.travelled.relation == Lie::Apart;
            let open = moving.waits.is_some() || !pair.waits.is_empty();
            if !passes || open && pair.worst() <= REACH {
                tell(t, &pair);
            } else if !pair.travelled.over && nearest.as_ref().is_none_or(|n| pair.worst() < n.worst()) {
                nearest = Some(pair);
            }
        }
    }
    if let Some(pair) = nearest {
        tell(t, &pair);
    }
}

/// How far a line may come from where it is drawn: as far as what it leaves, or what it ends at, sways or droops.
fn sways(panel: &Panel, line: PartRef, control: PartRef) -> Play {
    let own = panel.play(line, control);
    let of = panel.space.lines.iter().find(|l| l.subject == line.subject);
    let to = |l: &Line| if let Some(End::Port(port)) = l.to { Some(port) } else { None };
    let ends = of.into_iter().flat_map(|l| [l.from, to(l)]).flatten();
    ends.fold(own, |all, port| all.or(panel.play(port, control)))
}

/// Lines without a drawn run.
fn loose(panel: &Panel) -> impl Iterator<Item = &Line> {
    let drawn = |l: &Line| panel.subjects.get(l.subject as usize).is_some_and(|s| !s.parts.is_empty());
    panel.space.lines.iter().filter(move |l| !drawn(l))
}

/// What moves and does not carry the line by what the file says.
fn others<'r, 'a>(room: &'r Space<'a>, line: &Line) -> impl Iterator<Item = &'r Moving<'a>> {
    let own = PartRef { subject: line.subject, part: 0 };
    room.moving.iter().filter(move |m| !room.panel.space.exempt(m.link, own, None))
}

/// The port that speaks for a line without a drawn run.
fn port_of(line: &Line) -> Option<PartRef> {
    let end = match line.to {
        Some(End::Port(port)) => Some(port),
        _ => None,
    };
    line.from.or(end)
}

/// Lines that leave an item, their runs not drawn: what they may meet wherever they hang.
fn not_drawn(room: &Space<'_>, t: &mut Teller<'_>, subject: u32) {
    let panel = room.panel;
    for line in loose(panel) {
        let Some(port) = port_of(line).filter(|p| p.subject == subject) else { continue };
        // what hangs on the airframe is of one group
        let Some(control) = room.moving.first().map(|m| m.part) else { return };
        let hangs = hangs(panel, line, port, control);
        let near = |m: &&Moving<'_>| hangs.as_ref().is_none_or(|h| h.distance(&m.bounds) < m.asked(t, CLEAR));
        let met = others(room, line).filter(near);
        let met: Vec<&Moving<'_>> = met.collect();
        if let Some(words) = waits(panel, line, &met) {
            t.withhold(port, panel.part(port).centre, words);
        }
    }
}

/// Lines that belong to no item and have no drawn run.
fn of_nobody(room: &Space<'_>, t: &mut Teller<'_>) {
    let lines = loose(room.panel).filter(|l| port_of(l).is_none());
    let words: Vec<String> =
        lines.filter_map(|l| waits(room.panel, l, &others(room, l).collect::<Vec<_>>())).collect();
    if let (Some((edge, at)), false) = (t.main_sheet(), words.is_empty()) {
        t.withhold(edge, at, words.join("; "));
    }
}

/// What a line without a drawn run waits for; `None` where it meets nothing however it hangs.
fn waits(panel: &Panel, line: &Line, met: &[&Moving<'_>]) -> Option<String> {
    let first = met.first()?;
    let others = if met.len() > 1 { format!(" and {} more", met.len() - 1) } else { String::new() };
    let id = panel.subjects.get(line.subject as usize).map_or("", |s| s.id.as_str());
    let name = panel.part_name(first.part);
    Some(format!("how {id} runs (path and diameter): it may come to {name}{others}"))
}

/// A box round all places to which a line of a known length, held at its port, can come; `None` where its length or place
/// is not known. Where it ends at a point, both ends hold it: its points lie within an ellipsoid about the two.
fn hangs(panel: &Panel, line: &Line, port: PartRef, control: PartRef) -> Option<Bounds> {
    let (from, long, half) = (exit(panel, port)?.ok()?.at, line.length?, line.diameter? / 2.0);
    let (middle, reach) = match line.to {
        Some(End::Point(to)) if line.from == Some(port) => {
            (from + (to - from) * 0.5, held_at(from, to, long))
        }
        _ => (from, Vec3::new(long, long, long)),
    };
    let play = panel.play(port, control);
    if !play.waits.is_empty() {
        return None;
    }
    let half = half + play.farthest().length();
    let reach = reach + Vec3::new(half, half, half);
    Some(Bounds { low: middle - reach, high: middle + reach })
}

/// How far to each side of the middle a thread of a length can come that is held at both ends: half the widths of the
/// ellipsoid about the two.
fn held_at(from: Vec3, to: Vec3, long: f64) -> Vec3 {
    let across = to - from;
    let (major, focus) = (long / 2.0, across.length() / 2.0);
    let minor2 = (major * major - focus * focus).max(0.0);
    let along = across.unit().unwrap_or(Vec3::ZERO);
    let wide = |u: f64| (major * major * u * u + minor2 * (1.0 - u * u)).sqrt();
    Vec3::new(wide(along.x), wide(along.y), wide(along.d))
}

fn tell(t: &mut Teller<'_>, pair: &Pair<'_, '_>) {
    say(t, pair);
    let pose = space::of_links(t.panel, &[pair.moving.link], &pair.travelled.pose);
    t.in_space(pair.travelled.points, Some(pose));
}

fn say(t: &mut Teller<'_>, pair: &Pair<'_, '_>) {
    let panel = t.panel;
    let Pair { a, moving, travelled, asked, loss, waits: sways } = pair;
    let b = moving.part;
    let at = travelled.points.map(space::flat);
    let (name, other) = (panel.part_name(*a), panel.part_name(b));
    let pose = space::in_words(panel, &[moving.link], &travelled.pose);
    if travelled.relation != Lie::Apart {
        let deep = travelled.depth.map_or(String::new(), |d| format!(" by {}", length(panel, d)));
        let verb = if travelled.relation == Lie::Touching { "touches" } else { "runs into" };
        let there = [*a, b].iter().all(|r| panel.subject(*r).state == State::Existing);
        let doubt = if there {
            " Both are there already: look before the next flight, or draw the run as it is."
        } else {
            ""
        };
        let words = format!("{other} {verb} {name}{deep} at {pose}: lead it another way.{doubt}");
        t.plain(*a, Some(b), at, Verdict::Fail, words);
        t.measured(Some(Interval { lower: travelled.lower.min(0.0), upper: travelled.upper }), *asked, *loss);
        return;
    }
    let least = length(panel, travelled.lower);
    let open: Vec<&str> = moving.waits.iter().chain(sways).map(String::as_str).collect();
    if !open.is_empty() {
        let waits =
            format!("{}; without them the least gap to {other} is {least} at {pose}", open.join("; "));
        t.plain(*a, Some(b), at, Verdict::Withheld, waits);
        return;
    }
    let way = space::towards(travelled.points[1] - travelled.points[0]);
    let measured = Interval { lower: travelled.lower, upper: travelled.upper.max(travelled.lower) };
    t.interval(*a, Some(b), Judged { measured, asked: *asked, loss: *loss, at }, |v| {
        let gap = format!("Least gap to {other} is at {pose}: {least}, {way}");
        match v {
            Verdict::Fail | Verdict::Tight => {
                format!("{gap}. Lead it another way, or clamp it so that it cannot come there.")
            }
            _ => gap,
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_thread_comes_no_farther_than_its_ellipsoid() {
        // foci 80 apart along x, 100 long: half axes 50 and 30 (3-4-5), and the same turned into the depth
        let right = held_at(Vec3::ZERO, Vec3::new(80.0, 0.0, 0.0), 100.0);
        assert!((right - Vec3::new(50.0, 30.0, 30.0)).length() < 1e-12, "{right:?}");
        let deep = held_at(Vec3::ZERO, Vec3::new(0.0, 0.0, 80.0), 100.0);
        assert!((deep - Vec3::new(30.0, 30.0, 50.0)).length() < 1e-12, "{deep:?}");
        // askew: no place whose distances to the ends add up to the length lies outside, and some come to the edge
        let (from, to, long) = (Vec3::new(1.0, 2.0, 3.0), Vec3::new(25.0, -16.0, 43.0), 70.0);
        let (middle, half) = (from + (to - from) * 0.5, held_at(from, to, long));
        let mut most = Vec3::ZERO;
        for k in 0..40_000u32 {
            let (s, c) = crate::geom::angle::sin_cos_deg(f64::from(k % 200) * 1.8);
            let z = f64::from(k / 200) / 99.5 - 1.0;
            let ring = (1.0 - z * z).max(0.0).sqrt();
            let way = Vec3::new(ring * c, ring * s, z);
            // out along the way until the thread is taut
            let (mut low, mut high) = (0.0, long);
            for _ in 0..60 {
                let p = middle + way * ((low + high) / 2.0);
                let taut = (p - from).length() + (p - to).length() > long;
                if taut { high = (low + high) / 2.0 } else { low = (low + high) / 2.0 }
            }
            let p = way * low;
            most = Vec3::new(most.x.max(p.x.abs()), most.y.max(p.y.abs()), most.d.max(p.d.abs()));
        }
        for (reached, half) in [(most.x, half.x), (most.y, half.y), (most.d, half.d)] {
            assert!(reached <= half + 1e-9 && reached > half - 0.05, "{reached} of {half}");
        }
    }
}
