//! A number of one item said in place of its definition's, with its source; or no longer said.

use super::by_hand::Refusal;
use super::item::{own_keys, set_own};
use super::text::{self, Object};
use serde_json::Value;

/// A number as the file is to say it.
#[derive(Clone, Debug, PartialEq)]
pub struct Said {
    /// The number: a text or number, or the list of a point's.
    pub of: Value,
    /// How much larger and smaller it may be, where that was said.
    pub off: [Option<Value>; 2],
    /// Name of its source among the file's.
    pub source: String,
}

/// The text with an item's number said, or, with `None`, no longer said.
///
/// # Errors
/// What the file below this one says; a text that cannot be changed so.
pub(super) fn set(source: &str, id: &str, path: &str, said: Option<&Said>) -> Result<String, Refusal> {
    let broken = || Refusal::Words("the file's text could not be changed there: change it by hand".into());
    let held = own_keys(source, id).and_then(|o| inner(source, &o, "numbers"));
    match (held, said) {
        (Some(o), Some(said)) => text::set(source, &o, path, &said.json()).ok_or_else(broken),
        (None, Some(said)) => {
            let quoted = Value::from(path);
            set_own(source, id, "numbers", Some(&format!("{{ {quoted}: {} }}", said.json())), None)
                .ok_or_else(broken)
        }
        (Some(o), None) if o.value(path).is_some() => {
            if o.entries.len() > 1 {
                return text::unset(source, &o, path).ok_or_else(broken);
            }
            // an entry that says nothing else of an item of another file goes with its last number
            let change = text::under_two(source, "change", id);
            if change.is_some_and(|c| c.entries.len() == 1) {
                return without_change(source, id).ok_or_else(broken);
            }
            set_own(source, id, "numbers", None, None).ok_or_else(broken)
        }
        (_, None) => Err(Refusal::Words(format!(
            "{path} of {id} is not said by the item itself in this file: take it out where it is said, in its row or in the file \
             below, or say another number here"
        ))),
    }
}

/// The text with an entry of `sources` more.
///
/// # Errors
/// A source of that name that is there; a text that cannot be changed so.
pub(super) fn with_source(source: &str, name: &str, entry: &Value) -> Result<String, Refusal> {
    let broken = || Refusal::Words("the file's sources could not be changed: change them by hand".into());
    let written = spaced(entry);
    match text::under(source, "sources") {
        Some(o) if o.value(name).is_some() => Err(Refusal::Words(format!(
            "there is a source `{name}` already: choose it, or take another name"
        ))),
        Some(o) => text::set(source, &o, name, &written).ok_or_else(broken),
        None => {
            let root = text::root(source).ok_or_else(broken)?;
            let all = format!("{{ {}: {written} }}", Value::from(name));
            text::set(source, &root, "sources", &all).ok_or_else(broken)
        }
    }
}

/// The object under a key of an object.
fn inner(source: &str, o: &Object, key: &str) -> Option<Object> {
    let at = o.value(key)?;
    Some(text::root(source.get(at.clone())?)?.moved(at.start))
}

/// The text without what it changes of an item; without "change" where that was all.
fn without_change(source: &str, id: &str) -> Option<String> {
    let all = text::under(source, "change")?;
    if all.entries.len() > 1 {
        text::unset(source, &all, id)
    } else {
        text::unset(source, &text::root(source)?, "change")
    }
}

impl Said {
    fn json(&self) -> String {
        let mut all = serde_json::Map::new();
        all.insert("of".into(), self.of.clone());
        for (key, off) in ["plus", "minus"].into_iter().zip(&self.off) {
            all.extend(off.clone().map(|v| (key.to_owned(), v)));
        }
        all.insert("source".into(), self.source.clone().into());
        spaced(&Value::Object(all))
    }
}

/// An object on one line, spaced as the files are.
fn spaced(v: &Value) -> String {
    match v {
        Value::Object(all) => {
            let each: Vec<String> =
                all.iter().map(|(k, v)| format!("{}: {}", Value::from(k.as_str()), spaced(v))).collect();
            format!("{{ {} }}", each.join(", "))
        }
        Value::Array(all) => format!("[{}]", all.iter().map(spaced).collect::<Vec<_>>().join(", ")),
        other => other.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str = "{\n  \"format\": 1,\n  \"note\": \"kept   so\",\n  \"place\": [\n    { \"id\": \"a\",  \"instrument\": \"x\", \"at\": [1, 2] }\n  ],\n  \"rows\": [ { \"ids\": [\"r\", \"s\"], \"gap\": 1 } ]\n}\n";

    fn said(of: &str) -> Said {
        Said { of: of.into(), off: [None, None], source: "mine".into() }
    }

    #[test]
    fn said_and_taken_back_leave_the_text_as_it_was() {
        let once = set(FILE, "a", "mass", Some(&said("0.5 kg"))).unwrap();
        let entry = r#""numbers": { "mass": { "of": "0.5 kg", "source": "mine" } }"#;
        assert_eq!(once, FILE.replacen("[1, 2]", &format!("[1, 2], {entry}"), 1));
        let off = Said { off: [Some(0.1.into()), None], ..said("92 mm") };
        let twice = set(&once, "a", "bodies.can.to", Some(&off)).unwrap();
        assert!(
            twice.contains(
                r#""source": "mine" }, "bodies.can.to": { "of": "92 mm", "plus": 0.1, "source": "mine" } }"#
            ),
            "{twice}"
        );
        assert_eq!(set(&twice, "a", "bodies.can.to", None).unwrap(), once);
        assert_eq!(set(&once, "a", "mass", None).unwrap(), FILE);
        assert!(set(FILE, "a", "mass", None).is_err(), "what is not said cannot be taken back");
        // another number in its place
        let other = set(&once, "a", "mass", Some(&said("1 lb"))).unwrap();
        assert_eq!(other, once.replacen("0.5 kg", "1 lb", 1));
        // of a row's item nothing but its id was said
        let row = set(FILE, "s", "mass", Some(&said("1 kg"))).unwrap();
        assert!(
            row.contains(
                r#"["r", { "id": "s", "numbers": { "mass": { "of": "1 kg", "source": "mine" } } }]"#
            ),
            "{row}"
        );
    }

    #[test]
    fn an_item_of_another_file_gets_a_change_that_goes_with_its_last_number() {
        let file = "{\n  \"format\": 1,\n  \"builds-on\": \"o.json\"\n}\n";
        let once = set(file, "b", "mass", Some(&said("1 kg"))).unwrap();
        assert!(once.contains(r#""change": {"#) && once.contains(r#""b": { "numbers": { "mass""#), "{once}");
        assert_eq!(set(&once, "b", "mass", None).unwrap(), file);
        assert!(set(file, "b", "mass", None).is_err());
    }

    #[test]
    fn a_source_is_added_once() {
        let entry = serde_json::json!({ "basis": "measured", "who": "A. \"B\"" });
        let once = with_source(FILE, "mine", &entry).unwrap();
        assert!(
            once.contains(r#""sources": { "mine": { "basis": "measured", "who": "A. \"B\"" } }"#),
            "{once}"
        );
        let twice = with_source(&once, "yours", &entry).unwrap();
        assert!(twice.contains(r#" }, "yours": { "basis""#), "{twice}");
        assert!(with_source(&twice, "mine", &entry).is_err());
        assert!(with_source("no json", "mine", &entry).is_err());
    }
}
