//! Measures one finding again with a subject moved, without checking the rest of the panel.

use super::cure::Short;
use super::openings::Metal;
use super::pair;
use super::plan::{Plan, bits};
use super::ready::none_ready;
use super::{Finding, Space, Verdict};
use crate::geom::{Transform, Vec2};
use crate::panel::{Panel, Part, PartRef, SubjectKind};

/// A panel to try shifts on; every try puts it back.
pub(super) struct Again<'p> {
    panel: &'p Panel,
    trial: Panel,
    plan: Plan,
}

impl<'p> Again<'p> {
    /// Takes a copy of the panel.
    pub fn new(panel: &'p Panel) -> Again<'p> {
        Again { panel, trial: panel.clone(), plan: Plan::new(panel) }
    }

    /// Whether a finding comes from a rule's own measurer and not from a relation between parts.
    pub fn by_own_measurer(&self, f: &Finding) -> bool {
        let own = self.plan.own.iter().chain(&self.plan.around);
        let near = self.plan.near.iter().any(|(rule, ..)| *rule == f.rule);
        let metal = self.plan.metal.iter().any(|(rule, ..)| *rule == f.rule);
        (near || metal || own.into_iter().any(|(rule, ..)| *rule == f.rule)) && self.rows(f) == 0
    }

    /// Runs something on the panel with a subject moved, units of a stack with it; it is told which
    /// subjects are moved.
    pub fn moved<T>(&mut self, subject: usize, by: Vec2, run: impl FnOnce(&Panel, &[usize]) -> T) -> T {
        let with = |(k, s): (usize, &crate::panel::Subject)| {
            let along = s.kind == SubjectKind::Unit && s.carrier == Some(subject as u32);
            (k == subject || along).then_some(k)
        };
        let moved: Vec<usize> = self.panel.subjects.iter().enumerate().filter_map(with).collect();
        for &k in &moved {
            self.trial.shift(k, by);
        }
        let answer = run(&self.trial, &moved);
        for &k in &moved {
            self.trial.subjects[k].clone_from(&self.panel.subjects[k]);
        }
        answer
    }

    /// What the finding lacks with the subject moved by `by`: at the worst tolerance, or as drawn.
    pub fn short(&mut self, f: &Finding, subject: usize, by: Vec2, worst: bool) -> Short {
        let rows = self.rows(f);
        if rows == 0 {
            return self.short_by_own(f, subject, by, worst);
        }
        // only the parts that it is about need to move
        let moves = |r: &PartRef| {
            let s = &self.panel.subjects[r.subject as usize];
            let along = s.kind == SubjectKind::Unit && s.carrier == Some(subject as u32);
            r.subject as usize == subject || along
        };
        let movers: Vec<PartRef> = [Some(f.a), f.b].into_iter().flatten().filter(moves).collect();
        let shift = Transform::shift(by);
        for r in &movers {
            part_of(&mut self.trial, *r).shift(&shift);
        }
        let mut short = Short::Cured;
        for k in bits(rows) {
            let row = &self.plan.rows[k];
            let answer = if self.plan.is_inside(k) {
                pair::ask_in_sheet(&self.trial, row, f.a, f64::INFINITY, 0.0)
            } else {
                f.b.and_then(|b| Some((b, pair::ask(&self.trial, row, f.a, b, f64::INFINITY, 0.0)?)))
            };
            if let Some((b, case)) = answer {
                short = worse(short, lacks(&pair::finding(&self.trial, row, f.a, b, &case), worst));
            }
        }
        for r in movers {
            part_of(&mut self.trial, r).clone_from(self.panel.part(r));
        }
        short
    }

    fn short_by_own(&mut self, f: &Finding, subject: usize, by: Vec2, worst: bool) -> Short {
        let own: Vec<_> = self.plan.own.iter().chain(&self.plan.around).copied().collect();
        let near = self.plan.near.iter().find(|(rule, ..)| *rule == f.rule).copied();
        let metal = self.plan.metal.iter().find(|(rule, ..)| *rule == f.rule).copied();
        let sheet = self.panel.sheets.first().map(|s| s.subject as usize);
        self.moved(subject, by, |panel, _| {
            let mut found = Vec::new();
            for (rule, _, measure) in own.into_iter().filter(|(rule, ..)| *rule == f.rule) {
                measure(panel, f.a.subject as usize, rule, &mut found);
                // some answer for the whole panel when asked about its sheet
                if let Some(sheet) = sheet.filter(|s| *s != f.a.subject as usize) {
                    measure(panel, sheet, rule, &mut found);
                }
            }
            if let Some((rule, _, measure)) = metal {
                let slots = none_ready(panel);
                let metal = Metal { panel, slots: &slots };
                for sheet in [Some(f.a.subject as usize), sheet.filter(|s| *s != f.a.subject as usize)] {
                    sheet.into_iter().for_each(|s| measure(&metal, s, rule, &mut found));
                }
            }
            if let Some((rule, _, near)) = near {
                (near.measure)(&Space::of(panel), f.a.subject as usize, rule, &mut found);
            }
            let same = found.iter().filter(|g| g.a == f.a && g.b == f.b);
            same.fold(Short::Cured, |short, g| worse(short, lacks(g, worst)))
        })
    }

    /// Rows of the plan that speak of the finding's parts.
    fn rows(&self, f: &Finding) -> u64 {
        let of_rule = |k: &usize| self.plan.rows[*k].rule == f.rule;
        let Some(b) = f.b else { return 0 };
        let class = |r: PartRef| self.panel.part(r).class;
        let first = self.plan.roles(self.panel, f.a, class(f.a));
        let second = self.plan.roles(self.panel, b, class(b));
        let inside = if class(b) == crate::panel::Class::Edge { first.inside } else { 0 };
        bits((first.of & second.from) | inside).filter(of_rule).map(|k| 1 << k).sum()
    }
}

fn part_of(panel: &mut Panel, r: PartRef) -> &mut Part {
    &mut panel.subjects[r.subject as usize].parts[r.part as usize]
}

/// What a finding lacks, at least: a shift changes a distance, and the depth of an overlap, by no more than its
/// own length, so that less cannot cure it.
fn lacks(f: &Finding, worst: bool) -> Short {
    match (f.verdict, f.measured.zip(f.asked)) {
        (Verdict::Pass, _) => Short::Cured,
        (Verdict::Tight, _) if !worst => Short::Cured,
        (_, Some((m, asked))) => {
            let lack = if f.rule.limit.at_most() { m.lower - asked } else { asked - m.upper };
            let lack = if worst { lack + f.loss } else { lack };
            if lack > 0.0 { Short::By(lack) } else { Short::Unknown }
        }
        _ => Short::Unknown,
    }
}

fn worse(a: Short, b: Short) -> Short {
    match (a, b) {
        (Short::Cured, other) | (other, Short::Cured) => other,
        (Short::By(x), Short::By(y)) => Short::By(x.max(y)),
        _ => Short::Unknown,
    }
}
