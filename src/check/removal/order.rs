//! Who must come off before whom: rounds of items, each free once those of the rounds before are out.

use super::{Attempt, Side, Way, attempts, removable};
use crate::panel::Panel;

/// Of every item, how it comes out. Ascending.
pub(in crate::check) fn ways(panel: &Panel, asked: f64) -> Vec<(usize, Way)> {
    let n = panel.subjects.len();
    let mut tries: Vec<Option<Vec<Attempt>>> = (0..n).map(|_| None).collect();
    let mut ways: Vec<Option<Way>> = vec![None; n];
    for k in (0..n).filter(|k| removable(panel, *k)) {
        match attempts(panel, k, asked) {
            Err(waits) => ways[k] = Some(Way::Withheld(waits)),
            Ok(all) if all.is_empty() => {}
            Ok(all) => tries[k] = Some(all),
        }
    }
    // the items that each one waits for, once it is known that it comes out
    let mut before: Vec<Option<Vec<usize>>> = vec![None; n];
    // what is not known to move, or to be there, is not asked about: it is told of its own
    for k in 0..n {
        if tries[k].is_none() {
            before[k] = Some(Vec::new());
        }
    }
    loop {
        let mut round: Vec<(usize, Way, Vec<usize>)> = Vec::new();
        for (k, all) in tries.iter().enumerate() {
            let (Some(all), None) = (all, &before[k]) else { continue };
            let open = all.iter().filter(|a| a.never.is_none() && a.waits.is_none());
            let free = open.filter_map(|a| Some((a, first(a, &before)?)));
            if let Some((a, first)) = free.min_by_key(|(_, first)| first.len()) {
                let way = Way::Free { side: a.side, first: first.clone(), pose: a.pose.clone() };
                round.push((k, way, first));
            }
        }
        if round.is_empty() {
            break;
        }
        for (k, way, first) in round {
            ways[k] = Some(way);
            before[k] = Some(first);
        }
    }
    for (k, all) in tries.iter().enumerate() {
        if let (Some(all), None) = (all, &ways[k]) {
            ways[k] = Some(stuck(all, &before));
        }
    }
    ways.into_iter().enumerate().filter_map(|(k, w)| Some((k, w?))).collect()
}

/// All that must come off before, the last of it last; `None` while some of it is not known to come out.
fn first(a: &Attempt, before: &[Option<Vec<usize>>]) -> Option<Vec<usize>> {
    let mut order: Vec<usize> = Vec::new();
    for item in &a.items {
        let own = before[*item].as_ref()?;
        for k in own.iter().chain([item]) {
            if !order.contains(k) {
                order.push(*k);
            }
        }
    }
    Some(order)
}

/// Why an item stays in.
fn stuck(all: &[Attempt], before: &[Option<Vec<usize>>]) -> Way {
    if let Some(waits) = all.iter().find_map(|a| a.waits.clone()) {
        return Way::Withheld(waits);
    }
    let side = all.first().map_or(Side::Front, |a| a.side);
    if let Some(a) = all.iter().find(|a| a.never.is_none()) {
        let with = a.items.iter().copied().filter(|k| before[*k].is_none()).collect();
        return Way::Locked { side: a.side, with };
    }
    match all.iter().find_map(|a| a.never.clone().map(|n| (a.side, n))) {
        Some((side, (by, words))) => Way::Blocked { side, by, words },
        None => Way::Locked { side, with: Vec::new() },
    }
}
