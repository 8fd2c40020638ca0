//! What an instrument file says value by value, and what it leaves open: for lists, counts and `show`.

use super::instrument::{Basis, Instrument};
use super::node::{Node, Value};
use crate::units::Length;

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

/// How the path of an outline ends.
pub const OUTLINE: &str = ".path";

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
    if let Some(written) = written(node) {
        let own = match &node.value {
            Value::Size(size) => size.source.as_deref(),
            Value::Mass(weight) => weight.source.as_deref(),
            _ => node.source.as_deref(),
        };
        out.push(line(path, written, own, of));
        return;
    }
    match &node.value {
        Value::Text(outline) if path.ends_with(OUTLINE) => {
            out.push(line(path, shortened(outline), node.source.as_deref(), of));
        }
        Value::List(items) => {
            for (k, item) in items.iter().enumerate() {
                walk(item, format!("{path}.{}", step(k, item)), of, out);
            }
        }
        Value::Object(entries) => {
            for e in entries {
                let at = if path.is_empty() { e.key.to_string() } else { format!("{path}.{}", e.key) };
                walk(&e.node, at, of, out);
            }
        }
        _ => {}
    }
}

/// A single number as written, with its tolerance; `None`: it is none.
pub fn written(node: &Node) -> Option<String> {
    Some(match &node.value {
        Value::Size(size) => {
            let off = |sign: &str, by: &Option<Length>| {
                by.as_ref().map_or(String::new(), |by| format!(" {sign}{by}"))
            };
            format!("{}{}{}", size.of, off("+", &size.plus), off("-", &size.minus))
        }
        Value::Mass(weight) => weight.of.to_string(),
        Value::Length(length) => length.to_string(),
        Value::Angle(angle) => angle.to_string(),
        Value::Current(current) => current.to_string(),
        Value::Point(p) => format!("{}, {}", p.x, p.y),
        Value::Point3(p) => format!("{}, {}, {}", p.x, p.y, p.d),
        _ => return None,
    })
}

/// What the element number `k` of a list is called in a path: its id, or its number from 1 on.
pub fn step(k: usize, item: &Node) -> String {
    item.text("id").map_or_else(|| (k + 1).to_string(), |t| t.value.to_string())
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
