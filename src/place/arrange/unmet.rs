//! What must hold, measured on an arrangement as it is read from its file: the search is not asked.

use super::bound::{REACH, fronts};
use crate::geom::{SLACK, contains, distance};
use crate::panel::{Panel, Wishes};

/// A wish that must hold and does not.
#[derive(Clone, Debug, PartialEq)]
pub struct Unmet {
    /// What is asked, in words.
    pub asks: String,
    /// Who says so.
    pub source: &'static str,
}

const OWN: &str = "the panel's own file";

/// How many wishes must hold, pair by pair, and those that do not.
pub fn unmet(panel: &Panel) -> (usize, Vec<Unmet>) {
    let w = &panel.wishes;
    let mut all = orders(panel, w);
    all.extend(zones(panel, w));
    all.extend(apart(panel, w));
    all.extend(reach(panel, w));
    let count = all.len();
    (count, all.into_iter().filter(|(holds, _)| !holds).map(|(_, u)| u).collect())
}

fn id(panel: &Panel, k: usize) -> &str {
    panel.subjects.get(k).map_or("", |s| s.id.as_str())
}

fn orders(panel: &Panel, w: &Wishes) -> Vec<(bool, Unmet)> {
    let at = |k: usize| panel.subjects.get(k).map(|s| s.at);
    let pair = |along, source, p: &[usize]| {
        let [a, b] = p else { return None };
        let holds = (at(*b)? - at(*a)?).dot(along) > 0.0;
        let asks = format!("{} before {}", id(panel, *a), id(panel, *b));
        Some((holds, Unmet { asks, source }))
    };
    let of = |o: &crate::panel::InOrder| {
        o.items.windows(2).filter_map(|p| pair(o.along, o.source, p)).collect::<Vec<_>>()
    };
    w.orders.iter().flat_map(of).collect()
}

fn zones(panel: &Panel, w: &Wishes) -> Vec<(bool, Unmet)> {
    let mut all = Vec::new();
    for z in &w.zones {
        for k in &z.items {
            let holds = fronts(panel, *k).iter().all(|c| contains(&z.area, c));
            let asks = format!("{} within its zone", id(panel, *k));
            all.push((holds, Unmet { asks, source: OWN }));
        }
    }
    all
}

fn apart(panel: &Panel, w: &Wishes) -> Vec<(bool, Unmet)> {
    let mut all = Vec::new();
    for keep in &w.apart {
        for (n, a) in keep.items.iter().enumerate() {
            for b in keep.items.iter().skip(n + 1) {
                let (p, q) = (fronts(panel, *a), fronts(panel, *b));
                let near = |c: &&crate::geom::Contour| {
                    q.iter().any(|d| {
                        distance::within(c, d, keep.by).is_some_and(|g| g.distance < keep.by - SLACK)
                    })
                };
                let holds = !p.iter().any(near);
                let asks = format!("{} and {} at least {} mm apart", id(panel, *a), id(panel, *b), keep.by);
                all.push((holds, Unmet { asks, source: OWN }));
            }
        }
    }
    all
}

fn reach(panel: &Panel, w: &Wishes) -> Vec<(bool, Unmet)> {
    let Some(s) = w.shoulder else { return Vec::new() };
    let most = w.reach.unwrap_or(REACH);
    let of = |k: &usize| {
        let at = panel.subjects.get(*k)?.at;
        let far = ((at.x - s.x) * (at.x - s.x) + (at.y - s.y) * (at.y - s.y) + s.d * s.d).sqrt();
        let asks = format!("{} within {most} mm of the shoulder", id(panel, *k));
        Some((far <= most + SLACK, Unmet { asks, source: "14 CFR 23.1357(d), text before amendment 23-64" }))
    };
    w.flight_breakers.iter().filter_map(of).collect()
}
