//! The numbers of one item in words: what holds, where it comes from, what its definition says instead.

use crate::panel::{NumberLine, OwnNumber};
use serde_json::{Value, json};

/// Version of the form for programs.
const FORMAT: u32 = 1;

/// A number that an item says in place of its definition's, as part of a sentence.
pub fn own_number(n: &OwnNumber) -> String {
    let was = match &n.was {
        Some(was) => format!("in place of {was}"),
        None => "which the definition leaves open".into(),
    };
    format!("{} {}, {was} ({})", n.path, n.written, n.source.words)
}

/// The list of an item's numbers: those that are said, the panel's own marked, then those that nobody says.
pub fn numbers(id: &str, instrument: &str, lines: &[NumberLine]) -> String {
    let own = lines.iter().filter(|l| l.own.is_some()).count();
    let mut out = format!("{id}: {instrument}; said by the panel's file: {own}\n\n");
    let path = lines.iter().map(|l| l.path.chars().count()).max().unwrap_or(0);
    let wide = lines.iter().filter_map(NumberLine::holds).map(|h| h.chars().count()).max().unwrap_or(0);
    for l in lines {
        let (Some(holds), Some(source)) = (l.holds(), l.source()) else { continue };
        let from = match &l.own {
            None => source.words.to_string(),
            Some(own) => {
                let at =
                    own.source.place.as_ref().map_or(String::new(), |w| format!(", {}:{}", w.file, w.line));
                let was = own.was.as_deref().unwrap_or("nothing");
                format!("{} (this panel{at}; the definition says {was})", source.words)
            }
        };
        let mark = if l.own.is_some() { "*" } else { " " };
        out.push_str(&format!("{mark} {:path$}  {holds:wide$}  {from}\n", l.path));
    }
    let open: Vec<&str> = lines.iter().filter(|l| l.holds().is_none()).map(|l| l.path.as_str()).collect();
    if !open.is_empty() {
        out.push_str(&format!("\nsaid by nobody, and may be said here: {}\n", open.join(", ")));
    }
    out
}

/// The same for programs.
pub fn numbers_json(id: &str, instrument: &str, lines: &[NumberLine]) -> Value {
    let one = |l: &NumberLine| {
        json!({
            "path": l.path, "holds": l.holds(), "source": l.source().map(|s| &*s.words),
            "stated": l.stated.as_ref().map(|(words, s)| json!({ "written": words, "source": &*s.words })),
            "own": l.own.as_ref().map(|o| json!({
                "written": o.written, "source": &*o.source.words,
                "file": o.source.place.as_ref().map(|w| &*w.file), "line": o.source.place.as_ref().map(|w| w.line),
            })),
        })
    };
    let all: Vec<Value> = lines.iter().map(one).collect();
    json!({ "format": FORMAT, "id": id, "instrument": instrument, "numbers": all })
}
