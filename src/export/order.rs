//! The order in which a page is painted: neighbouring items layer by layer, groups where they stand.

use crate::draw::{Entry, Group, Item, Layer, Page};

/// Items of one layer in their order.
pub type OneLayer<'a> = (Layer, Vec<&'a Item>);

/// A stretch of a page.
pub enum Part<'a> {
    /// Items in page coordinates, by layer from the back to the front.
    Loose(Vec<OneLayer<'a>>),
    /// A group with its own.
    Group(&'a Group),
}

/// The stretches of a page in painting order.
pub fn parts(page: &Page) -> Vec<Part<'_>> {
    let mut out = Vec::new();
    let mut loose: Vec<&Item> = Vec::new();
    for entry in &page.items {
        match entry {
            Entry::Item(item) => loose.push(item),
            Entry::Group(group) => {
                if !loose.is_empty() {
                    out.push(Part::Loose(layers(std::mem::take(&mut loose))));
                }
                out.push(Part::Group(group));
            }
        }
    }
    if !loose.is_empty() {
        out.push(Part::Loose(layers(loose)));
    }
    out
}

/// Items sorted into layers from the back to the front; empty layers are left out.
pub fn layers<'a>(items: impl IntoIterator<Item = &'a Item>) -> Vec<OneLayer<'a>> {
    let mut sorted: Vec<&Item> = items.into_iter().collect();
    sorted.sort_by_key(|i| i.layer);
    let mut out: Vec<OneLayer<'a>> = Vec::new();
    for item in sorted {
        match out.last_mut() {
            Some((layer, list)) if *layer == item.layer => list.push(item),
            _ => out.push((item.layer, vec![item])),
        }
    }
    out
}
