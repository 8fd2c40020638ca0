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
/// equal keys those of `list` stand first. The list runs rule by rule: `of_rule` tells once for each rule what
/// `outdated` needs to know of it.
pub(super) fn merge<R>(
    mut list: Vec<Finding>,
    mut of_rule: impl FnMut(&'static Rule) -> R,
    outdated: impl Fn(&R, &Finding) -> bool,
    fresh: Vec<Finding>,
) -> Vec<Finding> {
    let Some(spare) = list.first().map(blank) else { return fresh };
    // nearly all findings stay: they are looked at and no more
    let mut blocks: Vec<(u16, usize)> = Vec::new();
    let mut gone: Vec<usize> = Vec::new();
    let mut from = 0;
    for block in list.chunk_by(|f, g| std::ptr::eq(f.rule, g.rule)) {
        let Some(rule) = block.first().map(|f| f.rule) else { continue };
        let known = of_rule(rule);
        blocks.push((rule.order(), from));
        for (k, f) in block.iter().enumerate() {
            if outdated(&known, f) {
                gone.push(from + k);
            }
        }
        from += block.len();
    }
    let (runs, homes) = places(&list, &blocks, &gone, &fresh);
    let to = runs.last().map_or(0, |run| run.to + run.count);
    let count = to.max(homes.last().map_or(0, |last| last + 1));
    while list.len() < count {
        list.push(blank(&spare));
    }
    // What goes back moves from the last to the first, what comes forward from the first to the last: as the order
    // stays, none lands on one that has yet to move. What is swapped out of the way is not needed any more.
    for run in runs.iter().rev().filter(|run| run.to > run.from) {
        (0..run.count).rev().for_each(|k| exchange(&mut list, run.from + k, run.to + k));
    }
    for run in runs.iter().filter(|run| run.to < run.from) {
        (0..run.count).for_each(|k| exchange(&mut list, run.to + k, run.from + k));
    }
    for (home, new) in homes.into_iter().zip(fresh) {
        list[home] = new;
    }
    list.truncate(count);
    list
}

/// Swaps two findings, the one that stands first first: `slice::swap` moves large ones three times over, as the two may
/// be the same.
fn exchange(list: &mut [Finding], first: usize, second: usize) {
    let (before, after) = list.split_at_mut(second);
    std::mem::swap(&mut before[first], &mut after[0]);
}

/// Where the findings that stay stand in the new list, and where those go that are new.
fn places(
    list: &[Finding],
    blocks: &[(u16, usize)],
    gone: &[usize],
    fresh: &[Finding],
) -> (Vec<Run>, Vec<usize>) {
    let (mut runs, mut homes): (Vec<Run>, Vec<usize>) = (Vec::new(), Vec::with_capacity(fresh.len()));
    let mut place = Place::default();
    let mut gone = gone.iter().copied().peekable();
    let mut run = Run { from: 0, count: 0, to: 0 };
    // ends the run before an old place; the next one starts at `from`
    let mut end = |run: &mut Run, before: usize, from: usize, new: usize| {
        run.count = before - run.from;
        let to = run.to + run.count;
        let next = Run { from, count: 0, to: to + new };
        let ended = std::mem::replace(run, next);
        if ended.count > 0 {
            runs.push(ended);
        }
        to
    };
    let mut least = 0;
    for g in fresh {
        let order = place.of(g);
        // where the rule's own findings begin and end
        let k = blocks.partition_point(|(o, _)| *o < order);
        let start = blocks.get(k).map_or(list.len(), |b| b.1);
        let own = blocks.get(k).is_some_and(|b| b.0 == order);
        let stop = if own { blocks.get(k + 1).map_or(list.len(), |b| b.1) } else { start };
        let (start, stop) = (start.max(least), stop.max(least));
        let at = start + list[start..stop].partition_point(|f| (f.a, f.b) <= (g.a, g.b));
        least = at;
        while let Some(out) = gone.next_if(|out| *out < at) {
            end(&mut run, out, out + 1, 0);
        }
        homes.push(end(&mut run, at, at, 1));
    }
    for out in gone {
        end(&mut run, out, out + 1, 0);
    }
    end(&mut run, list.len(), list.len(), 0);
    (runs, homes)
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
                    let merged = merge(pick(old, 1.0), |_| (), |(), f| is_gone(f), pick(new, 2.0));
                    let (asked, merged): (Vec<_>, Vec<_>) =
                        (asked.iter().map(place).collect(), merged.iter().map(place).collect());
                    assert_eq!(merged, asked, "{old:b} {gone:b} {new:b}");
                }
            }
        }
    }
}
