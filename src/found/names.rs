//! Names of openings: by the ids of the items, by words written in them, by their layer, by the pattern that they are
//! part of, else by their shape.

use super::{Match, Piece, form};
use crate::cut::LayerFacts;
use crate::import::{CutFile, Format, Mark, Shape};
use rstar::primitives::{GeomWithData, Rectangle};
use rstar::{AABB, RTree};
use std::collections::{BTreeMap, BTreeSet};

/// Names of layers that say nothing of what stands on them.
const PLAIN: &[&str] = &["0", "cut", "cuts", "existing", "layer", "outline", "profile", "holes", "cutouts"];

/// Gives every opening an id of its own.
pub fn give(
    file: &CutFile,
    layers: &[LayerFacts],
    outline: Option<&Piece>,
    openings: &mut [Piece],
    patterns: &[Match],
) {
    // words count for the smallest opening that holds them
    let mut words: BTreeMap<usize, String> = BTreeMap::new();
    let boxes = std::cell::LazyCell::new(|| boxes(openings));
    for i in file.items.iter().filter(|i| i.hidden.is_none()) {
        let Shape::Mark { what: Mark::Words, at: Some(at), words: says } = &i.shape else { continue };
        let Some(id) = lawful(says).filter(|_| says.chars().count() <= 24) else { continue };
        let around = boxes.locate_in_envelope_intersecting(&AABB::from_point([at.x, at.y])).map(|g| g.data);
        let holds = |k: &usize| openings.get(*k).is_some_and(|o| o.contour.holds(*at));
        let area = |k: usize| openings.get(k).map_or(f64::INFINITY, |o| o.contour.area());
        let smallest = around.filter(holds).min_by(|a, b| area(*a).total_cmp(&area(*b)).then(a.cmp(b)));
        if let Some(k) = smallest {
            words.entry(k).or_insert(id);
        }
    }
    let of_outline: BTreeSet<usize> = outline.iter().flat_map(|o| o.items.iter().copied()).collect();
    let mut wanted: Vec<Option<String>> = openings
        .iter()
        .enumerate()
        .map(|(k, o)| {
            let item = o.items.iter().filter(|i| !of_outline.contains(i)).find_map(|i| file.items.get(*i));
            let by_id = matches!(file.format, Format::Svg | Format::Points)
                .then(|| o.items.iter().find_map(|i| lawful(file.items.get(*i)?.spot.id.as_deref()?)))
                .flatten();
            let by_layer = || {
                let name = &layers.get(item?.layer)?.name;
                let plain = name.to_lowercase();
                let word = plain.trim_end_matches(|c: char| c.is_ascii_digit() || " _-".contains(c));
                if PLAIN.contains(&word) || plain.starts_with('(') { None } else { lawful(name) }
            };
            by_id.or_else(|| words.remove(&k)).or_else(by_layer)
        })
        .collect();
    for m in patterns {
        let size = m.title.split(" with ").next().unwrap_or(&m.title);
        if let Some(w) = m.openings.first().and_then(|k| wanted.get_mut(*k)).filter(|w| w.is_none()) {
            *w = lawful(&size.replace('.', "-"));
        }
    }
    let mut ids = Ids::default();
    // the largest of those that share a name has it plain
    let mut by_size: Vec<(f64, usize)> = wanted
        .iter()
        .enumerate()
        .filter(|(_, w)| w.is_some())
        .map(|(k, _)| (openings[k].contour.area(), k))
        .collect();
    by_size.sort_unstable_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    for (_, k) in by_size {
        if let Some(w) = &wanted[k] {
            openings[k].id = ids.give(w, true);
        }
    }
    for m in patterns {
        let Some((middle, around)) = m.openings.split_first() else { continue };
        let name = format!("{}-hole", openings[*middle].id);
        for k in around {
            if openings[*k].id.is_empty() {
                openings[*k].id = ids.give(&name, false);
            }
        }
    }
    for o in openings.iter_mut().filter(|o| o.id.is_empty()) {
        let word = match o.contour.as_circle() {
            Some(_) => "circle",
            None => form(&o.contour).map_or("opening", |f| f.word()),
        };
        o.id = ids.give(word, false);
    }
}

/// Ids that were given.
#[derive(Default)]
struct Ids {
    given: BTreeSet<String>,
    next: BTreeMap<String, usize>,
}

impl Ids {
    /// A new one: the name itself if it may stand `alone`, else with a number.
    fn give(&mut self, name: &str, alone: bool) -> String {
        let n = self.next.entry(name.to_owned()).or_insert(0);
        let id = loop {
            *n += 1;
            let id = if alone && *n == 1 { name.to_owned() } else { format!("{name}-{n}") };
            if !self.given.contains(&id) {
                break id;
            }
        };
        self.given.insert(id.clone());
        id
    }
}

fn boxes(openings: &[Piece]) -> RTree<GeomWithData<Rectangle<[f64; 2]>, usize>> {
    let each = openings.iter().enumerate().map(|(k, o)| {
        let b = o.contour.bounds();
        GeomWithData::new(Rectangle::from_corners([b.x0, b.y0], [b.x1, b.y1]), k)
    });
    RTree::bulk_load(each.collect())
}

/// A name as an id: letters, digits, hyphens; None where nothing is left of it.
fn lawful(name: &str) -> Option<String> {
    let mut out = String::new();
    for c in name.chars() {
        if c.is_ascii_alphanumeric() || c == '_' {
            out.push(c);
        } else if !out.is_empty() && !out.ends_with('-') {
            out.push('-');
        }
        if out.len() >= 48 {
            break;
        }
    }
    let out = out.trim_matches(['-', '_']);
    out.chars().any(|c| c.is_ascii_alphabetic()).then(|| out.chars().take(48).collect())
}
