//! The catalogue in words: a list with counts, one definition size by size, JSON.

use crate::define::Word;
use crate::define::instrument::Basis;
use crate::define::summary::Summary;
use crate::report::sentence::wrap;
use serde_json::{Value, json};

/// Whether every word asked for (lower case) is in the name, title, kind or words.
pub fn matches(s: &Summary, asked: &[String]) -> bool {
    let text = format!("{} {} {} {}", s.name, s.title, s.kind, s.words.join(" ")).to_lowercase();
    asked.iter().all(|w| text.contains(w.as_str()))
}

/// One line each: name, title, how many values, how many of them typical and invented, how many things missing;
/// the totals last.
pub fn list<'a>(all: impl Iterator<Item = &'a Summary>) -> String {
    let all: Vec<&Summary> = all.collect();
    let name = all.iter().map(|s| s.name.chars().count()).max().unwrap_or(0);
    let mut out = String::new();
    for s in &all {
        out.push_str(&format!(
            "{:name$}  {}  ({} values, {} typical, {} invented, {} missing)\n",
            s.name,
            s.title,
            s.values.len(),
            s.count(Basis::Typical),
            s.count(Basis::Invented),
            s.missing.len()
        ));
    }
    let sum = |of: &dyn Fn(&Summary) -> usize| all.iter().map(|s| of(s)).sum::<usize>();
    let total = format!(
        "{} found. Of {} values {} are typical: measure yours; {} are invented for the demo: take your maker's; {} things are \
         missing: a rule that needs one withholds its verdict.",
        all.len(),
        sum(&|s| s.values.len()),
        sum(&|s| s.count(Basis::Typical)),
        sum(&|s| s.count(Basis::Invented)),
        sum(&|s| s.missing.len())
    );
    out.push_str(&format!("\n{}\n", wrap(&total, 0)));
    out
}

/// One definition: every value with its source, the sources in full, then what is missing.
pub fn show(s: &Summary) -> String {
    let mut out = format!("{}\n{}  ({})\n", s.name, s.title, s.kind);
    if !s.facts.is_empty() {
        let facts: Vec<String> = s.facts.iter().map(|(what, word)| format!("{what} {word}")).collect();
        out.push_str(&format!("{}\n", facts.join(", ")));
    }
    if let Some(note) = &s.note {
        out.push_str(&format!("{}\n", wrap(note, 0)));
    }
    out.push('\n');
    let path = s.values.iter().map(|l| l.path.chars().count()).max().unwrap_or(0);
    let written = s.values.iter().map(|l| l.written.chars().count()).max().unwrap_or(0);
    for l in &s.values {
        let source = if l.source.is_empty() { "no source named" } else { &l.source };
        out.push_str(&format!("  {:path$}  {:written$}  {source}\n", l.path, l.written));
    }
    out.push_str("\nsources\n");
    for from in &s.sources {
        let said = if from.words.is_empty() { String::new() } else { format!("; {}", from.words.join(", ")) };
        let words = format!("{}: {}{said}", from.name, meaning(from.basis));
        out.push_str(&format!("{}\n", wrap(&words, 2)));
    }
    out.push_str(&format!(
        "\n{} values: {} typical, {} invented\n",
        s.values.len(),
        s.count(Basis::Typical),
        s.count(Basis::Invented)
    ));
    if s.missing.is_empty() {
        out.push_str("nothing is missing\n");
    } else {
        out.push_str("missing (a rule that needs it withholds its verdict)\n");
        for what in &s.missing {
            out.push_str(&format!("{}\n", wrap(what, 2)));
        }
    }
    out
}

/// A standing with what the file format says of it.
fn meaning(basis: Basis) -> String {
    let word = basis.word();
    let meaning = Basis::WORDS.iter().find(|(w, _)| *w == word).map_or("", |(_, m)| m);
    format!("{word} ({})", meaning.trim_end_matches('.'))
}

/// The list for programs.
pub fn json(all: &[Summary]) -> Value {
    let one = |s: &Summary| {
        json!({
            "name": s.name, "title": s.title, "kind": s.kind, "words": s.words,
            "values": s.values.iter().map(|l| json!({ "path": l.path, "written": l.written,
                "basis": l.basis.map(Word::word), "source": l.source })).collect::<Vec<_>>(),
            "sources": s.sources.iter().map(|f| json!({ "name": f.name, "basis": f.basis.word(),
                "words": f.words })).collect::<Vec<_>>(),
            "typical": s.count(Basis::Typical), "invented": s.count(Basis::Invented), "missing": s.missing,
        })
    };
    let sum = |of: &dyn Fn(&Summary) -> usize| all.iter().map(of).sum::<usize>();
    json!({
        "format": 1,
        "instruments": all.iter().map(one).collect::<Vec<_>>(),
        "total": { "instruments": all.len(), "values": sum(&|s| s.values.len()),
            "typical": sum(&|s| s.count(Basis::Typical)), "invented": sum(&|s| s.count(Basis::Invented)),
            "missing": sum(&|s| s.missing.len()) },
    })
}
