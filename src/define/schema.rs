//! JSON Schema (draft 2020-12) of the files, generated from the table that the reader uses.
//!
//! What a schema cannot say, the reader alone refuses: a unit that no one declares, an id that
//! stands twice, a source that is not there, a length of more than 100 m.

use super::check::{ID_PATTERN, SIGNED_PATTERN};
use super::document::FileKind;
use super::scalar::{SIZE, WEIGHT};
use super::table::{Field, Kind, Need, Record, Rule};
use super::{instrument, panel, survey};
use crate::units::Sign;
use serde_json::{Map, Value, json};

/// A number as it may stand in a text: decimal, fraction, or whole number and fraction.
const NUMBER: &str =
    r"(?:[0-9]+/[0-9]+|[0-9]+(?:-|\s+)[0-9]+/[0-9]+|(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)";
const UNIT: &str = "(?:mm|cm|m|um|\u{b5}m|\u{3bc}m|in\\.?|inch|inches|\"|\u{201d}|\u{2033}|mils?|thou)";
const INCH: &str = "(?:in\\.?|inch|inches|\"|\u{201d}|\u{2033})";
const FOOT: &str = "(?:ft\\.?|foot|feet|'|\u{2019}|\u{2032})";

/// The schema of a panel file.
pub fn panel() -> Value {
    schema(&panel::FILE)
}

/// The schema of an instrument file.
pub fn instrument() -> Value {
    schema(&instrument::FILE)
}

/// The schema of a survey file.
pub fn survey() -> Value {
    schema(&survey::FILE)
}

fn schema(kind: &FileKind) -> Value {
    let mut defs = Defs(Map::new());
    let root = defs.record(kind.record, None);
    let mut out = Map::new();
    out.insert("$schema".into(), json!("https://json-schema.org/draft/2020-12/schema"));
    out.insert("title".into(), json!(format!("{} file", kind.key)));
    if let Value::Object(root) = root {
        out.extend(root);
    }
    out.insert("$defs".into(), Value::Object(defs.0));
    Value::Object(out)
}

/// The named parts of a schema, each written once.
struct Defs(Map<String, Value>);

impl Defs {
    /// A reference to a named part, which is made at its first use.
    fn named(&mut self, name: &str, make: impl FnOnce(&mut Self) -> Value) -> Value {
        let name = name.replace(' ', "-");
        if !self.0.contains_key(&name) {
            // The place is taken first, so that the parts stand in the order of their first use.
            self.0.insert(name.clone(), Value::Null);
            let made = make(self);
            self.0.insert(name.clone(), made);
        }
        json!({ "$ref": format!("#/$defs/{name}") })
    }

    /// An object with known keys. `of` replaces the kind of the key `of`, whose sign depends on
    /// where a size stands.
    fn record(&mut self, record: &Record, of: Option<&Kind>) -> Value {
        let mut properties = Map::new();
        for Field { key, doc, kind, .. } in record.all() {
            let kind = of.filter(|_| *key == "of").unwrap_or(kind);
            let mut value = self.kind(kind);
            if let Value::Object(value) = &mut value {
                value.insert("description".into(), json!(doc));
            }
            properties.insert((*key).into(), value);
        }
        properties.insert("note".into(), json!({ "type": "string", "description": "A remark." }));
        let required: Vec<&str> = record.all().filter(|f| f.need == Need::Must).map(|f| f.key).collect();
        let rules: Vec<Value> = record.rules.iter().copied().flatten().flat_map(rule).collect();
        let mut out = Map::new();
        out.insert("description".into(), json!(record.doc));
        out.insert("type".into(), json!("object"));
        out.insert("properties".into(), Value::Object(properties));
        out.insert("additionalProperties".into(), json!(false));
        if !required.is_empty() {
            out.insert("required".into(), json!(required));
        }
        if !rules.is_empty() {
            out.insert("allOf".into(), json!(rules));
        }
        Value::Object(out)
    }

    /// An item's own numbers: of each kind of number a pattern of the paths at which it may stand.
    fn numbers(&mut self) -> Value {
        // an element of a list is named by its id or its number
        const ELEMENT: &str = "[^.]+";
        let mut kinds: Vec<(Value, Vec<String>)> = Vec::new();
        for (path, kind) in instrument::all_numbers(ELEMENT) {
            let part = self.kind(kind);
            let path = path.replace(ELEMENT, "*").replace('.', r"\.").replace('*', ELEMENT);
            match kinds.iter_mut().find(|(p, _)| *p == part) {
                Some((_, paths)) => paths.push(path),
                None => kinds.push((part, vec![path])),
            }
        }
        let patterns: Map<String, Value> =
            kinds.into_iter().map(|(part, paths)| (format!("^(?:{})$", paths.join("|")), part)).collect();
        json!({
            "description": "Numbers in place of the definition's, by the paths that `panelwright instruments show` prints.",
            "type": "object",
            "properties": { "note": { "type": "string", "description": "A remark." } },
            "patternProperties": patterns,
            "additionalProperties": false,
        })
    }

    fn kind(&mut self, kind: &Kind) -> Value {
        match kind {
            Kind::Length(sign) => self.named(length_name(*sign), |_| length(*sign)),
            Kind::Size(sign) => {
                let name = match sign {
                    Sign::Any => "depth",
                    Sign::NotNegative => "room",
                    Sign::Positive => "size",
                };
                self.named(name, |defs| {
                    let of = Kind::Length(*sign);
                    let plain = defs.kind(&of);
                    json!({ "anyOf": [plain, defs.record(&SIZE, Some(&of))] })
                })
            }
            Kind::Angle => self.named("angle", |_| {
                text_or_number(&format!(r"^\s*-?{NUMBER}\s*(?:deg|degrees?|°)?\s*$"), -360, 360)
            }),
            Kind::Current => {
                self.named("amperes", |_| text_or_number(&format!(r"^\s*{NUMBER}\s*m?A?\s*$"), 0, 1000))
            }
            Kind::Mass => self.named(
                "mass",
                |_| json!({ "type": "string", "pattern": format!(r"^\s*{NUMBER}\s*(?:kg|g|lbs?|oz)\s*$") }),
            ),
            Kind::Weight => self.named("weight", |defs| {
                let plain = defs.kind(&Kind::Mass);
                json!({ "anyOf": [plain, defs.record(&WEIGHT, None)] })
            }),
            Kind::Amount => self.named("amount", |defs| {
                let length = defs.kind(&Kind::Length(Sign::Any));
                let other = r"^\s*-?(?:[0-9]+\.?[0-9]*|\.[0-9]+)\s*(?:D|deg|°)\s*$";
                json!({ "anyOf": [length, { "type": "string", "pattern": other }] })
            }),
            Kind::Number { least, most } => json!({ "type": "number", "minimum": least, "maximum": most }),
            Kind::Whole { least, most } => json!({ "type": "integer", "minimum": least, "maximum": most }),
            Kind::Text | Kind::Path => json!({ "type": "string", "pattern": r"\S" }),
            Kind::Signed => json!({ "type": "string", "pattern": SIGNED_PATTERN }),
            Kind::Words => json!({ "type": "string" }),
            Kind::Id => json!({ "type": "string", "pattern": ID_PATTERN }),
            Kind::Flag => json!({ "type": "boolean" }),
            Kind::Choice(words) => {
                let each = |(word, doc): &(&str, &str)| json!({ "const": word, "description": doc });
                json!({ "oneOf": words.iter().map(each).collect::<Vec<_>>() })
            }
            Kind::Point | Kind::Point3 => {
                let n = if matches!(kind, Kind::Point) { 2 } else { 3 };
                let of = self.kind(&Kind::Length(Sign::Any));
                json!({ "type": "array", "items": of, "minItems": n, "maxItems": n })
            }
            Kind::List { of, least, most } => {
                let mut out = json!({ "type": "array", "items": self.kind(of) });
                if *least > 0 {
                    out["minItems"] = json!(least);
                }
                if *most < usize::MAX {
                    out["maxItems"] = json!(most);
                }
                out
            }
            Kind::Map(of) => json!({
                "type": "object",
                "properties": { "note": { "type": "string", "description": "A remark." } },
                "propertyNames": { "pattern": ID_PATTERN },
                "additionalProperties": self.kind(of),
            }),
            Kind::Numbers => self.named("numbers", |defs| defs.numbers()),
            Kind::Object(record) => self.named(record.name, |defs| defs.record(record, None)),
            Kind::Either(kinds) => {
                json!({ "anyOf": kinds.iter().map(|kind| self.kind(kind)).collect::<Vec<_>>() })
            }
        }
    }
}

fn length_name(sign: Sign) -> &'static str {
    match sign {
        Sign::Any => "length",
        Sign::NotNegative => "length-not-negative",
        Sign::Positive => "length-positive",
    }
}

fn length(sign: Sign) -> Value {
    let minus = if sign == Sign::Any { "-?" } else { "" };
    let pattern =
        format!(r"^\s*{minus}(?:{NUMBER}\s*{UNIT}?|{NUMBER}\s*{FOOT}(?:\s*-?{NUMBER}\s*{INCH})?)\s*$");
    let number = match sign {
        Sign::Any => json!({ "type": "number" }),
        Sign::NotNegative => json!({ "type": "number", "minimum": 0 }),
        Sign::Positive => json!({ "type": "number", "exclusiveMinimum": 0 }),
    };
    let examples = json!(["3 1/8 in", "79.4 mm"]);
    json!({ "anyOf": [{ "type": "string", "pattern": pattern, "examples": examples }, number] })
}

fn text_or_number(pattern: &str, least: i64, most: i64) -> Value {
    json!({ "anyOf": [
        { "type": "string", "pattern": pattern },
        { "type": "number", "minimum": least, "maximum": most },
    ] })
}

/// What one rule asks, as schemas that all hold.
fn rule(rule: &Rule) -> Vec<Value> {
    let has = |key: &&str| json!({ "required": [key] });
    match rule {
        Rule::One(keys) => vec![json!({ "oneOf": keys.iter().map(has).collect::<Vec<_>>() })],
        Rule::AtLeastOne(keys) => vec![json!({ "anyOf": keys.iter().map(has).collect::<Vec<_>>() })],
        Rule::AtMostOne(keys) => {
            let after = |i: usize| keys.iter().skip(i + 1);
            let pairs = keys.iter().enumerate().flat_map(|(i, a)| after(i).map(move |b| (a, b)));
            pairs.map(|(a, b)| json!({ "not": { "required": [a, b] } })).collect()
        }
        Rule::Beside { key, beside } => vec![json!({
            "if": has(key),
            "then": { "anyOf": beside.iter().map(has).collect::<Vec<_>>() },
        })],
    }
}
