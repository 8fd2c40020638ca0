//! The generated JSON Schemas against another validator: jsonschema (PyPI), draft 2020-12. Reader and
//! validator agree on every structural error of good, random and damaged files.

use crate::catalogue::{disk, names, panels};
use crate::generate::{Maker, damage};
use crate::{instrument, panel};
use panelwright::define::table::{Kind, Rule};
use panelwright::define::{instrument::INSTRUMENT, panel::PANEL, read_survey, schema, survey::SURVEY};
use panelwright::diag::Problems;
use panelwright::files::Files;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::io::Write;
use std::process::{Command, Stdio};

/// Errors that no schema can say: they need the whole file, or the value of a text.
const BEYOND: &[&str] = &[
    "absurd-value",
    "empty-range",
    "missing-instrument",
    "missing-outline",
    "no-depth",
    "no-unit",
    "too-fine",
    "twice-id",
    "twice-key",
    "unknown-source",
    "wrong-end",
    "zero-division",
    "zero-size",
];

/// Asks the other validator about all cases at once: (kind, text) to an error or none.
fn validate(cases: &[(&str, String)]) -> Vec<Option<String>> {
    let python = std::env::var("PANELWRIGHT_PYTHON").unwrap_or_else(|_| ".venv/bin/python".to_owned());
    let given = json!({
        "schemas": { "panel": schema::panel(), "instrument": schema::instrument(), "survey": schema::survey() },
        "cases": cases.iter().map(|(kind, text)| json!({ "kind": kind, "text": text })).collect::<Vec<_>>(),
    });
    let mut child = Command::new(python)
        .arg("tests/oracle/schema_check.py")
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("set PANELWRIGHT_PYTHON to a Python that has jsonschema");
    child.stdin.take().unwrap().write_all(given.to_string().as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success(), "the schemas are not valid, or jsonschema is missing");
    serde_json::from_slice::<Vec<Option<String>>>(&output.stdout).unwrap()
}

/// What the reader says: (structural error, any error).
fn read(kind: &str, text: &str) -> (bool, bool, String) {
    let problems = match kind {
        "panel" => panel(text).1,
        "survey" => {
            let mut problems = Problems::new();
            read_survey("survey.json", &text.into(), &mut problems);
            problems
        }
        _ => instrument(text).1,
    };
    let structural = problems.sorted().iter().any(|p| !BEYOND.contains(&p.code));
    (structural, !problems.is_empty(), problems.to_string())
}

#[test]
fn reader_and_schema_agree_on_good_random_and_damaged_files() {
    let mut cases: Vec<(&str, String)> = Vec::new();
    for name in names("instruments") {
        cases.push(("instrument", disk().read(&name).unwrap().to_string()));
    }
    for name in panels().into_iter().chain(names("assets/starter")) {
        cases.push(("panel", disk().read(&name).unwrap().to_string()));
    }
    for name in names("surveys") {
        cases.push(("survey", disk().read(&name).unwrap().to_string()));
    }
    let shipped = cases.len();
    for seed in 0..150 {
        for (kind, record) in [("instrument", &INSTRUMENT), ("panel", &PANEL), ("survey", &SURVEY)] {
            let mut maker = Maker::new(seed);
            let mut file = maker.file(record);
            cases.push((kind, serde_json::to_string_pretty(&file).unwrap()));
            for _ in 0..3 {
                damage(&mut file, &mut maker.dice);
                cases.push((kind, serde_json::to_string_pretty(&file).unwrap()));
            }
        }
    }
    let answers = validate(&cases);
    assert_eq!(answers.len(), cases.len());
    let mut refused = 0;
    for (i, ((kind, text), answer)) in cases.iter().zip(&answers).enumerate() {
        let (structural, any, words) = read(kind, text);
        if i < shipped || (i - shipped).is_multiple_of(4) {
            assert!(!structural, "a file made by the table is refused: {words}\n{text}");
            assert_eq!(*answer, None, "{text}");
        }
        if structural {
            assert!(answer.is_some(), "the schema lets pass what the reader refuses: {words}\n{text}");
        }
        if let Some(error) = answer {
            refused += 1;
            assert!(any, "the reader lets pass what the schema refuses: {error}\n{text}");
        }
    }
    assert!(refused > 500, "only {refused} files were damaged enough to be refused");
}

#[test]
fn the_schema_names_every_part_once_and_describes_every_key() {
    for schema in [schema::panel(), schema::instrument(), schema::survey()] {
        let defs = schema["$defs"].as_object().unwrap();
        let mut todo: Vec<&Value> = vec![&schema];
        while let Some(value) = todo.pop() {
            match value {
                Value::Object(map) => {
                    if let Some(Value::String(name)) = map.get("$ref") {
                        assert!(defs.contains_key(name.trim_start_matches("#/$defs/")), "{name}");
                    }
                    if let Some(Value::Object(properties)) = map.get("properties") {
                        for (key, property) in properties {
                            assert!(property["description"].as_str().is_some_and(|d| d.len() > 3), "{key}");
                        }
                    }
                    todo.extend(map.values());
                }
                Value::Array(items) => todo.extend(items),
                _ => {}
            }
        }
    }
}

#[test]
fn alternatives_are_told_apart_by_their_json_types_and_names_mean_one_record() {
    let mut records: BTreeMap<&str, String> = BTreeMap::new();
    let mut todo: Vec<&Kind> =
        vec![&Kind::Object(&INSTRUMENT), &Kind::Object(&PANEL), &Kind::Object(&SURVEY)];
    while let Some(kind) = todo.pop() {
        match kind {
            Kind::Either(kinds) => {
                for (i, a) in kinds.iter().enumerate() {
                    assert!(!a.types().is_empty(), "an alternative within an alternative: {kinds:?}");
                    for b in kinds.iter().skip(i + 1) {
                        assert!(a.types().iter().all(|json| !b.types().contains(json)), "{kinds:?}");
                    }
                }
                todo.extend(kinds.iter());
            }
            Kind::List { of, .. } | Kind::Map(of) => todo.push(of),
            Kind::Object(record) => {
                let whole = format!("{record:?}");
                if let Some(other) = records.insert(record.name, whole.clone()) {
                    assert_eq!(other, whole, "two records are called {}", record.name);
                    continue;
                }
                let mut keys: Vec<&str> = record.all().map(|f| f.key).collect();
                for rule in record.rules.iter().copied().flatten() {
                    let named = match rule {
                        Rule::One(of) | Rule::AtLeastOne(of) | Rule::AtMostOne(of) => of.to_vec(),
                        Rule::Beside { key, beside } => [&[*key], *beside].concat(),
                    };
                    assert!(named.iter().all(|key| keys.contains(key)), "{}: {rule:?}", record.name);
                }
                keys.sort_unstable();
                let n = keys.len();
                keys.dedup();
                assert_eq!(n, keys.len(), "a key stands twice in {}", record.name);
                assert!(!keys.contains(&"note"), "every record has its note already: {}", record.name);
                todo.extend(record.all().map(|f| &f.kind));
            }
            _ => {}
        }
    }
}
