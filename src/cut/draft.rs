//! What the questions share: the file, what was gathered, and the list of findings under construction.

use super::gather::Gathered;
use super::report::Finding;
use super::rules::CutRule;
use super::words;
use crate::check::Verdict;
use crate::geom::{Point, Rect, SLACK};
use crate::import::CutFile;

/// Everything that a question may look at, and where it puts its answers.
pub struct Draft<'a> {
    /// The file.
    pub file: &'a CutFile,
    /// What is cut.
    pub cut: &'a Gathered,
    /// Box of all that is cut.
    pub bounds: Option<Rect>,
    /// Findings.
    pub findings: Vec<Finding>,
    /// Remarks.
    pub remarks: Vec<String>,
}

/// A number and what is asked of it, mm.
#[derive(Clone, Copy)]
pub struct Reading {
    /// Measured.
    pub measured: f64,
    /// Asked at least.
    pub asked: f64,
    /// What the worst cut takes.
    pub loss: f64,
}

impl Reading {
    /// The verdict: equal is pass.
    pub fn verdict(&self) -> Verdict {
        if self.measured < self.asked - SLACK {
            Verdict::Fail
        } else if self.measured - self.loss < self.asked - SLACK {
            Verdict::Tight
        } else {
            Verdict::Pass
        }
    }
}

impl Draft<'_> {
    /// Adds a finding without numbers.
    pub fn add(
        &mut self,
        rule: &'static CutRule,
        verdict: Verdict,
        says: String,
        at: Vec<Point>,
        items: Vec<usize>,
    ) {
        self.findings.push(Finding { rule, verdict, says, measured: None, asked: None, at, items });
    }

    /// Adds a finding with its numbers.
    pub fn add_reading(
        &mut self,
        rule: &'static CutRule,
        r: Reading,
        says: String,
        at: Vec<Point>,
        items: Vec<usize>,
    ) {
        let (measured, asked) = (Some(r.measured), Some(r.asked));
        self.findings.push(Finding { rule, verdict: r.verdict(), says, measured, asked, at, items });
    }

    /// A pass, if nothing else was said of the rule.
    pub fn pass_if_silent(&mut self, rule: &'static CutRule, says: &str) {
        if !self.findings.iter().any(|f| std::ptr::eq(f.rule, rule)) {
            self.add(rule, Verdict::Pass, says.to_owned(), vec![], vec![]);
        }
    }

    /// A point in words.
    pub fn at(&self, p: Point) -> String {
        words::at(self.file, p)
    }

    /// "size read as 610 x 235 mm = 24.02 x 9.25 in".
    pub fn size(&self) -> String {
        match self.bounds {
            Some(b) => format!("size read as {}", words::size(b)),
            None => "nothing has a size".to_owned(),
        }
    }

    /// Items in words, at most ten.
    pub fn list(&self, items: &[usize]) -> String {
        let shown: Vec<String> = items.iter().take(10).map(|k| words::item(self.file, *k)).collect();
        let more = items.len().saturating_sub(10);
        if more > 0 { format!("{} and {more} more", shown.join("; ")) } else { shown.join("; ") }
    }
}
