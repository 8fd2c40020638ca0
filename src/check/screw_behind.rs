//! What a screw reaches behind the sheet.

use super::bans::Pin;
use super::fastened::{Met, Pairs};
use super::joined::joined;
use super::judge::{self, Measure, Stack, most_loss};
use super::own::{Judged, Teller, length, of_class};
use super::removal::{fixed, prism};
use super::{Finding, Limit, Relation, Rule, Source, Standing};
use crate::geom::{Contour, Point, SLACK, distance};
use crate::panel::{Class, Classes, HeadKind, Panel, Part, PartRef, Subject, SubjectKind};
use crate::solid::{self, Bounds, Solid, Vec3};

/// The rule.
pub static RULE: Rule = Rule {
    id: "screw-behind",
    asks: "Behind the sheet a screw's end keeps clear of other items and of what is fixed.",
    why: "A screw that is too long reaches a case, a hose or a rib. Its end lies its length behind the underside of its \
          head, or behind the front face where it is countersunk. Where nobody gives the length and something stands within \
          25 mm behind the hole, it is withheld; where nothing does, nothing is said. 3 mm is common practice. What moves is \
          asked by control-clear; the item's own parts are its maker's.",
    limit: Limit::AtLeast(3.0),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::All(&[Relation::Own(airframe), Relation::Between(between)]),
    asked: None,
};

/// How far behind the sheet a screw of unknown length is taken to reach, mm.
const UNKNOWN: f64 = 25.0;

/// What a screw may run into.
pub(super) const BEHIND: Classes = Classes::of(&[Class::Body, Class::Port]);

/// The stretch of a screw behind its sheet.
#[derive(Clone, Debug)]
pub(super) struct Shank {
    pub part: usize,
    pub at: Point,
    pub radius: f64,
    from: f64,
    to: f64,
    /// Its name, where its length is not known.
    unknown: Option<String>,
}

impl Shank {
    /// As a solid; `None` where it has no size.
    fn solid(&self) -> Option<Solid> {
        prism(&Contour::circle(self.at, self.radius), self.from, self.to)
    }

    /// Its box.
    fn bounds(&self) -> Bounds {
        let (r, at) = (self.radius, self.at);
        Bounds { low: Vec3::new(at.x - r, at.y - r, self.from), high: Vec3::new(at.x + r, at.y + r, self.to) }
    }
}

pub(super) fn shanks<'a>(panel: &'a Panel, s: &'a Subject) -> impl Iterator<Item = Shank> + 'a {
    of_class(s, Class::Hole).filter_map(move |(part, hole)| {
        let f = hole.fastening()?;
        let sheet = panel.sheets.get(hole.sheet as usize)?;
        let back = sheet.front + sheet.thickness?;
        let same = |(_, p): &(usize, &Part)| (p.centre - hole.centre).hypot2() < SLACK * SLACK;
        let under = match (f.head.map(|h| (h.kind, h.height)), of_class(s, Class::Head).find(same)) {
            (Some((HeadKind::Raised, Some(high))), Some((_, p))) => {
                p.depth.map_or(sheet.front, |(from, _)| from + high)
            }
            _ => sheet.front,
        };
        let to = f.length.map_or(back + UNKNOWN, |l| under + l);
        let unknown = if f.length.is_none() { Some(f.name.clone()) } else { None };
        let radius = f.diameter? / 2.0;
        (to > back + SLACK).then_some(Shank { part, at: hole.centre, radius, from: back, to, unknown })
    })
}

fn has_screws(s: &Subject) -> bool {
    matches!(s.kind, SubjectKind::Placement | SubjectKind::Unit | SubjectKind::Insert) && !s.provision
}

/// The stretches of a subject's screws behind their sheets.
pub(super) fn pins(panel: &Panel, subject: usize) -> Vec<Pin> {
    let Some(s) = panel.subjects.get(subject).filter(|s| has_screws(s)) else { return Vec::new() };
    let pin = |s: Shank| Pin { part: s.part, at: s.at, radius: s.radius, depth: (s.from, s.to) };
    shanks(panel, s).map(pin).collect()
}

/// Whether a screw of the first subject may run into this part of the second.
pub(super) fn matters_to(panel: &Panel, a: usize, b: usize, part: usize) -> bool {
    let (Some(s), Some(o)) = (panel.subjects.get(a), panel.subjects.get(b)) else { return false };
    let kin = s.carrier == Some(b as u32) || o.carrier == Some(a as u32);
    has_screws(o) && !kin && o.parts.get(part).is_some_and(|p| BEHIND.has(p.class))
}

fn between(pairs: &Pairs<'_>, [a, b]: [usize; 2], rule: &'static Rule, out: &mut Vec<Finding>) {
    let panel = pairs.panel;
    for (a, b) in [(a, b), (b, a)] {
        let (Some(s), Some(o)) = (panel.subjects.get(a), panel.subjects.get(b)) else { return };
        let kin = s.carrier == Some(b as u32) || o.carrier == Some(a as u32);
        if !has_screws(s) || !has_screws(o) || kin {
            continue;
        }
        let (Some(own), Some(other)) = (pairs.of(a), pairs.of(b)) else { return };
        let mut t = Teller::new(panel, a, rule, out);
        let asked = t.asked(3.0);
        for (shank, reach) in &own.shanks {
            let (screw, of) =
                (t.part(shank.part), |m: &Met| PartRef { subject: b as u32, part: m.part as u32 });
            let near = |m: &&Met| BEHIND.has(m.class) && m.within(shank.at, reach + asked);
            let met = other
                .around(shank.at, reach + asked)
                .iter()
                .filter(near)
                .filter(|m| !joined(panel, screw, of(m)));
            let pair = |m: &Met| (&s.parts[shank.part], &o.parts[m.part]);
            let worst = met.filter_map(|m| Some((m, beside(shank, m, pair(m), asked)?)));
            let worst = worst.min_by(|(_, m), (_, n)| m.worst.total_cmp(&n.worst));
            if let Some((met, m)) = worst.filter(|(_, m)| m.worst < asked - SLACK) {
                tell(&mut t, shank, of(met), m, asked);
            }
        }
    }
}

/// Room between a shank and a part of another item that its box is near; `None` where they are farther apart in depth
/// than is asked.
fn beside(shank: &Shank, met: &Met, (own, part): (&Part, &Part), asked: f64) -> Option<Measure> {
    let (from, to) = met.depth;
    let deep = (from - shank.to).max(shank.from - to);
    if deep >= asked + most_loss(own) + met.loss {
        return None;
    }
    let loss = judge::loss(own, part, Stack::PointBoundary);
    if deep >= asked + loss {
        return None;
    }
    let gap = distance::point_contour(shank.at, &part.contour);
    let off = if part.contour.holds(shank.at) { -gap.distance } else { gap.distance } - shank.radius;
    // beside and deeper are the sides of a right angle; where both overlap, the lesser way out is told
    let value = match (off > 0.0, deep > 0.0) {
        (true, true) => (off * off + deep * deep).sqrt(),
        _ => off.max(deep),
    };
    Some(Measure { value, upper: value, worst: value - loss, contact: false, at: gap.at })
}

fn tell(t: &mut Teller<'_>, shank: &Shank, b: PartRef, m: Measure, asked: f64) {
    let panel = t.panel;
    let a = t.part(shank.part);
    let other = panel.part_name(b);
    if let Some(name) = &shank.unknown {
        let waits = format!(
            "the length of the {name}: {other} stands within {} behind it",
            length(panel, UNKNOWN + asked)
        );
        t.plain(a, Some(b), m.at, super::Verdict::Withheld, waits);
        return;
    }
    let judged = Judged { measured: m.interval(), asked, loss: m.value - m.worst, at: m.at };
    t.interval(a, Some(b), judged, |_| {
        let room = if m.value < 0.0 {
            format!("reaches {} into {other}", length(panel, -m.value))
        } else {
            format!("comes within {} of {other}", length(panel, m.value))
        };
        format!(
            "The screw's end {room}: {} behind the sheet. Take a shorter one.",
            length(panel, shank.to - shank.from)
        )
    });
}

fn airframe(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject().filter(|s| has_screws(s)) else { return };
    let asked = t.asked(3.0);
    let mut known = None;
    let fixed: Vec<_> = fixed(panel)
        .map(|(b, solid)| {
            let loss: f64 = panel.part(b).terms.iter().map(|t| t.grow + t.shift).sum();
            (b, solid, loss, solid.bounds().grown(asked + loss))
        })
        .collect();
    for shank in shanks(panel, s) {
        let near: Vec<_> = fixed.iter().filter(|(.., b)| b.distance(&shank.bounds()) <= 0.0).collect();
        let mut worst: Option<(PartRef, Measure)> = None;
        if !near.is_empty() {
            let Some(pin) = shank.solid() else { continue };
            for &(b, solid, loss, _) in near {
                let Some(gap) = solid::within(&pin, solid, asked + loss) else { continue };
                let at = gap.points.map(|p| Point::new(p.x, p.y));
                let worse = gap.lower - loss;
                let m = Measure { value: gap.lower, upper: gap.upper, worst: worse, contact: false, at };
                if worse < asked - SLACK && worst.is_none_or(|(_, w)| worse < w.worst) {
                    worst = Some((b, m));
                }
            }
        }
        match worst {
            Some((b, m)) => tell(&mut t, &shank, b, m, asked),
            None if shank.unknown.is_none() => known = known.or(Some((shank.part, shank.at))),
            None => {}
        }
    }
    if let Some((k, at)) = known {
        t.plain(t.part(k), None, [at; 2], super::Verdict::Pass, String::new());
    }
}
