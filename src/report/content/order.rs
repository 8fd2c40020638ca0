//! The order in which findings are told: worst first, then by the smallest margin at the worst tolerance.

use super::Told;
use crate::check::{Finding, Note, Verdict};

/// The findings of one verdict with their places in the list; with `judged`, without those that are reported and not
/// judged, else those alone.
pub(super) fn of<'a>(told: &Told<'a>, verdict: Verdict, judged: bool) -> Vec<(usize, &'a Finding)> {
    let all = told.findings.list.iter().enumerate();
    let mut list: Vec<(usize, &Finding)> =
        all.filter(|(_, f)| f.verdict == verdict && (f.note != Note::BothStay) == judged).collect();
    // what has no number comes first: nothing says how near it is
    let margin = |f: &Finding| f.worst_margin().unwrap_or(f64::NEG_INFINITY);
    list.sort_by(|(_, a), (_, b)| margin(a).total_cmp(&margin(b)).then_with(|| a.key().cmp(&b.key())));
    list
}
