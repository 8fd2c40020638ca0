//! What rules with their own measurer share: picking parts, adding tolerances, writing findings.

use super::absent::class_of;
use super::judge::{Case, Measure, Open, judge};
use super::{Finding, InSpace, Interval, Note, Rule, Verdict};
use crate::geom::{Point, SLACK};
use crate::panel::{
    Class, Classes, Control, Panel, Part, PartRef, Sheet, SheetRole, State, Subject, SubjectKind,
};
use crate::solid::Vec3;

/// What was measured, what is asked, and what the tolerances can take away; one unit, the rule's.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reading {
    pub measured: f64,
    pub asked: f64,
    pub loss: f64,
}

/// A reading that is known between two ends, and where.
#[derive(Clone, Copy, Debug)]
pub(super) struct Judged {
    pub measured: Interval,
    pub asked: f64,
    pub loss: f64,
    pub at: [Point; 2],
}

/// Writes the findings of one rule about one subject.
pub(super) struct Teller<'a> {
    pub panel: &'a Panel,
    pub rule: &'static Rule,
    subject: usize,
    out: &'a mut Vec<Finding>,
}

impl<'a> Teller<'a> {
    /// A teller for one subject.
    pub fn new(panel: &'a Panel, subject: usize, rule: &'static Rule, out: &'a mut Vec<Finding>) -> Self {
        Teller { panel, rule, subject, out }
    }

    /// The subject; `None` if there is no such subject.
    pub fn subject(&self) -> Option<&'a Subject> {
        self.panel.subjects.get(self.subject)
    }

    /// The outline of the main sheet, when that is the subject: what is asked once for a whole panel
    /// is said of it.
    pub fn main_sheet(&self) -> Option<(PartRef, Point)> {
        let s = self.subject().filter(|s| s.kind == SubjectKind::Sheet && s.sheet == 0)?;
        s.parts.first().map(|edge| (self.part(0), edge.centre))
    }

    /// The outline of the main sheet of the fixed panel or of a floating one, when that is the subject.
    pub fn cut_sheet(&self) -> Option<(PartRef, Point)> {
        let s = self.subject().filter(|s| s.kind == SubjectKind::Sheet)?;
        let sheet = self.panel.sheets.get(s.sheet as usize)?;
        let main = matches!(sheet.role, SheetRole::Main | SheetRole::Floating);
        s.parts.first().filter(|_| main).map(|edge| (self.part(0), edge.centre))
    }

    /// The user's limit where the file sets one, else the rule's.
    pub fn asked(&self, default: f64) -> f64 {
        let group = self.subject().map_or(0, |s| s.group);
        self.panel.limit(self.rule.id, group).map_or(default, |l| l.value)
    }

    /// Whether the file that the subject comes from sets a limit of its own.
    pub fn own_limit(&self) -> bool {
        let group = self.subject().map_or(0, |s| s.group);
        self.panel.limit(self.rule.id, group).is_some()
    }

    /// A reference to a part of the subject.
    pub fn part(&self, part: usize) -> PartRef {
        PartRef { subject: self.subject as u32, part: part as u32 }
    }

    /// Judges a reading and writes it. `words` gets the verdict; an empty answer says nothing.
    pub fn reading(
        &mut self,
        a: PartRef,
        b: Option<PartRef>,
        at: [Point; 2],
        r: Reading,
        words: impl FnOnce(Verdict) -> String,
    ) {
        let judged = Judged { measured: Interval::exact(r.measured), asked: r.asked, loss: r.loss, at };
        self.interval(a, b, judged, words);
    }

    /// The same for a reading that is known between two ends: the worse one is judged.
    pub fn interval(
        &mut self,
        a: PartRef,
        b: Option<PartRef>,
        r: Judged,
        words: impl FnOnce(Verdict) -> String,
    ) {
        // more is worse: the same question with both signs turned
        let (value, upper, asked) = if self.rule.limit.at_most() {
            (-r.measured.upper, -r.measured.lower, -r.asked)
        } else {
            (r.measured.lower, r.measured.upper, r.asked)
        };
        let (verdict, mut note) = judge(&Case {
            measure: Measure { value, upper, worst: value - r.loss, contact: false, at: r.at },
            asked,
            open: Open::Nothing,
            stays: self.stays(a) && b.is_none_or(|b| self.stays(b)),
        });
        if note == Note::None {
            let text = words(verdict);
            if !text.is_empty() {
                note = Note::Says(text);
            }
        }
        self.out.push(Finding {
            rule: self.rule,
            a,
            b,
            verdict,
            measured: Some(r.measured),
            asked: Some(r.asked),
            loss: r.loss,
            at: r.at,
            space: None,
            note,
        });
    }

    /// Judges what a relation measured of two parts and writes it.
    pub fn pair(&mut self, a: PartRef, b: PartRef, m: Measure, asked: f64) {
        let stays = self.stays(a) && self.stays(b);
        let (verdict, note) = judge(&Case { measure: m, asked, open: Open::Nothing, stays });
        self.out.push(Finding {
            rule: self.rule,
            a,
            b: Some(b),
            verdict,
            measured: Some(m.interval()),
            asked: Some(asked),
            loss: m.value - m.worst,
            at: m.at,
            space: None,
            note,
        });
    }

    /// Writes a verdict without numbers.
    pub fn plain(&mut self, a: PartRef, b: Option<PartRef>, at: [Point; 2], verdict: Verdict, words: String) {
        let note = match verdict {
            Verdict::Withheld => Note::Waits(words),
            _ if words.is_empty() => Note::None,
            _ => Note::Says(words),
        };
        let (measured, asked) = (None, None);
        let space = None;
        self.out.push(Finding {
            rule: self.rule,
            a,
            b,
            verdict,
            measured,
            asked,
            loss: 0.0,
            at,
            space,
            note,
        });
    }

    /// Writes a fail without numbers; of what exists and stays it is only reported.
    pub fn fail(&mut self, a: PartRef, b: Option<PartRef>, at: [Point; 2], words: String) {
        self.plain(a, b, at, Verdict::Fail, words);
        let stays = self.stays(a) && b.is_none_or(|b| self.stays(b));
        if let Some(f) = self.out.last_mut().filter(|_| stays) {
            f.verdict = Verdict::Pass;
            f.note = Note::BothStay;
        }
    }

    /// Adds the numbers to the finding written last, which was written without.
    pub fn measured(&mut self, measured: Option<Interval>, asked: f64, loss: f64) {
        if let Some(f) = self.out.last_mut() {
            (f.measured, f.asked, f.loss) = (measured, Some(asked), loss);
        }
    }

    /// Gives words to the finding written last where it says nothing yet but that the two meet.
    pub fn says(&mut self, words: String) {
        if let Some(f) = self.out.last_mut().filter(|f| matches!(f.note, Note::None | Note::Contact)) {
            f.note = Note::Says(words);
        }
    }

    /// Adds the place in space to the finding written last.
    pub fn in_space(&mut self, points: [Vec3; 2], pose: Option<Vec<(usize, f64)>>) {
        if let Some(f) = self.out.last_mut() {
            f.space = Some(Box::new(InSpace { points, pose }));
        }
    }

    /// Withholds: `waits` names the number or the words that are missing.
    pub fn withhold(&mut self, a: PartRef, at: Point, waits: String) {
        self.plain(a, None, [at; 2], Verdict::Withheld, waits);
    }

    fn stays(&self, r: PartRef) -> bool {
        self.panel.subject(r).state == State::Existing
    }
}

/// What is missing of parts of one class that are not there at all: name and words.
pub(super) fn absent(s: &Subject, class: Class) -> impl Iterator<Item = (&str, &str)> {
    let there = |name: &str| s.parts.iter().any(|p| p.name == name);
    s.missing
        .iter()
        .filter(move |(name, _)| class_of(name) == Some(class) && !there(name))
        .map(|(name, what)| (name.as_str(), what.as_str()))
}

/// Withholds for parts that are not there because their sizes are missing, all in one finding.
pub(super) fn withhold_absent(t: &mut Teller<'_>, s: &Subject, classes: &[Class]) {
    let words: Vec<String> = classes
        .iter()
        .flat_map(|c| absent(s, *c))
        .map(|(name, what)| format!("{name} of {}: {what}", s.id))
        .collect();
    if let (Some((k, at)), false) = (anchor(s, &[Class::Cutout, Class::Hole, Class::Bezel]), words.is_empty())
    {
        t.withhold(t.part(k), at, words.join("; "));
    }
}

/// Parts of one class with their place in the subject.
pub(super) fn of_class(s: &Subject, class: Class) -> impl Iterator<Item = (usize, &Part)> {
    s.parts.iter().enumerate().filter(move |(_, p)| p.class == class)
}

/// How many holes of a subject are as this one: same size, fastener, make and tolerances. `None` for
/// all but the first of them: what is said of it holds for the others.
pub(super) fn alike(s: &Subject, k: usize) -> Option<usize> {
    let p = s.parts.get(k)?;
    let round = |p: &Part| p.contour.as_circle().map(|(_, r)| r);
    let same = |q: &&Part| {
        q.class == p.class
            && q.sheet == p.sheet
            && q.detail == p.detail
            && q.terms == p.terms
            && round(q).zip(round(p)).is_some_and(|(a, b)| (a - b).abs() <= SLACK)
    };
    if s.parts.iter().take(k).any(|q| same(&q)) {
        return None;
    }
    Some(1 + s.parts.iter().skip(k + 1).filter(same).count())
}

/// ` (4 alike)`, or nothing for one.
pub(super) fn count(alike: usize) -> String {
    if alike > 1 { format!(" ({alike} alike)") } else { String::new() }
}

/// The thickness of a sheet, in the words of a withheld finding.
pub(super) fn thickness_of(sheet: Option<&Sheet>) -> String {
    match sheet {
        Some(s) if s.role != SheetRole::Main => format!("the thickness of {}", s.id),
        _ => "the thickness of the sheet".into(),
    }
}

/// The part that stands for a subject: the first of the first class that it has, else its first part.
pub(super) fn anchor(s: &Subject, prefer: &[Class]) -> Option<(usize, Point)> {
    let found = prefer.iter().find_map(|c| of_class(s, *c).next());
    found.or_else(|| s.parts.iter().enumerate().next()).map(|(k, p)| (k, p.centre))
}

/// How far tolerances can push the outline of a part outwards.
pub(super) fn grows(p: &Part) -> f64 {
    p.terms.iter().map(|t| t.grow).sum()
}

/// How far tolerances can pull the outline of a part inwards.
pub(super) fn shrinks(p: &Part) -> f64 {
    p.terms.iter().map(|t| t.shrink).sum()
}

/// A length in the unit that the panel's file speaks: to 0.001 mm or 0.0001 in, without idle zeros.
pub(super) fn length(panel: &Panel, mm: f64) -> String {
    let (value, decimals, unit) = if panel.unit.is_inch() { (mm / 25.4, 4, "in") } else { (mm, 3, "mm") };
    format!("{} {unit}", number(value, decimals))
}

/// A number without idle zeros.
pub(super) fn number(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".into() } else { text.into() }
}

/// Whether a part is the opening by which a control of this kind is held: the largest of its subject
/// (not its key hole), the first of several alike.
pub(super) fn is_main_opening(panel: &Panel, part: PartRef, control: Control) -> bool {
    let s = panel.subject(part);
    if s.facts.as_ref().and_then(|f| f.control) != Some(control) {
        return false;
    }
    // the largest of those that are known need not be it
    if [Class::Cutout, Class::Hole].iter().any(|c| absent(s, *c).next().is_some()) {
        return false;
    }
    let size = |p: &Part| {
        let b = p.contour.bounds();
        b.width().max(b.height())
    };
    let mut largest: Option<(usize, f64)> = None;
    for (k, p) in s.parts.iter().enumerate().filter(|(_, p)| Classes::OPENINGS.has(p.class)) {
        if largest.is_none_or(|(_, l)| size(p) > l + SLACK) {
            largest = Some((k, size(p)));
        }
    }
    largest.is_some_and(|(k, _)| k == part.part as usize)
}
