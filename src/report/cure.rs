//! The least move that cures a finding, in words and as JSON.

use crate::check::{self, Cure, Findings, NoCure};
use crate::panel::Panel;
use crate::report::sentence::trim;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Most findings that are named as made worse: such a move is no cure, and JSON lists them all.
const WORSE: usize = 6;

/// What was found for each finding that is not a pass, by its place in the list.
pub(crate) fn all(panel: &Panel, findings: &Findings) -> BTreeMap<usize, Result<Cure, NoCure>> {
    check::cures(panel, findings).into_iter().collect()
}

/// "Least move: alt 2.2 mm right; measured again: pass."
pub(crate) fn words(panel: &Panel, found: &Result<Cure, NoCure>) -> Option<String> {
    let c = match found {
        Ok(c) => c,
        Err(NoCure::NotJudged) => return None,
        Err(why) => return Some(format!("Cure: {}.", why.words())),
    };
    let id = &panel.subjects.get(c.subject)?.id;
    let (amount, unit, digits) = if panel.unit.is_inch() { (c.by / 25.4, "in", 3) } else { (c.by, "mm", 2) };
    let mut way = Vec::new();
    for (v, plus, minus) in [(amount.x, "right", "left"), (amount.y, "up", "down")] {
        if v != 0.0 {
            way.push(format!("{} {unit} {}", trim(v.abs(), digits), if v > 0.0 { plus } else { minus }));
        }
    }
    let mut s = format!("Least move: {id} {}; measured again: {}.", way.join(" and "), c.verdict.word());
    if !c.worse.is_empty() {
        let told = c.worse.iter().take(WORSE);
        let mut list: Vec<String> = told.map(|(id, v)| format!("{id} (then {})", v.word())).collect();
        if c.worse.len() > WORSE {
            list.push(format!("and {} more", c.worse.len() - WORSE));
        }
        s.push_str(&format!(" It makes worse: {}.", list.join(", ")));
    }
    Some(s)
}

/// The same for programs.
pub(crate) fn value(panel: &Panel, found: &Result<Cure, NoCure>) -> Value {
    match found {
        Ok(c) => json!({
            "move": panel.subjects.get(c.subject).map(|s| s.id.as_str()),
            "by": [c.by.x, c.by.y],
            "then": c.verdict.word(),
            "worsens": c.worse.iter().map(|(id, v)| json!({ "id": id, "then": v.word() })).collect::<Vec<_>>(),
        }),
        Err(NoCure::NotJudged) => Value::Null,
        Err(why) => json!({ "none": why.words() }),
    }
}
