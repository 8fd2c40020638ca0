//! A tool reaches each fastener.

use super::bans::Pin;
use super::fastened::{Met, Pairs};
use super::joined::joined;
use super::judge::{self, Measure, Stack, most_loss};
use super::own::{Teller, length, of_class, withhold_absent};
use super::removal::{fixed, prism};
use super::{Finding, Limit, Relation, Rule, Source, Standing};
use crate::geom::{Contour, Point, SLACK, distance};
use crate::panel::{Class, Classes, Panel, Part, PartRef, Subject, SubjectKind};
use crate::solid::{self, Bounds, Vec3};

/// The rule.
pub static RULE: Rule = Rule {
    id: "tool-reach",
    asks: "A screwdriver reaches each screw from the front, and a socket each loose nut from behind, straight on.",
    why: "A screw that a neighbour's knob or lever hides cannot be turned, and a nut between two cases cannot be held. \
          In front: a blade of 8 mm for 75 mm, then a handle of 32 mm for 100 mm more. Behind a nut: a socket 3 mm larger \
          per side, 40 mm long. Sizes of tools are common practice, no source. Asked against other items and against what is \
          fixed; parts of the item itself are its maker's, nutplates hold themselves, and controls and knees can be moved.",
    limit: Limit::AtLeast(0.0),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::All(&[Relation::Own(airframe), Relation::Between(between)]),
    asked: None,
};

/// What a tool may run into.
pub(super) const IN_THE_WAY: Classes = Classes::of(&[
    Class::Bezel,
    Class::Front,
    Class::Head,
    Class::Body,
    Class::Port,
    Class::Flange,
    Class::Nut,
]);

/// One round stretch of a tool.
#[derive(Clone, Copy, Debug)]
struct Stretch {
    radius: f64,
    from: f64,
    to: f64,
}

impl Stretch {
    /// Its box.
    fn bounds(&self, at: Point) -> Bounds {
        let r = self.radius;
        Bounds { low: Vec3::new(at.x - r, at.y - r, self.from), high: Vec3::new(at.x + r, at.y + r, self.to) }
    }
}

/// A fastener's end and the tool that turns or holds it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Tool {
    pub part: usize,
    pub at: Point,
    stretches: [Option<Stretch>; 2],
    name: &'static str,
}

impl Tool {
    /// Its largest radius, mm.
    pub fn widest(&self) -> f64 {
        self.stretches.iter().flatten().map(|s| s.radius).fold(0.0, f64::max)
    }
}

/// Radius of a screwdriver's handle, mm.
const HANDLE: f64 = 16.0;

/// How much larger than its nut a socket is per side, mm.
const SOCKET: f64 = 3.0;

/// The tools that a subject's fasteners ask for.
pub(super) fn tools(s: &Subject) -> impl Iterator<Item = Tool> + '_ {
    let ends = s.parts.iter().enumerate().filter(|(_, p)| matches!(p.class, Class::Head | Class::Nut));
    ends.filter_map(|(part, p)| {
        let (from, to) = p.depth?;
        let radius = round(p)?;
        let (stretches, name) = match p.class {
            Class::Head => {
                let blade = Stretch { radius: radius.max(4.0), from: from - 75.0, to: from };
                let handle = Stretch { radius: HANDLE, from: from - 175.0, to: from - 75.0 };
                ([Some(blade), Some(handle)], "screwdriver")
            }
            _ if holds_itself(s, p) => return None,
            _ => ([Some(Stretch { radius: radius + SOCKET, from, to: to + 40.0 }), None], "socket"),
        };
        Some(Tool { part, at: p.centre, stretches, name })
    })
}

fn round(p: &Part) -> Option<f64> {
    p.contour.as_circle().map(|(_, r)| r)
}

/// What the tools on a subject's fasteners take, as round stretches.
pub(super) fn pins(panel: &Panel, subject: usize) -> Vec<Pin> {
    let Some(s) = panel.subjects.get(subject).filter(|s| has_tools(s)) else { return Vec::new() };
    let stretches = |tool: Tool| {
        let Tool { part, at, stretches, .. } = tool;
        let pin = move |s: Stretch| Pin { part, at, radius: s.radius, depth: (s.from, s.to) };
        stretches.into_iter().flatten().map(pin)
    };
    tools(s).flat_map(stretches).collect()
}

/// Whether a tool of the first subject may run into this part of the second.
pub(super) fn matters_to(panel: &Panel, a: usize, b: usize, part: usize) -> bool {
    let (Some(s), Some(o)) = (panel.subjects.get(a), panel.subjects.get(b)) else { return false };
    !kin(s, a, o, b) && matters(o) && o.parts.get(part).is_some_and(|p| IN_THE_WAY.has(p.class))
}

/// Whether a nut is riveted on, pressed in or part of a nutplate.
fn holds_itself(s: &Subject, nut: &Part) -> bool {
    let same = |(_, hole): &(usize, &Part)| (hole.centre - nut.centre).hypot2() < SLACK * SLACK;
    of_class(s, Class::Hole)
        .filter(same)
        .any(|(_, h)| h.fastening().is_some_and(|f| f.nutplate.is_some() || f.nut.is_some_and(|n| n.captive)))
}

/// Whether there is anything to turn: a provision has no screws yet.
fn has_tools(s: &Subject) -> bool {
    matches!(s.kind, SubjectKind::Placement | SubjectKind::Unit | SubjectKind::Insert) && !s.provision
}

/// The nearest thing to a tool.
struct Worst {
    b: PartRef,
    m: Measure,
}

fn between(pairs: &Pairs<'_>, [a, b]: [usize; 2], rule: &'static Rule, out: &mut Vec<Finding>) {
    let panel = pairs.panel;
    for (a, b) in [(a, b), (b, a)] {
        let (Some(s), Some(o)) = (panel.subjects.get(a), panel.subjects.get(b)) else { return };
        if !has_tools(s) || kin(s, a, o, b) || !matters(o) {
            continue;
        }
        let (Some(own), Some(other)) = (pairs.of(a), pairs.of(b)) else { return };
        let mut t = Teller::new(panel, a, rule, out);
        let asked = t.asked(0.0);
        for (tool, reach) in &own.tools {
            let (end, of) = (t.part(tool.part), |m: &Met| PartRef { subject: b as u32, part: m.part as u32 });
            let near = |m: &&Met| IN_THE_WAY.has(m.class) && m.within(tool.at, reach + asked);
            let met = other
                .around(tool.at, reach + asked)
                .iter()
                .filter(near)
                .filter(|m| !joined(panel, end, of(m)));
            let pair = |m: &Met| (&s.parts[tool.part], &o.parts[m.part]);
            let worst = met.filter_map(|m| beside(tool, m, pair(m), asked).map(|gap| (m, gap)));
            let worst = worst.min_by(|(_, m), (_, n)| m.worst.total_cmp(&n.worst));
            // only what is in the way is told of two items: tools that have room are no news
            if let Some((met, m)) = worst.filter(|(_, m)| m.worst < asked - SLACK) {
                tell(&mut t, tool, Worst { b: of(met), m }, asked);
            }
        }
    }
}

/// What a tool may meet of an item: one that is a provision is not there yet.
fn matters(o: &Subject) -> bool {
    has_tools(o)
}

/// A unit and the frame that it slides into, or its neighbour there.
fn kin(s: &Subject, a: usize, o: &Subject, b: usize) -> bool {
    let unit = |s: &Subject| s.carrier.filter(|_| s.kind == SubjectKind::Unit).map(|c| c as usize);
    unit(s) == Some(b) || unit(o) == Some(a)
}

/// Room between a tool and a part of another item; `None` where they pass each other in depth, or where there is room
/// whatever the tolerances take.
fn beside(tool: &Tool, met: &Met, (own, part): (&Part, &Part), asked: f64) -> Option<Measure> {
    let (from, to) = met.depth;
    let stretches = tool.stretches.iter().flatten().filter(|s| s.from < to - SLACK && from < s.to - SLACK);
    let widest = stretches.map(|s| s.radius).reduce(f64::max)?;
    if !met.within(tool.at, widest + asked + most_loss(own)) {
        return None;
    }
    let loss = judge::loss(own, part, Stack::PointBoundary);
    let gap = distance::point_contour(tool.at, &part.contour);
    let off = if part.contour.holds(tool.at) { -gap.distance } else { gap.distance };
    let value = off - widest;
    Some(Measure { value, upper: value, worst: value - loss, contact: false, at: gap.at })
}

fn tell(t: &mut Teller<'_>, tool: &Tool, worst: Worst, asked: f64) {
    let panel = t.panel;
    let a = t.part(tool.part);
    let judged = super::own::Judged {
        measured: worst.m.interval(),
        asked,
        loss: worst.m.value - worst.m.worst,
        at: worst.m.at,
    };
    let other = panel.part_name(worst.b);
    t.interval(a, Some(worst.b), judged, |_| {
        let room = if worst.m.value < 0.0 {
            format!("{other} stands {} into its way", length(panel, -worst.m.value))
        } else {
            format!("{} of room to {other}", length(panel, worst.m.value))
        };
        let (tool, a) = (tool.name, panel.part_name(a));
        format!("The {tool} on {a}: {room}. Take {other} off first, turn the item, or move one of them.")
    });
}

/// Against what is fixed in the airframe; and one plain pass for an item whose tools all have room there.
fn airframe(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject().filter(|s| has_tools(s)) else { return };
    withhold_absent(&mut t, s, &[Class::Head, Class::Nut]);
    let asked = t.asked(0.0);
    let mut free = None;
    let fixed: Vec<_> = fixed(panel).map(|(b, solid)| (b, solid, solid.bounds())).collect();
    for tool in tools(s) {
        let mut worst: Option<Worst> = None;
        for part in tool.stretches.iter().flatten() {
            let around = part.bounds(tool.at).grown(asked + SLACK);
            let mut near = fixed.iter().filter(|(.., b)| b.distance(&around) <= 0.0).peekable();
            if near.peek().is_none() {
                continue;
            }
            let section = Contour::circle(tool.at, part.radius);
            let Some(solid) = prism(&section, part.from, part.to) else { continue };
            for &(b, fixed, _) in near {
                let Some(gap) = solid::within(&solid, fixed, asked + SLACK) else { continue };
                let loss: f64 = panel.part(b).terms.iter().map(|t| t.grow + t.shift).sum();
                let at = gap.points.map(|p| Point::new(p.x, p.y));
                let m = Measure {
                    value: gap.lower,
                    upper: gap.upper,
                    worst: gap.lower - loss,
                    contact: false,
                    at,
                };
                if m.worst < asked - SLACK && worst.as_ref().is_none_or(|w| m.worst < w.m.worst) {
                    worst = Some(Worst { b, m });
                }
            }
        }
        match worst {
            Some(worst) => tell(&mut t, &tool, worst, asked),
            None => free = free.or(Some((tool.part, tool.at))),
        }
    }
    if let Some((k, at)) = free {
        t.plain(t.part(k), None, [at; 2], super::Verdict::Pass, String::new());
    }
}
