//! What the verdicts say about cutting: the counts, and whether a page must say NOT FOR CUTTING.

use super::TemplateOptions;
use crate::check::{Counts, Finding, Note, Verdict};
use crate::panel::Panel;

/// What stands before the name of a file with a sheet that may not be cut.
pub const BARRED: &str = "NOT-FOR-CUTTING-";

/// Counts a list by verdict.
pub fn count(findings: &[Finding]) -> Counts {
    let mut c = Counts::default();
    for f in findings {
        match f.verdict {
            Verdict::Fail => c.fail += 1,
            Verdict::Withheld => c.withheld += 1,
            Verdict::Tight => c.tight += 1,
            Verdict::Pass => c.pass += 1,
        }
        c.stays += usize::from(f.note == Note::BothStay);
    }
    c
}

/// `2 fail, 1 withheld, 0 tight, 40 pass`.
pub fn count_words(c: &Counts) -> String {
    format!("{} fail, {} withheld, {} tight, {} pass", c.fail, c.withheld, c.tight, c.pass)
}

/// Whether a sheet may be cut, as far as the verdicts know.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// The counts.
    pub counts: Counts,
    /// What stands against cutting; empty when nothing does.
    pub against: Vec<String>,
    /// The recorded reason to cut in spite of it, and who gave it; only where something stands against it.
    pub lifted: Option<(String, String)>,
}

impl Standing {
    /// Judges the findings: any fail or withheld, no finding at all, or findings older than the inputs
    /// stand against cutting. Only the reason recorded in the panel's file lifts that.
    pub fn of(panel: &Panel, findings: &[Finding], opts: &TemplateOptions) -> Standing {
        let counts = count(findings);
        let mut against = Vec::new();
        if counts.fail > 0 {
            against.push(format!("{} fail", counts.fail));
        }
        if counts.withheld > 0 {
            against.push(format!("{} withheld", counts.withheld));
        }
        if findings.is_empty() {
            against.push("nothing was checked".into());
        }
        if let Some(why) = &opts.stale {
            against.push(format!("out of date: {why}"));
        }
        let lifted = if against.is_empty() { None } else { panel.cut_anyway.clone() };
        Standing { counts, against, lifted }
    }

    /// Whether every page must say NOT FOR CUTTING.
    pub fn barred(&self) -> bool {
        !self.against.is_empty() && self.lifted.is_none()
    }

    /// `NOT FOR CUTTING: 2 fail, 1 withheld`; none where it may be cut.
    pub fn notice(&self) -> Option<String> {
        self.barred().then(|| format!("NOT FOR CUTTING: {}", self.against.join(", ")))
    }
}
