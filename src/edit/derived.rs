//! A panel file that builds on another one and gives some of its items other places or instruments.
//!
//! It bears a mark with a sum of its own text, so that a later run replaces it only while nobody has worked on it.

use crate::geom::Point;
use crate::panel::Panel;
use crate::units::Unit;
use sha2::{Digest, Sha256};
use std::fmt::Write;

/// What the file says.
#[derive(Clone, Debug, Default)]
pub struct Derived {
    /// Title.
    pub title: String,
    /// Name of the file it builds on, as seen from its own folder.
    pub builds_on: String,
    /// How it was made.
    pub note: String,
    /// New places by id, in the order in which they are written; millimetres.
    pub places: Vec<(String, Point)>,
    /// Other instruments by id, in the order in which they are written; an item has one or the other.
    pub instruments: Vec<(String, String)>,
}

/// What begins the mark.
const MADE: &str = "made by: panelwright ";

impl Derived {
    /// A file without places yet.
    pub fn of(panel: &Panel, what: &str, builds_on: &str, note: String) -> Derived {
        let title = format!("{}, {what}", panel.name);
        Derived { title, builds_on: builds_on.to_string(), note, ..Derived::default() }
    }

    /// The file's text: always in millimetres, numbers as short as they are true.
    pub fn text(&self, unit: Unit) -> String {
        let text = |s: &str| serde_json::Value::from(s).to_string();
        let mut out = String::from("{\n");
        let _ = writeln!(out, "  \"format\": 1,\n  \"panel\": {},", text(&self.title));
        let _ = writeln!(out, "  \"unit\": {},", text(unit.name()));
        let _ = writeln!(out, "  \"builds-on\": {},", text(&self.builds_on));
        let mut body = String::from("  \"change\": {\n");
        let places = self.places.iter().map(|(id, at)| {
            let (x, y) = (length(at.x, unit), length(at.y, unit));
            format!("    {}: {{ \"at\": [{x}, {y}] }}", text(id))
        });
        let others = self.instruments.iter();
        let others =
            others.map(|(id, name)| format!("    {}: {{ \"instrument\": {} }}", text(id), text(name)));
        let all: Vec<String> = places.chain(others).collect();
        if !all.is_empty() {
            body += &format!("{}\n", all.join(",\n"));
        }
        body.push_str("  }\n}\n");
        let note = format!("{MADE}{}; {}. Sum ", env!("CARGO_PKG_VERSION"), self.note);
        let with = |sum: &str| format!("{out}  \"note\": {},\n{body}", text(&format!("{note}{sum}")));
        with(&sum(&with("")))
    }
}

/// A length as JSON: a bare number where the file speaks in millimetres, else a text with its unit.
fn length(mm: f64, unit: Unit) -> String {
    // a file holds whole nanometres
    let mut s = format!("{:.6}", mm);
    while s.ends_with('0') {
        s.pop();
    }
    let s = s.trim_end_matches('.');
    let s = if s == "-0" { "0" } else { s };
    if unit == Unit::Millimetre { s.to_string() } else { format!("\"{s} mm\"") }
}

fn sum(text: &str) -> String {
    Sha256::digest(text.as_bytes()).iter().take(8).map(|b| format!("{b:02x}")).collect()
}

/// Whether a file was written by this program as a derived panel and nobody has changed it since.
pub fn is_untouched(bytes: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(bytes) else { return false };
    let Ok(json) = serde_json::from_str::<serde_json::Value>(text) else { return false };
    let Some(note) = json.get("note").and_then(|v| v.as_str()) else { return false };
    let Some((_, own)) = note.rsplit_once(". Sum ") else { return false };
    // of all the text but itself: what is added before the places is work too
    note.starts_with(MADE) && own == sum(&text.replacen(&format!(". Sum {own}\""), ". Sum \"", 1))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn derived() -> Derived {
        Derived {
            title: "A \"b\", arranged".into(),
            builds_on: "p.json".into(),
            note: "seed 1".into(),
            places: vec![("asi".into(), Point::new(60.25, -7.0)), ("alt".into(), Point::new(1e-9, 0.125))],
            instruments: Vec::new(),
        }
    }

    #[test]
    fn numbers_are_short_and_true() {
        let text = derived().text(Unit::Millimetre);
        assert!(
            text.contains("\"asi\": { \"at\": [60.25, -7] },\n    \"alt\": { \"at\": [0, 0.125] }\n"),
            "{text}"
        );
        let inch = derived().text(Unit::Inch);
        assert!(inch.contains("\"asi\": { \"at\": [\"60.25 mm\", \"-7 mm\"] },"), "{inch}");
    }

    #[test]
    fn its_own_file_is_known_until_somebody_changes_it() {
        let text = derived().text(Unit::Millimetre);
        assert!(is_untouched(text.as_bytes()), "{text}");
        assert!(!is_untouched(text.replace("60.25", "60.5").as_bytes()));
        assert!(!is_untouched(text.replace("arranged", "mine").as_bytes()));
        let added = text.replace("  \"change\"", "  \"arrange\": { \"fixed\": [\"asi\"] },\n  \"change\"");
        assert!(added != text && !is_untouched(added.as_bytes()));
        assert!(!is_untouched(text.replace("\"mm\"", "\"in\"").as_bytes()));
        assert!(!is_untouched(b"{}") && !is_untouched(b"") && !is_untouched(&[0xff]));
    }
}
