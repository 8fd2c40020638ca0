//! Every field of every definition, broken one at a time in the file's own text: of the wrong type, with its
//! key misspelt, a size made negative. The reader refuses each with a code and with line and column where the
//! change was made.

use super::scan::{Spot, What, line_and_column, scan};
use super::{files, read};
use panelwright::define::instrument::INSTRUMENT;
use panelwright::define::table::{Kind, Record};
use panelwright::units::Sign;
use std::ops::Range;
use std::sync::Arc;

/// One change of a text.
struct Break {
    /// What was done, for the message of a failure.
    what: String,
    /// Bytes that are replaced, and by what.
    at: Range<usize>,
    by: String,
    /// The bytes of the field, key and value: a problem must be told inside of them.
    field: Range<usize>,
    /// A name that others refer to: the problem is told where they do.
    name: bool,
}

/// What may stand at a place of the file, as far as the breaking needs to know.
#[derive(Clone, Copy)]
enum Place {
    Of(&'static Kind),
    /// Within a size that is written as an object.
    InSize(Sign),
}

struct Breaker<'a> {
    text: &'a str,
    breaks: Vec<Break>,
}

impl Breaker<'_> {
    fn object(&mut self, entries: &[(String, Range<usize>, Spot)], record: &'static Record, path: &str) {
        for (key, key_at, value) in entries {
            let kind = record.field(key).map(|f| Place::Of(&f.kind));
            self.field(key_at, value, kind, &format!("{path}.{key}"), false);
        }
    }

    /// Breaks one entry, its key too, then what is inside of it.
    fn field(&mut self, key: &Range<usize>, value: &Spot, place: Option<Place>, path: &str, name: bool) {
        let field = key.start..value.at.end;
        let misspelt = format!("{}x\"", &self.text[key.start..key.end - 1]);
        self.breaks.push(Break {
            what: format!("{path}: key {misspelt}"),
            at: key.clone(),
            by: misspelt,
            field: field.clone(),
            name,
        });
        self.value(value, place, path, &field);
    }

    fn value(&mut self, value: &Spot, place: Option<Place>, path: &str, field: &Range<usize>) {
        // nothing takes both a flag and a text
        let other = if matches!(value.what, What::Flag) { "\"true\"" } else { "true" };
        self.put(format!("{path} = {other}"), value.at.clone(), other.into(), field);
        if let Some(place) = place {
            self.inside(value, place, path, field);
        }
    }

    /// Breaks a size, and whatever a list or an object holds.
    fn inside(&mut self, value: &Spot, place: Place, path: &str, field: &Range<usize>) {
        if let Some(sign) = sign(place, path)
            && matches!(value.what, What::Number | What::Text)
        {
            self.negative(value, sign, path, field);
        }
        match (&value.what, place) {
            (What::Object(entries), Place::Of(Kind::Object(record))) => self.object(entries, record, path),
            (What::Object(entries), Place::Of(Kind::Map(of))) => {
                for (key, key_at, inner) in entries {
                    self.field(key_at, inner, Some(Place::Of(of)), &format!("{path}.{key}"), true);
                }
            }
            (What::Object(entries), Place::Of(Kind::Size(sign))) => {
                for (key, key_at, inner) in entries {
                    let size = (key != "source").then_some(Place::InSize(*sign));
                    self.field(key_at, inner, size, &format!("{path}.{key}"), false);
                }
            }
            (What::Object(entries), Place::Of(kind @ Kind::Weight)) => {
                for (key, key_at, inner) in entries {
                    let mass = (key != "source").then_some(Place::Of(kind));
                    self.field(key_at, inner, mass, &format!("{path}.{key}"), false);
                }
            }
            (What::List(items), Place::Of(Kind::List { of, .. })) => {
                for (k, item) in items.iter().enumerate() {
                    self.value(item, Some(Place::Of(of)), &format!("{path}.{k}"), &item.at);
                }
            }
            (What::List(items), Place::Of(Kind::Point | Kind::Point3)) => {
                for (k, item) in items.iter().enumerate() {
                    self.value(item, None, &format!("{path}.{k}"), &item.at);
                }
            }
            (_, Place::Of(Kind::Either(kinds))) => {
                let list = matches!(value.what, What::List(_));
                let fits = |k: &&Kind| list == matches!(k, Kind::List { .. });
                if let Some(kind) = kinds.iter().find(fits) {
                    self.inside(value, Place::Of(kind), path, field);
                }
            }
            _ => {}
        }
    }

    fn negative(&mut self, value: &Spot, sign: Sign, path: &str, field: &Range<usize>) {
        let said = &self.text[value.at.clone()];
        let (quote, number) = match said.strip_prefix('"') {
            Some(rest) => ("\"", rest),
            None => ("", said),
        };
        let zero = number.starts_with('0') && !number.contains(|c: char| ('1'..='9').contains(&c));
        let below = if zero { format!("{quote}-1{}", &number[1..]) } else { format!("{quote}-{number}") };
        self.put(format!("{path} = {below}"), value.at.clone(), below, field);
        if sign == Sign::Positive {
            self.put(format!("{path} = 0"), value.at.clone(), "0".into(), field);
        }
    }

    fn put(&mut self, what: String, at: Range<usize>, by: String, field: &Range<usize>) {
        self.breaks.push(Break { what, at, by, field: field.clone(), name: false });
    }
}

/// The sign that a number must have; none where any will do.
fn sign(place: Place, path: &str) -> Option<Sign> {
    match place {
        Place::Of(Kind::Size(sign)) => Some(*sign),
        Place::InSize(sign) if path.ends_with(".of") => Some(sign),
        Place::InSize(_) => Some(Sign::NotNegative),
        Place::Of(Kind::Weight | Kind::Current) => Some(Sign::NotNegative),
        Place::Of(_) => None,
    }
    .filter(|sign| *sign != Sign::Any)
}

fn breaks(text: &str) -> Vec<Break> {
    let mut breaker = Breaker { text, breaks: Vec::new() };
    let root = scan(text);
    let What::Object(entries) = &root.what else { panic!("a definition is an object") };
    breaker.object(entries, &INSTRUMENT, "");
    breaker.breaks
}

/// Refused, and told at the right place: `Err` says what went wrong.
fn refused(name: &str, text: &str, b: &Break) -> Result<(), String> {
    let broken = format!("{}{}{}", &text[..b.at.start], b.by, &text[b.at.end..]);
    let Err(problems) = read(name, &Arc::from(broken.as_str())) else { return Err("is taken".into()) };
    let grown = b.by.len() as isize - b.at.len() as isize;
    let field = b.field.start..b.field.end.saturating_add_signed(grown);
    let mut told = false;
    for p in problems.sorted() {
        let Some(place) = &p.place else { return Err(format!("{p}: no place")) };
        let (line, column) = line_and_column(&broken, place.start);
        if p.code.is_empty() || p.message.is_empty() || &*place.file != name {
            return Err(format!("{p}: code, message or file"));
        }
        if (place.line, place.column) != (line, column) {
            return Err(format!("{p}: stands at {line}:{column}"));
        }
        told |= field.contains(&place.start) && place.end <= field.end;
        told |= b.name && p.code == "unknown-source";
    }
    if told { Ok(()) } else { Err(format!("not told where it was broken\n{}", problems.render(false))) }
}

#[test]
fn every_field_broken_is_refused_where_it_stands() {
    let (mut all, mut wrong) = (0, Vec::new());
    for (name, text) in files() {
        let breaks = breaks(&text);
        assert!(breaks.len() > 40, "{name}: {} breaks", breaks.len());
        all += breaks.len();
        let none =
            Break { what: String::new(), at: 0..0, by: String::new(), field: 0..text.len(), name: false };
        assert_eq!(refused(&name, &text, &none), Err("is taken".into()), "{name}: unbroken");
        for b in &breaks {
            if let Err(why) = refused(&name, &text, b) {
                wrong.push(format!("{name}: {}: {why}", b.what));
            }
        }
    }
    assert!(wrong.is_empty(), "{} of {all}:\n{}", wrong.len(), wrong.join("\n"));
    assert!(all > 10_000, "{all} breaks");
}

/// The scanner finds what serde_json finds: the same keys in the same order, at every depth.
#[test]
fn the_scanner_sees_what_is_there() {
    fn same(text: &str, spot: &Spot, value: &serde_json::Value) -> usize {
        use serde_json::Value;
        match (&spot.what, value) {
            (What::Object(entries), Value::Object(map)) => {
                assert!(entries.iter().map(|e| &e.0).eq(map.keys()));
                entries.iter().zip(map.values()).map(|(e, v)| same(text, &e.2, v)).sum::<usize>()
                    + entries.len()
            }
            (What::List(items), Value::Array(list)) => {
                assert_eq!(items.len(), list.len());
                items.iter().zip(list).map(|(i, v)| same(text, i, v)).sum()
            }
            _ => {
                let own: Value = serde_json::from_str(&text[spot.at.clone()]).expect("a value");
                assert_eq!(own, *value);
                0
            }
        }
    }
    for (name, text) in files() {
        let value = serde_json::from_str(&text).expect("JSON");
        assert!(same(&text, &scan(&text), &value) > 10, "{name}");
    }
}
