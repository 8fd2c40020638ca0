//! Mass that goes and mass that comes, as far as the definitions state it.
//!
//! Only what differs is weighed: items of one panel alone, those with another instrument, and provisions that become
//! items. Sheets, fasteners and wiring are left out.

use super::items;
use crate::panel::{Panel, Subject};

/// Masses of what differs.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Masses {
    /// Of what goes, kg, as far as stated.
    pub removed: f64,
    /// Of what comes, kg, as far as stated.
    pub added: f64,
    /// Ids of what goes or comes with no stated mass; a stack unit's frame is an item of its own.
    pub missing: Vec<String>,
}

impl Masses {
    /// From one panel to another.
    pub fn of(old: &Panel, new: &Panel) -> Masses {
        let [was, now] = [items(old), items(new)];
        let mut m = Masses::default();
        let mut none = std::collections::BTreeSet::new();
        for (own, other, sum) in [(&was, &now, &mut m.removed), (&now, &was, &mut m.added)] {
            let fitted = |s: &&Subject| s.facts.is_some() && !s.provision;
            let same = |a: &Subject, b: &Subject| match (&a.facts, &b.facts) {
                (Some(x), Some(y)) => x.instrument == y.instrument && !b.provision,
                _ => false,
            };
            for s in own.values().filter(|s| fitted(s)) {
                if other.get(s.id.as_str()).is_some_and(|o| same(s, o)) {
                    continue;
                }
                match s.facts.as_ref().and_then(|f| f.mass) {
                    Some(kg) => *sum += kg,
                    None => {
                        none.insert(s.id.clone());
                    }
                }
            }
        }
        m.missing = none.into_iter().collect();
        m
    }

    /// Mass that comes less mass that goes, kg; `None`: a mass is missing.
    pub fn difference(&self) -> Option<f64> {
        self.missing.is_empty().then_some(self.added - self.removed)
    }

    /// Whether nothing goes or comes.
    pub fn is_empty(&self) -> bool {
        *self == Masses::default()
    }
}
