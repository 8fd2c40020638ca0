//! The numbers of a chosen item, as the page lists them, and its own said or taken back in one step.

use super::answer::{Answer, done, own, refused};
use super::session::Session;
use crate::define::Word;
use crate::define::instrument::{Basis, number_doc, typed};
use crate::edit::{Edit, Refusal, Said};
use crate::files::Disk;
use crate::panel::{NumberLine, Subject};
use crate::resolve;
use serde_json::{Map, Value, json};

/// Longest text that the page may give for one of a source's words.
const MOST: usize = 200;

/// The answer to a message of the page about numbers: the list that it asks for, or why what it asks for is refused; `None`
/// where the new state tells it.
pub fn ask_numbers(s: &mut Session, m: &Value) -> Option<Value> {
    answer(s, m).own
}

/// Answers what the page asks of numbers.
pub(super) fn answer(s: &mut Session, m: &Value) -> Answer {
    let id = m["id"].as_str().unwrap_or("");
    let Some(subject) = s.panel.find(id).and_then(|k| s.panel.subjects.get(k)) else {
        return refused(&Refusal::Words(format!("there is no {id} on the panel")));
    };
    if m["do"] == "numbers" {
        return match told(s, subject) {
            Ok(v) => own(v),
            Err(why) => refused(&why),
        };
    }
    if id.contains(':') {
        let words =
            format!("{id} belongs to a floating panel: open that panel's own file to say its numbers");
        return refused(&Refusal::Words(words));
    }
    match asked(s, id, m) {
        Ok(edits) => done(s.edits(&edits)),
        Err(why) => refused(&Refusal::Words(why)),
    }
}

/// All numbers of an item, and the sources that the file has.
fn told(s: &Session, subject: &Subject) -> Result<Value, Refusal> {
    let disk = Disk::new("");
    let lines =
        resolve::numbers_of(subject, &disk, s.catalogue()).map_err(|p| Refusal::Words(p.to_string()))?;
    let facts = subject.facts.as_ref();
    let one = |l: &NumberLine| {
        json!({
            "path": l.path, "says": number_doc(&l.path),
            "stated": l.stated.as_ref().map(|(words, source)| json!({ "words": words, "source": &*source.words })),
            "own": l.own.as_ref().map(|o| json!({ "words": o.written, "named": o.named, "source": &*o.source.words })),
        })
    };
    Ok(json!({
        "kind": "numbers", "id": subject.id, "revision": s.revision, "title": subject.title,
        "instrument": facts.map(|f| &f.instrument), "lines": lines.iter().map(one).collect::<Vec<_>>(),
        "sources": sources(s.text()), "bases": Basis::WORDS.iter().map(|(w, says)| json!([w, says])).collect::<Vec<_>>(),
    }))
}

/// The names of the file's sources, each with what it says.
fn sources(text: &str) -> Vec<Value> {
    let root: Value = serde_json::from_str(text).unwrap_or_default();
    let all = root["sources"].as_object().cloned().unwrap_or_default();
    let words = |v: &Value| {
        let said = ["basis", "document", "revision", "who", "when"].iter().filter_map(|k| v[*k].as_str());
        said.collect::<Vec<_>>().join(", ")
    };
    all.iter().filter(|(_, v)| v.is_object()).map(|(name, v)| json!([name, words(v)])).collect()
}

/// The edits of one step: numbers that were typed, and those that are taken back.
fn asked(s: &Session, id: &str, m: &Value) -> Result<Vec<Edit>, String> {
    let mut all = Vec::new();
    let typed_in: Vec<(&str, &str)> = m["set"]
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(|pair| Some((pair.get(0)?.as_str()?, pair.get(1)?.as_str()?)))
        .collect();
    let name = m["source"].as_str().unwrap_or("").trim().to_owned();
    if !typed_in.is_empty() && name.is_empty() {
        return Err("say where the numbers come from: choose a source of the file, or name a new one".into());
    }
    let mut fresh = fresh(&m["fresh"])?.map(|entry| Box::new((name.clone(), entry)));
    for (path, words) in typed_in {
        let t = typed(path, words, s.panel.unit)?;
        let said = Some(Box::new(Said { of: t.of, off: t.off, source: name.clone() }));
        all.push(Edit::Number { id: id.into(), path: path.into(), said, source: fresh.take() });
    }
    for path in m["clear"].as_array().into_iter().flatten().filter_map(Value::as_str) {
        all.push(Edit::Number { id: id.into(), path: path.into(), said: None, source: None });
    }
    if all.is_empty() {
        return Err("no number was typed or taken back".into());
    }
    Ok(all)
}

/// What a new source says; `None`: one that is there.
fn fresh(v: &Value) -> Result<Option<Value>, String> {
    let Some(given) = v.as_object() else { return Ok(None) };
    let mut entry = Map::new();
    for key in ["basis", "document", "who", "when"] {
        let words = given.get(key).and_then(Value::as_str).map(str::trim).filter(|w| !w.is_empty());
        let Some(words) = words else { continue };
        if words.chars().count() > MOST {
            return Err(format!("the source's {key} is longer than {MOST} letters: shorten it"));
        }
        entry.insert(key.into(), words.into());
    }
    let known = entry.get("basis").and_then(Value::as_str).is_some_and(|b| Basis::named(b).is_some());
    if !known {
        return Err("say the standing of the new source: measured, maker's drawing, standard ...".into());
    }
    if entry.len() < 2 {
        return Err(
            "say who measured and when, or which document: a source without either proves nothing".into()
        );
    }
    Ok(Some(entry.into()))
}
