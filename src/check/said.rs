//! Findings as runs write them, and all of them in one order.
//!
//! A run writes into one list, whichever rule speaks. What is put in order are small keys; a finding, which is ten
//! times as large, moves once, to its place in the list of all.

use super::Finding;
use crate::panel::PartRef;

/// Findings in the order in which they were written, each with the place of its rule.
#[derive(Default)]
pub(super) struct Said {
    list: Vec<Finding>,
    orders: Vec<u16>,
}

impl Said {
    /// What one rule, known by its place, writes.
    pub fn by(&mut self, order: u16, write: impl FnOnce(&mut Vec<Finding>)) {
        write(&mut self.list);
        self.orders.resize(self.list.len(), order);
    }

    /// One finding of a rule.
    pub fn push(&mut self, order: u16, finding: Finding) {
        self.list.push(finding);
        self.orders.push(order);
    }

    /// Puts in order what one run wrote.
    pub fn ordered(self) -> Ordered {
        let places = self.list.iter().zip(&self.orders).zip(0..);
        let mut keys: Vec<Key> = places.map(|((f, order), at)| Key::of(*order, f, at)).collect();
        keys.sort_by_key(Key::place);
        Ordered { list: self.list.into_iter().map(Some).collect(), keys }
    }
}

/// Findings as they were written, and their keys in order.
pub(super) struct Ordered {
    list: Vec<Option<Finding>>,
    keys: Vec<Key>,
}

/// Where a finding belongs, and where it stands.
#[derive(Clone, Copy)]
struct Key {
    a: u64,
    /// 0: there is no second.
    b: u64,
    /// Of the run's list.
    at: u32,
    /// Of the lists of all runs.
    run: u16,
    order: u16,
}

impl Key {
    fn of(order: u16, f: &Finding, at: u32) -> Key {
        let packed = |r: PartRef| u64::from(r.subject) << 32 | u64::from(r.part);
        Key { a: packed(f.a), b: f.b.map_or(0, |b| packed(b).saturating_add(1)), at, run: 0, order }
    }

    fn place(&self) -> (u16, u64, u64) {
        (self.order, self.a, self.b)
    }
}

/// All findings in the order of their keys. Findings of one key keep the order in which they were written, those of an
/// earlier run first.
pub(super) fn all(mut runs: Vec<Ordered>) -> Vec<Finding> {
    let mut keys: Vec<Key> = Vec::with_capacity(runs.iter().map(|r| r.keys.len()).sum());
    for (run, number) in runs.iter().zip(0..) {
        keys.extend(run.keys.iter().map(|key| Key { run: number, ..*key }));
    }
    // quick, as each run's are in order
    keys.sort_by_key(Key::place);
    let taken =
        keys.iter().filter_map(|key| runs.get_mut(key.run as usize)?.list.get_mut(key.at as usize)?.take());
    let mut list = Vec::with_capacity(keys.len());
    list.extend(taken);
    list
}
