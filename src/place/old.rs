//! An instrument into an opening that is there: whether its body passes, which of its screws meet an old hole and by how
//! much, what of the old opening stays uncovered, where a doubler would be wanted; and, where it does not go in as it is,
//! whether a plate in front of the sheet would carry it (`plate.rs`).
//!
//! Exact to rounding. A screw counts as held by the old hole whose play it uses alone: the instrument's own hole may give
//! more, its threads give none.

use super::plate::{Plate, plate};
use super::standby::{Seen, seen};
use crate::calc::clearance;
use crate::check::{Limit, RULES, Verdict};
use crate::geom::distance::{self, Relation};
use crate::geom::margin::margin_inside;
use crate::geom::overlay::Area;
use crate::geom::region::{Bound, polygon};
use crate::geom::{Contour, Point, SLACK, Vec2, length};
use crate::panel::{Class, Detail, Mounting, Panel, Part, PartRef, Subject, SubjectKind};

/// How near to the old opening a small old hole is taken for one of its screws, mm: the widest standard pattern lies
/// within it. Common practice, no source.
const NEAR: f64 = 15.0;
/// Radius of the largest hole that is taken for a screw's, mm.
const SMALL: f64 = 5.5;
/// Metal that is not seen is nothing, mm2.
const SEEN: f64 = 0.01;
/// Edge distance in diameters of the screw, as the rule edge-distance asks.
pub(super) const DIAMETERS: f64 = 2.0;

/// How one screw of the instrument stands to the old holes.
#[derive(Clone, Debug)]
pub struct Screw {
    /// Its hole in the instrument.
    pub part: PartRef,
    /// Its name, where it is given.
    pub fastener: Option<String>,
    /// Its old hole, the nearest that is its own, and how far the two centres are apart, mm.
    pub old: Option<(PartRef, f64)>,
    /// Play that is left on every side of the screw in the old hole, mm, below zero where it does not pass.
    pub spare: Option<f64>,
    /// Pass, tight where the tolerances of the old hole may take its play, fail, or withheld.
    pub verdict: Verdict,
    /// Why it is no pass.
    pub why: String,
}

/// The answer for an old opening.
pub struct Into {
    /// The panel with the instrument before the opening.
    pub panel: Panel,
    /// The instrument.
    pub subject: usize,
    /// Its name.
    pub instrument: String,
    /// The subject whose opening it is.
    pub old: usize,
    /// The opening.
    pub opening: PartRef,
    /// Each part that must go through and its least room per side, mm; below zero: by how much it is too large.
    pub through: Vec<(PartRef, f64)>,
    /// Whether all goes through.
    pub passes: Verdict,
    /// What is asked, mm a side.
    pub asked: f64,
    /// Every screw.
    pub screws: Vec<Screw>,
    /// What is seen of it there, where it is a standby, which must be seen; else `None`.
    pub seen: Option<Seen>,
    /// What stays uncovered of the old openings, mm2.
    pub uncovered: Vec<(PartRef, f64)>,
    /// Where a doubler would be wanted, and why.
    pub doubler: Vec<String>,
    /// The plate that would carry it, or why none does; `None`: it goes in as it is.
    pub plate: Option<Result<Plate, Vec<String>>>,
}

impl Into {
    /// Puts the instrument before an opening of another subject; `None`: that subject has no opening.
    pub fn of(mut panel: Panel, subject: usize, instrument: &str, old: usize) -> Option<Into> {
        let (opening, contour) = opening(&panel, old)?;
        let to = middle(&contour) - panel.subjects.get(subject)?.at;
        panel.shift(subject, to);
        let asked = asks(&panel, "body-passes");
        let s = panel.subjects.get(subject)?;
        let front = s.facts.as_ref().and_then(|f| f.mounting) != Some(Mounting::Rear);
        let goes = |p: &Part| match p.class {
            Class::Case => true,
            Class::Body => front && p.depth.is_none_or(|d| d.1 > 0.0),
            _ => false,
        };
        let old_part = panel.part(opening);
        let through = through(s, subject, old_part, goes);
        let worst = |r: &PartRef| loss(panel.part(*r), old_part);
        let passes = verdict(through.iter().map(|(r, room)| (*room, worst(r))), asked);
        let holes = screw_holes(&panel, old, opening, subject);
        let screws = screws(&panel, refs(s, subject, is_screw), opening, &holes);
        let covers: Vec<Contour> = s
            .parts
            .iter()
            .filter(|p| matches!(p.class, Class::Bezel | Class::Flange))
            .map(|p| p.contour.clone())
            .collect();
        let used: Vec<PartRef> =
            screws.iter().filter(|s| s.verdict >= Verdict::Tight).filter_map(|s| Some(s.old?.0)).collect();
        let goes_in = passes >= Verdict::Tight;
        let held = !screws.is_empty() && screws.iter().all(|s| s.verdict >= Verdict::Tight);
        let seen = seen(&panel, subject);
        let mut into = Into {
            seen,
            subject,
            instrument: instrument.to_owned(),
            old,
            opening,
            through,
            passes,
            asked,
            screws,
            uncovered: Vec::new(),
            doubler: Vec::new(),
            plate: None,
            panel,
        };
        let mut covering = covers;
        if !(goes_in && held) {
            let made = plate(&into, &holes);
            if let Ok(p) = &made {
                covering.push(p.outline(middle(&into.panel.part(opening).contour)));
            }
            into.plate = Some(made);
        }
        // where it cannot go, the old opening stays as it is
        if !matches!(into.plate, Some(Err(_))) {
            let screwed = into.plate.is_some();
            let left = |r: &PartRef| screwed || !used.contains(r);
            into.uncovered = uncovered(&into.panel, opening, holes.iter().copied().filter(left), &covering);
            into.doubler = into.doublers(&holes);
        }
        Some(into)
    }

    /// Whether it goes in as it is: the worst of body and screws.
    pub fn direct(&self) -> Verdict {
        let screws = self.screws.iter().map(|s| s.verdict).min().unwrap_or(Verdict::Withheld);
        self.passes.min(screws)
    }

    /// Whether all that is asked here holds: that it goes in as it is, and that a standby is seen there.
    pub fn verdict(&self) -> Verdict {
        self.seen.iter().map(Seen::verdict).fold(self.direct(), Verdict::min)
    }

    /// Screws that meet an old hole.
    pub fn matched(&self) -> usize {
        self.screws.iter().filter(|s| s.verdict >= Verdict::Tight).count()
    }

    /// Where a doubler would be wanted.
    fn doublers(&self, holes: &[PartRef]) -> Vec<String> {
        let mut out = Vec::new();
        let panel = &self.panel;
        for (r, area) in &self.uncovered {
            if *r == self.opening {
                out.push(format!(
                    "the old opening is larger than what covers it: {area:.0} mm2 of it stay open and carry nothing"
                ));
            }
        }
        if holes.is_empty() {
            out.push("the old opening has no screw holes: new ones weaken the metal around it".to_owned());
        }
        let old = panel.part(self.opening);
        let Some(edge) = panel.sheets.get(old.sheet as usize).map(|s| &s.outline) else { return out };
        for r in holes {
            let part = panel.part(*r);
            let fastener = part.fastening().and_then(|f| f.diameter);
            let Some(d) = fastener.or_else(|| width(part)) else { continue };
            let off = distance::point_contour(part.centre, edge).distance;
            if off < DIAMETERS * d - SLACK {
                out.push(format!(
                    "the old hole {} lies {:.1} diameters from the sheet's edge, {DIAMETERS:.0} are asked",
                    panel.part_name(*r),
                    off / d
                ));
            }
        }
        out
    }
}

/// What a rule asks on this panel, mm.
pub(super) fn asks(panel: &Panel, rule: &str) -> f64 {
    let standard = RULES.iter().find(|r| r.id == rule).map_or(0.0, |r| match r.limit {
        Limit::AtLeast(v) => v,
        _ => 0.0,
    });
    panel.limits.get(rule).map_or(standard, |l| l.value)
}

/// The opening of a subject: its largest cutout or old opening.
fn opening(panel: &Panel, subject: usize) -> Option<(PartRef, Contour)> {
    let s = panel.subjects.get(subject)?;
    let open = refs(s, subject, |p| matches!(p.class, Class::Cutout | Class::OldOpening));
    let largest = open
        .into_iter()
        .max_by(|a, b| panel.part(*a).contour.area().total_cmp(&panel.part(*b).contour.area()))?;
    Some((largest, panel.part(largest).contour.clone()))
}

/// Where a plate and an instrument have their middle.
pub(super) fn middle(c: &Contour) -> Point {
    c.as_circle().map_or_else(|| c.bounds().center(), |(at, _)| at)
}

fn refs(s: &Subject, subject: usize, which: impl Fn(&Part) -> bool) -> Vec<PartRef> {
    let named = |k: usize| PartRef { subject: subject as u32, part: k as u32 };
    s.parts.iter().enumerate().filter(|(_, p)| which(p)).map(|(k, _)| named(k)).collect()
}

/// Parts of the instrument that must pass an opening, with their least room.
pub(super) fn through(
    s: &Subject,
    subject: usize,
    opening: &Part,
    goes: impl Fn(&Part) -> bool,
) -> Vec<(PartRef, f64)> {
    let room = |r: PartRef| {
        let part = s.parts.get(r.part as usize)?;
        let gap = distance::contours(&part.contour, &opening.contour);
        let inside = matches!(gap.relation, Relation::Inside | Relation::Coincident);
        let room =
            if inside { gap.distance } else { margin_inside(&opening.contour, &part.contour).min(0.0) };
        Some((r, room))
    };
    refs(s, subject, goes).into_iter().filter_map(room).collect()
}

/// What the tolerances of both can take, mm a side.
pub(super) fn loss(part: &Part, opening: &Part) -> f64 {
    let outer: f64 = part.terms.iter().map(|t| t.grow).sum();
    outer + opening.terms.iter().map(|t| t.shrink).sum::<f64>()
}

/// The worst of rooms with what tolerances take; withheld where there is none.
pub(super) fn verdict(rooms: impl Iterator<Item = (f64, f64)>, asked: f64) -> Verdict {
    let one = |(room, loss): (f64, f64)| {
        if room < asked - SLACK {
            Verdict::Fail
        } else if room - loss < asked - SLACK {
            Verdict::Tight
        } else {
            Verdict::Pass
        }
    };
    rooms.map(one).min().unwrap_or(Verdict::Withheld)
}

fn is_screw(p: &Part) -> bool {
    p.class == Class::Hole && matches!(&p.detail, Detail::Hole { free: false, .. })
}

/// Greatest side of a round hole.
pub(super) fn width(p: &Part) -> Option<f64> {
    p.contour.as_circle().map(|(_, r)| 2.0 * r)
}

/// The old screw holes of an opening: its own subject's, and small old openings close by.
fn screw_holes(panel: &Panel, old: usize, opening: PartRef, instrument: usize) -> Vec<PartRef> {
    let around = panel.part(opening).contour.bounds().inflate(NEAR, NEAR);
    let sheet = panel.part(opening).sheet;
    let mut out = Vec::new();
    for (k, s) in panel.subjects.iter().enumerate().filter(|(k, _)| *k != instrument) {
        let own = k == old;
        if !own && s.kind != SubjectKind::OldOpening {
            continue;
        }
        let round = |p: &Part| p.contour.as_circle().is_some_and(|(_, r)| r <= SMALL);
        let is = |p: &Part| {
            let class = p.class == Class::OldOpening || own && p.class == Class::Hole;
            class && p.sheet == sheet && round(p) && around.contains(p.centre)
        };
        out.extend(refs(s, k, is).into_iter().filter(|r| *r != opening));
    }
    out
}

/// What the tolerances of an old hole can take from a screw's play while the instrument stands in the opening, mm; what
/// puts both off together takes nothing.
fn off_hole(hole: &Part, opening: &Part) -> f64 {
    let beside = |a: &Part, b: &Part| -> f64 {
        let shared = |key: u32| b.terms.iter().find(|t| key != 0 && t.key == key).map_or(0.0, |t| t.shift);
        a.terms.iter().map(|t| (t.shift - shared(t.key)).max(0.0)).sum()
    };
    let narrow = hole.terms.iter().map(|t| t.shrink).sum::<f64>();
    beside(hole, opening) + beside(opening, hole) + narrow
}

/// All screws against the old holes, each hole for one screw: the two that are nearest to each other belong together.
fn screws(panel: &Panel, parts: Vec<PartRef>, opening: PartRef, holes: &[PartRef]) -> Vec<Screw> {
    let off = |part: &PartRef, hole: &PartRef| length(panel.part(*hole).centre - panel.part(*part).centre);
    let mut pairs: Vec<(f64, PartRef, PartRef)> =
        parts.iter().flat_map(|p| holes.iter().map(move |h| (off(p, h), *p, *h))).collect();
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0).then((a.1, a.2).cmp(&(b.1, b.2))));
    let mut taken: Vec<(PartRef, PartRef)> = Vec::new();
    for (_, part, hole) in pairs {
        if taken.iter().all(|(p, h)| *p != part && *h != hole) {
            taken.push((part, hole));
        }
    }
    let own = |part: PartRef| taken.iter().find(|(p, _)| *p == part).map(|(_, h)| *h);
    let none =
        if holes.is_empty() { "there is no old screw hole" } else { "no old screw hole is left for it" };
    parts.into_iter().map(|part| screw(panel, part, opening, own(part), none)).collect()
}

/// One screw against its old hole, or why there is none.
fn screw(panel: &Panel, part: PartRef, opening: PartRef, hole: Option<PartRef>, none: &str) -> Screw {
    let own = panel.part(part);
    let fastening = own.fastening();
    let fastener = fastening.map(|f| f.name.clone());
    let old = hole.map(|r| (r, length(panel.part(r).centre - own.centre)));
    let mut s = Screw { part, fastener, old, spare: None, verdict: Verdict::Fail, why: String::new() };
    let Some((r, off)) = old else {
        s.why = none.to_owned();
        return s;
    };
    let diameter = fastening.and_then(|f| f.diameter);
    let (Some(d), Some(hole)) = (diameter, width(panel.part(r))) else {
        s.verdict = Verdict::Withheld;
        s.why = "the name of the screw is not given".to_owned();
        return s;
    };
    let spare = (hole - d) / 2.0 - off;
    s.spare = Some(spare);
    match clearance::of_screw(d).map(|c| c.largest) {
        _ if spare < -SLACK => {
            s.why = format!(
                "the screw stands {off:.2} mm beside the hole's centre, which gives {:.2} mm",
                (hole - d).max(0.0) / 2.0
            );
        }
        None => {
            s.verdict = Verdict::Withheld;
            s.why = "no table here knows a hole for this screw".to_owned();
        }
        Some(most) if hole > most + SLACK => {
            s.why = format!("the old hole is {hole:.2} mm, the largest for this screw {most:.2} mm");
        }
        Some(_) => {
            let takes = off_hole(panel.part(r), panel.part(opening));
            s.verdict = if spare < takes - SLACK { Verdict::Tight } else { Verdict::Pass };
            if s.verdict == Verdict::Tight {
                s.why = format!(
                    "{spare:.2} mm of play are left and the tolerances may take {takes:.2} mm: try the screws before anything is cut"
                );
            }
        }
    }
    s
}

/// What stays uncovered: the opening and old holes under nothing.
fn uncovered(
    panel: &Panel,
    opening: PartRef,
    holes: impl Iterator<Item = PartRef>,
    covers: &[Contour],
) -> Vec<(PartRef, f64)> {
    let flat = |c: &Contour, bound: Bound| polygon(c, bound, 0.005);
    let cover = Area::of(&covers.iter().map(|c| flat(c, Bound::Around)).collect::<Vec<_>>());
    let open = |r: PartRef| {
        let area = Area::of(&[flat(&panel.part(r).contour, Bound::Within)]).without(&cover).size();
        (area > SEEN).then_some((r, area))
    };
    std::iter::once(opening).chain(holes).filter_map(open).collect()
}

/// A shift of a point to the opening's own axes.
pub(super) fn local(panel: &Panel, opening: PartRef, p: Point) -> Vec2 {
    p - middle(&panel.part(opening).contour)
}
