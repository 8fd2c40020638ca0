//! Questions that the process answers: least hole, least metal, inside corners, chords for curves.

use super::Options;
use super::draft::{Draft, Reading};
use super::near::Field;
use super::nest::Place;
use super::report::Facts;
use super::rules;
use super::same::SAME;
use super::shapes::chords;
use super::words::{mm, trim};
use crate::check::{Verdict, least_corner, least_width};
use crate::geom::{Contour, Point, SLACK};
use crate::panel::ProcessKind;

/// Chords that leave their circle by more than this are told, mm: the tolerance that services publish.
const TOLERANCE: f64 = 0.1;

/// The contours in their places.
pub struct Scene<'a> {
    /// The contours.
    pub contours: &'a [Contour],
    /// First item of each.
    pub items: &'a [usize],
    /// Their nesting.
    pub places: &'a [Place],
    /// Whether each is an opening.
    pub opening: &'a [bool],
}

impl Scene<'_> {
    fn openings(&self) -> impl Iterator<Item = (usize, &Contour, usize)> {
        self.contours
            .iter()
            .zip(self.items)
            .zip(self.opening)
            .enumerate()
            .filter(|(_, (_, o))| **o)
            .map(|(k, ((c, i), _))| (k, c, *i))
    }

    /// Whether there is metal between two contours: two openings side by side, or an opening and what it is in.
    fn metal(&self, a: usize, b: usize) -> bool {
        let (Some(p), Some(q)) = (self.places.get(a), self.places.get(b)) else { return false };
        let opening = |k: usize| self.opening.get(k).copied().unwrap_or(false);
        if p.parent == q.parent && opening(a) && opening(b) {
            return true;
        }
        p.parent == Some(b) && opening(a) || q.parent == Some(a) && opening(b)
    }
}

fn word(kind: ProcessKind) -> &'static str {
    match kind {
        ProcessKind::Hand => "work by hand",
        ProcessKind::Punch => "a punch",
        ProcessKind::Router => "the router",
        ProcessKind::Waterjet => "waterjet",
        ProcessKind::Laser => "laser",
    }
}

/// What a process asks of the width of an opening: at least so many mm.
enum Need {
    Nothing(&'static str),
    Width(f64),
    Waits(&'static str),
}

fn need(o: &Options) -> Need {
    match o.process {
        None => Need::Waits("the process by which it is cut (--process)"),
        Some(ProcessKind::Hand | ProcessKind::Punch) => {
            Need::Nothing("by hand or punch there is no least hole")
        }
        Some(ProcessKind::Router) => match o.tool {
            Some(t) => Need::Width(t),
            None => Need::Waits("the diameter of the router's tool (--tool)"),
        },
        Some(ProcessKind::Waterjet | ProcessKind::Laser) => match o.thickness {
            Some(t) => Need::Width(t),
            None => Need::Waits("the thickness of the sheet (--thickness)"),
        },
    }
}

/// Widths of the openings against the process.
pub fn least_hole(d: &mut Draft<'_>, s: &Scene<'_>, o: &Options, facts: &mut Facts) {
    let widths: Vec<(f64, Point, usize, bool)> = s
        .openings()
        .map(|(_, c, i)| (least_width(c), c.bounds().center(), i, c.as_circle().is_some()))
        .collect();
    let Some(least) = widths.iter().min_by(|a, b| a.0.total_cmp(&b.0)).copied() else { return };
    facts.least_hole = Some((least.0, least.1));
    let told = format!("The least opening is {} wide, at {}", mm(least.0), d.at(least.1));
    let asked = match need(o) {
        Need::Waits(what) => {
            let says = format!("{told}. It waits for {what}.");
            return d.add(&rules::LEAST_HOLE, Verdict::Withheld, says, vec![least.1], vec![least.2]);
        }
        Need::Nothing(why) => {
            return d.add(
                &rules::LEAST_HOLE,
                Verdict::Pass,
                format!("{told}; {why}."),
                vec![least.1],
                vec![least.2],
            );
        }
        Need::Width(w) => w,
    };
    let router = o.process == Some(ProcessKind::Router);
    // a round hole below the tool is drilled
    let judged: Vec<_> = widths.iter().filter(|w| !(router && w.3 && w.0 < asked)).collect();
    let drilled = widths.len() - judged.len();
    if let Some(first) = widths.iter().find(|w| router && w.3 && w.0 < asked) {
        let says = format!(
            "{drilled} round {} smaller than the tool of {}: a router cannot cut {}, only drill {}; the first at {}. Tell \
             the shop, or take {} off the cut layer.",
            if drilled == 1 { "hole is" } else { "holes are" },
            mm(asked),
            if drilled == 1 { "it" } else { "them" },
            if drilled == 1 { "it" } else { "them" },
            d.at(first.1),
            if drilled == 1 { "it" } else { "them" },
        );
        d.add(&rules::LEAST_HOLE, Verdict::Tight, says, vec![first.1], vec![first.2]);
    }
    let Some(worst) = judged.iter().min_by(|a, b| a.0.total_cmp(&b.0)) else { return };
    let reading = Reading { measured: worst.0, asked, loss: 2.0 * o.tolerance };
    let verdict = reading.verdict();
    let bad: Vec<_> = judged
        .iter()
        .filter(|w| Reading { measured: w.0, ..reading }.verdict() == verdict && verdict != Verdict::Pass)
        .collect();
    let process = o.process.map_or("", word);
    let says = match (verdict, bad.len()) {
        (Verdict::Pass, _) if !router && worst.0 < 1.5 * asked - SLACK => {
            format!("{told}: {process} asks {}; some services ask 1.5 thicknesses, ask yours.", mm(asked))
        }
        (Verdict::Pass, _) => format!("{told}: {process} asks {}.", mm(asked)),
        (_, n) => format!(
            "{n} {} narrower than {process} asks{}; the least is {} wide, at {}, asked {}: {}.",
            if n == 1 { "opening is" } else { "openings are" },
            if verdict == Verdict::Tight { " at the worst cut" } else { "" },
            mm(worst.0),
            d.at(worst.1),
            mm(asked),
            if router { "take a smaller tool or widen it" } else { "mark its centre and drill it instead" }
        ),
    };
    let (at, items) = match bad.is_empty() {
        true => (vec![worst.1], vec![worst.2]),
        false => (bad.iter().map(|w| w.1).collect(), bad.iter().map(|w| w.2).collect()),
    };
    d.add_reading(&rules::LEAST_HOLE, reading, says, at, items);
}

/// Metal between openings, and between openings and edges.
pub fn web(d: &mut Draft<'_>, s: &Scene<'_>, o: &Options, field: &mut Field, facts: &mut Facts) {
    let (rule, asked, waits) = match (o.web, o.thickness) {
        (Some(w), _) => (&rules::OWN_WEB, w, None),
        (None, Some(t)) => (&rules::WEB, t, None),
        (None, None) => {
            (&rules::WEB, 0.0, Some("the thickness of the sheet (--thickness), or your own limit (--web)"))
        }
    };
    let opening = |k: usize| s.opening.get(k).copied().unwrap_or(false);
    let (least, below) = field.webs(asked + 2.0 * o.tolerance, opening, |a, b| s.metal(a, b));
    if field.overran() {
        let says = "There are too many pieces near each other to measure the metal between them.".to_owned();
        return d.add(rule, Verdict::Withheld, says, vec![], vec![]);
    }
    let Some((w, at)) = least else { return };
    facts.least_web = Some((w, at));
    let published = "between neighbours 6.35 mm (0.25 in) is published; an instrument's own screws may stand nearer to its own hole, as its maker drew them";
    let told = format!("The least metal is {} wide, between {} and {}", mm(w), d.at(at[0]), d.at(at[1]));
    if let Some(what) = waits {
        let says = format!("{told}. It waits for {what}; {published}.");
        return d.add(rule, Verdict::Withheld, says, at.to_vec(), vec![]);
    }
    let reading = Reading { measured: w, asked, loss: 2.0 * o.tolerance };
    let verdict = reading.verdict();
    let bad: Vec<_> = below
        .iter()
        .filter(|(_, (d, _))| {
            Reading { measured: *d, ..reading }.verdict() == verdict && verdict != Verdict::Pass
        })
        .collect();
    let says = match (verdict, bad.len()) {
        (Verdict::Pass, _) if w < 6.35 && o.web.is_none() => {
            format!("{told}, asked {}; {published}.", mm(asked))
        }
        (Verdict::Pass, _) => format!("{told}, asked {}.", mm(asked)),
        (_, n) => format!(
            "{n} {} thinner than asked{}; the least is {} wide, between {} and {}, asked {}.",
            if n == 1 { "bridge of metal is" } else { "bridges of metal are" },
            if verdict == Verdict::Tight { " at the worst cut" } else { "" },
            mm(w),
            d.at(at[0]),
            d.at(at[1]),
            mm(asked)
        ),
    };
    let (mut places, mut items) = (at.to_vec(), vec![]);
    if !bad.is_empty() {
        places.clear();
        for ((a, b), (_, at)) in bad {
            places.extend(at);
            items.extend([a, b].into_iter().filter_map(|k| s.items.get(*k).copied()));
        }
        items.sort_unstable();
        items.dedup();
    }
    d.add_reading(rule, reading, says, places, items);
}

/// Inside corners against the tool.
pub fn corners(d: &mut Draft<'_>, s: &Scene<'_>, o: &Options, facts: &mut Facts) {
    let all: Vec<(f64, Point, usize)> = s
        .contours
        .iter()
        .zip(s.opening)
        .zip(s.items)
        // a circle that is drawn as chords has no corners
        .filter(|((c, _), _)| c.as_circle().is_none() && chords(c).is_none())
        .filter_map(|((c, opening), i)| least_corner(c, *opening).map(|(r, p)| (r, p, *i)))
        .collect();
    let Some(least) = all.iter().min_by(|a, b| a.0.total_cmp(&b.0)).copied() else { return };
    facts.least_corner = Some((least.0, least.1));
    let told = match least.0 {
        0.0 => format!("The least inside corner is sharp, at {}", d.at(least.1)),
        r => format!("The least inside corner has a radius of {}, at {}", mm(r), d.at(least.1)),
    };
    let router = o.process == Some(ProcessKind::Router);
    match (o.tool, router) {
        (Some(tool), _) => {
            let asked = tool / 2.0;
            let bad: Vec<_> = all.iter().filter(|c| c.0 < asked - SLACK).collect();
            let reading = Reading { measured: least.0, asked, loss: 0.0 };
            let says = match bad.len() {
                0 => format!("{told}; the tool's is {}.", mm(asked)),
                n => format!(
                    "{told}; {n} contours have one below the tool's {}: it leaves metal there. Enlarge it, or take a smaller tool.",
                    mm(asked)
                ),
            };
            let items = if bad.is_empty() { vec![least.2] } else { bad.iter().map(|c| c.2).collect() };
            let at = if bad.is_empty() { vec![least.1] } else { bad.iter().map(|c| c.1).collect() };
            d.add_reading(&rules::CORNER, reading, says, at, items);
        }
        (None, true) => {
            let says = format!("{told}. It waits for the diameter of the router's tool (--tool).");
            d.add(&rules::CORNER, Verdict::Withheld, says, vec![least.1], vec![least.2]);
        }
        (None, false) if least.0 == 0.0 => {
            let n = all.iter().filter(|c| c.0 == 0.0).count();
            let bad = all.iter().filter(|c| c.0 == 0.0);
            let (at, items) = bad.map(|c| (c.1, c.2)).unzip();
            let says = format!("{told} ({n} contours have one): cracks start in sharp corners. Round them.");
            d.add_reading(
                &rules::CORNER,
                Reading { measured: 0.0, asked: 0.0, loss: 0.0 },
                says.clone(),
                at,
                items,
            );
            // no number is asked, but a sharp corner is one all the same
            if let Some(f) = d.findings.last_mut() {
                (f.verdict, f.asked) = (Verdict::Fail, None);
            }
        }
        (None, false) => {
            d.add(&rules::CORNER, Verdict::Pass, format!("{told}."), vec![least.1], vec![least.2]);
        }
    }
}

/// Circles that are drawn as chords.
pub fn true_arcs(d: &mut Draft<'_>, s: &Scene<'_>) {
    let found: Vec<_> = s.contours.iter().zip(s.items).filter_map(|(c, i)| Some((chords(c)?, *i))).collect();
    if let Some((worst, _)) = found.iter().max_by(|a, b| a.0.off.total_cmp(&b.0.off)) {
        let n = found.len();
        let says = format!(
            "{n} {} drawn as chords; the worst has {} of them at {} and leaves its circle of {} diameter by {}, asked at most {}.",
            if n == 1 { "circle is" } else { "circles are" },
            worst.count,
            d.at(worst.centre),
            mm(2.0 * worst.radius),
            mm(worst.off),
            mm(TOLERANCE)
        );
        let verdict = if worst.off > TOLERANCE + SLACK { Verdict::Fail } else { Verdict::Pass };
        let (at, items) = found.iter().map(|(c, i)| (c.centre, *i)).unzip();
        let f = super::report::Finding {
            rule: &rules::TRUE_ARCS,
            verdict,
            says,
            measured: Some(worst.off),
            asked: Some(TOLERANCE),
            at,
            items,
        };
        d.findings.push(f);
    }
    let short: usize = s
        .contours
        .iter()
        .filter(|c| chords(c).is_none())
        .flat_map(|c| c.segments())
        .filter(|g| matches!(g, crate::geom::Segment::Line(_)) && g.len() < 1.0 && g.len() > SAME)
        .count();
    if short >= 50 {
        d.remarks.push(format!(
            "{short} straights are shorter than {} mm: curves drawn as chords? Arcs cut smoother.",
            trim(1.0, 0)
        ));
    }
    d.pass_if_silent(&rules::TRUE_ARCS, "No circle is drawn as chords.");
}
