//! A definition with some numbers in place of its own: each is put into the tree of the definition's file, from which the
//! instrument is built anew, so that whatever holds of a definition holds of it too.

use super::numbers::{ROOT, inner, of_leaf};
use super::{Instrument, Source};
use crate::define::node::{Entry, Node, Value};
use crate::define::summary;
use crate::define::table::{Kind, Need, Record, Rule};
use crate::define::{Size, Text, Weight};
use crate::diag::{Problem, Problems, Where, Written, did_you_mean};

/// A number of somebody's own, with the source that it names.
#[derive(Clone, Debug, PartialEq)]
pub struct Replacement {
    /// Where it stands in the definition.
    pub path: Written<Text>,
    /// A size, mass, current, angle or point.
    pub value: Value,
    /// Where it comes from, by its name in the panel's file.
    pub source: Source,
}

impl Replacement {
    /// As written, with its tolerance.
    pub fn written(&self) -> String {
        summary::written(&self.node()).unwrap_or_default()
    }

    /// Where the value stands.
    pub fn place(&self) -> &Where {
        match &self.value {
            Value::Size(s) => &s.place,
            Value::Mass(w) => &w.place,
            Value::Point(p) => &p.place,
            Value::Point3(p) => &p.place,
            _ => &self.path.place,
        }
    }

    /// The name of its source among those of the definition: one that no id of the definition's file can be.
    pub fn name(&self) -> Text {
        under(&self.source)
    }

    /// The value as it stands in the tree.
    fn node(&self) -> Node {
        let name = Some(self.name());
        let value = match self.value.clone() {
            Value::Size(s) => Value::Size(Size { source: name.clone(), ..s }),
            Value::Mass(w) => Value::Mass(Weight { source: name.clone(), ..w }),
            other => other,
        };
        Node { value, place: self.place().clone(), source: name }
    }
}

/// The name under which a source of a panel's file stands among those of a definition.
fn under(source: &Source) -> Text {
    format!("{} (this panel's)", source.name).into()
}

impl Instrument {
    /// The definition whose checked tree is `root`, with numbers in place of its own, and what each was written as before;
    /// `None` where it had none. `name` is for messages. A number that the definition has no place for is told.
    pub fn with_numbers(
        root: &Node,
        name: &str,
        numbers: &[Replacement],
        problems: &mut Problems,
    ) -> Option<(Instrument, Vec<Option<String>>)> {
        let mut tree = root.clone();
        let mut were = Vec::new();
        for n in numbers {
            match graft(&mut tree, n) {
                Ok(was) => were.push(was),
                Err((message, help)) => {
                    let message = format!("{name}: {message}");
                    problems.push(Problem::new("no-number", &n.path.place, message).help(help));
                    were.push(None);
                }
            }
        }
        let more: Vec<Source> =
            numbers.iter().map(|n| Source { name: under(&n.source), ..n.source.clone() }).collect();
        Some((Instrument::build(&tree, &more, problems)?, were))
    }
}

/// What is wrong, and what to do.
type Fault = (String, String);

fn graft(root: &mut Node, n: &Replacement) -> Result<Option<String>, Fault> {
    let path = n.path.value.clone();
    let steps: Vec<&str> = path.split('.').collect();
    let (mut node, mut kind) = (root, &ROOT);
    let mut before = String::new();
    for (k, step) in steps.iter().enumerate() {
        let last = k + 1 == steps.len();
        let there = || if before.is_empty() { "the definition".to_string() } else { format!("`{before}`") };
        match (&mut node.value, inner(kind)) {
            (Value::Object(entries), Kind::Object(record)) => {
                let Some(field) = record.field(step) else { return Err(no_such(&there(), step, &[])) };
                kind = &field.kind;
                let k = match entries.iter().position(|e| e.key.as_ref() == *step) {
                    Some(k) => k,
                    None => {
                        may_join(record, entries, step, last, kind)
                            .map_err(|why| (format!("{}: {why}", there()), COPY.into()))?;
                        let value = if last { n.value.clone() } else { Value::Object(Vec::new()) };
                        let new = if last {
                            n.node()
                        } else {
                            Node { value, place: n.path.place.clone(), source: None }
                        };
                        entries.push(Entry {
                            key: (*step).into(),
                            key_place: n.path.place.clone(),
                            node: new,
                        });
                        if last {
                            return Ok(None);
                        }
                        entries.len() - 1
                    }
                };
                node = match entries.get_mut(k) {
                    Some(e) => &mut e.node,
                    None => return Err(no_such(&there(), step, &[])),
                };
            }
            (Value::List(items), Kind::List { of, .. }) => {
                let names: Vec<String> = items.iter().enumerate().map(|(k, i)| summary::step(k, i)).collect();
                let Some(k) = names.iter().position(|name| name == step) else {
                    return Err(no_such(&there(), step, &names));
                };
                kind = of;
                node = match items.get_mut(k) {
                    Some(item) => item,
                    None => return Err(no_such(&there(), step, &names)),
                };
            }
            _ => {
                return Err((format!("{} is a single number there", there()), format!("write \"{before}\"")));
            }
        }
        before = if before.is_empty() { (*step).into() } else { format!("{before}.{step}") };
    }
    if std::mem::discriminant(&node.value) != std::mem::discriminant(&n.value) {
        return Err((
            format!("`{before}` is a list there"),
            format!("name one of its elements, such as \"{before}.1\""),
        ));
    }
    let was = summary::written(node);
    *node = n.node();
    Ok(was)
}

const COPY: &str = "`panelwright instruments show` prints what it has; for more copy its file and place that";

fn no_such(there: &str, step: &str, names: &[String]) -> Fault {
    let help = match did_you_mean(step, names.iter().map(String::as_str)) {
        Some(near) => format!("did you mean `{near}`?"),
        None if names.is_empty() => COPY.into(),
        None => format!("there are {}", names.join(", ")),
    };
    (format!("there is no `{step}` in {there}"), help)
}

/// Whether a key may be added to an object that lacks it: a number beside those that are there, or an object none of whose
/// keys must be there.
fn may_join(
    record: &Record,
    entries: &[Entry],
    step: &str,
    last: bool,
    kind: &'static Kind,
) -> Result<(), String> {
    let has = |key: &&str| entries.iter().any(|e| e.key.as_ref() == *key);
    for rule in record.rules.iter().copied().flatten() {
        match rule {
            Rule::One(keys) | Rule::AtMostOne(keys) if keys.contains(&step) => {
                if let Some(other) = keys.iter().find(|k| has(k)) {
                    return Err(format!("`{other}` says there what `{step}` would say"));
                }
            }
            Rule::Beside { key, beside } if *key == step && !beside.iter().any(has) => {
                return Err(format!("`{step}` would need `{}` beside it", beside.join("` or `")));
            }
            _ => {}
        }
    }
    let fine = match inner(kind) {
        _ if last => of_leaf(kind).is_some(),
        Kind::Object(record) => record.rules.is_empty() && record.all().all(|f| f.need == Need::May),
        _ => false,
    };
    if fine { Ok(()) } else { Err(format!("it has no `{step}`")) }
}

/// The numbers that a definition leaves open and that may be said in their place; those of shapes are left out.
pub fn open_numbers(root: &Node) -> Vec<String> {
    let mut out = Vec::new();
    open(root, &ROOT, String::new(), &mut out);
    out
}

fn open(node: &Node, kind: &'static Kind, path: String, out: &mut Vec<String>) {
    let under = |step: &str| if path.is_empty() { step.to_string() } else { format!("{path}.{step}") };
    match (&node.value, inner(kind)) {
        (Value::Object(entries), Kind::Object(record)) if record.name != "shape" => {
            for field in record.all() {
                match entries.iter().find(|e| e.key.as_ref() == field.key) {
                    Some(e) => open(&e.node, &field.kind, under(field.key), out),
                    None => absent(record, entries, field.key, &field.kind, under(field.key), out),
                }
            }
        }
        (Value::List(items), Kind::List { of, .. }) => {
            for (k, item) in items.iter().enumerate() {
                open(item, of, under(&summary::step(k, item)), out);
            }
        }
        _ => {}
    }
}

fn absent(
    record: &'static Record,
    entries: &[Entry],
    key: &str,
    kind: &'static Kind,
    path: String,
    out: &mut Vec<String>,
) {
    let number = of_leaf(kind).is_some();
    if may_join(record, entries, key, number, kind).is_err() {
        return;
    }
    if number {
        out.push(path);
    } else if let Kind::Object(inner) = kind {
        for field in inner.all() {
            absent(inner, &[], field.key, &field.kind, format!("{path}.{}", field.key), out);
        }
    }
}
