//! What an instrument file says size by size, and what it leaves open: for lists, counts and `show`.

use super::instrument::{Basis, Instrument};
use super::node::{Node, Value};
use super::words::Word;

/// One size of a definition.
#[derive(Clone, Debug, PartialEq)]
pub struct SizeLine {
    /// Where it stands: `openings.main.shape.circle`.
    pub path: String,
    /// As written, with its tolerance.
    pub written: String,
    /// Standing of its source; `None` where none is named.
    pub basis: Option<Basis>,
    /// Words of its source.
    pub source: String,
}

/// A definition in short.
#[derive(Clone, Debug, PartialEq)]
pub struct Summary {
    /// Name in the catalogue.
    pub name: String,
    /// Title.
    pub title: String,
    /// Kind word.
    pub kind: String,
    /// Words to search for.
    pub words: Vec<String>,
    /// Every size.
    pub sizes: Vec<SizeLine>,
    /// What is not said: names.
    pub missing: Vec<String>,
    /// Remark.
    pub note: Option<String>,
}

impl Summary {
    /// How many sizes are typical.
    pub fn typical(&self) -> usize {
        self.sizes.iter().filter(|s| s.basis == Some(Basis::Typical)).count()
    }
}

/// Fields that a builder needs sooner or later; what of them is absent is listed as missing.
const WANTED: [&str; 12] = [
    "case",
    "openings",
    "bezel",
    "bodies",
    "ports",
    "mass",
    "centre",
    "current",
    "compass-safe",
    "sheet",
    "tilt",
    "service",
];

/// Sums up a definition. `root` is the checked tree of its file.
pub fn summary(name: &str, root: &Node, of: &Instrument) -> Summary {
    let mut s = Summary {
        name: name.into(),
        title: of.title.to_string(),
        kind: of.kind.to_string(),
        words: of.words.iter().map(|w| w.to_string()).collect(),
        sizes: Vec::new(),
        missing: Vec::new(),
        note: of.note.as_ref().map(|n| n.to_string()),
    };
    walk(root, String::new(), of, &mut s.sizes);
    for key in WANTED {
        if root.get(key).is_none() {
            s.missing.push(key.into());
        }
    }
    for port in &of.ports {
        for need in port.needs.iter().filter(|n| n.length.is_none()) {
            s.missing.push(format!("ports.{}.{}", port.id.value, need.term.value));
        }
    }
    for body in of.bodies.iter().filter(|b| b.to.is_none()) {
        s.missing.push(format!("bodies.{}.to", body.id.value));
    }
    for holes in of.holes.iter().filter(|h| h.diameter.is_none()) {
        s.missing.push(format!("holes.{}.diameter", holes.id.as_ref().map_or("", |i| &i.value)));
    }
    s
}

fn walk(node: &Node, path: String, of: &Instrument, out: &mut Vec<SizeLine>) {
    match &node.value {
        Value::Size(size) => {
            let mut written = size.of.to_string();
            if let Some(plus) = &size.plus {
                written.push_str(&format!(" +{plus}"));
            }
            if let Some(minus) = &size.minus {
                written.push_str(&format!(" -{minus}"));
            }
            out.push(line(path, written, size.source.as_deref(), of));
        }
        Value::Mass(weight) => out.push(line(path, weight.of.to_string(), weight.source.as_deref(), of)),
        Value::List(items) => {
            for (k, item) in items.iter().enumerate() {
                // an item with an id is named by it, not by its number
                let id = item.text("id").map_or_else(|| (k + 1).to_string(), |t| t.value.to_string());
                walk(item, format!("{path}.{id}"), of, out);
            }
        }
        Value::Object(entries) => {
            for e in entries {
                let at = if path.is_empty() { e.key.to_string() } else { format!("{path}.{}", e.key) };
                walk(&e.node, at, of, out);
            }
        }
        Value::Flag(_)
        | Value::Number(_)
        | Value::Text(_)
        | Value::Length(_)
        | Value::Angle(_)
        | Value::Current(_)
        | Value::Amount(_)
        | Value::Point(_)
        | Value::Point3(_) => {}
    }
}

fn line(path: String, written: String, source: Option<&str>, of: &Instrument) -> SizeLine {
    let named = source.or(of.source.as_ref().map(|s| &*s.value)).and_then(|n| of.source_named(n));
    let basis = named.map(|s| s.basis.value);
    let words = named.map_or_else(String::new, |s| {
        let parts = [&s.document, &s.revision, &s.who, &s.when];
        let said: Vec<&str> = parts.into_iter().flatten().map(|t| &*t.value).collect();
        if said.is_empty() {
            s.basis.value.word().to_string()
        } else {
            format!("{}: {}", s.basis.value.word(), said.join(", "))
        }
    });
    SizeLine { path, written, basis, source: words }
}
