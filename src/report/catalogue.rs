//! The catalogue in words: a list with counts, one definition size by size, JSON.

use crate::define::summary::Summary;
use crate::report::sentence::wrap;
use serde_json::{Value, json};

/// Whether every word asked for (lower case) is in the name, title, kind or words.
pub fn matches(s: &Summary, asked: &[String]) -> bool {
    let text = format!("{} {} {} {}", s.name, s.title, s.kind, s.words.join(" ")).to_lowercase();
    asked.iter().all(|w| text.contains(w.as_str()))
}

/// One line each: name, title, how many sizes, how many typical, how many things missing; a total last.
pub fn list<'a>(all: impl Iterator<Item = &'a Summary>) -> String {
    let all: Vec<&Summary> = all.collect();
    let width = all.iter().map(|s| s.name.chars().count()).max().unwrap_or(0);
    let mut out = String::new();
    for s in &all {
        out.push_str(&format!(
            "{:width$}  {}  ({} sizes, {} typical, {} missing)\n",
            s.name,
            s.title,
            s.sizes.len(),
            s.typical(),
            s.missing.len()
        ));
    }
    out.push_str(&format!(
        "\n{} found; {} of {} sizes are typical: measure yours; {} things are not said\n",
        all.len(),
        all.iter().map(|s| s.typical()).sum::<usize>(),
        all.iter().map(|s| s.sizes.len()).sum::<usize>(),
        all.iter().map(|s| s.missing.len()).sum::<usize>()
    ));
    out
}

/// One definition: every size with its source, then what is missing.
pub fn show(s: &Summary) -> String {
    let mut out = format!("{}\n{}  ({})\n", s.name, s.title, s.kind);
    if let Some(note) = &s.note {
        out.push_str(&format!("{}\n", wrap(note, 0)));
    }
    out.push('\n');
    let path = s.sizes.iter().map(|l| l.path.chars().count()).max().unwrap_or(0);
    let written = s.sizes.iter().map(|l| l.written.chars().count()).max().unwrap_or(0);
    for l in &s.sizes {
        let source = if l.source.is_empty() { "no source named" } else { &l.source };
        out.push_str(&format!("  {:path$}  {:written$}  {source}\n", l.path, l.written));
    }
    if s.missing.is_empty() {
        out.push_str("\nnothing is missing\n");
    } else {
        out.push_str(&format!(
            "\n{}\n",
            wrap(
                &format!("not said (a rule that needs it withholds its verdict): {}", s.missing.join(", ")),
                0
            )
        ));
    }
    out
}

/// The list for programs.
pub fn json(all: &[Summary]) -> Value {
    let one = |s: &Summary| {
        json!({
            "name": s.name, "title": s.title, "kind": s.kind, "words": s.words,
            "sizes": s.sizes.iter().map(|l| json!({ "path": l.path, "written": l.written,
                "basis": l.basis.map(|b| format!("{b:?}").to_lowercase()), "source": l.source })).collect::<Vec<_>>(),
            "typical": s.typical(), "missing": s.missing,
        })
    };
    json!({ "format": 1, "instruments": all.iter().map(one).collect::<Vec<_>>() })
}
