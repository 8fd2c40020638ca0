//! Every rule's page in `tests/rules`: prose, the smallest panels, and what the rule says of them.
//!
//! A page holds fenced blocks. `json instrument NAME` defines an instrument, `json file NAME` a file beside the panel's, `json panel` a panel, and
//! the `text` block behind it the findings of the page's rule, one a line: verdict, id, measured of asked
//! (millimetres or degrees), followed by its words (indented) where it has any. `UPDATE=1 cargo test` writes
//! what the rule says now; read the difference.

use panelwright::check::{Finding, Note, Options, RULES, check};
use panelwright::files::Memory;
use panelwright::panel::Panel;
use panelwright::resolve::{Catalogue, resolve};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::PathBuf;

const ROOT: &str = env!("CARGO_MANIFEST_DIR");

fn pages() -> Vec<(String, PathBuf)> {
    let folder = PathBuf::from(ROOT).join("tests/rules");
    let mut all: Vec<(String, PathBuf)> = fs::read_dir(folder)
        .unwrap()
        .map(|e| e.unwrap().path())
        .map(|p| (p.file_stem().unwrap().to_string_lossy().into_owned(), p))
        .collect();
    all.sort();
    all
}

/// One piece of a page: text as it stands, or a fenced block with its head.
enum Piece<'a> {
    Prose(&'a str),
    Block(&'a str, &'a str),
}

fn pieces(text: &str) -> Vec<Piece<'_>> {
    let mut out = Vec::new();
    let mut rest = text;
    while let Some((prose, fenced)) = rest.split_once("```") {
        let (head, body) = fenced.split_once('\n').expect("a fence has a head line");
        let (body, after) = body.split_once("```").expect("a fence is closed");
        out.push(Piece::Prose(prose));
        out.push(Piece::Block(head, body));
        rest = after;
    }
    out.push(Piece::Prose(rest));
    out
}

/// Three decimals, no idle zeros.
fn number(v: f64) -> String {
    let text = format!("{v:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".into() } else { text.into() }
}

/// What a rule says, as a page shows it.
fn said(panel: &Panel, rule: &str) -> String {
    let words = |f: &Finding| match &f.note {
        Note::None => String::new(),
        Note::Contact => "they touch or overlap".into(),
        Note::BothStay => "exists and stays".into(),
        Note::Waits(w) => format!("waits for {w}"),
        Note::Says(w) => w.clone(),
    };
    let mut out = String::new();
    for f in check(panel, &Options::default()).list.iter().filter(|f| f.rule.id == rule) {
        out.push_str(&format!("{} {}", f.verdict.word(), f.id(panel)));
        if let (Some(m), Some(asked)) = (f.measured, f.asked) {
            let value = if f.rule.limit.at_most() { m.upper } else { m.lower };
            out.push_str(&format!(" {} of {}", number(value), number(asked)));
        }
        out.push('\n');
        let w = words(f);
        if !w.is_empty() {
            out.push_str(&format!("    {w}\n"));
        }
    }
    out
}

/// The page with every expectation replaced by what the rule says now.
fn page_now(rule: &str, text: &str) -> Result<String, String> {
    let mut instruments: BTreeMap<String, String> = BTreeMap::new();
    let mut beside: BTreeMap<String, String> = BTreeMap::new();
    let mut panel: Option<Panel> = None;
    let mut out = String::new();
    for piece in pieces(text) {
        let (head, body) = match piece {
            Piece::Prose(p) => {
                out.push_str(p);
                continue;
            }
            Piece::Block(head, body) => (head, body),
        };
        let mut now = body.to_string();
        if let Some(name) = head.strip_prefix("json instrument ") {
            instruments.insert(format!("instruments/{name}.json"), body.into());
        } else if let Some(name) = head.strip_prefix("json file ") {
            beside.insert(name.into(), body.into());
        } else if head == "json panel" {
            let mut shelf = Memory::new();
            for (name, text) in &instruments {
                shelf = shelf.with(name.clone(), text);
            }
            let catalogue = Catalogue::with_files(Box::new(shelf), "instruments");
            let mut files = Memory::new().with("panel.json", body);
            for (name, text) in &beside {
                files = files.with(name.clone(), text);
            }
            panel = Some(resolve("panel.json", &files, &catalogue).map_err(|e| format!("{rule}: {e}"))?);
        } else if head == "text" {
            let panel = panel.as_ref().ok_or(format!("{rule}: findings without a panel"))?;
            now = said(panel, rule);
        } else {
            return Err(format!("{rule}: a block of {head:?} means nothing here"));
        }
        out.push_str(&format!("```{head}\n{now}```"));
    }
    Ok(out)
}

#[test]
fn rules_say_what_their_pages_show() {
    let mut wrong = String::new();
    for (rule, path) in pages() {
        let text = fs::read_to_string(&path).unwrap();
        match page_now(&rule, &text) {
            Err(e) => wrong.push_str(&format!("{e}\n")),
            Ok(now) if now == text => {}
            Ok(now) if std::env::var_os("UPDATE").is_some() => fs::write(&path, now).unwrap(),
            Ok(now) => {
                wrong.push_str(&format!("tests/rules/{rule}.md shows otherwise (UPDATE=1 writes it):\n"));
                let lines = |t: &str| t.lines().map(String::from).collect::<Vec<_>>();
                let (old, new) = (lines(&text), lines(&now));
                for l in old.iter().filter(|l| !new.contains(l)) {
                    wrong.push_str(&format!("  - {l}\n"));
                }
                for l in new.iter().filter(|l| !old.contains(l)) {
                    wrong.push_str(&format!("  + {l}\n"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

#[test]
fn every_rule_has_its_page() {
    let pages: BTreeSet<String> = pages().into_iter().map(|(rule, _)| rule).collect();
    let rules: BTreeSet<String> = RULES.iter().map(|r| r.id.to_string()).collect();
    assert_eq!(pages, rules);
}

#[test]
fn the_ledger_names_every_rule_and_no_other() {
    let text = fs::read_to_string(PathBuf::from(ROOT).join("src/check/SOURCES.md")).unwrap();
    let named: BTreeSet<&str> = text.split('`').skip(1).step_by(2).collect();
    let rules: BTreeSet<&str> = RULES.iter().map(|r| r.id).collect();
    assert_eq!(named, rules);
}
