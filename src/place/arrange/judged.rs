//! An arrangement asked by the real rules, all of them, and mended where those that measure by themselves object.

use super::dice::Dice;
use super::ground::{Ground, lines_at};
use super::separate::Search;
use super::watch::Watch;
use crate::check::{Finding, Findings, Options, Verdict, check, recheck};
use crate::geom::Vec2;
use crate::panel::{Panel, PartRef, SubjectKind};
use std::collections::BTreeMap;

/// The rule that asks for labels.
const LABELLED: &str = "labelled";

/// A panel whose pieces are moved about, and what the rules say of it.
#[derive(Clone)]
pub struct Judged {
    /// The panel, its pieces moved.
    pub panel: Panel,
    /// What the rules say.
    pub findings: Findings,
    /// Shift of each piece.
    pub at: Vec<Vec2>,
    owner: BTreeMap<usize, usize>,
    lines: Vec<usize>,
    /// What was withheld where everything stood first, by rule and part: no other place is asked to settle it.
    waits: Vec<(&'static str, PartRef)>,
}

impl Judged {
    /// The panel as it is.
    pub fn new(panel: &Panel, ground: &Ground) -> Judged {
        let mut owner = BTreeMap::new();
        for (k, p) in ground.pieces.iter().enumerate() {
            owner.extend(p.members.iter().map(|m| (*m, k)));
        }
        let lines = lines_at(panel, &owner);
        let findings = check(panel, &Options::default());
        let withheld = findings.list.iter().filter(|f| f.verdict == Verdict::Withheld);
        let waits = withheld.map(|f| (f.rule.id, f.a)).collect();
        Judged {
            panel: panel.clone(),
            findings,
            at: vec![Vec2::ZERO; ground.pieces.len()],
            owner,
            lines,
            waits,
        }
    }

    /// Moves pieces to shifts, and asks again.
    pub fn to(&mut self, ground: &Ground, at: &[Vec2]) {
        let mut changed = Vec::new();
        for (k, (was, now)) in self.at.iter_mut().zip(at).enumerate() {
            if *was != *now {
                for m in &ground.pieces[k].members {
                    self.panel.shift(*m, *now - *was);
                    changed.push(*m);
                }
                *was = *now;
            }
        }
        if !changed.is_empty() {
            self.findings = recheck(&self.panel, self.findings.clone(), &changed);
        }
    }

    /// Goes back to where the pieces stood, with what the rules said there.
    pub fn back(&mut self, ground: &Ground, at: Vec<Vec2>, findings: Findings) {
        for (k, (was, now)) in self.at.iter_mut().zip(&at).enumerate() {
            if *was != *now {
                for m in &ground.pieces[k].members {
                    self.panel.shift(*m, *now - *was);
                }
                *was = *now;
            }
        }
        self.findings = findings;
    }

    /// What is no pass and may be cured by another place of a piece; worst first.
    pub fn bad(&self) -> Vec<Finding> {
        let all = self.findings.list.iter();
        let mut bad: Vec<Finding> = all.filter(|f| self.is_bad(f)).cloned().collect();
        bad.sort_by_key(|f| f.verdict);
        bad
    }

    /// What else is no pass.
    pub fn beside(&self) -> Vec<Finding> {
        let all = self.findings.list.iter().filter(|f| f.verdict != Verdict::Pass);
        all.filter(|f| !self.is_bad(f) && !self.of_lines(f)).cloned().collect()
    }

    /// The piece that a finding speaks of.
    fn piece(&self, r: PartRef) -> Option<usize> {
        self.owner.get(&(r.subject as usize)).copied()
    }

    fn of_lines(&self, f: &Finding) -> bool {
        let line = |r: PartRef| self.lines.contains(&(r.subject as usize));
        line(f.a) || f.b.is_some_and(line)
    }

    fn is_bad(&self, f: &Finding) -> bool {
        let waits = f.verdict == Verdict::Withheld && self.waits.contains(&(f.rule.id, f.a));
        if f.verdict == Verdict::Pass || waits || self.of_lines(f) {
            return false;
        }
        if f.rule.id == LABELLED {
            // a label that is there goes with its item, but may come to stand by another
            return f.b.is_some();
        }
        let (a, b) = (self.piece(f.a), f.b.map(|b| self.piece(b)));
        let sheet = |r: PartRef| self.panel.subject(r).kind == SubjectKind::Sheet;
        match (a, b) {
            (Some(a), Some(Some(b))) => a != b,
            (Some(_), _) | (_, Some(Some(_))) => true,
            (None, _) => sheet(f.a) && f.b.is_none_or(sheet),
        }
    }

    /// Whether a rule objects to a piece by itself, or to two.
    pub fn objects(&self, i: usize, j: Option<usize>) -> bool {
        let of = |f: &Finding| {
            let (a, b) = (self.piece(f.a), f.b.and_then(|b| self.piece(b)));
            match j {
                Some(j) => (a, b) == (Some(i), Some(j)) || (a, b) == (Some(j), Some(i)),
                None => (a == Some(i)) != (b == Some(i)),
            }
        };
        self.findings.list.iter().any(|f| self.is_bad(f) && of(f))
    }

    /// Moves pieces of which the rules object elsewhere, one after the other, until none does or moves run out.
    pub fn mend(&mut self, ground: &Ground, dice: &mut Dice, watch: &mut Watch<'_>) {
        watch.phase("asking every rule");
        let mut tried = vec![0; ground.pieces.len()];
        loop {
            let bad = self.bad();
            let of =
                |f: &Finding| [Some(f.a), f.b].into_iter().flatten().filter_map(|r| self.piece(r)).collect();
            let mut who: Vec<usize> = bad.iter().flat_map(|f| -> Vec<usize> { of(f) }).collect();
            who.retain(|k| tried[*k] < OFTEN);
            let Some(k) = who.into_iter().min_by_key(|k| tried[*k]) else { return };
            tried[k] += 1;
            let mut best: Option<(usize, Judged)> = None;
            for _ in 0..PLACES {
                if !watch.another(|| format!("{} findings left", bad.len())) {
                    break;
                }
                let Some(to) = free_place(ground, &self.at, k, dice) else { continue };
                let mut trial = self.clone();
                let mut at = self.at.clone();
                at[k] = to;
                trial.to(ground, &at);
                let left = trial.bad().len();
                if left < best.as_ref().map_or(bad.len(), |b| b.0) {
                    let none = left == 0;
                    best = Some((left, trial));
                    if none {
                        break;
                    }
                }
            }
            if let Some((_, better)) = best {
                *self = better;
            }
            if watch.over() {
                return;
            }
        }
    }
}

/// So often a piece is moved for the rules' sake.
const OFTEN: usize = 6;

/// So many places a piece tries each time.
const PLACES: usize = 40;

/// A place for one piece where nothing bars it, the others where they are; `None`: none was met.
pub fn free_place(ground: &Ground, at: &[Vec2], k: usize, dice: &mut Dice) -> Option<Vec2> {
    let search = Search::new(ground, at.to_vec());
    (0..30).map(|_| search.somewhere(k, dice)).find(|p| search.free(k, *p))
}
