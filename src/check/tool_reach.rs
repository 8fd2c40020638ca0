//! A tool reaches each fastener.

use super::bans::Pin;
use super::joined::joined;
use super::judge::{self, Measure, Stack, most_loss};
use super::near::meets;
use super::own::{Teller, length, of_class, withhold_absent};
use super::removal::{fixed, in_reach, prism};
use super::{Finding, Limit, Relation, Rule, Source, Standing};
use crate::geom::{Contour, Point, Rect, SLACK, distance};
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
const IN_THE_WAY: Classes = Classes::of(&[
    Class::Bezel,
    Class::Front,
    Class::Head,
    Class::Body,
    Class::Port,
    Class::Flange,
    Class::Nut,
]);

/// No tool with its tolerances is wider than this per side, mm; a nut that is wider turns by hand.
const WIDEST: f64 = 40.0;

/// One round stretch of a tool.
#[derive(Clone, Copy)]
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
struct Tool {
    part: usize,
    at: Point,
    stretches: [Option<Stretch>; 2],
    name: &'static str,
}

/// The tools that a subject's fasteners ask for.
fn tools(s: &Subject) -> impl Iterator<Item = Tool> + '_ {
    ends(s).filter_map(|end| tool(s, &end))
}

/// An end of a fastener that a tool may go on.
struct End<'a> {
    part: usize,
    p: &'a Part,
    depth: (f64, f64),
    radius: f64,
}

impl End<'_> {
    /// No tool on it is wider than this per side, mm.
    fn widest(&self) -> f64 {
        HANDLE.max(self.radius + SOCKET)
    }
}

/// Radius of a screwdriver's handle, mm.
const HANDLE: f64 = 16.0;

/// How much larger than its nut a socket is per side, mm.
const SOCKET: f64 = 3.0;

fn ends(s: &Subject) -> impl Iterator<Item = End<'_>> {
    let ends = s.parts.iter().enumerate().filter(|(_, p)| matches!(p.class, Class::Head | Class::Nut));
    ends.filter_map(|(part, p)| Some(End { part, p, depth: p.depth?, radius: round(p)? }))
}

/// The tool that an end asks for; `None` for a nut that holds itself.
fn tool(s: &Subject, end: &End<'_>) -> Option<Tool> {
    let End { part, p, depth: (from, to), radius } = *end;
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

fn between(panel: &Panel, [a, b]: [usize; 2], rule: &'static Rule, out: &mut Vec<Finding>) {
    for (a, b) in [(a, b), (b, a)] {
        let (Some(s), Some(o)) = (panel.subjects.get(a), panel.subjects.get(b)) else { return };
        if !has_tools(s) || kin(s, a, o, b) || !matters(o) {
            continue;
        }
        let mut t = Teller::new(panel, a, rule, out);
        let asked = t.asked(0.0);
        let Some(near) = near(s, o, asked) else { continue };
        for end in ends(s) {
            let reach = end.widest() + asked + most_loss(end.p);
            let within = |n: &&Near<'_>| in_reach(n.bounds, end.p.centre, reach + n.loss);
            let (end_of, of) = (t.part(end.part), |k: usize| PartRef { subject: b as u32, part: k as u32 });
            let free = |n: &&Near<'_>| !joined(panel, end_of, of(n.part.0));
            let mut met = near.iter().filter(within).filter(free).peekable();
            let Some(tool) = met.peek().and_then(|_| tool(s, &end)) else { continue };
            let worst = met.filter_map(|n| beside(end.p, &tool, n, asked).map(|m| (n.part.0, m)));
            let worst = worst.min_by(|(_, m), (_, n)| m.worst.total_cmp(&n.worst));
            // only what is in the way is told of two items: tools that have room are no news
            if let Some((k, m)) = worst.filter(|(_, m)| m.worst < asked - SLACK) {
                let b = PartRef { subject: b as u32, part: k as u32 };
                tell(&mut t, &tool, Worst { b, m }, asked);
            }
        }
    }
}

/// A part that a tool may run into.
struct Near<'a> {
    part: (usize, &'a Part),
    bounds: Rect,
    /// The most that its tolerances can take away.
    loss: f64,
}

/// Parts of an item that tools on another's fasteners may run into; `None`: none, as for most pairs of items.
fn near<'a>(s: &Subject, o: &'a Subject, asked: f64) -> Option<Vec<Near<'a>>> {
    let ends = s.parts.iter().filter(|p| matches!(p.class, Class::Head | Class::Nut));
    let all = ends.map(|p| Rect::from_points(p.centre, p.centre)).reduce(|a, b| a.union(b))?;
    let all = all.inflate(WIDEST + asked, WIDEST + asked);
    let parts = o.parts.iter().enumerate().filter(|(_, p)| IN_THE_WAY.has(p.class) && p.depth.is_some());
    let near = parts.filter_map(|part| {
        let bounds = part.1.contour.bounds();
        meets(&bounds, &all).then(|| Near { part, bounds, loss: most_loss(part.1) })
    });
    let near: Vec<_> = near.collect();
    (!near.is_empty()).then_some(near)
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
fn beside(own: &Part, tool: &Tool, near: &Near<'_>, asked: f64) -> Option<Measure> {
    let part = near.part.1;
    let (from, to) = part.depth?;
    let stretches = tool.stretches.iter().flatten().filter(|s| s.from < to - SLACK && from < s.to - SLACK);
    let widest = stretches.map(|s| s.radius).reduce(f64::max)?;
    if !in_reach(near.bounds, tool.at, widest + asked + most_loss(own) + near.loss) {
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
