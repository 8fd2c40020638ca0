//! The least shift of one subject that makes a finding pass.
//!
//! Along a direction the shift grows by what is still short: a distance, and the depth of an overlap, changes
//! by at most the length of the shift, so nothing is stepped over. Where it is not known how much is short, or
//! it is no distance, the step is at most [`STEP`], then halved back. Sixteen directions and the one that the witness points show are tried, then turned in halves
//! about the best. Bound: for parts that are convex about each other the shift is at most 1 % and
//! 0.02 mm longer than the least (turn left at the end: 0.7 degrees; last step: 0.005 mm; rounding
//! outwards: one hundredth a coordinate). Around hollows a shorter way may be missed; whatever is
//! found has been measured again by the rule itself, and by a recheck of the panel.

use super::again::Again;
use super::engine::recheck;
use super::{Finding, Findings, Verdict};
use crate::geom::{Vec2, angle, length};
use crate::panel::{Panel, State, SubjectKind};
use crate::units::Unit;

/// A shift that cures.
#[derive(Clone, Debug, PartialEq)]
pub struct Cure {
    /// Index of the subject to move; a stack takes its units along.
    pub subject: usize,
    /// By how much, mm; whole hundredths of a millimetre, or thousandths of an inch.
    pub by: Vec2,
    /// What the finding then is: pass, or tight where no shift makes it pass.
    pub verdict: Verdict,
    /// Findings that this shift makes worse: id and the verdict they then have.
    pub worse: Vec<(String, Verdict)>,
}

/// Why no shift is offered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoCure {
    /// It passes, or its data are missing: there is nothing to move.
    NotJudged,
    /// It lies within one subject or does not depend on the place: a size must change.
    Size,
    /// What it is about is locked, exists already or is not to be moved.
    Fixed,
    /// No shift up to [`FARTHEST`] was found.
    NotFound,
}

impl NoCure {
    /// The reason in words.
    pub fn words(self) -> &'static str {
        match self {
            NoCure::NotJudged => "nothing to move",
            NoCure::Size => "no shift cures it: a size must change",
            NoCure::Fixed => "nothing it is about may be moved",
            NoCure::NotFound => "no shift of one item within half a metre cures it",
        }
    }
}

/// Longest shift that is looked for, mm.
pub const FARTHEST: f64 = 500.0;

/// Step where it is not known what is short, mm: passages between neighbours narrower than this may be missed.
const STEP: f64 = 1.0;

/// Last step, mm: shorter than any shift that can be made.
const LAST: f64 = 0.005;

/// Shifts along an axis are preferred if they are at most this much longer.
const AXIS_FAVOUR: f64 = 1.01;

/// The cure of each finding that is not a pass, by its place in the list.
pub fn cures(panel: &Panel, findings: &Findings) -> Vec<(usize, Result<Cure, NoCure>)> {
    let mut again = Again::new(panel);
    let asked = findings.list.iter().enumerate().filter(|(_, f)| f.verdict != Verdict::Pass);
    asked.map(|(k, f)| (k, one(panel, findings, f, &mut again))).collect()
}

/// The cure of one finding.
pub fn cure(panel: &Panel, findings: &Findings, finding: &Finding) -> Result<Cure, NoCure> {
    one(panel, findings, finding, &mut Again::new(panel))
}

fn one(panel: &Panel, findings: &Findings, f: &Finding, again: &mut Again<'_>) -> Result<Cure, NoCure> {
    if !matches!(f.verdict, Verdict::Fail | Verdict::Tight) {
        return Err(NoCure::NotJudged);
    }
    let movers = movers(panel, f)?;
    let mut best: Option<(usize, Vec2)> = None;
    let mut by_place = false;
    for worst in [true, false] {
        for &subject in &movers {
            let own = again.by_own_measurer(f);
            let mut search = Search { again: &mut *again, f, subject, worst, own };
            if !search.depends_on_place() {
                continue;
            }
            by_place = true;
            let limit = best.map_or(FARTHEST, |(_, by)| length(by));
            if let Some(by) = search.least(limit, panel.unit)
                && best.is_none_or(|(_, b)| length(by) < length(b))
            {
                best = Some((subject, by));
            }
        }
        // what is tight already gains nothing by the nominal size
        if best.is_some() || f.verdict == Verdict::Tight {
            break;
        }
    }
    let none = if by_place { NoCure::NotFound } else { NoCure::Size };
    let (subject, by) = best.ok_or(none)?;
    confirm(findings, f, again, subject, by).ok_or(NoCure::NotFound)
}

/// What may be moved: placements, stacks and labels that are new and not locked.
fn movers(panel: &Panel, f: &Finding) -> Result<Vec<usize>, NoCure> {
    let root = |s: u32| match panel.subjects.get(s as usize) {
        Some(unit) if unit.kind == SubjectKind::Unit => unit.carrier.unwrap_or(s),
        _ => s,
    };
    let (a, b) = (root(f.a.subject), f.b.map(|b| root(b.subject)));
    if b == Some(a) {
        return Err(NoCure::Size);
    }
    let movable = |s: &u32| {
        panel.subjects.get(*s as usize).is_some_and(|s| {
            !s.locked
                && s.state == State::New
                && matches!(s.kind, SubjectKind::Placement | SubjectKind::Label)
        })
    };
    let movers: Vec<usize> = [Some(a), b].into_iter().flatten().filter(movable).map(|s| s as usize).collect();
    if movers.is_empty() { Err(NoCure::Fixed) } else { Ok(movers) }
}

/// Moves for good, checks again, and names what got worse; `None` if the finding is not better.
fn confirm(
    findings: &Findings,
    f: &Finding,
    again: &mut Again<'_>,
    subject: usize,
    by: Vec2,
) -> Option<Cure> {
    let after = again.moved(subject, by, |panel, moved| {
        let after = recheck(panel, findings.clone(), moved);
        let found = after.find(f.rule, f.a, f.b);
        let verdict = found.map_or(Verdict::Pass, |g| g.verdict);
        let mut worse = Vec::new();
        for g in after.list.iter().filter(|g| g.verdict != Verdict::Pass) {
            let before = findings.find(g.rule, g.a, g.b).map_or(Verdict::Pass, |b| b.verdict);
            if g.verdict < before {
                worse.push((g.id(panel), g.verdict));
            }
        }
        (verdict, worse)
    });
    let (verdict, worse) = after;
    (verdict > f.verdict && verdict != Verdict::Withheld).then_some(Cure { subject, by, verdict, worse })
}

/// The search for one finding and one subject.
struct Search<'a, 'p> {
    again: &'a mut Again<'p>,
    f: &'a Finding,
    subject: usize,
    /// At the worst tolerance, or as drawn.
    worst: bool,
    /// The rule has its own measurer: what it measures need not be a distance.
    own: bool,
}

/// What is still short at a shift.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Short {
    /// Nothing: cured.
    Cured,
    /// At least this much, mm; a shift by less cannot cure it.
    By(f64),
    /// It is not known how much.
    Unknown,
}

impl Search<'_, '_> {
    fn at(&mut self, by: Vec2) -> Short {
        self.again.short(self.f, self.subject, by, self.worst)
    }

    /// Whether the finding changes at all when the subject moves far enough.
    fn depends_on_place(&mut self) -> bool {
        if !self.own {
            return true;
        }
        let here = self.at(Vec2::ZERO);
        let probes =
            [10.0, 100.0].into_iter().flat_map(|t| (0..8).map(move |k| towards(f64::from(k) * 45.0) * t));
        probes.into_iter().any(|by| self.at(by) != here)
    }

    /// The least shift found within `limit`, rounded outwards.
    fn least(&mut self, limit: f64, unit: Unit) -> Option<Vec2> {
        let mut best: Option<(f64, f64)> = None;
        let mut axis: Option<(f64, f64)> = None;
        let shown = self.f.at[1] - self.f.at[0];
        let shown = (length(shown) > 0.0).then(|| angle::direction(shown).to_degrees());
        let first = shown.into_iter().flat_map(|d| [d, d + 180.0]);
        let axes = [0.0, 90.0, 180.0, 270.0];
        let others = (0..16).filter(|k| k % 4 != 0).map(|k| f64::from(k) * 22.5);
        for (direction, is_axis) in
            axes.into_iter().map(|d| (d, true)).chain(first.chain(others).map(|d| (d, false)))
        {
            // an axis is of interest a little beyond the best
            let within = best.map_or(limit, |(t, _)| if is_axis { t * AXIS_FAVOUR } else { t });
            if let Some(t) = self.along(direction, within) {
                if best.is_none_or(|(b, _)| t < b) {
                    best = Some((t, direction));
                }
                if is_axis && axis.is_none_or(|(b, _)| t < b) {
                    axis = Some((t, direction));
                }
            }
        }
        let (mut t, mut direction) = best?;
        let mut turn = 11.25;
        while turn > 0.7 {
            for side in [-turn, turn] {
                if let Some(shorter) = self.along(direction + side, t).filter(|s| *s < t) {
                    (t, direction) = (shorter, direction + side);
                }
            }
            turn /= 2.0;
        }
        if let Some((along_axis, d)) = axis.filter(|(a, _)| *a <= t * AXIS_FAVOUR + LAST) {
            (t, direction) = (along_axis, d);
        }
        self.rounded(towards(direction) * t, unit)
    }

    /// Length of the first shift along a direction that cures, if it is at most `limit`.
    fn along(&mut self, direction: f64, limit: f64) -> Option<f64> {
        let u = towards(direction);
        let mut t = 0.0;
        let mut last = 0.0;
        loop {
            let step = match self.at(u * t) {
                Short::Cured => break,
                // a depth that is short by much may be had by a short shift
                Short::By(d) if self.own => d.clamp(LAST, STEP),
                Short::By(d) => d.max(LAST),
                Short::Unknown => STEP,
            };
            last = t;
            t += step;
            if t > limit || t.is_nan() {
                return None;
            }
        }
        // a step through an overlap may have gone too far
        while t - last > LAST {
            let half = 0.5 * (t + last);
            if self.at(u * half) == Short::Cured { t = half } else { last = half }
        }
        Some(t)
    }

    /// Away from zero to whole steps of the panel's unit; one more step where that is not enough.
    fn rounded(&mut self, by: Vec2, unit: Unit) -> Option<Vec2> {
        let step = if unit == Unit::Millimetre { 0.01 } else { 0.0254 };
        let out = |v: f64| {
            // a coordinate that is rounding of an axis is none
            let steps = if v.abs() < 1e-9 { 0.0 } else { (v.abs() / step - 1e-9).ceil() };
            steps * v.signum()
        };
        let (x, y) = (out(by.x), out(by.y));
        for (dx, dy) in [(0.0, 0.0), (x.signum(), 0.0), (0.0, y.signum()), (x.signum(), y.signum())] {
            let tried =
                Vec2::new((x + dx * f64::from(x != 0.0)) * step, (y + dy * f64::from(y != 0.0)) * step);
            if self.at(tried) == Short::Cured {
                return Some(tried);
            }
        }
        None
    }
}

fn towards(degrees: f64) -> Vec2 {
    let (sin, cos) = angle::sin_cos_deg(degrees);
    Vec2::new(cos, sin)
}
