//! A tool reaches each fastener.

use super::judge::{self, Measure, Stack};
use super::own::{Teller, length, of_class, withhold_absent};
use super::removal::{fixed, in_reach, prism};
use super::{Finding, Limit, Relation, Rule, Source, Standing};
use crate::geom::{Contour, Point, SLACK, distance};
use crate::panel::{Class, Classes, Panel, Part, PartRef, Subject, SubjectKind};
use crate::solid;

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

/// A fastener's end and the tool that turns or holds it.
struct Tool {
    part: usize,
    at: Point,
    stretches: [Option<Stretch>; 2],
    name: &'static str,
}

/// The tools that a subject's fasteners ask for.
fn tools(s: &Subject) -> impl Iterator<Item = Tool> + '_ {
    let known = s.parts.iter().enumerate().filter_map(|(k, p)| Some((k, p, p.depth?, round(p)?)));
    known.filter_map(move |(part, p, (from, to), radius)| match p.class {
        Class::Head => {
            let blade = Stretch { radius: radius.max(4.0), from: from - 75.0, to: from };
            let handle = Stretch { radius: 16.0, from: from - 175.0, to: from - 75.0 };
            Some(Tool { part, at: p.centre, stretches: [Some(blade), Some(handle)], name: "screwdriver" })
        }
        Class::Nut if !holds_itself(s, p) => {
            let socket = Stretch { radius: radius + 3.0, from, to: to + 40.0 };
            Some(Tool { part, at: p.centre, stretches: [Some(socket), None], name: "socket" })
        }
        _ => None,
    })
}

fn round(p: &Part) -> Option<f64> {
    p.contour.as_circle().map(|(_, r)| r)
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
        for tool in tools(s) {
            let worst = o.parts.iter().enumerate().filter(|(_, p)| IN_THE_WAY.has(p.class));
            let worst =
                worst.filter_map(|(k, p)| beside(&s.parts[tool.part], &tool, p, asked).map(|m| (k, m)));
            let worst = worst.min_by(|(_, m), (_, n)| m.worst.total_cmp(&n.worst));
            // only what is in the way is told of two items: tools that have room are no news
            if let Some((k, m)) = worst.filter(|(_, m)| m.worst < asked - SLACK) {
                let b = PartRef { subject: b as u32, part: k as u32 };
                tell(&mut t, &tool, Worst { b, m }, asked);
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

/// Room between a tool and a part of another item; `None` where they pass each other in depth, or far apart.
fn beside(own: &Part, tool: &Tool, part: &Part, asked: f64) -> Option<Measure> {
    let (from, to) = part.depth?;
    if !in_reach(part.contour.bounds(), tool.at, WIDEST + asked) {
        return None;
    }
    let loss = judge::loss(own, part, Stack::PointBoundary);
    let stretches = tool.stretches.iter().flatten().filter(|s| s.from < to - SLACK && from < s.to - SLACK);
    let widest = stretches.map(|s| s.radius).reduce(f64::max)?;
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
    for tool in tools(s) {
        let mut worst: Option<Worst> = None;
        for part in tool.stretches.iter().flatten() {
            let section = Contour::circle(tool.at, part.radius);
            let Some(solid) = prism(&section, part.from, part.to) else { continue };
            for (b, fixed) in fixed(panel) {
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
