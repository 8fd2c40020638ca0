//! Changes to JSON as a person would type them: only the value that changes is rewritten, all text around it stays.

use jsonc_parser::ast;
use jsonc_parser::common::Ranged;
use jsonc_parser::{CollectOptions, ParseOptions, parse_to_ast};
use std::ops::Range;

/// An object of the text: where it stands, and its keys with where their values stand.
#[derive(Clone, Debug)]
pub(super) struct Object {
    /// From brace to brace, bytes of the text.
    pub whole: Range<usize>,
    /// Keys in the file's order: the key, where the entry stands, where its value stands.
    pub entries: Vec<(String, Range<usize>, Range<usize>)>,
}

impl Object {
    /// Where the value of a key stands.
    pub fn value(&self, key: &str) -> Option<Range<usize>> {
        self.entries.iter().find(|(k, ..)| k == key).map(|(_, _, v)| v.clone())
    }

    /// The same object of a text in which it stands so many bytes on.
    pub fn moved(mut self, by: usize) -> Object {
        let all = self.entries.iter_mut().flat_map(|(_, e, v)| [e, v]);
        for r in all.chain([&mut self.whole]) {
            *r = r.start + by..r.end + by;
        }
        self
    }
}

/// An object with the `id` that it says.
pub(super) type Named = (Option<String>, Object);

fn range(r: &impl Ranged) -> Range<usize> {
    r.start()..r.end()
}

fn object(o: &ast::Object) -> Object {
    let entries = o.properties.iter().map(|p| (p.name.as_str().to_owned(), range(p), range(&p.value)));
    Object { whole: range(o), entries: entries.collect() }
}

/// Reads a text whose root is an object and gives that to `ask`; `None` where the text is no such JSON.
fn parsed<T>(text: &str, ask: impl FnOnce(&ast::Object) -> Option<T>) -> Option<T> {
    let strict = ParseOptions {
        allow_comments: false,
        allow_loose_object_property_names: false,
        allow_trailing_commas: false,
        ..ParseOptions::default()
    };
    let tree = parse_to_ast(text, &CollectOptions::default(), &strict).ok()?;
    match tree.value? {
        ast::Value::Object(root) => ask(&root),
        _ => None,
    }
}

/// The root object of a text.
pub(super) fn root(text: &str) -> Option<Object> {
    parsed(text, |root| Some(object(root)))
}

/// The object under a key of the root.
pub(super) fn under(text: &str, key: &str) -> Option<Object> {
    parsed(text, |root| root.get_object(key).map(object))
}

/// The object under a key of an object under a key of the root.
pub(super) fn under_two(text: &str, key: &str, second: &str) -> Option<Object> {
    parsed(text, |root| root.get_object(key)?.get_object(second).map(object))
}

/// Where the elements of a list of the root stand, with the `id` that each says.
pub(super) fn elements(text: &str, list: &str) -> Option<(Range<usize>, Vec<Named>)> {
    parsed(text, |root| {
        let array = root.get_array(list)?;
        let all = array.elements.iter().filter_map(|e| e.as_object());
        let named = all.map(|o| {
            let id = o.get_string("id").map(|s| s.value.to_string());
            (id, object(o))
        });
        Some((range(array), named.collect()))
    })
}

/// The two values of the list whose brackets are at a place of the text, as they are spelled.
pub(super) fn pair(text: &str, at: Range<usize>) -> Option<[String; 2]> {
    let slice = text.get(at)?;
    let list: Vec<serde_json::Value> = serde_json::from_str(slice).ok()?;
    let spell = |v: &serde_json::Value| match v {
        serde_json::Value::String(s) => s.clone(),
        other => other.to_string(),
    };
    match list.as_slice() {
        [x, y] => Some([spell(x), spell(y)]),
        _ => None,
    }
}

/// The text with one stretch replaced.
pub(super) fn with(text: &str, at: Range<usize>, new: &str) -> Option<String> {
    Some(format!("{}{new}{}", text.get(..at.start)?, text.get(at.end..)?))
}

/// The text with a key of an object set: its value replaced, or the key added behind the last one.
pub(super) fn set(text: &str, o: &Object, key: &str, value: &str) -> Option<String> {
    if let Some(at) = o.value(key) {
        return with(text, at, value);
    }
    let quoted = serde_json::Value::from(key);
    match o.entries.last() {
        Some((_, last, _)) => {
            // on a line of its own where the others stand so
            let before = text.get(..last.start)?;
            let indent = before.rsplit('\n').next().unwrap_or("");
            let own_line = before.contains('\n') && indent.trim().is_empty();
            let gap = if own_line { format!(",\n{indent}") } else { ", ".into() };
            with(text, last.end..last.end, &format!("{gap}{quoted}: {value}"))
        }
        None => with(text, o.whole.clone(), &format!("{{ {quoted}: {value} }}")),
    }
}

/// The text with a key added to the root behind another one.
pub(super) fn set_after(text: &str, before: &str, key: &str, value: &str) -> Option<String> {
    let root = root(text)?;
    let k = root.entries.iter().position(|(name, ..)| name == before)?;
    let upto = Object { whole: root.whole.clone(), entries: root.entries.get(..=k)?.to_vec() };
    set(text, &upto, key, value)
}

/// The text without a key of an object.
pub(super) fn unset(text: &str, o: &Object, key: &str) -> Option<String> {
    let k = o.entries.iter().position(|(name, ..)| name == key)?;
    let all: Vec<Range<usize>> = o.entries.iter().map(|(_, entry, _)| entry.clone()).collect();
    without(text, &all, k)
}

/// The text without one of several things in a row, and without the comma that joined it to the others.
pub(super) fn without(text: &str, all: &[Range<usize>], k: usize) -> Option<String> {
    let own = all.get(k)?;
    let cut = match (all.get(k + 1), k.checked_sub(1).and_then(|b| all.get(b))) {
        (Some(next), _) => own.start..next.start,
        (None, Some(before)) => before.end..own.end,
        (None, None) => own.clone(),
    };
    with(text, cut, "")
}

/// The text with one element of a list removed.
pub(super) fn without_element(text: &str, all: &[Named], k: usize) -> Option<String> {
    let all: Vec<Range<usize>> = all.iter().map(|(_, o)| o.whole.clone()).collect();
    without(text, &all, k)
}

/// Where a list of the root stands, and each of its elements.
pub(super) fn array(text: &str, list: &str) -> Option<(Range<usize>, Vec<Range<usize>>)> {
    parsed(text, |root| {
        let array = root.get_array(list)?;
        Some((range(array), array.elements.iter().map(range).collect()))
    })
}

/// Where the elements of the list stand whose brackets are at a place of the text.
pub(super) fn within(text: &str, at: Range<usize>) -> Option<Vec<Range<usize>>> {
    // a list alone is no text of its own: it is read under a key
    const BEFORE: &str = "{\"k\":";
    let all = array(&format!("{BEFORE}{}}}", text.get(at.clone())?), "k")?.1;
    let moved = |r: Range<usize>| r.start - BEFORE.len() + at.start..r.end - BEFORE.len() + at.start;
    Some(all.into_iter().map(moved).collect())
}

/// The text with an element more at the end of a list.
pub(super) fn pushed(text: &str, whole: Range<usize>, all: &[Range<usize>], element: &str) -> Option<String> {
    match all.last() {
        Some(last) => {
            // on a line of its own where the last one stands so
            let indent = text.get(..last.start)?.rsplit('\n').next().unwrap_or("");
            let gap = if indent.trim().is_empty() { format!(",\n{indent}") } else { ", ".into() };
            with(text, last.end..last.end, &format!("{gap}{element}"))
        }
        None => with(text, whole, &format!("[\n    {element}\n  ]")),
    }
}

/// The text with an element added at the end of a list of the root; the list is made where there is none.
pub(super) fn with_element(text: &str, list: &str, element: &str) -> Option<String> {
    let Some((whole, all)) = elements(text, list) else {
        return set(text, &root(text)?, list, &format!("[\n    {element}\n  ]"));
    };
    let all: Vec<Range<usize>> = all.iter().map(|(_, o)| o.whole.clone()).collect();
    pushed(text, whole, &all, element)
}
