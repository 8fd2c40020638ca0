//! What became of a changed file, and whether that is as it should be.

use super::change::{Change, Sort};
use super::json::{Json, Kind};
use panelwright::check::{Options, RULES, Relation, check};
use panelwright::diag::{Problem, Problems};
use panelwright::files::{Disk, Files};
use panelwright::panel::{Panel, Subject};
use panelwright::report;
use panelwright::resolve::{Catalogue, resolve};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

const ROOT: &str = env!("CARGO_MANIFEST_DIR");

/// The project's files, one of them in other words.
#[derive(Clone)]
pub struct Overlay {
    pub name: String,
    pub bytes: Arc<[u8]>,
}

impl Files for Overlay {
    fn bytes(&self, name: &str) -> Result<Arc<[u8]>, Problem> {
        if name == self.name { Ok(self.bytes.clone()) } else { Disk::new(ROOT).bytes(name) }
    }

    fn list(&self, folder: &str) -> Result<Vec<String>, Problem> {
        Disk::new(ROOT).list(folder)
    }
}

/// What a file gives: a panel with its findings.
pub struct Given {
    panel: Panel,
    /// Findings by id, without their places in files.
    findings: BTreeMap<String, Value>,
}

/// Reads a panel's file, or an instrument's on a sheet of its own.
pub fn read(name: &str, bytes: &[u8]) -> Result<Given, Problems> {
    let files = Overlay { name: name.into(), bytes: bytes.into() };
    let panel = match name.strip_prefix("instruments/") {
        None => resolve(name, &files, &Catalogue::builtin())?,
        Some(one) => {
            let catalogue = Catalogue::with_files(Box::new(files), "instruments");
            catalogue.sample(one.trim_end_matches(".json"))?
        }
    };
    let report = report::json(&panel, &check(&panel, &Options::default()));
    let list = report["findings"].as_array().cloned().unwrap_or_default();
    let findings = list.into_iter().map(|mut f| {
        // lines move, and a cure is worked out from the rest
        for key in ["places", "cure", "accepted"] {
            f.as_object_mut().map(|o| o.remove(key));
        }
        (f["id"].as_str().unwrap_or("").to_string(), bare(f))
    });
    Ok(Given { findings: findings.collect(), panel })
}

/// Words without the places that they name.
fn bare(mut f: Value) -> Value {
    if let Some(words) = f["says"].as_str() {
        f["says"] = words.split(" Written at ").next().unwrap_or("").into();
    }
    f
}

/// How a change ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum End {
    /// Refused; the place meets the change.
    Inside,
    /// Refused; the place is the bracket or the key of what is changed, or the token next to it.
    Around,
    /// Refused where the reader of JSON cannot go on: between the change and the place where another reader
    /// (serde_json) gives up.
    FirstSeen,
    /// Refused where something names what was changed.
    Named,
    /// The findings are the same.
    Same,
    /// The changed file is valid and says something else; only what is changed is judged otherwise.
    Otherwise,
}

/// Judges a changed file against the one before; an error in words where neither is as it should be.
pub fn judge(name: &str, text: &str, before: &Given, change: &Change) -> Result<End, String> {
    let bytes = change.apply(text);
    match read(name, &bytes) {
        Err(problems) => refused(name, text, &bytes, change, &problems),
        Ok(after) => valid(text, &bytes, before, &after),
    }
}

fn refused(
    name: &str,
    text: &str,
    bytes: &[u8],
    change: &Change,
    problems: &Problems,
) -> Result<End, String> {
    let mut ends = Vec::new();
    for p in problems.sorted() {
        if p.code.is_empty() || p.message.is_empty() || p.help.as_ref().is_none_or(String::is_empty) {
            return Err(format!("without code, words or advice: {p}"));
        }
        let place = p.place.as_ref().ok_or(format!("no place: {p}"))?;
        if place.file.as_ref() != name {
            return Err(format!("another file's place: {p}"));
        }
        let before = bytes.get(..place.start).ok_or(format!("beyond the file: {p}"))?;
        let line = 1 + before.iter().filter(|b| **b == b'\n').count();
        let lead = before.rsplit(|b| *b == b'\n').next().unwrap_or(&[]);
        let column = 1 + String::from_utf8_lossy(lead).chars().count();
        if (place.line as usize, place.column as usize) != (line, column) {
            return Err(format!("line and column are not those of byte {}: {p}", place.start));
        }
        ends.push(
            end_of(text, bytes, change, p)
                .ok_or(format!("told elsewhere: {p}\n{}", problems.render(false)))?,
        );
    }
    // the best place of all that are told, and there is one
    ends.into_iter().min().ok_or("refused without a word".into())
}

/// How the place of a problem lies to the change.
fn end_of(text: &str, bytes: &[u8], change: &Change, p: &Problem) -> Option<End> {
    let place = p.place.as_ref()?;
    let own = change.place();
    if place.start <= own.end && place.end >= own.start {
        return Some(End::Inside);
    }
    let json = Json::new(text);
    if p.code == "bad-json" {
        // the token before the change is left without what belongs to it; blanks between do not count
        let between = bytes.get(place.end..own.start).unwrap_or(b"x");
        if between.iter().all(u8::is_ascii_whitespace) {
            return Some(End::Around);
        }
        let seen = match serde_json::from_slice::<Value>(bytes) {
            Ok(_) => return None,
            Err(e) => offset(bytes, e.line(), e.column()),
        };
        return (own.start <= place.start && place.start <= seen).then_some(End::FirstSeen);
    }
    // ahead of the change both texts are the same: the brackets and keys that hold it, two deep
    let holds = json.nodes.iter().filter(|n| n.span.start <= own.start && change.at.end <= n.span.end);
    let mut holds: Vec<_> = holds.collect();
    holds.sort_by_key(|n| n.span.len());
    let near = |n: &&super::json::Node| {
        n.span.start == place.start || n.key.as_ref().is_some_and(|k| k.start == place.start)
    };
    if holds.iter().take(3).any(near) {
        return Some(End::Around);
    }
    // a key that became another one: its value is told
    let shifted = (place.start + change.at.len()).checked_sub(change.new.len());
    let of_key = json
        .nodes
        .iter()
        .find(|n| n.key.as_ref().is_some_and(|k| k.start <= own.start && change.at.end <= k.end));
    if of_key.zip(shifted).is_some_and(|(n, at)| n.span.contains(&at)) {
        return Some(End::Around);
    }
    let source = String::from_utf8_lossy(bytes.get(place.start..place.end)?).into_owned();
    let said = format!("{} {source}", p.message);
    let old = &text[change.at.clone()];
    let new = String::from_utf8_lossy(&change.new).into_owned();
    // an id of which a byte was changed is named whole
    let text_of = holds.first().filter(|n| n.kind == Kind::Text).map(|n| json.of(&n.span));
    let key_of = of_key.and_then(|n| n.key.as_ref()).map(|k| json.of(k));
    let now = of_key.and_then(|n| n.key.as_ref()).and_then(|k| {
        let end = (k.end + change.new.len()).checked_sub(change.at.len())?;
        std::str::from_utf8(bytes.get(k.start..end)?).ok()
    });
    let whole: Vec<&str> = text_of.into_iter().chain(key_of).chain(now).collect();
    let names = |t: &str| {
        t.split(['"', '{', '}', '[', ']', ':', ',', ' ', '\n']).any(|w| w.len() > 1 && said.contains(w))
    };
    if names(old) || names(&new) || whole.iter().any(|w| names(w)) {
        return Some(End::Named);
    }
    // an item that became another instrument: what names the item by its id is told
    let said = holds.first().filter(|n| json.key(n) == "instrument");
    let id = said
        .and_then(|n| n.parent)
        .and_then(|k| json.nodes.iter().find(|n| n.parent == Some(k) && json.key(n) == "id"));
    if id.is_some_and(|n| names(json.of(&n.span))) {
        return Some(End::Named);
    }
    // a file without its unit: every number that has none is told
    let path = holds
        .first()
        .map(|_| json.nodes.iter().position(|n| n.span.start == change.at.start))
        .unwrap_or(None);
    let of_unit = old.contains("\"unit\"")
        || path.is_some_and(|k| json.path(k) == ["unit"])
        || json.nodes.iter().any(|n| {
            json.key(n) == "unit"
                && n.parent == Some(0)
                && n.key.as_ref().is_some_and(|k| k.start <= own.start)
                && own.start <= n.span.end
        });
    (of_unit && ["no-unit", "bare-fraction"].contains(&p.code)).then_some(End::Named)
}

/// The byte of a line and column as serde_json counts them (column in bytes, 0 before the line).
fn offset(bytes: &[u8], line: usize, column: usize) -> usize {
    let starts = bytes.iter().enumerate().filter(|(_, b)| **b == b'\n').map(|(k, _)| k + 1);
    std::iter::once(0).chain(starts).nth(line.saturating_sub(1)).unwrap_or(0) + column
}

fn valid(text: &str, bytes: &[u8], before: &Given, after: &Given) -> Result<End, String> {
    let different: BTreeSet<&String> = before
        .findings
        .keys()
        .chain(after.findings.keys())
        .filter(|id| before.findings.get(*id) != after.findings.get(*id))
        .collect();
    if different.is_empty() {
        return Ok(End::Same);
    }
    let parse = |b: &[u8]| serde_json::from_slice::<Value>(b).map_err(|e| format!("taken, but no JSON: {e}"));
    if parse(text.as_bytes())? == parse(bytes)? {
        return Err(format!("the same values, other findings: {different:?}"));
    }
    let touched = subjects_that_differ(&before.panel, &after.panel);
    let whole = whole(&before.panel) != whole(&after.panel);
    for id in different {
        let rule = id.split('/').next().unwrap_or("");
        // what looks at the panel as a whole, or counts all of one kind, may answer otherwise
        let far = RULES
            .iter()
            .any(|r| r.id == rule && matches!(r.relation, Relation::Around(_) | Relation::Near(_)));
        let about = id.split('/').skip(1).map(|part| part.split('.').next().unwrap_or(""));
        let near = about.into_iter().any(|s| touched.contains(s));
        if !(near || whole || far && !touched.is_empty()) {
            return Err(format!("{id} differs, and nothing about it was changed; changed: {touched:?}"));
        }
    }
    Ok(End::Otherwise)
}

/// Subjects that are not the same in two panels, by id.
fn subjects_that_differ(a: &Panel, b: &Panel) -> BTreeSet<String> {
    let by_id = |p: &Panel| -> BTreeMap<String, String> {
        p.subjects.iter().map(|s| (s.id.clone(), plain(s))).collect()
    };
    let (a, b) = (by_id(a), by_id(b));
    a.keys().chain(b.keys()).filter(|id| a.get(*id) != b.get(*id)).cloned().collect()
}

/// A subject in words, without places in files and numbers of order.
fn plain(s: &Subject) -> String {
    let words = format!("{s:?}");
    let mut out = String::new();
    let mut rest = words.as_str();
    while let Some(at) = rest.find("Where {") {
        out.push_str(&rest[..at]);
        rest = rest[at..].split_once('}').map_or("", |(_, after)| after);
    }
    out.push_str(rest);
    for mark in ["key: ", "carrier: Some(", "units: "] {
        out = out
            .split(mark)
            .map(|part| part.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.'))
            .collect::<Vec<_>>()
            .join(mark);
    }
    out
}

/// What a panel says as a whole.
fn whole(p: &Panel) -> String {
    let sheets: Vec<String> = p
        .sheets
        .iter()
        .map(|s| {
            format!(
                "{} {:?} {:?} {:?} {:?} {:?} {}",
                s.id, s.outline, s.material, s.thickness, s.coat, s.structure, s.new
            )
        })
        .collect();
    let limits: Vec<String> =
        p.limits.iter().map(|(k, l)| format!("{k} {} {}", l.value, l.because)).collect();
    let areas: Vec<String> = p.depth.areas.iter().map(|a| format!("{:?}", a)).collect();
    format!(
        "{sheets:?} {limits:?} {:?} {:?} {:?} {:?} {areas:?} {:?}",
        p.unit, p.tilt, p.eye_distance, p.process, p.depth.elsewhere
    )
}

/// The sorts of change, in equal parts.
pub fn sort(k: u64) -> Sort {
    [Sort::Byte, Sort::Token, Sort::Meaning][(k % 3) as usize]
}
