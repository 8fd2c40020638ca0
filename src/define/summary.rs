//! What an instrument file says value by value, and what it leaves open: for lists, counts and `show`.

use super::instrument::{Basis, Instrument};
use super::node::{Node, Value};

/// One value of a definition: a size, a place, a mass, a current, an angle, an outline.
#[derive(Clone, Debug, PartialEq)]
pub struct ValueLine {
    /// Where it stands: `openings.main.shape.circle`.
    pub path: String,
    /// As written, with its tolerance.
    pub written: String,
    /// Standing of its source; `None` where none is named.
    pub basis: Option<Basis>,
    /// Name of its source in the file; empty where none is named.
    pub source: String,
}

/// A source of a definition.
#[derive(Clone, Debug, PartialEq)]
pub struct SourceLine {
    /// Its name in the file.
    pub name: String,
    /// Its standing.
    pub basis: Basis,
    /// Document, revision, who, when and remark.
    pub words: Vec<String>,
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
    /// Facts that are words: mounting, service, nominal size.
    pub facts: Vec<(String, String)>,
    /// Every value.
    pub values: Vec<ValueLine>,
    /// Where they come from, in the file's order.
    pub sources: Vec<SourceLine>,
    /// What is not said: names.
    pub missing: Vec<String>,
    /// Remark.
    pub note: Option<String>,
}

impl Summary {
    /// How many values have this standing.
    pub fn count(&self, basis: Basis) -> usize {
        self.values.iter().filter(|s| s.basis == Some(basis)).count()
    }
}

/// Kinds that only lie on the sheet: their centre of mass says nothing.
const FLAT: [&str; 3] = ["blank", "placard", "nutplate"];
/// Kinds that draw a current of their own.
const ELECTRIC: [&str; 7] = ["gauge", "display", "radio", "lamp", "dimmer", "outlet", "clock"];
/// Kinds with magnets or currents of which a compass must keep clear.
const MAGNETIC: [&str; 4] = ["gauge", "display", "radio", "clock"];
/// Kinds whose reading may hang on the panel's tilt.
const TILTED: [&str; 3] = ["gauge", "display", "compass"];

/// Facts that a builder needs of a kind sooner or later; what of them is absent is listed as missing.
fn wanted(kind: &str, in_stack: bool) -> Vec<&'static str> {
    let asked = [
        ("mounting", true),
        ("service", true),
        ("mass", true),
        ("centre", !FLAT.contains(&kind)),
        ("current", ELECTRIC.contains(&kind)),
        ("compass-safe", MAGNETIC.contains(&kind)),
        ("sheet", !in_stack),
        ("tilt", TILTED.contains(&kind)),
    ];
    asked.into_iter().filter(|a| a.1).map(|a| a.0).collect()
}

/// Sums up a definition. `root` is the checked tree of its file; `open` names what its parts leave open.
pub fn summary(name: &str, root: &Node, of: &Instrument, open: impl IntoIterator<Item = String>) -> Summary {
    let fact = |key: &str| root.text(key).map(|t| (key.to_string(), t.value.to_string()));
    let mut s = Summary {
        name: name.into(),
        title: of.title.to_string(),
        kind: of.kind.to_string(),
        words: of.words.iter().map(|w| w.to_string()).collect(),
        facts: ["nominal", "mounting", "service"].into_iter().filter_map(fact).collect(),
        values: Vec::new(),
        sources: of.sources.iter().map(source).collect(),
        missing: Vec::new(),
        note: of.note.as_ref().map(|n| n.to_string()),
    };
    walk(root, String::new(), of, &mut s.values);
    let absent =
        wanted(&s.kind, of.unit_of_stack.is_some()).into_iter().filter(|key| root.get(key).is_none());
    s.missing = absent.map(String::from).chain(open).collect();
    s
}

fn source(s: &super::instrument::Source) -> SourceLine {
    let words = [&s.document, &s.revision, &s.who, &s.when, &s.note].into_iter().flatten();
    SourceLine {
        name: s.name.to_string(),
        basis: s.basis.value,
        words: words.map(|t| t.value.to_string()).collect(),
    }
}

fn walk(node: &Node, path: String, of: &Instrument, out: &mut Vec<ValueLine>) {
    let mut tell = |written: String, source: Option<&str>| out.push(line(path.clone(), written, source, of));
    let nearest = node.source.as_deref();
    match &node.value {
        Value::Size(size) => {
            let mut written = size.of.to_string();
            if let Some(plus) = &size.plus {
                written.push_str(&format!(" +{plus}"));
            }
            if let Some(minus) = &size.minus {
                written.push_str(&format!(" -{minus}"));
            }
            tell(written, size.source.as_deref());
        }
        Value::Mass(weight) => tell(weight.of.to_string(), weight.source.as_deref()),
        Value::Length(length) => tell(length.to_string(), nearest),
        Value::Angle(angle) => tell(angle.to_string(), nearest),
        Value::Current(current) => tell(current.to_string(), nearest),
        Value::Point(p) => tell(format!("{}, {}", p.x, p.y), nearest),
        Value::Point3(p) => tell(format!("{}, {}, {}", p.x, p.y, p.d), nearest),
        Value::Text(outline) if path.ends_with(".path") => tell(shortened(outline), nearest),
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
        Value::Flag(_) | Value::Number(_) | Value::Text(_) | Value::Amount(_) | Value::Refused(_) => {}
    }
}

/// An outline's beginning: the whole of it stands in the file.
fn shortened(outline: &str) -> String {
    const MOST: usize = 28;
    if outline.chars().count() <= MOST {
        return outline.into();
    }
    let start: String = outline.chars().take(MOST).collect();
    format!("{start} ...")
}

fn line(path: String, written: String, source: Option<&str>, of: &Instrument) -> ValueLine {
    let named = source.or(of.source.as_ref().map(|s| &*s.value)).and_then(|n| of.source_named(n));
    ValueLine {
        path,
        written,
        basis: named.map(|s| s.basis.value),
        source: named.map_or_else(String::new, |s| s.name.to_string()),
    }
}
