//! An item in a panel's text: where it stands there, its keys set, the item taken out.

use super::by_hand::Refusal;
use super::moved::PLACES;
use super::text::{self, Object};
use super::together;
use std::ops::Range;

/// Lists whose elements stand somewhere.
const LISTS: [&str; 3] = ["place", "stacks", "labels"];

/// The list and the element that an item is.
pub(super) fn own(source: &str, id: &str) -> Option<(&'static str, usize)> {
    LISTS.into_iter().find_map(|list| {
        let (_, all) = text::elements(source, list)?;
        Some((list, all.iter().position(|(name, _)| name.as_deref() == Some(id))?))
    })
}

/// The object of an item that stands by itself.
pub(super) fn object_of(source: &str, id: &str) -> Option<Object> {
    let (list, k) = own(source, id)?;
    text::elements(source, list)?.1.into_iter().nth(k).map(|(_, o)| o)
}

/// An element of a list within a list of the root: a row's item, a stack's unit.
struct Inner {
    /// The row or the stack.
    outer: Object,
    /// All elements of the inner list.
    all: Vec<Range<usize>>,
    /// The element.
    k: usize,
    /// What it says, where it is more than an id.
    object: Option<Object>,
}

fn inner(source: &str, list: &str, key: &str, id: &str) -> Option<Inner> {
    let (_, outers) = text::elements(source, list)?;
    outers.into_iter().find_map(|(_, outer)| {
        let at = outer.value(key)?;
        let all = text::within(source, at)?;
        let (k, object) = all.iter().enumerate().find_map(|(k, r)| {
            let slice = source.get(r.clone())?;
            match serde_json::from_str::<serde_json::Value>(slice).ok()? {
                serde_json::Value::String(s) if s == id => Some((k, None)),
                v if v["id"] == id => Some((k, Some(text::root(slice)?.moved(r.start)))),
                _ => None,
            }
        })?;
        Some(Inner { outer, all, k, object })
    })
}

/// What an item stands in that is placed as a whole: a row, but that its first item's place is the row's, or a stack.
pub(super) fn set_of(source: &str, id: &str) -> Option<&'static str> {
    let row = || inner(source, "rows", "ids", id).filter(|i| i.k > 0).map(|_| "row");
    row().or_else(|| inner(source, "stacks", "units", id).map(|_| "stack"))
}

/// The object that says where an item stands: its own, or that of the row in which it is.
pub(super) fn standing(source: &str, id: &str) -> Option<Object> {
    object_of(source, id).or_else(|| inner(source, "rows", "ids", id).map(|i| i.outer))
}

/// Where this file says the keys of an item: in its own object, in that of its row or stack, or among what it changes.
pub(super) fn own_keys(source: &str, id: &str) -> Option<Object> {
    object_of(source, id)
        .or_else(|| inner(source, "rows", "ids", id).and_then(|i| i.object))
        .or_else(|| inner(source, "stacks", "units", id).and_then(|i| i.object))
        .or_else(|| text::under_two(source, "change", id))
}

/// The row of an item and how many items stand before it there.
pub(super) fn row_of(source: &str, id: &str) -> Option<(Object, usize)> {
    inner(source, "rows", "ids", id).map(|i| (i.outer, i.k))
}

/// A key of an item set, or taken out with `None`. Of an item of the file that this one builds on a key cannot be taken out:
/// `without` says the same there.
pub(super) fn set_own(
    source: &str,
    id: &str,
    key: &str,
    value: Option<&str>,
    without: Option<&str>,
) -> Option<String> {
    let in_row = inner(source, "rows", "ids", id);
    let in_stack = || inner(source, "stacks", "units", id).and_then(|i| i.object);
    let object =
        object_of(source, id).or_else(|| in_row.as_ref().and_then(|i| i.object.clone())).or_else(in_stack);
    match (object, value) {
        (Some(o), Some(value)) => text::set(source, &o, key, value),
        (Some(o), None) if o.value(key).is_some() => text::unset(source, &o, key),
        (Some(_), None) => Some(source.into()),
        (None, value) => match (in_row, value) {
            // of a row's item nothing but its id was said
            (Some(i), Some(value)) => {
                let entry = format!("{{ \"id\": {}, \"{key}\": {value} }}", serde_json::Value::from(id));
                text::with(source, i.all.get(i.k)?.clone(), &entry)
            }
            (Some(_), None) => Some(source.into()),
            (None, value) => {
                let said = text::under_two(source, "change", id);
                match (said, value.or(without)) {
                    (Some(o), None) if o.value(key).is_some() => text::unset(source, &o, key),
                    (_, None) => None,
                    (_, Some(value)) => changed(source, id, key, value),
                }
            }
        },
    }
}

/// A key set in what this file changes of an item of another.
pub(super) fn changed(source: &str, id: &str, key: &str, value: &str) -> Option<String> {
    text::root(source)?.value("builds-on")?;
    if let Some(mut o) = text::under_two(source, "change", id) {
        let mut out = source.to_string();
        // coordinates take the place of a relation that was said here
        for place in PLACES.iter().chain(&["offset"]).filter(|_| key == "at") {
            if o.value(place).is_some() {
                out = text::unset(&out, &o, place)?;
                o = text::under_two(&out, "change", id)?;
            }
        }
        return text::set(&out, &o, key, value);
    }
    let entry = format!("{{ \"{key}\": {value} }}");
    if let Some(o) = text::under(source, "change") {
        return text::set(source, &o, id, &entry);
    }
    let quoted = serde_json::Value::from(id);
    text::set(source, &text::root(source)?, "change", &format!("{{\n    {quoted}: {entry}\n  }}"))
}

/// The text without an item: out of its list or its row, or named among what this file removes of another one.
pub(super) fn deleted(source: &str, id: &str) -> Result<String, Refusal> {
    let broken = || Refusal::Words(format!("{id} could not be taken out: take it out by hand"));
    let out = if let Some((list, k)) = own(source, id) {
        let (_, all) = text::elements(source, list).ok_or_else(broken)?;
        text::without_element(source, &all, k)
    } else if let Some(i) = inner(source, "rows", "ids", id).or_else(|| inner(source, "stacks", "units", id))
    {
        if i.all.len() == 1 {
            return Err(Refusal::Words(format!(
                "{id} is the only item of its row or stack: take that out by hand"
            )));
        }
        text::without(source, &i.all, i.k)
    } else {
        removed(source, id)
    };
    together::apart(&out.ok_or_else(broken)?, &[id.to_owned()]).ok_or_else(broken)
}

/// An item of another file removed in this one, with what is changed of it here.
fn removed(source: &str, id: &str) -> Option<String> {
    text::root(source)?.value("builds-on")?;
    let mut out = source.to_string();
    if let Some(o) = text::under(&out, "change").filter(|o| o.value(id).is_some()) {
        out = if o.entries.len() == 1 {
            text::unset(&out, &text::root(&out)?, "change")?
        } else {
            text::unset(&out, &o, id)?
        };
    }
    let quoted = serde_json::Value::from(id).to_string();
    match text::array(&out, "remove") {
        Some((whole, all)) => text::pushed(&out, whole, &all, &quoted),
        None => text::set_after(&out, "builds-on", "remove", &format!("[{quoted}]")),
    }
}
