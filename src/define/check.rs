//! Holds a parsed file against the table: one pass, all problems, and the tree of what fits.

use super::Text;
use super::instrument::UNITS;
use super::node::{Entry, Node, Value};
use super::raw::{ids_in, json, raw_offset};
use super::table::{Field, Kind, Need, Record, Rule};
use crate::diag::{Lines, Problem, Problems, Where, did_you_mean};
use crate::units::{QuantityError, Unit};
use jsonc_parser::ast;
use jsonc_parser::common::{Range, Ranged};

/// Most problems told of one file; after that, one says that there are more.
const MOST_PROBLEMS: usize = 500;
/// Longest id.
const MOST_ID: usize = 64;
/// [`Kind::Signed`] as a pattern: two letters side by side and a digit.
pub(super) const SIGNED_PATTERN: &str = r"^(?=[\s\S]*(?:[^\W\d_]{2}|[^\x00-\x7f]{2}))(?=[\s\S]*[0-9])";

/// What an id looks like; says the same as [`Checker::id`].
pub(super) const ID_PATTERN: &str = "^[A-Za-z0-9][A-Za-z0-9_-]{0,63}$";

/// The pass over one file.
pub(super) struct Checker<'a> {
    lines: &'a Lines,
    base: usize,
    problems: &'a mut Problems,
    told: usize,
    /// The file's unit, if it declares one.
    pub(super) unit: Option<Unit>,
    /// The source named nearest around the value at hand.
    source: Option<Text>,
}

impl<'a> Checker<'a> {
    /// Reads the file's unit ahead of everything else, wherever it stands in the root.
    pub fn new(lines: &'a Lines, base: usize, root: &ast::Value, problems: &'a mut Problems) -> Self {
        let written = root.as_object().and_then(|o| o.get("unit"));
        let unit = written.map(|property| {
            let named = property.value.as_string_lit().and_then(|s| Unit::named(&s.value));
            // A unit that is none is told once, not again at every number.
            named.filter(|u| UNITS.iter().any(|(word, _)| *word == u.name())).unwrap_or(Unit::Millimetre)
        });
        Checker { lines, base, problems, told: 0, unit, source: None }
    }

    pub(super) fn place(&self, range: Range) -> Where {
        self.lines.place(self.base + range.start, self.base + range.end)
    }

    /// The text of a value as it is written, cut to a length that fits a message.
    pub(super) fn spelled(&self, range: Range) -> String {
        short(self.lines.text().get(self.base + range.start..self.base + range.end).unwrap_or(""))
    }

    pub(super) fn tell(&mut self, problem: Problem) {
        self.told += 1;
        if self.told <= MOST_PROBLEMS {
            self.problems.push(problem);
        } else if self.told == MOST_PROBLEMS + 1 {
            let message = format!("more than {MOST_PROBLEMS} problems: the rest is not listed");
            self.problems.push(Problem {
                message,
                help: None,
                code: "too-many-problems",
                place: problem.place,
            });
        }
    }

    pub(super) fn node(&self, value: Value, range: Range) -> Node {
        Node { value, place: self.place(range), source: self.source.clone() }
    }

    pub(super) fn source(&self) -> Option<Text> {
        self.source.clone()
    }

    /// An object with known keys.
    pub fn object(&mut self, value: &ast::Value, record: &'static Record) -> Option<Node> {
        let object = value.as_object()?;
        let outer = self.source.clone();
        if record.field("source").is_some()
            && let Some(own) = object.get_string("source")
        {
            self.source = Some(own.value.as_ref().into());
        }
        let mut entries: Vec<Entry> = Vec::new();
        let mut seen: Vec<&str> = Vec::new();
        for property in &object.properties {
            let key = property.name.as_str();
            let key_range = property.name.range();
            if seen.contains(&key) {
                self.twice(key, key_range);
                continue;
            }
            let Some((key, kind)) = self.known(record, object, property) else {
                let node = self.node(Value::Refused(ids_in(&property.value)), property.value.range());
                entries.push(Entry { key: key.into(), key_place: self.place(key_range), node });
                continue;
            };
            seen.push(key);
            let read = self.value(&property.value, kind);
            // whoever names something in it need not be told that it is not there
            let refused = || self.node(Value::Refused(ids_in(&property.value)), property.value.range());
            let node = read.unwrap_or_else(refused);
            entries.push(Entry { key: key.into(), key_place: self.place(key_range), node });
        }
        let open = Range { start: object.range.start, end: object.range.start + 1 };
        for field in record.all().filter(|f| f.need == Need::Must && !seen.contains(&f.key)) {
            let message = format!("{} has no `{}`", article(record.name), field.key);
            let help = format!("add \"{}\", {}: {}", field.key, field.kind.expected(), field.doc);
            let problem = Problem::new("missing-key", &self.place(open), message).help(help);
            self.tell(problem);
        }
        for rule in record.rules.iter().copied().flatten() {
            self.rule(rule, record, &seen, open);
        }
        let node = self.node(Value::Object(entries), object.range);
        self.source = outer;
        Some(node)
    }

    /// A key and its kind. An unknown key is an error with the nearest known one; where that is not there
    /// too and could have this value, what follows is read as if it had been meant.
    fn known<'k>(
        &mut self,
        record: &'static Record,
        object: &ast::Object,
        property: &'k ast::ObjectProp,
    ) -> Option<(&'k str, &'static Kind)> {
        let key = property.name.as_str();
        if key == "note" {
            return Some((key, &Kind::Words));
        }
        if let Some(Field { kind, .. }) = record.field(key) {
            return Some((key, kind));
        }
        let keys: Vec<&'static str> = record.all().map(|f| f.key).chain(["note"]).collect();
        let near = did_you_mean(key, keys.iter().copied());
        let help = match near {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("known keys: {}", keys.join(", ")),
        };
        let message = format!("`{}` is no key of {}", short(key), article(record.name));
        let problem = Problem::new("unknown-key", &self.place(property.name.range()), message).help(help);
        self.tell(problem);
        let field = record.field(near?)?;
        let meant = object.get(field.key).is_none() && field.kind.types().contains(&json(&property.value)?);
        meant.then_some((field.key, &field.kind))
    }

    pub(super) fn twice(&mut self, key: &str, range: Range) {
        let message = format!("`{}` stands here a second time", short(key));
        let problem = Problem::new("twice-key", &self.place(range), message)
            .help("keep one of the two; the first is read");
        self.tell(problem);
    }

    fn rule(&mut self, rule: &Rule, record: &Record, seen: &[&str], open: Range) {
        let quoted = |keys: &[&str]| keys.iter().map(|k| format!("`{k}`")).collect::<Vec<_>>().join(", ");
        let present = |keys: &[&'static str]| -> Vec<&'static str> {
            keys.iter().copied().filter(|k| seen.contains(k)).collect()
        };
        let name = article(record.name);
        let (code, message, help) = match rule {
            Rule::One(keys) if present(keys).is_empty() => {
                ("missing-key", format!("{name} has none of {}", quoted(keys)), "give exactly one of them")
            }
            Rule::AtLeastOne(keys) if present(keys).is_empty() => {
                ("missing-key", format!("{name} has none of {}", quoted(keys)), "give one of them")
            }
            Rule::One(keys) | Rule::AtMostOne(keys) if present(keys).len() > 1 => (
                "one-of",
                format!("{name} has {} together", quoted(&present(keys))),
                "they say the same thing in two ways: keep one of them",
            ),
            Rule::Beside { key, beside } if seen.contains(key) && present(beside).is_empty() => (
                "missing-beside",
                format!(
                    "`{key}` asks for {}{} beside it",
                    if beside.len() > 1 { "one of " } else { "" },
                    quoted(beside)
                ),
                "add it, or take the key away",
            ),
            _ => return,
        };
        let problem = Problem::new(code, &self.place(open), message).help(help);
        self.tell(problem);
    }

    /// Any value against any kind.
    pub(super) fn value(&mut self, value: &ast::Value, kind: &'static Kind) -> Option<Node> {
        let Some(json) = json(value) else {
            let problem = Problem::new("wrong-type", &self.place(value.range()), "null says nothing")
                .help(format!("give {}, or leave the key out: what is missing is withheld", kind.expected()));
            self.tell(problem);
            return None;
        };
        if let Kind::Either(kinds) = kind {
            match kinds.iter().find(|k| k.types().contains(&json)) {
                Some(kind) => return self.value(value, kind),
                None => return self.wrong_type(value, kind),
            }
        }
        if !kind.types().contains(&json) {
            return self.wrong_type(value, kind);
        }
        match (kind, value) {
            (Kind::Object(record), _) => self.object(value, record),
            (Kind::Map(of), ast::Value::Object(object)) => self.map(object, of),
            (Kind::Numbers, ast::Value::Object(object)) => self.numbers(object),
            (Kind::List { of, least, most }, ast::Value::Array(array)) => {
                self.count(array, *least, *most)?;
                let items = array.elements.iter().filter_map(|e| self.value(e, of)).collect();
                Some(self.node(Value::List(items), array.range))
            }
            (Kind::Point | Kind::Point3, ast::Value::Array(array)) => self.point(array, kind),
            (Kind::Size(_) | Kind::Weight, ast::Value::Object(_)) => self.sourced(value, kind),
            (_, ast::Value::BooleanLit(flag)) => Some(self.node(Value::Flag(flag.value), flag.range)),
            _ => self.scalar(value, kind),
        }
    }

    fn wrong_type(&mut self, value: &ast::Value, kind: &Kind) -> Option<Node> {
        let found = match value {
            ast::Value::StringLit(_) => "a text",
            ast::Value::NumberLit(_) => "a number",
            ast::Value::BooleanLit(_) => "true or false",
            ast::Value::Array(_) => "a list",
            _ => "an object",
        };
        let mut range = value.range();
        if matches!(value, ast::Value::Array(_) | ast::Value::Object(_)) {
            range.end = range.start + 1;
        }
        let problem = Problem::new("wrong-type", &self.place(range), format!("{found} stands here"))
            .help(format!("write {}", kind.expected()));
        self.tell(problem);
        None
    }

    /// An object whose keys the user chooses.
    fn map(&mut self, object: &ast::Object, of: &'static Kind) -> Option<Node> {
        let mut entries: Vec<Entry> = Vec::new();
        let mut seen = std::collections::BTreeSet::new();
        for property in &object.properties {
            let (key, range) = (property.name.as_str(), property.name.range());
            if key == "note" {
                self.value(&property.value, &Kind::Words);
                continue;
            }
            if !seen.insert(key) {
                self.twice(key, range);
                continue;
            }
            self.id(key, range);
            if let Some(node) = self.value(&property.value, of) {
                entries.push(Entry { key: key.into(), key_place: self.place(range), node });
            } else {
                let node = self.node(Value::Refused(ids_in(&property.value)), property.value.range());
                entries.push(Entry { key: key.into(), key_place: self.place(range), node });
            }
        }
        Some(self.node(Value::Object(entries), object.range))
    }

    /// Whether a text is an id; tells why not.
    pub(super) fn id(&mut self, text: &str, range: Range) -> bool {
        let fine = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
        let good = text.starts_with(|c: char| c.is_ascii_alphanumeric())
            && text.chars().all(fine)
            && text.len() <= MOST_ID;
        if !good {
            let problem = Problem::new("bad-id", &self.place(range), format!("`{}` is no id", short(text)))
                .help(
                    "an id starts with a letter or digit; then letters, digits, - and _, at most 64 in all",
                );
            self.tell(problem);
        }
        good
    }

    /// Whether a list has as many elements as it should.
    pub(super) fn count(&mut self, array: &ast::Array, least: usize, most: usize) -> Option<()> {
        let n = array.elements.len();
        if (least..=most).contains(&n) {
            return Some(());
        }
        let asked = match (least, most) {
            (a, b) if a == b => format!("exactly {a}"),
            (a, usize::MAX) => format!("at least {a}"),
            (a, b) => format!("{a} to {b}"),
        };
        let range = Range { start: array.range.start, end: array.range.start + 1 };
        let elements = if n == 1 { "element" } else { "elements" };
        let problem = Problem::new("wrong-count", &self.place(range), format!("the list has {n} {elements}"))
            .help(format!(
                "{asked} are asked{}",
                if n > most { "; a decimal comma makes two of one number" } else { "" }
            ));
        self.tell(problem);
        None
    }

    /// Tells a refused quantity, with the caret at the very characters of the text.
    pub(super) fn refused(&mut self, value: &ast::Value, error: &QuantityError) {
        let whole = value.range();
        let range = match value {
            ast::Value::StringLit(_) => {
                let raw = self.lines.text().get(self.base + whole.start..self.base + whole.end).unwrap_or("");
                let (start, end) = (raw_offset(raw, error.start), raw_offset(raw, error.end));
                let range = Range { start: whole.start + start, end: whole.start + end };
                if range.end > range.start { range } else { whole }
            }
            _ => whole,
        };
        let problem = Problem::new(error.code(), &self.place(range), error.to_string()).help(error.help());
        self.tell(problem);
    }
}

/// A name with its article.
fn article(name: &str) -> String {
    match name.chars().next() {
        Some('a' | 'e' | 'i' | 'o') => format!("an {name}"),
        _ => format!("a {name}"),
    }
}

/// A text cut to a length that fits a message.
pub(super) fn short(text: &str) -> String {
    if text.chars().count() <= 60 {
        text.to_string()
    } else {
        format!("{}...", text.chars().take(57).collect::<String>())
    }
}
