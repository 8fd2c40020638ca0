//! Which single item, and which pair of items, has to go to make room.
//!
//! What all others leave is worked out by halves: to ask without each of one half, the other half is taken away once.
//! What is empty then stays empty whoever of the first half goes, and is not looked into.

use super::convex::Convex;
use super::open::Open;
use super::region::{Question, bounds};
use super::walls::Asked;
use crate::geom::Rect;
use crate::geom::overlay::Area;
use crate::panel::SubjectKind;

/// What one item bars.
struct Item {
    subject: usize,
    barred: Vec<(Rect, Convex)>,
    /// What an old opening bars.
    area: Option<Area>,
}

/// Pairs that are looked at, at the most.
const MOST: usize = 4000;

impl Question<'_> {
    /// Items without which there would be a place, with the size of the region then, mm2. Ascending.
    pub fn singles(&self) -> Vec<(usize, f64)> {
        let (rest, items) = self.items(2);
        let mut out = Vec::new();
        single(&rest, &items, &mut out);
        out
    }

    /// Pairs of items without which there would be a place, with the size of the region then, mm2: those in which neither
    /// would do alone. Of very many the first that are found.
    pub fn pairs(&self) -> Vec<([usize; 2], f64)> {
        let (rest, items) = self.items(3);
        let mut out = Vec::new();
        let mut left = MOST;
        pair(&rest, &items, &mut out, &mut left);
        out.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        out
    }

    /// What is left by all that cannot go, where fewer than `covers` bar it whole; and the items that can.
    fn items(&self, covers: usize) -> (Area, Vec<Item>) {
        let parts = self.whole();
        let goes = |who: u32| self.can_go(who);
        let mut rest = self.left(parts, &parts.inner, |who| !goes(who));
        let mut items: Vec<Item> = Vec::new();
        for (subject, area) in &parts.olds {
            if goes(*subject) {
                items.push(Item { subject: *subject as usize, barred: Vec::new(), area: Some(area.clone()) });
            } else {
                rest = rest.without(area);
            }
        }
        let Some(window) = bounds(&rest) else { return (rest, items) };
        let asked = Asked { question: self, walls: &parts.walls };
        let open = Open::of(window, asked, &asked.near(window, goes), covers);
        for (who, piece) in asked.outermost(open.reach(), false) {
            let barred = piece.clone();
            match items.iter_mut().find(|i| i.subject == who as usize) {
                Some(item) => item.barred.push(barred),
                None => items.push(Item { subject: who as usize, barred: vec![barred], area: None }),
            }
        }
        (open.of_area(&rest), items)
    }

    /// Whether a subject can be moved or left out: metal, zones and the airframe cannot.
    fn can_go(&self, subject: u32) -> bool {
        use SubjectKind::*;
        let kind = self.panel.subjects.get(subject as usize).map(|s| s.kind);
        kind.is_some_and(|k| matches!(k, Placement | Unit | Insert | Label))
    }
}

/// What is left of an area when items are on it.
fn without(rest: &Area, items: &[Item]) -> Area {
    let Some(window) = bounds(rest) else { return Area::default() };
    let near = items.iter().flat_map(|i| &i.barred).filter(|(b, _)| b.overlaps(window));
    let polygons: Vec<Convex> = near.map(|(_, c)| c.clone()).collect();
    let left = if polygons.is_empty() { rest.clone() } else { rest.without(&Area::of(&polygons)) };
    items.iter().filter_map(|i| i.area.as_ref()).fold(left, |left, area| left.without(area))
}

fn single(rest: &Area, items: &[Item], out: &mut Vec<(usize, f64)>) {
    let size = rest.size();
    match items {
        _ if size <= 0.0 => {}
        [] => {}
        [one] => out.push((one.subject, size)),
        all => {
            let (first, second) = all.split_at(all.len() / 2);
            single(&without(rest, second), first, out);
            single(&without(rest, first), second, out);
        }
    }
}

/// Pairs within one list.
fn pair(rest: &Area, items: &[Item], out: &mut Vec<([usize; 2], f64)>, left: &mut usize) {
    if items.len() < 2 || rest.size() <= 0.0 || *left == 0 {
        return;
    }
    let (first, second) = items.split_at(items.len() / 2);
    pair(&without(rest, second), first, out, left);
    pair(&without(rest, first), second, out, left);
    across(rest, [first, second], out, left);
}

/// Pairs of one item of each list.
fn across(rest: &Area, [first, second]: [&[Item]; 2], out: &mut Vec<([usize; 2], f64)>, left: &mut usize) {
    let size = rest.size();
    if size <= 0.0 || *left == 0 {
        return;
    }
    *left -= 1;
    if let ([a], [b]) = (first, second) {
        out.push(([a.subject, b.subject], size));
        return;
    }
    let halves = |all: &'_ [Item]| -> usize { all.len().div_ceil(2) };
    let (a, b) = first.split_at(halves(first));
    let (c, d) = second.split_at(halves(second));
    for (goes, stays) in [(a, b), (b, a)] {
        if goes.is_empty() {
            continue;
        }
        let rest = without(rest, stays);
        for (goes_too, stays_too) in [(c, d), (d, c)] {
            if !goes_too.is_empty() {
                across(&without(&rest, stays_too), [goes, goes_too], out, left);
            }
        }
    }
}
