//! Brings a sorted list of findings up to date in its own memory.
//!
//! A list of a thousand findings is some hundred kilobytes: a fresh block of that size costs more to get from the
//! system than all that is asked again after a small change. So nothing moves where nothing changed before it.

use super::{Finding, Note, Rule};

/// Findings that stay and stand side by side: from here in the old list, so many, to there in the new one.
struct Run {
    from: usize,
    count: usize,
    to: usize,
}

/// Takes out what is outdated of a sorted list and puts the findings of another sorted list in their places. Of
/// equal keys those of `list` stand first.
pub(super) fn merge(
    mut list: Vec<Finding>,
    mut outdated: impl FnMut(&Finding) -> bool,
    fresh: Vec<Finding>,
) -> Vec<Finding> {
    let Some(spare) = list.first().map(blank) else { return fresh };
    let mut place = Place::default();
    let (mut runs, mut homes): (Vec<Run>, Vec<usize>) = (Vec::new(), Vec::with_capacity(fresh.len()));
    let orders: Vec<u16> = fresh.iter().map(|g| place.of(g)).collect();
    let mut place = Place::default();
    let mut run = Run { from: 0, count: 0, to: 0 };
    let mut to = 0;
    for (from, f) in list.iter().enumerate() {
        if outdated(f) {
            continue;
        }
        let order = place.of(f);
        // nearly always the next new one belongs to a later rule
        while orders.get(homes.len()).is_some_and(|next| *next <= order)
            && fresh.get(homes.len()).is_some_and(|g| (orders[homes.len()], g.a, g.b) < (order, f.a, f.b))
        {
            homes.push(to);
            to += 1;
        }
        if run.from + run.count != from || run.to + run.count != to {
            runs.push(std::mem::replace(&mut run, Run { from, count: 0, to }));
        }
        run.count += 1;
        to += 1;
    }
    runs.push(run);
    homes.extend((to..).take(fresh.len() - homes.len()));
    let count = to.max(homes.last().map_or(0, |last| last + 1));
    while list.len() < count {
        list.push(blank(&spare));
    }
    // What goes back moves from the last to the first, what comes forward from the first to the last: as the order
    // stays, none lands on one that has yet to move. What is swapped out of the way is not needed any more.
    for run in runs.iter().rev().filter(|run| run.to > run.from) {
        list[run.from..run.to + run.count].rotate_right(run.to - run.from);
    }
    for run in runs.iter().filter(|run| run.to < run.from) {
        list[run.to..run.from + run.count].rotate_left(run.from - run.to);
    }
    for (home, new) in homes.into_iter().zip(fresh) {
        list[home] = new;
    }
    list.truncate(count);
    list
}

/// A finding to fill a place with until its own comes.
fn blank(f: &Finding) -> Finding {
    Finding { note: Note::None, space: None, ..*f }
}

/// Looks up a rule's place in the list of rules once for a run of findings.
#[derive(Default)]
struct Place {
    rule: Option<(*const Rule, u16)>,
}

impl Place {
    fn of(&mut self, f: &Finding) -> u16 {
        match self.rule {
            Some((rule, order)) if std::ptr::eq(rule, f.rule) => order,
            _ => {
                let order = f.rule.order();
                self.rule = Some((f.rule, order));
                order
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::{RULES, Verdict};
    use crate::geom::Point;
    use crate::panel::PartRef;

    /// `loss` tells old from new.
    fn finding(rule: usize, subject: u32, loss: f64) -> Finding {
        let a = PartRef { subject, part: 0 };
        let (measured, asked) = (None, None);
        let at = [Point::ORIGIN; 2];
        Finding {
            rule: RULES[rule],
            a,
            b: None,
            verdict: Verdict::Pass,
            measured,
            asked,
            loss,
            at,
            space: None,
            note: Note::None,
        }
    }

    #[test]
    fn every_way_of_dropping_and_adding_of_short_lists() {
        // every subset of six keys as the old list, of each every subset outdated, and every third subset as new
        let key = |k: usize| (k / 2, (k % 2) as u32);
        let pick = |bits: usize, loss: f64| -> Vec<Finding> {
            let of = (0..6).filter(|k| bits >> k & 1 == 1).map(key);
            of.map(|(rule, subject)| finding(rule, subject, loss)).collect()
        };
        let place = |f: &Finding| (f.key(), f.loss as i32);
        for old in 0..64usize {
            for gone in (0..64usize).filter(|g| g & !old == 0) {
                let is_gone = |f: &Finding| {
                    (0..6).any(|k| gone >> k & 1 == 1 && key(k) == (f.rule.order() as usize, f.a.subject))
                };
                for new in (0..64usize).step_by(3) {
                    let mut asked = pick(old, 1.0);
                    asked.retain(|f| !is_gone(f));
                    asked.extend(pick(new, 2.0));
                    asked.sort_by_key(|f| f.key());
                    let merged = merge(pick(old, 1.0), is_gone, pick(new, 2.0));
                    let (asked, merged): (Vec<_>, Vec<_>) =
                        (asked.iter().map(place).collect(), merged.iter().map(place).collect());
                    assert_eq!(merged, asked, "{old:b} {gone:b} {new:b}");
                }
            }
        }
    }
}
