//! From which other items the place of an item is told.

use super::item::{object_of, row_of};
use super::text::{self, Object};

/// What names another item by which an item's place is told.
pub(super) const NAMES: [&str; 8] =
    ["right-of", "left-of", "above", "below", "centred-on", "mirror-of", "level", "in-line-with"];

/// The items from which this text tells an item's place; a row's later items follow from the row. `None`: this text does not
/// say where it stands.
pub fn told_from(source: &str, id: &str) -> Option<Vec<String>> {
    let names = |o: &Object| -> Vec<String> {
        NAMES.iter().filter_map(|key| serde_json::from_str(source.get(o.value(key)?)?).ok()).collect()
    };
    if let Some(o) = object_of(source, id) {
        return Some(names(&o));
    }
    if let Some((row, k)) = row_of(source, id) {
        return Some(if k == 0 { names(&row) } else { Vec::new() });
    }
    let o = text::under_two(source, "change", id)?;
    let all = names(&o);
    (o.value("at").is_some() || !all.is_empty()).then_some(all)
}
