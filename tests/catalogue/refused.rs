//! A definition with one required field broken is refused, and the problem says where.

use super::{files, read};
use panelwright::define::instrument::INSTRUMENT;
use panelwright::define::table::{Kind, Need, Record};
use serde_json::{Value, json};
use std::sync::Arc;

/// JSON pointers of every required field that stands in a file, found by walking the reader's table.
fn required(value: &Value, record: &'static Record, at: &str, found: &mut Vec<String>) {
    let Value::Object(entries) = value else { return };
    for (key, inner) in entries {
        let Some(field) = record.field(key) else { continue };
        let here = format!("{at}/{key}");
        if field.need == Need::Must {
            found.push(here.clone());
        }
        inside(inner, &field.kind, &here, found);
    }
}

fn inside(value: &Value, kind: &'static Kind, at: &str, found: &mut Vec<String>) {
    match (kind, value) {
        (Kind::Object(record), _) => required(value, record, at, found),
        (Kind::List { of, .. }, Value::Array(items)) => {
            for (k, item) in items.iter().enumerate() {
                inside(item, of, &format!("{at}/{k}"), found);
            }
        }
        (Kind::Map(of), Value::Object(entries)) => {
            for (key, item) in entries {
                inside(item, of, &format!("{at}/{key}"), found);
            }
        }
        (Kind::Either(kinds), _) => kinds.iter().for_each(|kind| inside(value, kind, at, found)),
        _ => {}
    }
}

fn without(mut whole: Value, pointer: &str) -> Value {
    let (parent, key) = pointer.rsplit_once('/').expect("a pointer has a parent");
    whole.pointer_mut(parent).and_then(Value::as_object_mut).expect("the parent").remove(key);
    whole
}

fn with(mut whole: Value, pointer: &str, other: Value) -> Value {
    *whole.pointer_mut(pointer).expect("the field") = other;
    whole
}

fn refused(name: &str, broken: &Value, what: &str) {
    let text: Arc<str> = Arc::from(format!("{broken:#}"));
    let Err(problems) = read(name, &text) else { panic!("{name}: {what} is taken") };
    let first = problems.sorted()[0].place.clone().unwrap_or_else(|| panic!("{name}: {what}: no place"));
    assert!(first.line >= 1 && first.column >= 1, "{name}: {what}: {first:?}");
}

#[test]
fn any_required_field_that_is_missing_or_broken_is_told() {
    let mut all = 0;
    for (name, text) in files() {
        let whole: Value = serde_json::from_str(&text).expect("JSON");
        let mut fields = Vec::new();
        required(&whole, &INSTRUMENT, "", &mut fields);
        assert!(fields.len() >= 3, "{name}: {fields:?}");
        all += fields.len();
        for field in fields {
            refused(&name, &without(whole.clone(), &field), &format!("{field} missing"));
            for other in [json!(null), json!("")] {
                refused(&name, &with(whole.clone(), &field, other.clone()), &format!("{field} = {other}"));
            }
        }
    }
    assert!(all > 300, "{all} required fields were broken");
}

#[test]
fn a_size_that_is_none_is_told() {
    for (name, text) in files() {
        let whole: Value = serde_json::from_str(&text).expect("JSON");
        for pointer in
            ["/openings/0/shape/circle", "/holes/0/diameter", "/bezel/shape/circle", "/case/circle"]
        {
            if whole.pointer(pointer).is_none() {
                continue;
            }
            for other in [json!(0), json!(-3), json!("79,4"), json!("NaN"), json!("3 1/8 furlongs")] {
                refused(&name, &with(whole.clone(), pointer, other.clone()), &format!("{pointer} = {other}"));
            }
        }
    }
}
